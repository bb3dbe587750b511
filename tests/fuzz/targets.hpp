// What is fuzzed: every parser and entry as a function of bytes. A target returns when its input is answered
// or refused as promised, and aborts with a message when a promise is broken. Layer: tests. Sees every room.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace skerry::fuzz {

void trip(std::string_view bytes);       ///< files::read_trip, with the files that a trip may name
void region(std::string_view bytes);     ///< geodesy::parse_region_geojson, then the region in use
void horizon(std::string_view bytes);    ///< a skyline inside a trip file
void forecast(std::string_view bytes);   ///< ionosphere::forecast_from_file
void places(std::string_view bytes);     ///< places, locators, dates, zones, bands, modes, numbers
void batch(std::string_view bytes);      ///< lines of `skerry batch`, framing and requests
void geometry(std::string_view bytes);   ///< files::read_antennas, raise, checks, a solution of small ones
void tables(std::string_view bytes);     ///< logs, reports, medians, times on the air, libraries of things
void arguments(std::string_view bytes);  ///< the command line, one argument a line

/// What a command line said.
struct Said {
  int code = -1;
  std::string out, err;
};
/// Runs it in the targets' folder, which holds t.toml (a small trip), k.toml (a library), l.adi (a log), s.csv
/// and i.csv (reports and ionosondes); nothing goes by way of files outside. Aborts when a promise is broken.
Said invoke(const std::vector<std::string>& args);

struct Target {
  const char* name;
  void (*run)(std::string_view bytes);
};
[[nodiscard]] std::span<const Target> targets();

/// Aborts with this sentence.
[[noreturn]] void broken(std::string_view promise);
/// Aborts unless `held`.
inline void promise(bool held, std::string_view sentence) {
  if (!held) broken(sentence);
}

}  // namespace skerry::fuzz
