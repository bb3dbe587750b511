// The forecast of the Sun that somebody keeps in the folder of settings.
// Layer: cli (internal).
#pragma once

#include <optional>
#include <string>

#include "skerry/core/time.hpp"
#include "skerry/ionosphere/forecast_table.hpp"

namespace skerry::cli {

/// Where it stands or would stand; none: no such folder is known.
[[nodiscard]] std::optional<std::string> own_forecast_file();
/// What stands in it; empty: there is none. Stop where it cannot be read.
[[nodiscard]] std::string own_forecast();
/// The Sun's activity where nobody tells it: by one's own forecast, else the built-in one.
[[nodiscard]] ionosphere::Activity usual_activity(Month month);

/// "16 months ago".
[[nodiscard]] std::string ago(Day day, Day now);
/// "observed to 2026-04 (6 months ago), predicted 2026-05 to 2030-12".
[[nodiscard]] std::string reach_of(const ionosphere::ForecastTable& table, Day now);

}  // namespace skerry::cli
