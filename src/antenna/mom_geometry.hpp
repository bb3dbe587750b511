// Is this antenna one that can be solved? And the little vector arithmetic that asks.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <cmath>
#include <vector>

#include "skerry/antenna/solver.hpp"

namespace skerry::antenna::mom {

/// Ends closer than this are joined.
inline constexpr double join_m = 1e-3;
/// Lowest wire over real ground. Judgement: below, the ground's roughness decides and not its constants.
inline constexpr double least_height_m = 0.01;

[[nodiscard]] inline Vec3 minus(const Vec3& a, const Vec3& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
[[nodiscard]] inline Vec3 plus(const Vec3& a, const Vec3& b) {
  return {a[0] + b[0], a[1] + b[1], a[2] + b[2]};
}
[[nodiscard]] inline Vec3 scaled(const Vec3& a, double s) {
  return {a[0] * s, a[1] * s, a[2] * s};
}
[[nodiscard]] inline double dot(const Vec3& a, const Vec3& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
[[nodiscard]] inline double distance(const Vec3& a, const Vec3& b) {
  const Vec3 d = minus(a, b);
  return std::sqrt(dot(d, d));
}

struct Foot {
  double at = 0;  ///< 0..1 along the line
  double distance_m = 0;
};
/// The point of the straight line from..to nearest to p.
[[nodiscard]] Foot nearest_point(const Vec3& from, const Vec3& to, const Vec3& p);
/// Least distance of two straight lines of finite length.
[[nodiscard]] double gap_m(const Vec3& a0, const Vec3& a1, const Vec3& b0, const Vec3& b1);

/// Everything solve() promises to refuse; true when sound.
[[nodiscard]] Result<bool> check_geometry(const WireAntenna& antenna, const std::vector<Feed>& feeds,
                                          const Ground& ground, double mhz, const SolveOptions& options);

}  // namespace skerry::antenna::mom
