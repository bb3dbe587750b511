// What people expect of any program at a terminal.
#include <sstream>

#include "check.hpp"
#include "skerry/cli/run.hpp"

using namespace skerry;

namespace {

struct Ran {
  int code = 0;
  std::string out, err;
};

Ran run(const std::vector<std::string>& args) {
  std::istringstream in;
  std::ostringstream out, err;
  cli::World world{in, out, err};
  const int code = cli::run(args, world);
  return {code, out.str(), err.str()};
}

}  // namespace

TEST_CASE("'help' is '--help', of the program and of a command", "[cli]") {
  CHECK(run({"help"}).out == run({"--help"}).out);
  const auto pack = run({"help", "pack"});
  CHECK(pack.code == 0);
  CHECK(pack.out == run({"pack", "--help"}).out);
  CHECK(run({"help", "pakc"}).err.find("did you mean 'pack'") != std::string::npos);
}

TEST_CASE("an output named - is standard output", "[cli]") {
  const std::vector<std::string> plain{"sun", "-19.70,63.43", "--date", "2027-02-14"};
  auto dash = plain;
  dash.insert(dash.end(), {"-o", "-"});
  CHECK(run(dash).code == 0);
  CHECK(run(dash).out == run(plain).out);
}

TEST_CASE("colours come when asked for, stay away when not wanted, and other words are refused", "[cli]") {
  const std::vector<std::string> plain{"path", "-19.70,63.43", "45.5,9", "--month", "2027-02"};
  const auto with = [&](const std::string& when) {
    auto args = plain;
    args.insert(args.begin(), {"--color", when});
    return run(args);
  };
  CHECK(run(plain).out.find('\x1b') == std::string::npos);
  CHECK(with("never").out == run(plain).out);
  CHECK(with("auto").out == run(plain).out);
  CHECK(with("always").out.find('\x1b') != std::string::npos);
  CHECK(with("red").code == 2);
  CHECK(with("red").err == "skerry: --color: found 'red'; expected auto, always or never\n");
}

TEST_CASE("doctor tells the age of what is inside", "[cli]") {
  const auto ran = run({"doctor"});
  CHECK(ran.code == 0);
  // data/editions.toml, data/air/rules.toml
  CHECK(ran.out.find("2025-07-21, ") != std::string::npos);
  CHECK(ran.out.find("until 2026-12-31") != std::string::npos);
}

TEST_CASE("the trip file has a manual page with every key", "[cli]") {
  const auto ran = run({"manual", "trip"});
  CHECK(ran.code == 0);
  CHECK(ran.out.rfind(".TH SKERRY\\-TRIP 5 ", 0) == 0);
  for (const char* key : {"mass_limit_kg", "horizon_deg", "min_volts", "weight", "end_height_m"}) {
    CAPTURE(key);
    CHECK(ran.out.find(key) != std::string::npos);
  }
}
