// What must be beaten: the noise that arrives at a receiver from outside.
// Layer: noise. Sees core, geodesy, sun and ionosphere.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::noise {

/// Man-made environments of ITU-R P.372. `quiet` is quiet rural: a remote island or summit on battery.
enum class Environment { city, residential, rural, quiet };
/// "city" ("business"), "residential", "rural", "quiet" ("quiet rural"), upper or lower case; else an Error
/// with the nearest.
[[nodiscard]] Result<Environment> parse_environment(std::string_view name, const Where& where);
[[nodiscard]] std::string to_text(Environment environment);
/// One class noisier; city stays city.
[[nodiscard]] Environment noisier(Environment environment);

/// Noise factor above kT0B in dB: median, and upper and lower decile distances from it.
struct Level {
  double fam_db = 0;
  double upper_db = 0;  ///< Du > 0: exceeded 10 % of the time by this much
  double lower_db = 0;  ///< Dl > 0
};

/// The receiving place and moment, as far as noise depends on it.
struct Conditions {
  Environment environment = Environment::residential;
  double lat_deg = 0;
  unsigned month = 1;      ///< 1..12
  double solar_hour = 12;  ///< local apparent solar time, 0..24
  double zenith_deg = 0;   ///< of the Sun
  double fof2_mhz = 0;     ///< overhead: galactic noise comes through above it only
  /// Of the surroundings within about 300 km, 0 (open sea) to 1 (inland): distant storms over land.
  double land_share = 0;
  double man_made_above_db = 0;  ///< man-made noise over what its class says
};

struct Sources {
  Level man_made, atmospheric;
  std::optional<Level> galactic;  ///< nullopt below the overhead critical frequency
  Level total;                    ///< the sum of the independent sources, P.372 section on combination
};

/// Every source at a place and moment, and their sum. f_mhz 1.6..60 (asserted), month 1..12 (asserted).
///   returns   galactic only where f_mhz lies above the overhead critical frequency
///   accuracy  man-made: medians of surveys of the 1960s and 70s, 6 to 8 dB from place to place; atmospheric:
///             a coarse substitute for the maps of P.372, +-10 dB: to be said where it is used
///   cost      about 0.07 us, no allocation (tests/bench/noise_bench.cpp)
///   source    ITU-R P.372; numbers and their standing in data/noise/SOURCE.md
[[nodiscard]] Sources noise(const Conditions& conditions, double f_mhz);

/// noise() for one place, month and frequency and many hours: what no hour changes is worked out once.
class Listening {
 public:
  /// Of the conditions all but solar_hour, zenith_deg and fof2_mhz.
  Listening(const Conditions& conditions, double f_mhz);
  [[nodiscard]] Sources at(double solar_hour, double zenith_deg, double fof2_mhz) const;

 private:
  double f_mhz_, log_f_;
  Level man_made_, galactic_;
  double man_made_ratio_, galactic_ratio_;  ///< 10^(Fam/10)
  std::size_t environment_;
  std::array<double, 6> at_1_mhz_db_{};  ///< of the atmosphere: at local times 02, 06, 10, 14, 18, 22
  double day_base_db_ = 0, day_slope_ = 0, night_less_db_ = 0;
};

/// Fam = c - d log10 f. Source: ITU-R P.372; `quiet` holds to 30 MHz, above it the line is drawn on.
[[nodiscard]] Level man_made(Environment environment, double f_mhz);
/// Standard deviation of its median from place to place, dB. Source: ITU-R P.372.
[[nodiscard]] double location_deviation_db(Environment environment);
/// Fam = 52 - 23 log10 f. Source: ITU-R P.372.
[[nodiscard]] Level galactic(double f_mhz);
/// The coarse substitute alone. Seasons follow the side of the equator; day and night follow the zenith
/// angle.
[[nodiscard]] Level atmospheric(const Conditions& conditions, double f_mhz);

/// Sum of 1..16 independent sources that are each normal in dB, by mean and variance of the powers. The upper
/// decile taken into it is at most 12 dB. One source alone comes back unchanged. Source: ITU-R P.372, section
/// on combination (from memory).
[[nodiscard]] Level combine(std::initializer_list<Level> sources);
[[nodiscard]] Level combine(const Level* sources, std::size_t count);

/// Noise power in dBW = fam + 10 log10(b) - 204; bandwidth_hz > 0. Source: ITU-R P.372; 10 log10(k T0) with
/// T0 = 290 K is -203.98, used as -204 dBW/Hz.
[[nodiscard]] double noise_dbw(double fam_db, double bandwidth_hz);

}  // namespace skerry::noise
