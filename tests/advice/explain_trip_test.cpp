// What a trip asks of the explanation, the track it draws from it, and the agenda.

#include "skerry/advice/explain_trip.hpp"

#include <algorithm>

#include "check.hpp"
#include "skerry/advice/agenda.hpp"
#include "small_trip.hpp"

using namespace skerry;

namespace {

const GeoPoint madeira = GeoPoint::at_deg(32.7, -16.9);
const GeoPoint rodrigues = GeoPoint::at_deg(-19.7, 63.4);

}  // namespace

TEST_CASE("a track holds its ends, steps of at most 100 km and the middles of its hops",
          "[advice][property]") {
  const auto path = geodesy::make_path(madeira, rodrigues, geodesy::Way::short_way);
  circuit::ExplainQuestion q;
  q.from = madeira;
  q.to = rodrigues;
  q.climate.day = Day{std::chrono::year{2027}, std::chrono::month{2}, std::chrono::day{15}};
  q.climate.r12 = ionosphere::R12(60);
  circuit::ExplainBand band;
  band.band = "20m";
  band.mhz = 14.06;
  band.mode = *noise::find_mode("cw", {});
  band.utc_hour = 16;
  band.partner.power_w = 100;
  q.bands.push_back(band);
  auto e = circuit::explain(q).front();
  using circuit::Verdict;
  REQUIRE((e.verdict == Verdict::works || e.verdict == Verdict::sometimes || e.verdict == Verdict::too_weak));
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
      const auto q = advice::question_of(trip, all, 0, target, hour,
                                         [](const kit::Setup&) { return std::string("wire"); });
      REQUIRE(q.bands.size() == trip.bands.size());
      const auto told = circuit::explain(q);
      for (std::size_t b = 0; b < told.size(); ++b) {
        const auto& slot = all.openings.at(0, target, hour, static_cast<int>(b));
        CAPTURE(target, hour, b);
        if (!slot.open()) continue;
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
