#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "../advice/small_trip.hpp"
#include "check.hpp"
#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/advice/picture.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/page/html.hpp"
#include "skerry/words/numbers.hpp"
#include "svg.hpp"

using namespace skerry;
using namespace skerry::page;
using namespace skerry::words;

namespace {

struct Case {
  kit::Trip trip;
  advice::Advice advice;
  advice::Picture picture;
  std::string html;
};

/// A trip whose names try to break out of the page.
const Case& hostile() {
  static const Case one = [] {
    Case c;
    c.trip = advice::small_trip();
    c.trip.name = "<script>alert(1)</script>\x01\xE2\x80\xAE\"'&";
    c.trip.sites[0].name = "</bdi><img src=x onerror=alert(2)>";
    c.trip.targets[0].region.name = "</script><b>\xE2\x81\xA7&{{style}}";
    c.trip.targets[0].people[0].name = "\xFF\xE2\x80\xA8<!--";
    c.trip.rigs[0].item.name = "5 W \"set\" <i>";
    advice::AdviceOptions options;
    options.uncertainty = false;
    c.advice = advice::advise(c.trip, options);
    c.picture = advice::make_picture(c.trip, c.advice);
    c.html = report_html(c.trip, c.advice, c.picture);
    return c;
  }();
  return one;
}

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++n;
  return n;
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const auto a = text.find(from);
  if (a == std::string::npos) return {};
  const auto b = text.find(to, a + from.size());
  return text.substr(a + from.size(), b - a - from.size());
}

}  // namespace

TEST_CASE("the trip that a page carries keeps its lines, escaped", "[page][regression]") {
  const auto& c = hostile();
  Engine engine;
  engine.worker = "self";
  engine.packed = "AA==";
  engine.trip = "# <a>\n[trip]\n\nname = \"b\"\n";
  const auto html = report_html(c.trip, c.advice, c.picture, {}, engine);
  CHECK(html.find("># &lt;a&gt;\n[trip]\n\nname = &quot;b&quot;\n</textarea>") != std::string::npos);
}

TEST_CASE("names with markup, quotes, control and direction marks stay text", "[html][edge]") {
  const auto& html = hostile().html;
  CHECK(count(html, "<script") == 5);  // data, fields, worker, engine and the page's own
  CHECK(count(html, "</script") == 5);
  CHECK(count(html, "<img") == 0);
  CHECK(count(html, "<!--") == 0);
  CHECK(html.find("&lt;script&gt;alert(1)&lt;/script&gt;") != std::string::npos);
  CHECK(html.find('\x01') == std::string::npos);
  CHECK(html.find('\xFF') == std::string::npos);
  for (const char* mark : {"\xE2\x80\xAE", "\xE2\x81\xA7", "\xE2\x80\xA8"})
    CHECK(html.find(mark) == std::string::npos);
  // A template's own brackets in a name are not filled in.
  CHECK(html.find("{{style}}") != std::string::npos);
}

TEST_CASE("the page asks nobody for anything and lets only its own blocks run", "[html][property]") {
  const auto& html = hostile().html;
  CHECK(html.size() < 1500000);
  // No attribute that fetches, and no address but the name of the SVG language.
  for (const char* word :
       {" src=", "url(", "@import", "http://", "https://", " style=", "javascript:", " onclick", " onload"}) {
    CAPTURE(word);
    // The hostile name above carries one of these as escaped text.
    std::size_t allowed = 0;
    if (std::string(word) == " src=")
      allowed =
          count(html, "&lt;img src=") + count(html, "\\u003cimg src=") + count(html, "\\u0026lt;img src=");
    // The script names the SVG language to make its elements and to save them; nothing is fetched from there.
    if (std::string(word) == "http://") allowed = count(html, "'http://www.w3.org/2000/svg'");
    CHECK(count(html, word) == allowed);
  }
  const auto policy = between(html, "Content-Security-Policy\" content=\"", "\"");
  CHECK(policy.find("default-src 'none'") == 0);
  CHECK(policy.find("unsafe") == std::string::npos);
  // That the hashes are those of the two blocks is judged by Python's library (ctest -L authorities).
  CHECK(count(policy, "sha256-") == 2);
}

TEST_CASE("the page's colours of the days are those of the words", "[html][property]") {
  const auto css = embedded("blocks/style");
  const auto night = css.find("@media screen and (prefers-color-scheme:dark){\n.d1");
  REQUIRE(night != std::string_view::npos);
  for (int days = 1; days <= 10; ++days) {
    CAPTURE(days);
    const auto rule = [&](int colour) {
      return fmt::format(".d{}{{background:{};color:{}}}", days, words::days_colour(colour),
                         words::light_letters(colour) ? "#fff" : "#000");
    };
    CHECK(css.find(rule(days)) < night);
    // By night the other way round.
    const auto other = css.find(rule(11 - days), night);
    CHECK(other < css.find("@media print", night));
  }
}

TEST_CASE("every name in the template is filled in", "[html][regression]") {
  // The template engine prints nothing for an unknown name: no marker may be left, and texts that must be
  // there are.
  const auto& html = hostile().html;
  for (const char* id :
       {"grams-title", "hours-title", "pack-title", "explore-title", "strips-title", "antenna-title",
        "firm-title", "putup-title", "sun-title", "cautions-title", "sources-title", "card-title"}) {
    CAPTURE(id);
    CHECK(count(html, "id=\"" + std::string(id) + "\"") == 1);
  }
  // One for each way's hours, one for all regions.
  CHECK(count(html, "role=\"grid\"") == hostile().picture.ways.size() + 1);
  CHECK(count(html, "class=\"chart\"") == hostile().picture.maps.size());
  CHECK(count(html, "data-tick=\"") ==
        static_cast<std::size_t>(std::count_if(hostile().advice.items.begin(), hostile().advice.items.end(),
                                               [](const auto& i) { return i.carry; })));
  CHECK(count(html, "content=\"default-src 'none'; style-src 'sha256-") == 1);
}

TEST_CASE("the data in the page are JSON again and agree with the advice", "[html][property]") {
  const auto& c = hostile();
  const auto json = nlohmann::json::parse(between(c.html, "id=\"data\">", "</script>"));
  CHECK(json == nlohmann::json::parse(page_json(c.trip, c.advice, c.picture)));
  const auto& keys = json["cell_keys"];
  const auto column = [&](const char* key) {
    return static_cast<std::size_t>(std::find(keys.begin(), keys.end(), key) - keys.begin());
  };
  for (const auto& way : json["ways"]) {
    for (int h = 0; h < 24; ++h) {
      for (std::size_t b = 0; b < c.trip.bands.size(); ++b) {
        const auto& slot = c.advice.openings.at(way["site"], way["target"], h, static_cast<int>(b));
        const auto& cell = way["cells"][static_cast<std::size_t>(h) * c.trip.bands.size() + b];
        CHECK((cell[0] == 1) == slot.open());
        // Rounded to hundredths in the page.
        if (slot.open())
          CHECK_THAT(cell[column("days_both")].get<double>(), WithinAbs(slot.days_both, 0.0051));
      }
    }
  }
}

TEST_CASE("the picture recomputes what the advice said, and its ledger adds up", "[picture][property]") {
  const auto& c = hostile();
  int open = 0;
  for (const auto& way : c.picture.ways) {
    for (int h = 0; h < 24; ++h) {
      for (std::size_t b = 0; b < c.trip.bands.size(); ++b) {
        const auto& slot = c.advice.openings.at(way.site, way.target, h, static_cast<int>(b));
        const auto& cell = way.cells[static_cast<std::size_t>(h) * c.trip.bands.size() + b];
        REQUIRE(cell.open() == slot.open());
        if (!slot.open()) continue;
        ++open;
        // The same numbers by the same functions.
        CHECK_THAT(cell.days_both, WithinAbs(slot.days_both, 1e-9));
        const auto& m = cell.strongest;
        CHECK_THAT(m.elevation_deg, WithinAbs(slot.elevation_deg, 1e-9));
        CHECK_THAT(cell.there.snr_db, WithinAbs(slot.snr_there_db, 1e-9));
        for (const auto& [side, terms] :
             {std::pair(cell.there, cell.there_terms), std::pair(cell.back, cell.back_terms)}) {
          // Term by term as in P.533, sections 5 and 6 (from memory): a sum, so only rounding is left.
          const double losses = m.free_space_db + m.absorption_db + m.above_muf_db + m.ground_db +
                                m.screening_db + m.auroral_db + m.skyline_db + m.other_db + m.focusing_db;
          CHECK_THAT(terms.sent_dbw + terms.from_dbi + terms.to_dbi - losses + terms.together_db,
                     WithinAbs(side.received_dbw, 1e-6));
          CHECK_THAT(side.received_dbw - terms.noise_dbw, WithinAbs(side.snr_db, 1e-6));
          CHECK_THAT(side.snr_db - terms.needed_db, WithinAbs(side.margin_db, 1e-6));
        }
      }
    }
  }
  CHECK(open > 20);
}

TEST_CASE("same trip, same bytes", "[html][property]") {
  const auto& c = hostile();
  CHECK(report_html(c.trip, c.advice, advice::make_picture(c.trip, c.advice)) == c.html);
}

TEST_CASE("the page's card chooses what opens, says what serves it, and marks the long way",
          "[page][regression]") {
  Case c;
  c.trip = advice::small_trip();
  for (const char* name : {"Alpha", "Bravo", "Charlie", "Delta"})
    c.trip.targets.push_back(advice::place_target(name, 30, 60, 3));
  c.trip.targets.push_back(advice::place_target("Echo", 23.7, 121, 1));
  advice::AdviceOptions options;
  options.uncertainty = options.variants = options.frontier = false;
  c.advice = advice::advise(c.trip, options);
  c.picture = advice::make_picture(c.trip, c.advice);
  // Only the last, lightest region opens, by the long way, while somebody is on the air.
  constexpr int echo = 6;
  const std::size_t bands = c.trip.bands.size();
  for (auto& slot : c.advice.openings.slots) slot = {};
  for (auto& way : c.picture.ways)
    for (auto& cell : way.cells) cell = {};
  for (int hour = 8; hour < 12; ++hour) {
    auto& slot = const_cast<advice::Slot&>(c.advice.openings.at(0, echo, hour, 1));
    slot.by = advice::ServedBy{Id<kit::Setup>(0), Id<noise::Mode>(0), Id<geodesy::WeightedPoint>(0)};
    slot.days_both = hour == 8 ? 3 : 7;
    slot.way = geodesy::Way::long_way;
    auto& cell = c.picture.ways[echo].cells[static_cast<std::size_t>(hour) * bands + 1];
    cell.by = slot.by;
    cell.days_both = slot.days_both;
    cell.way = slot.way;
  }
  const auto card = card_html(c.trip, c.advice, c.picture);
  CHECK(count(card, "class=\"regionrow\"") == 1);
  CHECK(card.find("<bdi>Echo</bdi>") < card.find("</table>"));
  CHECK(card.find("Alpha (closed)") != std::string::npos);
  CHECK(card.find(">~L3</td>") != std::string::npos);
  CHECK(count(card, ">L7</td>") == 3);
  // The band's letter, and what it stands for, with the mode.
  CHECK(card.find("20m A</th>") != std::string::npos);
  CHECK(card.find("<li>A: ") != std::string::npos);
  CHECK(card.find("(" + c.trip.modes[0].name + ")") != std::string::npos);
}

TEST_CASE("the printed card has letters that can be read at arm's length", "[page][regression]") {
  const std::string css(embedded("blocks/style"));
  const auto print = css.substr(css.find("@media print"));
  const auto size_of = [&](const std::string& rule) {
    const auto at = print.find(rule);
    REQUIRE(at != std::string::npos);
    const auto size = print.find("font-size:", at);
    REQUIRE(size < print.find('}', at));
    return std::stod(print.substr(size + 10));
  };
  CHECK(size_of(".cardgrid,body.cardonly .cardgrid{") >= 8);
  CHECK(size_of(".cardfoot .cautions li{") >= 7.5);
  CHECK(size_of(".card li,.kitline{") >= 7.5);
}
