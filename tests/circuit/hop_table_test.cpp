#include "skerry/circuit/hop_table.hpp"

#include <cmath>
#include <numbers>

#include "check.hpp"

using namespace skerry;

namespace {

constexpr double rad = std::numbers::pi / 180, radius_km = 6371.009;

/// Ground length of a hop by its take-off angle, from the law of sines in the triangle Earth's centre, station,
/// mirror: sin(at the mirror) = R cos(angle) / (R + h); what is left of 180 degrees lies at the centre.
/// Source: closed form of spherical geometry as handbooks print it (ITU-R P.533 figure 1; Davies, Ionospheric
/// Radio, 1990, section 6; from memory), the other way round than the table's own formula.
double hop_km(double angle_deg, double height_km) {
  const double at_mirror = std::asin(radius_km * std::cos(angle_deg * rad) / (radius_km + height_km));
  return 2 * radius_km * (std::numbers::pi / 2 - angle_deg * rad - at_mirror);
}

}  // namespace

TEST_CASE("the hop table is the closed form of spherical geometry", "[circuit][known]") {
  for (const double height_km : {250.0, 300.0, 350.0}) {
    const auto table = circuit::hop_table(height_km);
    CHECK(table.e.height_km == 110);
    CHECK(table.f2.height_km == height_km);
    int e = 0, f2 = 0;
    for (const auto& row : table.rows) {
      CAPTURE(height_km, row.distance_km);
      // 0.01 degrees as promised; near the horizon the hop grows by 8 km for that.
      if (row.e_deg) CHECK_THAT(hop_km(*row.e_deg, 110), WithinAbs(row.distance_km, 0.1));
      if (row.f2_deg) CHECK_THAT(hop_km(*row.f2_deg, height_km), WithinAbs(row.distance_km, 0.1));
      e += row.e_deg ? 1 : 0;
      f2 += row.f2_deg ? 1 : 0;
      if (row.e_deg && row.f2_deg) CHECK(*row.e_deg < *row.f2_deg);
    }
    CHECK(e >= 8);
    CHECK(f2 > e);
  }
}

TEST_CASE("the longest hops are those that handbooks print", "[circuit][known]") {
  // Source: about 2300 to 2400 km off the E layer, 3800 to 4000 km off F2 at 300 km (from memory: ARRL
  // handbooks, propagation chapter; ITU-R P.533 takes 2000 and 4000 km as practical limits).
  const auto table = circuit::hop_table();
  CHECK_THAT(table.e.longest_km, WithinAbs(2 * radius_km * std::acos(radius_km / (radius_km + 110)), 0.01));
  CHECK_THAT(table.e.longest_km, WithinAbs(2350, 50));
  CHECK_THAT(table.f2.longest_km, WithinAbs(3840, 60));
  // 1000 km off a mirror at 300 km leaves at about 28 degrees: on a flat Earth it would be atan(300/500) = 31.
  for (const auto& row : table.rows) {
    if (row.distance_km == 1000) CHECK_THAT(*row.f2_deg, WithinAbs(28, 1));
    if (row.distance_km == table.f2.longest_km) CHECK(*row.f2_deg == Approx(0).margin(1e-6));
    if (row.distance_km > table.e.longest_km) CHECK_FALSE(row.e_deg.has_value());
  }
}

TEST_CASE("a path in equal hops has the angle of one of them, or none under the horizon", "[circuit][edge]") {
  CHECK_FALSE(circuit::hop_angle_deg(4000, 1, 300).has_value());
  CHECK(circuit::hop_angle_deg(9000, 3, 300) == circuit::hop_angle_deg(3000, 1, 300));
  CHECK(*circuit::hop_angle_deg(9000, 4, 300) > *circuit::hop_angle_deg(9000, 3, 300));
}
