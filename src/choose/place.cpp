#include "skerry/choose/place.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <random>

namespace skerry::choose {

namespace {

using Mm = std::array<int, 3>;
using Real = std::array<double, 3>;

constexpr double dot(const Real& a, const Real& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Real minus(const Real& a, const Real& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
Real cross(const Real& a, const Real& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
/// What of a stands square to the unit vector u.
Real square_to(const Real& a, const Real& u) {
  const double along = dot(a, u);
  return {a[0] - along * u[0], a[1] - along * u[1], a[2] - along * u[2]};
}

/// A box set parallel to the sides.
struct Block {
  Mm low{}, high{};
  [[nodiscard]] Real middle() const {
    return {0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1]), 0.5 * (low[2] + high[2])};
  }
  /// Half its width along a direction.
  [[nodiscard]] double half(const Real& n) const {
    return 0.5 * ((high[0] - low[0]) * std::abs(n[0]) + (high[1] - low[1]) * std::abs(n[1]) +
                  (high[2] - low[2]) * std::abs(n[2]));
  }
};
struct Rod {
  Real at{}, along{};  ///< middle and unit direction
  double length = 0, diameter = 0;
  [[nodiscard]] const Real& middle() const { return at; }
  [[nodiscard]] double half(const Real& n) const {
    const double u = std::min(1.0, std::abs(dot(along, n)));
    return 0.5 * (length * u + diameter * std::sqrt(1 - u * u));
  }
};

/// Whether a plane square to n keeps them apart. Touching is apart; 1e-6 mm: rounding.
template <class A, class B>
bool apart_along(const A& a, const B& b, Real n) {
  const double size = std::sqrt(dot(n, n));
  if (size < 1e-9) return false;
  for (double& x : n) x /= size;
  return std::abs(dot(minus(b.middle(), a.middle()), n)) >= a.half(n) + b.half(n) - 1e-6;
}

constexpr std::array<Real, 3> sides{Real{1, 0, 0}, Real{0, 1, 0}, Real{0, 0, 1}};

/// Some plane keeps them apart; false may be in vain.
bool apart(const Rod& a, const Rod& b) {
  const Real between = minus(b.at, a.at);
  const Real both = cross(a.along, b.along);
  if (apart_along(a, b, both) || apart_along(a, b, square_to(between, a.along)) ||
      apart_along(a, b, square_to(between, b.along)) || apart_along(a, b, a.along) ||
      apart_along(a, b, b.along))
    return true;
  return std::any_of(sides.begin(), sides.end(), [&](const Real& n) { return apart_along(a, b, n); });
}
bool apart(const Rod& a, const Block& b) {
  if (apart_along(a, b, square_to(minus(b.middle(), a.at), a.along)) || apart_along(a, b, a.along))
    return true;
  for (const Real& n : sides) {
    if (apart_along(a, b, n) || apart_along(a, b, cross(a.along, n))) return true;
  }
  return false;
}
bool apart(const Block& a, const Block& b) {
  for (std::size_t i = 0; i < 3; ++i) {
    if (a.high[i] <= b.low[i] || b.high[i] <= a.low[i]) return true;
  }
  return false;
}

std::vector<Mm> turns(const Mm& sides_mm) {
  Mm s = sides_mm;
  std::sort(s.begin(), s.end());
  std::vector<Mm> out;
  do {
    out.push_back(s);
  } while (std::next_permutation(s.begin(), s.end()));
  return out;
}

class Placing {
 public:
  Placing(const Mm& inside, std::span<const Body> bodies, std::uint64_t most_work)
      : inside_(inside), bodies_(bodies), work_left_(most_work) {
    for (std::size_t i = 0; i < bodies.size(); ++i) {
      (bodies[i].aslant.empty() ? boxes_ : rods_to_lay_).push_back(i);
    }
    // The longest is the most bound.
    std::stable_sort(rods_to_lay_.begin(), rods_to_lay_.end(),
                     [&](std::size_t a, std::size_t b) { return bodies[a].mm[0] > bodies[b].mm[0]; });
  }

  std::optional<std::vector<Spot>> run() {
    std::minstd_rand random(20261126);
    constexpr int rounds = 200;  // Judgement: of a handful of boxes; with more the work ends it
    for (int n = 0; n < rounds && work_left_ > 0; ++n) {
      out_.assign(bodies_.size(), {});
      rods_.clear();
      blocks_.clear();
      // Rods together in one corner, then as far out as they go.
      if (!lay_rods((n / 2) % 2 == 0)) continue;
      if (boxes_.empty()) return out_;
      if (set_boxes(n, random)) return out_;
    }
    return std::nullopt;
  }

 private:
  bool pay(std::size_t work) {
    work_left_ -= std::min<std::uint64_t>(work_left_, work);
    return work_left_ > 0;
  }

  bool lay_rods(bool together) {
    return std::all_of(rods_to_lay_.begin(), rods_to_lay_.end(),
                       [&](std::size_t i) { return lay_rod(i, together); });
  }

  bool lay_rod(std::size_t i, bool together) {
    const Body& body = bodies_[i];
    Rod best;
    double best_worth = std::numeric_limits<double>::max();
    Rod rod{{}, {}, static_cast<double>(body.mm[0]), static_cast<double>(body.mm[1])};
    for (const Real& way : body.aslant) {
      for (int mirror = 0; mirror < 4; ++mirror) {
        rod.along = {way[0], (mirror & 1) != 0 ? -way[1] : way[1], (mirror & 2) != 0 ? -way[2] : way[2]};
        if (((mirror & 1) != 0 && way[1] < 1e-9) || ((mirror & 2) != 0 && way[2] < 1e-9)) continue;
        // How far the middle may go along each side, and where it would touch a rod that lies there.
        std::array<std::vector<double>, 3> at;
        bool holds = true;
        for (std::size_t k = 0; k < 3; ++k) {
          const double half = rod.half(sides[k]);
          const double low = std::min(half, 0.5 * inside_[k]), high = inside_[k] - low;
          holds = holds && 2 * half <= inside_[k] + 1e-6;
          at[k] = {low, high, 0.5 * inside_[k]};
          for (const Rod& other : rods_) {
            for (const double beside : {other.at[k] - 0.5 * (other.diameter + rod.diameter),
                                        other.at[k] + 0.5 * (other.diameter + rod.diameter)}) {
              if (beside >= low && beside <= high) at[k].push_back(beside);
            }
          }
        }
        if (!holds) continue;
        for (std::size_t x = 0; x < at[0].size(); ++x) {
          for (std::size_t y = 0; y < at[1].size(); ++y) {
            for (std::size_t z = 0; z < at[2].size(); ++z) {
              // Touching along one side is enough to look at.
              if ((x > 2 ? 1 : 0) + (y > 2 ? 1 : 0) + (z > 2 ? 1 : 0) > 1) continue;
              rod.at = {at[0][x], at[1][y], at[2][z]};
              const double worth = worth_of(rod.at, together);
              if (worth >= best_worth) continue;
              if (!pay(10 * (rods_.size() + 1))) return false;
              if (!std::all_of(rods_.begin(), rods_.end(), [&](const Rod& r) { return apart(rod, r); }))
                continue;
              best = rod;
              best_worth = worth;
            }
          }
        }
      }
    }
    if (best.length <= 0) return false;
    rods_.push_back(best);
    for (std::size_t k = 0; k < 3; ++k) {
      out_[i].from[k] = best.at[k] - 0.5 * best.length * best.along[k];
      out_[i].to[k] = best.at[k] + 0.5 * best.length * best.along[k];
    }
    return true;
  }
  /// Less is better: near the corner from which boxes are set last, or far from the middle.
  [[nodiscard]] double worth_of(const Real& at, bool together) const {
    double out = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const double share = at[k] / inside_[k];
      out += together ? -share * (k == 0 ? 4 : 1) : -std::abs(share - 0.5);
    }
    return out;
  }

  /// The box and place that touch most, one after the other; n sets how much the larger box goes first.
  bool set_boxes(int n, std::minstd_rand& random) {
    points_ = {{0, 0, 0}};
    std::vector<std::size_t> left = boxes_;
    double largest = 1;
    for (const std::size_t i : boxes_) largest = std::max(largest, volume(bodies_[i].mm));
    constexpr std::array<double, 6> weights{1, 0.3, 3, 0.1, 0.6, 10};
    // Judgement: a gap of so much of a side is lost anyhow; where all is full there is none.
    narrow_ = n % 2 == 0 ? 0.12 : 0.001;
    const double weight = weights[static_cast<std::size_t>(n / 2) % weights.size()];
    // Later rounds are disturbed.
    const double noise = n < static_cast<int>(2 * weights.size()) ? 0 : 0.1;
    std::vector<double> bonus(bodies_.size());
    while (!left.empty()) {
      for (const std::size_t i : left) {
        bonus[i] =
            weight * volume(bodies_[i].mm) / largest + noise * static_cast<double>(random() % 1000) / 1000;
      }
      Choice best;
      for (const std::size_t i : left) {
        if (!look_for(i, bonus[i], best)) return false;
      }
      if (best.worth < 0) return false;
      set(best);
      std::erase(left, best.body);
    }
    return true;
  }

  struct Choice {
    std::size_t body = 0;
    Block block;
    double worth = -1;
  };
  [[nodiscard]] static double volume(const Mm& mm) { return 1.0 * mm[0] * mm[1] * mm[2]; }

  /// False: no work is left.
  bool look_for(std::size_t i, double bonus, Choice& best) {
    bool some = false;
    for (const Mm& size : turns(bodies_[i].mm)) {
      if (size[0] > inside_[0] || size[1] > inside_[1] || size[2] > inside_[2]) continue;
      if (!rods_.empty()) points_ = corners_for(size);
      const double surface =
          2.0 * (1.0 * size[0] * size[1] + 1.0 * size[1] * size[2] + 1.0 * size[2] * size[0]);
      for (const Mm& p : points_) {
        const Block block{p, {p[0] + size[0], p[1] + size[1], p[2] + size[2]}};
        if (!pay(blocks_.size() + 10 * rods_.size() + 1)) return false;
        if (!free(block)) continue;
        some = true;
        const double worth = touched(block) / surface + bonus;
        if (worth > best.worth + 1e-12 || (worth > best.worth - 1e-12 && p < best.block.low))
          best = {i, block, std::max(worth, best.worth)};
      }
    }
    // What has no place now has none later.
    if (!some) best.worth = -1;
    return some;
  }

  void set(const Choice& choice) {
    blocks_.push_back(choice.block);
    for (std::size_t k = 0; k < 3; ++k) {
      out_[choice.body].from[k] = choice.block.low[k];
      out_[choice.body].to[k] = choice.block.high[k];
    }
    if (rods_.empty()) add_points(choice.block);
  }

  [[nodiscard]] bool free(const Block& block) const {
    for (std::size_t k = 0; k < 3; ++k) {
      if (block.low[k] < 0 || block.high[k] > inside_[k]) return false;
    }
    return std::all_of(blocks_.begin(), blocks_.end(), [&](const Block& b) { return apart(block, b); }) &&
           std::all_of(rods_.begin(), rods_.end(), [&](const Rod& r) { return apart(r, block); });
  }

  /// The part of its surface that touches walls and other boxes; what leaves a narrow gap counts in part.
  [[nodiscard]] double touched(const Block& block) const {
    double out = 0;
    const auto overlap = [](const Block& a, const Block& b, std::size_t k) {
      return static_cast<double>(std::max(0, std::min(a.high[k], b.high[k]) - std::max(a.low[k], b.low[k])));
    };
    for (std::size_t k = 0; k < 3; ++k) {
      const std::size_t l = (k + 1) % 3, m = (k + 2) % 3;
      const double face = static_cast<double>(block.high[l] - block.low[l]) * (block.high[m] - block.low[m]);
      const double wide = narrow_ * inside_[k];
      const auto near = [&](int gap) { return gap < 0 ? 0 : std::max(0.0, 1 - gap / wide); };
      out += face * (near(block.low[k]) + near(inside_[k] - block.high[k]));
      for (const Block& b : blocks_) {
        const double share = std::max(near(block.low[k] - b.high[k]), near(b.low[k] - block.high[k]));
        if (share > 0) out += share * overlap(block, b, l) * overlap(block, b, m);
      }
    }
    return out;
  }

  /// Beside a rod that lies aslant the room is no staircase: every corner that walls and boxes make.
  [[nodiscard]] std::vector<Mm> corners_for(const Mm& size) const {
    std::array<std::vector<int>, 3> at;
    for (std::size_t k = 0; k < 3; ++k) {
      at[k] = {0, inside_[k] - size[k]};
      for (const Block& b : blocks_) {
        at[k].push_back(b.high[k]);
        at[k].push_back(b.low[k] - size[k]);
      }
      for (const Rod& r : rods_) {
        at[k].push_back(static_cast<int>(std::ceil(r.at[k] + r.half(sides[k]) - 1e-6)));
        at[k].push_back(static_cast<int>(std::floor(r.at[k] - r.half(sides[k]) + 1e-6)) - size[k]);
      }
      std::sort(at[k].begin(), at[k].end());
      at[k].erase(std::unique(at[k].begin(), at[k].end()), at[k].end());
      std::erase_if(at[k], [&](int x) { return x < 0 || x + size[k] > inside_[k]; });
    }
    std::vector<Mm> out;
    for (const int x : at[0]) {
      for (const int y : at[1]) {
        for (const int z : at[2]) out.push_back({x, y, z});
      }
    }
    return out;
  }

  /// The extreme points of a box just set: its far corners, each let fall along the two other sides.
  void add_points(const Block& block) {
    for (std::size_t k = 0; k < 3; ++k) {
      for (const std::size_t fall : {(k + 1) % 3, (k + 2) % 3}) {
        Mm p = block.low;
        p[k] = block.high[k];
        int floor = 0;
        for (const Block& b : blocks_) {
          bool below = b.high[fall] <= p[fall];
          for (std::size_t m = 0; m < 3; ++m)
            below = below && (m == fall || (b.low[m] <= p[m] && p[m] < b.high[m]));
          if (below) floor = std::max(floor, b.high[fall]);
        }
        p[fall] = floor;
        if (std::find(points_.begin(), points_.end(), p) == points_.end()) points_.push_back(p);
      }
      Mm p = block.low;
      p[k] = block.high[k];
      if (std::find(points_.begin(), points_.end(), p) == points_.end()) points_.push_back(p);
    }
    // A point inside the box is none any more.
    std::erase_if(points_, [&](const Mm& p) {
      return p[0] >= block.low[0] && p[0] < block.high[0] && p[1] >= block.low[1] && p[1] < block.high[1] &&
             p[2] >= block.low[2] && p[2] < block.high[2];
    });
  }

  Mm inside_;
  double narrow_ = 0.12;  ///< share of a side
  std::span<const Body> bodies_;
  std::uint64_t work_left_;
  std::vector<std::size_t> boxes_, rods_to_lay_;
  std::vector<Block> blocks_;
  std::vector<Rod> rods_;
  std::vector<Mm> points_;
  std::vector<Spot> out_;
};

}  // namespace

std::optional<std::vector<Spot>> place(const std::array<int, 3>& inside_mm, std::span<const Body> bodies,
                                       std::uint64_t most_work) {
  return Placing(inside_mm, bodies, most_work).run();
}

bool boxes_clash(const std::array<double, 3>& inside, const std::array<double, 3>& a,
                 const std::array<double, 3>& b) {
  constexpr double rounding = 1e-9;
  Real s = a, t = b;
  std::sort(s.begin(), s.end());
  std::sort(t.begin(), t.end());
  const auto holds = [&](const Real& box) {
    return box[0] <= inside[0] + rounding && box[1] <= inside[1] + rounding && box[2] <= inside[2] + rounding;
  };
  do {
    if (!holds(s)) continue;
    Real u = t;
    do {
      if (!holds(u)) continue;
      for (std::size_t k = 0; k < 3; ++k) {
        if (s[k] + u[k] <= inside[k] + rounding) return false;
      }
    } while (std::next_permutation(u.begin(), u.end()));
  } while (std::next_permutation(s.begin(), s.end()));
  return true;
}

std::int64_t most_balls(const std::array<double, 3>& middles, double diameter) {
  double cells = 1, volume = 1;
  for (const double side : middles) {
    cells *= std::floor(side * std::numbers::sqrt3 / diameter) + 1;
    volume *= side + diameter;
  }
  const double balls = std::floor(volume / (std::numbers::pi / 6 * diameter * diameter * diameter) + 1e-9);
  return static_cast<std::int64_t>(std::min({cells, balls, 1e9}));
}

}  // namespace skerry::choose
