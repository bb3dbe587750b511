// Reads what is asked in JSON, key by key, and gathers what is wrong.
// Layer: engine, private.
#pragma once

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "skerry/core/json_scan.hpp"
#include "skerry/core/result.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::engine {

using Json = nlohmann::ordered_json;

/// Deepest nesting taken; a request needs 3, and the rest is for ids.
inline constexpr int most_depth = 16;

inline Error mistake(std::string where, std::string found, std::string accepted, std::string hint = {}) {
  Error out;
  out.where.file = std::move(where);
  out.found = std::move(found);
  out.accepted = std::move(accepted);
  out.mend = std::move(hint);
  return out;
}

inline std::string shown(const Json& value) {
  return one_line(value.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
}

/// Reads one object key by key and gathers what is wrong.
class Reader {
 public:
  Reader(const Json& object, std::vector<Error>& errors) : object_(object), errors_(errors) {}

  [[nodiscard]] const Json* find(const char* key) const {
    const auto it = object_.find(key);
    return it == object_.end() || it->is_null() ? nullptr : &*it;
  }
  void wrong(const char* key, std::string found, std::string accepted, std::string hint = {}) {
    errors_.push_back(mistake(key, std::move(found), std::move(accepted), std::move(hint)));
  }
  template <class T, class U>
  void take(Result<T> result, U& into) {
    if (result) {
      into = std::move(*result);
    } else {
      errors_.push_back(std::move(result.error()));
    }
  }

  /// A number within a range; true where there is one, good or not.
  bool number(const char* key, const files::Range& range, double& into, const char* noun = "") {
    const Json* value = find(key);
    if (value == nullptr) return false;
    const double x = value->is_number() ? value->get<double>() : std::nan("");
    if (files::good(x, range)) {
      into = x;
    } else {
      wrong(key, shown(*value),
            (*noun == '\0' ? files::to_text(range)
                           : fmt::format("{} from {:g} to {:g}", noun, range.least, range.most)) +
                ", as a JSON number");
    }
    return true;
  }
  /// A number as the table of fields has it; true where there is one, good or not.
  bool number(const files::Field& f, double& into) { return number(f.key, f.range, into, f.noun); }
  bool number(const char* key, double& into) {
    return find(key) != nullptr && number(files::field("question", key), into);
  }
  void number(const char* key, std::optional<double>& into) {
    double value = 0;
    if (number(key, value)) into = value;
  }

  /// One of some words, `choices` in the order of their meaning.
  void word(const char* key, std::initializer_list<std::string_view> choices, std::size_t& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    const std::string text = value->is_string() ? value->get<std::string>() : std::string{};
    const auto found = std::find(choices.begin(), choices.end(), text);
    if (found == choices.end())
      return wrong(key, shown(*value), fmt::format("one of {}", fmt::join(choices, ", ")),
                   did_you_mean(text, std::vector<std::string>(choices.begin(), choices.end())));
    into = static_cast<std::size_t>(found - choices.begin());
  }

  /// Text for a reader of text; wrong types are reported.
  template <class F>
  void text(const char* key, const char* accepted, F&& read) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (!value->is_string()) return wrong(key, shown(*value), accepted);
    read(value->get<std::string>());
  }

  /// A list of at most 100 things.
  template <class F>
  void list(const char* key, const char* accepted, F&& read) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (!value->is_array() || value->empty() || value->size() > 100)
      return wrong(key, shown(*value), accepted);
    for (const auto& item : *value) read(item);
  }

  void place(const char* key, GeoPoint& into) {
    constexpr const char* accepted = R"("lat,lon", a locator, or {"lat_deg": .., "lon_deg": ..})";
    const Json* value = find(key);
    if (value == nullptr) return wrong(key, "no place", accepted);
    if (value->is_string()) return take(geodesy::parse_place(value->get<std::string>(), {key}), into);
    if (!value->is_object() || value->size() != 2 || !value->contains("lat_deg") ||
        !value->contains("lon_deg")) {
      return wrong(key, shown(*value), accepted);
    }
    const auto& lat = (*value)["lat_deg"];
    const auto& lon = (*value)["lon_deg"];
    if (!lat.is_number() || !(std::abs(lat.get<double>()) <= 90))
      return wrong(key, "lat_deg " + shown(lat), "-90 to 90, north positive");
    if (!lon.is_number() || !(std::abs(lon.get<double>()) <= 180))
      return wrong(key, "lon_deg " + shown(lon), "-180 to 180, east positive");
    into = GeoPoint::at_deg(lat.get<double>(), lon.get<double>());
  }

  /// Any other key is a mistake.
  void know(const std::vector<std::string>& keys) {
    for (const auto& [key, value] : object_.items()) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end())
        errors_.push_back(mistake({}, "key '" + one_line(key) + "'",
                                  fmt::format("one of {}", fmt::join(keys, ", ")), did_you_mean(key, keys)));
    }
  }

 private:
  const Json& object_;
  std::vector<Error>& errors_;
};

/// The object that the text holds. A key that stands twice goes into `errors`. `shape` is what was expected.
[[nodiscard]] Result<Json> parse_object(std::string_view text, const char* shape, std::vector<Error>& errors);

}  // namespace skerry::engine
