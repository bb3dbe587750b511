// A set of small whole numbers as bits.
// Room: choose, internal. Sees core.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace skerry::choose {

/// A subset of 0 .. 64 W - 1.
template <std::size_t W>
struct Mask {
  std::array<std::uint64_t, W> w{};
  void add(int i) {
    w[static_cast<std::size_t>(i) / 64] |= std::uint64_t{1} << (static_cast<std::size_t>(i) % 64);
  }
  [[nodiscard]] bool has(int i) const {
    return ((w[static_cast<std::size_t>(i) / 64] >> (static_cast<std::size_t>(i) % 64)) & 1U) != 0;
  }
  [[nodiscard]] bool meets(const Mask& o) const {
    std::uint64_t any = 0;
    for (std::size_t i = 0; i < W; ++i) any |= w[i] & o.w[i];
    return any != 0;
  }
  [[nodiscard]] bool within(const Mask& o) const {
    std::uint64_t any = 0;
    for (std::size_t i = 0; i < W; ++i) any |= w[i] & ~o.w[i];
    return any == 0;
  }
  void meet(const Mask& o) {
    for (std::size_t i = 0; i < W; ++i) w[i] &= o.w[i];
  }
  void take_away(const Mask& o) {
    for (std::size_t i = 0; i < W; ++i) w[i] &= ~o.w[i];
  }
  template <class What>
  void each(What&& what) const {
    for (std::size_t i = 0; i < W; ++i) {
      for (std::uint64_t rest = w[i]; rest != 0; rest &= rest - 1) {
        what(static_cast<int>(i * 64 + static_cast<std::size_t>(std::countr_zero(rest))));
      }
    }
  }
  void join(const Mask& o) {
    for (std::size_t i = 0; i < W; ++i) w[i] |= o.w[i];
  }
};

}  // namespace skerry::choose
