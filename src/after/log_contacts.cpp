// From ADIF fields to contacts with a time, a band and a place.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <tuple>

#include "skerry/after/log.hpp"
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

/// Fields whose values name people. Source: the format's list of fields (from memory).
constexpr std::array names_people{"CALL",     "CONTACTED_OP",     "EQ_CALL", "NAME",
                                  "OPERATOR", "OWNER_CALLSIGN",   "QSL_VIA", "GUEST_OP",
                                  "EMAIL",    "STATION_CALLSIGN", "MY_NAME", "ADDRESS"};

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

/// A coded field that holds a '<': its length is wrong, and reaches into the fields behind it.
const char* reaching(const AdifRecord& record) {
  for (const char* name : {"QSO_DATE", "TIME_ON", "BAND", "FREQ", "MODE", "SUBMODE", "GRIDSQUARE", "DXCC",
                           "CALL", "RST_SENT", "RST_RCVD", "MY_GRIDSQUARE", "QSO_COMPLETE"}) {
    if (field(record, name).find('<') != std::string::npos) return name;
  }
  return nullptr;
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
std::optional<noise::Band> band_at(double mhz) {
  for (const int region : {2, 3, 1}) {
    if (auto band = noise::band_of(mhz, region)) return band;
  }
  return std::nullopt;
}

std::optional<noise::Band> band_called(std::string name) {
  name.erase(std::remove(name.begin(), name.end(), ' '), name.end());
  for (const auto& band : noise::bands(2)) {
    if (band.id == lower(name)) return band;
  }
  return std::nullopt;
}

/// The band by the frequency, which rigs write themselves, else by its name; two bands are said.
Result<noise::Band> band_of(const AdifRecord& record, const Where& where, double& mhz, Warnings& warnings) {
  const auto& name = field(record, "BAND");
  const auto typed = to_number(field(record, "FREQ"));
  const bool tuned = typed && *typed > 0;  // some programs write 0 for what they do not know
  const auto by_frequency = tuned ? band_at(*typed) : std::nullopt;
  const auto by_name = band_called(name);
  const auto both = told(record, "BAND") + ", " + told(record, "FREQ");
  if (by_frequency && !name.empty() && (!by_name || by_name->id != by_frequency->id))
    warnings.push_back({where, both, "a frequency in the band that is named",
                        fmt::format("taken for {}", by_frequency->id)});
  if (by_frequency) {
    mhz = *typed;
    return *by_frequency;
  }
  if (!by_name) return fail(where, both, "a band from 160m to 6m", "the record is left out");
  if (tuned) warnings.push_back({where, both, "a frequency in MHz, in a band", "taken by its band alone"});
  return *by_name;
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
    log.warnings.push_back({where, told(record, "GRIDSQUARE"), "a locator like KP20 or KP20le",
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

namespace {

/// What many records have in common is said once.
class Tally {
 public:
  void add(const std::string& what, const Error& error) {
    const auto at = std::find_if(all_.begin(), all_.end(), [&](const auto& x) { return x.what == what; });
    if (at != all_.end()) {
      ++at->count;
    } else if (all_.size() < most) {
      all_.push_back({what, error, 1});
    }
  }
  [[nodiscard]] std::vector<Error> told() const {
    std::vector<Error> out;
    for (const auto& x : all_) {
      out.push_back(x.error);
      if (x.count > 1) out.back().found += fmt::format(", in {} records", x.count);
    }
    return out;
  }

 private:
  /// Judgement: a log of so many kinds of mistakes is known by the first of them.
  static constexpr std::size_t most = 20;
  struct One {
    std::string what;
    Error error;
    int count = 0;
  };
  std::vector<One> all_;
};

void read_mode(const AdifRecord& record, const Where& where, Contact& c, Tally& tally) {
  const auto& sub = field(record, "SUBMODE");
  const auto& main = field(record, "MODE");
  c.mode_as_told = sub.empty() ? main : sub;
  std::optional<Error> unknown;
  for (const auto* name : {&sub, &main}) {
    if (name->empty() || !c.mode.empty()) continue;
    if (auto mode = noise::find_mode(*name, where)) {
      c.mode = mode->id;
    } else if (!unknown) {
      unknown = std::move(mode.error());
    }
  }
  if (!unknown || !c.mode.empty()) return;
  tally.add(lower(c.mode_as_told), {where, told(record, sub.empty() ? "MODE" : "SUBMODE"), unknown->accepted,
                                    "weighed as if in the trip's best mode"});
}

/// Who was worked; where the record does not say, the record itself.
std::string identity(const AdifRecord& record) {
  const auto& call = field(record, "CALL");
  if (!call.empty()) return lower(call);
  std::string out;
  for (const auto& [name, value] : record.fields) out += name + '\n' + value + '\n';
  return out;
}

struct Worked {
  Contact contact;
  std::string who;
};

/// By time; a contact that stands twice counts once. Judgement: the same station on the same band in the same
/// mode within so many minutes is one contact, written down by two programs or twice by one.
std::vector<Contact> each_once(std::vector<Worked> all, const std::string& file, Warnings& warnings) {
  constexpr std::chrono::minutes one_contact{5};
  std::stable_sort(all.begin(), all.end(),
                   [](const Worked& a, const Worked& b) { return a.contact.time < b.contact.time; });
  std::map<std::tuple<std::string, std::string, std::string>, const Contact*> last;
  std::vector<Contact> out;
  out.reserve(all.size());  // so that those pointed to stay where they are
  for (auto& [contact, who] : all) {
    auto& before = last[{who, contact.band, lower(contact.mode_as_told)}];
    if (before != nullptr && contact.time - before->time <= one_contact) {
      warnings.push_back({{file, contact.line, 1},
                          fmt::format("the contact of line {} once more", before->line),
                          "each contact once",
                          "counted once"});
      continue;
    }
    out.push_back(std::move(contact));
    before = &out.back();
  }
  return out;
}

}  // namespace

Log contacts_of(const AdifFile& adif, const std::string& file) {
  Log out;
  out.warnings = adif.warnings;
  std::vector<Worked> worked;
  Tally modes;
  for (const auto& record : adif.records) {
    const Where where{file, record.line, 1};
    Contact c;
    c.line = record.line;
    if (const char* name = reaching(record)) {
      out.warnings.push_back({where, fmt::format("{} that holds a '<'", name),
                              "the length of its own data, in bytes", "the record is left out"});
      continue;
    }
    if (const auto done = lower(field(record, "QSO_COMPLETE")); done == "n" || done == "nil") {
      out.warnings.push_back(
          {where, told(record, "QSO_COMPLETE"), "a contact that was completed", "the record is left out"});
      continue;
    }
    const auto time = time_of(record);
    if (!time) {
      out.warnings.push_back({where, told(record, "QSO_DATE") + ", " + told(record, "TIME_ON"),
                              "a UTC date as 20270214 and a time as 0931", "the record is left out"});
      continue;
    }
    c.time = *time;
    auto band = band_of(record, where, c.mhz, out.warnings);
    if (!band) {
      out.warnings.push_back(std::move(band.error()));
      continue;
    }
    c.band = band->id;
    read_mode(record, where, c, modes);
    c.call = field(record, "CALL");
    if (const auto& mine = field(record, "MY_GRIDSQUARE"); !mine.empty()) {
      if (const auto at = geodesy::parse_locator(mine, where)) c.my_place = *at;
    }
    c.my_antenna = field(record, "MY_ANTENNA");
    c.my_rig = field(record, "MY_RIG");
    read_place(record, where, c, out);
    read_reports(record, c);
    worked.push_back({std::move(c), identity(record)});
  }
  out.contacts = each_once(std::move(worked), file, out.warnings);
  out.warnings.put_first(modes.told());
  return out;
}

std::vector<Error> doubts_of(const kit::Trip& trip, const Log& log, const std::string& file) {
  Tally tally;
  const auto look = [&](const std::string& told, const char* field, const auto& things, const Contact& c) {
    const auto word = lower(trim(told));
    const auto named = [&](const auto& thing) {
      return word == lower(thing.item.id) || word == lower(thing.item.name);
    };
    if (word.empty() || std::any_of(things.begin(), things.end(), named)) return;
    std::vector<std::string> known;
    for (const auto& thing : things) known.push_back(thing.item.id);
    tally.add(std::string(field) + word,
              {{file, c.line, 1},
               fmt::format("{} '{}', which the trip does not have", field,
                           one_line(std::string_view(told).substr(0, told.find('<')))),
               fmt::format("the id or name of one: {}", fmt::join(known, ", ")),
               did_you_mean(told, known)});
  };
  for (const auto& c : log.contacts) {
    look(c.my_antenna, "MY_ANTENNA", trip.antennas, c);
    look(c.my_rig, "MY_RIG", trip.rigs, c);
  }
  return tally.told();
}

}  // namespace skerry::after
