// Numbers as readers see them: one way each.
// Layer: words. Sees core and circuit.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/openings.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/sun/localtime.hpp"

namespace skerry::words {

/// "980 g", "1.40 kg"
[[nodiscard]] std::string mass(double grams);
/// "34 %", "<1 %", "0 %": no more digits than the method has.
[[nodiscard]] std::string percent(double share);
/// The same within a sentence: "under 1 %".
[[nodiscard]] std::string percent_in_words(double share);
/// "1 hop", "2 hops"
[[nodiscard]] std::string counted(long long count, std::string_view one);
/// "06:15" of minutes after midnight of any day.
[[nodiscard]] std::string clock_text(long minutes);
/// The same of hours.
[[nodiscard]] std::string clock_of(double hours);
/// "all day", "06:15 to 09:30", or "about 03:00" of one that lasts some minutes only.
[[nodiscard]] std::string opening_text(const circuit::Opening& opening, std::string_view to = " to ");
/// The zone's clock then, or "none".
[[nodiscard]] std::string local_clock(const sun::Zone& zone, const std::optional<UtcTime>& when);
[[nodiscard]] const char* layer_text(circuit::Layer layer);  ///< "E", "F2", "Es"
/// "+2 dBi"; none: "a usual home antenna".
[[nodiscard]] std::string antenna_text(const std::optional<double>& gain_dbi);
[[nodiscard]] inline std::string antenna_text(const circuit::Station& s) {
  return antenna_text(s.home ? std::nullopt : std::optional(s.gain_dbi));
}
[[nodiscard]] const char* way_text(geodesy::Way way);  ///< "short", "long"

/// What an hour in a heading spans, by the nearest whole hour (advice::SiteHour).
inline constexpr std::string_view span_note = "Hour 14 stands for 13:30 to 14:30.";

/// "7" for a number of days in ten, rounded; "." where nothing propagates, "-" under half a day.
[[nodiscard]] std::string days_sign(bool open, double days_in_ten);
/// "7 days in ten", "1 day in ten", "under half a day in ten": whole, as days_sign().
[[nodiscard]] std::string whole_days(double days_in_ten);
/// 0..10, rounded: the class of a colour.
[[nodiscard]] int days_class(double days_in_ten);
/// "▆": the height of a bar of so many days in ten.
[[nodiscard]] const char* days_bar(double days_in_ten);

/// "#rrggbb" of 0..10 days in ten. 0 is the paper; 1 to 10 go down an even stair of lightness from pale
/// yellow to deep blue, so that the order survives any colour blindness and a black-and-white printer.
///   source   B. Ottosson, "A perceptual color space for image processing", 2020 (OKLab; matrices from
///            memory, checked by tests)
[[nodiscard]] std::string days_colour(int days);

/// Whether white letters are read more easily than black ones on days_colour(days). Source: WCAG 2.2,
/// relative luminance and contrast (success criterion 1.4.3).
[[nodiscard]] bool light_letters(int days);

}  // namespace skerry::words
