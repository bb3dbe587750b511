// What the questions of alone.hpp have in common.
// Layer: engine, private.
#pragma once

#include <string>
#include <vector>

#include "json_reader.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/engine/places.hpp"

namespace skerry::engine {

/// What is printed, and what has to be said beside it.
struct Said {
  std::string text;
  std::vector<std::string> warnings;
};

/// What all of them may say.
struct Shape {
  Format format = Format::text;
  words::Style style;
};
[[nodiscard]] inline Shape shape_of(Reader& r) {
  Shape out;
  std::size_t format = 0;
  r.word("format", {"text", "json", "csv"}, format);
  out.format = static_cast<Format>(format);
  double columns = out.style.columns;
  if (r.number("columns", {60, 200, "columns", true}, columns)) out.style.columns = static_cast<int>(columns);
  return out;
}

[[nodiscard]] inline std::vector<std::string> names(Reader& r, const char* key) {
  std::vector<std::string> out;
  r.list(key, R"(a list of 1 to 100 names, as ["a", "b"])", [&](const Json& item) {
    if (!item.is_string()) return r.wrong(key, shown(item), "names in quotes");
    out.push_back(item.get<std::string>());
  });
  return out;
}

[[nodiscard]] inline std::string text(Reader& r, const char* key, std::string otherwise = {}) {
  r.text(key, "text in quotes", [&](const std::string& said) { otherwise = said; });
  return otherwise;
}

[[nodiscard]] inline bool flag(Reader& r, const char* key) {
  const Json* value = r.find(key);
  if (value == nullptr) return false;
  if (!value->is_boolean()) r.wrong(key, shown(*value), "true or false");
  return value->is_boolean() && value->get<bool>();
}

/// A place by position, locator or name under a key. What a name was taken for is known to `places` as `argument`.
inline void place(Reader& r, const char* key, Places& places, const char* argument, GeoPoint& into) {
  const Json* value = r.find(key);
  if (value == nullptr || !value->is_string()) return r.place(key, into);
  auto at = places.read(value->get<std::string>(), argument);
  if (!at) {
    at.error().where.file = key;
    at.error().mend = fmt::format("{}", fmt::join(places.choices(), "; "));
  }
  r.take(std::move(at), into);
}

/// In the format asked for, with what has to be told of its places.
template <class Text, class Json_, class Csv>
[[nodiscard]] Said said(const Shape& shape, const Places& places, const Text& text, const Json_& json,
                        const Csv& csv) {
  Said out{{}, places.questions()};
  if (shape.format == Format::json) out.text = json();
  if (shape.format == Format::csv) out.text = csv();
  if (shape.format == Format::text) out.text = places.lines() + text();
  return out;
}

}  // namespace skerry::engine
