// Text answers byte for byte, as they were read and approved: tests/approved/*.txt.
// To approve what the program says now: SKERRY_APPROVE=1 build/release/test_cli "[approved]", then look at
// git diff.

#include <stdlib.h>

#include <cstdlib>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"

namespace {

struct Approved {
  const char* file;
  std::vector<std::string> args;
};

const std::string examples = SKERRY_SOURCE_DIR "/examples/";

const std::vector<Approved> answers{
    {"pack-rodrigues.txt", {"pack", examples + "rodrigues.toml", "--show", "all"}},
    {"pack-fair_isle.txt", {"pack", examples + "fair_isle.toml"}},
    {"card-rodrigues.txt", {"card", examples + "rodrigues.toml"}},
    {"card-lord_howe.txt", {"card", examples + "lord_howe.toml"}},
    {"card-fair_isle.txt", {"card", examples + "fair_isle.toml"}},
    {"kit-rodrigues.txt", {"kit", examples + "rodrigues.toml"}},
    {"explain-rodrigues.txt", {"explain", examples + "rodrigues.toml"}},
    {"explain-places.txt",
     {"explain", "-19.70,63.43", "JN45", "--month", "2027-02", "--bands", "40m,20m,10m"}},
    {"teach.txt", {"explain", "-19.70,63.43", "JN45", "--month", "2027-02", "--teach"}},
    {"path.txt", {"path", "-19.70,63.43", "JN45", "--month", "2027-02"}},
    {"ledger.txt", {"path", "-19.70,63.43", "JN45", "--month", "2027-02", "--explain", "18,20m"}},
    {"sun.txt", {"sun", "59.53,-1.63", "JN45", "--date", "2026-12-29"}},
    {"ionosphere.txt", {"ionosphere", "59.53,-1.63", "--month", "2026-12"}},
    {"antenna.txt", {"antenna", examples + "rodrigues.toml", "--mhz", "14.06"}},
    {"calendar-small_isle.txt", {"calendar", SKERRY_SOURCE_DIR "/tests/approved/small_isle.toml"}},
    {"help.txt", {"--help"}},
};

}  // namespace

TEST_CASE("text answers are those that were approved, byte for byte", "[cli][approved]") {
  const bool approve = std::getenv("SKERRY_APPROVE") != nullptr;
  for (const auto& one : answers) {
    const std::string name = std::string(SKERRY_SOURCE_DIR "/tests/approved/") + one.file;
    CAPTURE(one.file);
    // The calendar's time stamp.
    ::setenv("SOURCE_DATE_EPOCH", "1767225600", 1);
    const auto said = ask(one.args);
    ::unsetenv("SOURCE_DATE_EPOCH");
    REQUIRE(said.code == 0);
    if (approve) {
      std::ofstream out(name, std::ios::binary);
      out << said.out;
      REQUIRE(out.flush().good());
      continue;
    }
    std::ifstream in(name, std::ios::binary);
    const std::string approved{std::istreambuf_iterator<char>(in), {}};
    // The first line that differs says more than two whole texts.
    std::istringstream now(said.out), then(approved);
    int number = 0;
    for (std::string a, b; said.out != approved;) {
      ++number;
      const bool more_now = static_cast<bool>(std::getline(now, a));
      const bool more_then = static_cast<bool>(std::getline(then, b));
      if (a == b && more_now && more_then) continue;
      INFO("line " << number << "\n  now      " << (more_now ? a : "(end)") << "\n  approved "
                   << (more_then ? b : "(end)")
                   << "\n  to approve: SKERRY_APPROVE=1 test_cli \"[approved]\"");
      CHECK(a == b);
      CHECK(more_now == more_then);
      break;
    }
    CHECK((said.out == approved));
  }
}
