#include "options.hpp"
#include "skerry/advice/picture.hpp"
#include "skerry/report/html.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip;
};

void run_report(const Options& o, World& world) {
  const auto trip = read_trip_file(o.trip);
  const auto advice = advice::advise(trip);
  const auto picture = advice::make_picture(trip, advice);
  write(report::report_html(trip, advice, picture), o.common, world);
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
  sub->add_option("-o,--output", o.common.output, "write to this file instead of the screen")
      ->type_name("FILE");
  sub->footer("Example: skerry report examples/rodrigues.toml -o trip.html");
  return {sub, [options](World& world) { run_report(*options, world); }};
}

}  // namespace skerry::cli
