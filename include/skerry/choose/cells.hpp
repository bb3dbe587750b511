// Sets of small whole numbers, 64 to a word.
// Room: choose. Needs nothing.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace skerry::choose {

/// Calls what(cell) for each bit of words in turn while it returns true.
template <class What>
bool each_cell(const std::uint64_t* words, std::size_t count, What&& what) {
  for (std::size_t i = 0; i < count; ++i) {
    for (std::uint64_t rest = words[i]; rest != 0; rest &= rest - 1) {
      if (!what(i * 64 + static_cast<std::size_t>(std::countr_zero(rest)))) return false;
    }
  }
  return true;
}

/// A set of cells, 64 to a word; bit c of word c/64 is cell c.
class CellSet {
 public:
  CellSet() = default;
  explicit CellSet(std::size_t cells) : words_((cells + 63) / 64, 0) {}
  void add(std::size_t cell) { words_[cell / 64] |= std::uint64_t{1} << (cell % 64); }
  [[nodiscard]] bool has(std::size_t cell) const { return ((words_[cell / 64] >> (cell % 64)) & 1U) != 0; }
  void merge(const CellSet& other) {
    for (std::size_t i = 0; i < words_.size(); ++i) words_[i] |= other.words_[i];
  }
  [[nodiscard]] std::span<const std::uint64_t> words() const { return words_; }
  bool operator==(const CellSet&) const = default;

 private:
  std::vector<std::uint64_t> words_;
};

}  // namespace skerry::choose
