#include "zone_lookup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <exception>
#include <new>

#include "skerry/core/text.hpp"

namespace skerry::sun {

namespace {

constexpr const char* accepted_form = "a zone like 'Indian/Mauritius', 'UTC' or an offset like '+04:00'";

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

Result<const void*> locate_zone(std::string_view name, const Where& where, const ZoneDatabase& database) {
  const std::string found = "time zone '" + one_line(name) + "'";
  std::vector<std::string> names;
  try {
    names = database.names();
  } catch (const std::bad_alloc&) {
    throw;  // says nothing about the database
  } catch (const std::exception&) {
    names.clear();
  }
  if (names.empty()) {
    return fail(where, found + ", but this machine has no time zone database",
                "an offset like '+04:00', or 'UTC'", "install the package 'tzdata' to use names");
  }
  // These stand in the folder of zones and name none: the machine's own, a rule for others, a stand-in, and
  // clocks that count leap seconds. Source: the tz database, its files "theory.html" and "Makefile" (from
  // memory).
  for (const std::string_view none : {"localtime", "posixrules", "Factory", "right/"}) {
    if (name.substr(0, none.size()) == none)
      return fail(where, found + ", which is no zone of a place", accepted_form);
  }
  try {
    if (const void* zone = database.locate(std::string(name)); zone != nullptr) return zone;
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception&) {
    // An unknown name, told below.
  }
  std::string hint = town_hint(name, names);
  if (hint.empty()) hint = did_you_mean(name, names);
  return fail(where, found, accepted_form, hint);
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
