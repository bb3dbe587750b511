#include "skerry/circuit/day_parts.hpp"

#include <cmath>

#include "check.hpp"

using namespace skerry;
using circuit::day_parts;

namespace {

/// A day of three frequencies, days in ten by hour.
circuit::WayAnswer way_of(const std::array<std::array<double, 3>, 24>& days) {
  circuit::WayAnswer way;
  for (const auto& hour : days) {
    auto& h = way.hours.emplace_back();
    for (const double d : hour) h.bands.emplace_back().days_in_ten = d;
  }
  return way;
}

}  // namespace

TEST_CASE("a low band by night, a high one by day, and the change-over between them", "[circuit][known]") {
  std::array<std::array<double, 3>, 24> days{};
  for (std::size_t h = 0; h < 24; ++h) {
    const bool night = h < 6 || h >= 18;
    days[h] = {night ? 6.0 : 0.0, night ? 3.0 : 4.0, night ? 0.0 : 7.0};
  }
  const auto parts = day_parts(way_of(days));
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].start_h == 5.5);
  CHECK(parts[0].end_h == 17.5);
  CHECK(parts[0].primary == std::size_t{2});
  CHECK(parts[0].fallback == std::size_t{1});
  CHECK(parts[1].start_h == 17.5);
  CHECK(parts[1].end_h == 29.5);
  CHECK(parts[1].primary == std::size_t{0});
  CHECK(parts[1].fallback == std::size_t{1});
  CHECK(parts[1].primary_least == 6);
  CHECK(parts[1].fallback_most == 3);
}

TEST_CASE("nobody retunes for an hour of one day in ten more", "[circuit][known]") {
  std::array<std::array<double, 3>, 24> days{};
  for (auto& hour : days) hour = {5, 2, 0};
  days[12] = {5, 6, 0};
  const auto steady = day_parts(way_of(days));
  REQUIRE(steady.size() == 1);
  CHECK(steady[0].primary == std::size_t{0});
  CHECK(steady[0].end_h - steady[0].start_h == 24);
  // Where the band is closed for that hour there is no choice.
  days[12] = {0.2, 6, 0};
  const auto forced = day_parts(way_of(days));
  REQUIRE(forced.size() == 2);
  CHECK(forced[0].primary == std::size_t{1});
  CHECK(forced[0].end_h - forced[0].start_h == 1);
}

TEST_CASE("closed hours and lonely bands are told as such", "[circuit][edge]") {
  std::array<std::array<double, 3>, 24> days{};
  const auto shut = day_parts(way_of(days));
  REQUIRE(shut.size() == 1);
  CHECK_FALSE(shut[0].primary.has_value());
  CHECK_FALSE(shut[0].fallback.has_value());
  days[3] = {0, 2, 0};
  const auto one = day_parts(way_of(days));
  REQUIRE(one.size() == 2);
  CHECK(one[0].primary == std::size_t{1});
  CHECK_FALSE(one[0].fallback.has_value());
  CHECK(one[0].start_h == 2.5);
  CHECK(one[0].end_h == 3.5);
}

TEST_CASE("primary and fallback are never equal, the primary is open, and the day is covered once",
          "[circuit][property]") {
  circuit::PathQuestion q;
  q.climate.day = Day{std::chrono::year{2027}, std::chrono::month{2}, std::chrono::day{15}};
  q.climate.r12 = ionosphere::R12(60);
  q.mode = *noise::find_mode("cw", {});
  for (const auto& band : noise::bands(1)) {
    if (band.mhz > 2 && band.mhz < 30) q.frequencies.push_back({band.id, band.mhz});
  }
  const GeoPoint places[] = {GeoPoint::at_deg(-19.7, 63.4), GeoPoint::at_deg(59.5, -1.6),
                             GeoPoint::at_deg(32.7, -16.9), GeoPoint::at_deg(-31.5, 159.1),
                             GeoPoint::at_deg(41.3, -72.9)};
  int changes = 0;
  for (const auto& from : places) {
    for (const auto& to : places) {
      if (geodesy::distance_km(from, to) < 100) continue;
      q.from.at = from;
      q.to.at = to;
      q.from.power_w = 100;
      const auto answer = circuit::answer(q);
      const auto parts = day_parts(answer.ways.front());
      double hours = 0;
      for (std::size_t i = 0; i < parts.size(); ++i) {
        const auto& p = parts[i];
        hours += p.end_h - p.start_h;
        const auto& next = parts[(i + 1) % parts.size()];
        CHECK(std::fmod(p.end_h + 0.5, 24) == std::fmod(next.start_h + 0.5, 24));
        if (parts.size() > 1) CHECK(p.primary != next.primary);
        if (p.fallback) {
          CHECK(p.primary.has_value());
          CHECK(p.primary != p.fallback);
        }
        for (double t = p.start_h + 0.5; p.primary && t < p.end_h; t += 1) {
          const auto& bands = answer.ways.front().hours[static_cast<std::size_t>(t) % 24].bands;
          CHECK(bands[*p.primary].days_in_ten >= circuit::least_open_days_told);
        }
      }
      CHECK(hours == 24);
      changes += static_cast<int>(parts.size()) - 1;
    }
  }
  CHECK(changes > 20);
}
