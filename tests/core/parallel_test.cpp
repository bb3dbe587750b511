#include "skerry/core/parallel.hpp"

#include <atomic>
#include <stdexcept>
#include <thread>
#include <vector>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;

TEST_CASE("every index is worked once on any number of threads", "[core][property]") {
  for (const unsigned threads : {1U, 2U, 5U}) {
    set_thread_count(threads);
    std::vector<std::atomic<int>> seen(1003);
    parallel_for(seen.size(), 10, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) ++seen[i];
    });
    for (const auto& count : seen) REQUIRE(count == 1);
  }
  set_thread_count(0);
}

TEST_CASE("a loop inside a loop stays on its thread and still works every index", "[core][property]") {
  set_thread_count(3);
  std::vector<std::atomic<int>> seen(400);
  parallel_for(20, 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const auto thread = std::this_thread::get_id();
      parallel_for(20, 1, [&](std::size_t from, std::size_t to) {
        for (std::size_t k = from; k < to; ++k) {
          if (std::this_thread::get_id() == thread) ++seen[i * 20 + k];
        }
      });
    }
  });
  for (const auto& count : seen) REQUIRE(count == 1);
  set_thread_count(0);
}

TEST_CASE("an exception in a thread reaches the caller", "[core][edge]") {
  set_thread_count(3);
  CHECK_THROWS_AS(parallel_for(100, 1,
                               [](std::size_t begin, std::size_t) {
                                 if (begin == 50) throw std::runtime_error("x");
                               }),
                  std::runtime_error);
  set_thread_count(0);
}

TEST_CASE("angles fold and decibels add", "[core][known]") {
  CHECK(wrap_360(-10) == 350);
  CHECK(wrap_180(190) == -170);
  CHECK(wrap_180(-180) == 180);
  CHECK(wrap_24(-1) == 23);
  // Source: definition of the decibel.
  CHECK_THAT(to_db(from_db(3) + from_db(3)), WithinAbs(6.0103, 1e-4));
}
