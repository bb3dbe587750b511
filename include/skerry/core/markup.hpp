// Text within XML and HTML.
// Layer: core.
#pragma once

#include <string>
#include <string_view>

namespace skerry {

/// With & < > " ' as entities: fit for an element's content and for quoted attributes. UTF-8 stays as it is; what may not
/// stand in XML at all (control characters) is the caller's. Source: XML 1.0, section 2.4.
[[nodiscard]] std::string xml_text(std::string_view text);

}  // namespace skerry
