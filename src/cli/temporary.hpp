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

  /// A name beside `final_name` that no other process uses.
  static std::string name_for(const std::string& final_name);
  /// From now on a signal removes this file.
  void watch(const std::string& name);
  void forget();

 private:
  bool watching_ = false;
};

}  // namespace skerry::cli
