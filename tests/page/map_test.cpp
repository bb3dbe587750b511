#include "skerry/page/map.hpp"

#include "check.hpp"
#include "map_question.hpp"

using namespace skerry;

using test::count_of;
using test::map_question;

TEST_CASE("the picture has a world for each hour and frequency and every cell's colour", "[page][property]") {
  page::MapSheet sheet;
  sheet.question = map_question();
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
