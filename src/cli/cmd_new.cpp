#include "options.hpp"
#include "places.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/os/files.hpp"

namespace skerry::cli {

namespace {

struct Options {
  std::string file, name, at = "-19.70,63.43", first_day;
  bool force = false;
};

void run_new(const Options& o, World& world) {
  Places places;
  const auto at = places.read(o.at, "--at");
  places.tell(world);
  places.ask(world);
  // A trip to a place with a name is called after it.
  const auto named = places.named("--at");
  const auto name = !o.name.empty() ? o.name : named ? std::string(named->name) : std::string("My island");
  Common when;
  when.date = o.first_day;
  const auto text = files::starter(name, at, day_of(when));
  if (o.file.empty()) {
    world.out << text;
    return;
  }
  if (!o.force && os::exists(o.file)) {
    give_up(Error{Where{o.file}, "a file of that name", "a new name", "use --force to replace it"});
  }
  write_whole(o.file, text);
  world.out << "wrote " << o.file << "; edit it, then run: skerry pack " << o.file << "\n";
}

}  // namespace

Command add_new(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand("new", "a commented trip file to start from");
  sub->add_option("FILE", o.file, "write it there; without it: to the screen")->type_name("FILE");
  sub->add_option("--name", o.name, "what the trip is called; without it as the place")->type_name("TEXT");
  sub->add_option("--at", o.at, "the site: lat,lon, a locator or a name")->type_name("PLACE");
  sub->add_option("--first-day", o.first_day, "first day, as 2027-02-14; without it: today")
      ->type_name("DATE");
  sub->add_flag("--force", o.force, "replace an existing file");
  sub->footer("Example: skerry new my-trip.toml --at 'Fair Isle' --first-day 2027-01-04");
  return {sub, [options](World& world) { run_new(*options, world); }};
}

}  // namespace skerry::cli
