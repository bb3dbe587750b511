#include "cmd_where.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "elevation.hpp"
#include "places.hpp"
#include "skerry/advice/elsewhere.hpp"
#include "skerry/core/text.hpp"
#include "skerry/forms/drawing.hpp"
#include "skerry/forms/where.hpp"
#include "skerry/os/progress.hpp"
#include "skerry/page/where.hpp"
#include "skerry/terrain/spots.hpp"
#include "skerry/words/where.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip, terrain, site, start, walk = "90", within = "8", net = "12";
  std::vector<std::string> at;
};

enum class Kind { text, json, svg, gpx, kml };
const std::vector<std::string> kinds{"text", "json", "svg", "gpx", "kml"};

Id<kit::Site> site_of(const kit::Trip& trip, const std::string& id) {
  if (id.empty()) return Id<kit::Site>(0);
  std::vector<std::string> known;
  for (const auto& site : trip.sites) known.push_back(site.id);
  const auto found = std::find(known.begin(), known.end(), id);
  if (found == known.end())
    refuse({"--site"}, "'" + one_line(id) + "'",
           fmt::format("a site of the trip: {}", fmt::join(known, ", ")), did_you_mean(id, known));
  return Id<kit::Site>(static_cast<int>(found - known.begin()));
}

void run_where(const Options& o, World& world) {
  const auto kind = static_cast<Kind>(form_of(o.common, kinds));
  auto trip = read_trip_file(o.trip);
  trip.sporadic_e = o.common.es == "on";
  const auto site = site_of(trip, o.site);
  const auto planned = trip.at(site).at;
  Places places;
  const auto start = o.start.empty() ? planned : places.read(o.start, "--start");
  terrain::Wanted wanted;
  wanted.walk_minutes = number_of(o.walk, "--walk-minutes", 5, 600, "minutes on foot, one way");
  wanted.net = static_cast<int>(number_of(o.net, "--net", 0, 60, "how many places of an even net"));
  const double within_km = number_of(o.within, "--within-km", 0.5, 30, "kilometres about the start");
  for (const auto& at : o.at) wanted.listed.push_back({one_line(at), places.read(at, "--at")});
  const Where where{"--terrain"};
  const auto elevation =
      must(read_elevation(o.terrain, terrain::box_about(start, within_km + terrain::View{}.reach_km), where));
  const auto island = must_by_options(terrain::island_about(elevation.ground, start, within_km));
  if (!island.whole)
    world.err << fmt::format(
        "skerry: warning: the land goes on beyond {:g} km: only what lies within is looked at\n", within_km);
  std::vector<advice::Place> looked_at;
  for (auto& spot : terrain::spots_on(island, terrain::walks(island), planned, wanted)) {
    if (!elevation.ground.knows(spot.at))
      refuse({spot.kind == geodesy::Spot::Kind::listed ? "--at" : "--terrain"}, geodesy::to_text(spot.at),
             "a place that the elevation files have");
    const auto around = terrain::around(elevation.ground, spot.at);
    looked_at.push_back({std::move(spot), terrain::in_few_numbers(around)});
  }
  const auto answer = advice::elsewhere(trip, site, looked_at, [&](double done) {
    if (world.progress != nullptr) world.progress->share(done);
  });
  if (kind != Kind::text) places.tell(world);
  switch (kind) {
    case Kind::text:
      return write(places.lines() + words::where_text(trip, answer, style_of(world, o.common)), o.common,
                   world);
    case Kind::json:
      return write(forms::where_json(trip, answer), o.common, world);
    case Kind::svg:
      return write(page::where_svg(trip, island, answer), o.common, world);
    case Kind::gpx:
      return write(forms::gpx(forms::drawing_of(trip, answer)), o.common, world);
    case Kind::kml:
      return write(forms::kml(forms::drawing_of(trip, answer)), o.common, world);
  }
}

}  // namespace

Command add_where(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand(
      "where", "which spot on the island: summits, shores and what lies between, by elevation files");
  sub->add_option("TRIP", o.trip, "the trip file")->required()->type_name("TRIP");
  sub->add_option("--terrain", o.terrain, "a folder or a file of elevation")->required()->type_name("DIR");
  sub->add_option("--site", o.site, "which of the trip's sites is moved, by its id; the first")
      ->type_name("ID");
  sub->add_option("--start", o.start, "where the walks begin; the site")->type_name("PLACE");
  sub->add_option("--at", o.at, "a place to look at too; may be given several times")->type_name("PLACE");
  sub->add_option("--walk-minutes", o.walk, "the longest way on foot")
      ->type_name("MINUTES")
      ->default_str("90");
  sub->add_option("--within-km", o.within, "how far about the start is looked at")
      ->type_name("KM")
      ->default_str("8");
  sub->add_option("--net", o.net, "at most so many places of an even net between summits and shores")
      ->type_name("COUNT")
      ->default_str("12");
  add_es(*sub, o.common);
  add_named_format(*sub, o.common, kinds);
  sub->footer(
      "Heights are read from HGT and GeoTIFF files; none is downloaded.\n"
      "Example: skerry where trip.toml --terrain dem -o island.svg");
  return {sub, [options](World& world) { run_where(*options, world); }};
}

}  // namespace skerry::cli
