// `skerry report`: the page, and its pictures as files.

#include <fmt/format.h>

#include <filesystem>
#include <memory>

#include "options.hpp"
#include "skerry/advice/picture.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/report.hpp"
#include "skerry/os/files.hpp"
#include "skerry/page/pictures.hpp"
#include "zone_warning.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip, pictures;
};

/// The folder, made if it is not there; Stop where that cannot be.
void write_pictures(const std::string& folder, const std::vector<page::NamedPicture>& pictures) {
  const auto made = os::make_folder(folder, {"--pictures"});
  if (!made) give_up(made.error());
  for (const auto& picture : pictures)
    write_whole((std::filesystem::path(folder) / picture.name).string(), picture.svg);
}

void run_report(const Options& o, World& world) {
  auto trip = read_trip_file(o.trip);
  trip.climate.measured = measured_of(o.common, trip.climate.day);
  trip.sporadic_e = es_of(o.common.es);
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
  write(engine::report(trip, advice, picture), o.common, world);
}

}  // namespace

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
  sub->add_option("-o,--output", o.common.output, "write to this file instead of the screen")
      ->type_name("FILE");
  sub->add_option("--pictures", o.pictures,
                  "also write each picture into this folder as an SVG file; without -o only these, and their "
                  "names to the screen")
      ->type_name("FOLDER");
  sub->footer(
      "Example: skerry report examples/rodrigues.toml -o trip.html\n"
      "         skerry report examples/rodrigues.toml --pictures trip-pictures");
  return {sub, [options](World& world) { run_report(*options, world); }};
}

}  // namespace skerry::cli
