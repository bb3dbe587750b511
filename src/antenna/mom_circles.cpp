#include "mom_circles.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mom_numbers.hpp"
#include "mom_turn.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna::mom {

namespace {

/// Segments begin..end-1 of a line: those whose rays at this azimuth meet the ground inside the round shore.
std::pair<std::size_t, std::size_t> near_segments(const Line& line, const Vec3& centre, double slant,
                                                  double azimuth_sine, double azimuth_cosine, double radius) {
  const double x = centre[0] + line.first[0] + (centre[2] + line.first[2]) * slant * azimuth_sine;
  const double y = centre[1] + line.first[1] + (centre[2] + line.first[2]) * slant * azimuth_cosine;
  const double dx = line.step[0] + line.step[2] * slant * azimuth_sine;
  const double dy = line.step[1] + line.step[2] * slant * azimuth_cosine;
  // The feet of a line's rays lie on a line; a disc cuts one piece out of it.
  const double a = dx * dx + dy * dy;
  const double c = x * x + y * y - radius * radius;
  if (a <= 1e-24) return {0, c <= 0 ? line.size() : 0};
  const double b = (x * dx + y * dy) / a;
  const double square = b * b - c / a;
  if (square < 0) return {0, 0};
  const double half = std::sqrt(square);
  const double last = static_cast<double>(line.size());
  // Rounded up, without the library's call: what is clamped is not negative.
  const auto up = [](double v) {
    const auto down = static_cast<std::size_t>(v);
    return down + (v > static_cast<double>(down) ? 1U : 0U);
  };
  const std::size_t begin = up(std::clamp(-b - half, 0.0, last));
  const auto end = static_cast<std::size_t>(std::clamp(-b + half + 1, 0.0, last));
  return {begin, std::max(begin, end)};
}

}  // namespace

/// A moment's two polarisations in all rows.
struct Circles::Polarised {
  Eigen::ArrayXd elevation_re, elevation_im, azimuth_re, azimuth_im;
  void square(Eigen::ArrayXd& out) const {
    out = elevation_re.square() + elevation_im.square() + azimuth_re.square() + azimuth_im.square();
  }
};

/// One azimuth's moments over all rows, and what the ground does to them in each.
struct Circles::Rows {
  using Array = Eigen::ArrayXd;
  Array sine, cosine;
  Array shift_re, shift_im;                                      ///< of the way down and up
  Array vertical_re, vertical_im, horizontal_re, horizontal_im;  ///< reflection, shift included
  Array up[6], down[6];                                          ///< x, z, y; re and im of each
  double azimuth_sine = 0, azimuth_cosine = 1;
  std::vector<int> mixed;     ///< rows in which a round shore cuts the rays in two
  std::vector<Fresnel> near;  ///< what the near ground reflects there, shift included, less the far ground

  /// Toward (turn = -1) or mirrored below (turn = 1) the elevations.
  void polarise(const Array* v, double turn, Polarised& out) const {
    out.elevation_re = cosine * v[2] + (v[0] * azimuth_sine + v[4] * azimuth_cosine) * (turn * sine);
    out.elevation_im = cosine * v[3] + (v[1] * azimuth_sine + v[5] * azimuth_cosine) * (turn * sine);
    out.azimuth_re = v[0] * azimuth_cosine - v[4] * azimuth_sine;
    out.azimuth_im = v[1] * azimuth_cosine - v[5] * azimuth_sine;
  }
  void set_reflection(Eigen::Index row, const Fresnel& f) {
    const Complex shift(shift_re[row], shift_im[row]);
    const Complex v = times(f.vertical, shift);
    const Complex h = times(f.horizontal, shift);
    vertical_re[row] = v.real();
    vertical_im[row] = v.imag();
    horizontal_re[row] = h.real();
    horizontal_im[row] = h.imag();
  }
};

Circles::Circles(const Lines& lines, bool over_ground, double elevation_step_deg, std::size_t azimuths)
    : lines_(lines),
      over_ground_(over_ground),
      elevation_step_deg_(elevation_step_deg),
      azimuths_(azimuths),
      parts_(lines.in_plane ? 2 : 3) {
  const double across = lines.half_width();
  // The trapezoid over azimuth is exact once it has more points than the pattern has turns.
  const auto around = static_cast<std::size_t>(std::ceil(2 * across + 14));
  fine_ = azimuths * ((around + azimuths - 1) / azimuths);
  if (fine_ % 2 != 0) fine_ *= 2;
  circles_ = static_cast<int>(lines.in_plane ? fine_ / 4 + 1 : fine_ / 2);
  const int panels = 2 + static_cast<int>(std::ceil((2 * across + lines.height(over_ground)) / 8));
  // J_m(x) < 1e-7 from m = x + 3.5 x^(1/3) + 7 on (Measured: x = 0.1 to 100).
  const double radius = lines.radius();
  const int samples = 8 * static_cast<int>(std::ceil((radius + 3.5 * std::cbrt(radius) + 8) / 4));
  plan_ = plan_for(samples, panels, elevation_step_deg);

  halves_ = make_halves();
  Eigen::MatrixXd known = Eigen::MatrixXd::Zero(samples, circles_ * parts_ * 2);
  for (const Line& line : lines.lines) add_line(line, known);
  const Eigen::Index n = samples;
  const Eigen::Index quarter = n / 4;
  const auto first = known.topRows(quarter);
  const auto mirrored = known.bottomRows(quarter).colwise().reverse();
  const auto across_zenith = known.middleRows(quarter, quarter).colwise().reverse();
  const auto opposite = known.middleRows(n / 2, quarter);
  for (std::size_t k = 0; k < symmetries.size(); ++k) {
    const double h = symmetries[k].horizon;
    const double z = symmetries[k].zenith;
    moments_[k].noalias() = plan_->interpolation[k] *
                            (0.25 * (first + h * mirrored + z * across_zenith + h * z * opposite)).eval();
  }
}

/// Adds a line's moments on all circles.
///   known  sample by (circle, part, re/im)
void Circles::add_line(const Line& line, Eigen::MatrixXd& known) const {
  using Eigen::Index;
  const Index samples = plan_->samples;
  const Index half = samples / 2;
  const Index quarter = samples / 4;
  // Toward (cos t sin a, cos t cos a, sin t) a phase is one part from the plane and one from the height: the
  // four quarters of a circle differ by conjugates. Toward the other half all phases are conjugate.
  std::vector<Complex> up_first(static_cast<std::size_t>(quarter)), up_step(up_first.size());
  std::vector<double> cosine(up_first.size()), sine(up_first.size());
  for (std::size_t i = 0; i < up_first.size(); ++i) {
    const double angle_deg = 360.0 * (static_cast<double>(i) + 0.5) / static_cast<double>(samples);
    cosine[i] = cos_deg(angle_deg);
    sine[i] = sin_deg(angle_deg);
    up_first[i] = turn(sine[i] * line.first[2]);
    up_step[i] = turn(sine[i] * line.step[2]);
  }
  const auto count = static_cast<std::size_t>(half * circles_);
  SumBuffers buffers(count);
  for (int c = 0; c < circles_; ++c) {
    const double azimuth_deg = 360.0 * c / static_cast<double>(fine_);
    const double s = sin_deg(azimuth_deg);
    const double co = cos_deg(azimuth_deg);
    const double across_first = s * line.first[0] + co * line.first[1];
    const double across_step = s * line.step[0] + co * line.step[1];
    for (Index i = 0; i < quarter; ++i) {
      const auto k = static_cast<std::size_t>(i);
      const Complex first = turn(cosine[k] * across_first);
      const Complex step = turn(cosine[k] * across_step);
      const auto here = static_cast<std::size_t>(c * half + i);
      const auto there = static_cast<std::size_t>(c * half + half - 1 - i);
      buffers.set(here, times(first, up_first[k]), times(step, up_step[k]),
                  cosine[k] * across_step + sine[k] * line.step[2]);
      buffers.set(there, times(std::conj(first), up_first[k]), times(std::conj(step), up_step[k]),
                  -cosine[k] * across_step + sine[k] * line.step[2]);
    }
  }
  std::vector<Complex> sums(count), opposite(count);
  sum_both_ways(line, buffers, sums, opposite);
  const std::array<std::size_t, 3> order{0, 2, 1};
  for (int part = 0; part < parts_; ++part) {
    const double step = line.step[nth(order, part)];
    if (step == 0) continue;
    for (int c = 0; c < circles_; ++c) {
      double* re = known.col((c * parts_ + part) * 2).data();
      double* im = known.col((c * parts_ + part) * 2 + 1).data();
      for (Index i = 0; i < half; ++i) {
        const auto k = static_cast<std::size_t>(c * half + i);
        re[i] += step * sums[k].real();
        im[i] += step * sums[k].imag();
        re[half + i] += step * opposite[k].real();
        im[half + i] += step * opposite[k].imag();
      }
    }
  }
}

Circles::Rows Circles::rows_over(const Ground& ground) const {
  const auto count = static_cast<Eigen::Index>(plan_->elevations_deg.size());
  Rows out;
  for (auto* a : {&out.shift_re, &out.shift_im, &out.vertical_re, &out.vertical_im, &out.horizontal_re,
                  &out.horizontal_im}) {
    a->resize(count);
  }
  for (auto& a : out.up) a.setZero(count);
  for (auto& a : out.down) a.setZero(count);
  out.sine = Eigen::Map<const Eigen::ArrayXd>(plan_->sine.data(), count);
  out.cosine = Eigen::Map<const Eigen::ArrayXd>(plan_->cosine.data(), count);
  for (Eigen::Index r = 0; over_ground_ && r < count; ++r) {
    // Phases are counted from the antenna's middle, the reflection happens on the plane z = 0.
    const Complex shift = turn(-2 * out.sine[r] * lines_.centre[2]);
    out.shift_re[r] = shift.real();
    out.shift_im[r] = shift.imag();
    out.set_reflection(r, fresnel(ground, nth(plan_->elevations_deg, r), lines_.mhz));
  }
  return out;
}

void Circles::aim(const Half& half, Rows& rows) const {
  const double side = half.other ? -1 : 1;
  for (int part = 0; part < parts_ * 2; ++part) {
    const Eigen::Index column = half.circle * parts_ * 2 + part;
    const auto even = moments_[0].col(column).array() + side * moments_[1].col(column).array();
    const auto odd = moments_[2].col(column).array() + side * moments_[3].col(column).array();
    rows.up[part] = even + odd;
    rows.down[part] = even - odd;
  }
  const double azimuth_deg = 360.0 * half.circle / static_cast<double>(fine_);
  rows.azimuth_sine = side * sin_deg(azimuth_deg);
  rows.azimuth_cosine = side * cos_deg(azimuth_deg);
}

/// The field in all rows, up and by way of the ground.
///   source  Fresnel reflection of each current's two polarisations: Balanis, "Antenna Theory", section 4.8
void Circles::reflect(const Rows& rows, Polarised& down, Polarised& out) {
  rows.polarise(rows.up, -1, out);
  rows.polarise(rows.down, 1, down);
  out.elevation_re += rows.vertical_re * down.elevation_re - rows.vertical_im * down.elevation_im;
  out.elevation_im += rows.vertical_re * down.elevation_im + rows.vertical_im * down.elevation_re;
  out.azimuth_re += rows.horizontal_re * down.azimuth_re - rows.horizontal_im * down.azimuth_im;
  out.azimuth_im += rows.horizontal_re * down.azimuth_im + rows.horizontal_im * down.azimuth_re;
}

/// In the mixed rows: what the near ground reflects, in place of the far one.
///   down  all currents' moments toward the mirrored elevations
void Circles::add_near(const Rows& rows, double radius, const Polarised& down, Polarised& out) const {
  const double s = rows.azimuth_sine;
  const double c = rows.azimuth_cosine;
  std::vector<std::pair<std::size_t, std::size_t>> near(lines_.lines.size());
  for (std::size_t m = 0; m < rows.mixed.size(); ++m) {
    const int r = rows.mixed[m];
    const double slant = rows.cosine[r] / rows.sine[r];
    std::size_t within = 0;
    std::size_t all = 0;
    for (std::size_t k = 0; k < near.size(); ++k) {
      const Line& line = lines_.lines[k];
      near[k] = near_segments(line, lines_.centre, slant, s, c, radius);
      within += near[k].second - near[k].first;
      all += line.size();
    }
    if (within == 0) continue;
    // What is fewer is summed: the near segments, or the others, which are taken from all.
    const bool others = 2 * within > all;
    const Vec3 to{rows.cosine[r] * s, rows.cosine[r] * c, -rows.sine[r]};
    Complex upright = 0;
    Complex flat = 0;
    for (std::size_t k = 0; k < near.size(); ++k) {
      const Line& line = lines_.lines[k];
      const auto [begin, end] = near[k];
      const Complex sum =
          others ? line.sum(to, 0, begin) + line.sum(to, end, line.size()) : line.sum(to, begin, end);
      upright += sum * (rows.cosine[r] * line.step[2] + rows.sine[r] * (line.step[0] * s + line.step[1] * c));
      flat += sum * (line.step[0] * c - line.step[1] * s);
    }
    if (others) {
      upright = Complex(down.elevation_re[r], down.elevation_im[r]) - upright;
      flat = Complex(down.azimuth_re[r], down.azimuth_im[r]) - flat;
    }
    const Complex v = times(rows.near[m].vertical, upright);
    const Complex h = times(rows.near[m].horizontal, flat);
    out.elevation_re[r] += v.real();
    out.elevation_im[r] += v.imag();
    out.azimuth_re[r] += h.real();
    out.azimuth_im[r] += h.imag();
  }
}

std::vector<Circles::Half> Circles::make_halves() const {
  std::vector<Half> out;
  for (int c = 0; c < circles_; ++c) {
    out.push_back({c, false, {}});
    out.push_back({c, true, {}});
  }
  const std::size_t half = fine_ / 2;
  for (std::size_t a = 0; a < fine_; ++a) {
    // What lies in the plane y = 0 looks alike from the azimuths a and 180 - a.
    const std::size_t like = lines_.in_plane && a % half > fine_ / 4 ? (half + fine_ - a) % fine_ : a;
    out[2 * (like % half) + (like >= half ? 1 : 0)].azimuths.push_back(a);
  }
  std::erase_if(out, [](const Half& h) { return h.azimuths.empty(); });
  return out;
}

FarField Circles::empty_field() const {
  FarField out;
  out.elevation_step_deg = elevation_step_deg_;
  out.azimuth_step_deg = 360.0 / static_cast<double>(azimuths_);
  out.gain_dbi.resize(static_cast<std::size_t>(plan_->grid_rows) * azimuths_);
  return out;
}

void Circles::write(const Half& half, const Eigen::ArrayXd& square, int rows, FarField& out) const {
  const std::size_t stride = fine_ / azimuths_;
  const auto wanted = [stride](std::size_t a) { return a % stride == 0; };
  if (std::none_of(half.azimuths.begin(), half.azimuths.end(), wanted)) return;
  const Eigen::ArrayXd db =
      (square.head(rows) * (eta0_ohm / (4 * pi))).max(least_gain).log() * (10 / std::numbers::ln10);
  for (const std::size_t a : half.azimuths) {
    if (!wanted(a)) continue;
    for (int r = 0; r < rows; ++r)
      out.gain_dbi[static_cast<std::size_t>(r) * azimuths_ + a / stride] =
          static_cast<float>(std::max(db[r], least_gain_dbi));
  }
}

FarField Circles::level(const Ground& ground) const {
  FarField out = empty_field();
  Rows rows = rows_over(ground);
  const auto points = static_cast<Eigen::Index>(plan_->weights.size());
  const Eigen::Map<const Eigen::ArrayXd> weights(plan_->weights.data(), points);
  Polarised field, down;
  Rows::Array square;
  for (const Half& half : halves_) {
    aim(half, rows);
    if (over_ground_) {
      reflect(rows, down, field);
    } else {
      rows.polarise(rows.up, -1, field);
    }
    field.square(square);
    double power = (square.tail(points) * weights).sum();
    write(half, square, plan_->grid_rows, out);
    if (!over_ground_) {
      rows.polarise(rows.down, 1, down);
      down.square(square);
      power += (square.tail(points) * weights).sum();
    }
    out.radiated_w += power * static_cast<double>(half.azimuths.size());
  }
  out.radiated_w *= eta0_ohm / (4 * pi) / static_cast<double>(fine_);
  return out;
}

FarField Circles::round_shore(const Ground& ground, const Foreground& shore, const FarField& level) const {
  FarField out = level;
  Rows rows = rows_over(shore.beyond);
  int last = -1;
  for (int r = 0; r < plan_->grid_rows; ++r) {
    // Where the nearest and the furthest ray's foot can be.
    const double slant = r == 0 ? 1e30 : rows.cosine[r] / rows.sine[r];
    if (lines_.high_m[2] * slant + lines_.reach_m() <= shore.from_m) break;
    last = r;
    if (lines_.low_m[2] * slant - lines_.reach_m() > shore.from_m) continue;
    const Fresnel near = fresnel(ground, nth(plan_->elevations_deg, r), lines_.mhz);
    const Complex shift(rows.shift_re[r], rows.shift_im[r]);
    rows.mixed.push_back(r);
    rows.near.push_back(
        {times(near.vertical, shift) - Complex(rows.vertical_re[r], rows.vertical_im[r]),
         times(near.horizontal, shift) - Complex(rows.horizontal_re[r], rows.horizontal_im[r])});
  }
  const double radius = lines_.k0 * shore.from_m;
  const std::size_t stride = fine_ / azimuths_;
  Polarised field, down;
  Rows::Array square;
  for (const Half& half : halves_) {
    const auto wanted = [stride](std::size_t a) { return a % stride == 0; };
    if (std::none_of(half.azimuths.begin(), half.azimuths.end(), wanted)) continue;
    aim(half, rows);
    reflect(rows, down, field);
    add_near(rows, radius, down, field);
    field.square(square);
    write(half, square, last + 1, out);
  }
  return out;
}

}  // namespace skerry::antenna::mom
