#include "skerry/engine/places.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "skerry/core/text.hpp"
#include "skerry/words/place.hpp"

namespace skerry::engine {

namespace {

/// Judgement: more do not fit a screen.
constexpr std::size_t most_choices = 9;

std::vector<std::string> choices_of(const geodesy::NameSearch& search) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < std::min(most_choices, search.others.size()); ++i)
    out.push_back(words::choice_text(search.others[i]));
  if (search.others.size() > most_choices)
    out.push_back(fmt::format("and {} more: a country or a state after a comma narrows it",
                              search.others.size() - most_choices));
  return out;
}

}  // namespace

Result<GeoPoint> Places::read(const std::string& text, const char* argument) {
  auto position = geodesy::parse_place(text, {argument});
  if (!position && geodesy::may_be_name(text)) {
    const auto search = geodesy::find_named(text);
    if (search.taken) {
      position = search.taken->at;
      taken_.push_back({argument, search});
    } else if (!search.others.empty()) {
      choices_ = choices_of(search);
      return fail({argument}, fmt::format("'{}', {}", one_line(text), words::several(search)),
                  "one of these, as in quotes, or a position");
    }
  }
  if (!position) return position;
  if (const auto water = geodesy::open_water(*position))
    questions_.push_back(words::water_question(argument, *position, *water));
  return position;
}

std::optional<geodesy::Named> Places::named(const char* argument) const {
  for (const auto& one : taken_) {
    if (one.argument == argument) return one.search.taken;
  }
  return std::nullopt;
}

std::vector<std::string> Places::taken() const {
  std::vector<std::string> out;
  for (const auto& one : taken_) out.push_back(words::taken_text(one.argument, one.search));
  return out;
}

std::string Places::lines() const {
  std::string out;
  for (const auto& line : taken()) out += line + "\n";
  return out;
}

}  // namespace skerry::engine
