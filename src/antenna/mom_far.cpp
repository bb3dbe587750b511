#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <vector>

#include "mom_geometry.hpp"
#include "mom_kernel.hpp"
#include "mom_numbers.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

using mom::Complex;
using mom::times;

constexpr double pi = std::numbers::pi;
/// Equal segments in one line: their phases toward any direction are a geometric series.
struct Group {
  Vec3 first{};                    ///< middle of the first segment, units of 1/k0
  Vec3 step{};                     ///< from one middle to the next
  std::vector<Complex> even, odd;  ///< (from + to)/2, (to - from)/2
  // Integral of the shape over one segment against cos and sin of the phase across it, as series in that
  // phase.
  double even0 = 0, even2 = 0, even4 = 0, odd1 = 0, odd3 = 0;
  bool level = false;
};

std::vector<Group> make_groups(const Solution& solution, double k0, const Vec3& centre) {
  std::vector<Group> groups;
  Vec3 last_to{};
  for (const SegmentCurrent& c : solution.currents) {
    const Vec3 step = mom::scaled(mom::minus(c.to_m, c.from_m), k0);
    const bool goes_on = !groups.empty() && mom::distance(last_to, c.from_m) * k0 < 1e-9 &&
                         mom::distance(step, groups.back().step) < 1e-9;
    if (!goes_on) {
      Group g;
      const Vec3 middle = mom::scaled(mom::plus(c.from_m, c.to_m), 0.5);
      g.first = mom::scaled(mom::minus(middle, centre), k0);
      g.step = step;
      const double length = std::sqrt(mom::dot(step, step));
      g.level = std::abs(step[2]) < 1e-12 * length;
      const mom::Shape shape(length);
      // Simpson on 64 steps: the integrands are polynomials of degree 7.
      constexpr int steps = 64;
      for (int i = 0; i <= steps; ++i) {
        const double b = 1.0 * i / steps;
        const double t = b - 0.5;
        const double w = (i == 0 || i == steps ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0)) / (3.0 * steps);
        const double sum = w * (shape.value(b) + shape.value(1 - b));
        const double difference = w * (shape.value(b) - shape.value(1 - b));
        g.even0 += sum;
        g.even2 -= sum * t * t / 2;
        g.even4 += sum * t * t * t * t / 24;
        g.odd1 += difference * t;
        g.odd3 -= difference * t * t * t / 6;
      }
      groups.push_back(std::move(g));
    }
    groups.back().even.push_back(0.5 * (c.from_a + c.to_a));
    groups.back().odd.push_back(0.5 * (c.to_a - c.from_a));
    last_to = c.to_m;
  }
  return groups;
}

struct Azimuths {
  std::vector<double> sine, cosine;  ///< east and north part of the horizontal direction
  explicit Azimuths(std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) {
      const double a = 2 * pi * static_cast<double>(i) / static_cast<double>(count);
      sine.push_back(std::sin(a));
      cosine.push_back(std::cos(a));
    }
  }
  [[nodiscard]] std::size_t size() const { return sine.size(); }
};

/// One elevation toward all azimuths: the way up, and the way down that the ground turns into it.
struct Row {
  std::vector<double> up_x, up_y, up_z, down_x, down_y, down_z, down_sine, down_cosine;
  std::vector<double> ground_sine, ground_cosine;  ///< of the angle to the ground's own plane
  std::vector<Fresnel> near, beyond;
  std::vector<Complex> shift;
  std::vector<char> hidden;
  explicit Row(std::size_t n)
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
};

struct Buffers {
  std::vector<double> phase_re, phase_im, step_re, step_im, even_re, even_im, odd_re, odd_im, gain;
  std::vector<Complex> up, down, n_elevation, n_azimuth;
  explicit Buffers(std::size_t n)
      : phase_re(n),
        phase_im(n),
        step_re(n),
        step_im(n),
        even_re(n),
        even_im(n),
        odd_re(n),
        odd_im(n),
        gain(n),
        up(n),
        down(n),
        n_elevation(n),
        n_azimuth(n) {}
};

/// Sum over a group of current times phase, toward all directions of a row. Ampere; times |step| it is a
/// moment.
void group_sum(const Group& g, const std::vector<double>& ex, const std::vector<double>& ey,
               const std::vector<double>& ez, Buffers& b, std::vector<Complex>& out) {
  const std::size_t count = ex.size();
  for (std::size_t a = 0; a < count; ++a) {
    const double start = ex[a] * g.first[0] + ey[a] * g.first[1] + ez[a] * g.first[2];
    const double step = ex[a] * g.step[0] + ey[a] * g.step[1] + ez[a] * g.step[2];
    b.phase_re[a] = std::cos(start);
    b.phase_im[a] = std::sin(start);
    b.step_re[a] = std::cos(step);
    b.step_im[a] = std::sin(step);
    b.even_re[a] = b.even_im[a] = b.odd_re[a] = b.odd_im[a] = 0;
  }
  for (std::size_t s = 0; s < g.even.size(); ++s) {
    const double er = g.even[s].real();
    const double ei = g.even[s].imag();
    const double dr = g.odd[s].real();
    const double di = g.odd[s].imag();
    for (std::size_t a = 0; a < count; ++a) {
      const double re = b.phase_re[a];
      const double im = b.phase_im[a];
      b.even_re[a] += er * re - ei * im;
      b.even_im[a] += er * im + ei * re;
      b.odd_re[a] += dr * re - di * im;
      b.odd_im[a] += dr * im + di * re;
      b.phase_re[a] = re * b.step_re[a] - im * b.step_im[a];
      b.phase_im[a] = re * b.step_im[a] + im * b.step_re[a];
    }
  }
  for (std::size_t a = 0; a < count; ++a) {
    const double p = ex[a] * g.step[0] + ey[a] * g.step[1] + ez[a] * g.step[2];
    const double p2 = p * p;
    const double even = g.even0 + p2 * (g.even2 + p2 * g.even4);
    const double odd = p * (g.odd1 + p2 * g.odd3);
    out[a] = Complex(even * b.even_re[a] - odd * b.odd_im[a], even * b.even_im[a] + odd * b.odd_re[a]);
  }
}

class Field {
 public:
  Field(const Solution& solution, const Ground& ground, const Foreground* foreground)
      : ground_(ground), foreground_(foreground), mhz_(solution.mhz), k0_(mom::wave_number(solution.mhz)) {
    low_ = high_ = solution.currents.front().from_m;
    for (const SegmentCurrent& c : solution.currents) {
      for (std::size_t k = 0; k < 3; ++k) {
        low_[k] = std::min({low_[k], c.from_m[k], c.to_m[k]});
        high_[k] = std::max({high_[k], c.from_m[k], c.to_m[k]});
      }
    }
    const Vec3 centre_m = mom::scaled(mom::plus(low_, high_), 0.5);
    centre_ = mom::scaled(centre_m, k0_);
    groups_ = make_groups(solution, k0_, centre_m);
  }

  /// Half the largest width, and the height the ground doubles; units of 1/k0.
  [[nodiscard]] double half_width() const {
    return 0.5 * k0_ * std::hypot(high_[0] - low_[0], high_[1] - low_[1]);
  }
  [[nodiscard]] double height() const {
    return k0_ * (ground_.kind == GroundKind::free_space ? high_[2] - low_[2] : 2 * high_[2]);
  }

  /// At this elevation every ray down ends on the near ground, and that is level.
  [[nodiscard]] bool all_near(double elevation_deg) const {
    if (foreground_->slope_deg != 0 || elevation_deg <= 0) return false;
    const double out_m = std::max({std::hypot(low_[0], low_[1]), std::hypot(low_[0], high_[1]),
                                   std::hypot(high_[0], low_[1]), std::hypot(high_[0], high_[1])});
    return out_m + high_[2] / tan_deg(elevation_deg) < foreground_->from_m;
  }

  /// Linear power gain toward all azimuths at one elevation, into b.gain.
  ///   source  Fresnel reflection of each current's two polarisations: Balanis, "Antenna Theory", section 4.8
  void gain(const Azimuths& az, double elevation_deg, Row& row, Buffers& b) const {
    aim(az, elevation_deg, row);
    const double sine = sin_deg(elevation_deg);
    const double cosine = cos_deg(elevation_deg);
    const bool reflects = ground_.kind != GroundKind::free_space;
    std::fill(b.n_elevation.begin(), b.n_elevation.end(), Complex(0));
    std::fill(b.n_azimuth.begin(), b.n_azimuth.end(), Complex(0));
    for (const Group& g : groups_) {
      group_sum(g, row.up_x, row.up_y, row.up_z, b, b.up);
      if (reflects && (foreground_ == nullptr || foreground_->slope_deg == 0) && g.level) {
        const double turn = -2 * sine * g.first[2];
        const Complex c(std::cos(turn), std::sin(turn));
        for (std::size_t a = 0; a < az.size(); ++a) b.down[a] = times(b.up[a], c);
      } else if (reflects) {
        group_sum(g, row.down_x, row.down_y, row.down_z, b, b.down);
      }
      for (std::size_t a = 0; a < az.size(); ++a) {
        const double radial = g.step[0] * az.sine[a] + g.step[1] * az.cosine[a];
        const double tangential = g.step[0] * az.cosine[a] - g.step[1] * az.sine[a];
        b.n_elevation[a] += b.up[a] * (cosine * g.step[2] - sine * radial);
        b.n_azimuth[a] += b.up[a] * tangential;
        if (!reflects) continue;
        Complex by_vertical, by_horizontal;
        if (foreground_ == nullptr) {
          by_vertical = times(row.near[a].vertical, b.down[a]);
          by_horizontal = times(row.near[a].horizontal, b.down[a]);
        } else {
          const bool first = meets_beyond(g, 0, az, a, row);
          const bool last = meets_beyond(g, g.even.size() - 1, az, a, row);
          // Inside a round shore the middle of a line may be nearer than both its ends.
          const bool mixed = first != last || (first && foreground_->all_round && g.even.size() > 2 &&
                                               !middle_beyond(g, az, a, row));
          const Complex far = mixed ? beyond_part(g, az, a, row) : (first ? b.down[a] : Complex(0));
          const Complex here = b.down[a] - far;
          by_vertical = times(row.near[a].vertical, here) + times(row.beyond[a].vertical, far);
          by_horizontal = times(row.near[a].horizontal, here) + times(row.beyond[a].horizontal, far);
        }
        b.n_elevation[a] +=
            times(by_vertical, row.shift[a]) * (row.down_cosine[a] * g.step[2] + row.down_sine[a] * radial);
        b.n_azimuth[a] += times(by_horizontal, row.shift[a]) * tangential;
      }
    }
    for (std::size_t a = 0; a < az.size(); ++a) {
      const double sum = std::norm(b.n_elevation[a]) + std::norm(b.n_azimuth[a]);
      b.gain[a] = row.hidden[a] ? 0.0 : mom::eta0_ohm / (4 * pi) * sum;
    }
  }

 private:
  void aim(const Azimuths& az, double elevation_deg, Row& row) const {
    const Fresnel level = fresnel(ground_, elevation_deg, mhz_);
    const double sine = sin_deg(elevation_deg);
    const double cosine = cos_deg(elevation_deg);
    for (std::size_t a = 0; a < az.size(); ++a) {
      row.up_x[a] = cosine * az.sine[a];
      row.up_y[a] = cosine * az.cosine[a];
      row.up_z[a] = sine;
      double down_deg = elevation_deg;
      row.near[a] = level;
      row.hidden[a] = false;
      if (foreground_ != nullptr) {
        // Across the slope it is level: its fall along this azimuth.
        const double along = foreground_->all_round ? 1.0
                                                    : az.cosine[a] * cos_deg(foreground_->azimuth_deg) +
                                                          az.sine[a] * sin_deg(foreground_->azimuth_deg);
        const double fall_deg = std::atan(tan_deg(foreground_->slope_deg) * along) * deg_per_rad;
        const double to_ground_deg = elevation_deg + fall_deg;
        row.hidden[a] = to_ground_deg < 0;
        row.near[a] = fresnel(ground_, std::clamp(to_ground_deg, 0.0, 90.0), mhz_);
        row.beyond[a] = fresnel(foreground_->beyond, std::clamp(to_ground_deg, 0.0, 90.0), mhz_);
        row.ground_sine[a] = sin_deg(std::max(to_ground_deg, 0.0));
        row.ground_cosine[a] = cos_deg(to_ground_deg);
        down_deg = elevation_deg + 2 * fall_deg;
      }
      row.down_sine[a] = sin_deg(down_deg);
      row.down_cosine[a] = cos_deg(down_deg);
      row.down_x[a] = row.down_cosine[a] * az.sine[a];
      row.down_y[a] = row.down_cosine[a] * az.cosine[a];
      row.down_z[a] = -row.down_sine[a];
      // Phases are counted from the antenna's middle, the reflection happens on a plane through the origin.
      const double turn = (row.down_x[a] - row.up_x[a]) * centre_[0] +
                          (row.down_y[a] - row.up_y[a]) * centre_[1] +
                          (row.down_z[a] - row.up_z[a]) * centre_[2];
      row.shift[a] = Complex(std::cos(turn), std::sin(turn));
    }
  }

  /// Of a line's sum down toward one azimuth, the segments whose rays meet the ground beyond the shore.
  [[nodiscard]] Complex beyond_part(const Group& g, const Azimuths& az, std::size_t a, const Row& row) const {
    const double start = row.down_x[a] * g.first[0] + row.down_y[a] * g.first[1] + row.down_z[a] * g.first[2];
    const double p = row.down_x[a] * g.step[0] + row.down_y[a] * g.step[1] + row.down_z[a] * g.step[2];
    const double p2 = p * p;
    const double even = g.even0 + p2 * (g.even2 + p2 * g.even4);
    const double odd = p * (g.odd1 + p2 * g.odd3);
    Complex sum = 0;
    for (std::size_t s = 0; s < g.even.size(); ++s) {
      if (!meets_beyond(g, s, az, a, row)) continue;
      const double phase = start + static_cast<double>(s) * p;
      sum += times(even * g.even[s] + Complex(0, odd) * g.odd[s], Complex(std::cos(phase), std::sin(phase)));
    }
    return sum;
  }

  /// With both ends beyond a round shore: is every ray's foot on the line between beyond it too?
  [[nodiscard]] bool middle_beyond(const Group& g, const Azimuths& az, std::size_t a, const Row& row) const {
    if (row.ground_sine[a] <= 1e-9) return true;
    const double slant = row.ground_cosine[a] / row.ground_sine[a];
    const Vec3 at = mom::plus(centre_, g.first);
    const double x = at[0] + at[2] * slant * az.sine[a];
    const double y = at[1] + at[2] * slant * az.cosine[a];
    const double dx = g.step[0] + g.step[2] * slant * az.sine[a];
    const double dy = g.step[1] + g.step[2] * slant * az.cosine[a];
    const double length2 = dx * dx + dy * dy;
    if (length2 <= 0) return true;
    const double s = std::clamp(-(x * dx + y * dy) / length2, 0.0, static_cast<double>(g.even.size() - 1));
    return std::hypot(x + s * dx, y + s * dy) > k0_ * foreground_->from_m;
  }

  /// Does the ray down from this segment of the line meet the ground beyond the shore?
  [[nodiscard]] bool meets_beyond(const Group& g, std::size_t segment, const Azimuths& az, std::size_t a,
                                  const Row& row) const {
    const Vec3 at = mom::plus(mom::plus(centre_, g.first), mom::scaled(g.step, static_cast<double>(segment)));
    const double shore_x = sin_deg(foreground_->azimuth_deg);
    const double shore_y = cos_deg(foreground_->azimuth_deg);
    if (foreground_->all_round) {
      // The ray's foot lies outside the circle; a ray along the ground always ends there.
      const double reach =
          row.ground_sine[a] > 1e-9 ? at[2] * row.ground_cosine[a] / row.ground_sine[a] : 1e9;
      return std::hypot(at[0] + reach * az.sine[a], at[1] + reach * az.cosine[a]) > k0_ * foreground_->from_m;
    }
    const double along = az.sine[a] * shore_x + az.cosine[a] * shore_y;
    // Beyond when position + distance * direction passes the line; distance = height/tan(angle), multiplied
    // out.
    const double missing = k0_ * foreground_->from_m - (at[0] * shore_x + at[1] * shore_y);
    return at[2] * row.ground_cosine[a] * along > missing * row.ground_sine[a];
  }

  const Ground& ground_;
  const Foreground* foreground_;
  double mhz_, k0_;
  Vec3 low_{}, high_{}, centre_{};
  std::vector<Group> groups_;
};

FarField compute(const Solution& solution, const Ground& ground, const Foreground* foreground,
                 double elevation_step_deg, double azimuth_step_deg, const FarField* level = nullptr) {
  assert(elevation_step_deg > 0 && azimuth_step_deg > 0 && !solution.currents.empty());
  FarField out;
  out.elevation_step_deg = elevation_step_deg;
  out.azimuth_step_deg = azimuth_step_deg;
  const Field field(solution, ground, foreground);
  const int elevations = static_cast<int>(std::lround(90 / elevation_step_deg)) + 1;
  const auto azimuths = static_cast<std::size_t>(std::lround(360 / azimuth_step_deg));
  {
    const Azimuths az(azimuths);
    Row row(azimuths);
    Buffers buffers(azimuths);
    out.gain_dbi.reserve(static_cast<std::size_t>(elevations) * azimuths);
    for (int e = 0; e < elevations; ++e) {
      if (level != nullptr && field.all_near(e * elevation_step_deg)) {
        const auto from =
            level->gain_dbi.begin() + static_cast<std::ptrdiff_t>(e * static_cast<int>(azimuths));
        out.gain_dbi.insert(out.gain_dbi.end(), from, from + static_cast<std::ptrdiff_t>(azimuths));
        continue;
      }
      field.gain(az, e * elevation_step_deg, row, buffers);
      for (const double g : buffers.gain) {
        out.gain_dbi.push_back(static_cast<float>(g > 1e-10 ? std::max(to_db(g), -99.0) : -99.0));
      }
    }
  }
  if (level != nullptr) {
    out.radiated_w = level->radiated_w;
    out.ground_loss_w = level->ground_loss_w;
    return out;
  }
  // Power: half the integral of the mean gain over sin(elevation). Azimuth: the trapezoid is exact once it
  // has more points than the pattern has turns; elevation: sin = t^2, dense at the horizon where vertical
  // gain over ground changes fast.
  const double across = field.half_width();
  const auto around = static_cast<std::size_t>(std::ceil(2 * across + 14));
  const int panels = 2 + static_cast<int>(std::ceil((2 * across + field.height()) / 8));
  const Azimuths az(around);
  Row row(around);
  Buffers buffers(around);
  for (int panel = 0; panel < panels; ++panel) {
    for (std::size_t i = 0; i < mom::gauss8.at.size(); ++i) {
      const double t = (panel + mom::gauss8.at[i]) / panels;
      const double elevation_deg = asin_deg(t * t);
      const double weight = mom::gauss8.weight[i] / panels * t / static_cast<double>(around);
      field.gain(az, elevation_deg, row, buffers);
      for (const double g : buffers.gain) out.radiated_w += weight * g;
      if (ground.kind == GroundKind::free_space) {
        field.gain(az, -elevation_deg, row, buffers);
        for (const double g : buffers.gain) out.radiated_w += weight * g;
      }
    }
  }
  if (ground.kind == GroundKind::real) {
    out.ground_loss_w = 1 - out.radiated_w - solution.wire_loss_w - solution.load_loss_w;
  }
  return out;
}

}  // namespace

FarField far_field(const Solution& solution, const Ground& ground, double elevation_step_deg,
                   double azimuth_step_deg) {
  return compute(solution, ground, nullptr, elevation_step_deg, azimuth_step_deg);
}

FarField far_field(const Solution& solution, const Ground& ground, const Foreground& foreground,
                   double elevation_step_deg, double azimuth_step_deg, const FarField* level) {
  assert(level == nullptr || level->gain_dbi.size() ==
                                 static_cast<std::size_t>(std::lround((90 / elevation_step_deg + 1) *
                                                                      std::lround(360 / azimuth_step_deg))));
  assert(foreground.from_m >= 0 && std::abs(foreground.slope_deg) <= 30);
  assert(ground.kind != GroundKind::free_space && foreground.beyond.kind != GroundKind::free_space);
  return compute(solution, ground, &foreground, elevation_step_deg, azimuth_step_deg, level);
}

double energy_defect_w(const Solution& solution, const FarField& field, const Ground& ground) {
  return 1 - field.radiated_w - solution.wire_loss_w - solution.load_loss_w -
         ground_absorption_w(solution, ground);
}

}  // namespace skerry::antenna
