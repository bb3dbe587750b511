// The picture of a fan of rays.
// Layer: page. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/words/rays.hpp"

namespace skerry::page {

/// The drawing alone, for a page that has the styles: an svg element of class "section".
[[nodiscard]] std::string rays_drawing(const circuit::FanAnswer& answer);
/// A file of its own, light and dark, with title and key; at most some 12 kB. Same input, same bytes.
[[nodiscard]] std::string rays_svg(const circuit::FanAnswer& answer);

}  // namespace skerry::page
