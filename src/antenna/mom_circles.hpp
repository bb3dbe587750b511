// The far field by great circles: what a whole antenna sends is smooth around each circle through the zenith,
// so that a few exact sums on it give every elevation by trigonometric interpolation, all rows in one
// product. Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <Eigen/Dense>
#include <array>
#include <memory>
#include <vector>

#include "mom_lines.hpp"

namespace skerry::antenna::mom {

/// Elevations and the matrices that take `samples` points on a circle to them; shared by antennas of like
/// size.
struct CirclePlan {
  int samples = 0;  ///< a multiple of 8
  int grid_rows = 0;
  std::vector<double> elevations_deg;  ///< the grid's rows, then the points of the power integral
  std::vector<double> sine, cosine;
  std::vector<double> weights;  ///< of the latter
  /// For functions of elevation even or odd about the horizon and about the zenith: (+,+) (+,-) (-,+) (-,-);
  /// rows x samples/4.
  std::array<Eigen::MatrixXd, 4> interpolation;
};

/// Parity about the horizon and about the zenith of cos(m t), sin(m t) with m even or odd.
struct Symmetry {
  bool sine;
  int first_m;
  double horizon, zenith;
};
inline constexpr std::array<Symmetry, 4> symmetries{
    {{false, 0, 1, 1}, {false, 1, 1, -1}, {true, 1, -1, 1}, {true, 2, -1, -1}}};

/// A plan for so many samples, and panels of the power integral; kept for the next.
[[nodiscard]] std::shared_ptr<const CirclePlan> plan_for(int samples, int panels, double elevation_step_deg);

class Circles {
 public:
  /// Moments of the currents on all circles.
  ///   azimuths  how many the far field has
  ///   accuracy  of the moments 1e-7 of their largest (the series stops where Bessel functions J_m(k radius)
  ///             are below that)
  Circles(const Lines& lines, bool over_ground, double elevation_step_deg, std::size_t azimuths);

  /// Gain and power over level ground of one kind.
  [[nodiscard]] FarField level(const Ground& ground) const;
  /// Over a round shore: rows whose rays all meet the near ground are copied from `level`.
  [[nodiscard]] FarField round_shore(const Ground& ground, const Foreground& shore,
                                     const FarField& level) const;

 private:
  struct Rows;
  struct Polarised;
  /// Half a circle, and the azimuths that it serves.
  struct Half {
    int circle = 0;
    bool other = false;  ///< the half at 180 degrees and more
    std::vector<std::size_t> azimuths;
  };
  void add_line(const Line& line, Eigen::MatrixXd& known) const;
  [[nodiscard]] std::vector<Half> make_halves() const;
  [[nodiscard]] Rows rows_over(const Ground& ground) const;
  void aim(const Half& half, Rows& rows) const;
  static void reflect(const Rows& rows, Polarised& down, Polarised& out);
  void add_near(const Rows& rows, double radius, const Polarised& down, Polarised& out) const;
  [[nodiscard]] FarField empty_field() const;
  void write(const Half& half, const Eigen::ArrayXd& square, int rows, FarField& out) const;

  const Lines& lines_;
  bool over_ground_;
  double elevation_step_deg_;
  std::size_t azimuths_, fine_;  ///< asked for; a multiple of it, enough for the power integral
  int circles_, parts_;          ///< parts: x, z and, outside the plane y = 0, y
  std::vector<Half> halves_;
  std::shared_ptr<const CirclePlan> plan_;
  /// By class of symmetry: row by (circle, part, re/im). A.
  std::array<Eigen::MatrixXd, 4> moments_;
};

}  // namespace skerry::antenna::mom
