// A trip as its file tells it: where, when, to whom, and what one owns.
// Layer: kit. Sees everything above it. Plain values; every number checked by the reader
// (files/trip_file.hpp).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "skerry/antenna/kinds.hpp"
#include "skerry/core/id.hpp"
#include "skerry/core/time.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/geodesy/surroundings.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "skerry/ionosphere/climate.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/noise/noise.hpp"
#include "skerry/sun/localtime.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::kit {

struct Site {
  std::string id, name;
  GeoPoint at;
  double altitude_m = 0;
  antenna::Ground ground;  ///< under the antenna
  /// Two-medium foreground: from this distance outwards in these directions the ground is sea. 0: no sea in
  /// sight.
  double sea_from_m = 0;
  double sea_azimuth_from_deg = 0, sea_azimuth_to_deg = 360;
  geodesy::Shore shore;  ///< direction by direction, in the place of the above
  /// The ground falls by this much away from the antenna (negative: rises), -30..30: towards that azimuth, or
  /// all round (a summit) when none is said.
  double slope_deg = 0;
  std::optional<double> slope_azimuth_deg;
  geodesy::Foreground foreground;  ///< by azimuth, in the place of a slope
  noise::Environment environment = noise::Environment::quiet;
  std::optional<bool> near_land;  ///< a large land mass within about 300 km; none: by the map
  sun::Zone zone = sun::Zone::utc();
  geodesy::Horizon horizon;
  std::optional<double>
      descent_minutes;  ///< to the road; turn-back: sunset - this - margin; none: not told, none
  double daylight_margin_minutes = 60;
  /// What elevation files say of it, and what of that was told by hand and holds instead.
  struct FromFiles {
    geodesy::Surroundings found;
    bool altitude_told = false, horizon_told = false, foreground_told = false, shore_told = false;
  };
  std::optional<FromFiles> from_files;
  int line = 0;  ///< in the trip file
  /// Where the sea begins in this direction, m; 0: no sea in sight.
  [[nodiscard]] double sea_towards_m(double azimuth_deg) const;
  /// Takes over all that is not told by hand.
  void take(FromFiles from);
};

/// When one operates, local clock time of the site, on every day of the trip or on the named days.
/// A trip without any session operates all 24 hours (the reader then fills in one session for each site).
struct Session {
  std::string site;  ///< site id
  int start_minute = 0,
      end_minute = 24 * 60;  ///< minutes of the local day; end > start, may exceed 1440 (past midnight)
  std::vector<Day> days;     ///< empty: every day of the trip
  int line = 0;
  std::vector<double> mode_shares{};  ///< of its own, as Trip::mode_shares but told; empty: the trip's
};

struct Partner {
  double power_w = 100;
  std::optional<double> gain_dbi;   ///< at all angles; none: a usual home antenna
  std::optional<double> spread_db;  ///< from one partner to the next; none: the usual
  noise::Environment environment = noise::Environment::residential;
};

struct Target {
  geodesy::Region region;
  std::vector<geodesy::WeightedPoint> people;
  double weight = 1;
  Partner partner;
};

/// Judgement: pegs and guys of a mast, cells of a charger; more of one kind is a wrong number.
inline constexpr int most_alike = 20;
/// Things with mass and size; everything packed is one of these underneath.
struct Item {
  std::string id, name;
  double mass_g = 0;
  std::optional<std::array<double, 3>> size_cm;  ///< box
  std::optional<std::array<double, 2>> tube_cm;  ///< length, diameter: a long rigid thing
  bool sharp = false;                            ///< blades, stakes, tools: hold only
  bool blunt = false;                            ///< club-like: heavy, rigid, swings: hold only
  bool fuel = false;                             ///< burns: gas, petrol, alcohol: stays at home
  int count = 1;         ///< the file has so many of it, all alike, this one among them
  double liquid_ml = 0;  ///< of one container; over 100 ml not through security
  bool always = false;   ///< goes whatever happens (log, lamp, first aid)
  bool absent = false;   ///< not at hand after all: cannot come (never read from a file)
  double solar_w = 0;    ///< of a panel that charges packs, in full sun; 0: it is none
  int line = 0;          ///< in the trip file, or in the library when `library`
  bool library = false;  ///< it came from the library that the trip names
  bool operator==(const Item&) const = default;
};

struct Rig {
  Item item;
  double power_w = 5;
  double receive_a = 0.3, transmit_a = 2;
  double volts = 13.8;  ///< at which power_w, receive_a and transmit_a hold
  /// Nominal voltages of the packs that it takes; none: kit::volts_taken.
  std::optional<double> min_volts, max_volts;
  std::optional<double> low_power_w;  ///< output at min_volts; none: kit::output_w
  bool switching = true;              ///< draws the same power at any voltage; else the same current
  std::vector<std::string> bands;     ///< empty: all
  std::vector<std::string> modes;     ///< empty: all
  bool tuner = false;                 ///< a tuner built in
  double noise_figure_db = 15;
  bool operator==(const Rig&) const = default;
};

struct Antenna {
  Item item;
  antenna::Design design;
  /// Supports it can go on; empty: any.
  std::vector<std::string> supports;
  /// Wires given point by point instead of a kind.
  std::optional<antenna::WireAntenna> wires;
  std::vector<std::string> bands;  ///< empty: whatever its kind allows
  std::vector<std::string> needs;  ///< ids of other items that must come along
  bool self_standing = false;      ///< a whip or frame that stands without any support
  double setup_minutes = 10;
};

struct Support {
  Item item;
  double height_m = 6;  ///< nominal, extended
  double usable_m = 0;  ///< 0: 85 % of height_m
  bool conductive = false;
  /// How far from a conductive one a wire that runs along it is held, m; none: taped to it.
  std::optional<double> standoff_m;
  bool needs_guys = false;
  bool at_site = false;  ///< a tree, rock or rail found there: no mass, at the named sites or at all
  std::vector<std::string> sites;  ///< with at_site: the sites that have it; empty: all
  std::vector<std::string> needs;
  double setup_minutes = 10;
  /// Where wire can be fixed, m: the given usable_m, or 85 % of height_m (the thin top bends; common practice
  /// 80 to 90 %).
  [[nodiscard]] double usable_height_m() const { return usable_m > 0 ? usable_m : 0.85 * height_m; }
  bool operator==(const Support&) const = default;
};

struct Cable {
  Item item;
  std::string type;
  double length_m = 10;
  bool operator==(const Cable&) const = default;
};
struct Tuner {
  Item item;
  double max_swr = 10;
  std::optional<double> loss_db;  ///< none: by impedance
  bool operator==(const Tuner&) const = default;
};
struct Battery {
  Item item;
  double volts = 12.8, amp_hours = 6;
  std::string chemistry = "lifepo4";  ///< lifepo4, li-ion, lead-acid, nimh
  bool spare = true;                  ///< not inside equipment
  bool usb_outlet = false;            ///< likely to be called a power bank
  double usable = 0.9;                ///< share
  bool damaged = false;               ///< swollen, dented, recalled: never flies
  [[nodiscard]] double watt_hours() const { return volts * amp_hours; }
  bool operator==(const Battery&) const = default;
};
/// When somebody is at the other end, by the local hour there. Without the user's own tables those of
/// data/people hold.
struct People {
  bool used = true;    ///< false: somebody is always there
  bool count = false;  ///< the choice is made by the people-weighted reach
  std::optional<std::array<double, 24>> weekday, weekend;  ///< 0..1 by local hour
};
struct Bag {
  std::string id, name;
  std::array<double, 3> inner_cm{};
  double mass_limit_g = 0;  ///< contents and bag together
  double own_mass_g = 0;
  /// Each inner side is this much shorter than told: wheels, seams, rounded corners. Judgement: common
  /// practice loses 1 to 3 cm; the least of it where the inside was measured.
  double lining_cm = 1;
  bool hold = false;
  std::string person;
  int line = 0;
};

/// One thing of a library.
struct LibraryEntry {
  std::string kind;  ///< "rig", "antenna", "support", "cable", "tuner", "battery", "bag", "item"
  Item item;         ///< of a bag: its own mass and inside as a box
  std::string text;  ///< as it stands in the file, with the comment above it; ends in a line break
};

/// When the packs are charged.
enum class Charging : std::uint8_t {
  every_night,  ///< at a socket
  none,         ///< never on the trip
  solar         ///< by the panels that come along (Item::solar_w)
};

/// What the choice counts of an hour and a region.
enum class Objective : std::uint8_t {
  chance,  ///< the share of days on which a contact works
  days     ///< one where it works on Trip::want_days_in_ten, else nothing
};

/// What an earlier log taught (`skerry log --learn`), named by the trip with [trip] learned = "FILE".
struct Learned {
  std::string file;     ///< as the trip names it; empty: none in use
  double erp_db = 0;    ///< added to what is sent, and to nothing that is heard
  int far_noise = 0;    ///< partners' man-made noise: so many classes noisier (negative: quieter)
  bool people = false;  ///< `listeners` holds its tables
  int contacts = 0;     ///< that taught it
  /// On the air with all of the regions open on the band and everybody there listening; none: not learned.
  std::optional<double> contacts_per_hour;
  [[nodiscard]] bool in_use() const { return !file.empty(); }
};

/// Measured: see docs/packing.md, "What a difference between two kits is worth".
inline constexpr double default_tolerance = 0.01;

struct Trip {
  std::string file, name;
  Day first_day{}, last_day{};
  ionosphere::Climate climate;        ///< day: the middle of the trip
  ionosphere::R12 low_r12, high_r12;  ///< about one standard deviation either way
  ionosphere::ActivitySource activity_source;
  bool sporadic_e = true;  ///< ways by sporadic E count
  double want_days_in_ten = 5;
  double mass_limit_g = 0;  ///< of everything carried for radio
  std::vector<Site> sites;
  std::vector<Session> sessions;  ///< at least one for each site, as read from a file
  std::vector<Target> targets;
  std::vector<noise::Band> bands;  ///< licensed, as the ITU Region of the first site has them, lowest first
  std::vector<noise::Mode> modes;  ///< wanted, best first
  /// Of the modes, in their order: how much of the operating the choice counts in each, 0..1, summing to 1.
  /// Empty: the first alone.
  std::vector<double> mode_shares;
  double licence_power_w = 1e9;
  std::vector<Rig> rigs;
  std::vector<Antenna> antennas;
  std::vector<Support> supports;
  std::vector<Cable> cables;
  std::vector<Tuner> tuners;
  std::vector<Battery> batteries;
  std::vector<Bag> bags;
  std::vector<Item> items;
  int people = 1;
  People listeners;
  Learned learned;
  int bands_per_hour = 0;        ///< most bands one works in an hour; 0: as many as are open
  bool count_setup_time = true;  ///< the choice counts the session time that putting up and taking down take
  Objective objective = Objective::chance;
  Charging charging = Charging::every_night;
  double solar_hours = 0;                ///< of full sun a day, where charging is solar
  double tolerance = default_tolerance;  ///< share of reach under which two kits are the same, 0..1

  [[nodiscard]] double share_of(Id<noise::Mode> mode) const {
    return mode_shares.empty() ? (mode.value() == 0 ? 1 : 0) : nth(mode_shares, mode.value());
  }
  /// The same in one session.
  [[nodiscard]] double share_of(const Session& session, Id<noise::Mode> mode) const {
    return session.mode_shares.empty() ? share_of(mode) : nth(session.mode_shares, mode.value());
  }
  [[nodiscard]] const Site& at(Id<Site> id) const { return nth(sites, id); }
  [[nodiscard]] const Rig& at(Id<Rig> id) const { return nth(rigs, id); }
  [[nodiscard]] const Antenna& at(Id<Antenna> id) const { return nth(antennas, id); }
  [[nodiscard]] const Support& at(Id<Support> id) const { return nth(supports, id); }
  [[nodiscard]] const Cable& at(Id<Cable> id) const { return nth(cables, id); }
  [[nodiscard]] const Tuner& at(Id<Tuner> id) const { return nth(tuners, id); }
};

/// So many classes noisier (negative: quieter), as far as there are classes.
[[nodiscard]] noise::Environment shifted(noise::Environment from, int classes_noisier);
/// Whether the zone of a site may be wrong in the days of the trip.
[[nodiscard]] std::optional<sun::ZoneDoubt> zone_doubt(const Trip& trip, const Site& site);

}  // namespace skerry::kit
