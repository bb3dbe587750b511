// What `sun` and `map` ask: one place and its sky, one place and the world.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/circuit/coverage.hpp"
#include "skerry/core/result.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/words/sun.hpp"

namespace skerry::engine {

struct SunAsk {
  GeoPoint at;
  std::optional<geodesy::Named> named;  ///< what a name was taken for, likewise below
  Day date{};
  std::optional<sun::Zone> zone;  ///< none: the place's legal time
  double height_m = 0;            ///< over the sea, 0..9000; lowers the horizon
  std::optional<GeoPoint> to;     ///< a far place, for the grey line of the path
  std::optional<geodesy::Named> to_named;
};
[[nodiscard]] words::SunAnswer sun_answer(const SunAsk& ask);

struct CoverageAsk {
  circuit::CoverageQuestion question;
  double want_days = 5;  ///< in ten, 0..10: what a share of the world counts
  std::optional<geodesy::Named> named;
  std::vector<std::string> warnings;
};
/// Reads {"at": PLACE, "month" or "date", ...}: the keys of `batch` that tell of sky, stations and method; "bands" or
/// "mhz" (without either 20m), "hours" (UTC, ascending in the answer; all without it), "grid" (degrees, divides 180;
/// 2), "way" ("short", "long", "best") and "want_days". Errors have the key in where.file.
[[nodiscard]] Checked<CoverageAsk> read_coverage(std::string_view message);
/// Each frequency once: of two in one band the later has no band's name. The error names "mhz" in where.file.
[[nodiscard]] Result<std::vector<circuit::PathQuestion::Frequency>> distinct(
    std::vector<circuit::PathQuestion::Frequency> frequencies);

}  // namespace skerry::engine
