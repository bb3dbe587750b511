#include "skerry/os/progress.hpp"

#include <fmt/format.h>

#include <ostream>
#include <system_error>

namespace skerry::os {

Progress::Progress(std::ostream* screen, std::chrono::milliseconds patience, std::string what)
    : screen_(screen), patience_(patience), what_(std::move(what)) {
  if (screen_ == nullptr) return;
  try {
    thread_ = std::thread([this] { work(); });
  } catch (const std::system_error&) {
    // No more threads to be had: the work goes on without a sign of life.
  }
}

Progress::~Progress() {
  end();
}

void Progress::end() {
  {
    const std::lock_guard lock(guard_);
    ended_ = true;
  }
  wake_.notify_all();
  if (thread_.joinable()) thread_.join();
}

void Progress::work() {
  const auto start = std::chrono::steady_clock::now();
  std::unique_lock lock(guard_);
  std::size_t widest = 0;
  auto wait = patience_;
  while (!wake_.wait_for(lock, wait, [this] { return ended_; })) {
    wait = std::chrono::milliseconds(500);
    const auto seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    std::string line = "skerry: " + what_ + ": ";
    if (const double share = share_.load(); share >= 0) line += fmt::format("{:.0f} % done, ", 100 * share);
    if (const long count = count_.load(); count >= 0) line += fmt::format("{} answers, ", count);
    line += fmt::format("{:.0f} s", seconds);
    const std::size_t size = line.size();
    // What is left of a longer line before.
    if (size < widest) line.append(widest - size, ' ');
    widest = std::max(widest, size);
    *screen_ << "\r" << line << std::flush;
  }
  if (widest > 0) *screen_ << "\r" << std::string(widest, ' ') << "\r" << std::flush;
}

}  // namespace skerry::os
