// How far the maps of foF2 and M(3000)F2 are from what ionosondes measured.
// Room: after. Sees everything above it.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"
#include "skerry/core/warnings.hpp"
#include "skerry/ionosphere/climate.hpp"

namespace skerry::after {

/// One monthly median of one station and hour.
struct SondeMedian {
  int station = 0;  ///< index into SondeTable::stations
  Month month{};
  int utc_hour = 0;
  double fof2_mhz = 0;
  std::optional<double> m3000f2;
};
struct SondeTable {
  struct Station {
    std::string name;
    GeoPoint at;
  };
  std::vector<Station> stations;
  std::vector<SondeMedian> medians;
  Warnings left_out;
};

/// CSV (core/csv.hpp) with the columns station (any name), place (locator, or "lat,lon" in quotes; or the two
/// columns lat_deg and lon_deg), month (2027-02), utc_hour (0 to 23), fof2_mhz, and m3000f2 if there is any
/// (cells may be empty); others are passed over. Broken records are left out and listed.
[[nodiscard]] Checked<SondeTable> read_sondes(std::string_view text, const std::string& file);

/// Of the centred dipole, either hemisphere: to 20, to 60, to 90 degrees.
enum class Latitudes : std::uint8_t { low, middle, high };
/// Winter: November to February north of the equator, May to August south of it; summer the other way
/// round; equinox the rest. Common practice.
enum class Season : std::uint8_t { winter, equinox, summer };
/// Local solar hour by longitude / 15, 0..23.
struct LocalHour {
  int hour = 0;
};
/// Which medians: all, or those of an hour, of latitudes, of a season, of the station of that name.
using SondeGroup = std::variant<std::monostate, LocalHour, Latitudes, Season, std::string>;

/// Map less measured, of one group of medians.
struct SondeError {
  SondeGroup group;
  std::size_t count = 0;
  double bias = 0, rms = 0;                  ///< MHz for foF2; of M(3000)F2 without unit
  double bias_percent = 0, rms_percent = 0;  ///< of each measured value
};
struct SondeScore {
  enum class Quantity : std::uint8_t { fof2, m3000f2 };
  Quantity quantity = Quantity::fof2;
  SondeError all;
  std::vector<SondeError> by_hour, by_latitude, by_season, by_station;
};
struct SondeScores {
  SondeScore fof2;
  std::optional<SondeScore> m3000f2;  ///< where any was told
};
/// `r12` of a month; without it the built-in numbers. Groups without any median are left out.
[[nodiscard]] SondeScores score_sondes(const SondeTable& table,
                                       const std::function<ionosphere::R12(Month)>& r12,
                                       ionosphere::MapSet maps);

}  // namespace skerry::after
