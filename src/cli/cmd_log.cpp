// `skerry log`: after the trip, what was planned against what was worked, and what that teaches.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <chrono>

#include "options.hpp"
#include "skerry/after/log.hpp"
#include "skerry/core/text.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/files.hpp"
#include "skerry/words/log.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip, log, on_air, learn;
  std::optional<std::string> carried, used;
  bool calls = false;
};

std::vector<std::string> ids_of(const std::string& text, const char* option, const kit::Trip& trip) {
  const auto inventory = advice::take_inventory(trip);
  std::vector<std::string> known;
  for (const auto& thing : inventory.things) known.push_back(thing.id);
  auto ids = split_list(text, option);
  for (const auto& id : ids) {
    if (std::find(known.begin(), known.end(), id) == known.end())
      refuse({option}, "'" + one_line(id) + "'",
             fmt::format("ids of the trip's things: {}", fmt::join(known, ", ")), did_you_mean(id, known));
  }
  return ids;
}

void run_log(const Options& o, World& world) {
  const Format format = format_of(o.common);
  const auto trip = read_trip_file(o.trip);
  const auto text = must(os::read_file(o.log, 64U << 20U, {}));
  auto log = after::contacts_of(must(after::parse_adif(text, o.log)), o.log);
  after::LogOptions options;
  if (o.carried) options.carried = ids_of(*o.carried, "--carried", trip);
  if (o.used) options.used = ids_of(*o.used, "--used", trip);
  if (!o.on_air.empty())
    options.on_air =
        must(after::read_on_air(must(os::read_file(o.on_air, 1U << 20U, {"--on-air"})), o.on_air));
  if (!o.learn.empty() && os::exists(o.learn))
    give_up(Error{Where{o.learn}, "a file of that name", "a new name",
                  "what was learned earlier is never replaced"});
  log.warnings.put_first(after::doubts_of(trip, log, o.log));
  warn(log.warnings, world);
  const auto report = after::compare_log(trip, log, options);
  const Day made = o.learn.empty() ? Day{} : today();
  if (!o.learn.empty() && report.findings.contacts == 0 && report.findings.reports == 0)
    give_up(Error{Where{o.log}, fmt::format("no contact to learn from, of {} in the log", report.total),
                  "contacts within the days of the trip, placed and on its bands",
                  "the first of a stretch on the air opens it and does not count"});
  // Before the answer: what fails says nothing else.
  if (!o.learn.empty()) write_whole(o.learn, words::learned_toml(trip, report, o.log, made));
  const words::LogShown shown{log, o.log, o.calls};
  switch (format) {
    case Format::json:
      write(forms::log_json(trip, report, shown), o.common, world);
      break;
    case Format::csv:
      write(forms::log_csv(trip, report, shown), o.common, world);
      break;
    case Format::text:
      write(words::log_text(trip, report, shown, style_of(world, o.common)), o.common, world);
      break;
  }
  if (o.learn.empty()) return;
  world.err << "skerry: wrote " << o.learn << "; a trip uses it only with learned = \"" << o.learn
            << "\" under [trip]\n";
}

}  // namespace

Command add_log(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand("log", "after the trip: planned against worked, and what your log teaches");
  sub->add_option("TRIP", o.trip, "the trip file as it was planned")->required()->type_name("TRIP");
  sub->add_option("LOG", o.log, "the log, ADIF (.adi or .adx)")->required()->type_name("LOG");
  sub->add_option("--carried", o.carried, "ids of what was in the bag; without it: what pack recommends")
      ->type_name("IDS");
  sub->add_option("--used", o.used, "ids of what was used, where the log does not name it")->type_name("IDS");
  sub->add_option("--on-air", o.on_air, "CSV of start_utc,end_utc,band; without it: as contacts show it")
      ->type_name("FILE");
  sub->add_option("--learn", o.learn, "write what the log teaches to this file, for trips that name it")
      ->type_name("FILE");
  sub->add_flag("--show-calls", o.calls, "put call signs into the answer");
  add_format(*sub, o.common);
  sub->footer(
      "Nothing leaves the machine; call signs are not copied to any answer unless asked.\n"
      "Contacts are placed by GRIDSQUARE, or LAT and LON in it or alone, else by DXCC or COUNTRY, which is coarse\n"
      "and said so.\n"
      "Example: skerry log examples/rodrigues.toml examples/log/rodrigues.adi --learn learned.toml");
  return {sub, [options](World& world) { run_log(*options, world); }};
}

}  // namespace skerry::cli
