#include "skerry/page/map.hpp"

#include "check.hpp"

using namespace skerry;

namespace {

circuit::CoverageQuestion question() {
  circuit::CoverageQuestion q;
  q.from.at = GeoPoint::at_deg(-19.70, 63.43);
  q.to.power_w = 100;
  q.climate.day = middle_of(std::chrono::year{2027} / 2);
  q.climate.r12 = ionosphere::R12(90);
  q.frequencies = {{"20m", 14.06}, {"", 9.5}};
  q.hours = {18, 3};
  q.mode = *noise::find_mode("cw", {});
  q.grid.step_deg = 30;
  return q;
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("the picture has a world for each hour and frequency and every cell's colour", "[page][property]") {
  page::MapSheet sheet;
  sheet.question = question();
  sheet.site_name = "<&\"x";
  const std::size_t cells = sheet.question.grid.cells();
  sheet.classes.assign(4 * cells, page::closed_class);
  // First world: the first row of twelve is all 10, the next alternates 3 and closed.
  for (std::size_t c = 0; c < 12; ++c) sheet.classes[c] = 10;
  for (std::size_t c = 12; c < 24; c += 2) sheet.classes[c] = 3;
  sheet.nights.resize(2);
  const auto svg = page::map_svg(sheet);
  CHECK(count_of(svg, ":00 UTC</text>") == 4);
  CHECK(count_of(svg, "M0 0h360v30h-360z") == 1);
  CHECK(count_of(svg, "h30v30h-30z") == 6);
  CHECK(svg.find("&lt;&amp;&quot;x") != std::string::npos);
  CHECK(svg.find("<&") == std::string::npos);
  CHECK(svg == page::map_svg(sheet));
  for (const char* element : {"svg", "g", "defs", "text"}) {
    CAPTURE(element);
    CHECK(count_of(svg, std::string("<") + element + " ") + count_of(svg, std::string("<") + element + ">") ==
          count_of(svg, std::string("</") + element + ">"));
  }
}
