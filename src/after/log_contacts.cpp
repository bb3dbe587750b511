// From ADIF fields to contacts with a time, a band and a place.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "skerry/after/adif.hpp"
#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"
#include "skerry/noise/bands.hpp"

namespace skerry::after {

namespace {

const std::string& field(const AdifRecord& record, const char* name) {
  static const std::string none;
  const auto at = record.fields.find(name);
  return at == record.fields.end() ? none : at->second;
}

bool digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

std::optional<UtcTime> time_of(const AdifRecord& record) {
  const auto& date = field(record, "QSO_DATE");
  const auto& clock = field(record, "TIME_ON");
  if (date.size() != 8 || !digits(date) || !digits(clock) || (clock.size() != 4 && clock.size() != 6))
    return std::nullopt;
  const auto number = [](std::string_view text) { return static_cast<int>(*to_number(text)); };
  const auto day = parse_day(date.substr(0, 4) + "-" + date.substr(4, 2) + "-" + date.substr(6, 2), {});
  const int hours = number(clock.substr(0, 2));
  const int minutes = number(clock.substr(2, 2));
  const int seconds = clock.size() == 6 ? number(clock.substr(4, 2)) : 0;
  if (!day || hours > 23 || minutes > 59 || seconds > 60) return std::nullopt;
  // cppcheck-suppress ignoredReturnValue ; it is used
  return start_of(*day) + std::chrono::hours{hours} + std::chrono::minutes{minutes} +
         std::chrono::seconds{seconds};
}

/// Region 2 has the widest bands; which part of a band is whose does not matter to a log.
std::optional<noise::Band> band_of(const AdifRecord& record, double& mhz) {
  if (const auto typed = to_number(field(record, "FREQ"))) {
    for (const int region : {2, 3, 1}) {
      if (auto band = noise::band_of(*typed, region)) {
        mhz = *typed;
        return band;
      }
    }
  }
  const auto name = lower(field(record, "BAND"));
  for (const auto& band : noise::bands(2)) {
    if (band.id == name) return band;
  }
  return std::nullopt;
}

/// "-12", "+05", "R-12"; a bare figure of two digits only in a mode that reports so.
std::optional<double> report_db(std::string_view text, bool digital) {
  if (!text.empty() && (text.front() == 'R' || text.front() == 'r')) text.remove_prefix(1);
  const bool sign = !text.empty() && (text.front() == '-' || text.front() == '+');
  if (!sign && !digital) return std::nullopt;
  const auto body = sign ? text.substr(1) : text;
  if (!digits(body) || body.size() > 2) return std::nullopt;
  const double value = *to_number(body);
  return value > 50 ? std::nullopt : std::optional(text.front() == '-' ? -value : value);
}

std::optional<int> report_s(std::string_view text) {
  if ((text.size() != 2 && text.size() != 3) || text[0] < '1' || text[0] > '5') return std::nullopt;
  for (const char c : text.substr(1)) {
    if (c < '1' || c > '9') return std::nullopt;
  }
  const int s = text[1] - '0';
  return s == 9 ? std::nullopt : std::optional(s);
}

void read_place(const AdifRecord& record, const Where& where, Contact& c, Log& log) {
  const auto& square = field(record, "GRIDSQUARE");
  if (!square.empty()) {
    const auto length = std::min<std::size_t>(square.size() / 2 * 2, 10);
    if (const auto at = geodesy::parse_locator(std::string_view(square).substr(0, length), where)) {
      c.at = *at;
      return;
    }
    log.warnings.push_back({where, "GRIDSQUARE '" + one_line(square) + "'", "a locator like KP20 or KP20le",
                            "placed by its entity, if at all"});
  }
  const Entity* entity = nullptr;
  if (const auto& number = field(record, "DXCC"); digits(number) && number.size() <= 4)
    entity = find_entity(static_cast<int>(*to_number(number)));
  if (entity == nullptr) entity = find_entity(field(record, "COUNTRY"));
  if (entity == nullptr) return;
  c.at = entity->at;
  c.within_km = entity->within_km;
  c.entity = entity->name;
}

void read_reports(const AdifRecord& record, Contact& c) {
  const bool by_ear = c.mode.empty() || c.mode == "cw" || c.mode == "ssb" || c.mode == "rtty" ||
                      c.mode == "psk31" || c.mode == "digital-voice";
  const auto& sent = field(record, "RST_SENT");
  const auto& received = field(record, "RST_RCVD");
  c.sent_db = report_db(sent, !by_ear);
  c.received_db = report_db(received, !by_ear);
  if (!by_ear) return;
  if (!c.sent_db) c.sent_s = report_s(sent);
  if (!c.received_db) c.received_s = report_s(received);
}

}  // namespace

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

Log contacts_of(const AdifFile& adif, const std::string& file) {
  Log out;
  out.warnings = adif.warnings;
  for (const auto& record : adif.records) {
    const Where where{file, record.line, 1};
    Contact c;
    c.line = record.line;
    const auto time = time_of(record);
    if (!time) {
      out.warnings.push_back({where,
                              fmt::format("QSO_DATE '{}', TIME_ON '{}'", one_line(field(record, "QSO_DATE")),
                                          one_line(field(record, "TIME_ON"))),
                              "a UTC date as 20270214 and a time as 0931", "the record is left out"});
      continue;
    }
    c.time = *time;
    const auto band = band_of(record, c.mhz);
    if (!band) {
      out.warnings.push_back({where,
                              fmt::format("BAND '{}', FREQ '{}'", one_line(field(record, "BAND")),
                                          one_line(field(record, "FREQ"))),
                              "a band from 160m to 6m", "the record is left out"});
      continue;
    }
    c.band = band->id;
    c.mode_as_told = field(record, "SUBMODE").empty() ? field(record, "MODE") : field(record, "SUBMODE");
    for (const auto* told : {&field(record, "SUBMODE"), &field(record, "MODE")}) {
      if (told->empty() || !c.mode.empty()) continue;
      if (const auto mode = noise::find_mode(*told, where)) c.mode = mode->id;
    }
    c.call = field(record, "CALL");
    if (const auto& mine = field(record, "MY_GRIDSQUARE"); !mine.empty()) {
      if (const auto at = geodesy::parse_locator(mine, where)) c.my_place = *at;
    }
    c.my_antenna = field(record, "MY_ANTENNA");
    c.my_rig = field(record, "MY_RIG");
    read_place(record, where, c, out);
    read_reports(record, c);
    out.contacts.push_back(std::move(c));
  }
  std::stable_sort(out.contacts.begin(), out.contacts.end(),
                   [](const Contact& a, const Contact& b) { return a.time < b.time; });
  return out;
}

}  // namespace skerry::after
