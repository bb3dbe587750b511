// `skerry where` on an island that is a cone with a ridge.
#include <algorithm>
#include <cmath>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"
#include "hgt.hpp"
#include "trip_text.hpp"

using skerry::GeoPoint;
using skerry::test::Folder;
namespace fs = std::filesystem;

namespace {

/// S20E063.hgt at 3 arc-seconds: about 19.70 S 63.43 E a cone of 300 m with a shore 2 km away; on its slope to the
/// north-east a wall from 0.4 to 1.2 km.
double cone_with_wall(GeoPoint at) {
  const double north = (at.lat_deg + 19.70) * 111.2;
  const double east = (at.lon_deg - 63.43) * 111.2 * std::cos(19.70 * 3.14159265 / 180);
  const double along = (north + east) / std::sqrt(2.0), aside = (east - north) / std::sqrt(2.0);
  const double cone = 300 * (1 - std::hypot(north, east) / 2);
  const double wall = along > 0.4 && along < 1.2 && std::abs(aside) < 0.1 ? cone + 60 : 0;
  return std::max({0.0, cone, wall});
}

struct Cone : Folder {
  Cone() : Folder("cone") {
    fs::create_directories(path / "dem");
    std::ofstream(path / "dem" / "S20E063.hgt", std::ios::binary)
        << skerry::test::hgt_of(-19, 63, 1201, cone_with_wall);
    // 1.8 km west of the top.
    std::ofstream(path / "trip.toml") << skerry::test::trip_with_site(
        "id = \"summit\"\nname = \"landing\"\nat = \"-19.70,63.4128\"\nground = \"rock\"\n");
  }
  [[nodiscard]] std::vector<std::string> where(std::initializer_list<std::string> more) const {
    std::vector<std::string> args{"where",          (path / "trip.toml").string(),
                                  "--terrain",      (path / "dem").string(),
                                  "--within-km",    "4",
                                  "--walk-minutes", "150",
                                  "--net",          "4"};
    args.insert(args.end(), more);
    return args;
  }
};

}  // namespace

TEST_CASE("where ranks summit, shores and named places of an island, and follows its schema",
          "[cli][terrain]") {
  const Cone cone;
  const auto said = ask(cone.where({"--at", "-19.70,63.44", "--format", "json"}));
  REQUIRE(said.code == 0);
  const auto j = said.json();
  const auto schema = ask({"schema", "where"}).json();
  for (const auto& key : schema["required"]) CHECK(j.contains(key.get<std::string>()));
  for (const auto& place : j["places"]) {
    for (const auto& key : schema["properties"]["places"]["items"]["required"])
      CHECK(place.contains(key.get<std::string>()));
    CHECK(place["reach"].get<double>() >= 0);
    CHECK(place["reach"].get<double>() <= 1);
  }
  const auto count = [&](const std::string& kind) {
    return std::count_if(j["places"].begin(), j["places"].end(),
                         [&](const auto& p) { return p["kind"] == kind; });
  };
  CHECK(count("planned") == 1);
  CHECK(count("listed") == 1);
  CHECK(count("summit") >= 1);
  CHECK(count("shore") == 8);
  CHECK(count("between") <= 4);
  CHECK(std::is_sorted(j["places"].begin(), j["places"].end(), [](const auto& a, const auto& b) {
    return a["reach"].template get<double>() > b["reach"].template get<double>();
  }));
  const auto top = std::find_if(j["places"].begin(), j["places"].end(), [](const auto& p) {
    return p["kind"] == "summit" && p["altitude_m"].template get<double>() > 280;
  });
  REQUIRE(top != j["places"].end());
  // Naismith's rule by hand: 1.8 km at 12 minutes and 270 m up at 10 for each 100; cells are 90 m.
  CHECK((*top)["there_minutes"].get<double>() == Approx(1.8 * 12 + 27).margin(4));
  CHECK((*top)["back_minutes"].get<double>() == Approx(1.8 * 12).margin(2));
  CHECK((*top)["climb_m"].get<double>() == Approx(270).margin(20));
  REQUIRE(j["climb"].is_object());
}

TEST_CASE("where prints a list that fits the screen and draws a map", "[cli][terrain]") {
  const Cone cone;
  const auto text = ask(cone.where({}));
  REQUIRE(text.code == 0);
  for (const char* part : {"Where to stand: Test island", "landing", "summit", "shore to the north",
                           "Which shore faces whom", "Summit or beach:", "Before you go", "protected"}) {
    CAPTURE(part);
    CHECK(text.out.find(part) != std::string::npos);
  }
  const auto file = (cone.path / "island.svg").string();
  REQUIRE(ask(cone.where({"-o", file})).code == 0);
  std::ifstream in(file);
  const std::string svg((std::istreambuf_iterator<char>(in)), {});
  CHECK(svg.rfind("<svg", 0) == 0);
  CHECK(svg.find("</svg>") != std::string::npos);
  CHECK(svg.find("Where to stand: Test island") != std::string::npos);
  CHECK(svg.find("NaN") == std::string::npos);
  CHECK(ask(cone.where({"-o", file})).out.empty());
  // For a receiver in the hand: as many waypoints as the answer has places, each with its height.
  const auto gpx = ask(cone.where({"-f", "gpx"})).out;
  const auto places = ask(cone.where({"-f", "json"})).json()["places"].size();
  const auto count = [&](const std::string& what) {
    std::size_t n = 0;
    for (auto at = gpx.find(what); at != std::string::npos; at = gpx.find(what, at + 1)) ++n;
    return n;
  };
  CHECK(count("<wpt ") == places);
  CHECK(count("<ele>") == places);
  CHECK(gpx.find("danger: ") != std::string::npos);
  CHECK(ask(cone.where({"-f", "kml"})).out.find("<kml ") != std::string::npos);
}

TEST_CASE("where refuses what it cannot look at, in one line", "[cli][terrain]") {
  const Cone cone;
  struct Case {
    std::vector<std::string> args;
    std::string found;
  };
  const std::vector<Case> cases{
      {cone.where({"--site", "sumit"}), "did you mean 'summit'"},
      {cone.where({"--start", "-19.60,63.43"}), "no land within 500 m"},
      {cone.where({"--at", "nowhere-at-all-x"}), "--at"},
      {cone.where({"--format", "csv"}), "text, json, svg, gpx or kml"},
      {{"where", (cone.path / "trip.toml").string(), "--terrain", (cone.path / "nothing").string()},
       "--terrain"},
  };
  for (const auto& c : cases) {
    const auto said = ask(c.args);
    CAPTURE(c.found, said.err);
    CHECK(said.code != 0);
    CHECK(said.err.find(c.found) != std::string::npos);
    CHECK(std::count(said.err.begin(), said.err.end(), '\n') == 1);
  }
}
