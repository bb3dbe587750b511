// A line that says that work goes on, for people who wait.
// Layer: cli (internal).
#pragma once

#include <atomic>
#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

#include "skerry/cli/run.hpp"

namespace skerry::cli {

/// From construction on, after World::patience, rewrites one line on World::err twice a second: the command,
/// how much is done where that is known, the seconds. Nothing where err is no terminal. Gone without a trace
/// when it ends. While it lives nobody else writes to err.
class Progress {
 public:
  Progress(World& world, std::string what);
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
  World& world_;
  std::string what_;
  std::atomic<double> share_{-1};
  std::atomic<long> count_{-1};
  std::mutex guard_;
  std::condition_variable wake_;
  bool ended_ = false;
  std::thread thread_;
};

}  // namespace skerry::cli
