// Where a log's stations were.
#include "log_places.hpp"

#include <array>
#include <cmath>

#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"

namespace skerry::after {

const std::string& field(const AdifRecord& record, const char* name) {
  static const std::string none;
  const auto at = record.fields.find(name);
  return at == record.fields.end() ? none : at->second;
}

namespace {

/// Fields whose values name people. Source: the format's list of fields (from memory).
constexpr std::array names_people{"CALL",     "CONTACTED_OP",     "EQ_CALL", "NAME",
                                  "OPERATOR", "OWNER_CALLSIGN",   "QSL_VIA", "GUEST_OP",
                                  "EMAIL",    "STATION_CALLSIGN", "MY_NAME", "ADDRESS"};

/// Degrees out of "N052 30.000"; none: not in that form. `letters`: of the positive and the negative side.
std::optional<double> degrees_of(std::string_view text, const char* letters, double most) {
  const auto gap = text.find(' ');
  if (text.size() < 7 || gap != 4 || text.find_first_not_of("0123456789.", gap + 1) != std::string_view::npos)
    return std::nullopt;
  const char side = text[0] >= 'a' ? static_cast<char>(text[0] - 'a' + 'A') : text[0];
  if (side != letters[0] && side != letters[1]) return std::nullopt;
  if (text.substr(1, 3).find_first_not_of("0123456789") != std::string_view::npos) return std::nullopt;
  const auto degrees = to_number(text.substr(1, 3)), minutes = to_number(text.substr(gap + 1));
  if (!degrees || !minutes || *minutes >= 60) return std::nullopt;
  const double value = *degrees + *minutes / 60;
  if (value > most) return std::nullopt;
  return side == letters[0] ? value : -value;
}

/// The names of the fields that place one of the two stations.
struct Names {
  const char *square, *lat, *lon;
};
constexpr Names their_fields{"GRIDSQUARE", "LAT", "LON"}, my_fields{"MY_GRIDSQUARE", "MY_LAT", "MY_LON"};

std::optional<GeoPoint> exact(const AdifRecord& record, const Names& names, const Where& where,
                              Tally& tally) {
  if (field(record, names.lat).empty() && field(record, names.lon).empty()) return std::nullopt;
  const auto lat = degrees_of(field(record, names.lat), "NS", 90);
  const auto lon = degrees_of(field(record, names.lon), "EW", 180);
  if (lat && lon) return GeoPoint::at_deg(*lat, *lon);
  tally.add(names.lat,
            {where, fmt::format("{}, {}", told(record, names.lat), told(record, names.lon)),
             "a position like N052 30.000, E013 24.500", "placed by the record's other fields, if at all"});
  return std::nullopt;
}

/// By the finer of position and locator, and by the locator where they disagree.
std::optional<GeoPoint> place_told(const AdifRecord& record, const Names& names, const Where& where,
                                   Tally& tally, bool& no_locator) {
  const auto point = exact(record, names, where, tally);
  const auto& square = field(record, names.square);
  if (square.empty()) return point;
  const auto length = std::min<std::size_t>(square.size() / 2 * 2, 10);
  const auto at = geodesy::parse_locator(std::string_view(square).substr(0, length), where);
  if (!at) {
    no_locator = true;
    return point;
  }
  if (!point) return *at;
  if (lower(geodesy::to_locator(*point, static_cast<int>(length))) == lower(square.substr(0, length)))
    return point;
  tally.add(names.square, {where, fmt::format("{} and {} outside of {}", names.lat, names.lon, names.square),
                           "one place", "taken for the locator, which is what was sent"});
  return *at;
}

}  // namespace

/// Whom a record names is in no message: what stands in another field of it too is masked there.
std::string told(const AdifRecord& record, const char* name) {
  std::string value = one_line(field(record, name));
  for (const char* person : names_people) {
    const auto& mask = field(record, person);
    // Judgement: one or two letters are no name.
    if (mask.size() < 3) continue;
    for (auto at = lower(value).find(lower(mask)); at != std::string::npos;
         at = lower(value).find(lower(mask)))
      value.replace(at, mask.size(), "***");
  }
  return fmt::format("{} '{}'", name, value);
}

const std::vector<Entity>& entities() {
  static const std::vector<Entity> all = [] {
    std::vector<Entity> out;
    for (const auto& row : table_rows("entities/entities.toml", "entity")) {
      const auto& at = row.numbers("at");
      out.push_back({static_cast<int>(row.number("number")), row.text("name"), GeoPoint::at_deg(at[0], at[1]),
                     row.number("within_km")});
    }
    return out;
  }();
  return all;
}

const Entity* find_entity(int number) {
  for (const auto& e : entities()) {
    if (e.number == number) return &e;
  }
  return nullptr;
}

const Entity* find_entity(std::string_view name) {
  if (name.empty()) return nullptr;
  static const std::map<std::string, int> by_name = [] {
    std::map<std::string, int> out;
    for (const auto& row : table_rows("entities/entities.toml", "entity")) {
      const int number = static_cast<int>(row.number("number"));
      out.emplace(lower(row.text("name")), number);
      for (const auto& other : row.texts_or_empty("other")) out.emplace(lower(other), number);
    }
    return out;
  }();
  const auto at = by_name.find(lower(name));
  return at == by_name.end() ? nullptr : find_entity(at->second);
}

void read_places(const AdifRecord& record, const Where& where, Contact& c, Warnings& warnings, Tally& tally) {
  bool no_locator = false, mine_broken = false;
  c.my_place = place_told(record, my_fields, where, tally, mine_broken);
  c.at = place_told(record, their_fields, where, tally, no_locator);
  if (no_locator)
    warnings.push_back({where, told(record, their_fields.square), "a locator like KP20 or KP20le",
                        "placed by its entity, if at all"});
  if (c.at) return;
  const Entity* entity = nullptr;
  if (const auto& number = field(record, "DXCC");
      !number.empty() && number.size() <= 4 && number.find_first_not_of("0123456789") == std::string::npos)
    entity = find_entity(static_cast<int>(*to_number(number)));
  if (entity == nullptr) entity = find_entity(field(record, "COUNTRY"));
  if (entity == nullptr) return;
  c.at = entity->at;
  c.within_km = entity->within_km;
  c.entity = entity->name;
}

}  // namespace skerry::after
