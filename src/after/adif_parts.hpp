// What the two forms of a log share: limits, names, and what is said of a record that is left out.
// Room: after, internal. Sees adif.hpp.
#pragma once

#include "skerry/after/adif.hpp"

namespace skerry::after {

inline constexpr std::size_t most_log_bytes = 64U << 20U;
/// The format's own list has some two hundred names of fields (from memory).
inline constexpr std::size_t most_fields = 1000;
/// Judgement: far more than the contacts of a life.
inline constexpr std::size_t most_records = 500000;

[[nodiscard]] inline std::string upper(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return out;
}

[[nodiscard]] inline tl::unexpected<Error> too_many_records(const std::string& file, int line) {
  return fail({file, line, 1}, "over " + std::to_string(most_records) + " records", "the log of one trip");
}

/// The XML form; size and encoding have been looked at.
[[nodiscard]] Result<AdifFile> parse_adx(std::string_view text, const std::string& file);

}  // namespace skerry::after
