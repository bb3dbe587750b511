// A line that says that work goes on, for people who wait.
// Room: os. Sees core only.
#pragma once

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <iosfwd>
#include <mutex>
#include <string>
#include <thread>

namespace skerry::os {

/// From construction on, after `patience`, rewrites one line on `screen` twice a second: what goes on, how
/// much is done where that is known, the seconds. Nothing without a screen. Gone without a trace when it ends.
/// While it lives nobody else writes to the screen.
class Progress {
 public:
  /// screen   a terminal, or null
  Progress(std::ostream* screen, std::chrono::milliseconds patience, std::string what);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  /// 0..1 of the work is done. Any thread.
  void share(double done) { share_.store(done); }
  /// So many answers are out. Any thread.
  void count(long answers) { count_.store(answers); }
  /// No more lines: the answer itself begins to appear on the same screen.
  void end();

 private:
  void work();
  std::ostream* screen_;
  std::chrono::milliseconds patience_;
  std::string what_;
  std::atomic<double> share_{-1};
  std::atomic<long> count_{-1};
  std::mutex guard_;
  std::condition_variable wake_;
  bool ended_ = false;
  std::thread thread_;
};

}  // namespace skerry::os
