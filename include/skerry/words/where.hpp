// Which spot on the island, as a reader sees it.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/elsewhere.hpp"
#include "skerry/words/style.hpp"

namespace skerry::words {

namespace caption {
// On the map; %0 the trip's name.
inline constexpr const char* where_title = "Where to stand: %0";
inline constexpr const char* where_list = "Value, place, height, way there";
inline constexpr const char* where_key =
    "Discs: value in percent, the darker the better; thick rim: the planned place; land: the higher the darker";
}  // namespace caption

/// "the planned place", "summit of 217 m", "shore to the north-east", the listed one's name, "open ground".
[[nodiscard]] std::string spot_name(const geodesy::Spot& spot);
/// "A" of the first region: what stands for it in tables and on the map.
[[nodiscard]] std::string target_letter(std::size_t target);
/// The ranked list, whom each shore faces, the worth of the climb, and what to think of first.
[[nodiscard]] std::string where_text(const kit::Trip& trip, const advice::Elsewhere& answer,
                                     const Style& style);

}  // namespace skerry::words
