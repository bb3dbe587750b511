#include <filesystem>

#include "options.hpp"
#include "skerry/kit/trip_file.hpp"
#include "skerry/report/pack.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip;
};

void run_pack(const Options& o, World& world) {
  const Format format = format_of(o.common);
  const auto trip = read_trip_file(o.trip);
  const auto advice = advice::advise(trip);
  switch (format) {
    case Format::json: return write(report::pack_json(trip, advice), o.common, world);
    case Format::csv: return write(report::pack_csv(trip, advice), o.common, world);
    case Format::text: return write(report::pack_text(trip, advice, style_of(world)), o.common, world);
  }
}

}  // namespace

kit::Trip read_trip_file(const std::string& name) {
  const auto text = must(read_file(name, 1U << 20U, {}));
  // Files that the trip names stand beside it or below; a way out of that folder must be an absolute path.
  const auto folder = std::filesystem::path(name).parent_path();
  const kit::FileReader reader = [&folder](const std::string& wanted, const Where& where) -> Result<std::string> {
    const std::filesystem::path path(wanted);
    for (const auto& part : path) {
      if (part == "..") return fail(where, "'" + wanted + "'", "a file in the trip's folder or below it", "'..' is not followed");
    }
    return read_file((folder / path).string(), 8U << 20U, where);
  };
  return must(kit::read_trip(text, name, reader));
}

Command add_pack(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand("pack", "what to carry, what to leave, and why");
  sub->add_option("TRIP", o.trip, "the trip file; 'skerry new' writes one to start from")->required()->type_name("TRIP");
  add_format(*sub, o.common);
  sub->footer("Example: skerry pack examples/rodrigues.toml");
  return {sub, [options](World& world) { run_pack(*options, world); }};
}

}  // namespace skerry::cli
