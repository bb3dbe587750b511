// `skerry forecast import`: newer numbers of the Sun than the built-in ones, out of the agencies' files.
#include <fmt/format.h>

#include <chrono>
#include <filesystem>
#include <string_view>

#include "forecast.hpp"
#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/surroundings.hpp"

namespace skerry::cli {

using ionosphere::ForecastTable;
using ionosphere::TableForm;

namespace {

constexpr std::string_view config = "config:";

struct ImportOptions {
  std::vector<std::string> files;
  std::string index = "ssn", numbers, to;
};

/// What a file is, and what becomes of its numbers.
std::string described(TableForm form, bool by_flux) {
  const char* const converted = by_flux ? "10.7 cm flux F; R12 from F = 63.7 + 0.728 R12 + 0.00089 R12^2"
                                        : "sunspot numbers, version 2; 0.7 of them is R12";
  switch (form) {
    case TableForm::predicted_json:
      return fmt::format("predicted, JSON: smoothed {}", converted);
    case TableForm::observed_json:
      return fmt::format("observed, JSON: smoothed {}", converted);
    case TableForm::predicted_text:
      return fmt::format("predicted, five columns: smoothed {}", converted);
    case TableForm::smoothed_text:
      return fmt::format("observed, columns: smoothed {}", converted);
    case TableForm::means_text:
      return fmt::format("observed, columns: monthly means, smoothed here over 13 months; {}", converted);
    case TableForm::own:
      break;
  }
  return "R12 as it stands, nothing converted";
}

std::string span_of(const ForecastTable& table) {
  return fmt::format("{} to {}, {} months", to_iso(table.months.begin()->first),
                     to_iso(table.months.rbegin()->first), table.months.size());
}

ionosphere::TableAsk table_ask_of(const ImportOptions& o) {
  ionosphere::TableAsk out;
  if (o.index != "ssn" && o.index != "f107")
    refuse({"--index"}, "'" + one_line(o.index) + "'", "ssn or f107");
  out.by_flux = o.index == "f107";
  if (!o.numbers.empty() && o.numbers != "means" && o.numbers != "smoothed")
    refuse({"--numbers"}, "'" + one_line(o.numbers) + "'", "means or smoothed");
  if (!o.numbers.empty()) out.smoothed = o.numbers == "smoothed";
  return out;
}

void run_import(const ImportOptions& o, World& world) {
  const auto how = table_ask_of(o);
  const Day now = today();
  const Month month{now.year() / now.month()};
  ForecastTable table;
  std::string told,
      about = fmt::format("The Sun's R12 for skerry, by 'skerry forecast import' on {}.", to_iso(now));
  for (const auto& name : o.files) {
    const auto shown = os::shown_name(name);
    const auto text = must(os::read_file(name, ionosphere::most_forecast_bytes, {}));
    const auto read = must(ionosphere::read_table(text, {shown}, how));
    table.take_in(read.table);
    const auto line =
        fmt::format("{}: {} ({})", one_line(shown), described(read.form, how.by_flux), span_of(read.table));
    told += line + "\n";
    about += "\n" + line;
  }
  const bool keep = o.to.empty();
  const auto file = keep ? own_forecast_file() : std::optional(o.to);
  if (!file) refuse({"-o"}, "neither XDG_CONFIG_HOME nor HOME is set", "a file, as -o forecast.csv");
  const auto csv = ionosphere::to_csv(table, about);
  if (o.to == "-") {
    world.err << told;
    world.out << csv;
    return;
  }
  if (keep) (void)os::make_folder(std::filesystem::path(*file).parent_path().string(), {});
  // One's own may be among the files put together.
  const auto written =
      os::write_file(*file, written_out(csv), keep ? os::Onto::what_was_read : os::Onto::another);
  if (!written) give_up(written.error());
  told += fmt::format("\n{}: {}\n", one_line(*file, 200), reach_of(table, now));
  const auto built_in = ionosphere::forecast(month);
  const auto here = ionosphere::activity_of(table, month, *file);
  told +=
      here ? fmt::format("R12 this month: {:.0f} ({:.0f} to {:.0f}); the built-in forecast says {:.0f}.\n",
                         here->r12.value(), here->low_r12.value(), here->high_r12.value(),
                         built_in.r12.value())
           : fmt::format("It has no number for this month: there the built-in forecast holds, R12 {:.0f}.\n",
                         built_in.r12.value());
  told +=
      keep
          ? "Commands about a day, and trips, now take R12 from there wherever it is not told; months that it lacks are\n"
            "the built-in forecast's. batch and score keep to the built-in numbers. Delete the file to go back.\n"
          : fmt::format("Use it with --forecast {} or, in a trip, forecast_file.\n", one_line(*file, 200));
  world.out << told;
}

}  // namespace

std::optional<std::string> own_forecast_file() {
  return os::settings_file(std::string(ionosphere::own_forecast).substr(config.size()));
}

std::string own_forecast() {
  const auto file = own_forecast_file();
  if (!file || !os::exists(*file)) return {};
  return must(os::read_ordinary(*file, ionosphere::own_forecast, {}));
}

ionosphere::Activity usual_activity(Month month) {
  return must(ionosphere::forecast_with(own_forecast(), month));
}

std::string ago(Day day, Day now) {
  const auto months =
      std::chrono::floor<std::chrono::months>(std::chrono::sys_days{now} - std::chrono::sys_days{day});
  const auto count = months.count();
  if (count < 1) return "this month";
  return count == 1 ? "a month ago" : fmt::format("{} months ago", count);
}

std::string reach_of(const ForecastTable& table, Day now) {
  std::string out;
  const auto observed = table.last_observed();
  if (observed) out = fmt::format("observed to {} ({})", to_iso(*observed), ago(middle_of(*observed), now));
  const auto first = observed ? table.months.upper_bound(*observed) : table.months.begin();
  if (first == table.months.end()) return out;
  // A prediction alone begins about when it was made.
  const auto begins = middle_of(first->first);
  const bool aged = !observed && first->first <= now.year() / now.month();
  out += fmt::format("{}predicted {}{} to {}", out.empty() ? "" : ", ", to_iso(first->first),
                     aged ? " (" + ago(begins, now) + ")" : "", to_iso(table.months.rbegin()->first));
  return out;
}

Command add_forecast(CLI::App& app) {
  auto* sub = app.add_subcommand("forecast", "newer numbers of the Sun than the built-in ones");
  sub->require_subcommand(1);
  auto options = std::make_shared<ImportOptions>();
  auto& o = *options;
  auto* take = sub->add_subcommand("import", "takes the agencies' files of observed and predicted numbers");
  take->add_option("FILE", o.files,
                   "JSON of predicted or observed indices, text of monthly or smoothed sunspot numbers, or "
                   "what this wrote; several are put together, observed before predicted")
      ->required()
      ->type_name("FILE");
  take->add_option("--index", o.index, "ssn: sunspot numbers, or f107: the 10.7 cm flux (JSON)")
      ->type_name("WORD")
      ->default_str("ssn");
  take->add_option("--numbers", o.numbers,
                   "of text: means or smoothed; without it: by how they jump from month to month")
      ->type_name("WORD");
  take->add_option(
          "-o,--output", o.to,
          "write to this file, for --forecast and forecast_file, instead of into skerry's folder of settings "
          "as forecast.csv, where it holds for all that follows")
      ->type_name("FILE");
  take->footer(
      "Nothing is fetched: download the files yourself. 'skerry doctor' says which forecast is in use.\n"
      "Example: skerry forecast import observed-solar-cycle-indices.json predicted-solar-cycle.json");
  sub->footer("Example: skerry forecast import predicted-solar-cycle.json");
  return {sub, [options](World& world) { run_import(*options, world); }};
}

}  // namespace skerry::cli
