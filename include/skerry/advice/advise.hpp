// The verdict: what to carry, what to leave, and why.
// Layer: advice. Sees everything above it. Plain values; report only prints them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "skerry/advice/bags.hpp"
#include "skerry/advice/firmness.hpp"
#include "skerry/advice/inventory.hpp"
#include "skerry/advice/reach.hpp"
#include "skerry/advice/remedies.hpp"
#include "skerry/choose/choose.hpp"
#include "skerry/circuit/conditions.hpp"
#include "skerry/kit/setup.hpp"
#include "skerry/sun/events.hpp"

namespace skerry::advice {

struct AdviceOptions {
  /// Of the main choice. Judgement: real inventories need under 100 nodes; this many take some seconds and
  /// end in "best found, at most ...".
  choose::Stop stop{100000, {}};
  std::uint64_t nodes_per_question = 2000;  ///< of each "what if this stayed / came too"
  bool openings = true;                     ///< fill Advice::openings and SetupUse::openings
  bool variants = true;                     ///< fill Advice::variants
  bool uncertainty = true;                  ///< ask again under other conditions: Firmness, Robustness
  bool frontier = true;                     ///< fill Advice::frontier and Advice::more
  bool remedies = false;                    ///< fill Advice::remedies: some tenths of a second
};

/// What may be asked otherwise than the trip says without a new sky: see Prepared. Things are those of the
/// Inventory.
struct Changes {
  std::optional<double> limit_g{}, tolerance{};
  std::vector<int> must_go{};   ///< as with `always`
  std::vector<int> not_mine{};  ///< as though the trip did not have them, but for kit::Item::absent
};

/// One thing of the inventory and its verdict.
///   carried  `reach` is lost when it stays at home: reach of Advice::optimum less that of the best kit without
///            it, same limit; `as_it_stands` is lost when it is taken out of the kit and nothing else changes
///   left     `reach` is gained when it comes too: the best kit that holds it and what it can never work
///            without, with the limit raised by the mass of those of them that the kit lacks (`added_g`),
///            less what the same with those others alone, under the same limit, reaches; `as_it_stands` is
///            gained when it and they are put into the kit and nothing else changes, at whatever mass
/// What asks for the best of other kits is filled in by Prepared::complete().
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
  double reach_without = 0;            ///< carried: of the best kit without it
  double lighter_g = 0;                ///< carried: so much lighter is the best kit without it
  bool used = true;                    ///< left: some setup that serves anything uses it
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
  /// The wire runs along this line, 0..180 (a sloper or inverted L: towards it, 0..360).
  double wire_azimuth_deg = 0;
  double share_of_hours = 1;  ///< that its packs last, less what putting it up takes where that is counted
  double alone = 0;           ///< reach of this setup by itself
  double without = 0;         ///< reach of the other setups of the plan (of the kit, when not in the plan)
  std::vector<SetupBandUse> bands;
  /// What a conductive mast beside it takes, dB at 20 degrees.
  struct MastCost {
    Id<noise::Band> band;  ///< of Trip::bands: the setup's most useful one
    double db = 0;
  };
  std::optional<MastCost> mast_cost;  ///< [complete] in the plan, where there is such a mast
  std::vector<SoleService> sole;      ///< in the plan: what the others of the plan do not serve
  OpeningTable openings;              ///< in the plan only
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
  /// 24: share of its people served, mean over sites; none: no session.
  std::vector<std::optional<double>> by_hour;
};

/// One day at one site.
struct DayPlan {
  int site = 0;
  Day date{};
  sun::Day sun;
  /// When the light begins to go: the earliest of sunset as seen from the site's height, sunset at sea level,
  /// and the Sun's going behind the site's skyline. A summit sees the Sun longer than the way down does.
  std::optional<UtcTime> light_ends;
  std::optional<UtcTime> turn_back;  ///< light_ends less descent and margin; none without sunset
  bool session_after =
      false;  ///< a session of that day runs past it, or past light_ends where it is not told
};

struct Caution {
  enum class Kind : std::uint8_t {
    measured,      ///< readings of foF2 are in use
    learned,       ///< assumptions learned from logs are in use
    zone,          ///< the time zone of site `index` may be wrong
    air_rules,     ///< who decides
    air_outdated,  ///< the rules no longer hold on the last day
    air_approval,  ///< thing `index` needs the airline's
    air_arguable,  ///< thing `index`
    licence,
    site,      ///< ask for it
    exposure,  ///< distance: kept `a` m, computed `b` m at `c` MHz
    voltage,   ///< at the end of an end-fed wire: `a` V
    lightning,
    power_lines,
    battery_short,  ///< the packs of Advice::power[index] do not last
    battery_care,
    late_sessions,     ///< on `a` of the days a session runs past the time to turn back
    polar_night,       ///< the Sun does not rise on some days
    path,              ///< of target `index`: `of_path`
    medians,           ///< what monthly medians leave out
    one_contact,       ///< a second station is not valued
    atmospheric_noise  ///< it is a coarse substitute
  };
  Kind kind = Kind::site;
  std::optional<int> index{};  ///< where the kind names one
  double a = 0, b = 0, c = 0;
  circuit::Caution of_path{};
};

/// How many contacts the kit may bring: hours on the air times the share of what is wanted that works and has
/// somebody there, times what an hour with everything open and everybody listening yields. Rough.
struct Contacts {
  struct Part {
    int site = 0;
    Day day{};
    double hours = 0;     ///< of session
    double expected = 0;  ///< contacts
  };
  std::vector<Part> days;  ///< by site, then day; of which sessions begin
  double expected = 0;
  /// Four of five such trips lie between, if the yield is as uncertain as it is told to be: the middle of a
  /// log-normal law that has the yield's own spread and that of counting (Poisson). The sky's good and bad days
  /// are in the yield's spread, not beside it.
  double low = 0, high = 0;
  double per_hour = 0;   ///< the yield that was taken
  double factor = 1;     ///< four of five yields lie within it, either way
  bool learned = false;  ///< from the operator's own logs (kit::Learned), not from data/people
};

/// Two bands for two stations on one site at one time.
struct BandPair {
  int a = 0, b = 0;    ///< indices into Trip::bands, a lower
  int harmonic = 0;    ///< this harmonic of a's transmitter falls into b; 0: none
  bool close = false;  ///< nearer than a receiver without a filter bears
  double reach = 0;    ///< of the kit on these two bands alone
  [[nodiscard]] bool together() const { return harmonic == 0 && !close; }
};

/// The kit as it is worked: several antennas are put up one after the other (the choice counts the time of each
/// alone), and in any hour the best bands are visited, no more than so many. Those setups of the plan are put up
/// that leave most reach (all choices among six at a site are tried).
struct Practice {
  double reach = 0;
  int bands_per_hour = 0;             ///< 0: no limit
  std::vector<double> setup_minutes;  ///< per site, of each session
  std::vector<int> raised;            ///< setups put up, indices into Advice::setups.possible
};

/// How much more mass would bring.
struct More {
  double added_g = 0;
  double reach = 0;  ///< of the best kit under the raised limit
};

/// An antenna in one shape, with the bands on which no rig, cable and tuner can use it at some place.
struct UnfitBands {
  Id<kit::Antenna> antenna;
  antenna::Shape shape = antenna::Shape::inverted_v;
  struct Band {
    RefusedBand told;            ///< of the first such place; its setup stands there
    std::size_t other_ways = 0;  ///< places at which the same band is refused too
  };
  std::vector<Band> bands;
};

/// What further wishes a kit may be asked to meet.
enum class Restriction {
  cabin_only,       ///< no bag of the hold
  nothing_arguable  ///< no pole in the cabin, no pack that needs the airline's approval or may be called a
                    ///< power bank, nothing whose rule is known second-hand
};
/// The best kit under a further wish.
struct Variant {
  Restriction restriction = Restriction::cabin_only;
  choose::Choice kit;         ///< items are indices into the same Inventory::things
  std::vector<BagLoad> bags;  ///< where it goes
  std::vector<int> dropped;   ///< things of the chosen kit that it lacks
};

/// How it came out: a kit that works, or the first reason why none does.
enum class Outcome : std::uint8_t {
  works,
  always_cannot_come,  ///< Advice::barred always go and are excluded; the rest was chosen without them
  always_fits_no_bag,  ///< what always goes does not go into the bags together
  always_too_heavy,    ///< what always goes is over the limit
  nothing_to_reach,    ///< no session and region
  no_setup,            ///< nothing can be put on the air
  over_limit,          ///< Advice::lightest works and is too heavy
  blocked,             ///< Advice::lightest would work and cannot come
  no_power,            ///< no rig has any
  no_sky               ///< no kit of any mass works
};

/// No rig of the kit is fed for all hours on the air.
struct BatteryLimit {
  double share = 0;                ///< of the hours on the air, of the rig that is fed longest
  std::optional<BatteryPlan> all;  ///< that rig with every pack there is, where that lasts longer
  double share_of_twice = 0;       ///< without: with as much again
};

/// Hours of session on end in which one band and setup is best for a region.
struct Window {
  int site = 0, target = 0;
  Id<noise::Band> band;
  Id<kit::Setup> setup;  ///< of Advice::setups.possible
  int first_hour = 0,
      hours = 1;    ///< UTC; it runs from half an hour before the first to half an hour after the last
  double days = 0;  ///< in ten, mean over its hours
  geodesy::Way way = geodesy::Way::short_way;  ///< in most of its hours
  double bearing_deg = 0;                      ///< of that way, from the site
};

/// One of the wanted modes as the only one that counts.
struct ModeReach {
  Id<noise::Mode> mode;
  double share = 0;  ///< of it in the choice
  double reach = 0;  ///< of the kit
  /// The best kit if this mode alone decided, and its things that the kit lacks, and the other way.
  choose::Choice best{};
  std::vector<int> comes{}, goes{};
};

/// What Prepared::decide() fills, but for what is marked [complete].
struct Advice {
  Changes changes;        ///< under which it was decided
  bool complete = false;  ///< Prepared::complete() has been here
  kit::Setups setups;
  Inventory inventory;
  choose::Problem problem;  ///< items are Inventory::things, origins are setups.possible, cells are `cells`
  std::vector<WantedCell> cells;
  PatternBook book;
  choose::Choice optimum;  ///< what reaches most
  /// What is recommended: the lightest that reaches as much within the tolerance. `proved`: no lighter one does.
  choose::Choice kit;
  double tolerance = 0;                        ///< kit::Trip::tolerance
  std::vector<ModeReach> modes;                ///< [complete] in the order wished, that some rig has
  choose::Choice single;                       ///< [complete] the best kit with one antenna
  std::optional<Id<kit::Setup>> single_setup;  ///< its best, of setups.possible; none: none fits
  double limit_g = 0;
  bool full_kit_fits = false;  ///< everything that may come is within the limit: nothing had to be decided
  double reach_of_everything = 0;  ///< reach if mass were no matter
  std::vector<ItemAdvice> items;   ///< in the order of the inventory
  std::vector<SetupUse> uses;      ///< plan first, then the other ways the kit allows
  std::vector<Share> bands, antennas;
  std::vector<TargetReach> targets;
  OpeningTable openings;  ///< by the best carried setup
  /// What besides setups.impossible, excluded things and rigs without power cannot be.
  std::vector<UnfitBands> unfit;
  std::vector<Window> windows;     ///< for each region the best first; empty without openings
  std::vector<Remedy> remedies;    ///< [complete] what would mend it
  std::vector<BatteryPlan> power;  ///< of the rigs in the kit
  std::vector<DayPlan> days;
  std::vector<Caution> cautions;
  Firmness firmness;             ///< [complete]
  Robustness robustness;         ///< [complete]
  choose::Frontier frontier;     ///< every undominated kit up to the limit
  std::vector<More> more;        ///< 100 to 500 g above the limit
  double reach = 0;              ///< of the kit, by what the sky allows
  double reach_with_people = 0;  ///< of the kit, each hour counted by the chance that somebody is there
  bool people_counted = false;   ///< the choice was made by the latter
  std::vector<double> shares;    ///< per possible setup: see SetupUse::share_of_hours; 0: not in the kit
  Practice practice;
  Contacts contacts;
  std::vector<BandPair> pairs;  ///< with two operators or two rigs in the kit
  /// The kit shared out among the bags; empty when no bags are listed. See pack_bags().
  std::vector<BagLoad> bags;
  Packed packed = Packed::placed;  ///< whether the bags are known to take it
  std::vector<int> barred;         ///< things that always go and cannot come
  std::vector<Variant> variants;   ///< [complete] best kits under a further wish
  Outcome outcome = Outcome::works;
  std::optional<choose::Choice> lightest;     ///< over_limit and blocked; things excluded among them
  std::vector<BagProblem> in_the_way;         ///< blocked, with no excluded thing
  std::optional<BatteryLimit> battery_limit;  ///< of a kit that works
};

/// No better kit exists, it holds what always goes, and the bags are known to take it.
[[nodiscard]] bool proved(const Advice& advice);

/// Things of `other` that `kit` lacks, and the other way; all sorted.
void differences(const std::vector<int>& kit, const std::vector<int>& other, std::vector<int>& comes,
                 std::vector<int>& goes);

/// Everything in one call: prepares the trip, decides, completes. Deterministic for any number of threads.
[[nodiscard]] Advice advise(const kit::Trip& trip, const AdviceOptions& options = {});

/// Every setup once for each output that the packs that may come give its rig (Setup::power_w and SetupBand::power_w;
/// the strongest stay in place, the others come behind): with such a setup only packs are used that give so much, and
/// what they give beyond it is not counted. Setups of a rig without packs stay as they are.
void feed_setups(const kit::Trip& trip, const Inventory& inventory, kit::Setups& setups, PatternBook& book);
/// The book of setups that name their output: no band of theirs sends more.
void limit_to_feeds(const kit::Trip& trip, const kit::Setups& setups, PatternBook& book);

/// The problem behind the advice. Cells are weighted by time, region and its people, and by the chance of an
/// answer where the trip counts that; turns are site hours, spells the days between two charges, engines the
/// rigs, each once for every output of its setups and for every choice of panels, fed by packs that give that
/// output. One engine a day: no pack counts for two rigs. One way for each possible setup (its origin) and engine:
/// its chances less what putting it up and taking it down leaves of the sessions, where the trip counts that.
[[nodiscard]] choose::Problem packing_problem(const kit::Trip& trip, const Inventory& inventory,
                                              const kit::Setups& setups, const ReachModel& model);

/// The best kit when some things must stay and some must come, at the same limit.
struct WhatIf {
  /// Things. `add` ends with what those asked for can never work without (unless that is dropped).
  std::vector<int> drop, add;
  choose::Choice kit;            ///< over_limit: what must come is too heavy or fits no bag
  double reach = 0;              ///< kit.reach less that of the advice
  double mass_g = 0;             ///< the same of mass
  std::vector<int> comes, goes;  ///< against the recommended kit
  /// The recommended kit with these things put in and taken out and nothing else changed.
  double as_it_stands_reach = 0, as_it_stands_mass_g = 0;
  bool as_it_stands_fits = false;
};
/// No thing may be excluded (Inventory) or stand in both lists.
[[nodiscard]] WhatIf what_if(const Advice& advice, std::vector<int> drop, std::vector<int> add,
                             const choose::Stop& stop = {});

/// The same trip, index for index, under the restriction: bags of the hold taken away, or poles held to the
/// hold and arguable packs kept at home. Its inventory and problem are those of any trip.
[[nodiscard]] kit::Trip restricted(const kit::Trip& trip, Restriction restriction);
/// Distance within which nobody should stay while sending, m: far-field estimate with full ground reflection,
/// ICNIRP 2020 general public, whole body (E = 300/f^0.7 V/m, H = 2.2/f A/m taken as 377 ohm times H; both
/// must hold).
///   power_w mean over a transmission; gain_dbi free-space gain, at least 2.15 is used; mhz 1.6..30
///   limits  not valid within a wavelength/2 pi of the wire; from memory, a national method goes before it
[[nodiscard]] double exposure_distance_m(double power_w, double gain_dbi, double mhz);

}  // namespace skerry::advice
