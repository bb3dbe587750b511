// Masses and sizes as people write them, in the units that kitchen scales and tape measures have.
// Layer: core. Sees nothing.
#pragma once

#include <array>
#include <string_view>

#include "skerry/core/result.hpp"

namespace skerry {

/// "1 lb 3 oz", "19 oz", "0.54 kg", "540 g", "540": grams; a bare number is grams. Parts add up. Result > 0
/// and at most 1e6. Source: international pound, 453.59237 g exactly, and its sixteenth (International Yard
/// and Pound Agreement, 1959).
[[nodiscard]] Result<double> parse_mass_g(std::string_view text, const Where& where);

/// "33 ft", "6 ft 3 in", "6'3\"", "10.5 m", "57 cm", "4 mm": metres. A bare number is taken in `bare_unit_m`
/// metres. Result > 0 and at most 1e5.
/// Source: international foot, 0.3048 m exactly, and its twelfth (same agreement).
[[nodiscard]] Result<double> parse_length_m(std::string_view text, const Where& where,
                                            double bare_unit_m = 1);

/// "20 x 15 x 5 cm", "8x6x2 in", "200 x 150 mm x 5 cm": centimetres. A part without a unit has that of the
/// next part that has one; without any, centimetres. Two parts for a tube (length, diameter), three for a
/// box.
[[nodiscard]] Result<std::array<double, 2>> parse_tube_cm(std::string_view text, const Where& where);
[[nodiscard]] Result<std::array<double, 3>> parse_box_cm(std::string_view text, const Where& where);

}  // namespace skerry
