// The world at one hour as a picture: who can be worked on 20 metres.
#include <iostream>

#include "skerry/geodesy/land.hpp"
#include "skerry/page/map.hpp"

int main() {
  using namespace skerry;
  page::MapSheet sheet;
  auto& question = sheet.question;
  question.from.at = {-19.70, 63.43};
  question.climate.day = *parse_day("2027-02-15", {});
  question.climate.r12 = ionosphere::R12(60);
  question.mode = *noise::find_mode("cw", {});
  question.frequencies = {{"20m", 14.06}};
  question.hours = {18};
  question.grid.step_deg = 10;
  sheet.coast = geodesy::coastline();
  sheet.nights.resize(1);
  const bool whole = circuit::coverage(question, [&](const circuit::CoveragePart& part) {
    for (const auto& value : part.values) sheet.classes.push_back(page::days_class(value));
    return true;
  });
  if (!whole) return 2;
  std::cout << page::map_svg(sheet);
}
