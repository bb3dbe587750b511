// Causes against the engine's own ledger, and against what every handbook says about hours, seasons and
// heights.

#include "skerry/advice/explain.hpp"

#include <algorithm>
#include <cmath>

#include "check.hpp"
#include "skerry/advice/agenda.hpp"
#include "skerry/core/units.hpp"
#include "small_trip.hpp"

using namespace skerry;
using advice::Verdict;

namespace {

advice::ExplainQuestion question(GeoPoint from, GeoPoint to, double mhz, const char* band,
                                 std::optional<int> hour) {
  advice::ExplainQuestion q;
  q.from = from;
  q.to = to;
  q.climate.day = Day{std::chrono::year{2027}, std::chrono::month{2}, std::chrono::day{15}};
  q.climate.r12 = 60;
  advice::ExplainBand one;
  one.band = band;
  one.mhz = mhz;
  one.mode = *noise::find_mode("cw", {});
  one.utc_hour = hour;
  one.partner.power_w = 100;
  q.bands.push_back(one);
  return q;
}

const GeoPoint madeira = GeoPoint::at_deg(32.7, -16.9);
const GeoPoint paris = GeoPoint::at_deg(48.9, 2.3);
const GeoPoint rodrigues = GeoPoint::at_deg(-19.7, 63.4);

bool open(const advice::BandExplanation& e) {
  return e.verdict == Verdict::works || e.verdict == Verdict::sometimes || e.verdict == Verdict::too_weak;
}

}  // namespace

TEST_CASE("an explanation gives the days that the path answer gives", "[advice][property]") {
  // Source: the same engine by its other door, advice::answer.
  for (const GeoPoint to : {paris, rodrigues, GeoPoint::at_deg(33, -15)}) {
    for (const double mhz : {3.6, 7.03, 14.06, 28.06}) {
      advice::PathQuestion p;
      p.from.at = madeira;
      p.to.at = to;
      p.to.power_w = 100;
      p.from.environment = p.to.environment = noise::Environment::residential;
      p.climate = question(madeira, to, mhz, "", {}).climate;
      p.frequencies = {{"", mhz}};
      p.mode = *noise::find_mode("cw", {});
      const auto whole = advice::answer(p);
      for (const int hour : {0, 7, 13, 19}) {
        CAPTURE(to.lat_deg, mhz, hour);
        auto q = question(madeira, to, mhz, "", hour);
        q.bands.front().own.near_land = advice::near_land(madeira);
        q.bands.front().partner.near_land = advice::near_land(to);
        const auto e = advice::explain(q).front();
        const auto& b = whole.ways.front().hours[static_cast<std::size_t>(hour)].bands.front();
        const double days = circuit::both_ways(b.there.days_in_ten, b.back.days_in_ten);
        CHECK(e.utc_hour == hour);
        CHECK(open(e) == b.there.open);
        CHECK(e.days == Approx(days).margin(1e-9));
        // Up to 400 km the better of sky and ground stands in both answers, marked in both.
        CHECK(e.days_by_hour[static_cast<std::size_t>(hour)] == Approx(b.both_days_in_ten).margin(1e-9));
        CHECK(e.by_ground == b.by_ground);
        if (!open(e)) continue;
        // The ledger adds up to the margin of the worse direction.
        CHECK(e.margin_db == Approx(std::min(b.there.margin_db, b.back.margin_db)).margin(1e-9));
        CHECK(e.terms.margin_db() == Approx(e.margin_db).margin(1e-9));
        CHECK(e.d_layer_db >= e.least_d_layer_db);
        CHECK(e.d_layer_db <= e.most_d_layer_db);
        REQUIRE_FALSE(e.causes.empty());
        for (std::size_t i = 1; i < e.causes.size(); ++i) CHECK(e.causes[i - 1].db >= e.causes[i].db);
      }
    }
  }
}

TEST_CASE("the weakest point carries what the mode's MUF says on a path of one hop", "[advice][known]") {
  // Source: ITU-R P.533 section 3.5: on a single hop the control point is the middle, and its MUF is the
  // path's.
  auto q = question(paris, madeira, 21.06, "15m", 12);
  q.climate.r12 = 120;
  const auto e = advice::explain(q).front();
  REQUIRE(open(e));
  REQUIRE(e.mode.layer == circuit::Layer::f2);
  REQUIRE(e.mode.hops == 1);
  REQUIRE(e.weakest);
  CHECK(e.weakest->carries_mhz == Approx(e.mode.basic_muf_mhz).margin(0.02));
  CHECK(e.weakest->along_km == Approx(e.path.distance_km / 2).margin(0.01 * e.path.distance_km));
}

TEST_CASE("noon closes 80 m through the D layer and night opens it", "[advice][known]") {
  // Source: common practice, all handbooks: 80 m reaches a few hundred km by day and thousands by night.
  const auto noon = advice::explain(question(madeira, paris, 3.53, "80m", 13)).front();
  const auto night = advice::explain(question(madeira, paris, 3.53, "80m", 1)).front();
  CHECK(noon.days < 1);
  CHECK(night.days > noon.days);
  if (open(noon)) {
    CHECK(noon.causes.front().factor == advice::Factor::d_layer);
    CHECK(noon.d_layer_db > 30);
    const auto shift = advice::shift_between(noon, night);
    CHECK(shift.term == advice::Shift::Term::d_layer);
    CHECK(shift.db > 0);
  }
  CHECK(night.d_layer_db < 6);
}

TEST_CASE("10 m is closed at night in a quiet year because the layer is thin", "[advice][known]") {
  // Source: common practice.
  auto q = question(madeira, paris, 28.06, "10m", 2);
  q.climate.r12 = 5;
  const auto e = advice::explain(q).front();
  CHECK(e.verdict == Verdict::layer_thin);
  CHECK(e.limit_mhz < 28.06);
  CHECK(e.causes.front().factor == advice::Factor::layer);
  CHECK(e.causes.front().db == advice::closing_db);
}

TEST_CASE("a band that nothing packed works says so and nothing else", "[advice][edge]") {
  auto q = question(madeira, paris, 14.06, "20m", 12);
  q.bands.front().in_kit = false;
  const auto e = advice::explain(q).front();
  CHECK(e.verdict == Verdict::no_antenna);
  CHECK(e.days == 0);
}

TEST_CASE("a near place is never explained by the long way round", "[advice][regression]") {
  // Reason: over 30 000 km, 20 dB and more of free space beyond the short way, for a place under 7000 km.
  auto q = question(madeira, paris, 28.06, "10m", {});
  q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  for (const double power_w : {1e-6, 10.0, 1000.0}) {
    CAPTURE(power_w);
    q.bands.front().own.power_w = power_w;
    CHECK(advice::explain(q).front().path.way == geodesy::Way::short_way);
  }
  // Farther off it is taken only where it makes half a day.
  q = question(madeira, GeoPoint::at_deg(-33.9, 151.2), 14.06, "20m", {});
  q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  for (const double power_w : {1e-6, 1.0, 1000.0}) {
    q.bands.front().own.power_w = power_w;
    const auto e = advice::explain(q).front();
    CHECK((e.path.way == geodesy::Way::short_way || e.days >= 0.5));
  }
}

TEST_CASE("the strongest wave's angle lies in the span of those within 1 dB", "[advice][property]") {
  for (const double mhz : {3.53, 7.03, 14.06, 21.06}) {
    const auto e = advice::explain(question(madeira, paris, mhz, "", 14)).front();
    if (!open(e)) continue;
    CHECK(e.least_angle_deg <= e.angle_deg);
    CHECK(e.most_angle_deg >= e.angle_deg);
  }
}

TEST_CASE("without an hour the best of the hours on the air is told", "[advice][property]") {
  auto q = question(madeira, paris, 14.06, "20m", {});
  q.hours.fill(false);
  q.hours[3] = q.hours[14] = true;
  const auto e = advice::explain(q).front();
  CHECK(e.utc_hour == 14);
  CHECK(e.days_by_hour[14] >= e.days_by_hour[3]);
}

TEST_CASE("a higher dipole gives more at low angles, up to a wavelength", "[advice][known]") {
  // Source: array factor of a horizontal wire over ground, 2 sin(2 pi h/lambda sin el), and the resistance of
  // a half-wave dipole beside its image, 73.1 - R21 ohm (Carter 1932: R21 = 30 (2 Ci(kd) - Ci(k(r+l)) -
  // Ci(k(r-l))), d = 2h, r^2 = d^2 + l^2): over perfect ground, at 10 degrees on 14.06 MHz, from 3 to 6 m 2.2
  // dB and from 6 to 12 m 7.6 dB. Average ground reflects less than all and takes up to 2.5 dB from a wire at
  // 0.14 wavelengths, little from higher ones.
  const auto gain = [](double height_m) { return advice::lesson_dipole(height_m, 14.06).at_dbi(10, 0); };
  CHECK(gain(6) - gain(3) > 2.2);
  CHECK(gain(6) - gain(3) < 2.2 + 2.5);
  CHECK(gain(12) - gain(6) == Approx(7.6).margin(1.2));
}

TEST_CASE("a track holds its ends, steps of at most 100 km and the middles of its hops",
          "[advice][property]") {
  const auto path = geodesy::make_path(madeira, rodrigues, geodesy::Way::short_way);
  auto e = advice::explain(question(madeira, rodrigues, 14.06, "20m", 16)).front();
  REQUIRE(open(e));
  const int hops = e.mode.hops;
  const auto track = advice::track_of(path, std::move(e));
  CHECK(geodesy::distance_km(track.line.front(), madeira) < 1e-6);
  CHECK(geodesy::distance_km(track.line.back(), rodrigues) < 1e-6);
  for (std::size_t i = 1; i < track.line.size(); ++i) {
    CHECK(geodesy::distance_km(track.line[i - 1], track.line[i]) <
          100.7);  // sphere and ellipsoid differ by 0.6 %
  }
  REQUIRE(track.reflections.size() == static_cast<std::size_t>(hops));
  const double first_km = geodesy::distance_km(madeira, track.reflections.front().where);
  CHECK(first_km == Approx(path.distance_km / hops / 2).epsilon(0.006));
}

TEST_CASE("a trip's explanation agrees with the table of its packing advice", "[advice][property]") {
  // One place stands for each region here, so the two must be the same contact.
  const auto trip = advice::small_trip();
  const auto all = advice::advise(trip);
  int compared = 0;
  for (int target = 0; target < 2; ++target) {
    for (const int hour : {8, 9, 10, 11}) {
      const auto q = advice::question_of(trip, all, 0, target, hour);
      REQUIRE(q.bands.size() == trip.bands.size());
      const auto told = advice::explain(q);
      for (std::size_t b = 0; b < told.size(); ++b) {
        const auto& slot = all.openings.at(0, target, hour, static_cast<int>(b));
        CAPTURE(target, hour, b);
        if (slot.setup < 0 || !slot.open) continue;
        ++compared;
        CHECK(told[b].days == Approx(slot.days_both).margin(1e-6));
      }
    }
  }
  CHECK(compared > 0);
}

TEST_CASE("an agenda holds each day's session, the time to leave, and openings inside sessions",
          "[advice][known]") {
  const auto trip = advice::small_trip();
  const auto all = advice::advise(trip);
  const auto events = advice::agenda(trip, all, false);
  std::vector<advice::Event> sessions;
  std::vector<std::string> keys;
  for (const auto& e : events) {
    keys.push_back(e.key);
    if (e.kind == advice::EventKind::session) sessions.push_back(e);
  }
  REQUIRE(sessions.size() == 3);
  CHECK(to_iso(sessions.front().start) == "2027-03-12T08:00:00Z");
  CHECK(to_iso(sessions.front().end) == "2027-03-12T11:30:00Z");
  for (const auto& e : events) {
    if (e.kind != advice::EventKind::opening) continue;
    bool inside = false;
    for (const auto& s : sessions) inside = inside || (s.start <= e.start && e.end <= s.end);
    CHECK(inside);
    CHECK(e.peak_days > 0);
  }
  std::sort(keys.begin(), keys.end());
  CHECK(std::adjacent_find(keys.begin(), keys.end()) == keys.end());
  CHECK(advice::agenda(trip, all, true).size() >= events.size());
}
