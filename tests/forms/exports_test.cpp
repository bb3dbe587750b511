// Formats other programs read: folding, escaping, cutting, sizes; and words with their glosses.

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "check.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/geojson.hpp"
#include "skerry/forms/ics.hpp"
#include "skerry/forms/schema.hpp"

using namespace skerry;

namespace {

/// RFC 5545 section 3.1 read backwards: a line break followed by one blank is nothing.
std::string unfolded(std::string text) {
  for (auto at = text.find("\r\n "); at != std::string::npos; at = text.find("\r\n ", at)) text.erase(at, 3);
  return text;
}

}  // namespace

TEST_CASE("calendar lines are folded at 75 octets and unfold to themselves", "[forms][known]") {
  // Source: RFC 5545 section 3.1.
  const std::string umlauts = "SUMMARY:" + [] {
    std::string s;
    for (int i = 0; i < 60; ++i) s += "é€x";
    return s;
  }();
  for (const std::string& line : {std::string("A:b"), std::string(74, 'a'), std::string(75, 'a'),
                                  std::string(76, 'a'), std::string(300, 'a'), umlauts}) {
    const auto folded = forms::ics_folded(line);
    CHECK(unfolded(folded) == line + "\r\n");
    std::size_t from = 0;
    while (from < folded.size()) {
      const auto end = folded.find("\r\n", from);
      REQUIRE(end != std::string::npos);
      CHECK(end - from <= 75);
      // No line begins inside a character.
      const auto first = static_cast<unsigned char>(folded[from == 0 ? 0 : from + 1]);
      CHECK((first & 0xC0U) != 0x80U);
      from = end + 2;
    }
  }
  CHECK(forms::ics_folded(std::string(75, 'a')) == std::string(75, 'a') + "\r\n");
  CHECK(forms::ics_folded(std::string(76, 'a')) == std::string(75, 'a') + "\r\n a\r\n");
}

TEST_CASE("bytes that are no UTF-8 are folded too", "[forms][edge]") {
  const std::string broken(400, '\x80');
  CHECK(unfolded(forms::ics_folded(broken)) == broken + "\r\n");
}

TEST_CASE("calendar text is escaped", "[forms][known]") {
  // Source: RFC 5545 section 3.3.11.
  CHECK(forms::ics_escaped("a, b; c\\d\ne\r\x01\tf:\"g\"") == "a\\, b\\; c\\\\d\\nef:\"g\"");
}

TEST_CASE("a line over 180 degrees is cut there, both ways", "[forms][known]") {
  // Source: RFC 7946 section 3.1.9.
  const std::vector<GeoPoint> east{{10, 170}, {20, -170}, {30, -160}};
  const auto parts = forms::cut_at_antimeridian(east);
  REQUIRE(parts.size() == 2);
  CHECK(parts[0].back() == GeoPoint{15, 180});
  CHECK(parts[1].front() == GeoPoint{15, -180});
  CHECK(parts[1].size() == 3);
  const auto west = forms::cut_at_antimeridian({{30, -160}, {20, -170}, {10, 170}});
  REQUIRE(west.size() == 2);
  CHECK(west[0].back() == GeoPoint{15, -180});
  CHECK(west[1].front() == GeoPoint{15, 180});
  CHECK(forms::cut_at_antimeridian({{0, 0}, {1, 1}}).size() == 1);
  CHECK(forms::cut_at_antimeridian({}).empty());
  // On the meridian itself nothing doubles and no part has a single point.
  for (const auto& line :
       {std::vector<GeoPoint>{{0, 170}, {0, 180}, {0, -170}},
        std::vector<GeoPoint>{{0, 180}, {0, -170}, {0, -160}}, std::vector<GeoPoint>{{0, -170}, {0, 180}}}) {
    for (const auto& part : forms::cut_at_antimeridian(line)) {
      CHECK(part.size() >= 2);
      for (std::size_t i = 1; i < part.size(); ++i)
        CHECK(std::abs(part[i].lon_deg - part[i - 1].lon_deg) <= 180);
    }
  }
}

TEST_CASE("tracks are a feature collection whose lines never jump", "[forms][property]") {
  forms::GeoSheet sheet;
  const auto fiji = GeoPoint::at_deg(-18, 178);
  for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
    auto track = advice::track_of(geodesy::make_path(fiji, GeoPoint::at_deg(37, -122), way), {});
    track.from_name = "a \"quoted\" name";
    track.to_name = "there";
    sheet.tracks.push_back(std::move(track));
  }
  sheet.when = start_of(Day{std::chrono::year{2027}, std::chrono::month{3}, std::chrono::day{20}});
  for (int i = 0; i < 36; ++i)
    sheet.terminator.push_back(GeoPoint::at_deg(80 * std::sin(i * 0.1745), -180 + i * 10.0 + 5));
  const auto j = nlohmann::json::parse(forms::tracks_geojson(sheet));
  CHECK(j["type"] == "FeatureCollection");
  std::set<std::string> kinds;
  for (const auto& f : j["features"]) {
    CHECK(f["type"] == "Feature");
    kinds.insert(f["properties"]["kind"].get<std::string>());
    const auto& g = f["geometry"];
    if (g["type"] == "Point") continue;
    const auto lines =
        g["type"] == "LineString" ? nlohmann::json::array({g["coordinates"]}) : g["coordinates"];
    for (const auto& line : lines) {
      CHECK(line.size() >= 2);
      for (std::size_t i = 0; i < line.size(); ++i) {
        CHECK(std::abs(line[i][0].get<double>()) <= 180);
        CHECK(std::abs(line[i][1].get<double>()) <= 90);
        if (i > 0) CHECK(std::abs(line[i][0].get<double>() - line[i - 1][0].get<double>()) <= 180);
      }
    }
  }
  CHECK(kinds == std::set<std::string>{"end", "path", "terminator"});
}

TEST_CASE("the schemas are JSON of the 2020-12 kind and name their answers", "[forms][known]") {
  REQUIRE(forms::schema_names().size() >= 7);
  for (const auto& name : forms::schema_names()) {
    CAPTURE(name);
    const auto j = nlohmann::json::parse(forms::schema_text(name));
    CHECK(j["$schema"] == "https://json-schema.org/draft/2020-12/schema");
    CHECK(j["type"] == "object");
    // Files are asked, not answered: they carry no name of a form, and a library may hold things of any one kind.
    if (!name.ends_with("-file")) {
      if (name != "trip") CHECK(j["properties"]["schema"]["const"] == "skerry." + name + "/1");
      CHECK_FALSE(j["required"].empty());
    }
  }
}

TEST_CASE("a spreadsheet finds text where a formula was meant", "[forms][edge]") {
  // Source: common practice (OWASP, "CSV Injection"): these characters begin a formula.
  CHECK(forms::csv_field("=1+1") == "\"'=1+1\"");
  CHECK(forms::csv_field("+cmd|' /C calc'!A0") == "\"'+cmd|' /C calc'!A0\"");
  CHECK(forms::csv_field("-a") == "\"'-a\"");
  CHECK(forms::csv_field("@SUM(A1)") == "\"'@SUM(A1)\"");
  CHECK(forms::csv_field("-7.5") == "-7.5");  // a number is a number
  CHECK(forms::csv_field("a=b") == "a=b");
  CHECK(forms::csv_field("a,\"b\"") == "\"a,\"\"b\"\"\"");
}
