// What this program carries, how old it is, and what it finds around it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>

#include "defaults.hpp"
#include "forecast.hpp"
#include "options.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"
#include "skerry/kit/rules.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/surroundings.hpp"

namespace skerry::cli {

namespace {

void line(std::string& out, std::string_view what, std::string_view is) {
  out += fmt::format("  {:<22} {}\n", what, is);
}

std::string folder_line() {
  const auto file = os::settings_file("kit.toml");
  if (!file) return "unknown: neither XDG_CONFIG_HOME nor HOME is set";
  return *file + (os::exists(*file) ? "" : " (none yet: 'skerry kit add')");
}

/// Of the Sun's numbers: whose, and R12 this month by them.
void sun_lines(std::string& out, Day now) {
  const Month month{now.year() / now.month()};
  ionosphere::Activity sun = ionosphere::forecast(month);
  std::string whose = "the built-in one; 'skerry forecast import' takes a newer one";
  try {
    if (const auto text = own_forecast(); !text.empty()) {
      sun = must(ionosphere::forecast_with(text, month));
      whose = fmt::format("yours, {}", reach_of(must(ionosphere::read_table(text, {})).table, now));
      if (sun.source.kind != ionosphere::ActivitySource::Kind::file)
        whose += "; this month by the built-in one";
      whose = fmt::format("{} ({})", whose, *own_forecast_file());
    }
  } catch (const Stop& stop) {
    whose = "yours, and it cannot be read: " + stop.errors.front().to_line();
  }
  line(out, "forecast of the Sun", whose);
  line(out, "the Sun",
       sun.source.kind == ionosphere::ActivitySource::Kind::mean_of_cycles
           ? "no forecast reaches this month: the mean of five cycles stands in"
           : fmt::format(
                 "R12 {:.0f} ({:.0f} to {:.0f}) this month{}", sun.r12.value(), sun.low_r12.value(),
                 sun.high_r12.value(),
                 sun.months_ahead > 0
                     ? fmt::format(", forecast {} months after the last one observed", sun.months_ahead)
                     : std::string{}));
}

/// Which defaults are in force, from where.
void describe_defaults(std::string& out, const World& world) {
  const auto file = os::settings_file(Defaults::file_name);
  const auto& all = world.defaults->all();
  const auto in_file = std::count_if(all.begin(), all.end(), [](const auto& d) { return d.where.line > 0; });
  const bool left_out = os::variable("SKERRY_NO_CONFIG").has_value();
  line(out, "your defaults",
       !file                ? "no file: neither XDG_CONFIG_HOME nor HOME is set"
       : !os::exists(*file) ? *file + " (none yet)"
       : left_out           ? *file + " (left out: SKERRY_NO_CONFIG)"
                            : fmt::format("{} ({} in force)", *file, in_file));
  for (const auto& d : all) {
    const auto values = fmt::format("{}", fmt::join(d.values, ","));
    line(out, d.where.line > 0 ? (d.command.empty() ? "" : "  [" + d.command + "]") : "  " + d.where.file,
         d.where.line > 0 ? d.option + " = " + one_line(values) : "--" + d.option + " " + one_line(values));
  }
  for (const auto& name : world.defaults->strangers()) line(out, "  " + name, "no option is called so");
  for (const auto& mistake : world.defaults->mistakes()) line(out, "  wrong", mistake.to_line());
}

void run_doctor(const Common& common, World& world) {
  const Day now = today();
  std::string out = fmt::format("skerry {}\n\nCarried inside:\n", SKERRY_VERSION);
  for (const auto& row : table_rows("editions.toml", "edition")) {
    std::string said = row.text("edition");
    const auto day = parse_day(said, {});
    if (day) said += ", " + ago(*day, now);
    line(out, row.text("what"), said);
    if (row.has("renew")) line(out, "", row.text("renew"));
  }
  line(out, "engine for pages",
       engine::module().packed.empty() ? "not in this program (./dev page makes one that has it)" : "yes");

  out += "\nHolds good:\n";
  sun_lines(out, now);
  const Day rules = kit::rules_valid_until();
  line(out, "air rules",
       fmt::format("until {}{}", to_iso(rules),
                   std::chrono::sys_days{now} > std::chrono::sys_days{rules}
                       ? ": OVER; ask the airline for the rules of this year"
                       : "; the airline has the last word"));

  out += "\nAround it:\n";
  line(out, "clock", to_iso(now) + " (UTC)");
  line(out, "threads", fmt::format("{}", thread_count()));
  line(
      out, "standard output",
      fmt::format("{}, {} columns, {}, {}", world.out_is_terminal ? "a terminal" : "no terminal",
                  world.columns, world.utf8 ? "UTF-8" : "ASCII", world.no_colour ? "no colours" : "colours"));
  line(out, "your library", folder_line());
  if (world.own_settings) describe_defaults(out, world);
  out +=
      "\nNothing here touches the network. Newer data comes with a newer program; of the Sun also by 'skerry forecast\n"
      "import FILE' or --forecast FILE (the agencies' files; sunspot numbers of version 2: 0.7 of them is R12).\n";
  write(out, common, world);
}

}  // namespace

Command add_doctor(CLI::App& app) {
  auto common = std::make_shared<Common>();
  auto* sub =
      app.add_subcommand("doctor", "what the program carries and how old it is, and what it finds around it");
  add_output(*sub, *common);
  sub->footer("Example: skerry doctor");
  return {sub, [common](World& world) { run_doctor(*common, world); }};
}

}  // namespace skerry::cli
