// Man pages, made from the commands themselves, so that they cannot say anything else.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <sstream>

#include "options.hpp"
#include "skerry/files/fields.hpp"

namespace skerry::cli {

namespace {

const CLI::App& command_named(const CLI::App& root, const std::string& name) {
  std::vector<std::string> names;
  for (const auto* sub : commands_of(root)) {
    if (sub->get_name() == name) return *sub;
    names.push_back(sub->get_name());
  }
  refuse({}, fmt::format("command '{}'", name), fmt::format("one of: {}", fmt::join(names, ", ")));
}

/// Sections that all pages share. Source of their names and order: man-pages(7).
std::string describe_surroundings() {
  return ".SH EXIT STATUS\n"
         ".TP\n0\ndone\n.TP\n1\ncould not be done (a file system, a full disk)\n.TP\n2\nbad input: one line says where, what was "
         "found and what was expected\n.TP\n130\nended by Ctrl\\-C; no half\\-written file is left\n"
         ".SH ENVIRONMENT\n"
         ".TP\nSKERRY_NAME\na default of the option \\-\\-name of every command that has it, in capitals and with _ for \\-: "
         "SKERRY_FORMAT=json, SKERRY_R12=80, SKERRY_POWER_W=10; before the configuration file, behind what is typed\n"
         ".TP\nSKERRY_NO_CONFIG\nif set, no configuration file is read (see \\-\\-no\\-config)\n"
         ".TP\nSKERRY_PAGER, PAGER\nthe program through which a terminal gets what is longer than its screen, else less(1); "
         "set to nothing: none (see \\-\\-no\\-pager)\n"
         ".TP\nNO_COLOR\nif set, no colours (see \\-\\-color)\n.TP\nXDG_CONFIG_HOME\nwhere one's own things are kept, else "
         "~/.config\n.TP\nLC_ALL, LC_CTYPE, LANG\nwhether the terminal takes UTF\\-8\n"
         ".SH FILES\n"
         ".TP\n~/.config/skerry/config.toml\nthe configuration: defaults of options, called as they are, for all commands that have "
         "them (format = \"json\", power\\-w = 10), below [pack] and the like for one. What is typed goes before the environment, "
         "that before this file, this before what is built in. A format gives way to the ending of \\-o FILE.\n"
         ".TP\n~/.config/skerry/kit.toml\none's own library of things (skerry\\-kit(1))\n.TP\n~/.config/skerry/forecast.csv\none's own "
         "forecast of the Sun (skerry\\-forecast(1))\n.TP\n*.toml\ntrip files: skerry\\-trip(5)\n";
}

/// Text as roff takes it: no escapes of its own, no line that looks like a request, real minus signs.
std::string roff(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool line_start = i == 0 || text[i - 1] == '\n';
    if (line_start && (c == '.' || c == '\'')) out += "\\&";
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else {
      out += c;
    }
  }
  return out;
}

/// The trip file, key by key, as the reader takes it.
std::string trip_page() {
  std::string out = fmt::format(".TH SKERRY\\-TRIP 5 \"\" \"skerry {}\" \"Skerry\"\n", SKERRY_VERSION);
  out +=
      ".SH NAME\nskerry\\-trip \\- a trip in a TOML file: where, when, to whom, and what there is to carry\n"
      ".SH DESCRIPTION\nWhat the commands of skerry(1) read. \\fBskerry new\\fR writes one to start from, \\fBskerry schema "
      "trip\\fR the JSON Schema that editors understand. Units stand in the names of keys.\n";
  std::vector<std::string> waiting{"trip file"}, told;
  for (std::size_t i = 0; i < waiting.size(); ++i) {
    const auto name = waiting[i];
    if (std::find(told.begin(), told.end(), name) != told.end()) continue;
    told.push_back(name);
    const auto& table = files::fields_of(name);
    out += fmt::format(".SH {}\n", roff(name == "trip file" ? "THE FILE" : "[" + name + "]"));
    for (const auto& field : table.fields) {
      out += fmt::format(".TP\n\\fB{}\\fR{}\n{}; {}\n", roff(field.key), field.required ? " (required)" : "",
                         roff(field.help), roff(files::accepted(field)));
      if (*field.table != '\0') waiting.emplace_back(field.table);
    }
  }
  return out + ".SH SEE ALSO\n.BR skerry (1),\n.BR skerry\\-new (1)\n";
}

std::string names_of(const CLI::Option& option) {
  std::vector<std::string> names;
  for (const auto& s : option.get_snames()) names.push_back("-" + s);
  for (const auto& l : option.get_lnames()) names.push_back("--" + l);
  if (names.empty()) names.push_back(option.get_name(true));
  std::string out = fmt::format("{}", fmt::join(names, ", "));
  const std::string value = option.get_type_name();
  if (!option.get_lnames().empty() && option.get_type_size() != 0 && !value.empty()) out += " " + value;
  return out;
}

void describe_options(const CLI::App& app, std::string& out) {
  for (const auto* option : app.get_options()) {
    if (option->get_name().empty()) continue;
    out += fmt::format(".TP\n\\fB{}\\fR\n{}", roff(names_of(*option)), roff(option->get_description()));
    if (!option->get_default_str().empty())
      out += roff(fmt::format(" (without it: {})", option->get_default_str()));
    out += "\n";
  }
}

/// The lines below the options; "Example: ..." gets a section of its own.
void describe_footer(const CLI::App& app, std::string& out) {
  std::istringstream lines(app.get_footer());
  std::string examples;
  std::string rest;
  for (std::string line; std::getline(lines, line);) {
    const std::string mark = "Example: ";
    if (line.rfind(mark, 0) == 0) {
      examples += fmt::format(".nf\n{}\n.fi\n", roff(line.substr(mark.size())));
    } else if (!line.empty()) {
      rest += roff(line) + "\n.br\n";
    }
  }
  if (!rest.empty()) out += ".SH NOTES\n" + rest;
  if (!examples.empty()) out += ".SH EXAMPLE\n" + examples;
}

/// One page. Source of the form: man-pages(7).
std::string page(const CLI::App& root, const CLI::App* command) {
  const std::string name = command == nullptr ? "skerry" : "skerry-" + command->get_name();
  const CLI::App& app = command == nullptr ? root : *command;
  std::string title = name;
  std::transform(title.begin(), title.end(), title.begin(), [](unsigned char c) { return std::toupper(c); });
  std::string out = fmt::format(".TH {} 1 \"\" \"skerry {}\" \"Skerry\"\n", roff(title), SKERRY_VERSION);
  out += fmt::format(".SH NAME\n{} \\- {}\n", roff(name), roff(app.get_description()));
  out += fmt::format(".SH SYNOPSIS\n.B skerry{}\n[\\fIOPTIONS\\fR]",
                     command == nullptr ? "" : " " + app.get_name());
  for (const auto* option : app.get_options()) {
    if (!option->get_positional()) continue;
    const std::string name_there = roff(option->get_name(true));
    out += option->get_required() ? " \\fI" + name_there + "\\fR" : " [\\fI" + name_there + "\\fR]";
  }
  if (!commands_of(app).empty()) out += " \\fICOMMAND\\fR ...";
  out += fmt::format("\n.SH DESCRIPTION\n{}.\n", roff(app.get_description()));
  out += ".SH OPTIONS\n";
  describe_options(app, out);
  if (!commands_of(app).empty()) {
    out += ".SH COMMANDS\n";
    for (const auto* sub : commands_of(app))
      out += fmt::format(".TP\n\\fB{}\\fR\n{}\n", roff(sub->get_name()), roff(sub->get_description()));
    // A command's own commands have no page of their own.
    for (const auto* sub : command == nullptr ? std::vector<const CLI::App*>{} : commands_of(app)) {
      out += fmt::format(".SH OPTIONS OF {}\n", roff(sub->get_name()));
      describe_options(*sub, out);
    }
  }
  describe_footer(app, out);
  out += describe_surroundings();
  out += command != nullptr ? ".SH SEE ALSO\n.BR skerry (1)\n" : ".SH SEE ALSO\n.BR skerry\\-trip (5)\n";
  return out;
}

struct Options {
  const CLI::App* root = nullptr;
  std::string name;
  Common common;
};

}  // namespace

Command add_manual(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  o.root = &app;
  auto* sub = app.add_subcommand("manual", "this program's manual page, or a command's, for man(1)");
  offers(sub->add_option("COMMAND", o.name, "the command, or trip for the trip file; without it: the program")
             ->type_name("COMMAND"),
         {"trip"});
  add_output(*sub, o.common);
  sub->footer("Example: skerry manual pack -o skerry-pack.1");
  return {sub, [options](World& world) {
            if (options->name == "trip") return write(trip_page(), options->common, world);
            const auto* command =
                options->name.empty() ? nullptr : &command_named(*options->root, options->name);
            write(page(*options->root, command), options->common, world);
          }};
}

}  // namespace skerry::cli
