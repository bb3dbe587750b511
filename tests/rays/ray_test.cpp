#include "skerry/rays/ray.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;
using namespace skerry::rays;

namespace {

constexpr double everywhere_km = 20000;

struct Closed {
  double ground_km, group_km;
};
/// Croft and Hoogasian, Radio Science 3 (1968), equations for a quasi-parabolic layer over a round Earth (from memory; held
/// against a sum over 400 000 slices below).
std::optional<Closed> quasi_parabolic(double critical_mhz, double peak_km, double half_km, double mhz,
                                      double deg) {
  const double r0 = earth_radius_km, rm = r0 + peak_km, rb = rm - half_km, beta = deg * rad_per_deg;
  const double f = mhz / critical_mhz;
  const double a = 1 - 1 / (f * f) + std::pow(rb / (f * half_km), 2);
  const double b = -2 * rm * rb * rb / std::pow(f * half_km, 2);
  const double c = std::pow(rb * rm / (f * half_km), 2) - std::pow(r0 * std::cos(beta), 2);
  if (b * b - 4 * a * c < 0) return std::nullopt;
  const double gamma = std::acos(r0 / rb * std::cos(beta));
  const double inner = std::sin(gamma) + std::sqrt(c) / rb + b / (2 * std::sqrt(c));
  const double ground =
      2 * r0 *
      (gamma - beta -
       r0 * std::cos(beta) / (2 * std::sqrt(c)) * std::log((b * b - 4 * a * c) / (4 * c * inner * inner)));
  const double low = 2 * a * rb + b + 2 * rb * std::sqrt(a) * std::sin(gamma);
  const double group =
      2 *
      (rb * std::sin(gamma) - r0 * std::sin(beta) +
       (-rb * std::sin(gamma) - b / (4 * std::sqrt(a)) * std::log((b * b - 4 * a * c) / (low * low))) / a);
  return Closed{ground, group};
}

/// The same by a sum over thin slices: 2 r0 cos(beta) times the integral of r0 / (r sqrt(n^2 r^2 - r0^2 cos^2 beta)), the root
/// at the turning point taken as of a straight line.
double by_slices(double critical_mhz, double peak_km, double half_km, double mhz, double deg) {
  const double r0 = earth_radius_km, rm = r0 + peak_km, rb = rm - half_km, c = r0 * cos_deg(deg);
  const auto root2 = [&](double r) {
    const double u = (r - rm) / half_km * rb / r;
    const double density = r < rb ? 0 : 1 - u * u;
    return (1 - density * critical_mhz * critical_mhz / (mhz * mhz)) * r * r - c * c;
  };
  double sum = std::acos(c / rb) - deg * rad_per_deg;
  constexpr int slices = 400000;
  const double thin = half_km / slices;
  for (int i = 0; i < slices; ++i) {
    const double low = rb + i * thin, y0 = root2(low), y1 = root2(low + thin);
    const double share = y1 > 0 ? 1 : y0 / (y0 - y1);
    sum += c * 2 * thin * share / (std::sqrt(y0) + std::sqrt(std::max(0.0, y1))) / (low + thin * share / 2);
    if (y1 <= 0) break;
  }
  return 2 * r0 * sum;
}

Layers only_f2(double mhz, double peak_km, double half_km) {
  return joined(0, mhz * mhz, peak_km, half_km);
}

/// Layers that change along the way as from day into night.
Slice dusk() {
  std::vector<Layers> at;
  for (int i = 0; i <= 80; ++i) at.push_back(layers(9 - 0.08 * i, 3.2 - 0.035 * i, 3.1 - 0.006 * i, 60));
  return {at, 100};
}

}  // namespace

TEST_CASE("a quasi-parabolic layer sends rays where its closed form says", "[rays][known]") {
  for (const double half_km : {50., 85., 120.}) {
    for (const double peak_km : {250., 320., 400.}) {
      const Slice slice(only_f2(8, peak_km, half_km));
      for (const double mhz : {5., 9., 14., 21.}) {
        for (const double deg : {1., 5., 12., 20., 35., 60.}) {
          const auto closed = quasi_parabolic(8, peak_km, half_km, mhz, deg);
          const auto ray = trace(slice, mhz, deg, 1, everywhere_km);
          CAPTURE(half_km, peak_km, mhz, deg);
          REQUIRE((ray.ending == Ending::landed) == closed.has_value());
          if (!closed) continue;
          // As the header promises; near the escape a hair of elevation is worth kilometres.
          const auto beside = quasi_parabolic(8, peak_km, half_km, mhz, deg + 0.01);
          const double steep = beside ? std::abs(beside->ground_km - closed->ground_km) : 1e3;
          if (steep > 10) continue;
          CHECK_THAT(ray.ground_km, WithinAbs(closed->ground_km, 0.1));
          CHECK_THAT(ray.group_km, WithinAbs(closed->group_km, 0.1));
          CHECK_THAT(ray.arrival_deg, WithinAbs(deg, 1e-3));
        }
      }
    }
  }
}

TEST_CASE("the closed form itself is what thin slices add up to", "[rays][known]") {
  for (const double deg : {3., 12., 25.}) {
    CHECK_THAT(quasi_parabolic(8, 300, 85, 14, deg)->ground_km,
               WithinAbs(by_slices(8, 300, 85, 14, deg), 0.05));
  }
}

TEST_CASE("a ray turns where the secant law has it", "[rays][known]") {
  // Martyn's law on a round Earth: f cos(i) is the plasma frequency at the turning point, sin(i) = R cos(elevation) / r.
  const Layers place = layers(7, 2.5, 3.0, 50);
  const Slice slice(place);
  for (const double deg : {2., 8., 14., 22., 30.}) {
    const double mhz = 12;
    const auto ray = trace(slice, mhz, deg, 1, everywhere_km);
    REQUIRE(ray.ending == Ending::landed);
    const double r = earth_radius_km + ray.apex_km;
    const double sine = earth_radius_km * cos_deg(deg) / r;
    const auto part = ray.apex_km < e_peak_km        ? Slice::Part::e
                      : ray.apex_km < place.joint_km ? Slice::Part::rise
                                                     : Slice::Part::f2;
    CAPTURE(deg, ray.apex_km);
    CHECK_THAT(std::sqrt(slice.density(part, r, 0).mhz2), WithinAbs(mhz * std::sqrt(1 - sine * sine), 0.02));
  }
}

TEST_CASE("a thin layer is a mirror", "[rays][known]") {
  // Geometry of the triangle centre, ground, mirror; half a thickness of 1 km cannot move it further than this.
  const Slice slice(only_f2(20, 300, 1));
  for (const double deg : {5., 20., 50.}) {
    const auto ray = trace(slice, 12, deg, 1, everywhere_km);
    REQUIRE(ray.ending == Ending::landed);
    const double there = acos_deg(earth_radius_km * cos_deg(deg) / (earth_radius_km + 299.5));
    CHECK_THAT(ray.ground_km, WithinAbs(2 * earth_radius_km * (there - deg) * rad_per_deg, 12));
  }
}

TEST_CASE("over layers that are alike everywhere both ends of a ray are alike", "[rays][property]") {
  const Slice slice(layers(8, 3, 3, 60));
  for (const double deg : fan_elevations()) {
    const auto ray = trace(slice, 14, deg, 3, everywhere_km);
    if (ray.ending != Ending::landed) continue;
    CAPTURE(deg);
    // Bouguer: n r cos(elevation) comes down as it went up. The law is kept by the equations to the last bit; that the length of
    // (n sin, n cos) stays n is what the steps must do, and the angle at the base shows it.
    CHECK_THAT(ray.arrival_deg, WithinAbs(deg, 1e-6));
    CHECK_THAT(ray.ground_km, WithinAbs(3 * trace(slice, 14, deg, 1, everywhere_km).ground_km, 1e-3));
  }
}

TEST_CASE("nothing is gained or lost on the way", "[rays][property]") {
  // The index of refraction from place, against that from direction: apex heights and landings of rays agree with those of a
  // ray begun at the other end. In a layer that changes along the way only true gradients keep that.
  const Slice slice = dusk();
  int rays = 0;
  for (const double mhz : {5., 7., 10., 14., 18.}) {
    for (const double deg : fan_elevations()) {
      const auto there = trace(slice, mhz, deg, 1, 7000);
      if (there.ending != Ending::landed) continue;
      const auto back = trace(slice.reversed(there.ground_km), mhz, there.arrival_deg, 1, 9000);
      CAPTURE(mhz, deg, there.ground_km, there.arrival_deg);
      REQUIRE(back.ending == Ending::landed);
      // A landing that a hundredth of a degree moves by kilometres cannot be kept to less.
      const auto beside = trace(slice, mhz, deg + 0.01, 1, 7000);
      const double steep =
          beside.ending == Ending::landed ? std::abs(beside.ground_km - there.ground_km) : 1e3;
      CHECK_THAT(back.ground_km, WithinAbs(there.ground_km, 0.5 + 0.2 * steep));
      CHECK_THAT(back.arrival_deg, WithinAbs(deg, 0.02));
      CHECK_THAT(back.apex_km, WithinAbs(there.apex_km, 0.5 + 0.01 * steep));
      CHECK_THAT(back.group_km, WithinAbs(there.group_km, 0.5 + 0.2 * steep));
      ++rays;
    }
  }
  CHECK(rays > 150);
}

TEST_CASE("a way holds for both ends, its angles swapped", "[rays][property]") {
  const Slice slice = dusk();
  for (const double km : {900., 2000., 3000., 4200.}) {
    for (const auto& a : arrivals(slice, 10, km, 3)) {
      CAPTURE(km, a.ray.hops, a.ray.elevation_deg);
      CHECK_THAT(a.ray.ground_km, WithinAbs(km, 0.5));
      const auto back = trace(slice.reversed(km), 10, a.ray.arrival_deg, a.ray.hops, 9000);
      if (a.high) continue;  // a hair decides whether it passes the peak
      REQUIRE(back.ending == Ending::landed);
      CHECK_THAT(back.ground_km, WithinAbs(km, 3));
      CHECK_THAT(back.arrival_deg, WithinAbs(a.ray.elevation_deg, 0.05));
    }
  }
}

TEST_CASE("the density's changes are those of the density", "[rays][property]") {
  const Slice slice = dusk();
  using Part = Slice::Part;
  for (const double at_km : {30., 1234., 5050., 7990.}) {
    for (const auto& place : {std::pair{Part::e, 101.}, {Part::rise, 140.}, {Part::f2, 260.}}) {
      const Part part = place.first;
      const double up_km = place.second;
      const double r = earth_radius_km + up_km, step = 0.01;
      const auto d = slice.density(part, r, at_km);
      CAPTURE(at_km, up_km);
      const auto slope = [&](double dr, double dx) {
        return (slice.density(part, r + dr, at_km + dx).mhz2 - slice.density(part, r - dr, at_km - dx).mhz2) /
               (2 * step);
      };
      CHECK_THAT(d.per_km_up, WithinAbs(slope(step, 0), 1e-5));
      CHECK_THAT(d.per_km_along, WithinAbs(slope(0, step), 1e-6));
    }
    // One part's law meets the next one's where they join.
    const auto l = slice.at(at_km);
    const auto mhz2 = [&](Part part, double up_km) {
      return slice.density(part, earth_radius_km + up_km, at_km).mhz2;
    };
    CHECK_THAT(mhz2(Part::e, base_km), WithinAbs(0, 1e-9));
    CHECK_THAT(mhz2(Part::e, e_peak_km), WithinAbs(mhz2(Part::rise, e_peak_km), 1e-9));
    CHECK_THAT(mhz2(Part::rise, l.joint_km), WithinAbs(mhz2(Part::f2, l.joint_km), 1e-9));
    CHECK_THAT(mhz2(Part::f2, l.peak_km), WithinAbs(l.f2_mhz2, 1e-9));
    CHECK_THAT(mhz2(Part::f2, slice.floor_km(Part::above, at_km)), WithinAbs(0, 1e-9));
  }
}

TEST_CASE("the height of the F2 layer agrees between two published forms", "[rays][known]") {
  // Dudeney, Geophysical Surveys 5 / J. Atmos. Terr. Phys. 45 (1983), from memory: 1490 MF / (M + dM) - 176.
  for (const double x : {2., 3., 5., 12.}) {
    for (const double m3 : {2.5, 2.8, 3.2, 3.6}) {
      const double mf = m3 * std::sqrt((0.0196 * m3 * m3 + 1) / (1.2967 * m3 * m3 - 1));
      const double other = 1490 * mf / (m3 + 0.253 / (x - 1.215) - 0.012) - 176;
      CAPTURE(x, m3);
      CHECK_THAT(f2_peak_km(x, 1, m3, 40), WithinAbs(other, 25));
    }
  }
}

TEST_CASE("layers alike everywhere have the MUF(3000) that they were made of", "[rays][known]") {
  // The definition of M(3000)F2; the height's formula is an empirical one.
  for (const double x : {2.5, 4., 10.}) {
    for (const double m3 : {2.5, 3.0, 3.5}) {
      for (const double r12 : {15., 100.}) {
        CAPTURE(x, m3, r12);
        CHECK_THAT(muf_mhz(Slice(layers(8, 8 / x, m3, r12)), 3000) / 8 / m3, WithinAbs(1, 0.05));
        // How thick the layer is hardly matters.
        const double peak_km = f2_peak_km(8, 8 / x, m3, r12);
        const auto of = [&](double ratio) {
          return muf_mhz(Slice(joined(64 / (x * x), 64, peak_km, peak_km / ratio)), 3000);
        };
        CHECK_THAT(of(2.5) / of(5), WithinAbs(1, 0.025));
      }
    }
  }
}

TEST_CASE("nothing comes down within the skip distance, and what homes comes down there",
          "[rays][property]") {
  const Slice slice = dusk();
  const auto f = fan(slice, 14, 6000);
  REQUIRE(f.skip);
  for (const auto& ray : f.rays) CHECK((ray.ending != Ending::landed || ray.ground_km > f.skip->km - 0.01));
  CHECK(arrivals(slice, 14, f.skip->km - 20, 1).empty());
  // Just outside a low and a high ray.
  const auto outside = arrivals(slice, 14, f.skip->km + 20, 1);
  REQUIRE(outside.size() == 2);
  CHECK_FALSE(outside[0].high);
  CHECK(outside[1].high);
  CHECK(outside[0].ray.elevation_deg < f.skip->elevation_deg);
  CHECK(outside[1].ray.elevation_deg > f.skip->elevation_deg);
}

TEST_CASE("rays end in one of three ways", "[rays][edge]") {
  const Slice slice(layers(8, 3, 3, 60));
  CHECK(trace(slice, 30, 80, 1, 5000).ending == Ending::escaped);
  CHECK(trace(slice, 14, 12, 1, 1000).ending == Ending::far);
  const auto up = trace(slice, 5, 90, 1, 5000);
  CHECK(up.ending == Ending::landed);
  CHECK_THAT(up.ground_km, WithinAbs(0, 1e-6));
  // A ray that does not land is not led on.
  CHECK(trace(slice, 30, 80, 3, 5000).hops == 1);
  // Where foE comes near foF2 there are still layers to trace.
  CHECK(trace(Slice(layers(3, 2.9, 3.4, 0)), 6, 20, 1, 5000).ending != Ending::far);
}

TEST_CASE("a ray is drawn from ground to ground, never back", "[rays][property]") {
  std::vector<RayPoint> drawn;
  const auto ray = trace(dusk(), 10, 12, 1, 6000, &drawn);
  REQUIRE(ray.ending == Ending::landed);
  REQUIRE(drawn.size() > 20);
  CHECK(drawn.front().up_km == 0);
  CHECK(drawn.back().up_km == 0);
  for (std::size_t i = 1; i < drawn.size(); ++i) {
    CHECK(drawn[i].at_km >= drawn[i - 1].at_km);
    CHECK(drawn[i].up_km <= ray.apex_km + 0.05);
  }
}
