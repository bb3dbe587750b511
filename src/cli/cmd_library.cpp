// `skerry kit add`, `kit list` and `kit export`: one's own things, typed once.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/library.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/progress.hpp"
#include "skerry/os/surroundings.hpp"
#include "skerry/words/library.hpp"

namespace skerry::cli {

namespace {

constexpr std::size_t most_bytes = 1U << 20U;

constexpr const char* heading =
    "# My things, for trip files: library = \"FILE\" under [trip]. Tables as in a trip file; masses in "
    "gram,\n"
    "# sizes in centimetres. `skerry kit add` writes below what stands here.\n";

struct AddOptions {
  std::string library, kind, id, name, mass, length, height, size, tube, needs;
  std::vector<std::string> set;
  bool always = false;
};
struct ListOptions {
  Common common;
  std::string library;
  std::vector<std::string> ids;
};

std::string library_file(const std::string& given) {
  return given.empty() ? config_file("kit.toml") : given;
}

std::vector<kit::LibraryEntry> entries_of(const std::string& file) {
  const auto text = must(os::read_file(file, most_bytes, {"--library"}));
  return must(files::read_library(text, file));
}

/// What --length means for a kind: the wire of an antenna, the cable itself.
const char* length_key(const std::string& kind) {
  if (kind == "antenna") return "wire_m";
  if (kind == "cable") return "length_m";
  if (kind == "support") return "height_m";
  return nullptr;
}

files::NewEntry entry_of(const AddOptions& o) {
  files::NewEntry entry;
  entry.kind = o.kind;
  entry.id = o.id.empty() ? files::id_of_name(o.name) : o.id;
  if (entry.id.empty()) refuse({"--name"}, "neither --name nor --id", "what the thing is called");
  const auto put = [&](const char* key, const std::string& value) {
    if (!value.empty()) entry.fields.emplace_back(key, value);
  };
  put("name", o.name);
  if (!o.mass.empty()) {
    // A bag's mass is its own; everything else has mass_g.
    put(o.kind == "bag" ? "own_mass_g" : "mass_g", o.mass);
  }
  if (!o.length.empty()) {
    const char* key = length_key(o.kind);
    if (key == nullptr)
      refuse({"--length"}, "a length for a " + one_line(o.kind), "--length with antenna, cable or support",
             "--size or --tube tell how large a thing is");
    put(key, o.length);
  }
  if (!o.height.empty()) {
    if (o.kind != "support")
      refuse({"--height"}, "a height for a " + one_line(o.kind), "--height with support");
    put("height_m", o.height);
  }
  if (!o.size.empty() && !o.tube.empty()) refuse({"--tube"}, "--size and --tube", "one of them");
  put(o.kind == "bag" ? "inner_cm" : "size_cm", o.size);
  put("tube_cm", o.tube);
  put("needs", o.needs);
  if (o.always) entry.fields.emplace_back("always", "true");
  for (const auto& pair : o.set) {
    const auto equals = pair.find('=');
    if (equals == std::string::npos || equals == 0)
      refuse({"--set"}, "'" + one_line(pair) + "'", "KEY=VALUE, as kind=dipole");
    entry.fields.emplace_back(pair.substr(0, equals), pair.substr(equals + 1));
  }
  return entry;
}

/// How a field is called by the person who typed it.
Error in_words_of_options(Error error) {
  static const std::vector<std::pair<std::string, std::string>> words{
      {"mass_g", "--mass"},  {"own_mass_g", "--mass"}, {"size_cm", "--size"},    {"inner_cm", "--size"},
      {"tube_cm", "--tube"}, {"wire_m", "--length"},   {"length_m", "--length"}, {"height_m", "--height"}};
  for (const auto& [key, option] : words) {
    if (error.where.file == key) error.where.file = option;
  }
  return error;
}

void run_add(const AddOptions& o, World& world) {
  const auto file = library_file(o.library);
  const auto entry = entry_of(o);
  const auto with_it = [&](const std::string& text) {
    auto whole = files::with_entry(text, file, entry);
    if (whole) return std::move(*whole);
    Stop stop;
    for (auto& error : whole.error()) stop.errors.push_back(in_words_of_options(std::move(error)));
    throw stop;
  };
  const auto folder = os::path_of(file).parent_path();
  if (!folder.empty() && !os::exists(folder.string())) {
    (void)with_it(heading);  // a mistake makes no folder
    // Where that cannot be, the lock says so.
    (void)os::make_folder(folder.string(), {});
  }
  // From reading to writing: of two that add at once each would write what it read and its own thing.
  const auto lock = os::FolderLock::take(file, {world.patience, world.lock_patience}, [&] {
    if (world.progress != nullptr) world.progress->end();
    world.err << "skerry: waiting for another program that is changing " << one_line(file) << "\n"
              << std::flush;
  });
  if (!lock) give_up(lock.error());
  const auto text =
      os::exists(file) ? must(os::read_file(file, most_bytes, {"--library"})) : std::string(heading);
  const auto whole = with_it(text);
  if (const auto written = os::write_file(file, whole, os::Onto::what_was_read); !written)
    give_up(written.error());
  const auto added = whole.substr(text.size());
  world.out << "added to " << file << ":\n" << added.substr(added.find_first_not_of('\n'));
}

void run_list(const ListOptions& o, World& world) {
  const Format format = format_of(o.common);
  const auto file = library_file(o.library);
  const auto entries = entries_of(file);
  switch (format) {
    case Format::json:
      return write(forms::library_json(entries), o.common, world);
    case Format::csv:
      return write(forms::library_csv(entries), o.common, world);
    case Format::text:
      return write(words::library_text(entries, file), o.common, world);
  }
}

void run_export(const ListOptions& o, World& world) {
  const auto entries = entries_of(library_file(o.library));
  std::vector<std::string> known;
  known.reserve(entries.size());
  for (const auto& e : entries) known.push_back(e.item.id);
  for (const auto& id : o.ids) {
    if (std::find(known.begin(), known.end(), id) == known.end())
      refuse({"ID"}, "'" + one_line(id) + "'", fmt::format("one of: {}", fmt::join(known, ", ")),
             did_you_mean(id, known));
  }
  std::string out;
  for (const auto& e : entries) {
    if (!o.ids.empty() && std::find(o.ids.begin(), o.ids.end(), e.item.id) == o.ids.end()) continue;
    out += (out.empty() ? "" : "\n") + e.text;
  }
  write(out, o.common, world);
}

constexpr const char* where_help =
    "the library; without it kit.toml in skerry's folder of settings ($XDG_CONFIG_HOME/skerry or "
    "~/.config/skerry)";

}  // namespace

std::string config_file(const std::string& name) {
  const auto file = os::settings_file(name);
  if (!file)
    refuse({"--library"}, "neither XDG_CONFIG_HOME nor HOME is set", "a file, as --library my_kit.toml");
  return *file;
}

LibraryCommands add_library(CLI::App& kit) {
  LibraryCommands out;
  kit.require_subcommand(0, 1);
  auto add_options = std::make_shared<AddOptions>();
  auto& a = *add_options;
  out.add = kit.add_subcommand("add", "write a thing of yours into your library, converted to its units");
  offers(out.add->add_option("KIND", a.kind, "rig, antenna, support, cable, tuner, battery, bag or item")
             ->required()
             ->type_name("KIND"),
         {"rig", "antenna", "support", "cable", "tuner", "battery", "bag", "item"});
  const auto text = [&](const char* name, std::string& value, const char* help, const char* type) {
    out.add->add_option(name, value, help)->type_name(type);
  };
  text("--name", a.name, "what it is called", "TEXT");
  text("--id", a.id, "short name for trip files; without it: made from the name", "ID");
  text("--mass", a.mass, "as \"540 g\", \"1 lb 3 oz\"; a bag's own", "MASS");
  text("--length", a.length, "of an antenna's wire, a cable, a support: \"33 ft\", \"10.5 m\"", "LENGTH");
  text("--height", a.height, "of a support, extended", "LENGTH");
  text("--size", a.size, "box: \"20 x 15 x 5 cm\", \"8 x 6 x 2 in\"; of a bag the inside", "SIZE");
  text("--tube", a.tube, "long rigid thing: length x diameter, \"22 x 1.6 in\"", "SIZE");
  text("--needs", a.needs, "ids that must come along, as cord,guys", "IDS");
  out.add->add_flag("--always", a.always, "goes whatever happens");
  out.add
      ->add_option(
          "--set", a.set,
          "any other key of the trip file's table, as kind=dipole or wire_m=\"33 ft\"; may stand several "
          "times")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  text("--library", a.library, where_help, "FILE");
  out.add->footer(
      "What stands in the file stays byte for byte; nothing that a trip could not read gets in.\n"
      "Example: skerry kit add antenna --name \"33 ft wire\" --mass \"5 oz\" --length \"33 ft\" --set "
      "kind=end-fed-random --library my_kit.toml");
  out.run_add = [add_options](World& world) { run_add(*add_options, world); };

  auto list_options = std::make_shared<ListOptions>();
  out.list = kit.add_subcommand("list", "what is in your library");
  out.list->add_option("--library", list_options->library, where_help)->type_name("FILE");
  add_format(*out.list, list_options->common);
  out.list->footer("Example: skerry kit list --library my_kit.toml");
  out.run_list = [list_options](World& world) { run_list(*list_options, world); };

  auto give_options = std::make_shared<ListOptions>();
  out.give = kit.add_subcommand("export", "things of your library as TOML, comments included");
  out.give->add_option("ID", give_options->ids, "which; without any: all")->type_name("ID");
  out.give->add_option("--library", give_options->library, where_help)->type_name("FILE");
  add_output(*out.give, give_options->common);
  out.give->footer("Example: skerry kit export rig-5w pole-6m --library my_kit.toml");
  out.run_give = [give_options](World& world) { run_export(*give_options, world); };
  return out;
}

}  // namespace skerry::cli
