#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "readers.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/told_activity.hpp"
#include "skerry/ionosphere/forecast_table.hpp"

namespace skerry::files {

namespace {

using namespace std::chrono;

/// Judgement: monthly maps and one day's Sun stand for the whole trip, so it must not reach far into other
/// months.
constexpr int longest_trip_days = 62;

void read_dates(Cursor& c, Trip& trip) {
  const auto first = c.day("first_day");
  const auto last = c.day("last_day");
  if (!first || !last) return;
  const auto length = (sys_days{*last} - sys_days{*first}).count() + 1;
  if (length < 1) {
    c.refuse("last_day", fmt::format("{} or later", to_iso(*first)), "last_day stands before first_day");
    return;
  }
  if (length > longest_trip_days) {
    c.refuse("last_day",
             fmt::format("at most {} days after first_day, {}", longest_trip_days - 1, to_iso(*first)),
             "split a longer stay into several trips");
    return;
  }
  trip.first_day = *first;
  trip.last_day = *last;
  trip.climate.day = sys_days{*first} + days{(length - 1) / 2};
}

void set_activity(Trip& trip, const ionosphere::Activity& activity) {
  trip.climate.r12 = activity.r12;
  trip.low_r12 = activity.low_r12;
  trip.high_r12 = activity.high_r12;
  trip.activity_source = activity.source;
}

void read_activity(Cursor& c, Reading& reading) {
  Trip& trip = reading.trip;
  const auto told = told_activity([&](const char* key) { return c.has(key); });
  if (told.beside != nullptr) {
    c.report(told.beside, fmt::format("{} beside {}", told.beside, told.key),
             "at most one of r12, ssn_v2, f107, forecast_file");
    return;
  }
  if (told.index) {
    if (const auto value = c.number(told.key))
      set_activity(trip, ionosphere::told_activity(*told.index, *value));
    return;
  }
  const auto file = c.text("forecast_file");
  if (!trip.first_day.ok() || trip.climate.day == Day{}) return;  // the dates are wrong: said already
  const Month month = trip.climate.day.year() / trip.climate.day.month();
  if (!file) {
    if (told.key != nullptr) return;
    const auto own = reading.files ? reading.files(ionosphere::own_forecast, {}) : std::string{};
    auto usual = ionosphere::forecast_with(own.value_or(""), month);
    if (usual) return set_activity(trip, *usual);
    reading.pass_on({ionosphere::own_forecast, c.at("first_day")}, usual.error());
    return;
  }
  const Reading::Named named{*file, c.at("forecast_file")};
  const auto text = reading.fetch(named, "forecast_file");
  if (!text) return;
  const auto activity = ionosphere::forecast_from_file(*text, month, {*file});
  if (activity) {
    set_activity(trip, *activity);
  } else {
    reading.pass_on(named, activity.error());
  }
}

}  // namespace

void read_head(Cursor& root, Reading& reading) {
  Trip& trip = reading.trip;
  auto cursor = root.table("trip");
  if (!cursor) {
    if (!root.has("trip"))
      root.missing("[trip]", "a table with name, first_day, last_day, mass_limit_kg", {});
    return;
  }
  Cursor& c = *cursor;
  c.rename("[trip]");
  trip.name = c.text("name").value_or("trip");
  read_dates(c, trip);
  c.fill(trip);
  c.into(trip.climate.field_epoch, "field_epoch");
  if (const auto count = c.word("count"))
    trip.objective = *count == "days" ? Objective::days : Objective::chance;
  if (const auto charging = c.word("charging"))
    trip.charging = *charging == "none"    ? Charging::none
                    : *charging == "solar" ? Charging::solar
                                           : Charging::every_night;
  reading.charging_at = c.at("charging");
  if (trip.charging == Charging::solar && !c.has("solar_hours"))
    c.report("charging", "charging = \"solar\" without solar_hours",
             "solar_hours = " + accepted(field("trip", "solar_hours")));
  if (const auto maps = c.word("maps")) {
    trip.climate.maps = *maps == "ursi" ? ionosphere::MapSet::ursi : ionosphere::MapSet::ccir;
  }
  read_activity(c, reading);
  if (const auto file = c.text("library")) reading.library_named = {*file, c.at("library")};
  reading.library_items = c.words("library_items");
  if (!reading.library_items.empty() && !c.has("library"))
    c.report("library_items", "library_items without library", "library = \"my_kit.toml\" beside it");
  if (const auto file = c.text("learned")) reading.learned_named = {*file, c.at("learned")};
  c.finish();
}

void read_listeners(Cursor& root, Reading& reading) {
  auto cursor = root.table("people");
  if (!cursor) return;
  Cursor& c = *cursor;
  c.rename("[people]");
  People& out = reading.trip.listeners;
  c.fill(out);
  out.weekday = c.numbers<24>("weekday");
  out.weekend = c.numbers<24>("weekend");
  const auto silent = [](const auto& table) {
    return table && std::all_of(table->begin(), table->end(), [](double x) { return x <= 0; });
  };
  if (silent(out.weekday) && silent(out.weekend))
    c.report("weekday", "nobody at any hour", "some hour above 0", "use = false switches the table off");
  if (!out.used && out.count) c.report("count", "count = true beside use = false", "one of them");
  c.finish();
}

namespace {

/// [[mode]]: how much one sends in a mode of the licence.
void read_mode_habits(Cursor& root, Trip& trip) {
  std::vector<std::string> told;
  for (Cursor& c : root.tables("mode")) {
    noise::Mode said;
    noise::Mode* meant = nullptr;
    if (c.parse(said, "name", mode_named)) {
      c.rename(fmt::format("[[mode]] '{}'", said.id));
      const auto known = ids_of(trip.modes);
      const auto at = std::find(known.begin(), known.end(), said.id);
      if (at == known.end()) {
        c.refuse("name", fmt::format("a mode of [licence]: {}", fmt::join(known, ", ")));
      } else if (std::find(told.begin(), told.end(), said.id) != told.end()) {
        c.refuse("name", "each mode once");
      } else {
        told.push_back(said.id);
        meant = &trip.modes[static_cast<std::size_t>(at - known.begin())];
      }
    }
    c.into(said.tx_share, "sending");
    c.into(said.duty, "duty");
    if (meant != nullptr) *meant = said;
    c.finish();
  }
}

/// Of the modes of a session: how much each of the trip's counts.
void read_session_modes(Cursor& c, const Trip& trip, Session& session) {
  if (!c.has("modes")) return;
  std::vector<double> shares;
  const auto modes = read_modes(c, &shares);
  const auto known = ids_of(trip.modes);
  session.mode_shares.assign(known.size(), 0);
  for (std::size_t m = 0; m < modes.size(); ++m) {
    const auto at = std::find(known.begin(), known.end(), modes[m].id);
    if (at == known.end()) {
      c.refuse("modes", fmt::format("modes of [licence]: {}", fmt::join(known, ", ")),
               fmt::format("add \"{}\" to them", modes[m].id));
      continue;
    }
    const double share = shares.size() == modes.size() ? shares[m] : (m == 0 ? 1 : 0);
    session.mode_shares[static_cast<std::size_t>(at - known.begin())] = share;
  }
}

}  // namespace

void read_licence(Cursor& root, Reading& reading) {
  Trip& trip = reading.trip;
  auto cursor = root.table("licence");
  if (!cursor) {
    if (!root.has("licence"))
      root.missing("[licence]", "a table with bands and modes", "the program cannot guess what you may use");
    read_mode_habits(root, trip);
    return;
  }
  Cursor& c = *cursor;
  c.rename("[licence]");
  trip.bands = read_bands(c, reading);
  std::sort(trip.bands.begin(), trip.bands.end(), [](const auto& a, const auto& b) { return a.mhz < b.mhz; });
  trip.modes = read_modes(c, &trip.mode_shares);
  if (trip.mode_shares.size() != trip.modes.size()) trip.mode_shares.clear();  // told or reported for each
  reading.modes_at = c.at("modes");
  c.into(trip.licence_power_w, "power_w");
  c.finish();
  read_mode_habits(root, trip);
}

void read_sessions(Cursor& root, Reading& reading) {
  Trip& trip = reading.trip;
  if (!root.has("session")) {
    for (const auto& site : trip.sites) trip.sessions.push_back({site.id, 0, 24 * 60, {}, 0});
    return;
  }
  std::map<std::string, int> used;
  for (Cursor& c : root.tables("session")) {
    Session session;
    session.line = c.line();
    std::vector<std::string> site_ids;
    for (const auto& site : trip.sites) site_ids.push_back(site.id);
    if (const auto site = c.text("site", site_ids.empty() ? "summit" : site_ids.front())) {
      session.site = *site;
      if (reading.site_ids.count(*site) == 0) {
        c.refuse("site", fmt::format("the id of a [[site]]: {}", fmt::join(site_ids, ", ")),
                 did_you_mean(*site, site_ids));
      }
    } else if (!c.has("site") && !site_ids.empty()) {
      session.site = site_ids.front();
    }
    ++used[session.site];
    const auto from = c.clock("from");
    const auto to = c.clock("to");
    if (from && to) {
      session.start_minute = *from;
      session.end_minute = *to;
      if (*from == 24 * 60) c.refuse("from", "\"00:00\" to \"23:59\"");
      if (*to == *from)
        c.refuse("to", "another time than from", "for a whole day: from = \"00:00\", to = \"24:00\"");
      if (*to < *from) session.end_minute += 24 * 60;  // past midnight
    }
    for (const auto& [day, at] : c.days("days")) {
      if (trip.first_day.ok() && (day < trip.first_day || day > trip.last_day)) {
        reading.mistakes.add(
            at, fmt::format("{} in days", to_iso(day)),
            fmt::format("days of the trip, {} to {}", to_iso(trip.first_day), to_iso(trip.last_day)));
      } else if (std::find(session.days.begin(), session.days.end(), day) == session.days.end()) {
        session.days.push_back(day);
      }
    }
    std::sort(session.days.begin(), session.days.end());
    read_session_modes(c, trip, session);
    c.finish();
    trip.sessions.push_back(std::move(session));
  }
  for (const auto& [id, line] : reading.site_ids) {
    if (used.count(id) == 0) {
      toml::source_position at;
      at.line = static_cast<toml::source_index>(line);
      at.column = 1;
      reading.mistakes.add(at, fmt::format("site '{}' without a [[session]]", id),
                           fmt::format("a [[session]] with site = \"{}\"", id),
                           "or no [[session]] at all: all hours at every site");
    }
  }
}

}  // namespace skerry::files
