#include "skerry/page/pictures.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <sstream>
#include <string>

#include "../advice/small_trip.hpp"
#include "check.hpp"
#include "skerry/advice/explain_trip.hpp"
#include "skerry/page/html.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/setup.hpp"
#include "svg.hpp"

using namespace skerry;
using namespace skerry::page;
using namespace skerry::words;

namespace {

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const auto a = text.find(from);
  if (a == std::string::npos) return {};
  const auto b = text.find(to, a + from.size());
  return text.substr(a + from.size(), b - a - from.size());
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++n;
  return n;
}

/// The corners of a path of M and L.
std::vector<ChartPoint> corners(std::string path) {
  std::replace(path.begin(), path.end(), 'M', ' ');
  std::replace(path.begin(), path.end(), 'L', ' ');
  std::istringstream in(path);
  std::vector<ChartPoint> out;
  for (ChartPoint p; in >> p.x >> p.y;) out.push_back(p);
  return out;
}

struct Case {
  kit::Trip trip;
  advice::Advice advice;
  advice::Picture picture;
};
const Case& small() {
  static const Case one = [] {
    Case c;
    c.trip = advice::small_trip();
    c.trip.sites[0].name = "A & <b>";
    c.trip.targets[0].region.name = "\"]]>\x02\xE2\x80\xAE";
    advice::AdviceOptions options;
    options.uncertainty = false;
    c.advice = advice::advise(c.trip, options);
    c.picture = advice::make_picture(c.trip, c.advice);
    return c;
  }();
  return one;
}

}  // namespace

TEST_CASE("the side view is to scale: its ray leaves at the angle that the triangle gives", "[svg][known]") {
  // Source: plane geometry of the triangle centre, ground, mirror (as in ITU-R P.533-14, section 5.1.2; from
  // memory): tan(elevation) = (cos t - R / (R + h)) / sin t, with t the half hop as an angle at the centre.
  constexpr double radius_km = 6371;
  for (const double hop_km : {500.0, 1500.0, 3000.0}) {
    for (const int hops : {1, 2, 4}) {
      CAPTURE(hop_km, hops);
      advice::PictureCell cell;
      cell.by.emplace();
      cell.strongest.hops = hops;
      cell.strongest.reflection_height_km = 300;
      cell.distance_km = hop_km * hops;
      cell.skip_km = 400;
      advice::PictureWay way;
      way.path.distance_km = cell.distance_km;
      const double t = hop_km / 2 / radius_km;
      const double wanted_deg =
          std::atan((std::cos(t) - radius_km / (radius_km + 300)) / std::sin(t)) * 180 / std::numbers::pi;
      cell.strongest.elevation_deg = wanted_deg;
      const auto svg = hop_svg(way, cell);
      const auto ray = corners(between(svg, "class=\"ray\" d=\"", "\""));
      const auto level = corners(between(svg, "class=\"level\" d=\"", "\""));
      REQUIRE(ray.size() == 2 * static_cast<std::size_t>(hops) + 1);
      REQUIRE(level.size() == 2);
      const auto angle = [](ChartPoint a, ChartPoint b) {
        return std::atan2(a.y - b.y, b.x - a.x) * 180 / std::numbers::pi;
      };
      // Corners are written to a tenth of a unit: on the shortest leg of 25 units that is a quarter of a
      // degree.
      CHECK_THAT(angle(ray[0], ray[1]) - angle(level[0], level[1]), WithinAbs(wanted_deg, 0.4));
      CHECK(svg.find("data-skip=\"400\"") != std::string::npos);
      // Inside its box, whatever the length.
      double width = 0, height = 0;
      std::istringstream(between(svg, "viewBox=\"0 0 ", "\"")) >> width >> height;
      for (const auto& p : ray) {
        CHECK(p.x >= 0);
        CHECK(p.x <= width);
        CHECK(p.y >= 0);
        CHECK(p.y <= height);
      }
    }
  }
}

TEST_CASE("a closed cell shows layers and no ray", "[svg][edge]") {
  advice::PictureWay way;
  way.path.distance_km = 19900;
  const auto svg = hop_svg(way, {});
  CHECK(count(svg, "class=\"layer") == 3);
  CHECK(count(svg, "class=\"ray\"") == 0);
  CHECK(count(svg, "class=\"skipzone\"") == 0);
  CHECK(svg.find("nan") == std::string::npos);
}

TEST_CASE("pictures have names of their own, stand alone and keep hostile names as text", "[svg][property]") {
  const auto& c = small();
  const auto all = pictures(c.trip, c.advice, c.picture);
  std::set<std::string> names;
  for (const auto& one : all) {
    CAPTURE(one.name);
    CHECK(names.insert(one.name).second);
    CHECK(one.name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-.") == std::string::npos);
    CHECK(one.name.substr(one.name.size() - 4) == ".svg");
    CHECK(one.svg.rfind("<?xml version=\"1.0\"", 0) == 0);
    CHECK(count(one.svg, "<title>") >= 1);
    CHECK(count(one.svg, "<svg ") == count(one.svg, "</svg>"));
    CHECK(one.svg.find("var(") == std::string::npos);
    CHECK(one.svg.find("<b>") == std::string::npos);
    CHECK(one.svg.find("]]>") == std::string::npos);
    CHECK(one.svg.find('\x02') == std::string::npos);
    CHECK(one.svg.find("\xE2\x80\xAE") == std::string::npos);
  }
  CHECK(all.size() == c.picture.maps.size() + 2 * c.picture.ways.size() + c.picture.patterns.size() + 1);
}

TEST_CASE("the strip's numbers are those of the advice", "[svg][property]") {
  const auto& c = small();
  const std::size_t bands = c.trip.bands.size();
  for (std::size_t w = 0; w < c.picture.ways.size(); ++w) {
    const auto& way = c.picture.ways[w];
    const auto svg = strip_svg(c.trip, c.picture, w);
    std::vector<std::string> wanted;
    for (std::size_t b = 0; b < bands; ++b) {
      if (way.cells[b].no_setup) continue;
      for (int h = 0; h < 24; ++h) {
        const auto& slot = c.advice.openings.at(way.site, way.target, h, static_cast<int>(b));
        wanted.push_back(days_sign(slot.open(), slot.days_both));
      }
    }
    std::vector<std::string> found;
    for (auto at = svg.find("mark\""); at != std::string::npos; at = svg.find("mark\"", at + 1))
      found.push_back(between(svg.substr(at), ">", "<"));
    // Cells without a fill carry the third class.
    std::size_t plain_cells = count(svg, "class=\"plain\"");
    CHECK(found.size() + plain_cells == wanted.size());
    const auto filled =
        std::count_if(wanted.begin(), wanted.end(), [](const auto& s) { return s != "." && s != "-"; });
    CHECK(found.size() == static_cast<std::size_t>(filled));
    std::erase_if(wanted, [](const auto& s) { return s == "." || s == "-"; });
    CHECK(found == wanted);
  }
}

TEST_CASE("a way by sporadic E is drawn off its own layer", "[picture][known]") {
  // Source: the mirror of sporadic E at 110 km, as ITU-R P.534 has it (from memory).
  advice::PictureCell cell;
  cell.by.emplace();
  cell.strongest.hops = 2;
  cell.strongest.reflection_height_km = 300;
  auto& es = cell.es.emplace();
  es.layer = circuit::Layer::es;
  es.hops = 1;
  es.reflection_height_km = 110;
  es.elevation_deg = 5.2;
  cell.distance_km = 1500;
  advice::PictureWay way;
  way.path.distance_km = cell.distance_km;
  const auto svg = hop_svg(way, cell);
  CHECK(svg.find("Es mirror at 110 km") != std::string::npos);
  CHECK(svg.find("data-hops=\"1\"") != std::string::npos);
  CHECK(svg.find("5.2&#176;") != std::string::npos);
  cell.es.reset();
  CHECK(hop_svg(way, cell).find("F2 mirror at 300 km") != std::string::npos);
}

TEST_CASE("the page's plain words are the sentences of the explanation, linked to their glosses",
          "[html][property]") {
  const auto& c = small();
  const auto question = advice::question_of(c.trip, c.advice, 0, 0, std::nullopt, words::setup_namer(c.trip));
  PlainWords words;
  words.sheet.from_name = c.trip.sites[0].name;
  words.sheet.to_name = c.trip.targets[0].region.name;
  words.sheet.climate = question.climate;
  words.sheet.bands = circuit::explain(question);
  const auto html = report_html(c.trip, c.advice, c.picture, {words});
  CHECK(count(html, "<details class=\"why\"") == 1);
  CHECK(count(html, "class=\"verdictline\"") == words.sheet.bands.size());
  std::size_t links = 0;
  for (auto at = html.find("class=\"word\" href=\"#"); at != std::string::npos;
       at = html.find("class=\"word\" href=\"#", at + 1)) {
    const auto id = between(html.substr(at), "href=\"#", "\"");
    CAPTURE(id);
    CHECK(count(html, "<dt id=\"" + id + "\">") == 1);
    ++links;
  }
  CHECK(links > 3);
  // Without their tags the list items are the sentences.
  for (const auto& band : words.sheet.bands) {
    for (const auto& sentence : explain_sentences(words.sheet, band)) {
      std::string bare;
      bool tag = false;
      const auto block = between(html, "<details class=\"why\"", "</details>");
      for (const char ch : block) {
        if (ch == '<') tag = true;
        if (!tag) bare += ch;
        if (ch == '>') tag = false;
      }
      if (sentence.find_first_of("<&>\"'") != std::string::npos)
        continue;  // escaped: tested with hostile names
      CAPTURE(sentence);
      CHECK(bare.find(sentence) != std::string::npos);
    }
  }
  CHECK(count(report_html(c.trip, c.advice, c.picture), "words-title") == 0);
}
