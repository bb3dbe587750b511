// Pieces of the page built in code, where a template would repeat itself thousands of times.
// Layer: page (internal).
#pragma once

#include <string>
#include <vector>

#include "skerry/page/html.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::page {

/// Which cell the page shows first: the one with most days in ten within a session, weighted by its region.
struct PageStart {
  std::size_t way = 0, hour = 12, band = 0;
};
[[nodiscard]] PageStart page_start(const kit::Trip& trip, const advice::Picture& picture);
/// The same within one way; hour 12 of the first band where nothing opens.
[[nodiscard]] PageStart way_start(const kit::Trip& trip, const advice::Picture& picture, std::size_t way);

/// The template with each {{name}} replaced by the part of that name; what is put in is not looked at again.
[[nodiscard]] std::string filled(std::string_view page, const std::vector<Part>& parts);

// Pieces that hang on the choice alone, in the order of quick_parts().
[[nodiscard]] std::string top_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string beam_html(const advice::Advice& advice);
[[nodiscard]] std::string regions_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string items_html(const kit::Trip& trip, const advice::Advice& advice, bool carry);
[[nodiscard]] std::string plan_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string practice_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string worth_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string cases_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string days_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string power_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string cautions_html(const kit::Trip& trip, const advice::Advice& advice);
[[nodiscard]] std::string cannot_html(const kit::Trip& trip, const advice::Advice& advice);
/// A section of `pack` as a list; empty where there is none.
[[nodiscard]] std::string section_html(words::Section section, const kit::Trip& trip,
                                       const advice::Advice& advice);
/// Lines as items of a list; lines that stand further in go to the item before.
[[nodiscard]] std::string list_html(const std::string& lines);

/// The beam's length in grams, and its things: carried in the order of what they bring, those that go in any
/// case last; the others in the order of what they would add.
[[nodiscard]] double beam_scale_g(const advice::Advice& advice);
[[nodiscard]] std::vector<const advice::ItemAdvice*> in_order(const advice::Advice& advice, bool carry);
/// 0 (goes anyway) to 5: how much a carried thing brings.
[[nodiscard]] int beam_class(const advice::Advice& advice, const advice::ItemAdvice& item);
/// "without it 4 % less", and its sign.
[[nodiscard]] std::string beam_gain(const advice::Advice& advice, const advice::ItemAdvice& item);
[[nodiscard]] std::string beam_gain_short(const advice::Advice& advice, const advice::ItemAdvice& item);

// Pieces that hang on the hours' rays.
[[nodiscard]] std::string ways_html(const kit::Trip& trip, const advice::Picture& picture);
[[nodiscard]] std::string bands_html(const kit::Trip& trip);
[[nodiscard]] std::string maps_html(const kit::Trip& trip, const advice::Picture& picture, std::size_t hour);
[[nodiscard]] std::string strips_html(const kit::Trip& trip, const advice::Picture& picture);
[[nodiscard]] std::string patterns_html(const kit::Trip& trip, const advice::Advice& advice,
                                        const advice::Picture& picture);

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
/// A style sheet with the light or the dark palette written in for its variables; the light paper is white.
[[nodiscard]] std::string in_palette(std::string css, bool dark);

/// The classes of a cell of hours: its days as a shade, whether they are as many as wanted, whether one is on the air.
[[nodiscard]] std::string cell_classes(const advice::PictureCell& cell, double want, bool on_air);
/// Where the Sun stands, in a word: "day", "grey" (twilight band of sun::twilight_*_deg), "night".
[[nodiscard]] const char* light_word(double sun_deg);
/// Its sign: circles open, half and full.
[[nodiscard]] const char* light_sign(double sun_deg);
/// Minutes after midnight of the far end's clock at a whole UTC hour of the day.
[[nodiscard]] int far_minute(const advice::PictureWay& way, Day day, std::size_t hour);

}  // namespace skerry::page
