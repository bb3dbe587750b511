// `skerry where`: which spot on the island.
// Layer: cli (internal).
#pragma once

#include "options.hpp"

namespace skerry::cli {

Command add_where(CLI::App& app);

}  // namespace skerry::cli
