#include "temporary.hpp"

#include <fmt/format.h>
#include <process.h>
#include <windows.h>

#include <array>
#include <atomic>
#include <csignal>
#include <cstdlib>
#include <filesystem>

#include "skerry/os/ending.hpp"
#include "skerry/os/files.hpp"

namespace skerry::os {

namespace {

/// What a signal handler may look at: plain characters and a flag, no allocation.
std::array<wchar_t, 32768> watched{};
std::atomic<bool> watching{false};

extern "C" void remove_and_die(int signal_number) {
  if (signal_number == SIGINT && only_marked()) {
    std::signal(SIGINT, remove_and_die);  // here a handler serves once
    return;
  }
  remove_half_written();
  std::_Exit(128 + signal_number);
}

/// What nobody has open can be removed, and only that.
void remove_stale(const std::filesystem::path& final_name) {
  namespace fs = std::filesystem;
  const std::string start = final_name.filename().string() + part_mark;
  const auto folder = final_name.has_parent_path() ? final_name.parent_path() : fs::path(".");
  std::error_code problem;
  for (fs::directory_iterator entry(folder, problem), end; !problem && entry != end;
       entry.increment(problem)) {
    if (!entry->path().filename().string().starts_with(start)) continue;
    const HANDLE file = CreateFileW(entry->path().c_str(), DELETE, 0, nullptr, OPEN_EXISTING,
                                    FILE_FLAG_DELETE_ON_CLOSE, nullptr);
    if (file != INVALID_HANDLE_VALUE) CloseHandle(file);
  }
}

}  // namespace

void remove_half_written() {
  // It was opened so that it may go while it is open (open_files.cpp).
  if (watching) DeleteFileW(watched.data());
}

std::string temporary_name(const std::string& final_name) {
  remove_stale(path_of(final_name));
  return fmt::format("{}{}{}", final_name, part_mark, _getpid());
}

void lock(int file) {
  (void)file;  // that it is open is enough: see remove_stale
}

void remove_on_signals(const std::string& name) {
  const std::wstring wide = path_of(name).wstring();
  if (wide.size() >= watched.size()) return;  // no such file can be opened
  watching = false;
  std::copy(wide.begin(), wide.end(), watched.begin());
  watched[wide.size()] = L'\0';
  watching = true;
}

void keep_on_signals() {
  watching = false;
}

void end_if_interrupted() {
  if (interrupt_marked()) std::_Exit(128 + SIGINT);
}

void clean_up_on_signals() {
  for (const int number : {SIGINT, SIGTERM, SIGBREAK}) {
    if (std::signal(number, remove_and_die) == SIG_IGN) std::signal(number, SIG_IGN);
  }
}

}  // namespace skerry::os
