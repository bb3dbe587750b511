// Completions for shells, made from the commands themselves.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "options.hpp"

namespace skerry::cli {

namespace {

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
    Vocabulary::Taking one{
        {}, option->get_description(), option->get_items_expected_max() > 0, std::move(taken)};
    for (const auto& l : option->get_lnames()) one.names.push_back("--" + l);
    for (const auto& s : option->get_snames()) one.names.push_back("-" + s);
    out.options.push_back(std::move(one));
  }
  if (&app == &root) return out;
  for (auto* sub : commands_of(app)) {
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
  for (auto* sub : commands_of(root)) out.emplace_back(sub->get_name(), vocabulary_of(root, *sub));
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
