// What a reading of foF2 on the day changes, and how far away and how long.
// Layer: ionosphere. Sees core and geodesy.
#pragma once

#include <optional>
#include <string>

#include "skerry/core/result.hpp"
#include "skerry/ionosphere/climate.hpp"

namespace skerry::ionosphere {

struct Sky;

/// The correction, as the logarithm of measured over mapped foF2, is spread from its place and hour by a
/// Gaussian: half of it is left at this distance, a sixteenth at twice it.
/// Judgement, from memory of the literature on short-term forecasting (Rush, Telecommunication Journal 43,
/// 544-549, 1976: a day's departure from the median is shared over some 1000 km north-south and up to twice
/// that east-west). One distance for all directions is the careful side.
inline constexpr double measured_half_km = 1000;
/// The same in time. Judgement: departures last for several hours and seldom from one night to the next.
inline constexpr double measured_half_h = 4;
/// Most readings at once.
inline constexpr std::size_t most_measured = 20;

/// Share of a correction that is left: 2^-(d/1000)^2 x 2^-(t/4)^2. Any finite arguments. Source: see above.
[[nodiscard]] double measured_share(double distance_km, double hours);

/// "6.2@PLACE@14:30": foF2 in MHz, a place as geodesy::parse_place reads it, a time of day in UTC. The time
/// may be left out when `now_h` is given (the hour now; negative: it is not today that is asked about).
///   errors  other shapes; foF2 outside 0.5..30 MHz; no time where there is no "now"
[[nodiscard]] Result<MeasuredFof2> parse_measured(std::string_view text, std::optional<double> now_h,
                                                  const Where& where);

/// Scales `sky.fof2_mhz` around the readings in `climate`; called by sky(). M(3000)F2, foE and heights stay:
/// MUFs scale with foF2. Each hour of the table is taken as the one nearest to the reading in time (before or
/// after), so that an evening's reading speaks for the night that follows.
///   several  simple kriging of the logarithms with the Gaussian as covariance: readings that stand together
///            count once, and two that contradict each other are averaged. Source: Cressie, Statistics for
///            Spatial Data, 1993, chapter 3.
///   cost     24 n places x readings; nothing without readings
void apply_measured(Sky& sky, const Climate& climate);

/// Ratio of each reading to the map at its place and hour, in the order of `climate.measured`.
[[nodiscard]] std::vector<double> measured_ratios(const Climate& climate);

}  // namespace skerry::ionosphere
