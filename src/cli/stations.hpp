// The two stations and the choices of method that `path` and `map` both ask for.
// Layer: cli (internal).
#pragma once

#include "options.hpp"
#include "places.hpp"

namespace skerry::cli {

struct StationOptions {
  std::string bands, mhz;
  std::string mode = "cw", power = "10", to_power = "100", gain_from, gain_to;
  std::string noise_from = "quiet", noise_to = "residential", noise_figure = "15", skyline = "0",
              skyline_km = "1";
  std::string spread_to = "11";
  std::string absorption = "lucas-haydon", ground_loss = "by-surface", far_method = "hops", es = "on";
};

/// `without` says what is taken when neither --bands nor --mhz is given.
/// What completions offer of modes, bands and classes of noise.
CLI::Option* offer_modes(CLI::Option* option);
CLI::Option* offer_bands(CLI::Option* option, bool several = true);
CLI::Option* offer_noise(CLI::Option* option);

void add_stations(CLI::App& app, StationOptions& options, const std::string& without);

/// All of a question but its places, sky and ways.
struct Stations {
  circuit::PathEnd from, to = circuit::far_end();
  noise::Mode mode;
  circuit::Settings settings;
};
/// A gain as typed; none when nothing was.
[[nodiscard]] std::optional<double> gain_of(const std::string& text, const char* key);
/// --es as typed.
[[nodiscard]] Stations stations_of(const StationOptions& options);

/// --mhz and --bands in that order; neither: `otherwise`. At most 100, below 30 MHz.
[[nodiscard]] std::vector<circuit::PathQuestion::Frequency> frequencies_of(
    const StationOptions& options, GeoPoint from, const std::vector<std::string>& otherwise);
/// All bands below 30 MHz at a place.
[[nodiscard]] std::vector<std::string> all_bands(GeoPoint from);

/// The question of `path` between two places as typed: all but its ways and wishes.
[[nodiscard]] circuit::PathQuestion question_between(Places& places, const std::string& from,
                                                     const std::string& to, const Common& common,
                                                     const StationOptions& options);
/// Its answer, with what the names were taken for.
[[nodiscard]] circuit::PathAnswer answer_between(const Places& places, const circuit::PathQuestion& question);

}  // namespace skerry::cli
