// The currents of an antenna as straight lines of equal segments, and what a line sends toward any direction.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "mom_kernel.hpp"

namespace skerry::antenna::mom {

/// Equal segments in one line: their phases toward any direction are a geometric series.
struct Line {
  Vec3 first{};                    ///< middle of the first segment, from the antenna's middle, units of 1/k0
  Vec3 step{};                     ///< from one middle to the next
  std::vector<Complex> even, odd;  ///< (from + to)/2, (to - from)/2
  // Integral of the shape over one segment against cos and sin of the phase across it, as series in that
  // phase.
  double even0 = 0, even2 = 0, even4 = 0, odd1 = 0, odd3 = 0;
  bool level = false;

  [[nodiscard]] std::size_t size() const { return even.size(); }
  /// What the shape makes of currents of even and odd symmetry at phase p across one segment.
  [[nodiscard]] double even_at(double p) const { return even0 + p * p * (even2 + p * p * even4); }
  [[nodiscard]] double odd_at(double p) const { return p * (odd1 + p * p * odd3); }
  /// Sum of current times phase over segments begin..end-1 toward the unit vector `to`. Ampere; times `step`
  /// it is a moment.
  [[nodiscard]] Complex sum(const Vec3& to, std::size_t begin, std::size_t end) const;
};

struct Lines {
  explicit Lines(const Solution& solution);

  double mhz = 0, k0 = 0;
  Vec3 low_m{}, high_m{};  ///< corners of the box around all
  Vec3 centre{};           ///< its middle, from the origin, units of 1/k0
  std::vector<Line> lines;
  bool in_plane = false;  ///< all in the plane y = 0: what leaves is the same on both sides of it

  /// Half the largest width, the height the ground doubles, and the radius of the ball around the box; units
  /// of 1/k0.
  [[nodiscard]] double half_width() const;
  [[nodiscard]] double height(bool over_ground) const;
  [[nodiscard]] double radius() const;
  /// The origin's distance from the furthest corner, m.
  [[nodiscard]] double reach_m() const;
};

/// Directions to sum a line's currents toward, and room for doing so.
struct SumBuffers {
  std::vector<double> phase_re, phase_im;  ///< of the first segment's middle
  std::vector<double> step_re, step_im;    ///< from one segment to the next
  std::vector<double> along;               ///< the angle of that
  /// Sums of current times phase: re re, im im, re im, im re; for even and odd currents.
  std::array<std::vector<double>, 8> sums;
  explicit SumBuffers(std::size_t n) : phase_re(n), phase_im(n), step_re(n), step_im(n), along(n) {
    sums.fill(std::vector<double>(n));
  }
  void set(std::size_t at, Complex phase, Complex step, double along_angle) {
    phase_re[at] = phase.real();
    phase_im[at] = phase.imag();
    step_re[at] = step.real();
    step_im[at] = step.imag();
    along[at] = along_angle;
  }
};

/// Line::sum over all segments toward the directions in b, and, unless `opposite` is empty, toward their
/// opposites. The phases in b are used up.
void sum_both_ways(const Line& line, SumBuffers& b, std::span<Complex> out, std::span<Complex> opposite);

/// Line::sum over all segments toward all directions (ex, ey, ez), unit vectors.
void sum_toward(const Line& line, std::span<const double> ex, std::span<const double> ey,
                std::span<const double> ez, SumBuffers& b, std::span<Complex> out);

}  // namespace skerry::antenna::mom
