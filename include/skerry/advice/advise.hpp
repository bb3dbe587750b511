// The verdict: what to carry, what to leave, and why.
// Layer: advice. Sees everything above it. Plain values; report only prints them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "skerry/advice/choose.hpp"
#include "skerry/advice/inventory.hpp"
#include "skerry/advice/reach.hpp"
#include "skerry/kit/setup.hpp"
#include "skerry/sun/events.hpp"

namespace skerry::advice {

struct AdviceOptions {
  /// Of the main choice. Judgement: real inventories need under 100 nodes; this many take some seconds and
  /// end in "best found, at most ...".
  Stop stop{100000, {}};
  std::uint64_t nodes_per_question = 2000;  ///< of each "what if this stayed / came too"
  bool openings = true;                     ///< fill Advice::openings and SetupUse::openings
  bool uncertainty = true;                  ///< ask again under the low and high solar activity
};

/// One thing of the inventory and its verdict.
///   carried  `reach` is lost when it stays at home: reach of the kit less that of the best kit without it,
///   same limit;
///            `as_it_stands` is lost when it is taken out and nothing else changes
///   left     `reach` is gained when it comes too: the best kit that holds it and what it can never work
///   without, with the
///            limit raised by the mass of those of them that the kit lacks (`added_g`), less the reach of the
///            kit
struct ItemAdvice {
  int thing = 0;  ///< index into Inventory::things
  bool carry = false;
  double reach = 0;
  double as_it_stands = 0;
  double added_g = 0;                  ///< carried: its own mass
  std::optional<double> reach_per_kg;  ///< reach / added_g; none for things without mass
  std::vector<int> with;               ///< left: things that would have to come with it
  std::vector<int> instead;            ///< carried: things of the best kit without it that this kit lacks
  bool exact = true;                   ///< false: the question was stopped before it was proved
  std::string reason;                  ///< one sentence
};

/// Region and hours that nothing else in the kit serves.
struct SoleService {
  int site = 0, target = 0;
  std::vector<int> utc_hours;
  double share = 0;  ///< of all weight
};

struct SetupBandUse {
  SetupBand use;     ///< band, power, mode, radiator
  double reach = 0;  ///< of this setup on this band alone
};

/// A setup all of whose things are in the kit.
struct SetupUse {
  int setup = 0;         ///< index into Advice::setups.possible
  bool in_plan = false;  ///< one of the fewest (greedily) that give the kit's whole reach
  double layout_azimuth_deg = 0;
  bool turns = false;  ///< the layout matters
  double wire_azimuth_deg =
      0;               ///< the wire runs along this line, 0..180 (a sloper or inverted L: towards it, 0..360)
  double alone = 0;    ///< reach of this setup by itself
  double without = 0;  ///< reach of the other setups of the plan (of the kit, when not in the plan)
  std::vector<SetupBandUse> bands;
  std::vector<SoleService> sole;  ///< in the plan: what the others of the plan do not serve
  OpeningTable openings;          ///< in the plan only
};

/// What one band or one antenna means to the kit.
struct Share {
  int index = 0;       ///< into Trip::bands or Trip::antennas
  double alone = 0;    ///< reach with it alone
  double without = 0;  ///< reach of the kit without it, nothing else changed
};

struct TargetReach {
  int target = 0;
  double reach = 0;                         ///< of this region's own weight
  double bearing_deg = 0, distance_km = 0;  ///< from the first site to its largest group of people, short way
  std::vector<double> by_hour;  ///< 24: share of its people served, mean over sites; negative: no session
};

/// One day at one site.
struct DayPlan {
  int site = 0;
  Day date{};
  sun::Day sun;
  std::optional<UtcTime> turn_back;  ///< sunset less descent and margin; none without sunset
  bool session_after = false;        ///< a session of that day runs past it
};

struct Caution {
  std::string topic;  ///< "air", "licence", "site", "exposure", "voltage", "lightning", "power lines",
                      ///< "daylight", "battery", "method", "noise"
  std::string text;
};

/// How firm the choice is.
struct Firmness {
  double fragile = 0;               ///< share of weight served now, by less than edge_days to spare
  double nearly = 0;                ///< share not served, by less than edge_days
  std::optional<Choice> runner_up;  ///< the best kit that lacks at least one thing of this one
  double low_r12 = 0, high_r12 = 0;
  double reach_low = 0, reach_high = 0;  ///< of the kit at low and high activity, same layouts
  double runner_up_low = 0, runner_up_high = 0;
  bool asked_the_sun = false;
  bool toss_up = false;  ///< the runner-up overtakes within the spread of the activity, or is nearer than
                         ///< the weight at the edge could decide and not heavier
  std::string why;
};
/// Judgement: days in ten within which a forecast of this kind cannot tell served from not served.
inline constexpr double edge_days = 0.7;

struct Excluded {
  std::string what, why;
};

struct Advice {
  kit::Setups setups;
  Inventory inventory;
  Problem problem;  ///< items are Inventory::things, setups are setups.possible, cells are `cells`
  std::vector<WantedCell> cells;
  PatternBook book;
  Choice kit;
  SingleChoice single;  ///< the best kit of one setup
  double limit_g = 0;
  bool full_kit_fits = false;  ///< everything that may come is within the limit: nothing had to be decided
  double reach_of_everything = 0;  ///< reach if mass were no matter
  std::vector<ItemAdvice> items;   ///< in the order of the inventory
  std::vector<SetupUse> uses;      ///< plan first, then the other ways the kit allows
  std::vector<Share> bands, antennas;
  std::vector<TargetReach> targets;
  OpeningTable openings;             ///< by the best carried setup
  std::vector<Excluded> impossible;  ///< setups that cannot be and things that cannot come
  std::vector<BatteryPlan> power;    ///< of the rigs in the kit
  std::vector<DayPlan> days;
  std::vector<Caution> cautions;
  Firmness firmness;
  std::string activity_source;
  std::string verdict;  ///< one or two sentences
};

/// Everything in one call: derives the setups, computes reach, chooses exactly, explains. Deterministic for
/// any number of threads.
[[nodiscard]] Advice advise(const kit::Trip& trip, const AdviceOptions& options = {});

/// The problem behind the advice, for frontier() and other questions: cells weighted by time, region and
/// people. A setup takes its own things and the batteries planned for its rig.
[[nodiscard]] Problem packing_problem(const kit::Trip& trip, const Inventory& inventory,
                                      const kit::Setups& setups, const ReachModel& model);

/// Distance within which nobody should stay while sending, m: far-field estimate with full ground reflection,
/// ICNIRP 2020 general public, whole body (E = 300/f^0.7 V/m, H = 2.2/f A/m taken as 377 ohm times H; both
/// must hold).
///   power_w mean over a transmission; gain_dbi free-space gain, at least 2.15 is used; mhz 1.6..30
///   limits  not valid within a wavelength/2 pi of the wire; from memory, a national method goes before it
[[nodiscard]] double exposure_distance_m(double power_w, double gain_dbi, double mhz);

}  // namespace skerry::advice
