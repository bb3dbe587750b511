#include "maps.hpp"

#include <array>
#include <cmath>

#include "check.hpp"
#include "map_values.hpp"
#include "skerry/core/units.hpp"
#include "tables.hpp"

using namespace skerry;
using namespace skerry::ionosphere;
using detail::hour_coefficients;
using detail::map_values;

TEST_CASE("the maps have the values of an independent reading of the coefficients",
          "[ionosphere][maps][known]") {
  // Source: the published expansion summed term by term by another program, modified dip given.
  struct Row {
    unsigned month;
    double modip, lat, lon;
    int hour;
    double r12, fof2, m3000;
  };
  for (const Row& r :
       {Row{1, 45, 40, 10, 12, 50, 7.76038, 3.32726}, Row{7, -30, -20, 200, 3, 100, 10.41198, 3.00250},
        Row{4, 0, 0, 0, 0, 0, 5.07633, 3.12943}, Row{10, 60.84, 60, -1, 18, 80, 6.46968, 3.08475}}) {
    CAPTURE(r.month, r.lat);
    const auto at = map_values(hour_coefficients(r.month, r.r12, r.r12, MapSet::ccir),
                               GeoPoint::at_deg(r.lat, r.lon), r.modip, r.hour);
    CHECK_THAT(at.fof2_mhz, WithinAbs(r.fof2, 1e-5));  // the source prints five decimals
    CHECK_THAT(at.m3000f2, WithinAbs(r.m3000, 1e-5));
  }
}

TEST_CASE("with the modified dip given the maps agree with the reference ionosphere",
          "[ionosphere][maps][known]") {
  // Source: International Reference Ionosphere 2016, see authorities/make_tables.py.
  double worst_fof2 = 0;
  double worst_m3000 = 0;
  const auto rows = authority_rows("sky_points.csv");
  REQUIRE(rows.size() == 400);
  for (const auto& r : rows) {
    const auto at = map_values(hour_coefficients(static_cast<unsigned>(r[0]), r[4], r[4], MapSet::ccir),
                               GeoPoint::at_deg(r[2], r[3]), r[5], static_cast<int>(r[1]));
    worst_fof2 = std::max(worst_fof2, std::abs(at.fof2_mhz - r[7]));
    worst_m3000 = std::max(worst_m3000, std::abs(at.m3000f2 - r[8]));
  }
  CAPTURE(worst_fof2, worst_m3000);
  // Single precision there, powers up to the eleventh here and there, modified dip printed to 1e-4 deg.
  CHECK(worst_fof2 < 0.001);
  CHECK(worst_m3000 < 0.0003);
}

TEST_CASE("the functions of place are 76 and in the published order", "[ionosphere][maps][known]") {
  // Source: ITU-R P.1239 section 2: last function of each order, foF2: 11, 35, 53, 63, 67, 69, 71, 73, 75.
  const double modip = 33;
  const double lat = -21;
  const double lon = 77;
  std::array<double, detail::fof2_functions> g{};
  detail::place_functions(sin_deg(modip), cos_deg(lat), cos_deg(lon), sin_deg(lon), g.data());
  const std::array last{11, 35, 53, 63, 67, 69, 71, 73, 75};
  const std::array highest{11, 11, 8, 4, 1, 0, 0, 0, 0};
  CHECK(g[0] == 1.0);
  for (std::size_t n = 0; n < last.size(); ++n) {
    const double common =
        std::pow(sin_deg(modip), highest[n]) * std::pow(cos_deg(lat), static_cast<double>(n));
    const double angle = static_cast<double>(n) * lon;
    CHECK_THAT(g[static_cast<std::size_t>(last[n])],
               WithinAbs(common * (n == 0 ? 1.0 : sin_deg(angle)), 1e-14));
    if (n > 0)
      CHECK_THAT(g[static_cast<std::size_t>(last[n] - 1)], WithinAbs(common * cos_deg(angle), 1e-14));
  }
}

TEST_CASE("maps are linear in activity up to 160 and stand still above", "[ionosphere][maps][property]") {
  for (const MapSet set : {MapSet::ccir, MapSet::ursi}) {
    const auto r0 = hour_coefficients(5, 0, 0, set);
    const auto r100 = hour_coefficients(5, 100, 100, set);
    for (const double r : {20.0, 50.0, 130.0, 160.0}) {
      const auto straight = (r0 + (r100 - r0) * (r / 100)).eval();
      CHECK((hour_coefficients(5, r, r, set) - straight).cwiseAbs().maxCoeff() < 1e-11);
    }
    CHECK(hour_coefficients(5, 161, 161, set) == hour_coefficients(5, 160, 160, set));
    CHECK(hour_coefficients(5, 300, 300, set) == hour_coefficients(5, 160, 160, set));
    CHECK(hour_coefficients(5, 159, 159, set) != hour_coefficients(5, 160, 160, set));
  }
}

TEST_CASE("the two sets differ in foF2 and share M(3000)F2", "[ionosphere][maps][property]") {
  for (unsigned month = 1; month <= 12; ++month) {
    const auto a = hour_coefficients(month, 80, 80, MapSet::ccir);
    const auto b = hour_coefficients(month, 80, 80, MapSet::ursi);
    CHECK(a.rightCols<24>() == b.rightCols<24>());
    CHECK(a.leftCols<24>() != b.leftCols<24>());
  }
}
