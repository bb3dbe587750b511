#include "skerry/circuit/link.hpp"

#include "check.hpp"
#include "sky_paths.hpp"

using namespace skerry;
using namespace skerry::circuit;

TEST_CASE("reliability is 50 percent at no margin and 90 at the lower decile", "[circuit][known]") {
  // Source: ITU-R P.533 section 10 (definition of the deciles).
  CHECK_THAT(reliability(0, 10, 14), WithinAbs(0.5, 1e-12));
  CHECK_THAT(reliability(14, 10, 14), WithinAbs(0.9, 1e-12));
  CHECK_THAT(reliability(-10, 10, 14), WithinAbs(0.1, 1e-12));
  CHECK(reliability(100, 10, 14) == 1.0);
  CHECK(reliability(-100, 10, 14) == 0.0);
}

TEST_CASE("received power adds up in decibels", "[circuit][known]") {
  // Source: free-space arithmetic: 1 W, 0 dBi both ends, one mode of 120 dB loss: -120 dBW; two equal
  // modes: 3.01 dB more.
  Cell cell;
  cell.count = 1;
  cell.modes[0].loss_db = 120;
  Station a;
  a.power_w = 1;
  const auto path =
      geodesy::make_path(GeoPoint::at_deg(0, 0), GeoPoint::at_deg(0, 20), geodesy::Way::short_way);
  CHECK_THAT(strength(cell, path, a, a, true).received_dbw, WithinAbs(-120, 1e-9));
  cell.count = 2;
  cell.modes[1].loss_db = 120;
  CHECK_THAT(strength(cell, path, a, a, true).received_dbw, WithinAbs(-116.9897, 1e-4));
  a.power_w = 10;
  a.gain_dbi = 2;
  CHECK_THAT(strength(cell, path, a, a, true).received_dbw, WithinAbs(-116.9897 + 10 + 4, 1e-4));
  cell.count = 0;
  CHECK_FALSE(strength(cell, path, a, a, true).open);
}

TEST_CASE("a hopeless long path stays a finite number", "[circuit][regression]") {
  // Top band at noon over 10 000 to 20 000 km of daylight: the long-path law gives fields of -1000 dB and
  // less.
  for (const double lon : {150.0, 170.0, -170.0, -130.0}) {
    const sky_paths::SkyPath path(sky_paths::rodrigues, GeoPoint::at_deg(-20, lon), 12, 160);
    for (int h = 0; h < 24; ++h) {
      const auto cell = path.cell(h, 1.836);
      const Station a;
      const auto s = strength(cell, path.path(), a, a, true);
      if (s.open) CHECK(std::isfinite(s.received_dbw));
    }
  }
  Cell cell;
  cell.long_loss_db = 2000;
  const auto path =
      geodesy::make_path(GeoPoint::at_deg(0, 0), GeoPoint::at_deg(0, 100), geodesy::Way::short_way);
  Station a;
  a.power_w = 1;
  cell.long_share = 1;
  CHECK(strength(cell, path, a, a, true).received_dbw == -2000);
  cell.long_share = 0.5;
  CHECK(std::isfinite(strength(cell, path, a, a, true).received_dbw));
}

TEST_CASE("noise of a quiet receiver is the sum of outside and own", "[circuit][known]") {
  // Source: ITU-R P.372: receiver total f = fa + fr - 1 (lossless antenna); with a 10 dB lossy antenna the
  // outside falls by 10 dB.
  Station r;
  r.environment = noise::Environment::city;
  r.receiver_noise_figure_db = 0;
  const Circuits::EndSky sky{8, 40, 12};
  const auto clean = noise_at(sky, GeoPoint::at_deg(50, 0), 3, r, 7.1);
  CHECK_THAT(clean.dbw_per_hz, WithinAbs(clean.sources.total.fam_db - 203.98, 0.05));
  r.efficiency_db = -10;
  const auto lossy = noise_at(sky, GeoPoint::at_deg(50, 0), 3, r, 7.1);
  CHECK_THAT(lossy.dbw_per_hz, WithinAbs(clean.dbw_per_hz - 10, 0.05));
  r.efficiency_db = 0;
  r.receiver_noise_figure_db = 60;
  const double sum_db = to_db(from_db(clean.sources.total.fam_db) + from_db(60) - 1);
  CHECK_THAT(noise_at(sky, GeoPoint::at_deg(50, 0), 3, r, 7.1).dbw_per_hz, WithinAbs(sum_db - 203.98, 0.05));
}

TEST_CASE("more power never means fewer days", "[circuit][property]") {
  const sky_paths::SkyPath path(sky_paths::rodrigues, sky_paths::london, 2, 90);
  const auto mode = *noise::find_mode("cw", {});
  for (int h = 0; h < 24; ++h) {
    const auto cell = path.cell(h, 14.06);
    double last = -1;
    for (const double watts : {0.5, 5.0, 20.0, 100.0}) {
      Station a, b;
      a.power_w = watts;
      const auto noise = noise_at(path.circuits().to_sky(0, h), sky_paths::london, 2, b, 14.06);
      const auto days = link(cell, strength(cell, path.path(), a, b, true), noise, mode).days_in_ten;
      CHECK(days >= last);
      last = days;
    }
  }
}
