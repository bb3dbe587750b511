#include "skerry/advice/reach.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/advice/patterns.hpp"
#include "skerry/circuit/explain.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

double minutes_at(const std::vector<SiteHour>& hours, int utc_hour) {
  for (const auto& h : hours) {
    if (h.utc_hour == utc_hour) return h.minutes;
  }
  return 0;
}

bool within(const std::vector<float>& small, const std::vector<float>& big) {
  // The nothing under which days are not computed may be crossed either way.
  for (std::size_t i = 0; i < small.size(); ++i) {
    if (small[i] > big[i] + 0.006F) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("a session gives its minutes to the nearest whole hours of UTC, once for each day",
          "[reach][known]") {
  kit::Trip t = small_trip();  // three days
  t.sessions[0].start_minute = 5 * 60 + 30;
  t.sessions[0].end_minute = 8 * 60;
  // By hand: 05:30-06:30 is nearest to 6, 06:30-07:30 to 7, 07:30-08:00 to 8.
  auto hours = session_hours(t);
  REQUIRE(hours.size() == 3);
  CHECK(minutes_at(hours, 6) == 180);
  CHECK(minutes_at(hours, 7) == 180);
  CHECK(minutes_at(hours, 8) == 90);

  // Clock four hours ahead of UTC: everything four hours earlier.
  t.sites[0].zone = sun::Zone::fixed(4 * 3600, "+04:00");
  hours = session_hours(t);
  CHECK(minutes_at(hours, 2) == 180);
  CHECK(minutes_at(hours, 4) == 90);

  // Past midnight, and into the hours of the UTC day before.
  t.sessions[0].start_minute = 23 * 60;
  t.sessions[0].end_minute = 25 * 60;
  hours = session_hours(t);
  CHECK(minutes_at(hours, 19) == 90);
  CHECK(minutes_at(hours, 20) == 180);
  CHECK(minutes_at(hours, 21) == 90);
}

TEST_CASE("sessions that overlap count once, and no session means all day", "[reach][edge]") {
  kit::Trip t = small_trip();
  t.sessions.push_back(t.sessions[0]);
  t.sessions[1].start_minute += 60;
  t.sessions[1].end_minute += 60;
  const auto twice = session_hours(t);
  double sum = 0;
  for (const auto& h : twice) sum += h.minutes;
  CHECK(sum == 3 * 270);  // 08:00 to 12:30 on three days

  t.sessions[0].days = {t.first_day};
  t.sessions.pop_back();
  sum = 0;
  for (const auto& h : session_hours(t)) sum += h.minutes;
  CHECK(sum == 210);

  t.sessions.clear();
  const auto all = session_hours(t);
  REQUIRE(all.size() == 24);
  CHECK(minutes_at(all, 13) == 180);
}

TEST_CASE("the model says what the circuit room says when asked step by step", "[reach][known]") {
  // Authority: the plain sequence of calls, written out once more for a single path, without any of the
  // tables.
  const kit::Trip t = small_trip();
  const auto setups = kit::derive_setups(t).possible;
  REQUIRE(setups.size() >= 4);
  const auto book = pattern_book(t, setups);
  const ReachModel model(t, setups, book);
  int compared = 0, open = 0;
  for (int s = 0; s < static_cast<int>(setups.size()); ++s) {
    const int one[] = {s};
    const auto table = model.openings(one);
    const auto days = model.best_days(one);
    const auto& reach = nth(model.setups(), s);
    for (std::size_t c = 0; c < model.cells().size(); ++c) {
      const auto& cell = model.cells()[c];
      const auto& target = nth(t.targets, cell.target);
      double best = 0;
      for (const auto& use : nth(book.setups, s)) {
        const double mhz = nth(t.bands, use.band).mhz;
        double band_best = 0;
        for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
          const geodesy::Path path[] = {geodesy::make_path(t.sites[0].at, target.people[0].where, way)};
          const circuit::Circuits circuits(path, t.climate);
          circuit::Station own, partner;
          own.power_w = use.power_w;
          own.pattern = &nth(book.radiators, use.radiator).pattern;
          own.layout_azimuth_deg = reach.layout_azimuth_deg;
          own.efficiency_db = own.pattern->system_efficiency_db;
          own.environment = noise::Environment::quiet;
          own.land_share = circuit::land_share(t.sites[0].at);
          partner.power_w = 100;
          partner.gain_dbi = 2;
          partner.spread_db = circuit::unknown_station(100, partner.environment, {}).spread_db;
          partner.land_share = circuit::land_share(target.people[0].where);
          const auto contact = circuit::contact(circuits, 0, cell.utc_hour, mhz, own, partner, t.modes[0]);
          open += contact.open() ? 1 : 0;
          const double short_km = geodesy::distance_km(path[0].from, path[0].to);
          const bool counts =
              way == geodesy::Way::short_way || circuit::long_way_counts(short_km, contact.days_in_ten);
          if (counts && contact.there.days_in_ten >= 0.06) best = std::max(best, contact.days_in_ten);
          if (counts && contact.open()) band_best = std::max(band_best, contact.days_in_ten);
        }
        const auto& slot = table.at(0, cell.target, cell.utc_hour, use.band);
        CHECK_THAT(slot.days_both, WithinAbs(band_best, 1e-6));
      }
      // The powers are added in another order: rounding only.
      CHECK_THAT(days[c], WithinAbs(best, days[c] < 0.06 ? 0.06 : 1e-6));
      CHECK_THAT(10 * reach.chance[c], WithinAbs(days[c], 1e-5));
      ++compared;
    }
  }
  CHECK(compared >= 20);
  CHECK(open > 0);
}

TEST_CASE("more power, a better antenna or a smaller wish never lose a cell; more noise never wins one",
          "[reach][property]") {
  kit::Trip t = small_trip();
  t.sessions.clear();
  const auto setups = kit::derive_setups(t).possible;
  const auto book = pattern_book(t, setups);
  const ReachModel plain(t, setups, book);
  std::vector<double> layouts;
  for (const auto& s : plain.setups()) layouts.push_back(s.layout_azimuth_deg);

  Stress worse, noisier;
  worse.antenna_db = -2;
  noisier.noisier = true;
  const ReachModel weak(t, setups, book, worse, layouts);
  const ReachModel noisy(t, setups, book, noisier, layouts);
  kit::Trip easy_trip = t;
  easy_trip.modes = {*noise::find_mode("ft8", {})};  // needs less signal than Morse
  const ReachModel easy(easy_trip, setups, book, {}, layouts);
  kit::Trip strong_trip = t;
  for (auto& rig : strong_trip.rigs) rig.power_w *= 2;
  const auto strong_book = pattern_book(strong_trip, setups);
  const ReachModel strong(strong_trip, setups, strong_book, {}, layouts);
  double gained = 0, lost = 0;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    CHECK(within(weak.setups()[s].chance, plain.setups()[s].chance));
    CHECK(within(noisy.setups()[s].chance, plain.setups()[s].chance));
    CHECK(within(plain.setups()[s].chance, easy.setups()[s].chance));
    CHECK(within(plain.setups()[s].chance, strong.setups()[s].chance));
    gained += strong.setups()[s].alone - plain.setups()[s].alone;
    lost += plain.setups()[s].alone - weak.setups()[s].alone;
  }
  CHECK(gained > 0);
  CHECK(lost > 0);
}

TEST_CASE("a dipole is laid out with its broadside towards the only region", "[reach][known]") {
  // Common practice: a half-wave dipole radiates best at right angles to the wire.
  kit::Trip t = small_trip();
  t.antennas.resize(1);
  // A free-space dipole given wire by wire, level and high, so that the figure of eight is plain at low
  // angles.
  antenna::WireAntenna level;
  level.id = "dipole";
  level.wires = {{{-5.05, 0, 8}, {5.05, 0, 8}, 0.5, 5.8e7, false}};
  level.feed = {1, 0.5};
  t.antennas[0].wires = level;
  t.sessions.clear();
  t.targets.resize(1);
  const auto setups = kit::derive_setups(t).possible;
  REQUIRE_FALSE(setups.empty());
  const auto book = pattern_book(t, setups);
  for (const double bearing_deg : {0.0, 90.0, 150.0}) {
    t.targets[0].people[0].where = geodesy::destination(t.sites[0].at, bearing_deg, 2200);
    const ReachModel model(t, setups, book);
    bool tried = false;
    for (const auto& s : model.setups()) {
      if (!s.turns || s.alone <= 0) continue;
      tried = true;
      const double wire_deg = 90 + s.layout_azimuth_deg;
      // Off the ends would be 0 or 180 apart; the flat top of the pattern and the steps of 30 degrees
      // leave 45.
      const double apart = std::abs(wrap_180(2 * (wire_deg - bearing_deg))) / 2;
      CAPTURE(bearing_deg, s.layout_azimuth_deg, s.alone);
      CHECK(apart >= 45);
    }
    CHECK(tried);
  }
}

TEST_CASE("the radiated power stays within the band's limit, the licence and the rig", "[reach][known]") {
  // Source: ITU Radio Regulations No. 5.133B: 15 W e.i.r.p. on 5351.5-5366.5 kHz.
  kit::Trip t = small_trip();
  t.bands = {*noise::find_band("60m", 1, {})};
  REQUIRE(t.bands[0].eirp_limit_w.has_value());
  for (auto& a : t.antennas) a.design.bands_mhz = {t.bands[0].mhz};
  t.rigs[1].power_w = 100;
  const auto setups = kit::derive_setups(t).possible;
  REQUIRE_FALSE(setups.empty());
  const auto book = pattern_book(t, setups);
  bool limited = false;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    for (const auto& use : book.setups[s]) {
      double strongest = -99;
      for (const float g : nth(book.radiators, use.radiator).pattern.gain_dbi) {
        strongest = std::max(strongest, static_cast<double>(g));
      }
      CHECK(use.power_w * from_db(strongest) <= *t.bands[0].eirp_limit_w * (1 + 1e-9));
      CHECK(use.power_w <= t.at(setups[s].rig).power_w);
      limited = limited || use.power_limited;
    }
  }
  CHECK(limited);
  t.licence_power_w = 1;
  for (const auto& uses : pattern_book(t, setups).setups) {
    for (const auto& use : uses) CHECK(use.power_w <= 1);
  }
}

TEST_CASE("voice is not counted on 30 m, Morse is", "[reach][known]") {
  // Common practice: IARU band plans of all Regions keep telephony off 10.1 MHz.
  const auto band = *noise::find_band("30m", 1, {});
  CHECK_FALSE(mode_on_band(*noise::find_mode("ssb", {}), band));
  CHECK(mode_on_band(*noise::find_mode("cw", {}), band));
  CHECK(mode_on_band(*noise::find_mode("ssb", {}), *noise::find_band("20m", 1, {})));
}

TEST_CASE("the sea in sight helps low angles in its direction and nothing else", "[reach][known]") {
  // Common practice: a vertical by the salt water is stronger at low angles than the same on rock.
  kit::Trip t = small_trip();
  t.sites[0].ground = *antenna::find_ground("rock", {});
  const auto setups = kit::derive_setups(t).possible;
  const auto inland = pattern_book(t, setups);
  t.sites[0].sea_from_m = 20;
  t.sites[0].sea_azimuth_from_deg = 90;
  t.sites[0].sea_azimuth_to_deg = 200;
  const auto coast = pattern_book(t, setups);
  bool vertical_seen = false;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    REQUIRE(inland.setups[s].size() == coast.setups[s].size());
    for (std::size_t u = 0; u < inland.setups[s].size(); ++u) {
      const auto& a = nth(inland.radiators, inland.setups[s][u].radiator);
      const auto& b = nth(coast.radiators, coast.setups[s][u].radiator);
      REQUIRE(b.towards.size() == 1);
      CHECK(a.towards.empty());
      CHECK(a.pattern.gain_dbi == b.pattern.gain_dbi);
      CHECK(&b.at_bearing(t.sites[0], 30) == &b.pattern);  // land that way
      const auto& seaward = b.at_bearing(t.sites[0], 150);
      CHECK(&seaward == &b.towards[0].pattern);
      CHECK(seaward.at_dbi(85, 0) == Approx(a.pattern.at_dbi(85, 0)).margin(1e-4));  // too steep: on land
      if (t.at(setups[s].antenna).design.kind != antenna::Kind::vertical_quarter) continue;
      vertical_seen = true;
      CHECK(seaward.at_dbi(2, 0) > a.pattern.at_dbi(2, 0) + 1);
    }
  }
  CHECK(vertical_seen);
}

TEST_CASE("a foreground told by azimuth is the tilted plane of a slope, each way its own",
          "[reach][property]") {
  kit::Trip t = small_trip();
  const auto setups = kit::derive_setups(t).possible;
  t.sites[0].slope_deg = 12;
  t.sites[0].slope_azimuth_deg = 180;
  const auto plane = pattern_book(t, setups);
  auto by_azimuth = t.sites[0];
  by_azimuth.slope_deg = 0;
  by_azimuth.slope_azimuth_deg.reset();
  // The same plane, in whole degrees of azimuth.
  for (int a = 0; a < 360; ++a)
    by_azimuth.foreground.points.push_back(
        {static_cast<double>(a), std::atan(tan_deg(12) * cos_deg(a - 180.0)) * deg_per_rad});
  auto told = t;
  told.sites[0] = by_azimuth;
  const auto rows = pattern_book(told, setups, &plane);
  for (std::size_t r = 0; r < plane.radiators.size(); ++r) {
    const auto& a = plane.radiators[r];
    const auto& b = rows.radiators[r];
    REQUIRE(a.towards.size() == b.towards.size());
    CHECK(a.towards.size() > 10);
    for (const double bearing : {0.0, 90.0, 133.0, 180.0})
      CHECK(a.at_bearing(t.sites[0], bearing).gain_dbi == b.at_bearing(by_azimuth, bearing).gain_dbi);
  }
}
