#include "skerry/circuit/sporadic_e.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/circuit/circuit.hpp"

using namespace skerry;
using namespace skerry::circuit;

namespace {

// A summer noon in middle latitudes, by the maps.
constexpr ionosphere::Foes july{3.4, 4.3, 7.5};

EsRay ray(double path_km, int hops, const ionosphere::Foes& foes = july) {
  EsRay out = es_ray(path_km, hops).value();
  out.foes = {foes, foes};
  return out;
}

}  // namespace

TEST_CASE("the rays and the loss of sporadic E are those of its law", "[circuit][sporadic-e][known]") {
  // Source: Rec. ITU-R P.2001 annex G (from memory), worked by an independent script; geometry of a 6371 km sphere.
  struct Row {
    double d_km, elevation_deg, slant_km, secant, end_db, per_square_db;
  };
  for (const Row& row : {Row{500, 22.442, 550.17, 2.3940, 0.01588, 4.52914},
                         Row{1000, 10.050, 1032.06, 3.9814, 0.09469, 1.64952},
                         Row{1500, 4.892, 1527.94, 4.9578, 0.56472, 0.89066},
                         Row{2000, 1.715, 2027.10, 5.3821, 3.36789, 0.61595},
                         Row{2800, 0, 2826.96, 5.4508, 58.64068, 0.50226}}) {
    CAPTURE(row.d_km);
    const EsRay r = ray(row.d_km, 1);
    CHECK_THAT(r.elevation_deg, WithinAbs(row.elevation_deg, 6e-4));
    CHECK_THAT(r.slant_km, WithinAbs(row.slant_km, 0.006));
    CHECK_THAT(r.secant, WithinAbs(row.secant, 6e-5));
    CHECK_THAT(r.end_db, WithinAbs(row.end_db, 6e-5 * std::max(1.0, row.end_db)));
    CHECK_THAT(r.per_square_db, WithinAbs(row.per_square_db, 6e-5));
    CHECK_THAT(es_loss_db(r, 20, 5), WithinAbs(row.end_db + 16 * row.per_square_db, 6e-3));
    const EsRay two = ray(2 * std::max(row.d_km, 900.0), 2);
    CHECK_THAT(es_loss_db(two, 20, 5),
               WithinAbs(2 * es_loss_db(ray(std::max(row.d_km, 900.0), 1), 20, 5), 1e-9));
  }
}

TEST_CASE("the odds of sporadic E are its deciles'", "[circuit][sporadic-e][known]") {
  // Source: what a decile is: foEs reaches it on nine, five, one day in ten.
  const EsRay r = ray(1500, 1);
  for (const auto& [foes_mhz, days] :
       {std::pair{july.lower_mhz, 9.0}, {july.median_mhz, 5.0}, {july.upper_mhz, 1.0}}) {
    // a signal with plenty to spare needs a mirror only
    CHECK_THAT(10 * es_odds(r, foes_mhz * r.secant, 1e6), WithinAbs(days, 1e-9));
    // one that has just what the layer takes at this foEs needs this foEs
    CHECK_THAT(10 * es_odds(r, 28, es_loss_db(r, 28, std::max(foes_mhz, 28 / r.secant))),
               WithinAbs(10 * es_odds(r, std::max(28.0, foes_mhz * r.secant), 1e6), 1e-9));
  }
}

TEST_CASE("two hops pay from one margin", "[circuit][sporadic-e][property]") {
  for (const double spare_db : {20.0, 35.0, 60.0}) {
    for (const double d : {2000.0, 3000.0, 4200.0}) {
      const double both = es_odds(ray(d, 2), 18, spare_db);
      const double half = es_odds(ray(d / 2, 1), 18, spare_db);
      CAPTURE(spare_db, d);
      CHECK(both <= half * half);
      CHECK(both > 0);
    }
  }
}

TEST_CASE(
    "the odds of sporadic E rise with what is to spare and with foEs, fall with frequency, and never jump",
    "[circuit][sporadic-e][property]") {
  std::mt19937 random(1);
  const auto draw = [&](double a, double b) { return std::uniform_real_distribution(a, b)(random); };
  for (int i = 0; i < 20000; ++i) {
    ionosphere::Foes foes{draw(0.5, 8), 0, 0};
    foes.median_mhz = foes.lower_mhz * draw(1, 2);
    foes.upper_mhz = foes.median_mhz * draw(1, 2);
    const int hops = i % 2 + 1;
    const double d = draw(hops == 1 ? 50 : 1501, hops * 2900.0);
    const double mhz = draw(3, 54);
    const double spare_db = draw(-20, 70);
    const EsRay r = ray(d, hops, foes);
    const double odds = es_odds(r, mhz, spare_db);
    CAPTURE(d, hops, mhz, spare_db, foes.lower_mhz, foes.median_mhz, foes.upper_mhz);
    CHECK(odds >= 0);
    CHECK(odds <= 1);
    CHECK(es_odds(r, mhz, spare_db + 1) >= odds);
    CHECK(es_odds(r, mhz + 0.5, spare_db) <= odds);
    ionosphere::Foes more = foes;
    if (i % 3 == 0) more.upper_mhz *= 1.2;
    if (i % 3 == 1) more.lower_mhz = std::min(1.1 * more.lower_mhz, more.median_mhz);
    if (i % 3 == 2) more = {foes.lower_mhz * 1.1, foes.median_mhz * 1.1, foes.upper_mhz * 1.1};
    CHECK(es_odds(ray(d, hops, more), mhz, spare_db) >= odds);
    if (mhz < 14 || d > hops * 2400) continue;  // there the margin alone decides, within a decibel or two
    CHECK_THAT(es_odds(ray(d + 1, hops, foes), mhz, spare_db), WithinAbs(odds, 0.04));
    CHECK_THAT(es_odds(r, mhz + 0.01, spare_db), WithinAbs(odds, 0.02));
    CHECK_THAT(es_odds(r, mhz, spare_db + 0.1), WithinAbs(odds, 0.08));
  }
}

TEST_CASE("nothing to spare, no odds; too far, no ray, and nothing lost at that end",
          "[circuit][sporadic-e][edge]") {
  for (const int hops : {1, 2}) {
    CHECK(es_odds(ray(1600, hops), 21, 0) == 0);
    CHECK(es_odds(ray(1600, hops), 21, -5) == 0);
    CHECK_FALSE(es_ray(3001.0 * hops, hops));
    CHECK(es_odds(ray(3000.0 * hops, hops), 14, 100) == 0);
    CHECK(es_odds(ray(2600.0 * hops, hops), 14, 25) == 0);
  }
  CHECK_FALSE(es_ray(1500, 2));
  CHECK(es_ray(1500.001, 2)->share < 1e-5);
  CHECK(es_ray(1800, 2)->share == 1);
  // a month whose deciles are one still has days that differ a little
  const ionosphere::Foes flat{5, 5, 5};
  const EsRay r = ray(1500, 1, flat);
  CHECK_THAT(es_odds(r, 5 * r.secant, 1e6), WithinAbs(0.5, 1e-12));
  CHECK_THAT(es_odds(r, 5.5 * r.secant, 1e6), WithinAbs(0.1, 1e-9));
}

TEST_CASE("sporadic E counts less where it is the aurora's", "[circuit][sporadic-e][property]") {
  CHECK(es_latitude_share(0) == 1);
  CHECK(es_latitude_share(-55) == 1);
  CHECK_THAT(es_latitude_share(60), WithinAbs(0.65, 1e-12));
  CHECK_THAT(es_latitude_share(-65), WithinAbs(0.3, 1e-12));
  CHECK_THAT(es_latitude_share(90), WithinAbs(0.3, 1e-12));
  EsRay r = ray(1500, 1);
  const double whole = es_odds(r, 21, 30);
  r.share *= es_latitude_share(60);
  CHECK_THAT(es_odds(r, 21, 30), WithinAbs(0.65 * whole, 1e-12));
}

TEST_CASE("a summer operator's sporadic E", "[circuit][sporadic-e][expectation]") {
  // Source: common practice: best between 1200 and 2000 km, out on 10 m on some days and on 6 m on fewer; hardly
  // anything under 500 km on 10 m.
  const auto at = [](double d, double mhz) { return es_odds(ray(d, 1), mhz, 40); };
  CHECK(at(1600, 21) > 0.4);
  CHECK(at(1600, 28) > 0.1);
  CHECK(at(1600, 28) > 5 * at(1600, 50));
  CHECK(at(500, 28) < 0.1 * at(1600, 28));
  CHECK(at(2800, 28) < 0.1 * at(1600, 28));
}

TEST_CASE("sporadic E counts less where the magnetic field lies level", "[circuit][sporadic-e][property]") {
  ionosphere::Climate climate;
  climate.day = middle_of(std::chrono::year{2026} / 7);
  climate.r12 = ionosphere::R12(60);
  const auto share = [&](GeoPoint from, double bearing_deg) {
    const auto path =
        geodesy::make_path(from, geodesy::destination(from, bearing_deg, 1000), geodesy::Way::short_way);
    const Circuits circuits({&path, 1}, climate);
    const auto passage = circuits.passage(0, 10, 21.1);
    REQUIRE(passage.es_count == 1);
    return passage.es[0].ray.share;
  };
  // Source: the magnetic equator runs through the south of India and through Peru (from memory).
  const double india = share(GeoPoint::at_deg(6, 77), 0);
  const double peru = share(GeoPoint::at_deg(-16.5, -76), 0);
  const double rome = share(GeoPoint::at_deg(38, 12), 0);
  CHECK(india < 0.4);
  CHECK(peru < 0.4);
  CHECK(rome > 0.9);
}
