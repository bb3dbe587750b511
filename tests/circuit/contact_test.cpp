#include "skerry/circuit/contact.hpp"

#include <random>

#include "check.hpp"
#include "isotropic.hpp"
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
  Passage passage;
  passage.count = 1;
  passage.modes[0].loss_db = 120;
  Station a;
  const auto path =
      geodesy::make_path(GeoPoint::at_deg(0, 0), GeoPoint::at_deg(0, 20), geodesy::Way::short_way);
  CHECK_THAT(level(passage, path, a, a).received_dbw(0), WithinAbs(-120, 1e-9));
  passage.count = 2;
  passage.modes[1].loss_db = 120;
  CHECK_THAT(level(passage, path, a, a).received_dbw(0), WithinAbs(-116.9897, 1e-4));
  a.gain_dbi = 2;
  CHECK_THAT(level(passage, path, a, a).received_dbw(to_db(10)), WithinAbs(-116.9897 + 10 + 4, 1e-4));
  passage.count = 0;
  CHECK_FALSE(level(passage, path, a, a).any);
  CHECK(std::isinf(level(passage, path, a, a).received_dbw(0)));
}

TEST_CASE("a hopeless long path stays a finite number", "[circuit][regression]") {
  // Top band at noon over 10 000 to 20 000 km of daylight: the long-path law gives fields of -1000 dB and
  // less.
  for (const double lon : {150.0, 170.0, -170.0, -130.0}) {
    const sky_paths::SkyPath path(sky_paths::rodrigues, GeoPoint::at_deg(-20, lon), 12, 160,
                                  geodesy::Way::short_way, sky_paths::by_limits());
    for (int h = 0; h < 24; ++h) {
      const Station a;
      const auto s = level(path.passage(h, 1.836), path.path(), a, a);
      if (s.any) CHECK(std::isfinite(s.received_dbw(10)));
    }
  }
  Passage passage;
  passage.long_loss_db = 2000;
  const auto path =
      geodesy::make_path(GeoPoint::at_deg(0, 0), GeoPoint::at_deg(0, 100), geodesy::Way::short_way);
  const Station a;
  passage.long_share = 1;
  CHECK(level(passage, path, a, a).received_dbw(0) == -2000);
  passage.long_share = 0.5;
  CHECK(std::isfinite(level(passage, path, a, a).received_dbw(0)));
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

namespace {

/// Paths of all lengths in all directions, a third of them in the 7000 to 9000 km blend, under one sky.
struct World {
  std::mt19937 random{7};
  std::vector<geodesy::Path> paths;
  std::unique_ptr<Circuits> circuits;
  antenna::Pattern lobed = isotropic(0, 14);
  const noise::Mode cw = *noise::find_mode("cw", {});

  explicit World(std::size_t count, const Settings& settings = {}) {
    std::uniform_real_distribution<double> uniform;
    for (std::size_t i = 0; i < count; ++i) {
      const auto from = GeoPoint::at_deg(140 * uniform(random) - 70, 360 * uniform(random) - 180);
      const double km = i % 3 == 0 ? 7000 + 2000 * uniform(random) : 100 + 19800 * uniform(random);
      paths.push_back(geodesy::make_path(from, geodesy::destination(from, 360 * uniform(random), km),
                                         i % 7 == 0 ? geodesy::Way::long_way : geodesy::Way::short_way));
    }
    ionosphere::Climate climate;
    climate.day = middle_of(std::chrono::year{2027} / 2);
    climate.r12 = ionosphere::R12(90);
    circuits = std::make_unique<Circuits>(paths, climate, settings);
    for (auto& gain : lobed.gain_dbi) gain = static_cast<float>(12 * uniform(random) - 8);
  }
  Station station() {
    std::uniform_real_distribution<double> uniform;
    Station s;
    s.power_w = std::pow(10, 2.5 * uniform(random) - 0.5);
    s.gain_dbi = 10 * uniform(random) - 5;
    if (uniform(random) < 0.5) s.pattern = &lobed;
    s.layout_azimuth_deg = 360 * uniform(random);
    s.efficiency_db = -6 * uniform(random);
    s.land_share = uniform(random);
    return s;
  }
  double mhz() { return std::uniform_real_distribution<double>(1.8, 29.9)(random); }
};

/// What no noise would let through stands at one low level, whatever the power.
bool hopeless(const Direction& d) {
  return d.received_dbw <= -260;
}

}  // namespace

TEST_CASE("every contact's ledgers sum to its margins, in both directions and both methods",
          "[circuit][property]") {
  World world(90, sky_paths::by_limits());
  int open = 0, blended = 0, by_long = 0;
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    const auto from = world.station(), to = world.station();
    for (int hour = 0; hour < 24; ++hour) {
      for (int k = 0; k < 4; ++k) {
        const double mhz = world.mhz();
        CAPTURE(i, world.paths[i].distance_km, hour, mhz);
        const auto c = contact(*world.circuits, i, hour, mhz, from, to, world.cw);
        REQUIRE(c.open() == (c.there.open && c.back.open));
        CHECK(c.days_in_ten == std::min(c.there.days_in_ten, c.back.days_in_ten));
        if (!c.any()) {
          CHECK(c.days_in_ten == c.es_days());
          continue;
        }
        ++open;
        blended += c.passage.long_share > 0 && c.passage.long_share < 1 ? 1 : 0;
        by_long += c.long_method() ? 1 : 0;
        for (const auto& [d, t, noise] : {std::tuple(c.there, c.there_terms, c.noise_to),
                                          std::tuple(c.back, c.back_terms, c.noise_from)}) {
          CHECK(t.received_dbw() == Approx(d.received_dbw).margin(1e-9));
          CHECK(t.margin_db() == Approx(d.margin_db).margin(1e-9));
          CHECK(t.losses_db() == Approx(c.strongest().loss_db).margin(1e-9));
          CHECK(t.noise_dbw == Approx(noise.dbw_per_hz + to_db(world.cw.bandwidth_hz)).margin(1e-9));
          if (c.passage.es_count == 0) {
            CHECK(d.days_as_assumed == 10 * reliability(d.margin_db, d.snr_upper_db, d.snr_lower_db));
            CHECK(d.days_in_ten ==
                  10 * reliability(d.margin_db, d.snr_upper_db, d.snr_lower_db, unknown_db(from, to)));
          }
          CHECK(d.days_in_ten >= d.es_days - 1e-9);
          // What is added to the strongest mode is never negative where modes add up, and no more than nine
          // equal ones.
          if (c.passage.long_share > 0 || hopeless(d)) continue;
          CHECK(t.together_db > -1e-9);
          CHECK(t.together_db < to_db(max_modes) + 1e-9);
        }
        CHECK(c.there_terms.sent_dbw == Approx(to_db(from.power_w)));
        CHECK(c.back_terms.sent_dbw == Approx(to_db(to.power_w)));
        // The same sky both ways: but for the floor the powers alone differ.
        if (c.passage.long_share == 1 ||
            (c.passage.long_share == 0 && !hopeless(c.there) && !hopeless(c.back)))
          CHECK(c.there.received_dbw - c.back.received_dbw ==
                Approx(to_db(from.power_w) - to_db(to.power_w)).margin(1e-9));
      }
    }
  }
  CHECK(open > 3000);
  CHECK(blended > 500);
  CHECK(by_long > 500);
}

TEST_CASE("the long-path method's one loss is split between its two limits", "[circuit][property]") {
  // Source: P.533 section 5.3: its two terms, (fL+fH)^2/(f+fH)^2 and (f+fH)^2/(fM+fH)^2: the higher the
  // frequency, the less the D layer takes of them, and half where (f+fH)^2 = (fL+fH)(fM+fH).
  World world(60, sky_paths::by_limits());
  const Station a;
  int compared = 0;
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    if (world.paths[i].distance_km <= 9000) continue;
    for (int hour = 0; hour < 24; hour += 5) {
      const auto muf = world.circuits->muf(i, hour);
      double last = 1;
      for (const double share : {0.3, 0.5, 0.7, 0.9}) {
        const double mhz = muf.long_upper_mhz * share;
        if (mhz < 1.8 || mhz > 30) continue;
        CAPTURE(i, hour, mhz);
        const auto c = contact(*world.circuits, i, hour, mhz, a, a, world.cw);
        if (!c.open()) continue;
        REQUIRE(c.long_method());
        const auto& t = c.there_terms;
        CHECK(t.d_layer_db + t.above_muf_db == Approx(c.passage.long_mode.absorption_db).margin(1e-9));
        CHECK(c.passage.long_lower_share > 0);
        CHECK(c.passage.long_lower_share < last);
        last = c.passage.long_lower_share;
        ++compared;
      }
      // The points of long_path.cpp are the half-hop points; their mean gyrofrequency is the method's.
      double gyro_mhz = 0;
      for (const auto& p : world.circuits->control_points(i, hour)) {
        if (p.role == PointRole::from_half_hop || p.role == PointRole::to_half_hop)
          gyro_mhz += p.gyro300_mhz / 2;
      }
      const double middle_mhz =
          std::sqrt((muf.long_lower_mhz + gyro_mhz) * (muf.long_upper_mhz + gyro_mhz)) - gyro_mhz;
      if (middle_mhz < 1.8 || middle_mhz > 30 || middle_mhz > muf.long_upper_mhz) continue;
      CHECK(world.circuits->passage(i, hour, middle_mhz).long_lower_share == Approx(0.5).margin(1e-9));
    }
  }
  CHECK(compared > 200);
}

TEST_CASE("what frequencies and hours share changes no passage", "[circuit][property]") {
  for (const auto& settings : {Settings{}, sky_paths::by_limits()}) {
    World world(30, settings);
    std::vector<double> mhz{1.85, 28.06, 14.06};
    for (int i = 0; i < 5; ++i) mhz.push_back(world.mhz());
    Passage together;  // filled again and again
    for (std::size_t i = 0; i < world.paths.size(); ++i) {
      Circuits::Tuned tuned(*world.circuits, i, mhz);
      for (int hour = 23; hour >= 0; --hour) {
        tuned.begin(hour);
        for (std::size_t f = 0; f < mhz.size(); ++f) {
          tuned.fill(f, together);
          const auto alone = world.circuits->passage(i, hour, mhz[f]);
          CAPTURE(i, hour, mhz[f]);
          REQUIRE(together.count == alone.count);
          REQUIRE(together.es_count == alone.es_count);
          CHECK(together.carried == alone.carried);
          CHECK(together.long_share == alone.long_share);
          CHECK(together.long_loss_db == alone.long_loss_db);
          CHECK(together.day_upper_db == alone.day_upper_db);
          for (std::size_t k = 0; k < alone.in_use().size(); ++k) {
            CHECK(together.modes[k].hops == alone.modes[k].hops);
            CHECK(together.modes[k].elevation_deg == alone.modes[k].elevation_deg);
            CHECK(together.modes[k].loss_db == alone.modes[k].loss_db);
            CHECK(together.modes[k].support_probability == alone.modes[k].support_probability);
          }
          for (std::size_t k = 0; k < alone.es_in_use().size(); ++k) {
            CHECK(together.es[k].mode.loss_db == alone.es[k].mode.loss_db);
            CHECK(together.es[k].odds(20) == alone.es[k].odds(20));
          }
        }
      }
    }
  }
}

TEST_CASE("contacts by the hour are the single ones", "[circuit][property]") {
  World world(40);
  const std::vector<double> mhz{3.56, 7.03, 14.06, 21.06, 28.06};
  std::vector<Noise> noise_from(mhz.size()), noise_to(mhz.size());
  std::vector<BothWays> all(mhz.size());
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    const auto from = world.station(), to = world.station();
    Link link(*world.circuits, i, mhz, from, to, world.cw);
    for (int hour = 0; hour < 24; hour += 3) {
      for (std::size_t f = 0; f < mhz.size(); ++f) {
        noise_from[f] = noise_at(world.circuits->from_sky(i, hour), world.paths[i].from, 2, from, mhz[f]);
        noise_to[f] = noise_at(world.circuits->to_sky(i, hour), world.paths[i].to, 2, to, mhz[f]);
      }
      link.contacts(hour, noise_from, noise_to, all);
      for (std::size_t f = 0; f < mhz.size(); ++f) {
        CAPTURE(i, hour, mhz[f]);
        const auto one = contact(*world.circuits, i, hour, mhz[f], from, to, world.cw);
        const auto& [a, b] = std::tie(one.there, all[f].there);
        CHECK(a.open == b.open);
        CHECK(a.received_dbw == b.received_dbw);
        CHECK(a.margin_db == b.margin_db);
        CHECK(a.snr_upper_db == b.snr_upper_db);
        CHECK(a.snr_lower_db == b.snr_lower_db);
        CHECK(a.days_in_ten == b.days_in_ten);
        CHECK(one.back.open == all[f].back.open);
        CHECK(one.back.snr_upper_db == all[f].back.snr_upper_db);
        CHECK(one.back.snr_lower_db == all[f].back.snr_lower_db);
        // Where the floor has no say the way back differs in power alone.
        const bool floored = one.passage.count == 0 && one.passage.long_share < 1;
        if (floored || hopeless(one.there) || hopeless(one.back)) continue;
        if (one.passage.long_share > 0 && one.passage.long_share < 1 &&
            one.level.modes_dbw + to_db(std::min(from.power_w, to.power_w)) < -260)
          continue;
        CHECK(one.back.received_dbw == Approx(all[f].back.received_dbw).margin(1e-9));
        CHECK(one.back.days_in_ten == Approx(all[f].back.days_in_ten).margin(1e-9));
        CHECK(one.days_in_ten == Approx(all[f].days_in_ten).margin(1e-9));
        CHECK(one.es_days() == Approx(all[f].es_days()).margin(1e-9));
      }
    }
  }
}

TEST_CASE("the least received power is the one that makes the wanted days", "[circuit][property]") {
  World world(20);
  const Station a;
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    const auto c = contact(*world.circuits, i, 12, 14.06, a, a, world.cw);
    const double spread_db = unknown_db(a, a);
    for (const double days : {0.5, 3.0, 5.0, 7.5, 9.5}) {
      const double dbw = least_dbw(c.passage, c.noise_to, days, spread_db) + to_db(world.cw.bandwidth_hz) +
                         world.cw.required_snr_db;
      const auto by_regular = [&](double level_dbw) {
        Received received;
        received.dbw = level_dbw;
        return direction(c.passage, received, c.noise_to, world.cw, spread_db).days_in_ten;
      };
      CHECK(by_regular(dbw) <= days + 1e-9);
      if (c.passage.es_count == 0) CHECK(by_regular(dbw + 0.5) >= days);
    }
  }
}

TEST_CASE("days that need not be known whole are right where they are more, and never more than they are",
          "[circuit][property]") {
  World world(30);
  int cut = 0;
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    const auto to = world.station();
    for (int hour = 0; hour < 24; hour += 3) {
      const auto c = contact(*world.circuits, i, hour, world.mhz(), to, to, world.cw);
      const double spread_db = unknown_db(to, to);
      for (const double watts : {0.1, 10.0, 1000.0}) {
        const auto received = c.level.received(to_db(watts));
        const double whole = days_in_ten(c.passage, received, c.noise_to, world.cw, spread_db);
        CHECK(whole == direction(c.passage, received, c.noise_to, world.cw, spread_db).days_in_ten);
        for (const double least : {0.01, 1.0, 3.0, 7.0, 9.9}) {
          const double asked = days_in_ten(c.passage, received, c.noise_to, world.cw, spread_db, least);
          CHECK((whole >= least ? asked == whole : asked == whole || asked == 0));
          cut += asked != whole ? 1 : 0;
        }
      }
    }
  }
  CHECK(cut > 100);
}

TEST_CASE("more power or gain never means fewer days in either direction", "[circuit][property]") {
  World world(30);
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    const auto to = world.station();
    for (int hour = 0; hour < 24; hour += 2) {
      const double mhz = world.mhz();
      Contact last;
      for (const double watts : {0.5, 5.0, 20.0, 100.0}) {
        Station from;
        from.power_w = watts;
        const auto c = contact(*world.circuits, i, hour, mhz, from, to, world.cw);
        CHECK(c.there.days_in_ten >= last.there.days_in_ten);
        if (watts > 0.5) CHECK(c.back.days_in_ten == last.back.days_in_ten);
        last = c;
      }
      last = {};
      for (const double gain : {-10.0, 0.0, 3.0, 6.0}) {
        Station from;
        from.gain_dbi = gain;
        const auto c = contact(*world.circuits, i, hour, mhz, from, to, world.cw);
        CHECK(c.there.days_in_ten >= last.there.days_in_ten);
        CHECK(c.back.days_in_ten >= last.back.days_in_ten);
        last = c;
      }
    }
  }
}

TEST_CASE("every contact by hops alone sums to its margins as well", "[circuit][property]") {
  World world(60);
  int far = 0;
  for (std::size_t i = 0; i < world.paths.size(); ++i) {
    const auto from = world.station(), to = world.station();
    for (int hour = 0; hour < 24; hour += 3) {
      const auto c = contact(*world.circuits, i, hour, world.mhz(), from, to, world.cw);
      REQUIRE(c.any());
      REQUIRE_FALSE(c.long_method());
      CHECK(c.there_terms.margin_db() == Approx(c.there.margin_db).margin(1e-9));
      CHECK(c.back_terms.margin_db() == Approx(c.back.margin_db).margin(1e-9));
      far += world.paths[i].distance_km > 9000 ? 1 : 0;
    }
  }
  CHECK(far > 100);
}

TEST_CASE("the mean over stations is the integral over a normal law", "[circuit][known]") {
  // Authority: the midpoint rule in steps of a hundredth of a standard deviation.
  for (const double spread : {5.0, 11.0, 15.0, 20.0}) {
    for (double margin = -60; margin <= 60; margin += 3) {
      double sum = 0, weights = 0;
      for (double x = -5; x <= 5; x += 0.01) {
        const double w = std::exp(-x * x / 2);
        weights += w;
        sum += w * reliability(margin + spread * x, 9, 14);
      }
      CHECK_THAT(reliability(margin, 9, 14, spread), WithinAbs(sum / weights, 0.006));
    }
  }
  CHECK(reliability(3, 9, 14, 0) == reliability(3, 9, 14));
}

TEST_CASE("not knowing lowers what is likely and raises what is not", "[circuit][property]") {
  // Between about 3 and 8 days the two halves of the ratio's spread, which differ, decide.
  for (double upper = 6; upper <= 22; upper += 4) {
    for (double lower = 8; lower <= 26; lower += 3) {
      for (double margin = -50; margin <= 50; margin += 0.5) {
        const double stated = reliability(margin, upper, lower);
        if (stated > 0.25 && stated < 0.8) continue;
        double last = stated;
        for (double spread = 1; spread <= 40; ++spread) {
          const double now = reliability(margin, upper, lower, spread);
          CAPTURE(upper, lower, margin, spread, stated);
          CHECK((stated >= 0.8 ? last - now : now - last) >= -1e-3);
          last = now;
        }
      }
    }
  }
}

TEST_CASE("without sporadic E there are no days by it, with it never fewer days", "[circuit][property]") {
  Settings off;
  off.sporadic_e = false;
  World with(60), without(60, off);
  const Station a;
  int carried = 0;
  for (std::size_t i = 0; i < with.paths.size(); ++i) {
    for (int hour = 0; hour < 24; hour += 2) {
      for (const double mhz : {14.06, 21.06, 28.06}) {
        const auto on = contact(*with.circuits, i, hour, mhz, a, a, with.cw);
        const auto no = contact(*without.circuits, i, hour, mhz, a, a, with.cw);
        CHECK(no.es_days() == 0);
        CHECK(no.passage.es_count == 0);
        CHECK(on.days_in_ten >= no.days_in_ten - 1e-9);
        CHECK(on.there.margin_db == no.there.margin_db);
        carried += on.es_days() > 0.5 ? 1 : 0;
      }
    }
  }
  CHECK(carried > 0);
}

TEST_CASE("from the sea inland the share of land grows without a jump", "[circuit][property]") {
  // Off a coast at 38.5 W: no step above an eighth within 50 km, all sea to all land within a thousand.
  double last = land_share(GeoPoint::at_deg(-2, -33));
  CHECK(last == 0);
  for (double lon = -33; lon >= -45; lon -= 0.45) {
    const double now = land_share(GeoPoint::at_deg(-6, lon));
    CHECK(now >= 0);
    CHECK(now <= 1);
    if (lon < -33) CHECK(std::abs(now - last) < 0.3);
    last = now;
  }
  CHECK(last == 1);
}
