// Days in ten as a sign and as a colour.
// Layer: words. Sees core only.
#pragma once

#include <string>

namespace skerry::words {

/// "7" for a number of days in ten, rounded; "." where nothing propagates, "-" under half a day.
[[nodiscard]] std::string days_sign(bool open, double days_in_ten);

/// "#rrggbb" of 0..10 days in ten. 0 is the paper; 1 to 10 go down an even stair of lightness from pale
/// yellow to deep blue, so that the order survives any colour blindness and a black-and-white printer.
///   source   B. Ottosson, "A perceptual color space for image processing", 2020 (OKLab; matrices from
///            memory, checked by tests)
[[nodiscard]] std::string days_colour(int days);

/// Whether white letters are read more easily than black ones on days_colour(days). Source: WCAG 2.2,
/// relative luminance and contrast (success criterion 1.4.3).
[[nodiscard]] bool light_letters(int days);

}  // namespace skerry::words
