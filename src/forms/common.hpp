// Pieces that several forms share.
// Layer: forms (internal).
#pragma once

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>
#include <optional>

#include "skerry/circuit/circuit.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/time.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/geodesy/point.hpp"
#include "skerry/kit/rules.hpp"
#include "skerry/sun/localtime.hpp"

namespace skerry::forms {

/// Keys in the order they are written.
using Json = nlohmann::ordered_json;

[[nodiscard]] inline Json or_null(bool there, double value, int digits) {
  return there ? Json(rounded(value, digits)) : Json(nullptr);
}
[[nodiscard]] inline Json or_null(const std::optional<double>& value, int digits) {
  return or_null(value.has_value(), value.value_or(0), digits);
}
/// null where the text is empty.
[[nodiscard]] inline Json or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

/// What `each` makes of the items, as a JSON array.
template <class List, class F>
[[nodiscard]] Json list(const List& items, const F& each) {
  Json out = Json::array();
  for (const auto& item : items) out.push_back(each(item));
  return out;
}
/// The id of the i-th: sites and bands have one of their own, regions and things carry it.
template <class List, class Index>
[[nodiscard]] const std::string& id_at(const List& all, Index i) {
  const auto& one = nth(all, i);
  if constexpr (requires { one.id; }) {
    return one.id;
    // cppcheck-suppress identicalConditionAfterEarlyExit
  } else if constexpr (requires { one.item; }) {
    return one.item.id;
  } else {
    return one.region.id;
  }
}
/// The same, or null where i is none.
template <class List>
[[nodiscard]] Json id_or_null(const List& all, int i) {
  return i < 0 ? Json(nullptr) : Json(id_at(all, i));
}
template <class Of>
[[nodiscard]] Json id_or_null(const std::vector<Of>& all, std::optional<Id<Of>> i) {
  return i ? Json(id_at(all, *i)) : Json(nullptr);
}
template <class List>
[[nodiscard]] Json ids(const List& all, const std::vector<int>& which) {
  return list(which, [&](int i) { return id_at(all, i); });
}

[[nodiscard]] inline Json place_json(GeoPoint where, const std::optional<geodesy::Named>& named = {}) {
  Json out = {{"lat_deg", rounded(where.lat_deg, 6)},
              {"lon_deg", rounded(where.lon_deg, 6)},
              {"locator", geodesy::to_locator(where)}};
  if (named) {
    out["name"] = named->name;
    out["country"] = named->country;
    out["zone"] = named->zone;
  }
  return out;
}

/// What a clock shows at a moment.
[[nodiscard]] inline Json clock_json(const sun::Zone& zone, UtcTime when) {
  return {{"zone", zone.name()},
          {"label", zone.label(when)},
          {"utc_offset_min", zone.offset_s(when) / 60},
          {"nautical", zone.nautical()}};
}

[[nodiscard]] inline Json time_json(const std::optional<UtcTime>& when) {
  return when ? Json(to_iso(*when)) : Json(nullptr);
}

[[nodiscard]] inline const char* layer_key(circuit::Layer layer) {
  static constexpr std::array names{"E", "F2", "Es"};
  return nth(names, layer);
}

[[nodiscard]] inline const char* way_key(geodesy::Way way) {
  return way == geodesy::Way::short_way ? "short" : "long";
}

/// Where a thing may fly, as a JSON word.
[[nodiscard]] inline const char* place_key(kit::Place place) {
  static constexpr std::array keys{"either", "cabin", "hold", "forbidden"};
  return nth(keys, place);
}

/// "-1.50", never "-0.00".
[[nodiscard]] inline std::string fixed(double value, int digits) {
  return fmt::format("{:.{}f}", plus_zero(value, digits), digits);
}
/// The same, or nothing.
[[nodiscard]] inline std::string fixed(const std::optional<double>& value, int digits) {
  return value ? fixed(*value, digits) : std::string();
}

[[nodiscard]] inline std::string dump(const Json& json) {
  // Names in user files may hold broken UTF-8: replace rather than throw.
  return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace skerry::forms
