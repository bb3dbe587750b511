#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <optional>

#include "options.hpp"
#include "skerry/cli/trip_files.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/progress.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/place.hpp"
#include "zone_warning.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip, what_if, limit, time_limit, tolerance, show, table;
};

/// Ends a search that has a kit to show: at the time limit, or at the first Ctrl-C after it began.
class Patience {
 public:
  explicit Patience(const std::string& seconds) {
    using std::chrono::duration;
    if (!seconds.empty())
      end_ = start_ + std::chrono::duration_cast<Clock::duration>(
                          duration<double>(number_of(seconds, "--time-limit", 0, 1e6, "seconds")));
  }
  [[nodiscard]] choose::Stop stop() {
    auto out = advice::AdviceOptions{}.stop;
    // Asked once there is a kit: until then Ctrl-C has nothing to spare.
    out.now = [this] {
      interrupt_.arm();
      const bool end = interrupted() || (end_ && Clock::now() >= *end_);
      if (end) cut_short_ = true;
      return end;
    };
    return out;
  }
  [[nodiscard]] bool interrupted() const { return interrupt_.asked(); }
  [[nodiscard]] bool cut_short() const { return cut_short_; }

 private:
  using Clock = std::chrono::steady_clock;
  Clock::time_point start_ = Clock::now();
  std::optional<Clock::time_point> end_;
  std::atomic<bool> cut_short_{false};
  os::GentleInterrupt interrupt_;
};

void say_if_cut_short(const Patience& patience, World& world) {
  if (!patience.cut_short()) return;
  if (world.progress != nullptr) world.progress->end();
  world.err << "skerry: stopped " << (patience.interrupted() ? "by Ctrl-C" : "at the time limit")
            << ": the best kit found so far; what is not called proved may be beaten\n";
}

/// "drop=mast,add=pole,add=tuner".
void read_what_if(const std::string& text, engine::PackAsk& ask) {
  for (const auto& part : split_list(text, "--what-if")) {
    const auto equals = part.find('=');
    const auto verb = part.substr(0, equals);
    if (equals == std::string::npos || (verb != "drop" && verb != "add"))
      refuse({"--what-if"}, "'" + one_line(part) + "'", "drop=ID or add=ID, with commas between");
    (verb == "add" ? ask.add : ask.drop).push_back(part.substr(equals + 1));
  }
}

std::vector<std::string> known_sections() {
  std::vector<std::string> known{"all"};
  known.insert(known.end(), words::section_names.begin(), words::section_names.end());
  return known;
}

/// "strips,power" or "all".
std::vector<words::Section> sections_of(const std::string& text) {
  std::vector<words::Section> out;
  if (text.empty()) return out;
  const auto known = known_sections();
  for (const auto& part : split_list(text, "--show")) {
    if (std::find(known.begin(), known.end(), part) == known.end())
      refuse({"--show"}, "'" + one_line(part) + "'", fmt::format("some of: {}", fmt::join(known, ", ")),
             did_you_mean(part, known));
    for (std::size_t i = 0; i < words::section_names.size(); ++i) {
      if (part == "all" || part == words::section_names[i]) out.push_back(static_cast<words::Section>(i));
    }
  }
  return out;
}

void run_pack(const Options& o, World& world) {
  engine::PackAsk ask;
  ask.format = format_of(o.common);
  ask.style = style_of(world, o.common);
  if (o.table == "things") ask.table = engine::PackTable::things;
  if (!o.table.empty() && ask.format != Format::csv)
    refuse({"--table"}, "'" + o.table + "' with " + o.common.format, "csv: --format csv");
  auto trip = read_trip_file(o.trip);
  trip.climate.measured = measured_of(o.common, trip.climate.day);
  trip.sporadic_e = o.common.es == "on";
  if (!o.tolerance.empty())
    trip.tolerance = number_of(o.tolerance, files::field("trip", "tolerance_percent"), "--tolerance") / 100;
  if (!o.limit.empty()) trip.mass_limit_g = 1000 * number_of(o.limit, files::field("trip", "mass_limit_kg"));
  if (!o.what_if.empty()) read_what_if(o.what_if, ask);
  ask.show = sections_of(o.show);
  warn_of_zones(trip, world);
  Patience patience(o.time_limit);
  const auto said = must_by_options(engine::pack(trip, ask, patience.stop()));
  say_if_cut_short(patience, world);
  write(said, o.common, world);
}

}  // namespace

namespace {

bool outside_allowed = false;

}  // namespace

void allow_outside(bool allowed) {
  outside_allowed = allowed;
}

engine::TripFiles trips_in(const std::string& folder) {
  return trips_in(folder, outside_allowed);
}

kit::Trip read_trip_file(const std::string& name, engine::TripText* written) {
  const auto text = must(os::read_file(name, 1U << 20U, {}));
  const auto around = beside(name, outside_allowed);
  const files::FileReader reader = [&](const std::string& wanted, const Where& where) -> Result<std::string> {
    auto read = around.read(wanted, where);
    if (read && written != nullptr) written->files[wanted] = *read;
    return read;
  };
  auto trip = must(files::read_trip(text, os::shown_name(name), reader, around.terrain));
  // Who reads it elsewhere has no such files.
  if (written != nullptr) written->text = files::with_terrain(text, trip);
  return trip;
}

void warn_of_zones(const kit::Trip& trip, World& world) {
  for (const auto& doubt : engine::doubts(trip)) world.err << "skerry: warning: " << doubt << "\n";
}

Command add_pack(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand("pack", "what to carry, what to leave, and why");
  sub->add_option("TRIP", o.trip, "the trip file; 'skerry new' writes one to start from")
      ->required()
      ->type_name("TRIP");
  sub->add_option("--what-if", o.what_if, "the best kit when some things stay and some come: drop=ID,add=ID")
      ->type_name("LIST");
  sub->add_option("--mass-limit-kg", o.limit, "another limit than the trip file's")->type_name("KG");
  sub->add_option(
         "--tolerance", o.tolerance,
         "kits that differ by less are the same, and the lightest is recommended; 0: the most, at any mass")
      ->type_name("PERCENT");
  offers(sub->add_option(
                "--show", o.show,
                fmt::format("more than the first screen: {}, or all", fmt::join(words::section_names, ", ")))
             ->type_name("LIST"),
         known_sections(), true);
  takes(sub->add_option("--table", o.table, "with csv: hours, or things for the packing list")
            ->type_name("WORD")
            ->default_str("hours"),
        {"hours", "things"});
  sub->add_option(
         "--time-limit", o.time_limit,
         "seconds after which the best kit found so far is shown, with what could still exist; so does "
         "Ctrl-C once the search has begun")
      ->type_name("SECONDS");
  add_measured(*sub, o.common);
  add_es(*sub, o.common);
  add_format(*sub, o.common);
  sub->footer("Example: skerry pack examples/rodrigues.toml --mass-limit-kg 3.5");
  return {sub, [options](World& world) { run_pack(*options, world); }};
}

}  // namespace skerry::cli
