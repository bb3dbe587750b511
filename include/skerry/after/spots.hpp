// Reports of what was heard between stations, and how well the forecasts stood up to them.
// Room: after. Sees everything above it.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/after/score.hpp"
#include "skerry/circuit/settings.hpp"
#include "skerry/core/time.hpp"
#include "skerry/core/warnings.hpp"
#include "skerry/ionosphere/climate.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/noise/noise.hpp"

namespace skerry::after {

/// Many reports, by station: a station is its place as written, since call signs are never read.
struct Spots {
  struct Spot {
    UtcTime time{};
    double mhz = 0;
    std::optional<int> tx;  ///< index into `stations`; none: the receiver was on and reports nothing
    int rx = 0;
    double power_w = 0;  ///< 0 without tx
    std::optional<double> snr_db;
  };
  std::vector<GeoPoint> stations;
  std::vector<Spot> spots;
  Warnings left_out;  ///< records that could not be read, in the order of the file
};

/// CSV (core/csv.hpp) with the columns time_utc (ISO 8601, "Z" may be left out, or seconds since 1970), mhz,
/// tx, rx (locator of 4 to 10 characters, or "lat,lon" in quotes), power_w or power_dbm, snr_db; others are
/// passed over. snr_db may be empty; tx and power may be empty together: a receiver that was on the band and
/// heard nobody. Broken records are left out and listed; a header without the columns, or no good record, is
/// an error.
[[nodiscard]] Checked<Spots> read_spots(std::string_view text, const std::string& file);

struct SpotQuestion {
  /// Solar activity of a month; without it the built-in numbers.
  std::function<ionosphere::R12(Month)> r12;
  ionosphere::MapSet maps = ionosphere::MapSet::ccir;
  circuit::Settings settings;
  circuit::TakeOff take_off = circuit::TakeOff::mirror;
  /// The S/N above which a signal counts as heard is the mode's threshold (half of the transmissions copied),
  /// in the mode's reference bandwidth, in which snr_db is taken to be told.
  noise::Mode mode;
  std::optional<double> tx_gain_dbi, rx_gain_dbi;  ///< at all angles; none: usual home antennas
  noise::Environment rx_noise = noise::Environment::residential;
  double noise_figure_db = 15;
  /// Most cases in which nothing was heard that are computed; above it every k-th is taken and counts k
  /// times.
  std::size_t most_silent = 2000000;
};

/// How well the forecast knows when, not how much: by rank over the hours of one way (path and band).
struct HourRanks {
  std::size_t ways = 0;
  double mean = 0;  ///< of the ways' rank correlations, -1..1; a forecast that never changes counts as 0
};

/// The score of one band, or of all together.
struct SpotScore {
  std::string band;  ///< "20m", or "5.29 MHz" outside the amateur bands; "all"
  double heard = 0, silent = 0;
  Brier brier;
  std::optional<double> skill_against_hours;  ///< against the sample's own rate by band and UTC hour
  std::optional<double> roc_area;
  std::vector<Bin> bins;
  /// Measured less predicted median S/N of what was heard, dB, one value (the median of its reports) for each
  /// hour and path. What was not heard is not in it: on weak paths it leans high.
  Spread snr;
  double heard_though_closed = 0;  ///< closed by the forecast
  std::optional<HourRanks> hours;  ///< of tables of hours, where any way is heard enough to tell
};

struct SpotScores {
  std::vector<SpotScore> bands;  ///< by frequency
  SpotScore all;
  std::size_t spots = 0, paths = 0, stations = 0;
  std::size_t silent_step = 1;  ///< every so many silent cases were computed
  /// Of tables of hours: the same by band and length of the path, shortest first, where there are cases.
  struct Class {
    double from_km = 0, to_km = 0;
    SpotScore score;
  };
  std::vector<Class> classes;
  UtcTime first{}, last{};
};

/// A case is a sender, a receiver, a band and an hour (from half before to half past the whole UTC hour): it
/// happened when the receiver reported the sender at least once. A case without report counts only if the
/// receiver reported anything (or that it heard nobody) on that band within that hour, and the sender was
/// reported by anybody there and then. Two stations of one place count as one.
///   forecast  the share of days on which the median S/N, scattered by its deciles, is at least the
///             threshold: what `skerry path` prints as days in ten, for one direction and for the threshold;
///             short way, from 8000 km on the better of both ways
///   cost      100 000 spots in some seconds: each path, hour and band is computed once
///             (tests/bench/after_bench.cpp)
[[nodiscard]] SpotScores score_spots(const Spots& spots, const SpotQuestion& question);

}  // namespace skerry::after
