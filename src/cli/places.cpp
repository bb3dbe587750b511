#include "places.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "skerry/core/text.hpp"
#include "skerry/words/place.hpp"

namespace skerry::cli {

namespace {

/// Judgement: more do not fit a screen.
constexpr std::size_t most_choices = 9;

[[noreturn]] void ask_which(const std::string& text, const char* argument,
                            const geodesy::NameSearch& search) {
  Stop stop;
  stop.errors.push_back(Error{Where{argument},
                              fmt::format("'{}', {}", one_line(text), words::several(search)),
                              "one of these, as in quotes, or a position",
                              {}});
  for (std::size_t i = 0; i < std::min(most_choices, search.others.size()); ++i)
    stop.choices.push_back(fmt::format("{:3}  {}", i + 1, words::choice_text(search.others[i])));
  if (search.others.size() > most_choices)
    stop.choices.push_back(fmt::format("     and {} more: a country or a state after a comma narrows it",
                                       search.others.size() - most_choices));
  throw stop;
}

}  // namespace

GeoPoint Places::read(const std::string& text, const char* argument) {
  const auto position = geodesy::parse_place(text, {argument});
  GeoPoint at;
  if (position) {
    at = *position;
  } else {
    if (!geodesy::may_be_name(text)) must(position);
    const auto search = geodesy::find_named(text);
    if (!search.taken && !search.others.empty()) ask_which(text, argument, search);
    if (!search.taken) must(position);
    at = search.taken->at;
    taken_.push_back({argument, search});
  }
  if (const auto water = geodesy::open_water(at))
    questions_.push_back(words::water_question(argument, at, *water));
  return at;
}

std::optional<geodesy::Named> Places::named(const char* argument) const {
  for (const auto& one : taken_) {
    if (one.argument == argument) return one.search.taken;
  }
  return std::nullopt;
}

std::string Places::lines() const {
  std::string out;
  for (const auto& one : taken_) out += words::taken_text(one.argument, one.search) + "\n";
  return out;
}

void Places::tell(World& world) const {
  for (const auto& one : taken_)
    world.err << "skerry: " << words::taken_text(one.argument, one.search) << "\n";
}

void Places::ask(World& world) const {
  for (const auto& question : questions_) world.err << "skerry: warning: " << question << "\n";
}

}  // namespace skerry::cli
