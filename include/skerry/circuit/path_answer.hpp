// Two places and a month, answered for every hour and band.
// Layer: circuit. Sees everything above it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/conditions.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/openings.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/sun/localtime.hpp"

namespace skerry::circuit {

/// One end without a trip file.
struct PathEnd {
  GeoPoint at;
  double power_w = 10;
  /// One gain at all angles; none: a HomeAntenna behind its cable.
  std::optional<double> gain_dbi;
  double spread_db = 0;  ///< as Station::spread_db
  bool far = false;      ///< the partner's: where its gain is not told, it has unknown_station's noise too
  noise::Environment environment = noise::Environment::rural;
  double noise_figure_db = 15;
  geodesy::Skyline skyline;  ///< towards the path
};

[[nodiscard]] Station station_of(const PathEnd& end);
/// Gain at an elevation, dBi; elevation 0..90.
[[nodiscard]] double gain_dbi(const PathEnd& end, double mhz, double elevation_deg);
/// The partner of whom nothing is told yet: 100 W in a residential place, partner_spread_db.
[[nodiscard]] PathEnd far_end();

inline constexpr std::array<bool, 24> every_hour = [] {
  std::array<bool, 24> out{};
  for (bool& hour : out) hour = true;
  return out;
}();

struct PathQuestion {
  PathEnd from, to = far_end();
  std::vector<geodesy::Way> ways{geodesy::Way::short_way};
  ionosphere::Climate climate;
  Settings settings;
  struct Frequency {
    std::string band;  ///< "40m", or empty outside the amateur bands
    double mhz = 0;
  };
  std::vector<Frequency> frequencies;
  noise::Mode mode;
  double want_days_in_ten = 5;                    ///< level of an opening
  std::array<bool, 24> shown_hours = every_hour;  ///< UTC hours that will be shown
  /// What is wanted beside the contacts of the shown hours: each costs, and who asks by the thousand leaves out what
  /// nobody will read. What is left out is empty or false.
  struct Wanted {
    bool edges = true;      ///< BandAnswer::on_edge of the shown hours
    bool whole_day = true;  ///< the other hours too, openings, cautions
    bool around = true;     ///< control points, warnings, clocks, bearings near the antipode
  } wanted;
  TakeOff take_off = TakeOff::mirror;
  bool spread = false;  ///< also run the published alternatives and R12 -30 and +30
  Disturbance disturbance;
};

/// The contact by the sky, and what stands beside it.
struct BandAnswer : Contact {
  double both_days_in_ten = 0;      ///< by sky or along the ground, whichever is better
  double both_days_as_assumed = 0;  ///< the same for stations just as stated
  /// Ground wave of paths up to 400 km; `open` false beyond.
  Direction ground_there, ground_back;
  bool by_ground = false;  ///< both_days_in_ten is the ground wave's: vertical antennas at both ends only
  /// Least and most of both_days_in_ten over the published alternatives and a Sun 30 sunspots off either way;
  /// equal to it unless asked for.
  double least_days = 0, most_days = 0;
  /// The same over the alternatives alone, the Sun as given.
  double method_least_days = 0, method_most_days = 0;
  /// A step of the method lies here: 1 % in frequency or 2 sunspots moves the days by 2 or more and across
  /// the wanted level.
  bool on_edge = false;
  /// Within 400 km, with neither sky wave nor ground wave: the skip zone.
  bool skip_zone = false;
  TracedModes traced;  ///< empty unless traced was asked for, or trace_modes()
};

struct HourAnswer {
  HourMuf muf;
  std::vector<Circuits::ControlPoint> control_points;
  std::vector<BandAnswer> bands;  ///< one per question frequency
};

struct WayAnswer {
  geodesy::Path path;
  std::vector<HourAnswer> hours;  ///< 24
  /// Per question frequency: by the sky, and by the ground wave alone, which only vertical antennas low down
  /// at both ends can use.
  std::vector<std::vector<Opening>> openings, ground_openings;
  std::vector<Warning> warnings;
};

/// Near the antipode every bearing leads there: the best ones.
struct AntipodalBearing {
  int utc_hour = 0;
  std::size_t frequency = 0;  ///< index into the question's
  double bearing_deg = 0;
  double days_in_ten = 0;  ///< both ways
};

struct PathAnswer {
  PathQuestion question;
  sun::Zone from_clock = sun::Zone::utc(), to_clock = sun::Zone::utc();  ///< sun::legal_zone of both ends
  std::optional<geodesy::Named> from_named, to_named;                    ///< set by an asker who gave names
  std::vector<WayAnswer> ways;
  std::vector<AntipodalBearing>
      antipodal;  ///< best bearing of each hour and frequency, where any works; near the antipode only
  std::vector<Caution> cautions;  ///< of its ways, each once
  std::string asker_note;         ///< the asker's own caution, in his words; stands last
  int variants = 1;               ///< how many answers stand behind least_days and most_days
  int method_variants = 1;        ///< and behind method_least_days and method_most_days
};

[[nodiscard]] PathAnswer answer(const PathQuestion& question);

}  // namespace skerry::circuit
