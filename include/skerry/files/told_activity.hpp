// In which index the Sun's activity is told: in [trip], by options, in a line of `batch`.
// Layer: files. Sees ionosphere.
#pragma once

#include <functional>
#include <optional>

#include "skerry/ionosphere/activity.hpp"

namespace skerry::files {

/// The key under which it is told; options and keys of `batch` have the same names.
struct ToldActivity {
  const char* key = nullptr;               ///< "r12", "ssn_v2", "f107", "forecast_file"; null: not told
  const char* beside = nullptr;            ///< another of them, told too: a mistake; null: none
  std::optional<ionosphere::Index> index;  ///< none: not told, or told by a file
};
/// has: whether anything stands under a key.
[[nodiscard]] ToldActivity told_activity(const std::function<bool(const char* key)>& has);

}  // namespace skerry::files
