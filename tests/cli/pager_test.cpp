// Long answers on a terminal: through the pager that the user has, as git does it.
#include <fcntl.h>
#include <stdlib.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

namespace {

/// A bare root directory may have no /dev/pts: then there is no terminal to be had, and nothing to try.
bool terminals() {
  const int master = ::posix_openpt(O_RDWR | O_NOCTTY);
  if (std::getenv("CI") != nullptr) REQUIRE(master >= 0);
  if (master < 0) WARN("no pseudo-terminals here (is /dev/pts mounted?): the pager was not tried");
  return master >= 0 && ::close(master) == 0;
}

struct Screen {
  int rows = 24, columns = 80;
  std::vector<std::pair<std::string, std::string>> environment;
};

/// The built program at a terminal of its own: all that comes to its screen, as "\n" lines.
Said at_terminal(const std::vector<std::string>& args, const Screen& screen) {
  Said said;
  const int master = ::posix_openpt(O_RDWR | O_NOCTTY);
  REQUIRE(master >= 0);
  REQUIRE(::grantpt(master) == 0);
  REQUIRE(::unlockpt(master) == 0);
  const std::string name = ::ptsname(master);
  winsize size{};
  size.ws_row = static_cast<unsigned short>(screen.rows);
  size.ws_col = static_cast<unsigned short>(screen.columns);
  const pid_t child = ::fork();
  if (child == 0) {
    ::setsid();
    const int terminal = ::open(name.c_str(), O_RDWR);
    ::ioctl(terminal, TIOCSWINSZ, &size);
    for (const int fd : {0, 1, 2}) ::dup2(terminal, fd);
    for (int fd = 3; fd < 64; ++fd) ::close(fd);
    for (const char* unset : {"PAGER", "LESS"}) ::unsetenv(unset);
    ::setenv("TERM", "xterm", 1);
    ::setenv("SKERRY_NO_CONFIG", "1", 1);
    for (const auto& [variable, value] : screen.environment) ::setenv(variable.c_str(), value.c_str(), 1);
    std::vector<std::string> words{SKERRY_BINARY_DIR "/skerry"};
    words.insert(words.end(), args.begin(), args.end());
    std::vector<char*> pointers;
    for (auto& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    ::execv(pointers[0], pointers.data());
    ::_exit(98);
  }
  // Opened here too, so that the end of the program is no end of the terminal while something is left to be read.
  char buffer[4096];
  for (;;) {
    const auto got = ::read(master, buffer, sizeof buffer);
    if (got <= 0) break;  // EIO: nobody has the terminal open any more
    said.out.append(buffer, static_cast<std::size_t>(got));
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  said.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  ::close(master);
  std::erase(said.out, '\r');
  return said;
}

Said paged_by(const std::string& pager, const std::vector<std::string>& args, int rows = 24) {
  return at_terminal(args, {.rows = rows, .environment = {{"SKERRY_PAGER", pager}}});
}

const std::vector<std::string> long_answer{"schema", "trip"};

}  // namespace

TEST_CASE("what is longer than the screen goes through the pager, with the program's own exit code",
          "[cli]") {
  if (!terminals()) return;
  const auto plain = ask(long_answer).out;
  const auto through = paged_by("sed 's/^/| /'; exit 3", long_answer);
  CHECK(through.code == 0);
  CHECK(std::count(through.out.begin(), through.out.end(), '|') >=
        std::count(plain.begin(), plain.end(), '\n'));
  CHECK(through.out.starts_with("| {\n"));
  CHECK(at_terminal(long_answer, {.environment = {{"PAGER", "head -n 2"}}}).out ==
        plain.substr(0, plain.find('\n', plain.find('\n') + 1) + 1));
  // The program's own name goes before everybody's; less is told what git tells it.
  CHECK(at_terminal(long_answer, {.environment = {{"PAGER", "false"}, {"SKERRY_PAGER", "echo $LESS; cat"}}})
            .out == "FRX\n" + plain);
  CHECK(paged_by("sed 's/^/| /'", {"pack", "--help"}).out.starts_with("| "));
}

TEST_CASE("the pager stays away where it has nothing to do", "[cli][edge]") {
  if (!terminals()) return;
  const auto plain = ask(long_answer).out;
  const std::string pager = "sed 's/^/| /'";
  const auto names = ask({"schema"}).out;
  const auto lines = static_cast<int>(std::count(names.begin(), names.end(), '\n'));
  CHECK(paged_by(pager, {"schema"}, lines + 1).out == names);
  CHECK(paged_by(pager, {"schema"}, lines).out.starts_with("| "));
  CHECK(paged_by(pager, {"--no-pager", "schema", "trip"}).out == plain);
  CHECK(paged_by("", long_answer).out == plain);
  CHECK(paged_by("cat", long_answer).out == plain);
  CHECK(at_terminal(long_answer, {.environment = {{"SKERRY_PAGER", pager}, {"SKERRY_NO_PAGER", "1"}}}).out ==
        plain);
  CHECK(at_terminal(long_answer, {.environment = {{"SKERRY_PAGER", pager}, {"TERM", "dumb"}}}).out == plain);
  CHECK(at_terminal(long_answer, {.rows = 0, .environment = {{"SKERRY_PAGER", pager}}}).out == plain);
  // Mistakes are no answers, and a file is no screen.
  const auto wrong = paged_by(pager, {"schema", "trp"}, 1);
  CHECK(wrong.code == 2);
  CHECK(is_one_line(wrong.out));
  const skerry::test::Folder folder("pager");
  CHECK(paged_by(pager, {"schema", "trip", "-o", folder.file("trip.json")}).out.empty());
}

TEST_CASE("a pager that is left early or is not there is no mistake", "[cli][edge]") {
  if (!terminals()) return;
  const auto plain = ask(long_answer).out;
  REQUIRE(plain.size() > 40000);  // more than a pipe holds... of most systems: the writer has to notice
  for (const char* quits : {"head -n 1", "true", "sleep 0.1; exit 1", "kill $$"}) {
    CAPTURE(quits);
    const auto said = paged_by(quits, long_answer);
    CHECK(said.code == 0);
    CHECK(said.out.size() < 1000);
  }
  const auto none = paged_by("no-such-pager-anywhere", long_answer);
  CHECK(none.code == 0);
  CHECK(none.out.find(plain) != std::string::npos);
}

TEST_CASE("without any variable less is asked, where it is there", "[cli][edge]") {
  if (!terminals()) return;
  const skerry::test::Folder folder("pager");
  const auto plain = ask(long_answer).out;
  // No such program along PATH: straight to the screen.
  CHECK(at_terminal(long_answer, {.environment = {{"PATH", folder.path.string()}}}).out == plain);
  std::filesystem::create_symlink("/bin/false", folder.path / "less");
  CHECK(at_terminal(long_answer, {.environment = {{"PATH", folder.path.string()}}}).out.empty());
}
