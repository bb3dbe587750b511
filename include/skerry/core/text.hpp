// Small questions about text that several rooms ask.
// Layer: core. Sees nothing.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

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

/// Text made safe for one terminal line: control characters become '?', long text is cut with "...".
[[nodiscard]] std::string one_line(std::string_view text, std::size_t most = 60);

[[nodiscard]] std::string_view trim(std::string_view text);

/// Lower case of ASCII letters only.
[[nodiscard]] std::string lower(std::string_view text);

}  // namespace skerry
