#include "mom_rays.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mom_geometry.hpp"
#include "mom_numbers.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna::mom {

Rays::Row::Row(std::size_t n)
    : up_x(n),
      up_y(n),
      up_z(n),
      down_x(n),
      down_y(n),
      down_z(n),
      down_sine(n),
      down_cosine(n),
      ground_sine(n),
      ground_cosine(n),
      near(n),
      beyond(n),
      shift(n),
      hidden(n) {}

Rays::Rays(const Lines& lines, const Ground& ground, const Foreground* foreground, std::size_t azimuths)
    : lines_(lines),
      ground_(ground),
      foreground_(foreground),
      row_(azimuths),
      sums_(azimuths),
      up_(azimuths),
      down_(azimuths),
      n_elevation_(azimuths),
      n_azimuth_(azimuths),
      gain_(azimuths) {
  for (std::size_t i = 0; i < azimuths; ++i) {
    const double a = 2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(azimuths);
    az_sine_.push_back(std::sin(a));
    az_cosine_.push_back(std::cos(a));
  }
}

bool Rays::all_near(double elevation_deg) const {
  if (foreground_->slope_deg != 0 || elevation_deg <= 0) return false;
  return lines_.reach_m() + lines_.high_m[2] / tan_deg(elevation_deg) < foreground_->from_m;
}

std::span<const double> Rays::gain(double elevation_deg) {
  aim(elevation_deg);
  const double sine = sin_deg(elevation_deg);
  const double cosine = cos_deg(elevation_deg);
  const bool reflects = ground_.kind != GroundKind::free_space;
  std::fill(n_elevation_.begin(), n_elevation_.end(), Complex(0));
  std::fill(n_azimuth_.begin(), n_azimuth_.end(), Complex(0));
  for (const Line& g : lines_.lines) {
    sum_toward(g, row_.up_x, row_.up_y, row_.up_z, sums_, up_);
    if (reflects && (foreground_ == nullptr || foreground_->slope_deg == 0) && g.level) {
      const double turn = -2 * sine * g.first[2];
      const Complex c(std::cos(turn), std::sin(turn));
      for (std::size_t a = 0; a < az_sine_.size(); ++a) down_[a] = times(up_[a], c);
    } else if (reflects) {
      sum_toward(g, row_.down_x, row_.down_y, row_.down_z, sums_, down_);
    }
    for (std::size_t a = 0; a < az_sine_.size(); ++a) {
      const double radial = g.step[0] * az_sine_[a] + g.step[1] * az_cosine_[a];
      const double tangential = g.step[0] * az_cosine_[a] - g.step[1] * az_sine_[a];
      n_elevation_[a] += up_[a] * (cosine * g.step[2] - sine * radial);
      n_azimuth_[a] += up_[a] * tangential;
      if (!reflects) continue;
      Complex by_vertical, by_horizontal;
      if (foreground_ == nullptr) {
        by_vertical = times(row_.near[a].vertical, down_[a]);
        by_horizontal = times(row_.near[a].horizontal, down_[a]);
      } else {
        const bool first = meets_beyond(g, 0, a);
        const bool last = meets_beyond(g, g.size() - 1, a);
        // Inside a round shore the middle of a line may be nearer than both its ends.
        const bool mixed =
            first != last || (first && foreground_->all_round && g.size() > 2 && !middle_beyond(g, a));
        const Complex far = mixed ? beyond_part(g, a) : (first ? down_[a] : Complex(0));
        const Complex here = down_[a] - far;
        by_vertical = times(row_.near[a].vertical, here) + times(row_.beyond[a].vertical, far);
        by_horizontal = times(row_.near[a].horizontal, here) + times(row_.beyond[a].horizontal, far);
      }
      n_elevation_[a] +=
          times(by_vertical, row_.shift[a]) * (row_.down_cosine[a] * g.step[2] + row_.down_sine[a] * radial);
      n_azimuth_[a] += times(by_horizontal, row_.shift[a]) * tangential;
    }
  }
  for (std::size_t a = 0; a < az_sine_.size(); ++a) {
    const double sum = std::norm(n_elevation_[a]) + std::norm(n_azimuth_[a]);
    gain_[a] = row_.hidden[a] ? 0.0 : eta0_ohm / (4 * std::numbers::pi) * sum;
  }
  return gain_;
}

void Rays::aim(double elevation_deg) {
  const Fresnel level = fresnel(ground_, elevation_deg, lines_.mhz);
  const double sine = sin_deg(elevation_deg);
  const double cosine = cos_deg(elevation_deg);
  for (std::size_t a = 0; a < az_sine_.size(); ++a) {
    row_.up_x[a] = cosine * az_sine_[a];
    row_.up_y[a] = cosine * az_cosine_[a];
    row_.up_z[a] = sine;
    double down_deg = elevation_deg;
    row_.near[a] = level;
    row_.hidden[a] = false;
    if (foreground_ != nullptr) {
      // Across the slope it is level: its fall along this azimuth.
      const double along = foreground_->all_round ? 1.0
                                                  : az_cosine_[a] * cos_deg(foreground_->azimuth_deg) +
                                                        az_sine_[a] * sin_deg(foreground_->azimuth_deg);
      const double fall_deg = std::atan(tan_deg(foreground_->slope_deg) * along) * deg_per_rad;
      const double to_ground_deg = elevation_deg + fall_deg;
      row_.hidden[a] = to_ground_deg < 0;
      row_.near[a] = fresnel(ground_, std::clamp(to_ground_deg, 0.0, 90.0), lines_.mhz);
      row_.beyond[a] = fresnel(foreground_->beyond, std::clamp(to_ground_deg, 0.0, 90.0), lines_.mhz);
      row_.ground_sine[a] = sin_deg(std::max(to_ground_deg, 0.0));
      row_.ground_cosine[a] = cos_deg(to_ground_deg);
      down_deg = elevation_deg + 2 * fall_deg;
    }
    row_.down_sine[a] = sin_deg(down_deg);
    row_.down_cosine[a] = cos_deg(down_deg);
    row_.down_x[a] = row_.down_cosine[a] * az_sine_[a];
    row_.down_y[a] = row_.down_cosine[a] * az_cosine_[a];
    row_.down_z[a] = -row_.down_sine[a];
    // Phases are counted from the antenna's middle, the reflection happens on a plane through the origin.
    const double turn = (row_.down_x[a] - row_.up_x[a]) * lines_.centre[0] +
                        (row_.down_y[a] - row_.up_y[a]) * lines_.centre[1] +
                        (row_.down_z[a] - row_.up_z[a]) * lines_.centre[2];
    row_.shift[a] = Complex(std::cos(turn), std::sin(turn));
  }
}

/// Of a line's sum down toward one azimuth, the segments whose rays meet the ground beyond the shore.
Complex Rays::beyond_part(const Line& g, std::size_t a) const {
  const double start =
      row_.down_x[a] * g.first[0] + row_.down_y[a] * g.first[1] + row_.down_z[a] * g.first[2];
  const double p = row_.down_x[a] * g.step[0] + row_.down_y[a] * g.step[1] + row_.down_z[a] * g.step[2];
  const double even = g.even_at(p);
  const double odd = g.odd_at(p);
  Complex sum = 0;
  for (std::size_t s = 0; s < g.size(); ++s) {
    if (!meets_beyond(g, s, a)) continue;
    const double phase = start + static_cast<double>(s) * p;
    sum += times(even * g.even[s] + Complex(0, odd) * g.odd[s], Complex(std::cos(phase), std::sin(phase)));
  }
  return sum;
}

/// With both ends beyond a round shore: is every ray's foot on the line between beyond it too?
bool Rays::middle_beyond(const Line& g, std::size_t a) const {
  if (row_.ground_sine[a] <= 1e-9) return true;
  const double slant = row_.ground_cosine[a] / row_.ground_sine[a];
  const Vec3 at = plus(lines_.centre, g.first);
  const double x = at[0] + at[2] * slant * az_sine_[a];
  const double y = at[1] + at[2] * slant * az_cosine_[a];
  const double dx = g.step[0] + g.step[2] * slant * az_sine_[a];
  const double dy = g.step[1] + g.step[2] * slant * az_cosine_[a];
  const double length2 = dx * dx + dy * dy;
  if (length2 <= 0) return true;
  const double s = std::clamp(-(x * dx + y * dy) / length2, 0.0, static_cast<double>(g.size() - 1));
  return std::hypot(x + s * dx, y + s * dy) > lines_.k0 * foreground_->from_m;
}

/// Does the ray down from this segment of the line meet the ground beyond the shore?
bool Rays::meets_beyond(const Line& g, std::size_t segment, std::size_t a) const {
  const Vec3 at = plus(plus(lines_.centre, g.first), scaled(g.step, static_cast<double>(segment)));
  const double shore_x = sin_deg(foreground_->azimuth_deg);
  const double shore_y = cos_deg(foreground_->azimuth_deg);
  if (foreground_->all_round) {
    // The ray's foot lies outside the circle; a ray along the ground always ends there.
    const double reach =
        row_.ground_sine[a] > 1e-9 ? at[2] * row_.ground_cosine[a] / row_.ground_sine[a] : 1e9;
    return std::hypot(at[0] + reach * az_sine_[a], at[1] + reach * az_cosine_[a]) >
           lines_.k0 * foreground_->from_m;
  }
  const double along = az_sine_[a] * shore_x + az_cosine_[a] * shore_y;
  // Beyond when position + distance * direction passes the line; distance = height/tan(angle), multiplied
  // out.
  const double missing = lines_.k0 * foreground_->from_m - (at[0] * shore_x + at[1] * shore_y);
  return at[2] * row_.ground_cosine[a] * along > missing * row_.ground_sine[a];
}

}  // namespace skerry::antenna::mom
