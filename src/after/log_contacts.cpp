// From ADIF fields to contacts with a time, a band and a place.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <tuple>

#include "log_places.hpp"
#include "skerry/after/log.hpp"
#include "skerry/core/text.hpp"
#include "skerry/noise/bands.hpp"

namespace skerry::after {

namespace {

/// A coded field that holds a '<': its length is wrong, and reaches into the fields behind it.
const char* reaching(const AdifRecord& record) {
  for (const char* name :
       {"QSO_DATE", "TIME_ON", "BAND", "FREQ", "MODE", "SUBMODE", "GRIDSQUARE", "DXCC", "CALL", "RST_SENT",
        "RST_RCVD", "MY_GRIDSQUARE", "QSO_COMPLETE", "LAT", "LON", "MY_LAT", "MY_LON"}) {
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
  Tally common;
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
    read_mode(record, where, c, common);
    c.call = field(record, "CALL");
    c.my_antenna = field(record, "MY_ANTENNA");
    c.my_rig = field(record, "MY_RIG");
    read_places(record, where, c, out.warnings, common);
    read_reports(record, c);
    worked.push_back({std::move(c), identity(record)});
  }
  out.contacts = each_once(std::move(worked), file, out.warnings);
  out.warnings.put_first(common.told());
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
