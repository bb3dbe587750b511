// `skerry horizon`, and trips that name elevation files.
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

/// S20E063.hgt at 3 arc-seconds: a plain of 40 m with walls of 240 m along 63.45 E and 63.415 E, and the sea west of 63.40 E.
double walls(GeoPoint at) {
  if (at.lon_deg < 63.40) return 0;
  return std::abs(at.lon_deg - 63.45) < 0.0006 || std::abs(at.lon_deg - 63.415) < 0.0006 ? 240 : 40;
}

struct Dem : Folder {
  Dem() : Folder("dem") {
    fs::create_directories(path / "dem");
    std::ofstream(path / "dem" / "S20E063.hgt", std::ios::binary)
        << skerry::test::hgt_of(-19, 63, 1201, walls);
    std::ofstream(path / "dem" / "readme.txt") << "no heights";
  }
  [[nodiscard]] std::string dem() const { return (path / "dem").string(); }
  /// A trip in this folder, its first site changed.
  [[nodiscard]] std::string trip(const std::string& name, const std::string& lines) const {
    std::ofstream(path / name) << skerry::test::trip_with_site(
        "id = \"summit\"\nat = \"-19.70,63.43\"\nground = \"rock\"\ndescent_minutes = 10\n" + lines);
    return (path / name).string();
  }
};

const std::vector<std::string> place{"horizon", "-19.70,63.43", "--terrain"};
std::vector<std::string> plus(std::vector<std::string> args, std::initializer_list<std::string> more) {
  args.insert(args.end(), more);
  return args;
}

}  // namespace

TEST_CASE("horizon tells skyline, slope and sea", "[cli][terrain]") {
  const Dem dem;
  const auto said = ask(plus(place, {dem.dem(), "--format", "json"}));
  REQUIRE(said.code == 0);
  CHECK(said.err.empty());
  const auto j = said.json();
  CHECK(j["schema"] == "skerry.horizon/1");
  CHECK(j["altitude_m"] == 40);
  CHECK(j["files"] == nlohmann::json{"S20E063.hgt"});
  CHECK(j["missing_squares"] == nlohmann::json({"S21E062", "S21E063", "S20E062"}));
  CHECK(j["missing_share"].get<double>() > 0.1);
  REQUIRE(j["azimuths"].size() == 360);
  // closed form: a wall 200 m above the plain, 195 m above the eye, 2.09 km to the east
  const auto& east = j["azimuths"][90];
  CHECK(east["skyline_km"].get<double>() == Approx(2.09).margin(0.1));
  CHECK(east["skyline_deg"].get<double>() == Approx(std::atan2(195, 2090) * 57.29578).margin(0.35));
  CHECK(east["sea_from_m"].is_null());
  const auto& west = j["azimuths"][270];
  CHECK(west["sea_from_m"].get<double>() ==
        Approx(0.03 * 111320 * std::cos(0.3438)).margin(200));  // two cells
  CHECK(west["skyline_deg"].get<double>() == Approx(std::atan2(195, 1570) * 57.29578).margin(0.6));
  CHECK(j["azimuths"][0]["skyline_deg"].get<double>() < 0.2);
  CHECK(west["fall_deg"] == 0);
  // The rows it prints are rows of a trip.
  std::string rows;
  for (const auto& row : j["trip_rows"]) rows += row.get<std::string>() + "\n";
  const auto checked = ask({"kit", dem.trip("pasted.toml", rows)});
  CHECK(checked.code == 0);
  CHECK(checked.err.empty());
}

TEST_CASE("horizon marks where regions leave, in all its forms", "[cli][terrain]") {
  const Dem dem;
  const auto with = [&](const std::string& format) {
    return ask(plus(
        place, {dem.dem(), "--regions", "japan,western-europe", "--month", "2027-02", "--format", format}));
  };
  const auto j = with("json").json();
  REQUIRE(j["regions"].size() == 2);
  CHECK(j["regions"][0]["name"] == "Japan");
  CHECK(j["regions"][0]["bearing_deg"].get<double>() == Approx(50).margin(8));
  CHECK(j["regions"][0]["takeoff"]["lowest_deg"] <= j["regions"][0]["takeoff"]["usual_deg"]);
  CHECK(j["regions"][0]["takeoff"]["usual_deg"] <= j["regions"][0]["takeoff"]["highest_deg"]);
  CHECK(j["regions"][0]["skyline_deg"] > 2);
  const auto text = with("text").out;
  CHECK(text.find("1 Japan (") != std::string::npos);
  CHECK(text.find(", the ridge stands at ") != std::string::npos);
  CHECK(text.find("horizon_deg = [[") != std::string::npos);
  const auto csv = with("csv").out;
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 361);
  const auto svg = dem.file("h.svg");
  const auto drawn = ask(plus(place, {dem.dem(), "--regions", "japan", "--month", "2027-02", "-o", svg}));
  CHECK(drawn.code == 0);
  CHECK(skerry::test::read(svg).find("<svg xmlns") != std::string::npos);
  CHECK(skerry::test::read(svg).find("Japan (") != std::string::npos);
}

TEST_CASE("a trip's report carries what its elevation files say, and answers the same", "[cli][terrain]") {
  const Dem dem;
  const auto named = dem.trip("named.toml", "terrain = \"dem\"\n");
  const auto said = ask({"pack", named, "--show", "all"});
  REQUIRE(said.code == 0);
  CHECK(said.err.empty());
  // What a page is given: the trip with numbers in the place of files.
  const auto numbers = ask(plus(place, {dem.dem(), "--format", "json"})).json()["trip_rows"];
  std::string table = "terrain = {";
  for (const auto& row : numbers) table += (table.back() == '{' ? "" : ", ") + row.get<std::string>();
  const auto carried = dem.trip("carried.toml", table + "}\n");
  const auto again = ask({"pack", carried, "--show", "all"});
  CHECK(again.out == said.out);
  // And without either the answer is another: the Sun goes behind no ridge, and the time to leave is later.
  CHECK(ask({"pack", dem.trip("bare.toml", "altitude_m = 40\n"), "--show", "all"}).out != said.out);
}

TEST_CASE("the sea told direction by direction is the sea between two azimuths", "[cli][terrain]") {
  const Dem dem;
  const auto between =
      ask({"pack", dem.trip("a.toml", "sea_from_m = 20\nsea_between_deg = [200, 350]\n"), "--show", "all"});
  const auto sectors =
      ask({"pack", dem.trip("b.toml", "shore_m = [[200, 20], [350.001, 0]]\n"), "--show", "all"});
  CHECK(between.code == 0);
  CHECK(between.out == sectors.out);
  // A shore further out is another.
  CHECK(ask({"pack", dem.trip("c.toml", "shore_m = [[200, 2000], [350.001, 0]]\n"), "--show", "all"}).out !=
        sectors.out);
}

TEST_CASE("what a trip tells otherwise than its files is said", "[cli][terrain]") {
  const Dem dem;
  const auto said =
      ask({"kit", dem.trip("told.toml", "terrain = \"dem\"\naltitude_m = 110\nhorizon_deg = [[0, 2]]\n")});
  CHECK(said.code == 0);
  CHECK(said.err.find("altitude_m = 110 is told and holds, while the elevation files have 40 m there") !=
        std::string::npos);
  CHECK(said.err.find("the skyline told in the trip file holds") != std::string::npos);
}

TEST_CASE("elevation files that do not serve are refused in one line", "[cli][terrain][edge]") {
  const Dem dem;
  const auto line = [&](const std::vector<std::string>& args) {
    const auto said = ask(args);
    CHECK(said.code == 2);
    CHECK(said.out.empty());
    CHECK(is_one_line(said.err));
    return said.err;
  };
  CHECK(line(plus(place, {dem.file("nowhere")})).find("--terrain: found ") != std::string::npos);
  CHECK(line({"horizon", "50,10", "--terrain", dem.dem()}).find("no elevation file that reaches the place") !=
        std::string::npos);
  CHECK(line({"horizon", "-20.05,63.43", "--terrain", dem.dem()}).find("no height at 20.050 S") !=
        std::string::npos);
  CHECK(line(plus(place, {dem.dem(), "--format", "csb"})).find("did you mean 'csv'?") != std::string::npos);
  std::ofstream(dem.path / "dem" / "S20E064.hgt") << "short";
  CHECK(line({"horizon", "-19.70,63.9", "--terrain", dem.dem()}).find("S20E064.hgt: 5 bytes") !=
        std::string::npos);
  std::ofstream(dem.path / "dem" / "island.tif") << "short";
  CHECK(line(plus(place, {dem.dem()})).find("island.tif: a broken TIFF") != std::string::npos);
  CHECK(line({"kit", dem.trip("out.toml", "terrain = \"../dem\"\n")}).find("'..' is not followed") !=
        std::string::npos);
  CHECK(line({"kit", dem.trip("abs.toml", "terrain = \"" + dem.dem() + "\"\n")}).find("--allow-outside") !=
        std::string::npos);
  fs::create_directories(dem.path / "links");
  fs::create_symlink("/etc/passwd", dem.path / "links" / "S20E063.hgt");
  CHECK(line({"kit", dem.trip("link.toml", "terrain = \"links\"\n")}).find("a link out of that folder") !=
        std::string::npos);
}
