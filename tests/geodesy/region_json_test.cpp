#include <fmt/format.h>

#include <chrono>
#include <string>

#include "check.hpp"
#include "skerry/geodesy/region.hpp"

using skerry::GeoPoint;
using namespace skerry::geodesy;

namespace {

std::string polygon(const std::string& ring) {
  return R"({"type":"Polygon","coordinates":[[)" + ring + "]]}";
}

}  // namespace

TEST_CASE("the shapes of RFC 7946 are read", "[geodesy][known]") {
  // Square of RFC 7946, appendix A.3, moved; and the two-part shape cut at the date line of section 3.1.9.
  const std::string square = polygon("[100,0],[101,0],[101,1],[100,1],[100,0]");
  const auto plain = parse_region_geojson(square, {});
  REQUIRE(plain);
  CHECK(plain->rings.size() == 1);
  CHECK(plain->rings[0].size() == 4);
  CHECK(contains(*plain, {0.5, 100.5}));
  CHECK_FALSE(contains(*plain, {0.5, 101.5}));

  const auto feature = parse_region_geojson(
      R"({"type":"Feature","properties":{"name":"My Club, Ltd"},"geometry":)" + square + "}", {});
  REQUIRE(feature);
  CHECK(feature->name == "My Club, Ltd");
  CHECK(feature->id == "my-club-ltd");

  const auto parts = parse_region_geojson(
      R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":null,"geometry":
          {"type":"MultiPolygon","coordinates":[
             [[[180.0,40.0],[180.0,50.0],[170.0,50.0],[170.0,40.0],[180.0,40.0]]],
             [[[-170.0,40.0],[-170.0,50.0],[-180.0,50.0],[-180.0,40.0],[-170.0,40.0]]]]}}]})",
      {});
  REQUIRE(parts);
  CHECK(parts->rings.size() == 2);
  CHECK(contains(*parts, {45, 175}));
  CHECK(contains(*parts, {45, -175}));
  CHECK(contains(*parts, {45, 180}));
  CHECK_FALSE(contains(*parts, {45, 165}));
  CHECK_FALSE(contains(*parts, {45, 0}));
}

TEST_CASE("what lies in a hole is no part of the region, what lies in an island in it is",
          "[geodesy][known]") {
  // Source: RFC 7946, 3.1.6 (the first ring bounds the surface, the others bound holes) and 3.1.7.
  const auto hollow = parse_region_geojson(
      R"({"type":"MultiPolygon","coordinates":[
          [[[0,0],[9,0],[9,9],[0,9],[0,0]],[[3,3],[3,6],[6,6],[6,3],[3,3]]],
          [[[4,4],[5,4],[5,5],[4,5]]]]})",
      {});
  REQUIRE(hollow);
  CHECK(contains(*hollow, {1, 1}));
  CHECK_FALSE(contains(*hollow, {3.5, 3.5}));
  CHECK(contains(*hollow, {3, 3}));  // the outline of the hole belongs to it
  CHECK(contains(*hollow, {4.5, 4.5}));
  // Over the date line, whichever side the points are written from.
  for (const char* hole : {"[-178,-2],[-178,2],[179,2],[179,-2]", "[179,2],[179,-2],[-178,-2],[-178,2]"}) {
    const auto split = parse_region_geojson(
        std::string(R"({"type":"Polygon","coordinates":[[[170,-9],[-170,-9],[-170,9],[170,9]],[)") + hole +
            "]]}",
        {});
    CAPTURE(hole);
    REQUIRE(split);
    CHECK_FALSE(contains(*split, {0, -179}));
    CHECK_FALSE(contains(*split, {0, 179.5}));
    CHECK(contains(*split, {0, 172}));
    CHECK(contains(*split, {0, -172}));
  }
  const auto outside = parse_region_geojson(
      R"({"type":"Polygon","coordinates":[[[0,0],[9,0],[9,9],[0,9]],[[8,8],[8,12],[12,12],[12,8]]]})", {});
  REQUIRE_FALSE(outside);
  CHECK(outside.error().found.find("coordinates[1] reaches out") != std::string::npos);
}

TEST_CASE("somebody stands inside a hollow region where no town lies in it", "[geodesy][edge]") {
  // Rings of open sea, about a hole that holds their centroid, and a crescent beside its own.
  for (const char* shape :
       {R"([[[-40,-40],[-30,-40],[-30,-30],[-40,-30]],[[-39,-39],[-39,-31],[-31,-31],[-31,-39]]])",
        R"([[[-40,-40],[-30,-40],[-30,-39],[-39,-39],[-39,-31],[-30,-31],[-30,-30],[-40,-30]]])"}) {
    const auto region =
        parse_region_geojson(R"({"type":"Polygon","coordinates":)" + std::string(shape) + "}", {});
    CAPTURE(shape);
    REQUIRE(region);
    const auto people = sample_people(*region, 3);
    REQUIRE(people.size() == 1);
    CAPTURE(people[0].where.lat_deg, people[0].where.lon_deg);
    CHECK(contains(*region, people[0].where));
  }
}

TEST_CASE("a side that could go either way round the Earth is refused", "[geodesy][edge]") {
  for (const char* ring :
       {"[-100,-10],[100,-10],[100,10],[-100,10]", "[-100,-10],[-100,10],[100,10],[100,-10]",
        "[-90,0],[90,0],[0,20]", "[-170,-60],[170,-60],[170,60],[-170,60]"}) {
    CAPTURE(ring);
    const auto region = parse_region_geojson(polygon(ring), {});
    REQUIRE_FALSE(region);
    CHECK(region.error().found.find("either way round") != std::string::npos);
    CHECK(region.error().mend.find("cut the polygon at 180") != std::string::npos);
  }
  const auto world = parse_region_geojson(polygon("[-180,-60],[180,-60],[180,60],[-180,60]"), {});
  REQUIRE_FALSE(world);
  CHECK(world.error().found.find("one meridian and no way") != std::string::npos);
  // With points between, every side says its way.
  const auto belt = parse_region_geojson(
      polygon("[-180,-60],[-90,-60],[0,-60],[90,-60],[180,-60],[180,60],[90,60],[0,60],[-90,60],[-180,60]"),
      {});
  REQUIRE(belt);
  for (const double lon : {-179.0, -91.0, 0.0, 91.0, 179.0}) {
    CHECK(contains(*belt, GeoPoint::at_deg(0, lon)));
    CHECK_FALSE(contains(*belt, GeoPoint::at_deg(70, lon)));
  }
}

TEST_CASE("direction and closing do not matter", "[geodesy][edge]") {
  const auto clockwise = parse_region_geojson(polygon("[0,0],[0,9],[9,9],[9,0]"), {});
  REQUIRE(clockwise);
  CHECK(contains(*clockwise, {4.5, 4.5}));
  const auto repeated = parse_region_geojson(polygon("[0,0],[0,0],[0,9],[9,9],[9,9],[9,0],[0,0],[0,0]"), {});
  REQUIRE(repeated);
  CHECK(repeated->rings[0].size() == 4);
}

TEST_CASE("a mistake in a region is refused with what and where", "[geodesy][edge]") {
  struct Row {
    const char* why;
    std::string text;
    const char* says;
  };
  const auto row = GENERATE(values<Row>({
      {"empty", "", "broken JSON"},
      {"no JSON", "hello", "broken JSON"},
      {"NaN", polygon("[NaN,0],[1,0],[1,1]"), "broken JSON"},
      {"infinity", polygon("[1e999,0],[1,0],[1,1]"), "broken JSON"},
      {"bad UTF-8", "{\"type\":\"\xff\"}", "broken JSON"},
      {"an array", "[1,2]", "no object"},
      {"no type", "{}", "no \"type\""},
      {"a line", R"({"type":"LineString","coordinates":[[0,0],[1,1]]})", "LineString"},
      {"no coordinates", R"({"type":"Polygon"})", "coordinates"},
      {"no rings", R"({"type":"Polygon","coordinates":[]})", "no ring"},
      {"no features", R"({"type":"FeatureCollection","features":[]})", "no polygon"},
      {"null geometry", R"({"type":"Feature","geometry":null})", "no geometry"},
      {"text for a number", polygon(R"(["a",0],[1,0],[1,1])"), "[0][0] is no pair"},
      {"one number", polygon("[1],[1,0],[1,1]"), "[0][0] is no pair"},
      {"latitude", polygon("[0,0],[1,91],[1,1]"), "[0][1] has latitude 91"},
      {"longitude", polygon("[0,0],[190,0],[1,1]"), "[0][1] has longitude 190"},
      {"huge", polygon("[0,0],[1e300,0],[1,1]"), "has longitude 1e+300"},
      {"two points", polygon("[0,0],[1,0],[0,0]"), "2 different points"},
      {"one point thrice", polygon("[5,5],[5,5],[5,5]"), "1 different points"},
      {"bow tie", polygon("[0,0],[2,2],[2,0],[0,2],[0,0]"), "crosses or touches itself"},
      {"spike", polygon("[0,0],[4,0],[4,4],[4,8],[4,4],[0,4]"), "crosses or touches itself"},
      {"round the pole", polygon("[0,80],[90,80],[180,80],[-90,80]"), "round a pole"},
      {"round the south pole, few steps", polygon("[0,-80],[120,-80],[-120,-80]"), "round a pole"},
  }));
  CAPTURE(row.why, row.text);
  const auto region = parse_region_geojson(row.text, {"mine.geojson"});
  REQUIRE_FALSE(region);
  CAPTURE(region.error().to_line());
  CHECK(region.error().found.find(row.says) != std::string::npos);
  CHECK_FALSE(region.error().accepted.empty());
  CHECK(region.error().where.file == "mine.geojson");
  CHECK(region.error().to_line().size() < 600);
}

TEST_CASE("no area is refused", "[geodesy][edge]") {
  CHECK_FALSE(parse_region_geojson(polygon("[0,0],[1,1],[2,2]"), {}));
  CHECK_FALSE(parse_region_geojson(polygon("[-180,10],[180,10],[180,-10],[-180,-10]"), {}));
}

TEST_CASE("broken JSON is pointed at by line and column", "[geodesy][known]") {
  const auto region =
      parse_region_geojson("{\n  \"type\": \"Polygon\",\n  \"coordinates\" [1]\n}", {"mine.geojson"});
  REQUIRE_FALSE(region);
  CHECK(region.error().where.line == 3);
  CHECK(region.error().where.column == 17);  // the '[' that should be ':'
}

TEST_CASE("bombs are refused quickly", "[geodesy][edge]") {
  const auto start = std::chrono::steady_clock::now();
  const auto deep = parse_region_geojson(std::string(3'000'000, '['), {});
  REQUIRE_FALSE(deep);
  CHECK(deep.error().found.find("nested") != std::string::npos);
  CHECK(deep.error().where.line == 1);
  CHECK(deep.error().where.column == 65);
  CHECK_FALSE(parse_region_geojson(std::string(9'000'000, ' '), {}));
  std::string many;
  for (int i = 0; i <= 100'000; ++i)
    many += fmt::format("{}[{},{}]", i == 0 ? "" : ",", i * 0.001 - 90, (i % 2) * 0.5);
  const auto points = parse_region_geojson(polygon(many), {});
  REQUIRE_FALSE(points);
  CHECK(points.error().found.find("100000 points") != std::string::npos);
  std::string scribble;
  for (int i = 0; i < 20'000; ++i) {
    scribble += fmt::format("{}[{},{}]", i == 0 ? "" : ",", (i * 7919) % 170, (i * 104729) % 89);
  }
  CHECK_FALSE(parse_region_geojson(polygon(scribble), {}));
  // Judgement: together well under this on any machine; a quadratic check would take minutes.
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(10));
}

TEST_CASE("brackets inside words do not count as nesting", "[geodesy][edge]") {
  const std::string name = std::string(100, '[') + "\\\"";
  CHECK(parse_region_geojson(R"({"type":"Feature","properties":{"name":")" + name + R"("},"geometry":)" +
                                 polygon("[0,0],[9,0],[9,9]") + "}",
                             {}));
}
