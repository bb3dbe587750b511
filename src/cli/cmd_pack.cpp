#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <optional>

#include "options.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/progress.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/pack.hpp"
#include "zone_warning.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string trip, what_if, limit, time_limit, tolerance, show;
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
  [[nodiscard]] advice::AdviceOptions options() {
    advice::AdviceOptions out;
    // Asked once there is a kit: until then Ctrl-C has nothing to spare.
    out.stop.now = [this] {
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

/// "drop=mast,add=pole,add=tuner" as indices into the inventory.
advice::WhatIf answer(const std::string& text, const kit::Trip& trip, const advice::Advice& advice,
                      const choose::Stop& stop) {
  std::vector<std::string> known;
  for (const auto& thing : advice.inventory.things) known.push_back(thing.id);
  std::vector<int> drop, add;
  for (const auto& part : split_list(text, "--what-if")) {
    const auto equals = part.find('=');
    const auto verb = part.substr(0, equals);
    if (equals == std::string::npos || (verb != "drop" && verb != "add"))
      refuse({"--what-if"}, "'" + one_line(part) + "'", "drop=ID or add=ID, with commas between");
    const auto id = part.substr(equals + 1);
    const auto where = advice.inventory.by_id.find(id);
    if (where == advice.inventory.by_id.end())
      refuse({"--what-if"}, "'" + one_line(id) + "'", "the id of something that is carried",
             did_you_mean(id, known));
    const auto& thing = nth(advice.inventory.things, where->second);
    if (verb == "add" && thing.excluded)
      refuse({"--what-if"}, "add=" + id, "something that can come", words::why_excluded(trip, thing));
    const auto& other = verb == "add" ? drop : add;
    if (std::find(other.begin(), other.end(), where->second) != other.end())
      refuse({"--what-if"}, "'" + id + "' dropped and added", "one of them");
    auto& list = verb == "add" ? add : drop;
    if (std::find(list.begin(), list.end(), where->second) == list.end()) list.push_back(where->second);
  }
  return advice::what_if(advice, drop, add, stop);
}

/// "strips,power" or "all".
std::vector<words::Section> sections_of(const std::string& text) {
  std::vector<words::Section> out;
  if (text.empty()) return out;
  std::vector<std::string> known{"all"};
  known.insert(known.end(), words::section_names.begin(), words::section_names.end());
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
  const Format format = format_of(o.common);
  auto trip = read_trip_file(o.trip);
  trip.climate.measured = measured_of(o.common, trip.climate.day);
  trip.sporadic_e = es_of(o.common.es);
  if (!o.tolerance.empty())
    trip.tolerance = number_of(o.tolerance, files::field("trip", "tolerance_percent"), "--tolerance") / 100;
  if (!o.limit.empty()) trip.mass_limit_g = 1000 * number_of(o.limit, files::field("trip", "mass_limit_kg"));
  if (!o.what_if.empty() && format == Format::csv) refuse({"--what-if"}, "--format csv", "text or json");
  warn_of_zones(trip, world);
  Patience patience(o.time_limit);
  auto options = patience.options();
  const auto sections = sections_of(o.show);
  options.remedies = format == Format::json ||
                     std::find(sections.begin(), sections.end(), words::Section::remedies) != sections.end();
  const auto advice = advice::advise(trip, options);
  if (!o.what_if.empty()) {
    const auto what_if = answer(o.what_if, trip, advice, options.stop);
    say_if_cut_short(patience, world);
    const auto columns = static_cast<std::size_t>(std::min(style_of(world, o.common).columns, 120));
    return write(format == Format::json ? forms::pack_json(trip, advice, &what_if)
                                        : words::what_if_text(advice, what_if, columns),
                 o.common, world);
  }
  say_if_cut_short(patience, world);
  switch (format) {
    case Format::json:
      return write(forms::pack_json(trip, advice), o.common, world);
    case Format::csv:
      return write(forms::pack_csv(trip, advice), o.common, world);
    case Format::text:
      return write(o.show.empty() ? words::pack_screen(trip, advice, style_of(world, o.common))
                                  : words::pack_text(trip, advice, sections, style_of(world, o.common)),
                   o.common, world);
  }
}

}  // namespace

namespace {

/// What a trip file's "config:NAME" begins with: a file in one's own folder of settings.
constexpr std::string_view own_settings = "config:";

Result<std::string> read_setting(const std::string& wanted, const Where& where) {
  const auto file = wanted.substr(own_settings.size());
  if (file.empty() || file.find('/') != std::string::npos || file == "..")
    return fail(where, "'" + wanted + "'", "config: and the name of a file in skerry's folder of settings");
  return os::read_ordinary(config_file(file), wanted, where);
}

bool outside_allowed = false;

}  // namespace

void allow_outside(bool allowed) {
  outside_allowed = allowed;
}

kit::Trip read_trip_file(const std::string& name) {
  const auto text = must(os::read_file(name, 1U << 20U, {}));
  const files::FileReader reader = [&name](const std::string& wanted,
                                           const Where& where) -> Result<std::string> {
    // The one place outside: one's own folder of settings, said so by the trip itself.
    if (wanted.starts_with(own_settings)) return read_setting(wanted, where);
    return os::read_beside(name, wanted, where, outside_allowed);
  };
  return must(files::read_trip(text, name, reader));
}

void warn_of_zones(const kit::Trip& trip, World& world) {
  for (const auto& site : trip.sites) {
    const auto doubt = words::zone_note(trip, site);
    if (!doubt.empty()) world.err << "skerry: warning: " << one_line(site.name) << ": " << doubt << "\n";
  }
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
  sub->add_option(
         "--show", o.show,
         fmt::format("more than the first screen: {}, or all", fmt::join(words::section_names, ", ")))
      ->type_name("LIST");
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
