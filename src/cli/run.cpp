#include "skerry/cli/run.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <new>

#include "cmd_where.hpp"
#include "defaults.hpp"
#include "options.hpp"
#include "sink.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/progress.hpp"
#include "skerry/os/surroundings.hpp"

namespace skerry::cli {

namespace {

constexpr int done = 0, failed = 1, bad_input = 2;

constexpr const char* version = SKERRY_VERSION;

/// The program's version and what its answers rest on.
std::string editions() {
  std::string out = fmt::format("skerry {}\n", version);
  for (const auto& row : table_rows("editions.toml", "edition"))
    out += fmt::format("{}: {}\n", row.text("what"), row.text("edition"));
  out.pop_back();
  return out;
}

/// 'skerry help pack' is 'skerry pack --help'; a word that is no command is left to be told so.
std::vector<std::string> without_help_word(const CLI::App& app, const std::vector<std::string>& args) {
  if (args.empty() || args.front() != "help") return args;
  std::vector<std::string> out(args.begin() + 1, args.end());
  const auto commands = commands_of(app);
  const bool known =
      out.empty() || std::any_of(commands.begin(), commands.end(),
                                 [&](const CLI::App* command) { return command->get_name() == out.front(); });
  if (known) out.emplace_back("--help");
  return out;
}

/// "-19.70,63.43" and "-2" look like options to an argument parser; a leading blank keeps them values, and
/// every reader trims it.
std::vector<std::string> guard_negative_numbers(const std::vector<std::string>& args) {
  std::vector<std::string> out = args;
  for (auto& arg : out) {
    if (arg.size() > 1 && arg[0] == '-' && ((arg[1] >= '0' && arg[1] <= '9') || arg[1] == '.'))
      arg.insert(0, " ");
  }
  return out;
}

void collect_option_names(const CLI::App& app, std::vector<std::string>& names) {
  for (const auto* option : app.get_options()) {
    for (const auto& name : option->get_lnames()) names.push_back("--" + name);
  }
}

/// The argument parser's complaint as one line of ours, with the nearest name where a name was wrong.
std::string complaint(const CLI::App& app, const CLI::ParseError& problem,
                      const std::vector<std::string>& args) {
  const CLI::App* used = &app;
  std::string used_name;
  for (const auto* at = &app; !at->get_subcommands().empty();) {
    at = at->get_subcommands().front();
    used = at;
    used_name += (used_name.empty() ? "" : " ") + at->get_name();
  }
  std::string hint;
  std::vector<std::string> commands;
  for (const auto* sub : commands_of(app)) commands.push_back(sub->get_name());
  if (used == &app) {
    for (const auto& arg : args) {
      if (arg.empty() || arg[0] == '-') continue;
      hint = fmt::format("found command '{}'; expected one of: {}", one_line(arg), fmt::join(commands, ", "));
      const auto near = did_you_mean(arg, commands);
      if (!near.empty()) hint += "; " + near;
      return hint;
    }
    return fmt::format("found no command; expected one of: {}; try 'skerry --help'",
                       fmt::join(commands, ", "));
  }
  std::vector<std::string> known;
  collect_option_names(*used, known);
  for (const auto& arg : args) {
    if (arg.rfind("--", 0) != 0 || arg.size() < 3) continue;
    const auto name = arg.substr(0, arg.find('='));
    if (std::find(known.begin(), known.end(), name) != known.end() || name == "--help") continue;
    const auto near = did_you_mean(name, known);
    return fmt::format("{}: found option '{}'; expected one of those in 'skerry {} --help'{}", used_name,
                       one_line(name), used_name, near.empty() ? "" : "; " + near);
  }
  return fmt::format("{}: {}; see 'skerry {} --help'", used_name, one_line(problem.what(), 200), used_name);
}

int told(const Stop& stop, const Defaults& defaults, World& world) {
  for (const auto& error : stop.errors) world.err << "skerry: " << defaults.told(error).to_line() << "\n";
  for (const auto& choice : stop.choices) world.err << choice << "\n";
  return stop.failure ? failed : bad_input;
}

}  // namespace

int run(const std::vector<std::string>& typed, World& given) {
  Sink out(given.out, given.out_is_terminal && !given.no_colour), err(given.err, false);
  World world{.in = given.in, .out = out, .err = err};
  world.out_is_terminal = given.out_is_terminal;
  world.err_is_terminal = given.err_is_terminal;
  world.no_colour = given.no_colour;
  world.ascii = given.ascii;
  world.utf8 = given.utf8;
  world.columns = given.columns;
  world.flush = given.flush;
  world.patience = given.patience;
  world.lock_patience = given.lock_patience;
  world.own_settings = given.own_settings;
  CLI::App app{"Skerry: which bands open, how strong you are with each antenna, and so what to pack.",
               "skerry"};
  app.set_version_flag("--version", editions, "the version, and the editions of the data inside");
  app.require_subcommand(1);
  app.fallthrough(false);
  std::string threads;
  app.add_option("--threads", threads, "threads to work with; the answer never depends on it")
      ->type_name("N");
  bool ascii = false;
  app.add_flag("--ascii", ascii, "plain ASCII only, also where the terminal knows more");
  std::string colour = "auto";
  takes(app.add_option("--color,--colour", colour,
                       "colours: auto (on a terminal, unless NO_COLOR is set), always or never")
            ->type_name("WHEN"),
        {"auto", "always", "never"});
  bool no_config = false, no_pager = false;
  app.add_flag("--no-config", no_config, "leave out your file of defaults, skerry/config.toml");
  app.add_flag("--no-pager", no_pager, "long answers straight to the terminal");
  bool outside = false;
  const char* const outside_help = "a trip file may name files outside its own folder";
  app.add_flag("--allow-outside", outside, outside_help);
  app.footer(
      "Places are 'lat,lon' in decimal degrees (north and east positive), '19.70S 63.43E', a locator, or a name\n"
      "('Fair Isle', 'Springfield, IL').\n"
      "'skerry help COMMAND' is 'skerry COMMAND --help'; a file called - is standard input, or output behind -o.\n"
      "Defaults of options: skerry/config.toml in your folder of settings, SKERRY_NAME=VALUE in the environment;\n"
      "'skerry doctor' tells which are in force. SKERRY_PAGER, PAGER: through which long answers go on a terminal.\n"
      "Exit codes: 0 done, 1 could not be done, 2 bad input; 130 after Ctrl-C.\n"
      "Example: skerry pack examples/rodrigues.toml");
  std::vector<Command> commands{
      add_pack(app),       add_kit(app),      add_report(app),   add_path(app),      add_sun(app),
      add_ionosphere(app), add_antenna(app),  add_map(app),      add_batch(app),     add_new(app),
      add_explain(app),    add_calendar(app), add_card(app),     add_geojson(app),   add_schema(app),
      add_log(app),        add_score(app),    add_page(app),     add_doctor(app),    add_manual(app),
      add_horizon(app),    add_where(app),    add_forecast(app), add_completion(app)};
  for (const auto& command : commands) command.app->add_flag("--ascii", ascii, "plain ASCII only");
  for (const auto& command : commands) {
    for (const char* reads_trips :
         {"pack", "kit", "report", "explain", "calendar", "card", "geojson", "log", "horizon"}) {
      if (command.app->get_name() == reads_trips)
        command.app->add_flag("--allow-outside", outside, outside_help);
    }
  }
  const auto args = without_help_word(app, typed);
  const auto guarded = guard_negative_numbers(args);
  Defaults defaults;
  if (given.own_settings) {
    no_config = std::find(args.begin(), args.end(), "--no-config") != args.end() ||
                os::variable("SKERRY_NO_CONFIG").has_value();
    defaults = Defaults::find(app, !no_config);
    defaults.excuse(app);
  }
  given.paged = std::find(args.begin(), args.end(), "--no-pager") == args.end();
  try {
    // CLI11 takes its arguments from the back.
    app.parse(std::vector<std::string>(guarded.rbegin(), guarded.rend()));
  } catch (const CLI::Success& wanted) {  // --help, --version
    app.exit(wanted, world.out, world.err);
    os::check_memory();
    return done;
  } catch (const CLI::ParseError& problem) {
    world.err << "skerry: " << complaint(app, problem, args) << "\n";
    return bad_input;
  } catch (const Stop& stop) {
    return told(stop, defaults, world);
  }
  os::forget_what_was_read();
  try {
    // What is wrong there is no reason not to look at it.
    if (!defaults.mistakes().empty() && !app.got_subcommand("doctor")) {
      Stop stop;
      stop.errors = defaults.mistakes();
      throw stop;
    }
    defaults.fill(app);
    world.defaults = &defaults;
    given.paged = !no_pager;
    world.ascii = ascii;
    if (ascii) world.utf8 = false;
    allow_outside(outside);
    world.colour = colour == "always";
    if (colour == "never") world.no_colour = true;
    out.let_colours(world.colour || (world.out_is_terminal && !world.no_colour));
    if (!threads.empty())
      set_thread_count(static_cast<unsigned>(number_of(threads, "--threads", 1, 256, "a whole number")));
    for (const auto& command : commands) {
      if (!command.app->parsed()) continue;
      // It writes over its own line, which no text of ours may.
      os::Progress progress(world.err_is_terminal ? &given.err : nullptr, world.patience,
                            command.app->get_name());
      world.progress = &progress;
      command.run(world);
      world.progress = nullptr;
    }
  } catch (const Stop& stop) {
    world.progress = nullptr;
    return told(stop, defaults, world);
  } catch (const std::bad_alloc&) {
    world.progress = nullptr;
    world.err << "skerry: not enough memory for this\n";
    return failed;
  }
  return done;
}

}  // namespace skerry::cli
