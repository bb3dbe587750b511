// Text of users and numbers, made safe for a page.
// Layer: page (internal).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/words/captions.hpp"
#include "skerry/words/page_text.hpp"
namespace skerry::page {

namespace caption = words::caption;
/// Text of any origin as plain UTF-8: control characters and line breaks become blanks; marks that turn the
/// direction of writing (U+061C, U+200E, U+200F, U+202A..U+202E, U+2066..U+2069), invisible joins at the
/// start of files (U+FEFF), line and paragraph separators and broken bytes become U+FFFD or nothing. Not
/// escaped.
[[nodiscard]] std::string plain(std::string_view text);

/// plain(), with & < > " ' as entities: fit for element content and quoted attributes of HTML and SVG.
[[nodiscard]] std::string markup(std::string_view text);

/// markup() set apart in its direction of writing.
[[nodiscard]] std::string bdi(std::string_view text);

/// A text with its marks %0 to %9 replaced by these values; the page's script fills in the same texts.
[[nodiscard]] std::string filled_in(std::string_view text, const std::vector<std::string>& values);

/// JSON text made fit for a <script> block: < > & and U+2028/9 become \uXXXX (inside strings, the only place
/// where JSON can hold them).
[[nodiscard]] std::string script_json(std::string_view json);

}  // namespace skerry::page
