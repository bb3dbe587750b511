// The rows of the tables of fields: each key with the place its value goes to.
// Layer: files, private.
#pragma once

#include <tuple>
#include <utility>
#include <variant>

#include "skerry/files/fields.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::files {

/// A key, and the member that takes its value as it stands. Without a member the reader takes it by hand.
template <class T>
struct Row {
  using Member = std::variant<std::monostate, double T::*, std::optional<double> T::*, int T::*, bool T::*>;
  Row(Field f, Member member = std::monostate{}, double times = 1)  // NOLINT(google-explicit-constructor)
      : field(std::move(f)), to(member), factor(times) {}
  Field field;
  Member to;
  double factor;  ///< the member holds the number times this
};
template <class T>
using Rows = std::vector<Row<T>>;

using HeadRows = std::tuple<Rows<kit::Trip>, Rows<kit::Site>, Rows<antenna::Ground>, Rows<kit::Target>,
                            Rows<kit::Partner>, Rows<kit::People>, Rows<kit::Learned>>;
using ThingRows = std::tuple<Rows<kit::Item>, Rows<kit::Rig>, Rows<antenna::Design>, Rows<kit::Antenna>,
                             Rows<antenna::Wire>, Rows<antenna::Load>, Rows<kit::Support>, Rows<kit::Cable>,
                             Rows<kit::Tuner>, Rows<kit::Battery>, Rows<kit::Bag>>;
using AllRows = decltype(std::tuple_cat(HeadRows{}, ThingRows{}));
[[nodiscard]] HeadRows head_rows();
[[nodiscard]] ThingRows thing_rows();
[[nodiscard]] const AllRows& all_rows();
/// All rows of a kind of thing, required ones in the order in which their lack is told.
template <class T>
[[nodiscard]] const Rows<T>& rows() {
  return std::get<Rows<T>>(all_rows());
}

/// Tables that have no thing of their own.
[[nodiscard]] std::vector<Field> session_fields();
[[nodiscard]] std::vector<Field> terrain_fields();
[[nodiscard]] std::vector<Field> licence_fields();
[[nodiscard]] std::vector<Field> mode_fields();
[[nodiscard]] std::vector<Field> learned_people_fields();
[[nodiscard]] std::vector<Field> feed_fields();
[[nodiscard]] std::vector<Field> item_fields();
[[nodiscard]] std::vector<Field> question_fields();
/// [[site]] ... [licence], and what can be owned: [[rig]] ... [[item]].
[[nodiscard]] std::vector<Field> head_tables();
[[nodiscard]] std::vector<Field> thing_tables();

// How rows are written.
[[nodiscard]] inline Field number(const char* key, Range range, const char* help) {
  return {.key = key, .kind = Kind::number, .help = help, .range = range};
}
[[nodiscard]] inline Field whole(const char* key, double least, double most, const char* unit,
                                 const char* help) {
  return number(key, {least, most, unit, true}, help);
}
[[nodiscard]] inline Field flag(const char* key, const char* help) {
  return {.key = key, .kind = Kind::flag, .help = help};
}
[[nodiscard]] inline Field text(const char* key, const char* example, const char* help) {
  return {.key = key, .kind = Kind::text, .help = help, .example = example};
}
[[nodiscard]] inline Field word(const char* key, std::vector<const char*> words, const char* help,
                                const char* example = "") {
  return {.key = key, .kind = Kind::word, .help = help, .example = example, .words = std::move(words)};
}
/// A list: Kind::words or Kind::ids.
[[nodiscard]] inline Field list(const char* key, Kind kind, const char* example, const char* help,
                                std::vector<const char*> words = {}) {
  return {.key = key, .kind = kind, .help = help, .example = example, .words = std::move(words)};
}
[[nodiscard]] inline Field numbers(const char* key, int count, Range range, const char* example,
                                   const char* help) {
  return {
      .key = key, .kind = Kind::numbers, .help = help, .range = range, .count = count, .example = example};
}
[[nodiscard]] inline Field table(const char* key, const char* table, const char* example, const char* help) {
  return {.key = key, .kind = Kind::table, .help = help, .example = example, .table = table};
}
[[nodiscard]] inline Field tables(const char* key, const char* table, int most, const char* help) {
  return {.key = key, .kind = Kind::tables, .help = help, .count = most, .table = table};
}
[[nodiscard]] inline Field of_kind(Kind kind, const char* key, const char* help, const char* example = "") {
  return {.key = key, .kind = kind, .help = help, .example = example};
}
[[nodiscard]] inline Field needed(Field field) {
  field.required = true;
  return field;
}
/// Needed where that other key does not stand beside it.
[[nodiscard]] inline Field needed_unless(const char* key, Field field) {
  field.unless = key;
  return field;
}
[[nodiscard]] inline Field called(const char* noun, Field field) {
  field.noun = noun;
  return field;
}
[[nodiscard]] inline Field with_last(Range last, Field field) {
  field.last = last;
  return field;
}

}  // namespace skerry::files
