// A file on its way to its name: what is half written never stays, whatever ends the program.
// Layer: cli (internal).
#pragma once

#include <string>

namespace skerry::cli {

/// Remembers the half-written file until it has its name or is given up. While one is alive, SIGINT, SIGTERM
/// and their like remove it before they end the program (see clean_up_on_signals). One at a time.
class Temporary {
 public:
  Temporary() = default;
  ~Temporary() { forget(); }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;

  /// A name beside `final_name` that no other process uses. What earlier processes left there when they were
  /// killed outright is removed: files of such a name whose process lives no more and which nobody has
  /// locked.
  static std::string name_for(const std::string& final_name);
  /// To be called on the open file: others see that it is being written, also those that share the folder
  /// from elsewhere and cannot see the process.
  static void lock(int file);
  /// From now on a signal removes this file.
  void watch(const std::string& name);
  void forget();

 private:
  bool watching_ = false;
};

/// Removes the half-written file, if there is one. Allocates nothing.
void remove_half_written();

}  // namespace skerry::cli
