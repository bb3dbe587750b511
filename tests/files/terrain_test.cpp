// Elevation files named by a trip, and what they say written into it.
#include <algorithm>

#include "check.hpp"
#include "read_trip.hpp"

using namespace skerry;

namespace {

const geodesy::Surroundings found{
    351,
    {{{0, {-0.6, 47}}, {75, {6.3, 1.3}}, {200, {0.4, 12}}}},
    {{{0, 4}, {180, -3}}},
    {{{90, 300}, {200, 0}}},
};

/// The trip of all tests with these lines in its [[site]], and without others.
std::string site_with(const std::string& lines, const std::vector<std::string>& without = {}) {
  std::string text = test::trip_text;
  for (const auto& key : without) {
    const auto at = text.find("\n" + key + " = ");
    REQUIRE(at != std::string::npos);
    text.erase(at, text.find('\n', at + 1) - at);
  }
  const std::string head = "[[site]]\n";
  return text.insert(text.find(head) + head.size(), lines + "\n");
}
const std::vector<std::string> all_told{"altitude_m", "sea_from_m", "sea_between_deg", "horizon_deg"};

Checked<kit::Trip> read(const std::string& text) {
  return files::read_trip(
      text, "trip.toml", test::no_files,
      [](const std::string& name, GeoPoint at, const Where& where) -> Result<geodesy::Surroundings> {
        CHECK(at == GeoPoint{-19.70, 63.43});
        if (name != "dem") return fail(where, "'" + name + "'", "dem");
        return found;
      });
}
const kit::Site& site_of(const Checked<kit::Trip>& trip) {
  if (!trip) {
    for (const auto& e : trip.error()) UNSCOPED_INFO(e.to_line());
  }
  REQUIRE(trip);
  return trip->sites.front();
}
std::string complaint(const std::string& text) {
  const auto trip = read(text);
  REQUIRE_FALSE(trip);
  return trip.error().front().to_line();
}

}  // namespace

TEST_CASE("what is not told comes from the elevation files", "[files][terrain]") {
  const auto trip = read(site_with("terrain = \"dem\"", all_told));
  const auto& site = site_of(trip);
  CHECK(site.altitude_m == 351);
  CHECK(site.horizon.towards(75).deg == 6.3);
  CHECK(site.horizon.towards(75).km == 1.3);
  CHECK(site.foreground.fall_deg(0) == 4);
  CHECK(site.sea_towards_m(89) == 0);
  CHECK(site.sea_towards_m(90) == 300);
  CHECK(site.sea_towards_m(199.9) == 300);
  CHECK(site.sea_towards_m(200) == 0);
  CHECK(site.sea_towards_m(0) == 0);
  REQUIRE(site.from_files);
  CHECK_FALSE(site.from_files->altitude_told);
}

TEST_CASE("what is told by hand holds", "[files][terrain]") {
  const auto trip = read(site_with("terrain = \"dem\""));
  const auto& site = site_of(trip);
  CHECK(site.altitude_m == 398);
  CHECK(site.horizon.towards(180).deg == 6);
  CHECK(site.sea_towards_m(100) == 200);
  CHECK(site.sea_towards_m(210) == 0);
  CHECK(site.foreground.fall_deg(180) == -3);  // of that nothing is told
  REQUIRE(site.from_files);
  CHECK(site.from_files->altitude_told);
  CHECK(site.from_files->horizon_told);
  CHECK(site.from_files->shore_told);
  CHECK_FALSE(site.from_files->foreground_told);
  const auto sloping = read(site_with("terrain = \"dem\"\nslope_deg = 5"));
  CHECK(site_of(sloping).foreground.points.empty());
}

TEST_CASE("written into the trip, the same is read without the files, from the same lines",
          "[files][terrain]") {
  for (const auto& told : {std::vector<std::string>{}, all_told}) {
    const auto text = site_with("terrain = \"dem\"   # of the whole island", told);
    const auto trip = read(text);
    const auto& site = site_of(trip);
    const auto written = files::with_terrain(text, *trip);
    CHECK(written.find("\"dem\"") == std::string::npos);
    CHECK(written.find("}   # of the whole island\n") != std::string::npos);
    CHECK(std::count(written.begin(), written.end(), '\n') == std::count(text.begin(), text.end(), '\n'));
    const auto again = test::read_well(written).sites.front();
    CHECK(again.altitude_m == site.altitude_m);
    CHECK(again.line == site.line);
    REQUIRE(again.horizon.points.size() == site.horizon.points.size());
    for (double azimuth = 0; azimuth < 360; azimuth += 7) {
      CHECK(again.horizon.towards(azimuth).deg == site.horizon.towards(azimuth).deg);
      CHECK(again.horizon.towards(azimuth).km == site.horizon.towards(azimuth).km);
      CHECK(again.foreground.fall_deg(azimuth) == site.foreground.fall_deg(azimuth));
      CHECK(again.sea_towards_m(azimuth) == site.sea_towards_m(azimuth));
    }
    CHECK(again.from_files->altitude_told == site.from_files->altitude_told);
    // Once more changes nothing.
    CHECK(files::with_terrain(written, test::read_well(written)) == written);
  }
}

TEST_CASE("the rows of a trip file are what a person would write", "[files][terrain]") {
  CHECK(files::toml_rows(found) ==
        std::vector<std::string>{"altitude_m = 351",
                                 "horizon_deg = [[0, -0.6, 47], [75, 6.3, 1.3], [200, 0.4, 12]]",
                                 "foreground_deg = [[0, 4], [180, -3]]", "shore_m = [[90, 300], [200, 0]]"});
  CHECK(files::to_toml({7, {}, {}, {}}) == "{altitude_m = 7}");
}

TEST_CASE("wrong ways to name elevation files", "[files][terrain][edge]") {
  CHECK(complaint(site_with("terrain = \"gone\"")) == "trip.toml:10:11: found terrain: 'gone'; expected dem");
  CHECK(complaint(site_with("terrain = 7")).find("trip.toml:10:11: found terrain = 7; expected a table") ==
        0);
  CHECK(complaint(site_with("terrain = {horizon_deg = [[0, 1]]}")).find("without altitude_m") !=
        std::string::npos);
  CHECK(complaint(site_with("terrain = {altitude_m = 3, shore_m = [[0, 5], [360, 6]]}"))
            .find("azimuth 0 twice") != std::string::npos);
  CHECK(complaint(site_with("terrain = {altitude_m = 3, shore_m = [[0, -5]]}")).find("0 to 20000 m") !=
        std::string::npos);
  CHECK(complaint(site_with("terrain = {altitude_m = 3, deep = 5}")).find("unknown key 'deep'") !=
        std::string::npos);
  CHECK(complaint(site_with("shore_m = [[90, 300]]")).find("shore_m") != std::string::npos);
  const auto nobody = files::read_trip(site_with("terrain = \"dem\""), "trip.toml", test::no_files);
  REQUIRE_FALSE(nobody);
  CHECK(
      nobody.error().front().to_line() ==
      "trip.toml:10:11: found terrain: 'dem'; expected a trip that names no elevation files: they cannot be read here; "
      "'skerry report' writes what they say into its page");
}
