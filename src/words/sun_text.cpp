// Sun, twilight and grey line.
#include <fmt/format.h>

#include <array>

#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/sun.hpp"

namespace skerry::words {

namespace {

const char* state_text(sun::DayState state) {
  static constexpr std::array names{"day and night", "polar day", "polar night"};
  return nth(names, state);
}

const char* kind_text(sun::GreyKind kind) {
  static constexpr std::array names{"one end", "both ends", "along the path"};
  return nth(names, kind);
}

/// "rises", "sets", "rises here, sets there": what happens at the ends that stand in the band.
std::string ends_text(const sun::GreyWindow& w) {
  std::string out;
  if (w.from_in_band) out += fmt::format("sun{} here", w.rising_from ? "rise" : "set");
  if (w.to_in_band)
    out += fmt::format("{}sun{} there", out.empty() ? "" : ", ", w.rising_to ? "rise" : "set");
  return out;
}

std::string day_text(const sun::Day& d, const sun::Zone& zone) {
  std::string out;
  if (d.state != sun::DayState::day_and_night)
    out += fmt::format("  {}: the Sun does not cross the horizon\n", state_text(d.state));
  static constexpr std::array names{"astronomical dawn", "nautical dawn", "civil dawn",
                                    "sunrise",           "noon",          "sunset",
                                    "civil dusk",        "nautical dusk", "astronomical dusk"};
  const auto moments = sun::moments(d);
  for (std::size_t i = 0; i < moments.size(); ++i) {
    if (const auto& when = moments[i]) {
      const std::string iso = to_iso(*when);
      out += fmt::format("  {:<18} {} {} UTC   {} {}\n", names[i], iso.substr(0, 10), iso.substr(11, 5),
                         zone.local_clock(*when), zone.label(*when));
    } else {
      out += fmt::format("  {:<18} none\n", names[i]);
    }
  }
  out += fmt::format("  highest            {:.1f} deg\n", plus_zero(d.noon_elevation_deg, 1));
  return out;
}

}  // namespace

std::string sun_text(const SunAnswer& a, const Style& style) {
  std::string out =
      fmt::format("Sun at {} ({}), {}\n", geodesy::to_text(a.at), geodesy::to_locator(a.at), to_iso(a.date));
  out += day_text(a.day, a.zone);
  if (!a.far) return out;
  out += fmt::format("\nThere, {} ({})\n", geodesy::to_text(a.far->to), geodesy::to_locator(a.far->to));
  out += day_text(a.far->day, a.far->zone);
  out += fmt::format("\nGrey line on this {:.0f} km path\n", a.far->path.distance_km);
  if (!a.far->grey.empty()) out += fmt::format("  {:<52}terminator to path\n", "");
  if (a.far->grey.empty()) out += "  neither end stands in twilight with the other dark or in twilight\n";
  for (const auto& w : a.far->grey) {
    out +=
        fmt::format("  {} to {} UTC  {:<15} {:<28} {:.0f} deg\n", to_iso(w.start).substr(11, 5),
                    to_iso(w.end).substr(11, 5), kind_text(w.kind), ends_text(w), w.path_to_terminator_deg);
  }
  out +=
      "\nTwilight band: Sun between 9 deg under and 1 deg over the horizon. No gain is added for it:\n"
      "the path answer takes the darkness of the D region and the MUF at each hour as they are.\n";
  return on_screen(out, style);
}

}  // namespace skerry::words
