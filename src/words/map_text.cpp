#include <fmt/format.h>

#include "skerry/core/decimal.hpp"
#include "skerry/words/map.hpp"

namespace skerry::words {

std::string frequency_name(const circuit::PathQuestion::Frequency& f) {
  if (!f.band.empty()) return f.band;
  std::string out;
  append_fixed(out, f.mhz, 4);
  return out + "MHz";
}

std::string map_text(const circuit::CoverageQuestion& q, const circuit::CoverageShare& share, double level) {
  std::string out = fmt::format(
      "World coverage from {}, {}, R12 {:.0f}, {}, {:g} W to stations of {:g} W\n"
      "Share of the world's surface, in percent, with {:g} or more days in ten both ways (grid {:g} deg)\n\n"
      "UTC ",
      geodesy::to_text(q.from.at), to_iso(month_of(start_of(q.climate.day))), q.climate.r12, q.mode.name,
      q.from.power_w, q.to.power_w, level, q.grid.step_deg);
  for (const auto& f : q.frequencies) out += fmt::format(" {:>8}", frequency_name(f));
  out += '\n';
  for (std::size_t h = 0; h < q.hours.size(); ++h) {
    out += fmt::format("{:02} ", q.hours[h]) + ' ';
    for (std::size_t f = 0; f < q.frequencies.size(); ++f)
      out += fmt::format(" {:8.0f}", 100 * share.at(h, f));
    out += '\n';
  }
  out += "\nA picture: -f svg -o world.svg; numbers: -f csv or -f geojson.\n";
  return out;
}

}  // namespace skerry::words
