#include "formulas.hpp"

#include <random>

#include "check.hpp"
#include "method.hpp"

using namespace skerry;
using namespace skerry::circuit;

TEST_CASE("one-hop geometry agrees with the triangle", "[circuit][known]") {
  // Source: spherical triangle, worked independently in a script (plane trigonometry of a 6371 km sphere).
  struct Row {
    double hop_km, height_km, elevation_deg, slant_km, sec110;
  };
  for (const Row& row : {Row{2000, 110, 1.715, 2027.1, 5.3821}, Row{2000, 300, 11.807, 2130.7, 3.6731},
                         Row{3000, 300, 4.261, 3121.0, 5.0641}, Row{1500, 300, 17.951, 1647.2, 2.8234},
                         Row{500, 300, 48.410, 788.5, 1.3197}}) {
    const double e = elevation_deg(row.hop_km, row.height_km);
    CHECK_THAT(e, WithinAbs(row.elevation_deg, 6e-4));
    CHECK_THAT(hop_slant_km(row.hop_km, row.height_km), WithinAbs(row.slant_km, 0.06));
    CHECK_THAT(incidence_secant(cos_deg(e), 110), WithinAbs(row.sec110, 6e-5));
  }
  CHECK_THAT(elevation_deg(0, 300), WithinAbs(90, 1e-9));
  CHECK_THAT(hop_slant_km(0, 300), WithinAbs(600, 1e-9));
}

TEST_CASE("the slant range equals the Recommendation's form of it", "[circuit][property]") {
  // Source: ITU-R P.533 section 5.2.2, p' = 2 R0 sin(d/2R0) / cos(elevation + d/2R0).
  std::mt19937 random(1);
  for (int i = 0; i < 200; ++i) {
    const double hop = std::uniform_real_distribution(50.0, 4000.0)(random);
    const double height = std::uniform_real_distribution(110.0, 600.0)(random);
    const double t = hop / (2 * earth_radius_km);
    const double p =
        2 * earth_radius_km * std::sin(t) / std::cos(elevation_deg(hop, height) * rad_per_deg + t);
    CHECK_THAT(hop_slant_km(hop, height), WithinAbs(p, 1e-6));
  }
}

TEST_CASE("the F2 MUF follows hop length as tabulated", "[circuit][known]") {
  // Source: ITU-R P.533 section 3.5.1.1, evaluated by an independent script.
  struct Row {
    double m3, x, b, dmax_km, c3000, over_fof2;
  };
  for (const Row& row :
       {Row{3.0, 2, 3.0066, 5395.8, 0.8010, 3.5051}, Row{3.0, 3, 2.9987, 5181.6, 0.8232, 3.4281},
        Row{3.3, 4, 3.3241, 4752.4, 0.8678, 3.6783}, Row{2.7, 2.5, 2.6619, 5833.8, 0.7565, 3.1969},
        Row{3.5, 2.2, 3.5946, 4358.2, 0.9080, 3.8576}}) {
    const F2Shape s = f2_shape(10, 10 / row.x, row.m3, 0);
    CHECK_THAT(s.b, WithinAbs(row.b, 6e-5));
    CHECK_THAT(s.dmax_km, WithinAbs(row.dmax_km, 0.06));
    CHECK_THAT(1 / s.inverse_c3000, WithinAbs(row.c3000, 6e-5));
    CHECK_THAT(f2_muf(s, s.dmax_km) / 10, WithinAbs(row.over_fof2, 6e-5));
  }
  const F2Shape s = f2_shape(8, 3, 3.1, 1.2);
  CHECK_THAT(f2_muf(s, 0), WithinAbs(8.600, 6e-4));  // extraordinary-wave critical frequency foF2 + fH/2
  CHECK_THAT(f2_muf(s, 500), WithinAbs(9.947, 6e-4));
  CHECK_THAT(f2_muf(s, 1000), WithinAbs(13.359, 6e-4));
  CHECK_THAT(f2_muf(s, 2000), WithinAbs(20.511, 6e-4));
  CHECK_THAT(f2_muf(s, 3000), WithinAbs(25.201, 6e-4));
}

TEST_CASE("MUF(4000) stands to MUF(3000) in the classic ratio", "[circuit][known]") {
  // Source: the 1.1 factor of ITU-R P.533 section 5.3.1 and of handbooks; 1.06 to 1.155 over M(3000) 2.5
  // to 3.5.
  for (const double m3 : {2.5, 2.8, 3.0, 3.2, 3.5}) {
    const F2Shape s = f2_shape(8, 4, m3, 0);
    const double ratio = f2_muf(s, 4000) / f2_muf(s, 3000);
    CHECK(ratio > 1.05);
    CHECK(ratio < 1.16);
  }
  const F2Shape s = f2_shape(8, 4, 3.0, 0);
  CHECK_THAT(f2_muf(s, 4000) / f2_muf(s, 3000), WithinAbs(1.114, 6e-4));
}

TEST_CASE("the hop factor is 0 overhead and 1 at the longest hop", "[circuit][property]") {
  for (const double dmax : {3000.0, 4300.0, 5400.0}) {
    CHECK_THAT(hop_factor(0, dmax), WithinAbs(0, 1e-12));
    CHECK_THAT(hop_factor(dmax, dmax), WithinAbs(1, 1e-12));
    // The published polynomial dips by 0.2 % of a hop's worth in its first few hundred kilometres, then only
    // rises.
    for (double d = 0; d < dmax; d += 50) CHECK(hop_factor(d + 50, dmax) > hop_factor(d, dmax) - 0.002);
    for (double d = 400; d < dmax; d += 50) CHECK(hop_factor(d + 50, dmax) > hop_factor(d, dmax));
  }
}

TEST_CASE("the F2 mirror stands where the three cases put it", "[circuit][known]") {
  // Source: ITU-R P.533 section 5.1.2, evaluated by an independent script.
  struct Row {
    double fof2, foe, m3, r12, mhz, hop_km, height_km;
  };
  for (const Row& row : {Row{10, 2.5, 3.0, 50, 14, 2500, 217.4}, Row{10, 2.5, 3.0, 50, 14, 1200, 292.0},
                         Row{10, 2.5, 3.0, 50, 7, 1200, 186.3}, Row{10, 2.5, 3.0, 50, 7, 300, 272.2},
                         Row{8, 3.2, 3.1, 50, 14, 2500, 332.6}, Row{8, 3.2, 3.1, 50, 7, 800, 302.6},
                         Row{5, 0.5, 3.0, 50, 7, 2000, 229.8}}) {
    CHECK_THAT(mirror_height_km(mirror_shape(row.fof2, row.foe, row.m3, row.r12), row.mhz, row.hop_km),
               WithinAbs(row.height_km, 0.06));
  }
}

TEST_CASE("support is 90, 50 and 10 percent where the deciles are", "[circuit][known]") {
  // Source: definition of the deciles, ITU-R P.533 section 3.6.
  CHECK_THAT(support_probability(0.85 * 20, 20, 0.85, 1.15), WithinAbs(0.90, 1e-12));
  CHECK_THAT(support_probability(20, 20, 0.85, 1.15), WithinAbs(0.50, 1e-12));
  CHECK_THAT(support_probability(1.15 * 20, 20, 0.85, 1.15), WithinAbs(0.10, 1e-12));
  CHECK(support_probability(1.26 * 20, 20, 0.85, 1.15) == 0);
  CHECK(support_probability(5, 20, 0.85, 1.15) == 1);
}

TEST_CASE("absorption indices take their published values", "[circuit][known]") {
  // Sources: Lucas and Haydon 1966 index; CCIR Report 252-2 index (from memory), evaluated by an independent
  // script.
  CHECK_THAT(absorption_index_sun(0, 0), WithinAbs(1.000, 5e-4));
  CHECK_THAT(absorption_index_sun(100, 0), WithinAbs(1.370, 5e-4));
  CHECK_THAT(absorption_index_sun(0, 60), WithinAbs(0.519, 5e-4));
  CHECK_THAT(absorption_index_sun(0, 80), WithinAbs(0.240, 5e-4));
  CHECK_THAT(absorption_index_sun(0, 100), WithinAbs(0.012, 5e-4));
  CHECK(absorption_index_sun(0, 102) == 0);
  CHECK_THAT(absorption_index_foe(0.5), WithinAbs(0.041, 5e-4));
  CHECK_THAT(absorption_index_foe(2), WithinAbs(0.247, 5e-4));
  CHECK_THAT(absorption_index_foe(4), WithinAbs(1.514, 5e-4));
}

TEST_CASE("tables of the method return their own entries", "[circuit][known]") {
  // Source: ITU-R P.842 deciles, P.533 auroral table and section 5.3.2 factors, from memory.
  using namespace method;
  CHECK(day_deciles(0.5, 0).lower_db == 8);
  CHECK(day_deciles(1.0, 0).lower_db == 12);
  CHECK(day_deciles(1.0, 1).upper_db == 11);
  CHECK_THAT(day_deciles(1.1, 0).lower_db, WithinAbs(12.5, 1e-9));
  CHECK(day_deciles(9, 0).lower_db == 5);
  // In the middle of their latitudes and hours: 62.5 to 67.5 degrees, 4 to 7 h and so on.
  CHECK(auroral_loss_db(0, Season::winter, 65, 5.5) == 16.0);
  CHECK(auroral_loss_db(1, Season::summer, -70, 23.5) == 4.5);
  CHECK(auroral_loss_db(1, Season::summer, 40, 12) == 0);
  CHECK_THAT(auroral_loss_db(0, Season::winter, 67.5, 5.5), WithinAbs((16.0 + 15.6) / 2, 1e-9));
  CHECK_THAT(auroral_loss_db(0.5, Season::winter, 65, 5.5), WithinAbs((16.0 + 7.0) / 2, 1e-9));
  CHECK(auroral_season(1, false) == Season::winter);
  CHECK(auroral_season(1, true) == Season::summer);
  CHECK(auroral_season(10, true) == Season::equinox);
  CHECK(winter_factor(1, 60) == 1.30);
  CHECK(winter_factor(1, 20) == 1.0);
  CHECK_THAT(winter_factor(7, -75), WithinAbs(1.15, 1e-9));
  CHECK(long_month_factor(1, 50, -40) == 1.05);
  CHECK(long_month_factor(7, -50, -40) == 1.1);
}
