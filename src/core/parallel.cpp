#include "skerry/core/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace skerry {

namespace {
std::atomic<unsigned> chosen_threads{0};
thread_local bool at_work = false;  ///< this thread is inside a body
}  // namespace

unsigned thread_count() {
  const unsigned chosen = chosen_threads.load();
  return chosen != 0 ? chosen : std::max(1U, std::thread::hardware_concurrency());
}

void set_thread_count(unsigned count) {
  chosen_threads.store(count);
}

void parallel_for(std::size_t count, std::size_t grain,
                  const std::function<void(std::size_t, std::size_t)>& body) {
  if (count == 0) return;
  grain = std::max<std::size_t>(grain, 1);
  const std::size_t pieces = (count + grain - 1) / grain;
  const std::size_t threads = std::min<std::size_t>(thread_count(), pieces);
  if (threads <= 1 || at_work) {
    body(0, count);
    return;
  }
  std::atomic<std::size_t> next{0};
  std::exception_ptr first_problem;
  std::mutex problem_guard;
  const auto work = [&] {
    at_work = true;
    for (std::size_t piece = next++; piece < pieces; piece = next++) {
      try {
        body(piece * grain, std::min(count, (piece + 1) * grain));
      } catch (...) {
        const std::lock_guard lock(problem_guard);
        if (!first_problem) first_problem = std::current_exception();
        next = pieces;
      }
    }
    at_work = false;
  };
  {
    std::vector<std::thread> helpers;
    helpers.reserve(threads - 1);
    try {
      for (std::size_t i = 1; i < threads; ++i) helpers.emplace_back(work);
    } catch (const std::system_error&) {
      // No more threads to be had: fewer do the same work.
    }
    work();
    for (auto& helper : helpers) helper.join();
  }
  if (first_problem) std::rethrow_exception(first_problem);
}

}  // namespace skerry
