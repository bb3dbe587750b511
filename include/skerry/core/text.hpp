// Small questions about text that several rooms ask.
// Layer: core. Sees nothing.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "skerry/core/result.hpp"

namespace skerry {

/// The candidate nearest to `word` by optimal string alignment distance (insert, delete, replace,
/// swap neighbours; case ignored), or nullopt when none is within a third of the word's length (at least 1).
/// Source: Damerau, "A technique for computer detection and correction of spelling errors", CACM 7(3), 1964.
[[nodiscard]] std::optional<std::string> nearest(std::string_view word,
                                                 std::span<const std::string> candidates);

/// " did you mean 'x'?" style hint, or empty when nothing is near.
[[nodiscard]] std::string did_you_mean(std::string_view word, std::span<const std::string> candidates);

/// A whole string as a finite double in C notation, without blanks, locale or hexadecimal; else nullopt.
[[nodiscard]] std::optional<double> to_number(std::string_view text);

/// Takes the first character off `text` (not empty): its code point, or nullopt where the bytes are no UTF-8;
/// then one byte is taken. Source: RFC 3629 section 4.
[[nodiscard]] std::optional<char32_t> take_character(std::string_view& text);

/// Refuses what is text in UTF-16 (a mark of that in front, or every other of the first bytes zero): programs
/// that save tables like it. Whether the rest is good UTF-8 is not looked at.
[[nodiscard]] Result<bool> check_encoding(std::string_view text, const Where& where);

/// Steers a screen or an editor instead of being seen: control characters (U+0000..U+001F, U+007F..U+009F),
/// line and paragraph separators, the byte-order mark, and the marks that turn the direction of writing
/// (U+061C, U+200E, U+200F, U+202A..U+202E, U+2066..U+2069). Letters of any script are none of these. Source:
/// Unicode Standard Annex 9 (bidirectional marks), ECMA-48 (control functions C0 and C1).
[[nodiscard]] bool steers_screen(char32_t character);

/// Text made safe for one terminal line: what steers a screen and broken bytes become '?', long text is cut
/// with "...".
[[nodiscard]] std::string one_line(std::string_view text, std::size_t most = 60);

/// Text that may leave the program: what steers a screen and broken bytes are written out, U+202E as "\u202e"
/// (which JSON and TOML read as the same character again), a byte that is no UTF-8 as "\xff". Line ends stay,
/// "\n" and "\r\n". With `colours`, so do the two marks that words::Style's colours are made of, "ESC [ 48;5;N
/// ;38;5;N m" and "ESC [ 0 m". Source: RFC 8259 section 7 for the form.
[[nodiscard]] std::string written_out(std::string_view text, bool colours = false);

[[nodiscard]] std::string_view trim(std::string_view text);

/// Lower case of ASCII letters only.
[[nodiscard]] std::string lower(std::string_view text);

}  // namespace skerry
