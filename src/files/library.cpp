#include "skerry/files/library.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "readers.hpp"
#include "skerry/core/quantity.hpp"
#include "skerry/core/text.hpp"

namespace skerry::files {

namespace {

/// Calls f(kind, item) for all things of a trip that can stand in a library, bags apart.
template <class T, class F>
void each_item(T& trip, F&& f) {
  for (auto& x : trip.rigs) f("rig", x.item);
  for (auto& x : trip.antennas) f("antenna", x.item);
  for (auto& x : trip.supports) f("support", x.item);
  for (auto& x : trip.cables) f("cable", x.item);
  for (auto& x : trip.tuners) f("tuner", x.item);
  for (auto& x : trip.batteries) f("battery", x.item);
  for (auto& x : trip.items) f("item", x);
}

void read_all_things(const toml::table& document, Reading& reading) {
  Cursor root(document, "library file", "the library", reading.mistakes);
  read_things(root, reading);
  read_antenna_tables(root, reading);
  root.finish();
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> out;
  std::size_t from = 0;
  while (from < text.size()) {
    const auto end = std::min(text.find('\n', from), text.size());
    out.emplace_back(text.substr(from, end - from));
    from = end + 1;
  }
  return out;
}

/// First line (from 0) of the comment that stands right above line `at` (from 0), not above `least`.
std::size_t comment_above(const std::vector<std::string>& lines, std::size_t at, std::size_t least) {
  while (at > least) {
    const auto above = trim(lines[at - 1]);
    if (above.empty() || above.front() != '#') break;
    --at;
  }
  return at;
}

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() > end.size() && text.substr(text.size() - end.size()) == end;
}

/// A number with at most four decimals and nothing behind it.
std::string plain(double value) {
  auto text = fmt::format("{:.4f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (u < 0x20 || u == 0x7f) {
      out += fmt::format("\\u{:04X}", u);
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string scalar(std::string_view text) {
  text = trim(text);
  if (text == "true" || text == "false" || to_number(text)) return std::string(text);
  return in_quotes(text);
}

std::string list_of(const auto& numbers) {
  std::string out = "[";
  for (const double x : numbers) out += (out.size() > 1 ? ", " : "") + plain(x);
  return out + "]";
}

/// What the trip asked for, and what these things cannot do without.
std::set<std::string> wanted_ids(const Reading& reading, const Reading& library) {
  std::set<std::string> wanted;
  for (const auto& word : reading.library_items) {
    wanted.insert(word.text);
    if (const auto all = library.alike.find(word.text); all != library.alike.end())
      wanted.insert(all->second.begin(), all->second.end());
  }
  if (wanted.empty()) return wanted;
  for (std::size_t before = 0; before != wanted.size();) {
    before = wanted.size();
    const auto follow = [&](const std::string& id, const std::vector<std::string>& needs) {
      if (wanted.count(id) != 0) wanted.insert(needs.begin(), needs.end());
    };
    for (const auto& a : library.trip.antennas) follow(a.item.id, a.needs);
    for (const auto& s : library.trip.supports) follow(s.item.id, s.needs);
  }
  return wanted;
}

template <class T>
const std::string& id_of(const T& thing) {
  if constexpr (requires { thing.item; }) {
    return thing.item.id;
  } else {
    return thing.id;
  }
}

/// Calls f(list, the other's list) for all kinds of things of two trips.
template <class F>
void each_list(Trip& a, Trip& b, F&& f) {
  f(a.rigs, b.rigs);
  f(a.antennas, b.antennas);
  f(a.supports, b.supports);
  f(a.cables, b.cables);
  f(a.tuners, b.tuners);
  f(a.batteries, b.batteries);
  f(a.bags, b.bags);
  f(a.items, b.items);
}

}  // namespace

const std::vector<std::string>& library_kinds() {
  static const std::vector<std::string> kinds{"rig",   "antenna", "support", "cable",
                                              "tuner", "battery", "bag",     "item"};
  return kinds;
}

void read_named_library(Reading& reading) {
  if (!reading.library_named) return;
  const auto& named = *reading.library_named;
  const auto text = reading.fetch(named);
  if (!text) return;
  const auto document = parse_document(*text, named.file);
  if (!document) return reading.pass_on(named, document.error());
  Mistakes mistakes(named.file);
  const FileReader none;
  Reading library{.mistakes = mistakes, .files = none};
  library.itu_region = reading.itu_region;
  library.site_ids = reading.site_ids;
  library.library = named.file;
  library.trip.sites = reading.trip.sites;
  within_mistakes([&] {
    read_all_things(*document, library);
    count_out(library);
  });
  for (auto& error : mistakes.take()) reading.pass_on(named, std::move(error));

  std::vector<std::string> known;
  for (const auto& [id, line] : library.inventory) known.push_back(id);
  for (const auto& [id, line] : library.bag_ids) known.push_back(id);
  for (const auto& word : reading.library_items) {
    if (std::find(known.begin(), known.end(), word.text) != known.end()) continue;
    reading.mistakes.add(
        word.at, fmt::format("'{}' in library_items", one_line(word.text)),
        fmt::format("the id of a thing in {}: {}", one_line(named.file), fmt::join(known, ", ")),
        did_you_mean(word.text, known));
  }
  const auto wanted = wanted_ids(reading, library);
  const auto taken = [&](const std::string& id) { return wanted.empty() || wanted.count(id) != 0; };
  for (const auto& [id, line] : library.inventory) {
    if (taken(id)) reading.inventory.emplace(id, -line);
  }
  for (const auto& [id, line] : library.bag_ids) {
    if (taken(id)) reading.bag_ids.emplace(id, -line);
  }
  for (const auto& [id, all] : library.alike) {
    if (taken(id)) reading.alike.emplace(id, all);
  }
  for (const auto& id : library.support_ids) {
    if (taken(id)) reading.support_ids.push_back(id);
  }
  for (auto& reference : library.references) {
    // Only of things that came along.
    if (taken(reference.of)) reading.references.push_back(std::move(reference));
  }
  each_list(library.trip, reading.trip, [&](auto& from, auto& to) {
    std::erase_if(from, [&](const auto& thing) { return !taken(id_of(thing)); });
    to = std::move(from);
  });
}

void settle_library_supports(Reading& reading) {
  for (auto& antenna : reading.trip.antennas) {
    if (!antenna.item.library || antenna.supports.empty()) continue;
    auto& list = antenna.supports;
    std::erase_if(list, [&](const std::string& id) {
      return std::find(reading.support_ids.begin(), reading.support_ids.end(), id) ==
             reading.support_ids.end();
    });
    if (!list.empty() || antenna.self_standing) continue;
    Error error;
    error.where.line = antenna.item.line;
    error.where.column = 1;
    error.found = fmt::format("no support of [[antenna]] '{}' in this trip", antenna.item.id);
    error.accepted = "at least one of those it names, from the library or in the trip";
    reading.pass_on(*reading.library_named, std::move(error));
  }
}

Checked<std::vector<LibraryEntry>> read_library(std::string_view text, const std::string& file) {
  const auto document = parse_document(text, file);
  if (!document) return tl::unexpected(std::vector<Error>{document.error()});
  Mistakes mistakes(file);
  const FileReader none;
  Reading reading{.mistakes = mistakes, .files = none};
  reading.library = file.empty() ? "library" : file;
  reading.sites_known = false;
  within_mistakes([&] { read_all_things(*document, reading); });
  if (!mistakes.empty()) return tl::unexpected(mistakes.take());
  std::vector<LibraryEntry> out;
  each_item(reading.trip, [&](const char* kind, const Item& item) { out.push_back({kind, item, {}}); });
  for (const auto& bag : reading.trip.bags) {
    LibraryEntry entry{"bag", {}, {}};
    entry.item.id = bag.id.empty() ? bag.name : bag.id;
    entry.item.name = bag.name;
    entry.item.mass_g = bag.own_mass_g;
    entry.item.size_cm = bag.inner_cm;
    entry.item.line = bag.line;
    out.push_back(std::move(entry));
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const auto& a, const auto& b) { return a.item.line < b.item.line; });
  const auto lines = lines_of(text);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto at = static_cast<std::size_t>(out[i].item.line) - 1;
    const auto least = i == 0 ? 0 : static_cast<std::size_t>(out[i - 1].item.line);
    const auto first = comment_above(lines, at, least);
    std::size_t last = lines.size();
    if (i + 1 < out.size()) {
      const auto next = static_cast<std::size_t>(out[i + 1].item.line) - 1;
      last = comment_above(lines, next, at + 1);
    }
    while (last > at + 1 && trim(lines[last - 1]).empty()) --last;
    for (std::size_t l = first; l < last; ++l) out[i].text += lines[l] + "\n";
  }
  return out;
}

Result<std::string> toml_value(const std::string& key, const std::string& typed) {
  const Where where{key};
  const auto text = trim(typed);
  if (text.empty()) return fail(where, "nothing", "a value");
  if (text.front() == '[' || text.front() == '{') return std::string(text);
  if (key == "tube_cm") {
    const auto sides = parse_tube_cm(text, where);
    if (!sides) return tl::unexpected(sides.error());
    return list_of(*sides);
  }
  if (key == "size_cm" || key == "inner_cm") {
    const auto sides = parse_box_cm(text, where);
    if (!sides) return tl::unexpected(sides.error());
    return list_of(*sides);
  }
  const bool mass = ends_with(key, "_g") || ends_with(key, "_kg");
  const bool length = ends_with(key, "_m") || ends_with(key, "_mm") || ends_with(key, "_cm");
  if ((mass || length) && !to_number(text)) {
    if (mass) {
      const auto grams = parse_mass_g(text, where);
      if (!grams) return tl::unexpected(grams.error());
      return plain(ends_with(key, "_kg") ? *grams / 1000 : *grams);
    }
    const auto metres = parse_length_m(text, where);
    if (!metres) return tl::unexpected(metres.error());
    return plain(*metres * (ends_with(key, "_mm") ? 1000 : ends_with(key, "_cm") ? 100 : 1));
  }
  if (key != "name" && key != "id" && text.find(',') != std::string_view::npos) {
    std::string out = "[";
    std::size_t from = 0;
    while (from <= text.size()) {
      const auto comma = std::min(text.find(',', from), text.size());
      const auto part = trim(text.substr(from, comma - from));
      if (part.empty())
        return fail(where, "'" + one_line(text) + "'", "a list like 40m,20m without empty parts");
      out += (out.size() > 1 ? ", " : "") + scalar(part);
      from = comma + 1;
    }
    return out + "]";
  }
  if (key == "name" || key == "id") return in_quotes(text);
  return scalar(text);
}

std::string id_of_name(std::string_view name) {
  std::string out;
  for (const char c : lower(name)) {
    const bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (word) {
      out += c;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
    if (out.size() == 40) break;
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out;
}

Checked<std::string> with_entry(std::string_view text, const std::string& file, const NewEntry& entry) {
  const auto one = [](Error error) { return tl::unexpected(std::vector<Error>{std::move(error)}); };
  const auto& kinds = library_kinds();
  if (std::find(kinds.begin(), kinds.end(), entry.kind) == kinds.end()) {
    return one({{"KIND"},
                "'" + one_line(entry.kind) + "'",
                fmt::format("one of: {}", fmt::join(kinds, ", ")),
                did_you_mean(entry.kind, kinds)});
  }
  const auto old = read_library(text, file);
  if (!old) return tl::unexpected(old.error());
  for (const auto& there : *old) {
    if (there.item.id == entry.id)
      return one({{"--id"},
                  fmt::format("'{}', which is there already", entry.id),
                  "an id of its own",
                  fmt::format("see line {} of {}", there.item.line, file)});
  }
  std::string added = fmt::format("[[{}]]\nid = {}\n", entry.kind, in_quotes(entry.id));
  for (const auto& [key, typed] : entry.fields) {
    const bool bare = !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    });
    if (!bare) return one({{"--set"}, "'" + one_line(key) + "'", "a key of the trip file, as wire_m", {}});
    auto value = toml_value(key, typed);
    if (!value) return one(std::move(value.error()));
    added += fmt::format("{} = {}\n", key, *value);
  }
  std::string out(text);
  if (!out.empty() && out.back() != '\n') out += '\n';
  if (!out.empty()) out += '\n';
  const auto above = static_cast<int>(std::count(out.begin(), out.end(), '\n'));
  out += added;
  auto whole = read_library(out, file);
  if (whole) return out;
  for (auto& error : whole.error()) {
    if (error.where.line <= above) continue;
    error.where.file = "new entry";
    error.where.line -= above;
  }
  return tl::unexpected(std::move(whole.error()));
}

}  // namespace skerry::files
