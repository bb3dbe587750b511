#include "skerry/forms/map.hpp"

#include <nlohmann/json.hpp>
#include <sstream>

#include "check.hpp"
#include "map_question.hpp"

using namespace skerry;

using test::count_of;
using test::map_question;

TEST_CASE("the map as CSV has a row for each cell, hour and frequency", "[forms][known]") {
  // Source: RFC 4180: one record a line, the same number of fields in each; lines end as in every other table.
  const auto q = map_question();
  std::string text = forms::map_csv_head();
  REQUIRE(circuit::coverage(q, [&](const circuit::CoveragePart& part) {
    text += forms::map_csv(q, part);
    return true;
  }));
  CHECK(count_of(text, "\n") == 1 + q.grid.cells() * 2 * 2);
  std::istringstream lines(text);
  std::string line;
  while (std::getline(lines, line)) CHECK(std::count(line.begin(), line.end(), ',') == 10);
  CHECK(text.find("\n75,-165,18,20m,14.06,short,") != std::string::npos);
  CHECK(text.find("\n75,-165,3,,9.5,short,") != std::string::npos);
}

TEST_CASE("the map as GeoJSON parses and says what the CSV says", "[forms][known]") {
  // Source: RFC 7946: FeatureCollection of Point features, coordinates longitude first.
  const auto q = map_question();
  std::string text = forms::map_geojson_head(q);
  std::size_t open_cells = 0;
  std::vector<circuit::CoverageValue> values;
  REQUIRE(circuit::coverage(q, [&](const circuit::CoveragePart& part) {
    text += forms::map_geojson(q, part);
    values.insert(values.end(), part.values.begin(), part.values.end());
    return true;
  }));
  text += forms::map_geojson_tail();
  for (std::size_t c = 0; c < q.grid.cells(); ++c) {
    open_cells +=
        std::any_of(values.begin() + static_cast<long>(4 * c), values.begin() + static_cast<long>(4 * c + 4),
                    [](const auto& v) { return v.open; });
  }
  const auto json = nlohmann::json::parse(text);
  CHECK(json["type"] == "FeatureCollection");
  REQUIRE(json["features"].size() == 1 + open_cells);
  CHECK(json["features"][0]["geometry"]["coordinates"] == nlohmann::json({63.43, -19.7}));
  std::size_t compared = 0;
  for (std::size_t i = 1; i < json["features"].size(); ++i) {
    const auto& feature = json["features"][i];
    const double lon = feature["geometry"]["coordinates"][0];
    const double lat = feature["geometry"]["coordinates"][1];
    const auto cell =
        static_cast<std::size_t>((90 - lat) / 30) * 12 + static_cast<std::size_t>((lon + 180) / 30);
    if (!feature["properties"].contains("days_in_ten_20m")) continue;
    for (std::size_t h = 0; h < 2; ++h) {
      const auto& v = values[cell * 4 + h * 2];
      const auto& days = feature["properties"]["days_in_ten_20m"][h];
      REQUIRE(days.is_null() == !v.open);
      if (v.open)
        CHECK_THAT(days.get<double>(), WithinAbs(static_cast<double>(v.both_days_in_ten()), 0.0501));
      ++compared;
    }
  }
  CHECK(compared > 20);
}
