#include "skerry/circuit/circuit.hpp"

#include <cmath>
#include <random>

#include "check.hpp"
#include "data.hpp"
#include "sky_paths.hpp"

using namespace sky_paths;
using circuit::Layer;

namespace {

GeoPoint anywhere(std::mt19937& random) {
  const double z = std::uniform_real_distribution(-1.0, 1.0)(random);
  return GeoPoint::at_deg(std::asin(z) * deg_per_rad, std::uniform_real_distribution(-180.0, 180.0)(random));
}

void check_sane(const circuit::Passage& cell) {
  for (int i = 0; i < cell.count; ++i) {
    const auto& m = cell.modes[static_cast<std::size_t>(i)];
    REQUIRE(std::isfinite(m.loss_db));
    REQUIRE(m.elevation_deg >= 0);
    REQUIRE(m.elevation_deg <= 90);
    REQUIRE(m.absorption_db >= 0);
    REQUIRE(m.ground_db >= 0);
    REQUIRE(m.support_probability >= 0);
    REQUIRE(m.support_probability <= 1);
    const double sum = m.free_space_db + m.absorption_db + m.above_muf_db + m.ground_db + m.screening_db +
                       m.auroral_db + m.skyline_db + m.other_db + m.focusing_db;
    REQUIRE_THAT(m.loss_db, WithinAbs(sum, 1e-9));
  }
  if (cell.long_share > 0) REQUIRE(std::isfinite(cell.long_loss_db));
}

}  // namespace

TEST_CASE("a path and its reverse have the same sky, modes and losses", "[circuit][property]") {
  // Source: reciprocity of the method (ITU-R P.533 uses only symmetric control points).
  std::mt19937 random(7);
  for (int n = 0; n < 40; ++n) {
    const GeoPoint a = anywhere(random);
    const GeoPoint b = anywhere(random);
    const unsigned month = 1 + n % 12;
    for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
      const SkyPath there(a, b, month, 10.0 * (n % 16), way);
      const SkyPath back(b, a, month, 10.0 * (n % 16), way);
      for (const int h : {0, 7, 13, 20}) {
        for (const double mhz : {3.6, 7.1, 14.1, 28.3}) {
          CHECK_THAT(there.received_dbw(h, mhz), WithinAbs(back.received_dbw(h, mhz), 1e-6));
        }
        CHECK_THAT(there.muf(h), WithinAbs(back.muf(h), 1e-8));
      }
    }
  }
}

TEST_CASE("anywhere to anywhere gives finite answers", "[circuit][property]") {
  std::mt19937 random(11);
  for (int n = 0; n < 60; ++n) {
    const SkyPath path(anywhere(random), anywhere(random), 1 + n % 12, 200.0 * (n % 2),
                       n % 3 == 0 ? geodesy::Way::long_way : geodesy::Way::short_way);
    for (int h = 0; h < 24; ++h) {
      CHECK(std::isfinite(path.muf(h)));
      for (const double mhz : {1.9, 3.6, 10.1, 21.2, 29.5}) check_sane(path.passage(h, mhz));
    }
  }
}

TEST_CASE("poles, the same place, antipodes and the date line are ordinary places", "[circuit][edge]") {
  const GeoPoint pole = GeoPoint::at_deg(90, 0);
  const GeoPoint south = GeoPoint::at_deg(-90, 0);
  const GeoPoint line = GeoPoint::at_deg(10, 180);
  for (const auto& [a, b] : {std::pair{pole, south}, std::pair{pole, line}, std::pair{line, line},
                             std::pair{GeoPoint::at_deg(10, 20), GeoPoint::at_deg(-10, -160)}}) {
    for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
      const SkyPath path(a, b, 6, 50, way);
      for (int h = 0; h < 24; h += 5) {
        CHECK(std::isfinite(path.muf(h)));
        check_sane(path.passage(h, 7.1));
      }
    }
  }
}

TEST_CASE("overhead the MUF is the extraordinary critical frequency", "[circuit][known]") {
  // Source: ITU-R P.533 section 3.5.1.1 at distance 0: foF2 + fH/2 (unless the E layer's foE is higher).
  const SkyPath path(rome, rome, 3, 80);
  for (int h = 0; h < 24; ++h) {
    const auto points = path.circuits().control_points(0, h);
    REQUIRE_FALSE(points.empty());
    CHECK_THAT(path.muf(h),
               WithinAbs(std::max(points[0].fof2_mhz + points[0].gyro300_mhz / 2, points[0].foe_mhz), 1e-6));
  }
}

TEST_CASE("control points stand where table 1 puts them", "[circuit][known]") {
  // Source: ITU-R P.533 section 2, Table 1.
  const SkyPath path(madrid, warsaw, 3, 80);  // 2290 km
  const auto points = path.circuits().control_points(0, 12);
  REQUIRE(points.size() == 3);
  CHECK_THAT(geodesy::distance_km(points[1].where, madrid), WithinAbs(1000, 6));
  CHECK_THAT(geodesy::distance_km(points[2].where, warsaw), WithinAbs(1000, 6));
}

TEST_CASE("the long-path field follows the published shape", "[circuit][known]") {
  // Source: ITU-R P.533 section 5.3: at f = fL and f = fM the bracket is 1 and the field is -36.4 + Gap - Ly
  // + Pt, whatever the distance; in between it is higher, with its top at (f + fH)^2 = (fM + fH)(fL + fH).
  const SkyPath path(rodrigues, new_york, 3, 90, geodesy::Way::short_way, sky_paths::by_limits());
  REQUIRE(path.path().distance_km > 9000);
  for (int h = 0; h < 24; ++h) {
    const auto muf = path.circuits().muf(0, h);
    const double fm = muf.long_upper_mhz;
    const double fl = muf.long_lower_mhz;
    REQUIRE(fm > 0);
    const auto field = [&](double mhz) {  // dB(1 uV/m) for 1 kW
      return 30 - path.passage(h, mhz).long_loss_db + 20 * std::log10(mhz) + 107.2;
    };
    const double at_upper = field(fm * (1 - 1e-9));
    const double around = std::abs(std::sin(path.path().distance_km / earth_radius_km));
    const double focus = std::min(15.0, 10 * std::log10(path.path().distance_km / earth_radius_km / around));
    CHECK_THAT(at_upper, WithinAbs(-36.4 + 0.17 + focus, 1e-5));
    if (fl > 1.7 && fl < fm) {
      CHECK_THAT(field(fl), WithinAbs(at_upper, 1e-5));
      CHECK(field(std::sqrt(fl * fm)) > at_upper);
    }
  }
}

TEST_CASE("between 7000 and 9000 km the two methods blend without a jump", "[circuit][property]") {
  const GeoPoint from = rodrigues;
  double last = 0;
  for (double km = 6950; km <= 9050; km += 10) {
    const SkyPath path(from, geodesy::destination(from, 320, km), 3, 90, geodesy::Way::short_way,
                       sky_paths::by_limits());
    const double now = path.received_dbw(20, 10.1);
    if (km > 6950) CHECK_THAT(now, WithinAbs(last, 6));
    last = now;
  }
}

TEST_CASE("fixed ground loss is 2 dB a bounce", "[circuit][known]") {
  // Source: ITU-R P.533 section 5.2.2, Lg = 2 (n - 1).
  circuit::Settings settings;
  settings.ground_loss = circuit::GroundLoss::fixed_2_db;
  const SkyPath path(london, new_york, 3, 90, geodesy::Way::short_way, settings);
  const auto cell = path.passage(22, 7.1);
  REQUIRE(cell.count > 0);
  for (int i = 0; i < cell.count; ++i) {
    const auto& m = cell.modes[static_cast<std::size_t>(i)];
    CHECK(m.ground_db == 2.0 * (m.hops - 1));
  }
}

TEST_CASE("a bounce from the table is the Fresnel reflection within 0.05 dB", "[circuit][property]") {
  const antenna::Ground sea{antenna::GroundKind::real, 70, 5, "sea"};
  const antenna::Ground land{antenna::GroundKind::real, 13, 0.005, "average"};
  for (double mhz = 1.8; mhz < 30; mhz *= 1.17) {
    const circuit::BounceLoss loss_db(std::log10(mhz));
    for (double e = 0.5; e < 89; e += 0.83) {
      CHECK_THAT(loss_db(0, 1, e), WithinAbs(antenna::reflection_loss_db(sea, e, mhz), 0.05));
      CHECK_THAT(loss_db(1, 0, e), WithinAbs(antenna::reflection_loss_db(land, e, mhz), 0.05));
    }
  }
}
