// What stands around a place, for other programs.
// Layer: forms. Sees everything above it.
#pragma once

#include <string>

#include "skerry/words/horizon.hpp"

namespace skerry::forms {

[[nodiscard]] std::string horizon_json(const words::HorizonAnswer& answer);  ///< skerry.horizon/1
/// One record per azimuth.
[[nodiscard]] std::string horizon_csv(const words::HorizonAnswer& answer);

}  // namespace skerry::forms
