// What the systems' ways with files share.
// Room: os (internal).
#pragma once

#include <string>

#include "skerry/core/result.hpp"

namespace skerry::os {

/// By errno.
[[nodiscard]] tl::unexpected<Error> cannot_write(const std::string& name);

/// What a name leads to when it is a link, also where nothing is there yet. A link into itself stays a link.
[[nodiscard]] std::string without_links(const std::string& name);

}  // namespace skerry::os
