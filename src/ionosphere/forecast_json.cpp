#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>

#include "skerry/core/json_scan.hpp"
#include "skerry/core/text.hpp"
#include "skerry/ionosphere/activity.hpp"

namespace skerry::ionosphere {

namespace {

using nlohmann::json;

// Judgement: the largest smoothed value since 1749 is 285 (version 2); anything above twice that is a wrong
// unit.
constexpr double most_ssn = 600.0;
// Judgement: the agencies' file has two levels and 200 kB. Nested values are shown and freed level by level,
// and millions of levels would overrun the stack.
constexpr int most_depth = 16;
constexpr std::size_t most_bytes = 4U << 20U;
constexpr const char* expected_shape =
    R"(an array like [{"time-tag": "2027-02", "predicted_ssn": 81.2, "low_ssn": 60, "high_ssn": 105}, ...])";

// Line and column, both from 1, of a byte of the text.
Where place_of(std::string_view text, std::size_t byte, const Where& file) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t start = before.rfind('\n');
  const std::size_t column = 1 + before.size() - (start == std::string_view::npos ? 0 : start + 1);
  return {file.file, static_cast<int>(line), static_cast<int>(column)};
}

// Byte at which element `index` of the top-level array begins. The text has parsed, so brackets and quotes
// match.
std::size_t start_of_element(std::string_view text, std::size_t index) {
  int depth = 0;
  bool quoted = false;
  bool fresh = false;  // the next thing that is not a blank begins an element
  std::size_t element = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c == '\\') ++i;
      if (c == '"') quoted = false;
      continue;
    }
    if (c == ' ' || c == '\t' || c == '\n' || c == '\r') continue;
    if (fresh) {
      if (element == index) return i;
      fresh = false;
    }
    if (c == '"') quoted = true;
    if (c == '[' || c == '{') {
      ++depth;
      fresh = depth == 1;
    } else if (c == ']' || c == '}') {
      --depth;
    } else if (c == ',' && depth == 1) {
      ++element;
      fresh = true;
    }
  }
  return 0;
}

std::string shown(const json& value) {
  return one_line(value.dump(-1, ' ', true, json::error_handler_t::replace));
}

// A field of an entry as a sunspot number; nullopt when it is not there and need not be.
Result<std::optional<double>> number_of(const json& entry, const char* key, bool required,
                                        const Where& where) {
  const auto found = entry.find(key);
  const std::string accepted = fmt::format("\"{}\" as a number from 0 to {}", key, most_ssn);
  if (found == entry.end() || (!required && found->is_null())) {
    if (!required) return std::nullopt;
    return fail(where, fmt::format("an entry without \"{}\"", key), accepted);
  }
  std::optional<double> value;
  if (found->is_number()) value = found->get<double>();
  if (found->is_string()) value = to_number(trim(found->get_ref<const std::string&>()));
  if (!value || !(*value >= 0.0 && *value <= most_ssn)) {
    return fail(where, fmt::format("\"{}\": {}", key, shown(*found)), accepted);
  }
  return value;
}

struct Entry {
  Month month{};
  double predicted = 0;
  std::optional<double> low, high;
};

Result<Entry> entry_of(const json& item, const Where& where) {
  if (!item.is_object()) return fail(where, shown(item), "an object with \"time-tag\" and \"predicted_ssn\"");
  const auto tag = item.find("time-tag");
  if (tag == item.end() || !tag->is_string()) {
    return fail(where, tag == item.end() ? "an entry without \"time-tag\"" : "\"time-tag\": " + shown(*tag),
                "\"time-tag\" as a month, \"2027-02\"");
  }
  const Result<Month> month = parse_month(tag->get_ref<const std::string&>(), where);
  if (!month) return tl::unexpected(month.error());
  const auto predicted = number_of(item, "predicted_ssn", true, where);
  if (!predicted) return tl::unexpected(predicted.error());
  const auto low = number_of(item, "low_ssn", false, where);
  if (!low) return tl::unexpected(low.error());
  const auto high = number_of(item, "high_ssn", false, where);
  if (!high) return tl::unexpected(high.error());
  const Entry entry{*month, **predicted, *low, *high};
  if (entry.low.value_or(entry.predicted) > entry.predicted ||
      entry.high.value_or(entry.predicted) < entry.predicted) {
    return fail(where,
                fmt::format("low {}, predicted {}, high {}", entry.low ? fmt::to_string(*entry.low) : "-",
                            entry.predicted, entry.high ? fmt::to_string(*entry.high) : "-"),
                "low_ssn <= predicted_ssn <= high_ssn");
  }
  return entry;
}

}  // namespace

Result<Activity> forecast_from_json(std::string_view text, Month month, const Where& where) {
  if (text.size() > most_bytes)
    return fail(where, fmt::format("{} kB", text.size() / 1024),
                fmt::format("at most {} kB", most_bytes / 1024));
  if (const auto byte = too_deep(text, most_depth))
    return fail(place_of(text, *byte, where), fmt::format("brackets nested more than {} deep", most_depth),
                expected_shape);
  json root;
  try {
    root = json::parse(text);
  } catch (const json::parse_error& problem) {
    // byte counts from 1 and points behind the offending one
    return fail(place_of(text, problem.byte > 0 ? problem.byte - 1 : 0, where), "text that is not JSON",
                expected_shape);
  } catch (const json::exception&) {
    return fail(where, "a number too large to be one", expected_shape);
  }
  if (!root.is_array()) return fail(place_of(text, 0, where), shown(root), expected_shape);
  if (root.empty()) return fail(place_of(text, 0, where), "an empty array", expected_shape);

  std::optional<Entry> wanted;
  std::set<Month> seen;
  for (std::size_t i = 0; i < root.size(); ++i) {
    Result<Entry> entry = entry_of(root[i], where);
    if (entry && !seen.insert(entry->month).second) {
      entry = fail(where, fmt::format("a second entry for {}", to_iso(entry->month)), "each month once");
    }
    if (!entry) {
      // Only now is it worth finding out where the entry stands.
      Error error = entry.error();
      error.where = place_of(text, start_of_element(text, i), where);
      return tl::unexpected(std::move(error));
    }
    if (entry->month == month) wanted = *entry;
  }
  if (!wanted) {
    return fail(where, fmt::format("no entry for {}", to_iso(month)),
                fmt::format("a forecast that covers it; this one has {} months from {} to {}", seen.size(),
                            to_iso(*seen.begin()), to_iso(*seen.rbegin())),
                "leave the file out to use the built-in forecast");
  }
  Activity out;
  out.r12 = r12_from_ssn_v2(wanted->predicted);
  // Judgement: without limits of its own, the file's value is as uncertain as the built-in forecast's for
  // that month.
  const Activity usual = forecast(month);
  const double spread = 0.5 * (usual.high_r12 - usual.low_r12);
  out.low_r12 = wanted->low ? r12_from_ssn_v2(*wanted->low) : out.r12.plus(-spread);
  out.high_r12 = wanted->high ? r12_from_ssn_v2(*wanted->high) : out.r12.plus(spread);
  out.source = {.kind = ActivitySource::Kind::file, .made = where.file};
  return out;
}

}  // namespace skerry::ionosphere
