// `skerry calendar`, `skerry geojson`, `skerry card` and `skerry schema`: answers for other programs and slow
// links.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <memory>

#include "options.hpp"
#include "skerry/advice/agenda.hpp"
#include "skerry/advice/explain_trip.hpp"
#include "skerry/advice/prepared.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/forms/drawing.hpp"
#include "skerry/forms/geojson.hpp"
#include "skerry/forms/ics.hpp"
#include "skerry/forms/schema.hpp"
#include "skerry/os/surroundings.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/words/card.hpp"
#include "skerry/words/setup.hpp"
#include "stations.hpp"
#include "zone_warning.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip;
  std::vector<std::string> what;
  StationOptions stations;
  bool openings = false, all_hours = false, opening_alarms = false;
  std::string alarm = "15", hour, band, name, want = "5";
};

const std::vector<std::string> drawings{"geojson", "gpx", "kml"};

double whole(const std::string& text, const char* option, double low, double high, const char* what) {
  const double value = number_of(text, option, low, high, what);
  if (value != std::floor(value))
    refuse({option}, "'" + text + "'", fmt::format("{} from {:g} to {:g}", what, low, high));
  return value;
}

/// When the calendar is made: the moment named by SOURCE_DATE_EPOCH (seconds since 1970, the common way to
/// ask for the same bytes again), or now.
UtcTime made_at() {
  const auto told = os::variable("SOURCE_DATE_EPOCH");
  if (!told) return os::now();
  // Up to the year 9999, the last that fits the calendar's dates.
  return UtcTime{std::chrono::seconds(static_cast<std::int64_t>(
      whole(*told, "SOURCE_DATE_EPOCH", 0, 253402300799.0, "whole seconds since 1970")))};
}

void run_calendar(const Options& o, World& world) {
  forms::IcsOptions options;
  options.alarm_minutes = static_cast<int>(whole(o.alarm, "--alarm-min", 0, 1440, "whole minutes"));
  options.opening_alarms = o.opening_alarms;
  options.made = made_at();
  const bool openings = o.openings || o.all_hours || o.opening_alarms;
  const auto trip = read_trip_file(o.trip);
  warn_of_zones(trip, world);
  const auto advice = advice::Prepared(trip).decide();
  write(forms::ics_text(trip, advice,
                        openings ? advice::agenda(trip, advice, o.all_hours)
                                 : advice::gathered(advice::agenda(trip, advice, false)),
                        options),
        o.common, world);
}

/// Without a trip file: one path, the question of `skerry path`.
std::string quick_card(const Options& o, World& world) {
  Places places;
  circuit::PathQuestion q = question_between(places, o.what[0], o.what[1], o.common, o.stations);
  // Not asked for: 160 m, where the method is outside its range and a card has no room to say so.
  if (o.stations.bands.empty() && o.stations.mhz.empty())
    std::erase_if(q.frequencies, [](const auto& f) { return f.mhz < 2; });
  q.want_days_in_ten = number_of(o.want, files::field("question", "want_days"));
  places.ask(world);
  return places.lines() + words::quick_card_text(answer_between(places, q));
}

void run_card(const Options& o, const CLI::App& app, World& world) {
  if (o.what.size() == 2) return write(quick_card(o, world), o.common, world);
  // A trip says all this itself.
  for (const auto* option : app.get_options()) {
    const auto name = option->get_name();
    if (option->count() > 0 && name != "WHAT" && name != "--output" && name != "--fof2" && name != "--es")
      refuse({name}, "a trip file", "two places, FROM and TO, or the same said in the trip file");
  }
  auto trip = read_trip_file(o.what[0]);
  trip.climate.measured = measured_of(o.common, trip.climate.day);
  trip.sporadic_e = o.stations.es == "on";
  warn_of_zones(trip, world);
  write(words::card_text(trip, advice::Prepared(trip).decide()), o.common, world);
}

/// Both ways between two places, with the chosen band's answer at the hour, if a band was chosen.
void add_tracks(forms::GeoSheet& sheet, const circuit::ExplainQuestion& question, const std::string& from,
                const std::string& to) {
  for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
    auto q = question;
    q.ways = {way};
    const auto answers = circuit::explain(q);
    // Of several bands the one that carries best at that hour.
    const auto best = std::max_element(answers.begin(), answers.end(),
                                       [](const auto& a, const auto& b) { return a.days < b.days; });
    auto track = advice::track_of(
        geodesy::make_path(q.from, q.to, way),
        best == answers.end() ? std::nullopt : std::optional<circuit::BandExplanation>(*best));
    track.from_name = from;
    track.to_name = to;
    sheet.tracks.push_back(std::move(track));
  }
}

/// Only the band asked for stays.
void keep_band(circuit::ExplainQuestion& q, const std::string& band) {
  if (band.empty()) return;
  const auto wanted = must(noise::find_band(band, geodesy::itu_region(q.from).region, {"--band"}));
  std::erase_if(q.bands, [&](const auto& b) { return b.band != wanted.id; });
  if (q.bands.empty()) refuse({"--band"}, "'" + band + "'", "a band of the trip's licence");
}

void run_geojson(const Options& o, World& world) {
  const int hour = static_cast<int>(whole(o.hour, "--hour", 0, 23, "a whole UTC hour"));
  const auto form = form_of(o.common, drawings);
  forms::GeoSheet sheet;
  if (o.what.size() == 1) {
    const auto trip = read_trip_file(o.what.front());
    sheet.when = start_of(trip.climate.day) + std::chrono::hours(hour);
    const auto advice = advice::Prepared(trip).decide();
    for (std::size_t s = 0; s < trip.sites.size(); ++s) {
      for (std::size_t t = 0; t < trip.targets.size(); ++t) {
        auto q = advice::question_of(trip, advice, static_cast<int>(s), static_cast<int>(t), hour,
                                     words::setup_namer(trip));
        keep_band(q, o.band);
        add_tracks(sheet, q, trip.sites[s].name, trip.targets[t].region.name);
      }
    }
  } else {
    circuit::ExplainQuestion q;
    Places places;
    q.from = places.read(o.what[0], "FROM");
    q.to = places.read(o.what[1], "TO");
    places.tell(world);
    places.ask(world);
    q.climate = climate_of(o.common);
    sheet.when = start_of(q.climate.day) + std::chrono::hours(hour);
    for (const auto& band : noise::bands(geodesy::itu_region(q.from).region)) {
      if (band.low_mhz >= 30) continue;
      circuit::ExplainBand one;
      one.band = band.id;
      one.mhz = band.mhz;
      one.mode = must(noise::find_mode("cw", {}));
      one.utc_hour = hour;
      one.own.land_share = circuit::land_share(q.from);
      one.own.home = true;
      one.own.environment = noise::Environment::quiet;
      one.partner = circuit::unknown_station(100, noise::Environment::residential, q.to);
      q.bands.push_back(std::move(one));
    }
    keep_band(q, o.band);
    add_tracks(sheet, q, std::string(trim(o.what[0])), std::string(trim(o.what[1])));
  }
  sheet.terminator = sun::terminator(sheet.when, 0, 180);
  write(form == 0   ? forms::tracks_geojson(sheet)
        : form == 1 ? forms::gpx(forms::drawing_of(sheet))
                    : forms::kml(forms::drawing_of(sheet)),
        o.common, world);
}

void run_schema(const Options& o, World& world) {
  const auto& names = forms::schema_names();
  if (o.name.empty()) return write(fmt::format("{}\n", fmt::join(names, "\n")), o.common, world);
  write(forms::schema_text(o.name), o.common, world);
}

}  // namespace

Command add_calendar(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub =
      app.add_subcommand("calendar", "sessions with their openings and the time to leave as iCalendar");
  sub->add_option("TRIP", o.trip, "the trip file")->required()->type_name("TRIP");
  sub->add_flag("--openings", o.openings, "each opening as an event of its own");
  sub->add_flag("--all-hours", o.all_hours, "the same, also openings while you are not on the air");
  sub->add_option("--alarm-min", o.alarm, "ring this long before sessions and leaving; 0: never")
      ->type_name("MINUTES")
      ->default_str("15");
  sub->add_flag("--opening-alarms", o.opening_alarms, "each opening as an event that rings");
  add_output(*sub, o.common);
  sub->footer(
      "With SOURCE_DATE_EPOCH in the environment (seconds since 1970) that is the time stamp of all events: "
      "the\n"
      "same trip then gives the same bytes.\n"
      "Example: skerry calendar examples/rodrigues.toml -o trip.ics");
  return {sub, [options](World& world) { run_calendar(*options, world); }};
}

Command add_geojson(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  o.common.format.clear();
  auto* sub = app.add_subcommand(
      "geojson", "paths both ways, reflection points and the edge of night, for a mapping program");
  sub->add_option("WHAT", o.what, "a trip file, or two places")
      ->required()
      ->expected(1, 2)
      ->type_name("TRIP | FROM TO");
  sub->add_option("--hour", o.hour, "UTC hour of reflection points and edge of night")
      ->type_name("HOUR")
      ->default_str("12");
  o.hour = "12";
  offer_bands(
      sub->add_option("--band", o.band, "band whose hops are shown; without it the one that carries best")
          ->type_name("BAND"),
      false);
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_named_format(*sub, o.common, drawings);
  sub->footer("Example: skerry geojson -19.70,63.43 JN45 --month 2027-02 --hour 16 -o paths.geojson");
  return {sub, [options](World& world) { run_geojson(*options, world); }};
}

Command add_card(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand(
      "card", "the field card as plain text under 2 kB, for a slow link; of two places: ten short lines");
  sub->add_option("WHAT", o.what, "a trip file, or two places")
      ->required()
      ->expected(1, 2)
      ->type_name("TRIP | FROM TO");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_measured(*sub, o.common);
  add_stations(*sub, o.stations, "all from 80m to 10m");
  sub->add_option("--want-days", o.want, files::field("question", "want_days").help)
      ->type_name("N")
      ->default_str("5");
  add_output(*sub, o.common);
  sub->footer(
      "Example: skerry card examples/rodrigues.toml\n"
      "Example: skerry card -19.70,63.43 JN45 --mode ssb --bands 40m,20m,15m --power-w 10");
  return {sub, [options, sub](World& world) { run_card(*options, *sub, world); }};
}

Command add_schema(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand("schema", "the JSON Schema of an answer; without a name, which there are");
  takes(sub->add_option("NAME", o.name, "path, pack, sun ...")->type_name("NAME"), forms::schema_names());
  add_output(*sub, o.common);
  sub->footer("Example: skerry schema path");
  return {sub, [options](World& world) { run_schema(*options, world); }};
}

}  // namespace skerry::cli
