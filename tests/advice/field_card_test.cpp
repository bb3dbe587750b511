#include "skerry/advice/field_card.hpp"

#include <algorithm>

#include "check.hpp"
#include "skerry/advice/agenda.hpp"
#include "skerry/core/nth.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

/// Days in ten written into an answer's openings, so that what opens is known.
struct Made {
  kit::Trip trip = small_trip();
  Advice advice;
  Made() {
    trip.targets.push_back(place_target("New Zealand", -41.3, 174.8, 1));
    AdviceOptions options;
    options.uncertainty = options.variants = options.frontier = false;
    advice = advise(trip, options);
    for (auto& slot : advice.openings.slots) slot = {};
  }
  Slot& at(int target, int hour, int band) {
    auto& table = advice.openings;
    return const_cast<Slot&>(table.at(0, target, hour, band));
  }
  void open(int target, int hour, int band, double days) {
    auto& slot = at(target, hour, band);
    slot.days_both = days;
    slot.by = ServedBy{Id<kit::Setup>(0), Id<noise::Mode>(0), Id<geodesy::WeightedPoint>(0)};
  }
};

}  // namespace

TEST_CASE("what opens comes first, by its hours on the air times its days and its weight",
          "[advice][known]") {
  // Sessions 08:00 to 11:30 UTC on three days: hours 8 (half), 9, 10, 11 of each: 10.5 h in all.
  Made made;
  for (const int hour : {9, 10}) made.open(2, hour, 1, 3);
  made.open(1, 9, 0, 2);
  // The weightiest opens at night alone, when nobody is on the air.
  made.open(0, 2, 0, 9);
  const auto regions = regions_by_opening(made.trip, made.advice);
  REQUIRE(regions.size() == 3);
  CHECK(regions[0].target == 2);
  CHECK(regions[0].open_h == Approx(6));
  CHECK(regions[0].weighted_h == Approx(6 * 0.3));
  CHECK(regions[0].session_h == Approx(10.5));
  CHECK(regions[1].target == 1);
  CHECK(regions[1].open_h == Approx(3));
  CHECK(regions[2].target == 0);
  CHECK_FALSE(regions[2].open());
  // 3 h on a fifth of the days: more than three times the weight outdoes it.
  made.trip.targets[1].weight = 2.9;
  CHECK(regions_by_opening(made.trip, made.advice)[0].target == 2);
  made.trip.targets[1].weight = 3.1;
  CHECK(regions_by_opening(made.trip, made.advice)[0].target == 1);
}

TEST_CASE("less than a day in ten is not open, and a trip without openings has none", "[advice][edge]") {
  Made made;
  made.open(1, 9, 0, 0.9);
  for (const auto& r : regions_by_opening(made.trip, made.advice)) CHECK_FALSE(r.open());
  made.advice.openings.slots.clear();
  const auto regions = regions_by_opening(made.trip, made.advice);
  REQUIRE(regions.size() == 3);
  // The weightiest stands first where nothing tells them apart.
  CHECK(regions[0].target == 0);
  CHECK_FALSE(band_service(made.trip, made.advice, 0, std::vector<int>{0}, 0).has_value());
}

TEST_CASE("a band is served by what is best in most of the hours on the air", "[advice][known]") {
  Made made;
  REQUIRE(made.advice.setups.possible.size() > 1);
  const std::vector<int> to{1};
  for (int hour = 0; hour < 8; ++hour) made.open(1, hour, 0, 6);
  made.open(1, 9, 0, 4);
  made.at(1, 9, 0).by->setup = Id<kit::Setup>(1);
  const auto service = band_service(made.trip, made.advice, 0, to, 0);
  REQUIRE(service);
  CHECK(service->setup == Id<kit::Setup>(1));
  CHECK(service->others);
  CHECK_FALSE(band_service(made.trip, made.advice, 0, to, 2).has_value());
}

TEST_CASE("an opening by the long way carries its bearing, and when", "[advice][known]") {
  // Open 07:00 to 11:00 and more; from 09:30 on the long way round.
  Made made;
  for (const int hour : {7, 8, 9, 10, 11}) {
    made.open(2, hour, 1, 8);
    made.at(2, hour, 1).way = hour >= 10 ? geodesy::Way::long_way : geodesy::Way::short_way;
  }
  const auto events = agenda(made.trip, made.advice, false);
  int seen = 0;
  for (const auto& e : events) {
    if (e.kind != EventKind::opening) continue;
    ++seen;
    REQUIRE(e.long_way);
    CHECK(utc_hour(e.long_way->from) == Approx(9.5));
    CHECK(e.long_way->to == e.end);
    const auto& t = made.advice.targets[2];
    CHECK(std::abs(e.long_way->bearing_deg - t.bearing_deg) == Approx(180));
    // Quarters of an hour, but where the session cuts it.
    CHECK(static_cast<int>((e.start.time_since_epoch().count() / 60)) % 15 == 0);
  }
  CHECK(seen == 3);
}
