// Pieces of the page built in code, where a template would repeat itself thousands of times.
// Layer: page (internal).
#pragma once

#include <string>
#include <vector>

#include "skerry/page/html.hpp"

namespace skerry::page {

/// Which cell the page shows first: the one with most days in ten within a session, weighted by its region.
struct PageStart {
  std::size_t way = 0, hour = 12, band = 0;
};
[[nodiscard]] PageStart page_start(const kit::Trip& trip, const advice::Picture& picture);
/// The same within one way; hour 12 of the first band where nothing opens.
[[nodiscard]] PageStart way_start(const kit::Trip& trip, const advice::Picture& picture, std::size_t way);

/// What the words of one site and region look like on the page, and the words that they use (glossary).
[[nodiscard]] std::string words_html(const kit::Trip& trip, const std::vector<PlainWords>& words);
[[nodiscard]] std::string glossary_html(const std::vector<PlainWords>& words);

/// Bands by hours of one region from one site, as a grid that can be walked with the arrow keys.
[[nodiscard]] std::string strip_html(const kit::Trip& trip, const advice::Picture& picture, std::size_t way);

/// The field card: one sheet for the pocket.
[[nodiscard]] std::string card_html(const kit::Trip& trip, const advice::Advice& advice,
                                    const advice::Picture& picture);

/// The pictures' style sheet with the light palette written in, for programs that know no variables.
[[nodiscard]] std::string picture_style();

/// Where the Sun stands, in a word: "day", "grey" (twilight band of sun::twilight_*_deg), "night".
[[nodiscard]] const char* light_word(double sun_deg);
/// Its sign: circles open, half and full.
[[nodiscard]] const char* light_sign(double sun_deg);
/// Minutes after midnight of the far end's clock at a whole UTC hour of the day.
[[nodiscard]] int far_minute(const advice::PictureWay& way, Day day, std::size_t hour);

}  // namespace skerry::page
