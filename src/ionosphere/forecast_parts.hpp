// What the readers of tables of the Sun's activity share.
// Layer: ionosphere, private.
#pragma once

#include <optional>
#include <string_view>

#include "skerry/ionosphere/forecast_table.hpp"

namespace skerry::ionosphere {

// Judgement: the largest smoothed sunspot number since 1749 is 285 (version 2), the largest flux some 250; anything
// above twice that is a wrong unit.
inline constexpr double most_number = 600.0;

/// A month's numbers as the table has them.
struct Numbers {
  double value = 0;
  std::optional<double> low, high;
};
struct Meaning {
  bool flux = false, observed = false;
};
/// Into the table as R12.
///   errors  the month is there already
[[nodiscard]] Result<bool> keep(ForecastTable& table, Month month, const Numbers& numbers, Meaning meaning,
                                const Where& where);

/// The agencies' JSON: the text begins like it. An empty table is left to the caller.
[[nodiscard]] Result<ReadTable> read_json_table(std::string_view text, const Where& where, bool by_flux);

}  // namespace skerry::ionosphere
