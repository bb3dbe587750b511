#include "skerry/words/place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/core/time.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::words {

using geodesy::Named;

namespace {

std::string name_and_country(const Named& place) {
  std::string out(place.name);
  if (!place.state.empty()) out += fmt::format(", {}", place.state);
  // An island that is a country of its own is named once.
  if (!place.country.empty() && geodesy::folded_name(place.country) != geodesy::folded_name(place.name))
    out += fmt::format(", {}", place.country);
  static constexpr std::array kinds{"", " (airfield)", " (island)", " (peak)", " (station)", ""};
  return out + nth(kinds, place.kind);
}

}  // namespace

std::string place_text(const Named& place) {
  return fmt::format("{}, {} ({}), {}", name_and_country(place), geodesy::to_text(place.at),
                     geodesy::to_locator(place.at), place.zone.empty() ? "no legal time" : place.zone);
}

std::string taken_text(const std::string& argument, const geodesy::NameSearch& search) {
  std::string out = argument + ": " + place_text(*search.taken);
  // Judgement: two others show that there are some.
  constexpr std::size_t most = 2;
  for (std::size_t i = 0; i < std::min(most, search.others.size()); ++i)
    out += fmt::format("{}\"{}\"", i == 0 ? "; not " : ", ", geodesy::telling_name(search.others[i]));
  if (search.others.size() > most) out += fmt::format(" or {} more", search.others.size() - most);
  return out;
}

std::string several(const geodesy::NameSearch& search) {
  return fmt::format("which may be any of {}",
                     counted(static_cast<long long>(search.others.size()), "place"));
}

std::string choice_text(const Named& place) {
  return fmt::format("\"{}\": {}", geodesy::telling_name(place), place_text(place));
}

const char* compass_name(double azimuth_deg) {
  static constexpr std::array names{"north", "north-east", "east", "south-east",
                                    "south", "south-west", "west", "north-west"};
  return nth(names, static_cast<std::size_t>(std::lround(azimuth_deg / 45)) % names.size());
}

std::string water_question(const std::string& what, GeoPoint at, const geodesy::Water& water) {
  std::string near;
  if (water.nearest)
    near = fmt::format(", {:.0f} km from {}", water.nearest->distance_km,
                       name_and_country(water.nearest->place));
  return fmt::format("{}: {} lies {}{}: is that meant?", what, geodesy::to_text(at, 2),
                     water.kind == geodesy::Water::Kind::sea ? std::string("in the open sea")
                                                             : fmt::format("out on {}", water.lake),
                     near);
}

std::string offset_words(int offset_s) {
  const int minutes = std::abs(offset_s) / 60;
  return fmt::format("UTC{}{}{}", offset_s < 0 ? '-' : '+', minutes / 60,
                     minutes % 60 == 0 ? "" : fmt::format(":{:02}", minutes % 60));
}

std::string clock_words(const sun::Zone& zone, UtcTime when) {
  const auto label = zone.label(when);
  if (zone.nautical()) return label + " (at sea)";
  const bool number = label[0] == '+' || label[0] == '-' || label == "UTC";
  return number ? label : fmt::format("{} ({})", label, offset_words(zone.offset_s(when)));
}

std::string change_text(const std::vector<sun::ClockSpan>& spans) {
  std::string out;
  for (std::size_t i = 1; i < spans.size(); ++i) {
    const auto since = to_iso(spans[i].since);
    out += fmt::format("{}the clock is changed at {} UTC on {}, from {} to {}", i == 1 ? "" : "; ",
                       since.substr(11, 5), since.substr(0, 10), spans[i - 1].label, spans[i].label);
  }
  return out;
}

std::string hours_head(const char* name, int offset_s) {
  const int odd = sun::odd_minutes(offset_s);
  return odd == 0 ? std::string(name) : fmt::format("{}:{:02}", name, odd);
}

std::vector<ClockRow> clock_rows(const std::vector<sun::ClockSpan>& spans, const char* only) {
  std::vector<ClockRow> out;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    const char* name = spans.size() == 1 ? only : i == 0 ? "before" : i == 1 ? "after" : "later";
    out.push_back({hours_head(name, spans[i].offset_s), spans[i].offset_s});
  }
  return out;
}

std::string hour_cell(int utc_hour, int offset_s) {
  return fmt::format("{:02}", sun::local_minute(utc_hour, offset_s) / 60);
}

}  // namespace skerry::words
