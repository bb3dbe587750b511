// Whether the bytes of a zone's file are what they should be, before the library that reads them trusts them.
// Layer: sun, private. Sees nothing.
#pragma once

#include <string_view>

namespace skerry::sun {

/// Whether these are a whole TZif file of version 1 to 4: headers, all that they count, indices within
/// bounds. Times, leap seconds and the footer's rule are not looked at. Source: RFC 8536, section 3.
[[nodiscard]] bool is_whole_zone_file(std::string_view bytes);

}  // namespace skerry::sun
