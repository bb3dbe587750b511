#include "skerry/sun/events.hpp"

#include <cassert>
#include <cmath>

#include "skerry/core/units.hpp"
#include "skerry/sun/position.hpp"
#include "track.hpp"

namespace skerry::sun {

namespace {

// Source: US Naval Observatory, "Rise, Set, and Twilight Definitions": centre 50' below the horizon (34' mean
// refraction, 16' half the disk); civil, nautical, astronomical twilight end at 6, 12 and 18 deg below.
constexpr double rise_level_deg = -50.0 / 60.0;
constexpr double civil_level_deg = -6.0;
constexpr double nautical_level_deg = -12.0;
constexpr double astronomical_level_deg = -18.0;
// Source: the sunrise rule in common use, 2.08' per square root of a metre: dip of the sea horizon (1.93' by
// geometry) and the refraction of the longer way through the air. From memory.
constexpr double dip_deg_per_sqrt_m = 0.0347;

using std::chrono::seconds;

/// The moment near `guess` when the Sun's hour angle at lon_deg is target_deg (0: noon, 180: midnight).
UtcTime transit(double lon_deg, double target_deg, UtcTime guess) {
  // The hour angle runs 15 deg/h within 30 s a day: each pass shrinks the error by 3000; three end below a
  // second.
  for (int i = 0; i < 3; ++i) {
    const double off_deg = wrap_180(lon_deg - position(guess).subsolar.lon_deg - target_deg);
    guess -= seconds(std::lround(off_deg * 240.0));
  }
  return guess;
}

struct Pair {
  std::optional<UtcTime> rise, set;
};

/// Rising event: the last before noon; setting event: the first after it. Within a few degrees of a pole the
/// declination moves the Sun more than the Earth's turning, and the passage may come on the other side of
/// noon: it is taken then.
Pair choose(const Track& track, const std::vector<Root>& found, double noon_s) {
  Pair out;
  std::optional<double> rise_s, set_s;
  for (const Root& root : found) {
    if (root.rising && (root.s <= noon_s || !rise_s)) rise_s = root.s;
    if (!root.rising && (!set_s || *set_s <= noon_s)) set_s = root.s;
  }
  if (rise_s) out.rise = to_second(track, *rise_s);
  if (set_s) out.set = to_second(track, *set_s);
  return out;
}

}  // namespace

Day day(GeoPoint where, skerry::Day date, double height_m) {
  assert(height_m >= 0);
  const UtcTime mean_noon = start_of(date) + seconds(12 * 3600) - seconds(std::lround(where.lon_deg * 240.0));
  Day out;
  out.noon = transit(where.lon_deg, 0.0, mean_noon);
  const UtcTime before = transit(where.lon_deg, 180.0, out.noon - seconds(12 * 3600));
  const UtcTime after = transit(where.lon_deg, 180.0, out.noon + seconds(12 * 3600));

  const Track track(before, after);
  const Vector place = unit_vector(where.lat_deg, where.lon_deg);
  const double noon_s = static_cast<double>((out.noon - before).count());
  out.noon_elevation_deg = track.elevation_deg(place, noon_s);
  const auto samples = sample_elevations(track, place);
  const auto pair = [&](double level_deg) {
    return choose(track, roots(track, place, level_deg, samples), noon_s);
  };

  const double level_deg = rise_level_deg - dip_deg_per_sqrt_m * std::sqrt(height_m);
  const Pair horizon = pair(level_deg);
  out.rise = horizon.rise;
  out.set = horizon.set;
  if (!horizon.rise && !horizon.set) {
    out.state = out.noon_elevation_deg >= level_deg ? DayState::polar_day : DayState::polar_night;
  }
  const Pair civil = pair(civil_level_deg);
  out.civil_dawn = civil.rise;
  out.civil_dusk = civil.set;
  const Pair nautical = pair(nautical_level_deg);
  out.nautical_dawn = nautical.rise;
  out.nautical_dusk = nautical.set;
  const Pair astronomical = pair(astronomical_level_deg);
  out.astronomical_dawn = astronomical.rise;
  out.astronomical_dusk = astronomical.set;
  return out;
}

UtcTime last_seen(GeoPoint where, UtcTime noon, UtcTime sets,
                  const std::function<double(double azimuth_deg)>& skyline_deg) {
  constexpr double least_skyline_deg = 0.1, half_disk_deg = 16 / 60.0;
  const auto seen = [&](UtcTime when) {
    const double edge_deg = skyline_deg(azimuth_deg(where, when));
    if (edge_deg < least_skyline_deg) return true;
    const double refraction_deg = 1 / std::tan((edge_deg + 7.31 / (edge_deg + 4.4)) * rad_per_deg) / 60;
    return elevation_deg(where, when) > edge_deg - refraction_deg - half_disk_deg;
  };
  constexpr seconds step{60};
  for (UtcTime when = sets; when > noon; when -= step) {
    if (!seen(when)) continue;
    // Seen here and hidden a step later: to the second.
    UtcTime hidden = std::min(sets, when + step);
    if (when == sets) return sets;
    while (hidden - when > seconds{1}) {
      const UtcTime middle = when + (hidden - when) / 2;
      (seen(middle) ? when : hidden) = middle;
    }
    return when;
  }
  return noon;
}

}  // namespace skerry::sun
