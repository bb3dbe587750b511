// `skerry horizon`: what stands around a place, out of elevation files.
#include <fmt/format.h>

#include "elevation.hpp"
#include "places.hpp"
#include "skerry/circuit/departures.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/forms/horizon.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/page/horizon.hpp"
#include "skerry/words/horizon.hpp"
#include "stations.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string at, terrain, trip, regions, eye = "5", want = "5";
};

enum class Kind { text, json, csv, svg };
const std::vector<std::string> kinds{"text", "json", "csv", "svg"};

struct Wanted {
  std::string name;
  std::vector<geodesy::WeightedPoint> people;
};

/// Whom one wants to work, and the question of a path to them but for its ends.
std::vector<Wanted> wanted_of(const Options& o, circuit::PathQuestion& q) {
  std::vector<Wanted> out;
  if (!o.trip.empty() && !o.regions.empty())
    refuse({"--regions"}, "--regions beside --trip", "only one of them");
  if (!o.trip.empty()) {
    const auto trip = read_trip_file(o.trip);
    for (const auto& target : trip.targets) out.push_back({target.region.name, target.people});
    q.climate = trip.climate;
    q.want_days_in_ten = trip.want_days_in_ten;
    q.mode = trip.modes.front();
    q.settings.sporadic_e = trip.sporadic_e;
    for (const auto& band : trip.bands) {
      if (band.mhz < 30) q.frequencies.push_back({band.id, band.mhz});
    }
    q.from.environment = trip.sites.front().environment;
    for (const auto& rig : trip.rigs) q.from.power_w = std::max(q.from.power_w, rig.power_w);
    q.from.power_w = std::min(q.from.power_w, trip.licence_power_w);
    return out;
  }
  if (o.regions.empty()) return out;
  for (const auto& id : split_list(o.regions, "--regions")) {
    const auto region = must(geodesy::preset_region(id, {"--regions"}));
    // Judgement: as a trip's own regions, unless told otherwise.
    out.push_back({region.name, geodesy::sample_people(region, 3)});
  }
  q.climate = climate_of(o.common);
  q.want_days_in_ten = number_of(o.want, files::field("question", "want_days"));
  q.mode = must(noise::find_mode("cw", {}));
  for (const auto& band : all_bands(q.from.at)) {
    const auto found = must(noise::find_band(band, geodesy::itu_region(q.from.at).region, {}));
    q.frequencies.push_back({found.id, found.mhz});
  }
  q.from.environment = noise::Environment::quiet;
  return out;
}

/// One region: where it lies, and at which angles its openings leave from a place with no skyline.
words::HorizonAnswer::Mark mark_of(const Wanted& wanted, circuit::PathQuestion q,
                                   const geodesy::Horizon& horizon) {
  words::HorizonAnswer::Mark out;
  out.region = wanted.name;
  std::vector<circuit::PathAnswer> answers;
  for (const auto& person : wanted.people) {
    q.to.at = person.where;
    answers.push_back(circuit::answer(q));
    if (answers.size() > 1) continue;
    out.bearing_deg = answers.front().ways.front().path.bearing_deg;
    out.distance_km = answers.front().ways.front().path.distance_km;
  }
  out.want_days_in_ten = q.want_days_in_ten;
  out.leaves = circuit::departures(answers, q.want_days_in_ten);
  out.skyline = horizon.towards(out.bearing_deg);
  return out;
}

void run_horizon(const Options& o, World& world) {
  const Kind kind = static_cast<Kind>(form_of(o.common, kinds));
  Places places;
  words::HorizonAnswer a;
  a.at = places.read(o.at, "AT");
  a.named = places.named("AT");
  a.view.eye_m = number_of(o.eye, "--eye-m", 0, 100, "a height in metres");
  const Where where{"--terrain"};
  const auto elevation = must(read_elevation(o.terrain, terrain::box_about(a.at, a.view.reach_km), where));
  a.around = must(look_around(elevation, a.at, o.terrain, where, a.view));
  a.files = elevation.files;
  a.absent = elevation.absent;
  a.cell_m = elevation.ground.cell_m();
  a.missing_share = elevation.ground.missing_share();
  a.void_share = elevation.ground.void_share();
  a.rows = files::toml_rows(terrain::in_few_numbers(a.around));
  circuit::PathQuestion question;
  question.from.at = a.at;
  question.from.gain_dbi = 0;
  const auto all = a.around.horizon();
  for (const auto& wanted : wanted_of(o, question)) {
    for (const auto& person : wanted.people) check_apart(a.at, person.where, "AT");
    a.marks.push_back(mark_of(wanted, question, all));
  }
  places.ask(world);
  switch (kind) {
    case Kind::json:
      return write(forms::horizon_json(a), o.common, world);
    case Kind::csv:
      places.tell(world);
      return write(forms::horizon_csv(a), o.common, world);
    case Kind::svg:
      places.tell(world);
      return write(page::horizon_svg(a), o.common, world);
    case Kind::text:
      return write(places.lines() + words::horizon_text(a, style_of(world, o.common)), o.common, world);
  }
}

}  // namespace

Command add_horizon(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand(
      "horizon", "what stands around a place, out of elevation files: skyline, slopes, shores");
  sub->add_option("AT", o.at, "place: lat,lon, a locator or a name")->required()->type_name("PLACE");
  sub->add_option("--terrain", o.terrain, "a folder of elevation files, or one: HGT or GeoTIFF")
      ->required()
      ->type_name("DIR");
  sub->add_option("--trip", o.trip, "mark the angles at which this trip's regions leave")->type_name("TRIP");
  sub->add_option("--regions", o.regions, "or those of built-in regions, as japan,western-europe")
      ->type_name("LIST");
  sub->add_option("--want-days", o.want, files::field("question", "want_days").help)
      ->type_name("N")
      ->default_str("5");
  sub->add_option("--eye-m", o.eye, "height above the ground from which one looks")
      ->type_name("M")
      ->default_str("5");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_named_format(*sub, o.common, kinds);
  sub->footer(
      "Nothing is fetched: docs/terrain.md says where elevation files come from.\n"
      "Example: skerry horizon -19.70,63.43 --terrain dem --regions japan,western-europe -o horizon.svg");
  return {sub, [options](World& world) { run_horizon(*options, world); }};
}

}  // namespace skerry::cli
