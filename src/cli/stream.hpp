// Answers too large to keep: written piece by piece, to the screen or to a file that appears whole or not at
// all. Layer: cli (internal).
#pragma once

#include <string>
#include <string_view>

#include "options.hpp"
#include "temporary.hpp"

namespace skerry::cli {

class Stream {
 public:
  /// Opens --output if given. Stops (see Stop) when it cannot be written.
  Stream(const Common& common, World& world);
  ~Stream();
  Stream(const Stream&) = delete;
  Stream& operator=(const Stream&) = delete;

  /// False when the reader has gone away: nothing more is wanted. Stops when a file cannot be written.
  bool put(std::string_view text);
  /// The file takes its name. Without it, the file never appears.
  void finish();

 private:
  [[noreturn]] void stop(int error_number);
  World& world_;
  std::string name_, temporary_;
  int file_ = -1;
  Temporary watched_;
};

}  // namespace skerry::cli
