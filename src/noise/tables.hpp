// The tables below data/noise/, read once into plain numbers.
// Layer: noise, private. Sees core.
#pragma once

#include <array>
#include <cstddef>

namespace skerry::noise {

/// Fam = c - d log10 f with its deciles.
struct Law {
  double c = 0, d = 0, du = 0, dl = 0;
};

struct Tables {
  std::array<Law, 4> man_made;          ///< in the order of Environment
  std::array<double, 4> location_db{};  ///< likewise, deviation from place to place
  Law galactic;

  static constexpr std::size_t bands = 4;    ///< |latitude| 10, 30, 50, 70
  static constexpr std::size_t seasons = 3;  ///< winter, equinox (their mean), summer
  static constexpr std::size_t blocks = 6;   ///< local time 02, 06, 10, 14, 18, 22
  using Surface = std::array<std::array<std::array<double, blocks>, seasons>, bands>;
  std::array<Surface, 2> level_db;  ///< sea, land

  struct DayPoint {
    double log_f = 0, base = 0, slope = 0;
  };
  std::array<DayPoint, 5> day;  ///< the first is (1 MHz, z) itself: base 30, slope 1
  double night_first = 0, night_second = 0, night_cut = 0, log_night_cut_mhz = 0;
  double day_zenith_deg = 0, night_zenith_deg = 0;
  double atmospheric_du = 0, atmospheric_dl = 0;
};

/// A hole or an unknown word in the tables is our bug: aborts, naming it.
[[nodiscard]] const Tables& tables();

}  // namespace skerry::noise
