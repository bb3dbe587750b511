// What happens when the machine, not the user, is in the way: full disks, closed streams, signals, locales,
// time zones. Exit codes: 0 done, 1 could not be done, 2 bad input; a signal ends the program as signals do.

#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"
#include "process.hpp"

using skerry::test::Ended;
using skerry::test::Folder;
using skerry::test::read;
using skerry::test::run_program;
using skerry::test::Setting;
using skerry::test::with;
namespace fs = std::filesystem;

namespace {

const std::string program = SKERRY_BINARY_DIR "/skerry";
const std::string trip = SKERRY_SOURCE_DIR "/examples/fair_isle.toml";
const std::vector<std::string> sun{program, "sun", "MH10", "--date", "2027-02-14"};

}  // namespace

TEST_CASE("a full disk is a failure that is told, and no file stays", "[cli][edge]") {
  if (!fs::exists("/dev/full")) return;
  Setting full;
  full.out = "/dev/full";
  const auto screen = run_program(sun, full);
  CHECK(screen.code == 1);
  CHECK(screen.err.find("No space left") != std::string::npos);
  CHECK(is_one_line(screen.err));
  // A limit on the size of files stops a write half-way, as a full disk does.
  const Folder folder("faults");
  Setting small;
  small.folder = folder.path.string();
  small.file_limit_bytes = 1000;
  for (const auto& command :
       {with({program, "path", "MH10", "JN45", "--month", "2027-02"}, {"-o", "out.txt"}),
        with({program, "map", "MH10", "--month", "2027-02", "--grid", "30", "-f", "csv"},
             {"-o", "map.csv"})}) {
    const auto half = run_program(command, small);
    CAPTURE(half.err);
    CHECK(half.code == 1);
    CHECK(is_one_line(half.err));
    CHECK(folder.names().empty());
  }
  // What stood there before stays whole.
  std::ofstream(folder.path / "out.txt") << "as it was\n";
  CHECK(run_program(with({program, "path", "MH10", "JN45", "--month", "2027-02"}, {"-o", "out.txt"}), small)
            .code == 1);
  CHECK(read(folder.path / "out.txt") == "as it was\n");
}

TEST_CASE("a folder that cannot be written to is a failure", "[cli][edge]") {
  // Nobody, not even the administrator, makes files there.
  const auto said = run_program(with(sun, {"-o", "/proc/skerry.txt"}));
  CHECK(said.code == 1);
  CHECK(is_one_line(said.err));
  const Folder folder("faults");
  const auto closed = folder.path / "closed";
  fs::create_directory(closed);
  fs::permissions(closed, fs::perms::owner_read | fs::perms::owner_exec);
  if (::access(closed.c_str(), W_OK) != 0) {  // the administrator may write everywhere
    CHECK(run_program(with(sun, {"-o", (closed / "x.txt").string()})).code == 1);
  }
  fs::permissions(closed, fs::perms::owner_all);
  CHECK(fs::is_empty(closed));
}

TEST_CASE("a reader that goes away is no news", "[cli][edge]") {
  Setting gone;
  gone.reader_leaves = true;
  const auto said = run_program({program, "path", "MH10", "JN45", "--month", "2027-02", "-f", "json"}, gone);
  CHECK(said.signal == 0);
  CHECK(said.code == 1);
  CHECK(said.err.empty());
}

TEST_CASE("closed standard streams do no harm", "[cli][edge]") {
  Setting no_out;
  no_out.closed = {1};
  const auto blind = run_program(sun, no_out);
  CHECK(blind.code == 1);
  CHECK(is_one_line(blind.err));
  // Nothing for the screen: nothing is missed. And what goes into the file is the answer alone.
  const Folder folder("faults");
  Setting none;
  none.closed = {0, 1, 2};
  none.folder = folder.path.string();
  CHECK(run_program(with(sun, {"-o", "a.txt"}), none).code == 0);
  CHECK(read(folder.path / "a.txt") == run_program(sun).out);
  CHECK(run_program({program, "sun", "nowhere"}, none).code == 2);
  CHECK(folder.names() == std::set<std::string>{"a.txt"});
  Setting no_in;
  no_in.closed = {0};
  const auto deaf = run_program({program, "batch"}, no_in);
  CHECK(deaf.code == 1);
  CHECK(deaf.err.find("standard input") != std::string::npos);
}

TEST_CASE("files that are missing, folders, or broken are told with their names", "[cli][edge]") {
  const Folder folder("faults");
  std::ofstream(folder.path / "broken.json") << "[{\"time-tag\": \"2027-02\", \"predicted_ssn\": 80";
  std::ofstream(folder.path / "empty.toml");
  std::ofstream(folder.path / "zeros.toml") << std::string(5000, '\0');
  Setting here;
  here.folder = folder.path.string();
  const std::vector<std::pair<std::vector<std::string>, const char*>> rows{
      {{program, "path", "MH10", "JN45", "--month", "2027-02", "--forecast", "missing.json"}, "No such file"},
      {{program, "path", "MH10", "JN45", "--month", "2027-02", "--forecast", "broken.json"},
       "broken.json:1:"},
      {{program, "path", "MH10", "JN45", "--month", "2027-02", "--forecast", "."}, "folder"},
      {{program, "pack", "missing.toml"}, "missing.toml"},
      {{program, "pack", "zeros.toml"}, "zeros.toml:1:1"},
      {{program, "antenna", "empty.toml"}, "[[antenna]]"},
      {{program, "pack", "/dev/zero"}, "over 1024 kB"},
  };
  for (const auto& [command, part] : rows) {
    const auto said = run_program(command, here);
    CAPTURE(part, said.err);
    CHECK(said.code == 2);
    CHECK(said.out.empty());
    CHECK(said.err.find(part) != std::string::npos);
  }
  const auto said = run_program({program, "pack", "empty.toml"}, here);
  CHECK(said.code == 2);
  CHECK(said.err.find("[trip]") != std::string::npos);
}

TEST_CASE("locale, time zone, folder and threads change no byte", "[cli][property]") {
  const Folder folder("faults");
  const std::string own = (folder.path / "own.toml").string();
  REQUIRE(run_program({program, "new", own, "--first-day", "2027-01-04"}).code == 0);
  // A calendar says when it was made.
  ::setenv("SOURCE_DATE_EPOCH", "1767225600", 1);
  const std::vector<std::vector<std::string>> commands{
      {program, "pack", own},
      {program, "pack", own, "-f", "json"},
      {program, "calendar", own},
      {program, "sun", "MH10", "JN45", "--date", "2027-02-14", "--zone", "Europe/Paris"},
      {program, "path", "MH10", "JN45", "--month", "2027-02", "--bands", "20m", "-f", "csv"}};
  const std::vector<std::pair<std::string, std::string>> worlds[] = {
      {{"LC_ALL", "de_DE.UTF-8"}, {"LANG", "de_DE.UTF-8"}, {"TZ", "America/New_York"}},
      {{"LC_ALL", "tr_TR.UTF-8"}, {"TZ", ""}},
      {{"LC_ALL", "no_SUCH.locale"}, {"TZ", "garbage/\x01"}},
      {{"LC_ALL", ""}, {"LANG", ""}, {"HOME", ""}, {"TERM", ""}, {"COLUMNS", "7"}, {"TZ", ":/etc/passwd"}}};
  for (const auto& command : commands) {
    const auto expected = run_program(command);
    CAPTURE(command[1]);
    REQUIRE(expected.code == 0);
    for (const auto& world : worlds) {
      Setting setting;
      setting.environment = world;
      setting.folder = "/";
      const auto said = run_program(command, setting);
      CHECK(said.code == 0);
      CHECK(said.out == expected.out);
      CHECK(said.err == expected.err);
    }
    auto one = command;
    one.insert(one.begin() + 1, {"--threads", "1"});
    CHECK(run_program(one).out == expected.out);
    auto two = command;
    two.insert(two.begin() + 1, {"--threads", "2"});
    CHECK(run_program(two).out == expected.out);
  }
  ::unsetenv("SOURCE_DATE_EPOCH");
}

TEST_CASE("Ctrl-C ends long computations within 200 ms and leaves no half file", "[cli][edge]") {
  const Folder folder("faults");
  const auto whole = ask({"pack", SKERRY_SOURCE_DIR "/examples/rodrigues.toml"}).out;
  const std::vector<std::vector<std::string>> commands{
      {program, "map", "MH10", "--month", "2027-02", "--grid", "1", "--bands", "160m,80m,40m,20m,15m,10m",
       "-f", "csv", "-o", "map.csv"},
      {program, "pack", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "-o", "pack.txt"},
      {program, "report", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "-o", "page.html"}};
  for (const auto& command : commands) {
    for (const int number : {SIGINT, SIGTERM}) {
      Setting setting;
      setting.folder = folder.path.string();
      setting.signal = number;
      setting.signal_after_s = 0.3;
      const auto said = run_program(command, setting);
      CAPTURE(command[1], number, said.stop_s, said.wall_s);
      if (said.code == 0) {  // a fast machine was done before
        for (const auto& name : folder.names()) fs::remove(folder.path / name);
        continue;
      }
      CHECK(said.signal == number);  // a shell shows 128 + number: 130 after Ctrl-C
      if (!skerry::test::instrumented) CHECK(said.stop_s < 0.2);
      // Once it has a kit, a pack that Ctrl-C ends gives the whole of its answer.
      const bool answered = said.err.find("stopped by Ctrl-C") != std::string::npos;
      CHECK(answered <= (number == SIGINT && command[1] == "pack"));
      const auto pack = folder.path / "pack.txt";
      // A signal that came when the search was over changes nothing of the answer.
      if (!answered && number == SIGINT && fs::exists(pack)) {
        std::ifstream in(pack);
        CHECK(std::string{std::istreambuf_iterator<char>(in), {}} == whole);
        fs::remove(pack);
      }
      CHECK(folder.names() == (answered ? std::set<std::string>{"pack.txt"} : std::set<std::string>{}));
      if (answered) fs::remove(pack);
    }
    for (const auto& name : folder.names()) fs::remove(folder.path / name);
  }
  // A batch that waits for its next line ends as well.
  const auto pipe = folder.path / "questions";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  const int writer = ::open(pipe.c_str(), O_RDWR);
  Setting waiting;
  waiting.in = pipe.string();
  waiting.signal = SIGINT;
  waiting.signal_after_s = 0.3;
  const auto said = run_program({program, "batch"}, waiting);
  ::close(writer);
  CHECK(said.signal == SIGINT);
  if (!skerry::test::instrumented) CHECK(said.stop_s < 0.2);
}

TEST_CASE("killed while writing, the old file is still whole", "[cli][edge]") {
  const Folder folder("faults");
  const auto file = folder.path / "map.csv";
  std::ofstream(file) << "as it was\n";
  Setting setting;
  setting.folder = folder.path.string();
  setting.signal = SIGKILL;  // nobody can tidy up after this one
  setting.signal_after_s = 0.4;
  const auto said = run_program({program, "map", "MH10", "--month", "2027-02", "--grid", "1", "--bands",
                                 "160m,80m,40m,20m,15m,10m", "-f", "csv", "-o", "map.csv"},
                                setting);
  if (said.signal == SIGKILL) CHECK(read(file) == "as it was\n");
}

TEST_CASE("without a terminal there is neither colour nor anything but text", "[cli][property]") {
  for (const auto& command : {std::vector<std::string>{program, "pack", trip},
                              std::vector<std::string>{program, "path", "MH10", "JN45", "--month", "2027-02"},
                              std::vector<std::string>{program, "explain", trip}}) {
    const auto said = run_program(command);
    CHECK(said.code == 0);
    CHECK(said.out.find('\x1b') == std::string::npos);
    for (const char c : said.out) {
      const auto u = static_cast<unsigned char>(c);
      if (u < 0x20 && c != '\n') FAIL("a control character in plain text");
    }
  }
}
