#include "skerry/advice/elsewhere.hpp"

#include <algorithm>

#include "check.hpp"
#include "skerry/advice/prepared.hpp"
#include "skerry/core/nth.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;
using Kind = geodesy::Spot::Kind;

namespace {

Place place(Kind kind, GeoPoint at, double altitude_m, double out_minutes) {
  Place out;
  out.spot.kind = kind;
  out.spot.at = at;
  out.spot.height_m = altitude_m;
  out.spot.out_minutes = out.spot.back_minutes = out_minutes;
  out.lie.altitude_m = altitude_m;
  return out;
}

/// A pit with walls of 35 degrees all round, a beach with the sea to the south and east, a free top.
std::vector<Place> three_places() {
  auto pit = place(Kind::planned, GeoPoint::at_deg(59.53, -1.63), 20, 0);
  pit.lie.horizon.points = {{0, {35, 0.5}}};
  auto beach = place(Kind::shore, GeoPoint::at_deg(59.52, -1.62), 3, 15);
  beach.spot.faces_deg = 135;
  beach.lie.shore.sectors = {{45, 20}, {225, 0}};
  beach.lie.horizon.points = {{0, {6, 0.4}}, {90, {0, 1}}, {180, {0, 1}}, {270, {6, 0.4}}};
  auto top = place(Kind::summit, GeoPoint::at_deg(59.54, -1.64), 217, 55);
  top.spot.steepest_deg = 48;
  return {pit, beach, top};
}

const Valued& of(const Elsewhere& all, Kind kind) {
  return *std::find_if(all.places.begin(), all.places.end(),
                       [&](const Valued& v) { return v.place.spot.kind == kind; });
}

bool has(const Valued& v, Danger danger) {
  return std::find(v.dangers.begin(), v.dangers.end(), danger) != v.dangers.end();
}

}  // namespace

TEST_CASE("each place is worth what the trip would be worth there", "[advice][property]") {
  const auto trip = small_trip();
  std::vector<double> told;
  const auto all =
      elsewhere(trip, Id<kit::Site>(0), three_places(), [&](double done) { told.push_back(done); });
  REQUIRE(all.places.size() == 3);
  CHECK(told.size() == 3);
  CHECK(told.back() == 1);
  CHECK(std::is_sorted(all.places.begin(), all.places.end(),
                       [](const Valued& a, const Valued& b) { return a.reach > b.reach; }));
  for (const auto& v : all.places) {
    auto there = trip;
    there.sites[0].at = v.place.spot.at;
    there.sites[0].descent_minutes = v.place.spot.back_minutes;
    there.sites[0].take({.found = v.place.lie});
    const auto alone = Prepared(there).decide();
    CHECK(v.reach == alone.reach);
    CHECK(v.items == alone.kit.items);
    CHECK(v.mass_g == alone.kit.mass_g);
    REQUIRE(v.facing.size() == alone.targets.size());
    for (std::size_t t = 0; t < v.facing.size(); ++t) CHECK(v.facing[t].reach == alone.targets[t].reach);
  }
  // A wall of 35 degrees all round is worse than none: 10 to 25 dB at the angles that long ways need (P.526).
  CHECK(of(all, Kind::planned).reach < of(all, Kind::summit).reach);
}

TEST_CASE("a place faces a region over the sea where its shore lies that way", "[advice][known]") {
  // Geometry: from Fair Isle central Europe lies to the south-east, eastern North America to the west-north-west.
  const auto all = elsewhere(small_trip(), Id<kit::Site>(0), three_places());
  const auto& beach = of(all, Kind::shore);
  CHECK(beach.facing[0].sea_m == 20);
  CHECK(beach.facing[0].skyline.deg == Approx(0).margin(0.5));
  CHECK_FALSE(beach.facing[1].sea_m);
  CHECK(beach.facing[1].skyline.deg > 4);
}

TEST_CASE("what one should think of first is told of the places that have it", "[advice][known]") {
  const auto all = elsewhere(small_trip(), Id<kit::Site>(0), three_places());
  const auto& beach = of(all, Kind::shore);
  const auto& top = of(all, Kind::summit);
  const auto& pit = of(all, Kind::planned);
  CHECK(has(beach, Danger::surf));
  CHECK(has(beach, Danger::tide));
  CHECK_FALSE(has(beach, Danger::lightning));
  CHECK(has(top, Danger::lightning));
  CHECK(has(top, Danger::cliff));
  CHECK_FALSE(has(top, Danger::surf));
  // The Sun of March stands 28 degrees high at noon there, behind the wall.
  CHECK(pit.dangers == std::vector<Danger>{Danger::dark});
  auto far = three_places();
  far[2].spot.out_minutes.reset();
  far[2].spot.back_minutes.reset();
  CHECK(has(of(elsewhere(small_trip(), Id<kit::Site>(0), far), Kind::summit), Danger::no_way));
  // Sessions till 18:30 in March, sunset about 17:50 UTC: from a top three hours away it is dark on the way down.
  auto late = small_trip();
  late.sessions[0].end_minute = 18 * 60 + 30;
  far = three_places();
  far[2].spot.back_minutes = 180;
  const auto evening = elsewhere(late, Id<kit::Site>(0), far);
  CHECK(of(evening, Kind::summit).dark_days == 3);
  CHECK(has(of(evening, Kind::summit), Danger::dark));
}

TEST_CASE("the climb is worth what the summit has more than the shore, a minute", "[advice][property]") {
  const auto all = elsewhere(small_trip(), Id<kit::Site>(0), three_places());
  REQUIRE(all.climb);
  CHECK(all.places[all.climb->summit].place.spot.kind == Kind::summit);
  CHECK(all.places[all.climb->shore].place.spot.kind == Kind::shore);
  CHECK(all.climb->more == of(all, Kind::summit).reach - of(all, Kind::shore).reach);
  CHECK(all.climb->minutes == 40.0);
  CHECK(all.climb->per_minute.has_value() == (all.climb->more > 0));
  if (all.climb->per_minute) CHECK(*all.climb->per_minute == Approx(all.climb->more / 40));
  auto two = three_places();
  two.pop_back();
  CHECK_FALSE(elsewhere(small_trip(), Id<kit::Site>(0), two).climb);
}
