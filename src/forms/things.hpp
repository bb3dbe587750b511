// What JSON and CSV call of things.
// Layer: forms (internal).
#pragma once

#include <fmt/format.h>

#include <array>
#include <string>

#include "skerry/advice/bags.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::forms {

[[nodiscard]] inline const char* kind_key(advice::ThingKind kind) {
  static constexpr std::array keys{"rig", "antenna", "support", "cable", "tuner", "battery", "item"};
  return nth(keys, kind);
}

/// Whether a bag is known to close.
[[nodiscard]] inline const char* packed_key(advice::Packed packed) {
  static constexpr std::array<const char*, 3> keys{"placed", "try at home", "no way found"};
  return nth(keys, packed);
}

inline constexpr const char* size_heads = "length_cm,width_cm,height_cm,tube_length_cm,tube_diameter_cm";
/// The fields below them; empty where the thing has no such size.
[[nodiscard]] inline std::string size_fields(const kit::Item& item) {
  std::string out;
  const auto sides = [&](const auto& size, std::size_t count) {
    for (std::size_t k = 0; k < count; ++k) out += (size ? fmt::format("{:g}", (*size)[k]) : "") + ",";
  };
  sides(item.size_cm, 3);
  sides(item.tube_cm, 2);
  out.pop_back();
  return out;
}

}  // namespace skerry::forms
