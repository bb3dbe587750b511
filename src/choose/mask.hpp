// A set of small whole numbers as bits.
// Room: choose, internal. Needs nothing.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <type_traits>
#include <vector>

namespace skerry::choose {

/// A subset of 0 .. 64 W - 1; with W = 0 of any numbers, in as many words as the largest needs.
template <std::size_t W>
struct Mask {
  std::conditional_t<W == 0, std::vector<std::uint64_t>, std::array<std::uint64_t, W>> w{};

  void add(int i) {
    reach(static_cast<std::size_t>(i) / 64 + 1);
    w[static_cast<std::size_t>(i) / 64] |= std::uint64_t{1} << (static_cast<std::size_t>(i) % 64);
  }
  [[nodiscard]] bool has(int i) const {
    return ((word(static_cast<std::size_t>(i) / 64) >> (static_cast<std::size_t>(i) % 64)) & 1U) != 0;
  }
  [[nodiscard]] bool meets(const Mask& o) const {
    std::uint64_t any = 0;
    for (std::size_t i = 0; i < w.size(); ++i) any |= w[i] & o.word(i);
    return any != 0;
  }
  [[nodiscard]] bool within(const Mask& o) const {
    std::uint64_t any = 0;
    for (std::size_t i = 0; i < w.size(); ++i) any |= w[i] & ~o.word(i);
    return any == 0;
  }
  [[nodiscard]] bool empty() const {
    std::uint64_t any = 0;
    for (std::size_t i = 0; i < w.size(); ++i) any |= w[i];
    return any == 0;
  }
  /// The least of them; there must be one.
  [[nodiscard]] int first() const {
    std::size_t i = 0;
    while (w[i] == 0) ++i;
    return static_cast<int>(i * 64 + static_cast<std::size_t>(std::countr_zero(w[i])));
  }
  void meet(const Mask& o) {
    for (std::size_t i = 0; i < w.size(); ++i) w[i] &= o.word(i);
  }
  void take_away(const Mask& o) {
    for (std::size_t i = 0; i < w.size(); ++i) w[i] &= ~o.word(i);
  }
  void join(const Mask& o) {
    reach(o.w.size());
    for (std::size_t i = 0; i < o.w.size(); ++i) w[i] |= o.w[i];
  }
  template <class What>
  void each(What&& what) const {
    for (std::size_t i = 0; i < w.size(); ++i) {
      for (std::uint64_t rest = w[i]; rest != 0; rest &= rest - 1) {
        what(static_cast<int>(i * 64 + static_cast<std::size_t>(std::countr_zero(rest))));
      }
    }
  }

 private:
  [[nodiscard]] std::uint64_t word(std::size_t i) const {
    if constexpr (W == 0) {
      return i < w.size() ? w[i] : 0;
    } else {
      return w[i];
    }
  }
  void reach([[maybe_unused]] std::size_t words) {
    if constexpr (W == 0) {
      if (w.size() < words) w.resize(words);
    }
  }
};

}  // namespace skerry::choose
