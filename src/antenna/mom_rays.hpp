// The far field by rays, one direction after the other: for ground that falls, or a shore in one direction.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <span>
#include <vector>

#include "mom_lines.hpp"

namespace skerry::antenna::mom {

class Rays {
 public:
  /// Toward `azimuths` even steps of azimuth; without a foreground over level ground.
  Rays(const Lines& lines, const Ground& ground, const Foreground* foreground, std::size_t azimuths);

  /// Linear power gain toward all azimuths; valid until the next call.
  ///   source  Fresnel reflection of each current's two polarisations: Balanis, "Antenna Theory", section 4.8
  [[nodiscard]] std::span<const double> gain(double elevation_deg);

  /// At this elevation every ray down ends on the near ground, and that is level.
  [[nodiscard]] bool all_near(double elevation_deg) const;

 private:
  /// One elevation toward all azimuths: the way up, and the way down that the ground turns into it.
  struct Row {
    std::vector<double> up_x, up_y, up_z, down_x, down_y, down_z, down_sine, down_cosine;
    std::vector<double> ground_sine, ground_cosine;  ///< of the angle to the ground's own plane
    std::vector<Fresnel> near, beyond;
    std::vector<Complex> shift;
    std::vector<char> hidden;
    explicit Row(std::size_t n);
  };
  void aim(double elevation_deg);
  [[nodiscard]] Complex beyond_part(const Line& line, std::size_t a) const;
  [[nodiscard]] bool middle_beyond(const Line& line, std::size_t a) const;
  [[nodiscard]] bool meets_beyond(const Line& line, std::size_t segment, std::size_t a) const;

  const Lines& lines_;
  const Ground& ground_;
  const Foreground* foreground_;
  std::vector<double> az_sine_, az_cosine_;  ///< east and north part of the horizontal direction
  Row row_;
  SumBuffers sums_;
  std::vector<Complex> up_, down_, n_elevation_, n_azimuth_;
  std::vector<double> gain_;
};

}  // namespace skerry::antenna::mom
