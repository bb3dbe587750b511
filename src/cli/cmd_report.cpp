// `skerry report`: the page, and its pictures as files.

#include <fmt/format.h>

#include <memory>

#include "contrast.hpp"
#include "options.hpp"
#include "skerry/advice/picture.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/hosted.hpp"
#include "skerry/engine/report.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/os/files.hpp"
#include "skerry/page/hosted.hpp"
#include "skerry/page/pictures.hpp"
#include "zone_warning.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip, pictures, folder;
};

constexpr const char* needs_engine =
    "a program that carries the engine for pages; ./dev page makes it from the source";

void run_report(const Options& o, World& world) {
  engine::TripText written;
  auto trip = read_trip_file(o.trip, &written);
  trip.climate.measured = measured_of(o.common, trip.climate.day);
  trip.sporadic_e = o.common.es == "on";
  warn_of_zones(trip, world);
  const auto advice = advice::advise(trip);
  const auto picture = advice::make_picture(trip, advice);
  if (!o.pictures.empty()) {
    const auto pictures = page::pictures(trip, advice, picture);
    write_pictures(o.pictures, pictures);
    if (o.common.output.empty()) {
      std::string names;
      for (const auto& one : pictures) names += one.name + "\n";
      world.out << names;
      return;
    }
  }
  // What the file does not say cannot be asked again by the page.
  if (!trip.climate.measured.empty() || !trip.sporadic_e) written = {};
  write(engine::report(trip, advice, picture, written), o.common, world);
}

/// The page with the starter's trip, to be carried along and filled in there.
void run_page(const Options& o, World& world) {
  if (engine::module().packed.empty())
    give_up(Error{{"page"}, "a program without the engine for pages", needs_engine, {}});
  const auto text =
      files::starter("My island", must(geodesy::parse_place("-19.70,63.43", {})), day_of(o.common));
  const auto trip = must(files::read_trip(text, "starter", [](const std::string& name, const Where& where) {
    return Result<std::string>(fail(where, name, "a trip that names no file"));
  }));
  const auto advice = advice::advise(trip);
  const auto picture = advice::make_picture(trip, advice);
  if (o.folder.empty()) return write(engine::report(trip, advice, picture, {text, {}}), o.common, world);
  const auto made = os::make_folder(o.folder, {"--folder"});
  if (!made) give_up(made.error());
  // The last one is what makes visitors take the others: each is whole when it comes.
  for (const auto& file :
       page::hosted_files(written_out(engine::hosted_report(trip, advice, picture, {text, {}})))) {
    const auto written = os::write_file((os::path_of(o.folder) / file.name).string(), file.content);
    if (!written) give_up(written.error());
  }
}

}  // namespace

Command add_page(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand(
      "page", "one file for a phone or a browser that packs any trip, with no network and no program");
  sub->add_option("--first-day", o.common.date, "of the trip to start from; without it: today")
      ->type_name("DATE");
  add_output(*sub, o.common);
  sub->add_option(
         "--folder", o.folder,
         "for those who host it: a folder with the page, its manifest, icons and service worker, from which "
         "it can be installed and works without network after one visit")
      ->type_name("FOLDER")
      ->excludes("--output");
  sub->footer(
      "Open it, then a trip file on it. Nothing leaves the device.\n"
      "It needs a program that carries the engine for pages: ./dev page makes one from the source.\n"
      "Example: skerry page -o skerry.html\n"
      "         skerry page --folder public/skerry");
  return {sub, [options](World& world) { run_page(*options, world); }};
}

Command add_report(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto* sub =
      app.add_subcommand("report", "the advice as one page with pictures, for screen, phone and paper");
  auto& o = *options;
  sub->add_option("TRIP", o.trip, "the trip file; 'skerry new' writes one to start from")
      ->required()
      ->type_name("TRIP");
  add_measured(*sub, o.common);
  add_es(*sub, o.common);
  add_output(*sub, o.common);
  sub->add_option("--pictures", o.pictures,
                  "also write each picture into this folder as an SVG file; without -o only these, and their "
                  "names to the screen")
      ->type_name("FOLDER");
  sub->footer(
      "Limit, things, power, date and Sun can be changed on the page where the program carries its own engine for "
      "it\n('skerry page' tells); with --fof2 or without sporadic E the page stays as it is.\n"
      "Example: skerry report examples/rodrigues.toml -o trip.html\n"
      "         skerry report examples/rodrigues.toml --pictures trip-pictures");
  return {sub, [options](World& world) { run_report(*options, world); }};
}

}  // namespace skerry::cli
