#include "zone_lookup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <vector>

#include "skerry/core/embedded.hpp"
#include "skerry/core/text.hpp"

namespace skerry::sun {

namespace {

constexpr const char* accepted_form = "a zone like 'Indian/Mauritius', 'UTC' or an offset like '+04:00'";

/// A little-endian number of so many bytes.
std::uint64_t number_at(std::string_view bytes, std::size_t at, std::size_t size) {
  std::uint64_t out = 0;
  for (std::size_t i = size; i-- > 0;) out = (out << 8) | static_cast<unsigned char>(bytes[at + i]);
  return out;
}

constexpr std::size_t step_bytes = 18, name_bytes = 6;
std::int64_t from_s(std::string_view steps, std::size_t i) {
  return static_cast<std::int64_t>(number_at(steps, i * step_bytes, 8));
}
int offset_s(std::string_view steps, std::size_t i) {
  return static_cast<std::int32_t>(number_at(steps, i * step_bytes + 8, 4));
}

/// The step that holds at a moment.
std::size_t step_at(std::string_view steps, std::int64_t utc_s) {
  std::size_t low = 0, high = steps.size() / step_bytes;
  while (high - low > 1) {
    const auto middle = (low + high) / 2;
    (from_s(steps, middle) <= utc_s ? low : high) = middle;
  }
  return low;
}

struct Names {
  std::vector<std::string> names;  ///< sorted by their bytes
  std::vector<std::string_view> steps;
};

const Names& all_names() {
  static const Names found = [] {
    Names out;
    const auto bytes = embedded("zones/tables.bin");
    std::size_t at = 2;
    for (auto left = number_at(bytes, 0, 2); left > 0; --left) {
      const auto length = static_cast<std::size_t>(number_at(bytes, at, 1));
      out.names.emplace_back(bytes.substr(at + 1, length));
      at += 1 + length;
      out.steps.push_back(bytes.substr(number_at(bytes, at, 4), step_bytes * number_at(bytes, at + 4, 2)));
      at += 6;
    }
    return out;
  }();
  return found;
}

/// A bare town ("mauritius", "St Helena") is the last part of a name.
std::string town_hint(std::string_view name, const std::vector<std::string>& names) {
  std::string wanted = lower(name);
  std::replace(wanted.begin(), wanted.end(), ' ', '_');
  for (const std::string& candidate : names) {
    const auto slash = candidate.rfind('/');
    if (slash != std::string::npos && lower(std::string_view(candidate).substr(slash + 1)) == wanted) {
      return "did you mean '" + candidate + "'?";
    }
  }
  return {};
}

}  // namespace

const std::vector<std::string>& zone_names() {
  return all_names().names;
}

Result<std::string_view> locate_zone(std::string_view name, const Where& where) {
  const auto& [names, steps] = all_names();
  const auto found = std::lower_bound(names.begin(), names.end(), name);
  if (found != names.end() && *found == name) return steps[static_cast<std::size_t>(found - names.begin())];
  std::string hint = town_hint(name, names);
  if (hint.empty()) hint = did_you_mean(name, names);
  return fail(where, "time zone '" + one_line(name) + "'", accepted_form, hint);
}

int offset_at(std::string_view steps, std::int64_t utc_s) {
  return offset_s(steps, step_at(steps, utc_s));
}

std::string_view name_at(std::string_view steps, std::int64_t utc_s) {
  const auto name = steps.substr(step_at(steps, utc_s) * step_bytes + step_bytes - name_bytes, name_bytes);
  return name.substr(0, name.find('\0'));
}

int offset_by_clock(std::string_view steps, std::int64_t local_s) {
  constexpr std::int64_t two_days = 2 * 86400;  // more than any clock differs from UTC
  const auto count = steps.size() / step_bytes;
  auto i = step_at(steps, local_s - two_days);
  // The first step that is not yet over when its clock shows this.
  while (i + 1 < count && local_s - offset_s(steps, i) >= from_s(steps, i + 1)) ++i;
  const bool in_gap = i > 0 && local_s - offset_s(steps, i) < from_s(steps, i);
  return offset_s(steps, in_gap ? i - 1 : i);
}

std::optional<int> parse_offset_s(std::string_view text) {
  if (lower(text.substr(0, std::min<std::size_t>(3, text.size()))) == "utc") text.remove_prefix(3);
  if (text.size() < 2 || (text[0] != '+' && text[0] != '-')) return std::nullopt;
  const int sign = text[0] == '-' ? -1 : 1;
  text.remove_prefix(1);
  const auto colon = text.find(':');
  std::string_view hours = text;
  std::string_view minutes;
  if (colon != std::string_view::npos) {
    hours = text.substr(0, colon);
    minutes = text.substr(colon + 1);
    if (minutes.size() != 2) return std::nullopt;
  } else if (text.size() == 4) {
    hours = text.substr(0, 2);
    minutes = text.substr(2);
  }
  if (hours.empty() || hours.size() > 2) return std::nullopt;
  const auto number = [](std::string_view digits) -> std::optional<int> {
    int value = 0;
    for (const char c : digits) {
      if (c < '0' || c > '9') return std::nullopt;
      value = value * 10 + (c - '0');
    }
    return value;
  };
  const auto h = number(hours);
  const auto m = number(minutes);
  if (!h || !m || *m > 59) return std::nullopt;
  const int offset_s = sign * (*h * 3600 + *m * 60);
  if (offset_s < -12 * 3600 || offset_s > 14 * 3600) return std::nullopt;
  return offset_s;
}

std::string offset_text(int offset_s) {
  const int minutes = std::abs(offset_s) / 60;
  return fmt::format("{}{:02}:{:02}", offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
}

}  // namespace skerry::sun
