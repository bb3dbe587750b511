// Options that several commands share, read from text so that every mistake gets our own one-line answer.
// Layer: cli (internal).
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/cli/run.hpp"
#include "skerry/core/result.hpp"
#include "skerry/core/warnings.hpp"
#include "skerry/engine/batch.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/engine/report.hpp"
#include "skerry/ionosphere/climate.hpp"
#include "skerry/kit/trip.hpp"
#include "skerry/words/style.hpp"

namespace skerry::files {
struct Field;
}

namespace skerry::cli {

/// A mistake of the user, on its way to run(), which prints its lines and returns 2 (or 1 for `failure`).
struct Stop {
  std::vector<Error> errors;
  std::vector<std::string> choices;  ///< lines below them
  bool failure = false;
};

/// Stops with one bad-input line.
[[noreturn]] void refuse(Where where, std::string found, std::string accepted, std::string mend = {});

/// Stops with one "could not be done" line.
[[noreturn]] void give_up(Error error);

/// A key in Error::where as the option that sets it: "eps_r" as "--eps-r".
[[nodiscard]] Error by_option(Error error);

/// The value, or Stop.
template <class T>
T must(Result<T> result) {
  if (!result) {
    Stop stop;
    stop.errors.push_back(std::move(result.error()));
    throw stop;
  }
  return std::move(*result);
}
template <class T>
T must(Checked<T> result) {
  if (!result) {
    Stop stop;
    stop.errors = std::move(result.error());
    throw stop;
  }
  return std::move(*result);
}

/// The same of a question to the engine, whose mistakes name its keys: the option of that name is named instead.
template <class T>
T must_by_options(Result<T> result) {
  if (!result) result.error() = by_option(std::move(result.error()));
  return must(std::move(result));
}
template <class T>
T must_by_options(Checked<T> result) {
  if (!result) {
    for (auto& error : result.error()) error = by_option(std::move(error));
  }
  return must(std::move(result));
}

using engine::Format;

struct Common {
  std::string format = "text", output;
  std::string date, month, r12, ssn_v2, f107, forecast_file, maps = "ccir", field_epoch;
  std::vector<std::string> fof2;
  std::string es = "on";
  unsigned threads = 0;
};

/// A command's own commands; of the program: all.
std::vector<const CLI::App*> commands_of(const CLI::App& app);
std::vector<CLI::App*> commands_of(CLI::App& app);

/// The option takes one of these words, and refuses another as soon as it is read. Completions offer them.
CLI::Option* takes(CLI::Option* option, const std::vector<std::string>& words);
/// It takes these and more, or several of them with commas: they are only offered.
CLI::Option* offers(CLI::Option* option, const std::vector<std::string>& words, bool several = false);
/// What such an option offers; empty: whatever it likes.
struct Offered {
  std::vector<std::string> words;
  bool only = false, several = false;
};
[[nodiscard]] Offered offered(CLI::Option& option);
/// "short, long or both".
[[nodiscard]] std::string either(const std::vector<std::string>& words);

/// --format: without `words` text, json or csv.
void add_format(CLI::App& app, Common& common,
                const std::vector<std::string>& words = {"text", "json", "csv"});
/// The same where the output's name may say it: by default it does, else the first.
void add_named_format(CLI::App& app, Common& common, const std::vector<std::string>& words);
void add_when(CLI::App& app, Common& common);
void add_activity(CLI::App& app, Common& common);

/// --es of what a trip file is asked for.
void add_es(CLI::App& app, Common& common);
/// --fof2, where the answer says that it is in use.
void add_measured(CLI::App& app, Common& common);
/// The readings of --fof2 for a day: without a time only when the day is today.
[[nodiscard]] std::vector<ionosphere::MeasuredFof2> measured_of(const Common& common, Day day);

[[nodiscard]] Format format_of(const Common& common);
/// Which of these --format names, or the ending of the output file's name, or the first (add_named_format).
[[nodiscard]] std::size_t form_of(const Common& common, const std::vector<std::string>& names);
/// By UTC; Stop where the system's clock stands outside the years that can be computed.
[[nodiscard]] Day today();
[[nodiscard]] Day day_by(UtcTime clock);
/// --date, or the middle of --month, or today.
[[nodiscard]] Day day_of(const Common& common);
[[nodiscard]] ionosphere::Climate climate_of(const Common& common);
/// Where the solar activity is a prediction of over 12 months, or none reaches the month: how far it may be
/// off. Empty otherwise.
[[nodiscard]] std::string activity_note(const Common& common);
/// Refuses two places nearer than 1 km.
void check_apart(GeoPoint from, GeoPoint to, const char* argument);

/// A number of an option within limits, both included.
[[nodiscard]] double number_of(const std::string& text, const std::string& option, double low, double high,
                               const char* what, const char* mend = "");
/// The same as the table of fields has it; without a name the option is called as the key: --power-w.
[[nodiscard]] double number_of(const std::string& text, const files::Field& field, std::string option = {});
/// "a,b,c" without blanks around the parts; empty parts are mistakes.
[[nodiscard]] std::vector<std::string> split_list(const std::string& text, const char* option);

/// -o FILE; "-" is standard output, as nothing is.
void add_output(CLI::App& app, Common& common);
/// For the terminal; for a file (--output) as for a pipe: no colour, ASCII, 100 columns.
[[nodiscard]] words::Style style_of(const World& world, const Common& common);

/// Writes to --output (whole file or none) or to standard output.
void write(const std::string& text, const Common& common, World& world);

/// Writes a whole file or none, written_out() as all that leaves the program; Stop where that cannot be.
void write_whole(const std::string& name, const std::string& content);

/// Set once at start-up by run(): a trip may name any file.
void allow_outside(bool allowed);
/// What lines of `batch` may read: trip files in a folder or below, and what those name; of no folder nothing.
[[nodiscard]] engine::TripFiles trips_in(const std::string& folder);
/// A trip file with the files it names, or Stop with all its mistakes. `written`: what was read, all of it.
[[nodiscard]] kit::Trip read_trip_file(const std::string& name, engine::TripText* written = nullptr);

// The commands. Each adds itself to the app; `run_*` is called after parsing.
struct Command {
  CLI::App* app = nullptr;
  std::function<void(World&)> run;
};
Command add_path(CLI::App& app);
Command add_sun(CLI::App& app);
Command add_ionosphere(CLI::App& app);
Command add_horizon(CLI::App& app);
Command add_antenna(CLI::App& app);
Command add_new(CLI::App& app);
Command add_pack(CLI::App& app);
Command add_kit(CLI::App& app);
Command add_report(CLI::App& app);
Command add_page(CLI::App& app);
Command add_map(CLI::App& app);
Command add_batch(CLI::App& app);
Command add_explain(CLI::App& app);
Command add_calendar(CLI::App& app);
Command add_geojson(CLI::App& app);
Command add_card(CLI::App& app);
Command add_schema(CLI::App& app);
Command add_manual(CLI::App& app);
Command add_completion(CLI::App& app);
Command add_log(CLI::App& app);
Command add_doctor(CLI::App& app);
Command add_forecast(CLI::App& app);
Command add_score(CLI::App& app);

/// The commands below `kit` about one's own library: add, list, export.
struct LibraryCommands {
  CLI::App *add = nullptr, *list = nullptr, *give = nullptr;
  std::function<void(World&)> run_add, run_list, run_give;
};
LibraryCommands add_library(CLI::App& kit);
/// $XDG_CONFIG_HOME/skerry/NAME, or ~/.config/skerry/NAME; Stop where neither is known.
[[nodiscard]] std::string config_file(const std::string& name);
/// Prints the first of these, one a line, to standard error; how many there are more.
void warn(const Warnings& warnings, World& world);

}  // namespace skerry::cli
