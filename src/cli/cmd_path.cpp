#include <fmt/format.h>

#include <optional>

#include "options.hpp"
#include "skerry/circuit/traced.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/page/rays.hpp"
#include "skerry/words/path.hpp"
#include "skerry/words/rays.hpp"
#include "stations.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  StationOptions stations;
  std::string from, to, way = "short", explain, rays, take_off = "mirror", want = "5", kp;
  bool spread = false, disturbed = false, flare = false, protons = false;
};

/// "HOUR" or "HOUR,BAND" or "HOUR,MHZ": indices of the hour and the frequency.
std::pair<std::size_t, std::size_t> cell_of(const std::string& text, const char* option,
                                            const circuit::PathQuestion& q) {
  const auto parts = split_list(text, option);
  const auto hour = static_cast<std::size_t>(number_of(parts[0], option, 0, 23, "a whole UTC hour"));
  if (parts.size() == 1 && q.frequencies.size() == 1) return {hour, 0};
  if (parts.size() != 2) {
    refuse({option}, "'" + one_line(text) + "'",
           "an hour and a band or frequency of this question, as 18,20m",
           parts.size() == 1 ? fmt::format("{} are asked for: which of them?", q.frequencies.size()) : "");
  }
  for (std::size_t i = 0; i < q.frequencies.size(); ++i) {
    if (q.frequencies[i].band == parts[1] || to_number(parts[1]) == q.frequencies[i].mhz) return {hour, i};
  }
  refuse({option}, "'" + parts[1] + "'", "a band or frequency of this question, as 18,20m");
}

/// One hour and frequency as a fan of rays: a picture where the output's name ends so.
void run_rays(const Options& o, const Places& places, const circuit::PathQuestion& q, Format format,
              World& world) {
  if (!o.explain.empty()) refuse({"--rays"}, "with --explain", "one of the two");
  if (q.ways.size() > 1) refuse({"--way"}, "both", "one way at a time with --rays");
  if (format == Format::csv)
    refuse({"--format"}, "'csv'", "text or json with --rays; -o FILE.svg for the picture");
  const auto [hour, frequency] = cell_of(o.rays, "--rays", q);
  auto answer = circuit::fan_answer(q, hour, frequency);
  if (const auto named = places.named("FROM")) answer.from_name = named->name;
  if (const auto named = places.named("TO")) answer.to_name = named->name;
  if (o.common.output.ends_with(".svg")) {
    if (format == Format::json)
      refuse({"--format"}, "'json'", "no format for a picture, or another name after -o");
    places.tell(world);
    return write(page::rays_svg(answer), o.common, world);
  }
  write(format == Format::json ? forms::rays_json(answer) : places.lines() + words::fan_text(answer),
        o.common, world);
}

void run_path(const Options& o, World& world) {
  const Format format = format_of(o.common);
  Places places;
  circuit::PathQuestion q = question_between(places, o.from, o.to, o.common, o.stations);
  if (o.way == "both") {
    q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  } else if (o.way == "long") {
    q.ways = {geodesy::Way::long_way};
  }
  q.want_days_in_ten = number_of(o.want, files::field("question", "want_days"));
  q.spread = o.spread;
  if (o.disturbed) q.disturbance.kp = 5;
  if (!o.kp.empty()) q.disturbance.kp = number_of(o.kp, "--kp", 0, 9, "a Kp index");
  q.disturbance.flare = o.flare;
  q.disturbance.protons = o.protons;
  if (o.take_off == "traced") q.take_off = circuit::TakeOff::traced;
  if (!o.rays.empty()) {
    places.ask(world);
    return run_rays(o, places, q, format, world);
  }
  if (!o.explain.empty() && format == Format::csv)
    refuse({"--format"}, "'csv'", "text or json with --explain", "the table goes without it");
  std::optional<forms::PathCell> explained;
  if (!o.explain.empty()) {
    const auto [hour, frequency] = cell_of(o.explain, "--explain", q);
    explained = {hour, frequency};
  }
  auto answer = answer_between(places, q);
  places.ask(world);
  answer.asker_note = activity_note(o.common);
  if (explained) circuit::trace_modes(answer, explained->hour, explained->frequency);
  switch (format) {
    case Format::json:
      return write(forms::path_json(answer, explained), o.common, world);
    case Format::csv:
      places.tell(world);
      return write(forms::path_csv(answer), o.common, world);
    case Format::text:
      break;
  }
  write(places.lines() + (explained ? words::ledger_text(answer, explained->hour, explained->frequency)
                                    : words::path_text(answer, style_of(world, o.common))),
        o.common, world);
}

}  // namespace

Command add_path(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto* sub = app.add_subcommand("path", "which bands open between two places, hour by hour, and how well");
  auto& o = *options;
  sub->add_option("FROM", o.from, "your place: lat,lon, a locator or a name")->required()->type_name("PLACE");
  sub->add_option("TO", o.to, "the far place")->required()->type_name("PLACE");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_measured(*sub, o.common);
  add_stations(*sub, o.stations, "all below 30 MHz");
  takes(sub->add_option("--way", o.way, "short, long or both ways round the Earth")
            ->type_name("WAY")
            ->default_str("short"),
        {"short", "long", "both"});
  sub->add_option("--explain", o.explain,
                  "the ledger of one hour and band, as 18,20m: every term, to add up by hand")
      ->type_name("HOUR,BAND");
  sub->add_option(
         "--rays", o.rays,
         "the fan of rays of one hour and band, as 18,20m: what comes down where, and what arrives at which angles; "
         "with -o FILE.svg its picture")
      ->type_name("HOUR,BAND");
  takes(
      sub->add_option(
             "--takeoff", o.take_off,
             "angles at which the antennas' gains are taken: the mirror's, or those of rays traced through the layers "
             "(a second or two for each band; docs/rays.md)")
          ->type_name("WORD")
          ->default_str("mirror"),
      {"mirror", "traced"});
  sub->add_option("--want-days", o.want, files::field("question", "want_days").help)
      ->type_name("N")
      ->default_str("5");
  sub->add_flag("--spread", o.spread,
                "least and most days over the published forms of the method, and with R12 -30 and +30 too");
  sub->add_option("--kp", o.kp, "geomagnetic index now or forecast: marks paths it makes unreliable")
      ->type_name("KP");
  sub->add_flag("--disturbed", o.disturbed, "the same without a number (Kp 5)");
  sub->add_flag("--flare", o.flare, "a solar flare is in progress");
  sub->add_flag("--protons", o.protons, "a solar proton event is in progress");
  add_format(*sub, o.common);
  sub->footer(
      "A cell marked g is carried along the ground (up to 400 km): it needs a vertical antenna low down at "
      "both "
      "ends; a horizontal wire is many dB down.\n"
      "Example: skerry path -19.70,63.43 JN45 --month 2027-02 --bands 40m,20m,15m --way both\n"
      "Example: skerry path -19.70,63.43 JN45 --month 2027-02 --rays 18,20m -o rays.svg");
  return {sub, [options](World& world) { run_path(*options, world); }};
}

}  // namespace skerry::cli
