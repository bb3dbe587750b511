// Places by their names, and the named place that is nearest.
// Layer: geodesy. Sees core only.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

/// A place of the built-in list. The texts stand in the program's own data: they stay valid.
struct Named {
  enum class Kind : std::uint8_t { town, airfield, island, peak, station, land };
  std::string_view name;          ///< UTF-8, as its country writes it in Latin letters, or the English name
  std::string_view state;         ///< "MA"; only of the United States, else empty
  std::string_view country_code;  ///< ISO 3166-1, two letters; empty where the place is no country's
  std::string_view country;       ///< "Norfolk Island"
  std::string_view zone;          ///< of the tz database; empty where nobody lives by a clock
  GeoPoint at;
  double people = 0;  ///< of a town; 0 where not known
  Kind kind = Kind::town;
};

/// A name as it is compared: accents off, small letters, signs as single blanks, "St", "Ste", "Mt", "Ft"
/// written out; letters of other scripts as '?'.
[[nodiscard]] std::string folded_name(std::string_view text);

/// Whether a text can be meant as a name: it begins with a letter, or holds three in a row.
[[nodiscard]] bool may_be_name(std::string_view text);

/// What a name can mean.
struct NameSearch {
  std::optional<Named> taken;  ///< the one that is meant
  /// Others of the same name, largest first: to be told beside the one taken, or to choose from where none was.
  std::vector<Named> others;
};
/// A whole name, else the beginning of one, else words within one; a country, its code or a state of the United
/// States after a comma narrows it: "Boston, US", "Portland, ME". Accents and case do not matter. Other names
/// count of larger towns, islands and peaks.
///   taken   the only one; or a town of 100 000 people and more with ten times those of every other, where all
///           of them are towns and airfields (Judgement: Paris is Paris; who means the other one says so)
///   time    some 10 us; 10 ms where only words within names match
///   source  data/places/SOURCE.md (GeoNames, CC BY 4.0, and others)
[[nodiscard]] NameSearch find_named(std::string_view text);

/// The same of whole names alone: for messages about what was no position, 20 us.
[[nodiscard]] NameSearch find_whole_name(std::string_view text);

/// How to write a place so that only it is meant: "Boston, GB", "Portland, ME"; its position where the name
/// cannot tell it from others.
[[nodiscard]] std::string telling_name(const Named& place);

/// The nearest place of the list within a distance, and how far it is. With `with_zone` those without a zone are
/// passed over. 1 to 20 us.
struct NearNamed {
  Named place;
  double distance_km = 0;
};
[[nodiscard]] std::optional<NearNamed> nearest_named(GeoPoint at, double within_km, bool with_zone = false);

/// How odd a place is for a station: a question to ask, no mistake.
struct Water {
  enum class Kind : std::uint8_t { sea, lake };
  Kind kind = Kind::sea;
  std::string_view lake;             ///< its name
  std::optional<NearNamed> nearest;  ///< within 3000 km
};
/// A place in the open sea (no land and nothing named within 60 km) or out on a large lake (nothing named
/// within 8 km; lakes as circles, data/places/lakes.toml); none on land and near a shore.
[[nodiscard]] std::optional<Water> open_water(GeoPoint at);

}  // namespace skerry::geodesy
