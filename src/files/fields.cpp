#include "skerry/files/fields.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "rows.hpp"

namespace skerry::files {

namespace {

/// What a new thing holds in the member; nothing where that is no value the key could take: it was not told.
template <class T>
std::optional<double> otherwise(const Row<T>& row, const T& fresh) {
  if (row.field.required) return std::nullopt;
  return std::visit(
      [&](auto member) -> std::optional<double> {
        if constexpr (std::is_same_v<decltype(member), std::monostate> ||
                      std::is_same_v<decltype(member), std::optional<double> T::*>) {
          return std::nullopt;
        } else {
          const double value = static_cast<double>(fresh.*member) / row.factor;
          const bool told = row.field.kind == Kind::flag || good(value, row.field.range);
          return told ? std::optional(value) : std::nullopt;
        }
      },
      row.to);
}

template <class T>
void add_all(std::vector<Field>& out) {
  static const T fresh{};
  for (const auto& row : rows<T>()) out.emplace_back(row.field).otherwise = otherwise(row, fresh);
}

template <class... Things>
std::vector<Field> all_of() {
  std::vector<Field> out;
  (add_all<Things>(out), ...);
  return out;
}

/// Fields of things that have to be weighed; unless that key says that they are not carried.
template <class... Things>
std::vector<Field> weighed(const char* unless = "") {
  auto out = all_of<kit::Item, Things...>();
  for (auto& f : out) {
    if (std::string_view(f.key) == "mass_g") f.unless = unless;
  }
  return out;
}

std::vector<Field> joined(std::vector<Field> first, const std::vector<Field>& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}

const std::vector<Table>& tables() {
  static const std::vector<Table> all{
      {"trip file", joined(head_tables(), thing_tables())},
      {"trip", all_of<kit::Trip>()},
      {"site", all_of<kit::Site>()},
      {"site.ground", all_of<antenna::Ground>()},
      {"site.terrain", terrain_fields()},
      {"session", session_fields()},
      {"region", all_of<kit::Target>()},
      {"region.partner", all_of<kit::Partner>()},
      {"licence", licence_fields()},
      {"people", all_of<kit::People>()},
      {"mode", mode_fields()},
      {"rig", weighed<kit::Rig>()},
      {"antenna", weighed<antenna::Design, kit::Antenna>()},
      {"antenna.wire", all_of<antenna::Wire>()},
      {"antenna.load", all_of<antenna::Load>()},
      {"antenna.feed", feed_fields()},
      {"support", weighed<kit::Support>("at_site")},
      {"cable", all_of<kit::Item, kit::Cable>()},
      {"tuner", weighed<kit::Tuner>()},
      {"battery", weighed<kit::Battery>()},
      {"bag", all_of<kit::Bag>()},
      {"item", joined(weighed<>(), item_fields())},
      {"library file", thing_tables()},
      {"learned file",
       {table("learned", "learned", "[learned]", "what a log taught"),
        table("people", "learned.people", "[people]", "when somebody was at the other end")}},
      {"learned", all_of<kit::Learned>()},
      {"learned.people", learned_people_fields()},
      {"question", question_fields()},
  };
  return all;
}

}  // namespace

const AllRows& all_rows() {
  static const AllRows all = std::tuple_cat(head_rows(), thing_rows());
  return all;
}

const Table& fields_of(std::string_view table) {
  const auto at =
      std::find_if(tables().begin(), tables().end(), [&](const Table& t) { return table == t.name; });
  assert(at != tables().end());
  return *at;
}

const Field& field(const Table& table, std::string_view key) {
  const auto at =
      std::find_if(table.fields.begin(), table.fields.end(), [&](const Field& f) { return key == f.key; });
  assert(at != table.fields.end());
  return *at;
}

const Field& field(std::string_view table, std::string_view key) {
  return field(fields_of(table), key);
}

std::string to_text(const Range& r) {
  const std::string unit = *r.unit == '\0' ? "" : std::string(" ") + r.unit;
  return fmt::format("{}{:g} to {:g}{}", r.whole ? "a whole number, " : "", r.least, r.most, unit);
}

bool good(double value, const Range& r) {
  return std::isfinite(value) && value >= r.least && value <= r.most &&
         (!r.whole || value == std::floor(value));
}

std::string accepted(const Field& f) {
  switch (f.kind) {
    case Kind::text:
      return fmt::format("text in quotes, as \"{}\"", f.example);
    case Kind::id:
      return "a short name of letters, digits, - and _, at most 40, as \"pole-6m\"";
    case Kind::word:
      return fmt::format("one of: {}", fmt::join(f.words, ", "));
    case Kind::words:
    case Kind::ids:
    case Kind::flag_or_ids:
      return fmt::format("a list of words, as {}", f.example);
    case Kind::shares:
      return fmt::format("a list of words, as {}, or of {{ name = \"{}\", share = 0.7 }}", f.example,
                         f.words.empty() ? "cw" : f.words.front());
    case Kind::flag:
      return "true or false";
    case Kind::number:
      return to_text(f.range);
    case Kind::numbers:
      return fmt::format("{} numbers, as {}", f.count, f.example);
    case Kind::rows:
      return fmt::format("a list of lists of {} numbers{}, as {}", f.count,
                         f.further ? fmt::format(" or {}", f.count + 1) : std::string(), f.example);
    case Kind::day:
      return "a date like 2027-02-14";
    case Kind::days:
      return "a list of dates, as [2027-02-14, 2027-02-15]";
    case Kind::clock:
      return "a local clock time in quotes, \"00:00\" to \"24:00\"";
    case Kind::table:
    case Kind::name_or_table:
      return fmt::format("a table, as {}", f.example);
    case Kind::tables:
      return fmt::format("tables headed [[{}]]", f.key);
  }
  assert(false);
  return {};
}

}  // namespace skerry::files
