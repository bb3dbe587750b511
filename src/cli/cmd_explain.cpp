// `skerry explain`: plain words, and worksheets.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <memory>

#include "contrast.hpp"
#include "options.hpp"
#include "places.hpp"
#include "skerry/advice/explain_trip.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "skerry/page/club.hpp"
#include "skerry/sun/nearest_zone.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/setup.hpp"
#include "stations.hpp"
#include "worksheet.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::vector<std::string> what;
  std::string bands, hour, mode = "cw", power = "10", to_power = "100", gain_from, gain_to, es = "on";
  std::string noise_from = "quiet", noise_to = "residential", region, site;
  std::string contrast, pictures;
  bool teach = false;
};

std::optional<int> hour_of(const Options& o) {
  if (o.hour.empty()) return std::nullopt;
  const double hour = number_of(o.hour, "--hour", 0, 23, "a whole UTC hour");
  if (hour != std::floor(hour)) refuse({"--hour"}, "'" + o.hour + "'", "a whole UTC hour from 0 to 23");
  return static_cast<int>(hour);
}

/// The bands asked for, or all below 30 MHz.
std::vector<noise::Band> bands_of(const Options& o, GeoPoint from) {
  const int region = geodesy::itu_region(from).region;
  std::vector<noise::Band> out;
  if (!o.bands.empty()) {
    for (const auto& part : split_list(o.bands, "--bands"))
      out.push_back(must(noise::find_band(part, region, {"--bands"})));
    return out;
  }
  for (const auto& band : noise::bands(region)) {
    if (band.low_mhz < 30) out.push_back(band);
  }
  return out;
}

circuit::ExplainQuestion two_places(const Options& o, Places& places) {
  circuit::ExplainQuestion q;
  q.from = places.read(o.what[0], "FROM");
  q.to = places.read(o.what[1], "TO");
  check_apart(q.from, q.to, "TO");
  q.climate = climate_of(o.common);
  q.settings.sporadic_e = o.es == "on";
  circuit::ExplainBand one;
  one.mode = must(noise::find_mode(o.mode, {"--mode"}));
  one.utc_hour = hour_of(o);
  one.own.power_w = number_of(o.power, files::field("question", "power_w"));
  auto there = circuit::far_end();
  there.at = q.to;
  there.power_w = number_of(o.to_power, files::field("question", "to_power_w"));
  there.gain_dbi = gain_of(o.gain_to, "gain_to_dbi");
  there.environment = must(noise::parse_environment(o.noise_to, {"--noise-to"}));
  one.partner = circuit::station_of(there);
  const auto own_gain = gain_of(o.gain_from, "gain_from_dbi");
  one.own.gain_dbi = own_gain.value_or(0);
  one.own.home = !own_gain;
  one.own.environment = must(noise::parse_environment(o.noise_from, {"--noise-from"}));
  one.own.land_share = circuit::land_share(q.from);
  for (const auto& band : bands_of(o, q.from)) {
    one.band = band.id;
    one.mhz = band.mhz;
    q.bands.push_back(one);
  }
  return q;
}

std::string explain_trip(const Options& o, Format format, const World& world) {
  auto trip = read_trip_file(o.what.front());
  trip.climate.measured = measured_of(o.common, trip.climate.day);
  trip.sporadic_e = o.es == "on";
  engine::ExplainAsk ask;
  ask.format = format;
  ask.style = style_of(world, o.common);
  ask.hour = hour_of(o);
  if (!o.bands.empty()) ask.bands = split_list(o.bands, "--bands");
  ask.region = o.region;
  ask.site = o.site;
  return must_by_options(engine::explain(trip, ask));
}

/// The worksheet's bands: those asked for, the first of them the lesson's own; without any 20 m.
circuit::ExplainQuestion lesson_question(const Options& o, Places& places) {
  auto q = two_places(o, places);
  constexpr std::size_t most = 6;  // Judgement: a sheet of paper.
  if (!o.bands.empty()) {
    if (q.bands.size() > most)
      refuse({"--bands"}, "'" + o.bands + "'", fmt::format("at most {} bands for a worksheet", most));
    return q;
  }
  const auto found =
      std::find_if(q.bands.begin(), q.bands.end(), [](const auto& b) { return b.band == "20m"; });
  q.bands = {found == q.bands.end() ? q.bands.front() : *found};
  return q;
}

/// The same stations, as `path` asks for them.
StationOptions stations_of(const Options& o) {
  StationOptions out;
  out.bands = o.bands;
  out.mode = o.mode;
  out.power = o.power;
  out.to_power = o.to_power;
  out.gain_from = o.gain_from;
  out.gain_to = o.gain_to;
  out.noise_from = o.noise_from;
  out.noise_to = o.noise_to;
  out.es = o.es;
  return out;
}

void run_contrast(const Options& o, World& world) {
  if (o.what.size() != 2)
    refuse({"--contrast"}, "a trip", "two places: skerry explain FROM TO --contrast month=2027-08");
  if (o.teach) refuse({"--contrast"}, "--teach", "one of them");
  if (!o.hour.empty()) refuse({"--hour"}, "--contrast", "--contrast hour=6,18, or all hours");
  Places places;
  auto question = question_between(places, o.what[0], o.what[1], o.common, stations_of(o));
  auto contrast = contrast_of(question, o.contrast);
  contrast.from_name = trim(o.what[0]);
  contrast.to_name = trim(o.what[1]);
  if (!o.pictures.empty()) write_pictures(o.pictures, {{"contrast.svg", page::contrast_svg(contrast)}});
  places.ask(world);
  write(places.lines() + words::contrast_text(contrast, style_of(world, o.common)), o.common, world);
}

void run_explain(const Options& o, World& world) {
  const Format format = format_of(o.common);
  if (format == Format::json && (o.teach || !o.contrast.empty()))
    refuse({"--format"}, "'json'", fmt::format("text with {}", o.teach ? "--teach" : "--contrast"));
  if (!o.pictures.empty() && !o.teach && o.contrast.empty())
    refuse({"--pictures"}, "'" + o.pictures + "'", "it goes with --teach or --contrast");
  if (!o.contrast.empty()) return run_contrast(o, world);
  if (o.teach && o.what.size() != 2)
    refuse({"--teach"}, "a trip", "two places: skerry explain FROM TO --teach");
  if (o.what.size() == 1) return write(explain_trip(o, format, world), o.common, world);
  if (!o.region.empty() || !o.site.empty())
    refuse({o.region.empty() ? "--site" : "--region"}, "two places", "a trip, which has regions and sites");
  Places places;
  if (o.teach) {
    if (!o.common.fof2.empty())
      refuse({"--fof2"}, "--teach", "one of them: a reading belongs to one day, a worksheet compares months");
    const auto question = lesson_question(o, places);
    auto sheet = worksheet(question);
    sheet.from_zone = sun::legal_zone(question.from);
    sheet.to_zone = sun::legal_zone(question.to);
    sheet.from_name = trim(o.what[0]);
    sheet.to_name = trim(o.what[1]);
    sheet.activity_note = activity_note(o.common);
    if (!o.pictures.empty()) write_pictures(o.pictures, {{"hop-table.svg", page::hop_table_svg(sheet.hops)}});
    places.ask(world);
    return write(places.lines() + words::teach_text(sheet, style_of(world, o.common)), o.common, world);
  }
  const auto q = two_places(o, places);
  places.ask(world);
  words::ExplainSheet sheet;
  sheet.from_name = trim(o.what[0]);
  sheet.to_name = trim(o.what[1]);
  sheet.from_zone = sun::legal_zone(q.from);
  sheet.to_zone = sun::legal_zone(q.to);
  sheet.climate = q.climate;
  sheet.want_days_in_ten = q.want_days_in_ten;
  sheet.distance_km = geodesy::distance_km(q.from, q.to);
  sheet.activity_note = activity_note(o.common);
  sheet.stations = q.bands.front();
  sheet.utc_hour = hour_of(o);
  sheet.bands = circuit::explain(q);
  if (format == Format::json) {
    places.tell(world);
    return write(forms::explain_json({sheet}), o.common, world);
  }
  write(places.lines() + words::explain_text(sheet, style_of(world, o.common)), o.common, world);
}

}  // namespace

Command add_explain(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub =
      app.add_subcommand("explain", "each band's verdict in plain words: what causes it, the heaviest first");
  sub->add_option("WHAT", o.what, "a trip file, or two places")
      ->required()
      ->expected(1, 2)
      ->type_name("TRIP | FROM TO");
  offer_bands(sub->add_option("--bands", o.bands, "bands, as 40m,20m; without it all")->type_name("LIST"));
  sub->add_option("--hour", o.hour, "this UTC hour; without it each band's best")->type_name("HOUR");
  sub->add_option("--region", o.region, "trip: this region, or all; without it the one that weighs most")
      ->type_name("ID");
  sub->add_option("--site", o.site, "trip: from this site; without it the first")->type_name("ID");
  sub->add_flag("--teach", o.teach,
                "two places: a worksheet with blanks and its key, one thing changed at a time; with several "
                "--bands, the band too");
  sub->add_option("--contrast", o.contrast,
                  "two places: the same path twice with one thing changed, hour by hour: month=2027-08, "
                  "r12=140, power=100, antenna=6 (dBi) or hour=6,18")
      ->type_name("THING=VALUE");
  sub->add_option("--pictures", o.pictures,
                  "with --teach or --contrast: the hop table or the two cases as an SVG file in this folder")
      ->type_name("FOLDER");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_measured(*sub, o.common);
  offer_modes(sub->add_option("--mode", o.mode, "two places: mode of emission")
                  ->type_name("MODE")
                  ->default_str("cw"));
  sub->add_option("--power-w", o.power, "two places: your power")->type_name("W")->default_str("10");
  sub->add_option("--to-power-w", o.to_power, "two places: their power")->type_name("W")->default_str("100");
  sub->add_option("--gain-from-dbi", o.gain_from,
                  "two places: your antenna's gain at all angles; without it a usual home antenna")
      ->type_name("DBI");
  sub->add_option("--gain-to-dbi", o.gain_to, "two places: their antenna's gain, likewise")->type_name("DBI");
  takes(sub->add_option("--es", o.es, "sporadic E: on or off")->type_name("WORD")->default_str("on"),
        {"on", "off"});
  offer_noise(sub->add_option("--noise-from", o.noise_from,
                              "two places: man-made noise at yours: city, residential, rural, quiet")
                  ->type_name("CLASS")
                  ->default_str("quiet"));
  offer_noise(sub->add_option("--noise-to", o.noise_to, "two places: man-made noise at theirs")
                  ->type_name("CLASS")
                  ->default_str("residential"));
  add_format(*sub, o.common, {"text", "json"});
  sub->footer(
      "Example: skerry explain -19.70,63.43 JN45 --month 2027-02 --bands 40m,20m,10m\n"
      "Example: skerry explain -19.70,63.43 JN45 --month 2027-02 --contrast month=2027-08 --pictures lesson");
  return {sub, [options](World& world) { run_explain(*options, world); }};
}

}  // namespace skerry::cli
