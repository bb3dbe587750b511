// What happens where the machine has too little: memory, threads, file system; where its time zones are
// missing or broken; and what a killed run left lying about. All data are compiled into the program, so a
// data file cannot be missing: an empty root folder shows that, and leaves what people name themselves.

#include <fcntl.h>
#include <sched.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <system_error>
#include <thread>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"
#include "process.hpp"

using skerry::test::Ended;
using skerry::test::execute;
using skerry::test::Folder;
using skerry::test::instrumented;
using skerry::test::read;
using skerry::test::run_child;
using skerry::test::run_program;
using skerry::test::Setting;
using skerry::test::with;
namespace fs = std::filesystem;

namespace {

const std::string program = SKERRY_BINARY_DIR "/skerry";
const std::string trip = SKERRY_SOURCE_DIR "/examples/fair_isle.toml";
const std::vector<std::string> path{program, "path", "MH10", "JN45", "--month", "2027-02"};
constexpr std::size_t mb = 1U << 20U;

/// Runs a program in so much address space, and with stacks of such a size for it and each of its threads.
Ended within(const std::vector<std::string>& command, std::size_t bytes, std::size_t stack_bytes = 8 * mb) {
  return run_child([&] {
    const rlimit stack{stack_bytes, stack_bytes}, memory{bytes, bytes};
    if (::setrlimit(RLIMIT_STACK, &stack) != 0 || ::setrlimit(RLIMIT_AS, &memory) != 0) return 95;
    return execute(command);
  });
}

/// The least memory in which the program can say its version, to 64 kB: below, the system's loader gives up.
std::size_t least_bytes() {
  std::size_t low = mb, high = 256 * mb;
  while (high - low > 64 * 1024) {
    const auto middle = (low + high) / 2;
    (within({program, "--version"}, middle).code == 0 ? high : low) = middle;
  }
  return high;
}

/// Each amount of memory gives the whole answer, or one line about memory; never a signal or part of a file.
/// Returns how many amounts were too little.
int sweep(const std::vector<std::string>& command, std::size_t step_bytes) {
  const Folder folder("shortage");
  const auto file = folder.file("out.txt");
  const auto expected = run_program(command);
  REQUIRE(expected.code == 0);
  int too_little = 0, enough = 0;
  for (std::size_t bytes = least_bytes(); enough < 3 && bytes < 2048 * mb; bytes += step_bytes) {
    CAPTURE(command[1], bytes, too_little);
    const bool to_file = command.back() != "--help" && (too_little + enough) % 2 == 0;
    const auto said = within(to_file ? with(command, {"-o", file}) : command, bytes);
    CAPTURE(said.signal, said.err);
    REQUIRE(said.signal == 0);
    if (said.code == 0) {
      CHECK(said.err == expected.err);
      CHECK((to_file ? read(file) : said.out) == expected.out);
      fs::remove(file);
      ++enough;
    } else {
      CHECK(said.code == 1);
      CHECK(said.err == "skerry: not enough memory for this\n");
      CHECK(said.out.empty());
      ++too_little;
    }
    CHECK(folder.names().empty());
  }
  CHECK(enough == 3);
  return too_little;
}

/// Runs the program where there is no file but itself and its shared libraries: in a root folder of its own.
class Bare {
 public:
  Bare() {
    Setting list;
    list.environment = {{"LD_TRACE_LOADED_OBJECTS", "1"}};
    std::istringstream libraries(run_program({program}, list).out);
    copy(program, "/skerry");
    for (std::string word; libraries >> word;) {
      if (word.front() == '/') copy(word, word);
    }
  }
  [[nodiscard]] const fs::path& root() const { return folder_.path; }
  void put(const std::string& name, const std::string& content) const {
    const auto to = inside(name);
    fs::create_directories(to.parent_path());
    std::ofstream(to, std::ios::binary) << content;
  }
  /// Exit code 94 where this system lets nobody have a root folder of his own.
  [[nodiscard]] Ended ask(const std::vector<std::string>& args) const {
    return run_child([&] {
      if (::geteuid() != 0 && ::unshare(CLONE_NEWUSER) != 0) return 94;
      if (::chroot(folder_.path.c_str()) != 0 || ::chdir("/") != 0) return 94;
      return execute(with({"/skerry"}, args));
    });
  }
  [[nodiscard]] bool possible() const {
    if (instrumented || ask({"--version"}).code != 0) {
      WARN("skipped: no root folder of its own for the program here");
      return false;
    }
    return true;
  }

 private:
  [[nodiscard]] fs::path inside(const std::string& name) const { return folder_.path / name.substr(1); }
  void copy(const std::string& from, const std::string& name) const {
    const auto to = inside(name);
    fs::create_directories(to.parent_path());
    fs::copy_file(from, to);  // what links point to
  }
  Folder folder_{"bare"};
};

}  // namespace

TEST_CASE("too little memory is told in one line, whatever the amount", "[cli][edge]") {
  if (instrumented) {
    WARN("skipped: the address sanitizer reserves address space beyond any limit");
    return;
  }
  // Steps far below what a command takes in all, so that memory runs out in many places.
  CHECK(sweep(path, 192 * 1024) > 5);
  CHECK(sweep({program, "--threads", "1", "pack", trip}, 3 * mb + 4096) > 3);
  CHECK(sweep({program, "--threads", "2", "report", trip}, 7 * mb + 4096) > 3);
  CHECK(sweep({program, "pack", "--help"}, 16 * 1024) >= 0);
}

TEST_CASE("a batch answers a question that memory does not suffice for, and goes on or says why not",
          "[cli][edge]") {
  if (instrumented) {
    WARN("skipped: the address sanitizer reserves address space beyond any limit");
    return;
  }
  const Folder folder("shortage");
  const auto questions = folder.file("questions");
  std::ofstream(questions) << R"({"id":1,"from":"MH10","to":"JN45","month":"2027-02","bands":["20m"]})"
                           << "\n"
                           << R"({"id":2,"from":"MH10","to":"nowhere","month":"2027-02"})"
                           << "\n";
  Setting asking;
  asking.in = questions;
  const auto expected = run_program({program, "batch"}, asking);
  REQUIRE(expected.code == 2);  // of the line that cannot be answered
  const auto least = least_bytes();
  for (std::size_t more = 0; more < 3 * mb; more += 128 * 1024) {
    const auto said = run_child(
        [&] {
          const rlimit memory{least + more, least + more};
          return ::setrlimit(RLIMIT_AS, &memory) == 0 ? execute({program, "--threads", "1", "batch"}) : 95;
        },
        asking);
    CAPTURE(more, said.out, said.err, said.signal);
    CHECK(said.signal == 0);
    if (said.code == 1) {
      CHECK(said.err == "skerry: not enough memory for this\n");
    } else {
      CHECK(said.code == 2);
      CHECK((said.out == expected.out || said.out.find("not enough memory") != std::string::npos));
      CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 2);
    }
  }
}

// Run by the test below as a process of its own, within the limits that shall leave no thread.
TEST_CASE("this process can start no thread", "[.no-thread]") {
  CHECK_THROWS_AS(std::thread([] {}).join(), std::system_error);
}

TEST_CASE("where no more threads are to be had, fewer give the same answer", "[cli][edge]") {
  if (instrumented) {
    WARN("skipped: the address sanitizer reserves address space beyond any limit");
    return;
  }
  // A thread's stack is as large as the limit on stacks says: larger than all the address space there is.
  constexpr std::size_t memory = 400 * mb, stack = 800 * mb;
  const auto probe = within({SKERRY_BINARY_DIR "/test_cli", "[.no-thread]"}, memory, stack);
  CAPTURE(probe.out);
  REQUIRE(probe.code == 0);
  for (const auto& args : {std::vector<std::string>{"pack", trip},
                           {"path", "MH10", "JN45", "--month", "2027-02"},
                           {"map", "MH10", "--month", "2027-02", "--grid", "30", "-f", "csv"}}) {
    const auto expected = run_program(with({program, "--threads", "4"}, args));
    const auto said = within(with({program, "--threads", "4"}, args), memory, stack);
    CAPTURE(args[0], said.err, said.signal);
    CHECK(said.code == 0);
    CHECK(said.out == expected.out);
    CHECK(said.err == expected.err);
  }
  // A terminal gets a sign of life from a thread: without it the answer comes all the same.
  const auto said = run_child([&] {
    const int terminal = ::posix_openpt(O_RDWR | O_NOCTTY);
    if (terminal < 0 || ::grantpt(terminal) != 0 || ::unlockpt(terminal) != 0) return 93;
    const int screen = ::open(::ptsname(terminal), O_RDWR | O_NOCTTY);
    if (screen < 0 || ::dup2(screen, 2) < 0) return 93;
    const rlimit stacks{stack, stack}, space{memory, memory};
    if (::setrlimit(RLIMIT_STACK, &stacks) != 0 || ::setrlimit(RLIMIT_AS, &space) != 0) return 95;
    return execute(path);
  });
  if (said.code == 93) WARN("skipped: no pseudo-terminal here");
  if (said.code != 93) {
    CHECK(said.code == 0);
    CHECK(said.out == run_program(path).out);
  }
}

TEST_CASE("nothing but the program is needed: no data file, no time zones, no other folder", "[cli][edge]") {
  const Bare bare;
  if (!bare.possible()) return;
  for (const char* name : {"+04:00", "UTC", "Indian/Mauritius"}) {
    const std::vector<std::string> sun{"sun", "MH10", "--date", "2027-02-14", "--zone", name};
    const auto said = bare.ask(sun);
    CAPTURE(name, said.err);
    CHECK(said.code == 0);
    CHECK(said.out == run_program(with({program}, sun)).out);
  }
  bare.put("/named.toml", read(trip));
  const auto packed = bare.ask({"pack", "named.toml"});
  CHECK(packed.code == 0);
  CHECK(packed.out == run_program({program, "pack", trip}).out);
  CHECK(bare.ask({"pack", "named.toml", "-o", "answer.txt"}).code == 0);
  CHECK(read(bare.root() / "answer.txt") == packed.out);
}

TEST_CASE("files of the folder of settings that are missing or broken are told with name and line",
          "[cli][edge]") {
  const Folder folder("shortage");
  const auto settings = folder.path / "skerry";
  fs::create_directory(settings);
  fs::create_directory(settings / "folder");
  std::ofstream(settings / "empty.toml");
  std::ofstream(settings / "zeros.toml") << std::string(5000, '\0');
  std::ofstream(settings / "half.toml") << "[[rig]]\nname = \"pocket s";
  std::ofstream(settings / "large.toml") << "# " << std::string(9 * mb, 'x');
  REQUIRE(::mkfifo((settings / "pipe").c_str(), 0600) == 0);
  const auto named = read(trip);
  const std::string head = "[trip]\n";
  REQUIRE(named.find(head) != std::string::npos);
  Setting here;
  here.environment = {{"XDG_CONFIG_HOME", folder.path.string()}};
  here.cpu_limit_s = 20;
  const auto kit = [&](const std::string& key, const std::string& value, const Setting& s) {
    auto text = named;
    text.insert(text.find(head) + head.size(), key + " = \"" + value + "\"\n");
    std::ofstream(folder.file("trip.toml")) << text;
    return run_program({program, "kit", folder.file("trip.toml")}, s);
  };
  for (const char* key : {"library", "learned"}) {
    const std::pair<const char*, const char*> rows[] = {{"config:missing.toml", "No such file"},
                                                        {"config:folder", "is a folder"},
                                                        {"config:zeros.toml", "zeros.toml"},
                                                        {"config:half.toml", "half.toml:2:"},
                                                        {"config:large.toml", "kB"},
                                                        {"config:pipe", "an ordinary file"},
                                                        {"config:", "folder of settings"},
                                                        {"config:..", "folder of settings"}};
    for (const auto& [value, part] : rows) {
      const auto said = kit(key, value, here);
      CAPTURE(key, value, said.err);
      CHECK(said.signal == 0);
      CHECK(said.code == 2);
      CHECK(said.out.empty());
      CHECK(said.err.find("trip.toml") != std::string::npos);
      CHECK(said.err.find(part) != std::string::npos);
    }
  }
  Setting nowhere;
  nowhere.environment = {{"XDG_CONFIG_HOME", ""}, {"HOME", ""}};
  const auto lost = kit("library", "config:kit.toml", nowhere);
  CHECK(lost.code == 2);
  CHECK(lost.err.find("neither XDG_CONFIG_HOME nor HOME") != std::string::npos);
  // Nothing is written over a library that cannot be read.
  for (const char* name : {"zeros.toml", "half.toml"}) {
    const auto before = read(settings / name);
    const auto said = run_program({program, "kit", "add", "item", "--name", "whistle", "--mass", "20",
                                   "--library", (settings / name).string()});
    CAPTURE(name, said.err);
    CHECK(said.code == 2);
    CHECK(read(settings / name) == before);
  }
}

TEST_CASE("what a killed run left is removed by the next that writes the same file, and nothing else",
          "[cli][edge]") {
  const Folder folder("shortage");
  // The number of a process that has ended.
  const pid_t ended = ::fork();
  if (ended == 0) ::_exit(0);
  int status = 0;
  REQUIRE(::waitpid(ended, &status, 0) == ended);
  const std::string dead = std::to_string(ended), alive = std::to_string(::getpid());
  const std::set<std::string> kept{"map.csv.skerry-part-" + alive, "map.csv.skerry-part-",
                                   "map.csv.skerry-part-" + dead + "x", "map.csv.part-" + dead,
                                   "other.csv.skerry-part-" + dead};
  for (const auto& name : kept) std::ofstream(folder.file(name)) << "half";
  const auto stale = "map.csv.skerry-part-" + dead;
  const auto map = with({program, "map", "MH10", "--month", "2027-02", "--grid", "30", "-f", "csv"},
                        {"-o", folder.file("map.csv")});
  const auto rest = [&] {
    auto names = folder.names();
    CHECK(names.erase("map.csv") == 1);
    return names;
  };
  std::ofstream(folder.file(stale)) << "half";
  CHECK(run_program(map).code == 0);
  CHECK(rest() == kept);
  // The other way of writing, whole texts.
  std::ofstream(folder.file(stale)) << "half";
  CHECK(run_program(with(path, {"-o", folder.file("map.csv")})).code == 0);
  CHECK(rest() == kept);
  // Its writer may live where its number means nothing here: a lock says so.
  std::ofstream(folder.file(stale)) << "half";
  const int held = ::open(folder.file(stale).c_str(), O_RDONLY | O_CLOEXEC);
  REQUIRE(::flock(held, LOCK_EX | LOCK_NB) == 0);
  CHECK(run_program(map).code == 0);
  CHECK(rest().count(stale) == 1);
  ::close(held);
  // A process that got the number of the one that was killed is not kept from writing.
  const auto again = run_child([&] {
    std::ofstream(folder.file("map.csv.skerry-part-" + std::to_string(::getpid()))) << "half";
    return execute(map);
  });
  CAPTURE(again.err);
  CHECK(again.code == 0);
  CHECK(rest() == kept);
}
