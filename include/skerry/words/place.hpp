// Named places in words, and their clocks.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <string>
#include <vector>

#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/sun/clock_spans.hpp"

namespace skerry::words {

/// "Fair Isle, United Kingdom, 59.5300 N 1.6300 W, Europe/London"
[[nodiscard]] std::string place_text(const geodesy::Named& place);
/// What a name was taken for, and which others bear it: "TO: Boston, MA, United States, ...; not \"Boston, GB\"".
[[nodiscard]] std::string taken_text(const std::string& argument, const geodesy::NameSearch& search);
/// "which may be any of 3 places"
[[nodiscard]] std::string several(const geodesy::NameSearch& search);
/// A place to choose, with what to type for it.
[[nodiscard]] std::string choice_text(const geodesy::Named& place);
/// "north-east" of eight; 0..360.
[[nodiscard]] const char* compass_name(double azimuth_deg);
/// The question about a place out on the water.
[[nodiscard]] std::string water_question(const std::string& what, GeoPoint at, const geodesy::Water& water);

/// "CEST (UTC+2)", "+10:30", "-02:00 nautical (at sea)": what a clock shows at a moment, and how far it stands from
/// UTC.
[[nodiscard]] std::string clock_words(const sun::Zone& zone, UtcTime when);
/// "UTC+10:30", "UTC+0"
[[nodiscard]] std::string offset_words(int offset_s);
/// "the clock is changed at 15:00 UTC on 2027-04-03, from +11:00 to +10:30", empty where nothing
/// changes. Spans as sun::clock_spans.
[[nodiscard]] std::string change_text(const std::vector<sun::ClockSpan>& spans);
/// The head of a row of local hours and its cells: minutes that all of them share stand in the head ("here:30").
[[nodiscard]] std::string hours_head(const char* name, int offset_s);
[[nodiscard]] std::string hour_cell(int utc_hour, int offset_s);
/// The rows of a clock over a trip: one called `only`, or "before", "after" its change. Heads of at most 8 characters.
struct ClockRow {
  std::string head;
  int offset_s = 0;
};
[[nodiscard]] std::vector<ClockRow> clock_rows(const std::vector<sun::ClockSpan>& spans, const char* only);

}  // namespace skerry::words
