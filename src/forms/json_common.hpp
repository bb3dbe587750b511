// Pieces that several JSON answers share.
// Layer: forms (internal).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "skerry/core/decimal.hpp"
#include "skerry/core/time.hpp"
#include "skerry/geodesy/point.hpp"
#include "skerry/kit/rules.hpp"

namespace skerry::forms {

/// Keys in the order they are written.
using Json = nlohmann::ordered_json;

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

}  // namespace skerry::forms
