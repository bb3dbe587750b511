// Which pieces the page is made of.

#include "skerry/page/parts.hpp"

#include <algorithm>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "section.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/words/page_text.hpp"

namespace skerry::page {

std::vector<Part> quick_parts(const kit::Trip& trip, const advice::Advice& a) {
  using words::Section;
  return {{"top", top_html(trip, a)},
          {"beam", beam_html(a)},
          {"regions", regions_html(trip, a)},
          {"pack", items_html(trip, a, true)},
          {"leave", items_html(trip, a, false)},
          {"plan", plan_html(trip, a)},
          {"practice", practice_html(trip, a)},
          {"bags", section_html(Section::bags, trip, a)},
          {"worth", worth_html(trip, a)},
          {"steps", section_html(Section::frontier, trip, a)},
          {"kits", section_html(Section::kits, trip, a)},
          {"modes", section_html(Section::modes, trip, a)},
          {"cases", cases_html(trip, a)},
          {"pairs", section_html(Section::pairs, trip, a)},
          {"days", days_html(trip, a)},
          {"power", power_html(trip, a)},
          {"remedies", section_html(Section::remedies, trip, a)},
          {"cautions", cautions_html(trip, a)},
          {"cannot", cannot_html(trip, a)}};
}

std::vector<Part> slow_parts(const kit::Trip& trip, const advice::Advice& a, const advice::Picture& picture,
                             const std::vector<PlainWords>& words) {
  const auto start = page_start(trip, picture);
  const auto why = words.empty() ? std::string()
                                 : filled(embedded("assets/why.html"), {{"words", words_html(trip, words)},
                                                                        {"glossary", glossary_html(words)}});
  const auto said =
      picture.ways.empty()
          ? std::string()
          : markup(cell_text(trip, picture.ways[start.way],
                             picture.ways[start.way].cells[start.hour * trip.bands.size() + start.band],
                             start.hour, start.band));
  return {{"ways", ways_html(trip, picture)},
          {"bands", bands_html(trip)},
          {"said", said},
          {"maps", maps_html(trip, picture, start.hour)},
          {"section", picture.ways.empty() ? std::string() : section_svg(trip, picture, start)},
          {"strips", strips_html(trip, picture)},
          {"why", why},
          {"patterns", patterns_html(trip, a, picture)},
          {"card", card_html(trip, a, picture)}};
}

}  // namespace skerry::page
