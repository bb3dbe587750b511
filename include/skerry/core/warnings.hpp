// What is told of a file's records that were left out or doubted, however many they are.
// Room: core. Needs nothing.
#pragma once

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry {

/// The first of them, and the number of all: a file of nothing but mistakes takes no more memory than a good one.
class Warnings {
 public:
  /// Judgement: more than anybody reads.
  static constexpr std::size_t most_told = 1000;

  void push_back(Error warning) {
    ++count_;
    if (told_.size() < most_told) told_.push_back(std::move(warning));
  }
  /// Before those that are there.
  void put_first(const std::vector<Error>& more) {
    count_ += more.size();
    told_.insert(told_.begin(), more.begin(), more.end());
    told_.resize(std::min(told_.size(), most_told));
  }
  /// How many there are, told or not.
  [[nodiscard]] std::size_t size() const { return count_; }
  [[nodiscard]] bool empty() const { return count_ == 0; }
  /// In the order of the file, at most `most_told`.
  [[nodiscard]] const std::vector<Error>& told() const { return told_; }
  [[nodiscard]] std::vector<Error> first(std::size_t most) const {
    return {told_.begin(), told_.begin() + static_cast<std::ptrdiff_t>(std::min(most, told_.size()))};
  }
  [[nodiscard]] const Error& operator[](std::size_t i) const { return told_[i]; }
  [[nodiscard]] const Error& at(std::size_t i) const { return told_.at(i); }

 private:
  std::vector<Error> told_;
  std::size_t count_ = 0;
};

}  // namespace skerry
