// What trip files may read of the disk.
// Layer: cli. Sees everything above it.
#pragma once

#include <string>

#include "skerry/engine/batch.hpp"
#include "skerry/engine/session.hpp"

namespace skerry::cli {

/// What the trip file of this name names: files and elevation, beside it and below, and one's own in the folder of
/// settings (os::read_named). From any thread.
///   outside  files anywhere, too
[[nodiscard]] engine::Surroundings beside(const std::string& name, bool outside);

/// The trip files of a folder, for lines of `batch`; empty: none.
[[nodiscard]] engine::TripFiles trips_in(const std::string& folder, bool outside);

}  // namespace skerry::cli
