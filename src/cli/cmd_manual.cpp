// Man pages and completions for shells, made from the commands themselves, so that they cannot say anything
// else.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <sstream>

#include "options.hpp"
#include "skerry/files/fields.hpp"

namespace skerry::cli {

namespace {

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
  return app.get_subcommands([](const CLI::App*) { return true; });
}

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

/// What stands in one command line: the options of a command, of its own commands, and what they take.
struct Vocabulary {
  struct Taking {
    std::vector<std::string> names;  ///< "--format", "-f"
    std::string help;
    bool value = false;  ///< a value follows
    Offered offered;
  };
  std::vector<Taking> options;
  std::vector<std::string> words;  ///< what may stand by itself: its own commands, or what it takes
};

Vocabulary vocabulary_of(const CLI::App& root, CLI::App& app) {
  Vocabulary out;
  for (auto* option : app.get_options([](const CLI::Option*) { return true; })) {
    auto taken = offered(*option);
    if (option->get_lnames().empty()) {
      if (option->get_type_name() == "COMMAND") {
        for (const auto* sub : commands_of(root)) taken.words.push_back(sub->get_name());
      }
      out.words.insert(out.words.end(), taken.words.begin(), taken.words.end());
      continue;
    }
    Vocabulary::Taking one{{}, option->get_description(), option->get_type_size() != 0, std::move(taken)};
    for (const auto& l : option->get_lnames()) one.names.push_back("--" + l);
    for (const auto& s : option->get_snames()) one.names.push_back("-" + s);
    out.options.push_back(std::move(one));
  }
  if (&app == &root) return out;
  for (auto* sub : app.get_subcommands([](CLI::App*) { return true; })) {
    auto more = vocabulary_of(root, *sub);
    out.words.push_back(sub->get_name());
    out.words.insert(out.words.end(), more.words.begin(), more.words.end());
    for (auto& option : more.options) {
      const bool there = std::any_of(out.options.begin(), out.options.end(),
                                     [&](const auto& known) { return known.names == option.names; });
      if (!there) out.options.push_back(std::move(option));
    }
  }
  return out;
}

/// The commands with what they take; 'help' takes their names.
std::vector<std::pair<std::string, Vocabulary>> vocabularies(CLI::App& root) {
  std::vector<std::pair<std::string, Vocabulary>> out;
  for (auto* sub : root.get_subcommands([](CLI::App*) { return true; }))
    out.emplace_back(sub->get_name(), vocabulary_of(root, *sub));
  Vocabulary help;
  for (const auto& [name, what] : out) help.words.push_back(name);
  out.emplace_back("help", std::move(help));
  return out;
}

std::string help_of(const CLI::App& root, const std::string& command) {
  for (const auto* sub : commands_of(root)) {
    if (sub->get_name() == command) return sub->get_description();
  }
  return "the help of a command";
}

std::string long_names(const Vocabulary& of) {
  std::vector<std::string> out;
  for (const auto& option : of.options) {
    for (const auto& name : option.names) {
      if (name.starts_with("--")) out.push_back(name);
    }
  }
  return fmt::format("{}", fmt::join(out, " "));
}

/// "path --format"|"path -f") of the options that offer something.
std::string bash_values(const std::string& command, const Vocabulary& of) {
  std::string out;
  for (const auto& option : of.options) {
    if (option.offered.words.empty()) continue;
    std::vector<std::string> names;
    for (const auto& name : option.names) names.push_back(fmt::format("\"{} {}\"", command, name));
    out += fmt::format("    {}) values=\"{}\" ;;\n", fmt::join(names, "|"),
                       fmt::join(option.offered.words, " "));
  }
  return out;
}

std::string bash(CLI::App& root) {
  const auto own = vocabulary_of(root, root);
  std::vector<std::string> names, with_value;
  for (const auto& option : own.options) {
    if (option.value) with_value.insert(with_value.end(), option.names.begin(), option.names.end());
  }
  std::string cases, values = bash_values("", own);
  for (const auto& [name, what] : vocabularies(root)) {
    names.push_back(name);
    cases += fmt::format("    {}) words=\"{}{}{}\" ;;\n", name, fmt::join(what.words, " "),
                         what.words.empty() || what.options.empty() ? "" : " ", long_names(what));
    values += bash_values(name, what);
  }
  return fmt::format(R"(# bash completion for skerry, made by 'skerry completion bash'
_skerry() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} command= words= values= list= i
  if [[ $word == = ]]; then
    word=
  elif [[ $before == = ]]; then
    before=${{COMP_WORDS[COMP_CWORD-2]}}
  fi
  for ((i = 1; i < COMP_CWORD; ++i)); do
    case ${{COMP_WORDS[i]}} in
      {}) ((++i)) ;;
      -*|=) ;;
      *) command=${{COMP_WORDS[i]}}; break ;;
    esac
  done
  case "$command $before" in
{}  esac
  if [[ -n $values ]]; then
    [[ $word == *,* ]] && list=${{word%,*}},
    COMPREPLY=($(compgen -P "$list" -W "$values" -- "${{word##*,}}"))
    return
  fi
  case $command in
    "") words="{} {}" ;;
{}  esac
  COMPREPLY=($(compgen -W "$words" -- "$word"))
  [[ -n $command && $word != -* ]] && COMPREPLY+=($(compgen -f -- "$word"))
}}
complete -o filenames -F _skerry skerry
)",
                     fmt::join(with_value, "|"), values, fmt::join(names, " "), long_names(own), cases);
}

/// Inside single quotes of a shell.
std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string zsh(CLI::App& root) {
  const auto spec = [](const Vocabulary::Taking& option, const std::string& name) {
    std::string text;
    for (const char c : option.help) {
      if (c == '[' || c == ']' || c == ':' || c == '\\') text += '\\';
      text += c;
    }
    const auto& words = option.offered.words;
    const std::string value = !option.value   ? ""
                              : words.empty() ? ":value:_files"
                              : option.offered.several
                                  ? fmt::format(":value:_sequence compadd - {}", fmt::join(words, " "))
                                  : fmt::format(":value:({})", fmt::join(words, " "));
    return quoted(fmt::format("{}[{}]{}", name, text, value));
  };
  std::string names;
  std::string cases;
  for (const auto& [command, what] : vocabularies(root)) {
    std::string text = help_of(root, command);
    std::replace(text.begin(), text.end(), ':', ' ');
    names += "    " + quoted(command + ":" + text) + "\n";
    cases += fmt::format("      {}) _arguments", command);
    for (const auto& option : what.options) {
      for (const auto& name : option.names) cases += " " + spec(option, name);
    }
    if (!what.words.empty()) cases += fmt::format(" '1:word:({})'", fmt::join(what.words, " "));
    cases += " '*:file:_files' ;;\n";
  }
  return fmt::format(R"(#compdef skerry
# zsh completion for skerry, made by 'skerry completion zsh'
_skerry() {{
  local -a commands
  commands=(
{}  )
  if (( CURRENT == 2 )); then
    _describe command commands
  else
    local command=$words[2]
    shift words
    (( CURRENT-- ))
    case $command in
{}    esac
  fi
}}
_skerry "$@"
)",
                     names, cases);
}

std::string fish(CLI::App& root) {
  std::string out = "# fish completion for skerry, made by 'skerry completion fish'\n";
  const auto say = [&](const std::string& condition, const Vocabulary& what) {
    for (const auto& option : what.options) {
      out += fmt::format("complete -c skerry -n '{}'", condition);
      for (const auto& name : option.names)
        out += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
      const auto words = fmt::format("{}", fmt::join(option.offered.words, " "));
      if (option.value) out += " -r";
      if (!words.empty())
        out += " -f -a " + quoted(option.offered.several ? "(__fish_append , " + words + ")" : words);
      out += " -d " + quoted(option.help) + "\n";
    }
    if (!what.words.empty())
      out += fmt::format("complete -c skerry -n '{}' -a '{}'\n", condition, fmt::join(what.words, " "));
  };
  say("__fish_use_subcommand", vocabulary_of(root, root));
  for (const auto& [command, what] : vocabularies(root)) {
    out += fmt::format("complete -c skerry -n __fish_use_subcommand -f -a {} -d {}\n", command,
                       quoted(help_of(root, command)));
    say("__fish_seen_subcommand_from " + command, what);
  }
  return out;
}

struct Options {
  CLI::App* root = nullptr;
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

Command add_completion(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  o.root = &app;
  auto* sub =
      app.add_subcommand("completion", "completes commands, options and their words in bash, zsh or fish");
  takes(sub->add_option("SHELL", o.name, "bash, zsh or fish")->type_name("SHELL")->required(),
        {"bash", "zsh", "fish"});
  add_output(*sub, o.common);
  sub->footer("Example: skerry completion bash -o ~/.local/share/bash-completion/completions/skerry");
  return {sub, [options](World& world) {
            const auto& shell = options->name;
            write(shell == "bash"  ? bash(*options->root)
                  : shell == "zsh" ? zsh(*options->root)
                                   : fish(*options->root),
                  options->common, world);
          }};
}

}  // namespace skerry::cli
