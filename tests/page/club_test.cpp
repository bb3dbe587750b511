#include "skerry/page/club.hpp"

#include <string>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;

namespace {

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++n;
  return n;
}

/// Two answers by hand: 20 m on 3 days in ten at all hours, and on 7.
words::Contrast made() {
  words::Contrast c;
  c.from_name = "<isle>";
  c.to_name = "R&D";
  c.thing = words::Contrasted::power;
  for (auto* answer : {&c.before, &c.after}) {
    auto& q = answer->question;
    q.frequencies = {{"20m", 14.06}};
    q.climate.day = Day{std::chrono::year{2027}, std::chrono::month{2}, std::chrono::day{15}};
    auto& way = answer->ways.emplace_back();
    way.hours.resize(24);
    for (auto& hour : way.hours) {
      auto& b = hour.bands.emplace_back();
      b.there.open = true;
      b.days_in_ten = answer == &c.before ? 3 : 7;
    }
  }
  c.after.question.from.power_w = 100;
  return c;
}

}  // namespace

TEST_CASE("the hop table's picture has a dot for each angle of the table", "[page][property]") {
  const auto table = circuit::hop_table();
  std::size_t dots = 0;
  for (const auto& row : table.rows) dots += (row.e_deg ? 1U : 0U) + (row.f2_deg ? 1U : 0U);
  const auto svg = page::hop_table_svg(table);
  CHECK(count(svg, "<circle") == dots);
  CHECK(svg == page::hop_table_svg(table));
  CHECK(count(svg, "http") == 1);
}

TEST_CASE("a contrast's picture shows both cases of each band, and escapes names", "[page][property]") {
  const auto c = made();
  const auto svg = page::contrast_svg(c);
  CHECK(count(svg, ">3</text>") == 24);
  CHECK(count(svg, ">7</text>") == 24);
  CHECK(svg.find("&lt;isle&gt; to R&amp;D") != std::string::npos);
  CHECK(svg.find("<isle>") == std::string::npos);
  CHECK(count(svg, "http") == 1);
  const auto gain = words::largest_move(c, true);
  REQUIRE(gain);
  CHECK(gain->before == 3);
  CHECK(gain->after == 7);
  CHECK_FALSE(words::largest_move(c, false).has_value());
}
