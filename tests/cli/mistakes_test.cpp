// Every mistake gets one line that says what was found and what is accepted, exit code 2, and nothing on
// standard output.

#include <sys/stat.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"

TEST_CASE("mistakes in options are answered in one line", "[cli][edge]") {
  struct Row {
    std::vector<std::string> args;
    const char* part;
  };
  const std::vector<Row> rows{
      {{}, "expected one of"},
      {{"pakc"}, "did you mean 'pack'?"},
      {{"path"}, "path"},
      {{"path", "MH10"}, "path"},
      {{"path", "95,10", "MH10"}, "latitude 95"},
      {{"path", "nan,10", "MH10"}, "FROM: found"},
      {{"path", "1e300,10", "MH10"}, "FROM: found"},
      {{"path", "MH10", ""}, "TO: found"},
      {{"path", "MH10", "JN45", "--month", "2027-13"}, "--month: found '2027-13'"},
      {{"path", "MH10", "JN45", "--month", "2227-01"}, "years 1950 to 2050"},
      {{"path", "MH10", "JN45", "--date", "2027-02-29"}, "a day that the calendar has"},
      {{"path", "MH10", "JN45", "--date", "2027-02-28", "--month", "2027-02"}, "one of them"},
      {{"path", "MH10", "JN45", "--mhz", "abc"}, "--mhz: found 'abc'"},
      {{"path", "MH10", "JN45", "--mhz", "0.5"}, "from 1.6 to 54"},
      {{"path", "MH10", "JN45", "--mhz", "7,,14"}, "without empty parts"},
      {{"path", "MH10", "JN45", "--bands", "41m"}, "40m"},
      {{"path", "MH10", "JN45", "--way", "across"}, "short, long or both"},
      {{"path", "MH10", "JN45", "--power-w", "-5"}, "--power-w"},
      {{"path", "MH10", "JN45", "--power-w", "nan"}, "--power-w: found 'nan'"},
      {{"path", "MH10", "JN45", "--mode", "cww"}, "cw"},
      {{"path", "MH10", "JN45", "--noise-to", "loud"}, "--noise-to"},
      {{"path", "MH10", "JN45", "--r12", "999"}, "from 0 to 300"},
      {{"path", "MH10", "JN45", "--r12", "50", "--f107", "120"}, "one of --r12"},
      {{"path", "MH10", "JN45", "--format", "jsn"}, "did you mean 'json'?"},
      {{"path", "MH10", "JN45", "--explain", "25"}, "a whole UTC hour"},
      {{"path", "MH10", "JN45", "--explain", "12,3m"}, "a band or frequency"},
      {{"path", "MH10", "JN45", "--forecast", "/no/such/file"}, "No such file"},
      {{"sun", "MH10", "--zone", "Indian/Mauritus"}, "Indian/Mauritius"},
      {{"ionosphere", "MH10", "--maps", "iri"}, "ccir or ursi"},
      {{"pack", "/no/such/trip.toml"}, "No such file"},
      {{"pack", "/"}, "folder"},
      {{"antenna", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "--id", "nothing"}, "the id of an antenna"},
      {{"antenna", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "--ground", "lavva"}, "--ground"},
      {{"--threads", "0", "sun", "MH10"}, "--threads"},
  };
  for (const auto& row : rows) {
    std::string all;
    for (const auto& arg : row.args) all += arg + " ";
    CAPTURE(all);
    const auto said = ask(row.args);
    CHECK(said.code == 2);
    CHECK(said.out.empty());
    CAPTURE(said.err);
    CHECK(is_one_line(said.err));
    CHECK(said.err.find(row.part) != std::string::npos);
  }
}

TEST_CASE("all mistakes of a trip file come in one run, each with its line", "[cli][edge]") {
  const auto folder = std::filesystem::temp_directory_path() / ("skerry-test-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  const auto file = (folder / "bad.toml").string();
  std::ofstream(file)
      << "[trip]\nname = \"x\"\nfirst_day = 2027-02-13\nlast_day = 2027-02-10\nmass_limit_kg = -1\n"
         "[[site]]\nat = \"95,10\"\ngruond = \"rock\"\n";
  const auto said = ask({"pack", file});
  CHECK(said.code == 2);
  CHECK(said.out.empty());
  CHECK(std::count(said.err.begin(), said.err.end(), '\n') >= 4);
  for (const char* part :
       {"bad.toml:4:", "bad.toml:5:", "bad.toml:7:", "bad.toml:8:", "did you mean 'ground'?"}) {
    CAPTURE(part, said.err);
    CHECK(said.err.find(part) != std::string::npos);
  }
  std::filesystem::remove_all(folder);
}

TEST_CASE("the starter is a trip that packs", "[cli][property]") {
  const auto folder = std::filesystem::temp_directory_path() / ("skerry-new-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  const auto file = (folder / "trip.toml").string();
  CHECK(ask({"new", file, "--at", "59.53,-1.63", "--name", "Fair \"Isle\"", "--first-day", "2027-01-04"})
            .code == 0);
  CHECK(ask({"new", file}).code == 1);  // not over an existing file
  CHECK(ask({"new", file, "--force", "--first-day", "2027-01-04"}).code == 0);
  const auto said = ask({"pack", file, "--format", "json"});
  CAPTURE(said.err);
  REQUIRE(said.code == 0);
  CHECK_FALSE(said.json()["carry"].empty());
  std::filesystem::remove_all(folder);
}

TEST_CASE("an output that cannot be written is a failure and leaves nothing behind", "[cli][edge]") {
  const auto said = ask({"sun", "MH10", "--date", "2027-02-14", "-o", "/no/such/folder/out.txt"});
  CHECK(said.code == 1);
  CHECK(is_one_line(said.err));
  if (std::filesystem::exists("/dev/full")) {
    const auto full = ask({"sun", "MH10", "--date", "2027-02-14", "-o", "/dev/full"});
    CHECK(full.code == 1);
    CHECK(full.err.find("No space left") != std::string::npos);
  }
  const auto folder = std::filesystem::temp_directory_path() / ("skerry-out-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  const auto file = (folder / "sun.txt").string();
  CHECK(ask({"sun", "MH10", "--date", "2027-02-14", "-o", file}).code == 0);
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    (void)entry;
    ++files;
  }
  CHECK(files == 1);  // no temporary stays
  std::filesystem::remove_all(folder);
}

TEST_CASE("a path out of the trip's folder is not followed", "[cli][edge]") {
  const auto folder = std::filesystem::temp_directory_path() / ("skerry-way-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  const auto file = (folder / "trip.toml").string();
  CHECK(ask({"new", file, "--first-day", "2027-01-04"}).code == 0);
  std::ofstream(file, std::ios::app) << "\n[[region]]\nfile = \"../../etc/passwd\"\n";
  const auto said = ask({"pack", file});
  CHECK(said.code == 2);
  CHECK(said.err.find("'..' is not followed") != std::string::npos);
  std::filesystem::remove_all(folder);
}

TEST_CASE("help has an example for every command", "[cli][property]") {
  for (const char* command : {"pack", "path", "sun", "ionosphere", "antenna", "new"}) {
    const auto said = ask({command, "--help"});
    CHECK(said.code == 0);
    CHECK(said.out.find("Example: skerry ") != std::string::npos);
    CHECK(said.err.empty());
  }
}

TEST_CASE("the same question gets the same bytes on one thread and on two", "[cli][property]") {
  const std::string trip = SKERRY_SOURCE_DIR "/examples/lord_howe.toml";
  const auto one = ask({"--threads", "1", "pack", trip, "--format", "json"});
  const auto two = ask({"--threads", "2", "pack", trip, "--format", "json"});
  CHECK(one.code == 0);
  CHECK(one.out == two.out);
  (void)ask({"--threads", "2", "sun", "MH10", "--date", "2027-01-01"});
}
