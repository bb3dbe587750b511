// What a search has cost, and whether it is to end.
// Room: choose, internal. Sees choose.hpp.
#pragma once

#include "skerry/choose/choose.hpp"

namespace skerry::choose {

class Meter {
 public:
  explicit Meter(const Stop& stop) : stop_(stop) {}

  /// Whether this node is the last to be looked at.
  [[nodiscard]] bool node() { return ++nodes_ >= stop_.max_nodes; }
  /// Cells, ways or things gone through.
  void work(std::size_t steps) { work_ += steps; }
  /// What the caller wishes: asked once there is a kit, then each time that so much work is done, whatever a
  /// node costs. True from the first time on.
  [[nodiscard]] bool ended() {
    if (!ended_ && stop_.now && work_ >= ask_at_) {
      ended_ = stop_.now();
      ask_at_ = work_ + between_asking;
    }
    return ended_;
  }
  [[nodiscard]] std::uint64_t nodes() const { return nodes_; }

 private:
  /// Measured: a millisecond or two.
  static constexpr std::uint64_t between_asking = 1U << 18U;

  const Stop& stop_;
  std::uint64_t nodes_ = 0, work_ = 0, ask_at_ = 0;
  bool ended_ = false;
};

}  // namespace skerry::choose
