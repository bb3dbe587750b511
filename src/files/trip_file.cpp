#include "skerry/files/trip_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "readers.hpp"
#include "skerry/core/text.hpp"

namespace skerry::files {

namespace {

constexpr std::size_t largest_file = 1U << 20U;
/// Judgement: a key of thousands of dotted parts would nest as deep; no honest line is longer: a rugged skyline with
/// slopes and shores, as to_toml writes them, has 5000 characters.
constexpr std::size_t longest_line = 8000;
/// Judgement: the deepest honest file, [[antenna.wire]] with its points, has four levels. Tables within
/// tables are taken down one inside the other, and thousands of levels would overrun the stack.
constexpr int deepest_nesting = 32;

/// Walks through the text as TOML has it, without building anything: brackets and the dots of keys, strings
/// and comments passed over.
class NestingScan {
 public:
  explicit NestingScan(std::string_view text) : text_(text) {}

  /// The line in which brackets, or the parts of one key, nest deeper than `deepest`; 0 if none.
  int too_deep(int deepest) {
    int brackets = 0, dots = 0;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '"' || c == '\'') {
        pass_string(c);
        continue;
      }
      if (c == '#') {
        at_ = std::min(text_.find('\n', at_), text_.size());
        continue;
      }
      ++at_;
      if (c == '.') ++dots;
      if (c == '\n') ++line_;
      if (c == '[' || c == '{') ++brackets;
      if (c == ']' || c == '}') --brackets;
      if (c == '\n' || c == '=' || c == ',' || c == '[' || c == ']' || c == '{' || c == '}') dots = 0;
      if (brackets > deepest || dots > deepest) return line_;
    }
    return 0;
  }

 private:
  void pass_string(char quote) {
    const std::string triple(3, quote);
    const bool several = text_.substr(at_, 3) == triple;
    at_ += several ? 3 : 1;
    while (at_ < text_.size()) {
      if (several && text_.substr(at_, 3) == triple) {
        at_ += 3;
        while (at_ < text_.size() && text_[at_] == quote) ++at_;  // up to two quotes may end the text itself
        return;
      }
      const char c = text_[at_];
      if (c == '\n') {
        if (!several) return;  // not closed: the parser says so
        ++line_;
      }
      at_ += c == '\\' && quote == '"' && text_.substr(at_ + 1, 1) != "\n" ? 2 : 1;
      if (!several && c == quote) return;
    }
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
};

void check_references(Reading& reading) {
  std::vector<std::string> all;
  for (const auto& [id, line] : reading.inventory) all.push_back(id);
  std::vector<std::string> supports = reading.support_ids;
  std::sort(supports.begin(), supports.end());
  for (const auto& reference : reading.references) {
    const auto& known = reference.support_only ? supports : all;
    const bool itself = reference.to.text == reference.of;
    if (!itself && std::binary_search(known.begin(), known.end(), reference.to.text)) continue;
    // A library antenna may name supports that stay out of this trip.
    if (reference.in_library && reference.support_only) continue;
    const bool other = reference.support_only && reading.inventory.count(reference.to.text) != 0;
    Error error{
        {},
        fmt::format("'{}' in {}", one_line(reference.to.text), reference.from),
        fmt::format("the id of a {}: {}", reference.support_only ? "[[support]]" : "thing in this file",
                    known.empty() ? "there is none" : fmt::format("{}", fmt::join(known, ", "))),
        itself  ? "a thing does not need itself"
        : other ? "that is another kind of thing"
                : did_you_mean(reference.to.text, known)};
    if (reference.in_library) {
      error.where.line = static_cast<int>(reference.to.at.line);
      error.where.column = static_cast<int>(reference.to.at.column);
      reading.pass_on(*reading.library_named, std::move(error));
      continue;
    }
    error.where = reading.mistakes.where(reference.to.at);
    reading.mistakes.add(std::move(error));
  }
}

/// A mode that decides and that nobody could use.
void check_modes(Reading& reading) {
  const auto& trip = reading.trip;
  for (const auto m : skerry::ids_of(trip.modes)) {
    const auto& id = nth(trip.modes, m).id;
    const auto has = [&](const Rig& rig) {
      return rig.modes.empty() || std::find(rig.modes.begin(), rig.modes.end(), id) != rig.modes.end();
    };
    if (trip.rigs.empty() || std::any_of(trip.rigs.begin(), trip.rigs.end(), has)) continue;
    for (const auto& session : trip.sessions) {
      if (session.mode_shares.empty() || trip.share_of(session, m) <= 0) continue;
      toml::source_position at;
      at.line = static_cast<toml::source_index>(session.line);
      at.column = 1;
      reading.mistakes.add(at,
                           fmt::format("'{}' in modes of [[session]], which decides and no [[rig]] has", id),
                           "a mode that one of the rigs has", "add it to `modes` of a rig");
    }
    if (trip.share_of(m) <= 0) continue;
    reading.mistakes.add(reading.modes_at, fmt::format("'{}' in modes, which decides and no [[rig]] has", id),
                         "a mode that one of the rigs has",
                         "name another first, or add it to `modes` of a rig");
  }
}

/// What charges by the Sun.
void check_panels(Reading& reading) {
  const auto& trip = reading.trip;
  if (trip.charging != Charging::solar) return;
  // Every set of panels is looked at.
  constexpr long most = 3;
  const auto panels =
      std::count_if(trip.items.begin(), trip.items.end(), [](const Item& item) { return item.solar_w > 0; });
  if (panels >= 1 && panels <= most) return;
  reading.mistakes.add(reading.charging_at, fmt::format("charging = \"solar\" with {} panels", panels),
                       fmt::format("1 to {} things with solar_watts", most),
                       panels < 1 ? "[[item]] with mass_g and solar_watts" : "leave out what will not come");
}

}  // namespace

Result<toml::table> parse_document(std::string_view text, const std::string& file) {
  if (text.size() > largest_file) {
    return fail({file}, fmt::format("{} kB", text.size() / 1024),
                fmt::format("at most {} kB", largest_file / 1024));
  }
  if (const auto encoded = check_encoding(text, {file, 1, 1}); !encoded)
    return tl::unexpected(encoded.error());
  int line = 1;
  for (std::size_t start = 0; start < text.size(); ++line) {
    const auto end = std::min(text.find('\n', start), text.size());
    if (end - start > longest_line) {
      return fail({file, line, 1}, fmt::format("a line of {} characters", end - start),
                  fmt::format("at most {}", longest_line));
    }
    start = end + 1;
  }
  if (const int deep = NestingScan(text).too_deep(deepest_nesting); deep > 0) {
    return fail({file, deep, 1}, fmt::format("more than {} levels, one inside the other", deepest_nesting),
                "tables and lists as 'skerry new' writes them");
  }
  try {
    return toml::parse(text, std::string_view(file));
  } catch (const toml::parse_error& problem) {
    const auto at = problem.source().begin;
    return fail({file, static_cast<int>(at.line), static_cast<int>(at.column)},
                std::string(problem.description()),
                "TOML: key = value, text in quotes, tables headed [name] or [[name]]");
  }
}

void Reading::claim(std::map<std::string, int>& ids, const std::string& id, Cursor& cursor) {
  const auto [it, fresh] = ids.emplace(id, cursor.line());
  if (!fresh) {
    cursor.report(cursor.has("id") ? "id" : "", fmt::format("'{}' twice", one_line(id)), "an id of its own",
                  it->second > 0
                      ? fmt::format("the first stands in line {}", it->second)
                      : fmt::format("the library '{}' has it already, in line {}",
                                    library_named ? one_line(library_named->file) : "", -it->second));
  }
}

std::optional<std::string> Reading::fetch(const Named& named, std::string_view said) {
  const Where where = mistakes.where(named.at);
  auto text = files ? files(named.file, where)
                    : Result<std::string>(
                          fail(where, "'" + one_line(named.file) + "'", "no other files can be read here"));
  if (text) return std::move(*text);
  text.error().where = where;
  if (!said.empty()) text.error().found = fmt::format("{}: {}", said, text.error().found);
  mistakes.add(std::move(text.error()));
  return std::nullopt;
}

void Reading::pass_on(const Named& named, Error error) {
  std::string place = one_line(named.file);
  if (error.where.line > 0) place += fmt::format(":{}:{}", error.where.line, error.where.column);
  error.found = fmt::format("in {}: {}", place, error.found);
  error.where = mistakes.where(named.at);
  mistakes.add(std::move(error));
}

Checked<Trip> read_trip(std::string_view text, const std::string& file, const FileReader& files,
                        const TerrainReader& terrain) {
  const auto document = parse_document(text, file);
  if (!document) return tl::unexpected(std::vector<Error>{document.error()});
  Mistakes mistakes(file);
  Reading reading{.mistakes = mistakes, .files = files, .terrain = &terrain};
  reading.trip.file = file;
  Cursor root(*document, "trip file", "the file", mistakes);
  within_mistakes([&] {
    read_head(root, reading);
    read_sites(root, reading);
    read_licence(root, reading);
    read_sessions(root, reading);
    read_regions(root, reading);
    read_listeners(root, reading);
    read_named_learned(reading);
    read_named_library(reading);
    read_things(root, reading);
    read_antenna_tables(root, reading);
    check_references(reading);
    count_out(reading);
    settle_library_supports(reading);
    root.finish();
    check_modes(reading);
    check_panels(reading);
    if (mistakes.empty()) check_work(reading);
  });
  if (!mistakes.empty()) return tl::unexpected(mistakes.take());
  return std::move(reading.trip);
}

Checked<std::vector<Antenna>> read_antennas(std::string_view text, const std::string& file) {
  const auto document = parse_document(text, file);
  if (!document) return tl::unexpected(std::vector<Error>{document.error()});
  Mistakes mistakes(file);
  const FileReader none;
  Reading reading{.mistakes = mistakes, .files = none, .mass_needed = false};
  Cursor root(*document, "trip file", "the file", mistakes);
  if (!document->contains("antenna")) {
    std::string mend;
    for (const auto& [key, value] : *document) {
      const std::vector<std::string> wanted = {"antenna"};
      if (nearest(key.str(), wanted))
        mend = fmt::format("did you mean [[antenna]] by '{}'?", one_line(key.str()));
    }
    mistakes.add(document->source().begin, "no [[antenna]] in the file", "at least one [[antenna]] table",
                 mend);
    return tl::unexpected(mistakes.take());
  }
  within_mistakes([&] { read_antenna_tables(root, reading); });
  if (!mistakes.empty()) return tl::unexpected(mistakes.take());
  return std::move(reading.trip.antennas);
}

}  // namespace skerry::files
