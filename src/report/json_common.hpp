// Pieces that several JSON answers share.
// Layer: report (internal).
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

#include "skerry/core/time.hpp"
#include "skerry/geodesy/point.hpp"
#include "skerry/kit/rules.hpp"

namespace skerry::report {

/// Keys in the order they are written.
using Json = nlohmann::ordered_json;

/// Rounded to `digits` decimals, so that the last bit of a libm does not change the bytes; never -0 or NaN.
[[nodiscard]] inline double rounded(double value, int digits) {
  const double scale = std::pow(10.0, digits);
  const double out = std::round(value * scale) / scale;
  return out == 0 ? 0.0 : out;
}

[[nodiscard]] inline Json place_json(GeoPoint where) {
  return {{"lat_deg", rounded(where.lat_deg, 6)},
          {"lon_deg", rounded(where.lon_deg, 6)},
          {"locator", geodesy::to_locator(where)}};
}

[[nodiscard]] inline Json time_json(const std::optional<UtcTime>& when) {
  return when ? Json(to_iso(*when)) : Json(nullptr);
}

/// Where a thing may fly, as a JSON word.
[[nodiscard]] inline const char* place_key(kit::Place place) {
  switch (place) {
    case kit::Place::cabin_only:
      return "cabin";
    case kit::Place::hold_only:
      return "hold";
    case kit::Place::forbidden:
      return "forbidden";
    case kit::Place::either:
      break;
  }
  return "either";
}

[[nodiscard]] inline std::string dump(const Json& json) {
  // Names in user files may hold broken UTF-8: replace rather than throw.
  return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace skerry::report
