#include "defaults.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/settings.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/surroundings.hpp"

namespace skerry::cli {

namespace {

/// Judgement: a line for every option of every command has a third of it.
constexpr std::size_t most_bytes = 1U << 16U;

/// They belong to one run: they write, replace, or ask another question.
bool may_be_set(const CLI::Option& option) {
  static constexpr std::array never{"--help",  "--version", "--output",   "--force",
                                    "--learn", "--what-if", "--no-config"};
  return !option.get_lnames().empty() &&
         std::find(never.begin(), never.end(), option.get_name()) == never.end();
}

std::string with_dashes(std::string name) {
  std::replace(name.begin(), name.end(), '_', '-');
  return name;
}

/// The option of that name, which may be set; null: none.
CLI::Option* option_of(CLI::App& app, const std::string& name) {
  auto* option = app.get_option_no_throw("--" + name);
  return option != nullptr && may_be_set(*option) ? option : nullptr;
}

/// The command of that name with its own commands; `command` empty: the program and all of them.
std::vector<CLI::App*> meant_by(CLI::App& app, const std::string& command) {
  std::vector<CLI::App*> out;
  if (command.empty()) out.push_back(&app);
  for (auto* sub : commands_of(app)) {
    if (!command.empty() && sub->get_name() != command) continue;
    out.push_back(sub);
    for (auto* own : commands_of(*sub)) out.push_back(own);
  }
  return out;
}

bool takes_all(CLI::Option& option, const std::vector<std::string>& values) {
  const auto [words, only, several] = offered(option);
  return !only || std::all_of(values.begin(), values.end(), [&words = words](const auto& value) {
    return std::find(words.begin(), words.end(), value) != words.end();
  });
}

/// Every option that a default may be meant for.
std::vector<CLI::Option*> options_named(CLI::App& app, const std::string& command, const std::string& name) {
  std::vector<CLI::Option*> out;
  for (auto* in : meant_by(app, command)) {
    if (auto* option = option_of(*in, name)) out.push_back(option);
  }
  return out;
}

std::vector<std::string> option_names(CLI::App& app, const std::string& command) {
  std::vector<std::string> out;
  for (const auto* in : meant_by(app, command)) {
    for (const auto* option : in->get_options([](const CLI::Option*) { return true; })) {
      if (!may_be_set(*option)) continue;
      for (const auto& name : option->get_lnames()) out.push_back(name);
    }
  }
  return out;
}

/// What is wrong with a line of the file, by its names alone.
std::optional<Error> misnamed(CLI::App& app, const Default& one) {
  if (!one.command.empty()) {
    std::vector<std::string> names;
    for (const auto* sub : commands_of(app)) names.push_back(sub->get_name());
    if (std::find(names.begin(), names.end(), one.command) == names.end())
      return Error{one.where, "[" + one_line(one.command) + "]", "a command, as [pack]",
                   did_you_mean(one.command, names)};
  }
  const auto meant = options_named(app, one.command, one.option);
  if (meant.empty())
    return Error{one.where, one_line(one.option),
                 one.command.empty() ? std::string("an option of some command")
                                     : fmt::format("an option of 'skerry {}'", one.command),
                 did_you_mean(one.option, option_names(app, one.command))};
  if (std::any_of(meant.begin(), meant.end(), [&](auto* option) { return takes_all(*option, one.values); }))
    return std::nullopt;
  const auto words = offered(*meant.front()).words;
  return Error{one.where,
               fmt::format("{} = '{}'", one.option, one_line(fmt::format("{}", fmt::join(one.values, ", ")))),
               either(words), did_you_mean(one.values.front(), words)};
}

}  // namespace

Defaults Defaults::find(CLI::App& app, bool with_file) {
  Defaults out;
  for (const auto& [name, value] : os::variables(prefix)) {
    if (value.empty()) continue;
    Default one{{}, with_dashes(lower(name.substr(std::string_view(prefix).size()))), {value}, {name}};
    if (one.option == "no-config" || one.option == "pager") continue;
    if (options_named(app, {}, one.option).empty()) {
      out.strangers_.push_back(name);
    } else if (auto wrong = misnamed(app, one)) {
      out.mistakes_.push_back(std::move(*wrong));
    } else {
      out.all_.push_back(std::move(one));
    }
  }
  const auto file = os::settings_file(file_name);
  if (!with_file || !file || !os::exists(*file)) return out;
  const auto text = os::read_file(*file, most_bytes, {});
  if (!text) {
    out.mistakes_.push_back(text.error());
    return out;
  }
  auto settings = files::read_settings(*text, *file);
  if (!settings) {
    out.mistakes_ = std::move(settings.error());
    return out;
  }
  // Of one command before those of all.
  std::stable_partition(settings->begin(), settings->end(), [](const auto& s) { return !s.table.empty(); });
  for (auto& s : *settings) {
    Default one{std::move(s.table), with_dashes(std::move(s.key)), std::move(s.values), std::move(s.where)};
    if (auto wrong = misnamed(app, one)) {
      out.mistakes_.push_back(std::move(*wrong));
    } else {
      out.all_.push_back(std::move(one));
    }
  }
  return out;
}

void Defaults::excuse(CLI::App& app) const {
  for (const auto& one : all_) {
    for (auto* option : options_named(app, one.command, one.option)) option->required(false);
  }
}

void Defaults::fill(CLI::App& app) {
  taken_.clear();
  fill(app, {});
  for (auto* at = &app; !at->get_subcommands().empty();) {
    at = at->get_subcommands().front();
    fill(*at, app.get_subcommands().front()->get_name());
  }
}

void Defaults::fill(CLI::App& app, const std::string& command) {
  for (const auto& one : all_) {
    if (!one.command.empty() && one.command != command) continue;
    auto* option = option_of(app, one.option);
    if (option == nullptr || option->count() > 0) continue;
    const auto name = option->get_name();
    if (std::any_of(taken_.begin(), taken_.end(), [&](const Taken& t) { return t.name == name; })) continue;
    if (one.command.empty() && !takes_all(*option, one.values)) continue;
    const auto* output = app.get_option_no_throw("--output");
    if (one.option == "format" && output != nullptr && output->count() > 0) {
      const auto& file = output->results().front();
      const auto dot = file.rfind('.');
      if (dot != std::string::npos && lower(file.substr(dot + 1)) != one.values.front()) continue;
    }
    taken_.push_back({name, &one});
    // Several values of an option that takes one are its list: "40m,20m".
    const bool several = option->get_items_expected_max() > 1;
    option->add_result(several ? one.values
                               : std::vector<std::string>{fmt::format("{}", fmt::join(one.values, ","))});
    try {
      option->run_callback();
    } catch (const CLI::ParseError&) {
      refuse({name}, "'" + one_line(one.values.front()) + "'", "true or false");
    }
    option->clear();  // not said by who asks
  }
}

Error Defaults::told(Error error) const {
  for (const auto& [name, from] : taken_) {
    if (error.where.file != name || error.where.line > 0) continue;
    error.where = from->where;
    error.found = fmt::format("{} = {}", from->option, error.found);
    break;
  }
  return error;
}

}  // namespace skerry::cli
