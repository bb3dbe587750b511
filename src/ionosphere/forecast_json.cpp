#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "forecast_parts.hpp"
#include "skerry/core/json_scan.hpp"
#include "skerry/core/text.hpp"

namespace skerry::ionosphere {

namespace {

using nlohmann::json;

// Judgement: the agencies' file has two levels and 200 kB. Nested values are shown and freed level by level,
// and millions of levels would overrun the stack.
constexpr int most_depth = 16;
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

/// What a form calls its numbers.
struct Names {
  const char *value, *low, *high;
  bool observed;
};
constexpr Names predicted_ssn{"predicted_ssn", "low_ssn", "high_ssn", false};
constexpr Names predicted_flux{"predicted_f10.7", "low_f10.7", "high_f10.7", false};
constexpr Names observed_ssn{"smoothed_ssn", nullptr, nullptr, true};
constexpr Names observed_flux{"smoothed_f10.7", nullptr, nullptr, true};

// A field of an entry as a number; nullopt when it is not there and need not be, or stands for none.
Result<std::optional<double>> number_of(const json& entry, const char* key, bool required, bool observed,
                                        const Where& where) {
  if (key == nullptr) return std::nullopt;
  const auto found = entry.find(key);
  const std::string accepted = fmt::format("\"{}\" as a number from 0 to {}", key, most_number);
  if (found == entry.end() || (!required && found->is_null())) {
    if (!required) return std::nullopt;
    return fail(where, fmt::format("an entry without \"{}\"", key), accepted);
  }
  std::optional<double> value;
  if (found->is_number()) value = found->get<double>();
  if (found->is_string()) value = to_number(trim(found->get_ref<const std::string&>()));
  if (observed && (found->is_null() || (value && *value < 0))) return std::nullopt;
  if (!value || !(*value >= 0.0 && *value <= most_number)) {
    return fail(where, fmt::format("\"{}\": {}", key, shown(*found)), accepted);
  }
  return value;
}

struct Entry {
  Month month{};
  std::optional<Numbers> numbers;
};

/// A month of before the years that can be computed, "1749-01".
bool too_early(const std::string& tag) {
  const auto year = tag.size() == 7 && tag[4] == '-' ? to_number(tag.substr(0, 4)) : std::nullopt;
  return year && *year < first_year;
}

Result<Entry> entry_of(const json& item, const Names& names, const Where& where) {
  if (!item.is_object())
    return fail(where, shown(item), fmt::format("an object with \"time-tag\" and \"{}\"", names.value));
  const auto tag = item.find("time-tag");
  if (tag == item.end() || !tag->is_string()) {
    return fail(where, tag == item.end() ? "an entry without \"time-tag\"" : "\"time-tag\": " + shown(*tag),
                "\"time-tag\" as a month, \"2027-02\"");
  }
  const auto& month_text = tag->get_ref<const std::string&>();
  if (names.observed && too_early(month_text)) return Entry{};
  const Result<Month> month = parse_month(month_text, where);
  if (!month) return tl::unexpected(month.error());
  const auto value = number_of(item, names.value, true, names.observed, where);
  if (!value) return tl::unexpected(value.error());
  const auto low = number_of(item, names.low, false, names.observed, where);
  if (!low) return tl::unexpected(low.error());
  const auto high = number_of(item, names.high, false, names.observed, where);
  if (!high) return tl::unexpected(high.error());
  if (!*value) return Entry{*month, std::nullopt};
  const Numbers numbers{**value, *low, *high};
  if (numbers.low.value_or(numbers.value) > numbers.value ||
      numbers.high.value_or(numbers.value) < numbers.value) {
    return fail(where,
                fmt::format("low {}, predicted {}, high {}", numbers.low ? fmt::to_string(*numbers.low) : "-",
                            numbers.value, numbers.high ? fmt::to_string(*numbers.high) : "-"),
                fmt::format("{} <= {} <= {}", names.low, names.value, names.high));
  }
  return Entry{*month, numbers};
}

/// By the first entry: one that has none of a form's names is told what a prediction has.
Names names_of(const json& root, bool by_flux) {
  const auto& first = root.front();
  const bool observed =
      first.is_object() && !first.contains(predicted_ssn.value) && !first.contains(predicted_flux.value) &&
      (first.contains(observed_ssn.value) || first.contains(observed_flux.value) || first.contains("ssn"));
  if (observed) return by_flux ? observed_flux : observed_ssn;
  return by_flux ? predicted_flux : predicted_ssn;
}

}  // namespace

Result<ReadTable> read_json_table(std::string_view text, const Where& where, bool by_flux) {
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

  const Names names = names_of(root, by_flux);
  ReadTable out{{}, names.observed ? TableForm::observed_json : TableForm::predicted_json};
  for (std::size_t i = 0; i < root.size(); ++i) {
    const Result<Entry> entry = entry_of(root[i], names, where);
    Result<bool> kept = entry ? true : Result<bool>(tl::unexpected(entry.error()));
    if (entry && entry->numbers)
      kept = keep(out.table, entry->month, *entry->numbers, {by_flux, names.observed}, where);
    if (!kept) {
      // Only now is it worth finding out where the entry stands.
      Error error = kept.error();
      error.where = place_of(text, start_of_element(text, i), where);
      return tl::unexpected(std::move(error));
    }
  }
  return out;
}

}  // namespace skerry::ionosphere
