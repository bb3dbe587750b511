// Traced rays beside the circuit method. SKERRY_PRINT_TABLES=1 prints the figures of docs/rays.md.
#include "skerry/circuit/traced.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>

#include "check.hpp"
#include "skerry/core/nth.hpp"

using namespace skerry;
using namespace skerry::circuit;

namespace {

ionosphere::Climate climate(double r12) {
  ionosphere::Climate out;
  out.day = *parse_day("2027-03-15", {});
  out.r12 = ionosphere::R12(r12);
  return out;
}

/// Two ways of one hop: out of the north into the Mediterranean, out of an Indian Ocean island to the north-west.
geodesy::Path way(int which, double km) {
  const GeoPoint from = which == 0 ? GeoPoint{59.53, -1.63} : GeoPoint{-19.70, 63.43};
  return geodesy::make_path(from, geodesy::destination(from, which == 0 ? 138 : 320, km),
                            geodesy::Way::short_way);
}

double median(std::vector<double> all) {
  std::nth_element(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2), all.end());
  return all[all.size() / 2];
}
double rms(const std::vector<double>& all, double about) {
  double sum = 0;
  for (const double x : all) sum += (x - about) * (x - about);
  return std::sqrt(sum / static_cast<double>(all.size()));
}
void tell(const std::string& line) {
  if (std::getenv("SKERRY_PRINT_TABLES") != nullptr) std::cout << line << '\n';
}

/// The circuit method's own MUF of one hop, MHz.
double one_hop_mhz(const Circuits& circuits, std::size_t path, int hour) {
  double most = 0;
  const auto passage = circuits.passage(path, hour, 5);
  for (const auto& m : passage.in_use()) {
    if (m.hops == 1) most = std::max(most, m.basic_muf_mhz);
  }
  return most;
}

}  // namespace

TEST_CASE("traced MUFs of one hop are those of the circuit method", "[circuit][rays][known]") {
  // ITU-R P.533's formula for the MUF over any distance against rays through layers made of the same three numbers: that
  // they meet over 3000 km is M(3000)'s definition; that they meet over 1000 and 2000 km is not.
  for (const int which : {0, 1}) {
    for (const double km : {1000., 2000., 3000.}) {
      const auto path = way(which, km);
      const Circuits circuits(std::array{path}, climate(100));
      const auto along = rays::along(path, climate(100), 1500);
      std::vector<double> ratios;
      for (int hour = 0; hour < 24; hour += 2)
        ratios.push_back(rays::muf_mhz(rays::slice(along, hour), km) / one_hop_mhz(circuits, 0, hour));
      const double middle = median(ratios);
      tell(fmt::format("MUF, way {}, {:4.0f} km: median {:.3f}, rms about it {:.1f} %, {:.3f} to {:.3f}",
                       which, km, middle, 100 * rms(ratios, middle),
                       *std::min_element(ratios.begin(), ratios.end()),
                       *std::max_element(ratios.begin(), ratios.end())));
      CAPTURE(which, km);
      CHECK_THAT(middle, WithinAbs(1, 0.07));
      CHECK(rms(ratios, middle) < 0.06);
    }
  }
}

TEST_CASE("traced skip distances are those of the circuit method", "[circuit][rays][known]") {
  std::vector<double> off_km;
  constexpr double step_km = 25;
  for (const int which : {0, 1}) {
    std::vector<geodesy::Path> paths;
    for (double km = 200; km <= 3000; km += step_km) paths.push_back(way(which, km));
    const Circuits circuits(paths, climate(100));
    const auto along = rays::along(paths.back(), climate(100), 2000);
    std::vector<double> own_off;
    for (int hour = 0; hour < 24; hour += 2) {
      for (const double mhz : {7.1, 10.12, 14.1, 18.1, 21.2}) {
        std::optional<double> own;
        for (std::size_t i = 0; i < paths.size() && !own; ++i) {
          if (one_hop_mhz(circuits, i, hour) >= mhz) own = paths[i].distance_km;
        }
        const auto traced = rays::fan(rays::slice(along, hour), mhz, 4500).skip;
        if (own && *own > 250 && traced) own_off.push_back(traced->km - (*own - step_km / 2));
      }
    }
    std::vector<double> size;
    for (const double x : own_off) size.push_back(std::abs(x));
    tell(fmt::format(
        "skip, way {}: {} cases, median of traced less own {:+.0f} km, of its size {:.0f} km, rms {:.0f} km, worst {:.0f} km",
        which, own_off.size(), median(own_off), median(size), rms(own_off, 0),
        *std::max_element(size.begin(), size.end())));
    CAPTURE(which);
    CHECK(own_off.size() > 20);
    CHECK(median(size) < 60);
  }
}

TEST_CASE("a mirror's angle and those of rays, over 3000 km", "[circuit][rays][expectation]") {
  // Printed for docs/rays.md. What must hold: both ends of a way between day and night differ, and by day hardly.
  double most_apart = 0;
  std::vector<double> off;
  for (const int which : {0, 1}) {
    const auto path = way(which, 3000);
    const Circuits circuits(std::array{path}, climate(100));
    const Tracer tracer(path, climate(100));
    for (int hour = 0; hour < 24; ++hour) {
      const double mhz = std::min(0.85 * one_hop_mhz(circuits, 0, hour), 29.0);
      const auto passage = circuits.passage(0, hour, mhz);
      const auto traced = tracer.modes(passage, hour);
      for (const auto& m : passage.in_use()) {
        const auto* ray = traced.find(m);
        if (m.hops != 1 || ray == nullptr) continue;
        tell(fmt::format(
            "take-off, way {}, {:02} UTC, {:4.1f} MHz: mirror {:4.1f}, traced {:4.1f} here and {:4.1f} there",
            which, hour, mhz, m.elevation_deg, ray->from_deg, ray->to_deg));
        most_apart = std::max(most_apart, std::abs(ray->from_deg - ray->to_deg));
        off.push_back((ray->from_deg + ray->to_deg) / 2 - m.elevation_deg);
      }
    }
  }
  REQUIRE(off.size() > 24);
  tell(fmt::format("take-off: mean of both ends less mirror, median {:+.1f}; ends apart by {:.1f} at most",
                   median(off), most_apart));
  CHECK(most_apart > 2);
  CHECK_THAT(median(off), WithinAbs(0, 4));
}

TEST_CASE("both ends see one way: angles swapped", "[circuit][rays][property]") {
  const auto there = way(0, 3000);
  const auto back = geodesy::make_path(there.to, there.from, geodesy::Way::short_way);
  const Circuits circuits(std::array{there, back}, climate(100));
  const Tracer tracer(there, climate(100)), returner(back, climate(100));
  for (const int hour : {6, 12, 18}) {
    const auto a = tracer.modes(circuits.passage(0, hour, 14.1), hour);
    const auto b = returner.modes(circuits.passage(1, hour, 14.1), hour);
    REQUIRE(a.count > 0);
    for (int i = 0; i < a.count; ++i) {
      const auto& one = nth(a.modes, i);
      Mode same;
      same.layer = one.layer;
      same.hops = one.hops;
      const auto* other = b.find(same);
      CAPTURE(hour, one.hops);
      REQUIRE(other != nullptr);
      // The places where the sky is known are counted from either end, 100 km apart.
      CHECK_THAT(other->from_deg, WithinAbs(one.to_deg, 0.3));
      CHECK_THAT(other->to_deg, WithinAbs(one.from_deg, 0.3));
    }
  }
}

TEST_CASE("traced angles move the antennas' gains and nothing else", "[circuit][rays][property]") {
  const auto path = way(0, 3000);
  const Circuits circuits(std::array{path}, climate(100));
  const auto passage = circuits.passage(0, 18, 14.1);
  Station home;
  home.home = true;
  const auto as_mirror = level(passage, path, home, home);
  TracedModes traced;
  for (const auto& m : passage.in_use())
    nth(traced.modes, traced.count++) = {m.layer, m.hops, m.elevation_deg, m.elevation_deg};
  CHECK(level(passage, path, home, home, &traced).modes_dbw == as_mirror.modes_dbw);
  traced.modes[0].to_deg = 2;
  traced.count = 1;
  const auto moved = level(passage, path, home, home, &traced);
  const HomeAntenna antenna(14.1);
  CHECK_THAT(moved.mode_dbw[0] - as_mirror.mode_dbw[0],
             WithinAbs(antenna.gain_dbi(2) - antenna.gain_dbi(passage.modes[0].elevation_deg), 1e-9));
  for (std::size_t k = 1; k < passage.in_use().size(); ++k) CHECK(moved.mode_dbw[k] == as_mirror.mode_dbw[k]);
}

TEST_CASE("a fan answers for its ends", "[circuit][rays][property]") {
  PathQuestion q;
  q.from.at = {-19.70, 63.43};
  q.to.at = {45.5, 9.5};
  q.climate = climate(60);
  q.frequencies = {{"20m", 14.1}};
  const auto a = fan_answer(q, 18, 0);
  REQUIRE(a.best);
  for (const auto& r : a.arriving) {
    CHECK_THAT(r.ray.ground_km, WithinAbs(a.path.distance_km, 1));
    CHECK_THAT(r.line.back().at_km, WithinAbs(r.ray.ground_km, 1e-9));
  }
  REQUIRE(a.skip);
  for (const auto& r : a.fan)
    CHECK((r.ray.ending != rays::Ending::landed || r.ray.ground_km > a.skip->km - 0.01));
  CHECK_FALSE(a.traced_muf_mhz);  // further than one hop
  // The skyline hides what leaves below it.
  const Circuits circuits(std::array{a.path}, q.climate);
  const Tracer behind(a.path, q.climate, {{.deg = 12}, {}});
  const auto modes = behind.modes(circuits.passage(0, 18, 14.1), 18);
  for (int i = 0; i < modes.count; ++i) CHECK(nth(modes.modes, i).from_deg >= 12);
}
