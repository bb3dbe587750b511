#include "track.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

#include "skerry/core/nth.hpp"
#include "skerry/sun/position.hpp"

namespace skerry::sun {

namespace {

constexpr double knot_s = 3600.0;
constexpr double sample_s = 600.0;
// In 10 minutes the Sun turns 2.5 deg; next to an extremum it climbs at most 2.5^2/2 deg * (pi/180) = 0.055
// deg. Judgement: twice that, so that an extremum between two samples is never passed over.
constexpr double near_extremum_deg = 0.11;
constexpr double root_s = 1e-4;

/// Illinois variant of the false-position rule on a bracket; elevation is close to linear there.
double solve(const Track& track, const Vector& place, double level_deg, double a, double fa, double b,
             double fb) {
  for (int i = 0; i < 60 && b - a > root_s; ++i) {
    const double m = fa == fb ? 0.5 * (a + b) : std::clamp(b - fb * (b - a) / (fb - fa), a, b);
    const double fm = track.elevation_deg(place, m) - level_deg;
    if (std::abs(fm) < 1e-9) return m;
    if ((fm >= 0) == (fb >= 0)) {
      b = m;
      fb = fm;
      fa *= 0.5;
    } else {
      a = m;
      fa = fm;
      fb *= 0.5;
    }
  }
  return 0.5 * (a + b);
}

/// Time of the highest (sign +1) or lowest (sign -1) Sun between a and b, by golden section.
double extremum(const Track& track, const Vector& place, double sign, double a, double b) {
  constexpr double golden = 0.6180339887498949;
  double p = b - golden * (b - a);
  double q = a + golden * (b - a);
  double fp = sign * track.elevation_deg(place, p);
  double fq = sign * track.elevation_deg(place, q);
  while (b - a > 0.05) {
    if (fp < fq) {
      a = std::exchange(p, q);
      fp = fq;
      q = a + golden * (b - a);
      fq = sign * track.elevation_deg(place, q);
    } else {
      b = std::exchange(q, p);
      fq = fp;
      p = b - golden * (b - a);
      fp = sign * track.elevation_deg(place, p);
    }
  }
  return 0.5 * (a + b);
}

}  // namespace

Vector unit_vector(double lat_deg, double lon_deg) {
  const double c = cos_deg(lat_deg);
  return {c * cos_deg(lon_deg), c * sin_deg(lon_deg), sin_deg(lat_deg)};
}

Track::Track(UtcTime from, UtcTime to) : from_(from), length_s_(static_cast<double>((to - from).count())) {
  assert(to >= from);
  const auto count = static_cast<std::size_t>(length_s_ / knot_s) + 3;
  knots_.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double hours = static_cast<double>(i) - 1.0;  // one knot before the start
    const Position sun = position(from + std::chrono::hours(static_cast<long>(i)) - std::chrono::hours(1));
    double lag = sun.subsolar.lon_deg + 15.0 * hours;
    if (!knots_.empty()) lag = knots_.back().lag_deg + wrap_180(lag - knots_.back().lag_deg);
    knots_.push_back({sun.declination_deg, lag});
  }
}

Vector Track::direction(double s) const {
  const double x = s / knot_s + 1.0;
  const double last = static_cast<double>(knots_.size() - 2);
  const double i = std::clamp(std::floor(x), 0.0, last);
  const Knot& a = nth(knots_, i);
  const Knot& b = knots_[static_cast<std::size_t>(i) + 1];
  const double t = x - i;
  return unit_vector(a.declination_deg + t * (b.declination_deg - a.declination_deg),
                     a.lag_deg + t * (b.lag_deg - a.lag_deg) - 15.0 * s / 3600.0);
}

std::vector<double> sample_elevations(const Track& track, const Vector& place) {
  const auto steps = static_cast<std::size_t>(std::ceil(track.length_s() / sample_s));
  std::vector<double> out(steps + 1);
  for (std::size_t i = 0; i <= steps; ++i) {
    out[i] = track.elevation_deg(place, std::min(sample_s * static_cast<double>(i), track.length_s()));
  }
  return out;
}

std::vector<Root> roots(const Track& track, const Vector& place, double level_deg,
                        const std::vector<double>& samples) {
  std::vector<Root> out;
  const auto time_of = [&](std::size_t i) {
    return std::min(sample_s * static_cast<double>(i), track.length_s());
  };
  // One step at a time; "above" includes the level itself, so that a root on a sample is counted once.
  const auto between = [&](double a, double fa, double b, double fb) {
    if ((fa >= 0) != (fb >= 0)) out.push_back({solve(track, place, level_deg, a, fa, b, fb), fb >= 0});
  };
  for (std::size_t i = 0; i + 1 < samples.size(); ++i) {
    const double fa = samples[i] - level_deg;
    const double fb = samples[i + 1] - level_deg;
    const double a = time_of(i);
    const double b = time_of(i + 1);
    if ((fa >= 0) == (fb >= 0) && std::min(std::abs(fa), std::abs(fb)) < near_extremum_deg) {
      // Both on the same side and close: look for an excursion across the level inside this step.
      const double m = extremum(track, place, fa >= 0 ? -1.0 : 1.0, a, b);
      const double fm = track.elevation_deg(place, m) - level_deg;
      between(a, fa, m, fm);
      between(m, fm, b, fb);
    } else {
      between(a, fa, b, fb);
    }
  }
  return out;
}

std::vector<Root> roots(const Track& track, const Vector& place, double level_deg) {
  return roots(track, place, level_deg, sample_elevations(track, place));
}

}  // namespace skerry::sun
