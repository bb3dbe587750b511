// Runs the built program, or a function, as a process of its own: with its streams closed or full, under
// limits, ended by a signal; and says how it went.
#pragma once

#include <fcntl.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <functional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#if defined(SKERRY_COVERAGE)
extern "C" void __gcov_dump(void);
extern "C" void __gcov_reset(void);
#endif

namespace skerry::test {

struct Ended {
  int code = -1;   ///< exit code, or -1
  int signal = 0;  ///< that ended it, or 0
  std::string out, err;
  double cpu_s = 0;
  double wall_s = 0;
  double stop_s = 0;  ///< from the signal that was sent to the end
  double most_mb = 0;
};

struct Setting {
  std::vector<std::pair<std::string, std::string>> environment;  ///< on top of the test's own; "" unsets
  std::string folder;
  std::string in = "/dev/null";
  std::string out;             ///< a file or device instead of a pipe
  std::vector<int> closed;     ///< descriptors closed before it starts
  bool reader_leaves = false;  ///< nobody reads standard output
  int signal = 0;              ///< sent after `signal_after_s`
  double signal_after_s = 0;
  double cpu_limit_s = 60;
  long file_limit_bytes = -1;  ///< RLIMIT_FSIZE
};

/// Runs `child` in a fork; its result is the exit code.
inline Ended run_child(const std::function<int()>& child, const Setting& s = {}) {
  int out[2] = {-1, -1}, err[2] = {-1, -1};
  if (::pipe(out) != 0 || ::pipe(err) != 0) return {};
  const auto start = std::chrono::steady_clock::now();
  const auto since = [](auto then) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - then).count();
  };
  const pid_t pid = ::fork();
  if (pid == 0) {
    // Whoever runs the tests has no say in them.
    ::setenv("SKERRY_NO_CONFIG", "1", 1);
    for (const auto& [name, value] : s.environment) {
      if (value.empty()) {
        ::unsetenv(name.c_str());
      } else {
        ::setenv(name.c_str(), value.c_str(), 1);
      }
    }
    if (!s.folder.empty() && ::chdir(s.folder.c_str()) != 0) ::_exit(97);
    const int in = ::open(s.in.c_str(), O_RDONLY);
    const int target = s.out.empty() ? out[1] : ::open(s.out.c_str(), O_WRONLY | O_CREAT, 0666);
    ::dup2(in, 0);
    ::dup2(target, 1);
    ::dup2(err[1], 2);
    for (int fd = 3; fd < 64; ++fd) ::close(fd);
    // A shell in the background may have handed down "ignore", which the program would respect.
    for (const int number : {SIGINT, SIGTERM, SIGHUP, SIGPIPE, SIGXFSZ}) std::signal(number, SIG_DFL);
    for (const int fd : s.closed) ::close(fd);
    rlimit cpu{static_cast<rlim_t>(s.cpu_limit_s), static_cast<rlim_t>(s.cpu_limit_s) + 1};
    ::setrlimit(RLIMIT_CPU, &cpu);
    rlimit core{0, 0};
    ::setrlimit(RLIMIT_CORE, &core);
    if (s.file_limit_bytes >= 0) {
      rlimit size{static_cast<rlim_t>(s.file_limit_bytes), static_cast<rlim_t>(s.file_limit_bytes)};
      ::setrlimit(RLIMIT_FSIZE, &size);
    }
#if defined(SKERRY_COVERAGE)
    // A child counts for itself and saves before _exit, which would not. Under a limit on the size of files
    // its counters would be cut off in the middle and spoil everybody's: they go nowhere.
    if (s.file_limit_bytes >= 0) {
      ::setenv("GCOV_PREFIX", "/proc/nowhere", 1);
      ::setenv("GCOV_ERROR_FILE", "/dev/null", 1);
    }
    __gcov_reset();
    const int code = child();
    __gcov_dump();
    ::_exit(code);
#else
    ::_exit(child());
#endif
  }
  ::close(out[1]);
  ::close(err[1]);
  if (s.reader_leaves) {
    ::close(out[0]);
    out[0] = -1;
  }
  Ended ended;
  auto sent = start;
  bool to_send = s.signal != 0;
  std::vector<pollfd> open;
  std::vector<std::string*> into;
  for (const auto& [fd, text] : {std::pair(out[0], &ended.out), std::pair(err[0], &ended.err)}) {
    if (fd < 0) continue;
    open.push_back({fd, POLLIN, 0});
    into.push_back(text);
  }
  std::size_t left = open.size();
  while (left > 0) {
    ::poll(open.data(), open.size(), 5);
    if (to_send && since(start) >= s.signal_after_s) {
      sent = std::chrono::steady_clock::now();
      ::kill(pid, s.signal);
      to_send = false;
    }
    for (std::size_t i = 0; i < open.size(); ++i) {
      if (open[i].fd < 0 || open[i].revents == 0) continue;
      char block[65536];
      const auto got = ::read(open[i].fd, block, sizeof block);
      if (got > 0) {
        into[i]->append(block, static_cast<std::size_t>(got));
      } else {
        ::close(open[i].fd);
        open[i].fd = -1;
        --left;
      }
    }
  }
  int status = 0;
  rusage used{};
  ::wait4(pid, &status, 0, &used);
  ended.wall_s = since(start);
  ended.stop_s = since(sent);
  if (WIFEXITED(status)) ended.code = WEXITSTATUS(status);
  if (WIFSIGNALED(status)) ended.signal = WTERMSIG(status);
  ended.cpu_s = static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
                1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
  ended.most_mb = static_cast<double>(used.ru_maxrss) / 1024;
  return ended;
}

/// A command with more arguments.
inline std::vector<std::string> with(std::vector<std::string> command, const std::vector<std::string>& more) {
  command.insert(command.end(), more.begin(), more.end());
  return command;
}

/// Becomes that program; 96 where there is none.
inline int execute(const std::vector<std::string>& command) {
  std::vector<char*> args;
  for (const auto& arg : command) args.push_back(const_cast<char*>(arg.c_str()));
  args.push_back(nullptr);
  ::execv(args[0], args.data());
  return 96;
}

/// Runs a program with arguments.
inline Ended run_program(const std::vector<std::string>& command, const Setting& s = {}) {
  return run_child([&] { return execute(command); }, s);
}

/// Measures of time and memory say nothing under a sanitizer or while lines are counted: those checks are
/// left out.
#if defined(__SANITIZE_ADDRESS__) || defined(SKERRY_COVERAGE)
inline constexpr bool instrumented = true;
#else
inline constexpr bool instrumented = false;
#endif

}  // namespace skerry::test
