#include "skerry/report/map.hpp"

#include <nlohmann/json.hpp>
#include <sstream>

#include "check.hpp"
#include "fixed.hpp"
#include "json_common.hpp"

using namespace skerry;

namespace {

advice::CoverageQuestion question() {
  advice::CoverageQuestion q;
  q.from.at = GeoPoint::at_deg(-19.70, 63.43);
  q.to.power_w = 100;
  q.climate.day = middle_of(std::chrono::year{2027} / 2);
  q.climate.r12 = 90;
  q.frequencies = {{"20m", 14.06}, {"", 9.5}};
  q.hours = {18, 3};
  q.mode = *noise::find_mode("cw", {});
  q.grid.step_deg = 30;
  return q;
}

struct Lab {
  double l = 0, a = 0, b = 0;
};
/// CIELAB under D65: another space than the one the colours were made in. Source: CIE 15, IEC 61966-2-1.
Lab lab(const std::string& hex) {
  double c[3];
  for (std::size_t i = 0; i < 3; ++i) {
    const double v = std::stoi(hex.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
    c[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  }
  const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
  const double x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.95047);
  const double y = f(0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]);
  const double z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.08883);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("numbers written fast read back as those of the JSON answers", "[report][property]") {
  for (const double value :
       {0.0, -0.0, 1.0, -1.5, 0.05, 0.049999, 123456.789, -0.004, 2.675, 1e-7, -99.999, 179.9999996}) {
    for (int digits = 0; digits <= 6; ++digits) {
      std::string text;
      report::append_fixed(text, value, digits);
      CAPTURE(value, digits, text);
      CHECK(std::stod(text) == report::rounded(value, digits));
      CHECK(text != "-0");
    }
  }
}

TEST_CASE("more days are darker in even steps, so that no eye loses the order", "[report][property]") {
  // Lightness alone carries the order: all forms of colour blindness keep it (common practice).
  double last = lab(report::days_colour(0)).l;
  CHECK_THAT(last, WithinAbs(100, 0.1));
  for (int days = 1; days <= 10; ++days) {
    const double now = lab(report::days_colour(days)).l;
    CAPTURE(days, now);
    CHECK(now < last);
    if (days > 1)
      CHECK_THAT(last - now, WithinAbs(8.3, 2.5));  // CIELAB and OKLab differ a little in what is even
    last = now;
  }
  CHECK(last < 25);
}

TEST_CASE("the map as CSV has a row for each cell, hour and frequency", "[report][known]") {
  // Source: RFC 4180: CRLF line ends, one record a line, the same number of fields in each.
  const auto q = question();
  std::string text = report::map_csv_head();
  REQUIRE(advice::coverage(q, [&](const advice::CoveragePart& part) {
    text += report::map_csv(q, part);
    return true;
  }));
  CHECK(count_of(text, "\r\n") == 1 + q.grid.cells() * 2 * 2);
  std::istringstream lines(text);
  std::string line;
  while (std::getline(lines, line)) CHECK(std::count(line.begin(), line.end(), ',') == 10);
  CHECK(text.find("\r\n75,-165,18,20m,14.06,short,") != std::string::npos);
  CHECK(text.find("\r\n75,-165,3,,9.5,short,") != std::string::npos);
}

TEST_CASE("the map as GeoJSON parses and says what the CSV says", "[report][known]") {
  // Source: RFC 7946: FeatureCollection of Point features, coordinates longitude first.
  const auto q = question();
  std::string text = report::map_geojson_head(q);
  std::size_t open_cells = 0;
  std::vector<advice::CoverageValue> values;
  REQUIRE(advice::coverage(q, [&](const advice::CoveragePart& part) {
    text += report::map_geojson(q, part);
    values.insert(values.end(), part.values.begin(), part.values.end());
    return true;
  }));
  text += report::map_geojson_tail();
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

TEST_CASE("the picture has a world for each hour and frequency and every cell's colour",
          "[report][property]") {
  report::MapSheet sheet;
  sheet.question = question();
  sheet.site_name = "<&\"x";
  const std::size_t cells = sheet.question.grid.cells();
  sheet.classes.assign(4 * cells, report::closed_class);
  // First world: the first row of twelve is all 10, the next alternates 3 and closed.
  for (std::size_t c = 0; c < 12; ++c) sheet.classes[c] = 10;
  for (std::size_t c = 12; c < 24; c += 2) sheet.classes[c] = 3;
  sheet.nights.resize(2);
  const auto svg = report::map_svg(sheet);
  CHECK(count_of(svg, ":00 UTC</text>") == 4);
  CHECK(count_of(svg, "M0 0h360v30h-360z") == 1);
  CHECK(count_of(svg, "h30v30h-30z") == 6);
  CHECK(svg.find("&lt;&amp;&quot;x") != std::string::npos);
  CHECK(svg.find("<&") == std::string::npos);
  CHECK(svg == report::map_svg(sheet));
  for (const char* element : {"svg", "g", "defs", "text"}) {
    CAPTURE(element);
    CHECK(count_of(svg, std::string("<") + element + " ") + count_of(svg, std::string("<") + element + ">") ==
          count_of(svg, std::string("</") + element + ">"));
  }
}
