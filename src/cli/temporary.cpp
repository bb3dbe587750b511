#include "temporary.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <climits>
#include <csignal>
#include <cstring>

#include "skerry/cli/run.hpp"

namespace skerry::cli {

namespace {

/// What a signal handler may look at: plain bytes and a flag, no allocation.
std::array<char, PATH_MAX> watched{};
volatile std::sig_atomic_t watching = 0;

extern "C" void remove_and_die(int signal_number) {
  if (watching != 0) ::unlink(watched.data());
  // The system's own action ends the program, so that whoever started it sees which signal it was.
  std::signal(signal_number, SIG_DFL);
  ::raise(signal_number);
}

}  // namespace

std::string Temporary::name_for(const std::string& final_name) {
  return fmt::format("{}.part-{}", final_name, ::getpid());
}

void Temporary::watch(const std::string& name) {
  if (name.size() >= watched.size()) return;  // no such file can be opened
  watching = 0;
  std::copy(name.begin(), name.end(), watched.begin());
  watched[name.size()] = '\0';
  watching = 1;
  watching_ = true;
}

void Temporary::forget() {
  if (watching_) watching = 0;
  watching_ = false;
}

void clean_up_on_signals() {
  for (const int number : {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGXCPU}) {
    struct sigaction old {};
    // What the caller wants ignored (as nohup does) stays ignored.
    if (::sigaction(number, nullptr, &old) == 0 && old.sa_handler == SIG_IGN) continue;
    struct sigaction action {};
    action.sa_handler = remove_and_die;
    ::sigemptyset(&action.sa_mask);
    ::sigaction(number, &action, nullptr);
  }
}

}  // namespace skerry::cli
