#include "skerry/sun/greyline.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/core/units.hpp"
#include "skerry/sun/events.hpp"
#include "skerry/sun/position.hpp"

using namespace std::chrono;
using skerry::GeoPoint;
using skerry::UtcTime;
using skerry::geodesy::make_path;
using skerry::geodesy::Way;
namespace sun = skerry::sun;

namespace {
UtcTime utc(int y, unsigned m, unsigned d, int h = 0, int min = 0) {
  return sys_days{year{y} / month{m} / std::chrono::day{d}} + hours{h} + minutes{min};
}
double minutes_of(seconds s) {
  return static_cast<double>(s.count()) / 60.0;
}
}  // namespace

TEST_CASE("a place has two twilight windows a day, as wide as geometry says", "[sun][known]") {
  // Width = 10 deg/(15 deg/h * cos(lat) * |sin(azimuth)|): 40 min at the equator, 62 min at 50 N, at the
  // equinox (spherical astronomy; a minute for the bend of the Sun's path across 10 deg).
  for (const auto& [lat, want_min] : {std::pair{0.0, 40.0}, std::pair{50.0, 62.5}}) {
    const auto windows = sun::twilight_windows({lat, 0}, utc(2027, 3, 20), utc(2027, 3, 21));
    REQUIRE(windows.size() == 2);
    CHECK(windows[0].rising);
    CHECK_FALSE(windows[1].rising);
    CHECK_THAT(minutes_of(windows[0].end - windows[0].start), WithinAbs(want_min, 1.0));
    CHECK_THAT(minutes_of(windows[1].end - windows[1].start), WithinAbs(want_min, 1.0));
  }
}

TEST_CASE("near the poles a twilight may last all day or never come", "[sun][edge]") {
  const UtcTime from = utc(2027, 3, 14);
  const UtcTime to = utc(2027, 3, 16);
  const auto pole = sun::twilight_windows({90, 0}, from, to);
  REQUIRE(pole.size() == 1);
  CHECK(pole[0].start == from);
  CHECK(pole[0].end == to);
  CHECK(pole[0].rising);
  CHECK(sun::twilight_windows({90, 0}, utc(2027, 12, 20), utc(2027, 12, 24)).empty());
  // Fair Isle at midsummer: the Sun goes down to 7 deg only; one window from evening to morning.
  const auto simmer = sun::twilight_windows({59.53, -1.63}, utc(2027, 6, 21, 12), utc(2027, 6, 22, 12));
  REQUIRE(simmer.size() == 1);
  CHECK_FALSE(simmer[0].rising);
  CHECK(sun::twilight_windows({0, 0}, to, from).empty());
}

TEST_CASE("windows and elevations agree minute by minute", "[sun][property]") {
  std::mt19937 rng(3);
  std::uniform_real_distribution<double> lat(-90, 90);
  std::uniform_real_distribution<double> lon(-180, 180);
  for (int i = 0; i < 40; ++i) {
    const GeoPoint where{lat(rng), lon(rng)};
    const UtcTime from = utc(2027, 1 + i % 12, 3);
    const auto windows = sun::twilight_windows(where, from, from + hours{48});
    for (int m = 0; m < 2880; m += 7) {
      const UtcTime t = from + minutes{m};
      const double e = sun::elevation_deg(where, t);
      if (std::min(std::abs(e - sun::twilight_low_deg), std::abs(e - sun::twilight_high_deg)) < 0.005)
        continue;
      const bool inside = std::any_of(windows.begin(), windows.end(),
                                      [&](const auto& w) { return w.start <= t && t <= w.end; });
      CAPTURE(where.lat_deg, where.lon_deg, skerry::to_iso(t), e);
      CHECK(inside == (e > sun::twilight_low_deg && e < sun::twilight_high_deg));
    }
  }
}

TEST_CASE("at the equinox two places on one meridian share their sunrise", "[sun][known]") {
  const auto path = make_path({-20, 30}, {35, 30}, Way::short_way);
  const auto windows = sun::grey_windows(path, utc(2027, 3, 20), utc(2027, 3, 21));
  // The terminator lies along the meridian: double, and the path along it; sunrise at both ends, then sunset
  // at both.
  int along = 0;
  for (const auto& w : windows) {
    if (w.kind != sun::GreyKind::along) continue;
    ++along;
    CHECK(w.from_in_band);
    CHECK(w.to_in_band);
    CHECK(w.rising_from == w.rising_to);
    CHECK(w.path_to_terminator_deg < 5.0);
    CHECK(minutes_of(w.end - w.start) > 35.0);
  }
  CHECK(along == 2);
}

TEST_CASE("sunrise at one antipode is sunset at the other", "[sun][known]") {
  const auto path = make_path({10, 20}, {-10, -160.5}, Way::short_way);
  int both = 0;
  for (const auto& w : sun::grey_windows(path, utc(2027, 3, 20), utc(2027, 3, 21))) {
    if (w.kind == sun::GreyKind::single_end) continue;
    ++both;
    CHECK(w.rising_from != w.rising_to);
    // Elevations are opposite: both lie in -9..+1 only while both are in -1..+1: 8 min of 2 deg, give or take
    // the 2 min of the half degree that the place is off the exact antipode.
    CHECK_THAT(minutes_of(w.end - w.start), WithinAbs(8.1, 2.5));
  }
  CHECK(both == 2);
}

TEST_CASE("a path from twilight into day is no grey line, into night it is a single end", "[sun][edge]") {
  // 19:00 at 0 E at the equinox is dark; west of it 18:00 local is dusk, east of it night.
  const UtcTime from = utc(2027, 3, 20, 17, 50);
  const UtcTime to = utc(2027, 3, 20, 18, 50);
  const auto into_night = sun::grey_windows(make_path({0, 0}, {0, 60}, Way::short_way), from, to);
  REQUIRE_FALSE(into_night.empty());
  for (const auto& w : into_night) {
    CHECK(w.kind == sun::GreyKind::single_end);
    CHECK(w.from_in_band);
    CHECK_FALSE(w.to_in_band);
    CHECK_FALSE(w.rising_from);
    CHECK(w.path_to_terminator_deg > 85.0);  // straight across
  }
  CHECK(sun::grey_windows(make_path({0, 0}, {0, -60}, Way::short_way), from, to).empty());
}

TEST_CASE("grey windows do not overlap, keep their order and mirror when the path is turned round",
          "[sun][property]") {
  std::mt19937 rng(4);
  std::uniform_real_distribution<double> lat(-80, 80);
  std::uniform_real_distribution<double> lon(-180, 180);
  for (int i = 0; i < 40; ++i) {
    const GeoPoint a = GeoPoint::at_deg(lat(rng), lon(rng));
    const GeoPoint b = GeoPoint::at_deg(lat(rng), lon(rng));
    const Way way = i % 2 == 0 ? Way::short_way : Way::long_way;
    const UtcTime from = utc(2027, 1 + i % 12, 9);
    const auto out = sun::grey_windows(make_path(a, b, way), from, from + hours{48});
    const auto back = sun::grey_windows(make_path(b, a, way), from, from + hours{48});
    CAPTURE(a.lat_deg, a.lon_deg, b.lat_deg, b.lon_deg, i);
    REQUIRE(out.size() == back.size());
    for (std::size_t k = 0; k < out.size(); ++k) {
      CHECK(out[k].start < out[k].end);
      if (k > 0) CHECK(out[k - 1].end <= out[k].start);
      CHECK(out[k].start == back[k].start);
      CHECK(out[k].kind == back[k].kind);
      CHECK(out[k].from_in_band == back[k].to_in_band);
      CHECK(out[k].rising_from == back[k].rising_to);
      CHECK(out[k].path_to_terminator_deg >= 0.0);
      CHECK(out[k].path_to_terminator_deg <= 90.0);
      CHECK_THAT(out[k].path_to_terminator_deg, WithinAbs(back[k].path_to_terminator_deg, 1e-6));
      CHECK(out[k].from_in_band + out[k].to_in_band == (out[k].kind == sun::GreyKind::single_end ? 1 : 2));
    }
  }
}

TEST_CASE("on the terminator the Sun stands at the horizon", "[sun][property]") {
  for (int i = 0; i < 24; ++i) {
    const UtcTime when = utc(2026, 1 + static_cast<unsigned>(i) % 12, 11, i);
    for (const double depression : {0.0, 0.833, 6.0, 18.0, -3.0}) {
      const auto ring = sun::terminator(when, depression, 36);
      REQUIRE(ring.size() == 36);
      for (const GeoPoint& p : ring) {
        CHECK_THAT(sun::elevation_deg(p, when), WithinAbs(-depression, 1e-6));  // rounding
        CHECK(std::abs(p.lat_deg) <= 90.0);
        CHECK(p.lon_deg > -180.0);
        CHECK(p.lon_deg <= 180.0);
      }
    }
  }
  // Its most northern point lies at 90 - |declination| (spherical geometry).
  const auto ring = sun::terminator(utc(2027, 6, 21, 12), 0.0, 360);
  double north = -90;
  for (const GeoPoint& p : ring) north = std::max(north, p.lat_deg);
  CHECK_THAT(north, WithinAbs(90.0 - 23.436, 0.02));
}
