#include "options.hpp"
#include "skerry/advice/kit_sheet.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/words/kit.hpp"
#include "zone_warning.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip;
};

void run_kit(const Options& o, World& world) {
  if (o.trip.empty())
    refuse({"TRIP"}, "nothing", "a trip file, or one of: add, list, export", "see 'skerry kit --help'");
  const Format format = format_of(o.common);
  const auto trip = read_trip_file(o.trip);
  warn_of_zones(trip, world);
  const auto sheet = advice::kit_sheet(trip);
  switch (format) {
    case Format::json:
      return write(forms::kit_json(trip, sheet), o.common, world);
    case Format::csv:
      return write(forms::kit_csv(trip, sheet), o.common, world);
    case Format::text:
      return write(words::kit_text(trip, sheet, style_of(world, o.common)), o.common, world);
  }
}

}  // namespace

Command add_kit(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub =
      app.add_subcommand("kit", "what you own: masses, sizes, rules by air, bags, setups; no propagation");
  sub->add_option("TRIP", o.trip, "the trip file")->type_name("TRIP");
  add_format(*sub, o.common);
  const auto library = add_library(*sub);
  sub->footer(
      "With TRIP: the sheet of that trip. With add, list or export: your own library of things, which trips "
      "name\n"
      "with library = \"FILE\" under [trip].\n"
      "Example: skerry kit examples/rodrigues.toml --format csv");
  return {sub, [options, library](World& world) {
            if (library.add->parsed()) return library.run_add(world);
            if (library.list->parsed()) return library.run_list(world);
            if (library.give->parsed()) return library.run_give(world);
            run_kit(*options, world);
          }};
}

}  // namespace skerry::cli
