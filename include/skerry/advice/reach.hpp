// Which of the wanted (hour, region) cells each setup would serve, and how well.
// Layer: advice. Sees everything above it.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/advice/patterns.hpp"
#include "skerry/choose/choose.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"

namespace skerry::advice {

/// Time spent at a site around a whole UTC hour, summed over the days of the trip. The nearest hour gets it:
/// 05:30 to 06:30 is hour 6, whose sky is computed for 06:00.
struct SiteHour {
  int site = 0;
  int utc_hour = 0;
  double minutes = 0;
  std::vector<double> mode_shares{};  ///< of the minutes, in each of Trip::modes
};
/// One whole UTC hour of one day, and the minutes of session around it.
struct DayHour {
  int site = 0;
  int utc_hour = 0;
  UtcTime begun{};  ///< the whole hour itself
  Day day{};        ///< of the site's calendar, on which the session began
  double minutes = 0;
  /// By whose modes it counts; none: a trip without sessions. Where sessions with modes of their own overlap, the one
  /// that began earlier.
  std::optional<Id<kit::Session>> session{};
};
/// The pieces that session_hours sums: by site, then time.
[[nodiscard]] std::vector<DayHour> session_slices(const kit::Trip& trip);
/// By site, then hour; hours without any session are left out. Sessions that overlap count once. Local times
/// by the site's zone on each day, daylight saving included. A trip without sessions: 60 minutes of all 24
/// hours on each day.
[[nodiscard]] std::vector<SiteHour> session_hours(const kit::Trip& trip);
/// Share of a site's session time that is left when each session (touching ones are one) begins with so many
/// minutes of setting up. 1 for a trip without sessions.
[[nodiscard]] double time_left(const kit::Trip& trip, int site, double setup_minutes);

/// One thing wanted: these people of that region at this hour from this site.
struct WantedCell {
  int site = 0, utc_hour = 0, target = 0, person = 0;
  double weight = 0;  ///< minutes x weight of the region x share of its people
  /// The same times the chance that somebody is there to answer (advice/people.hpp).
  double people_weight = 0;
};

/// Conditions other than the trip file's, for "what if".
struct Stress {
  std::optional<ionosphere::R12> r12;
  bool noisier = false;                 ///< one class more man-made noise at the site and at its partners
  double antenna_db = 0;                ///< added to all own antennas' gain (negative: worse)
  std::optional<Id<noise::Mode>> mode;  ///< counted alone, whatever the trip's shares
  std::optional<circuit::FarMethod> method;  ///< of far paths
  bool no_es = false;                        ///< sporadic E left out
};

/// Whose numbers they are.
struct ServedBy {
  Id<kit::Setup> setup;
  Id<noise::Mode> mode;               ///< of Trip::modes
  Id<geodesy::WeightedPoint> person;  ///< of the region: the weighted median by days both ways
  friend bool operator==(const ServedBy&, const ServedBy&) = default;
};

/// One region, hour and band under some setups: the middle of its people, both directions.
struct Slot {
  std::optional<ServedBy> by;                           ///< none: closed, as circuit::Direction::open
  double days_there = 0, days_back = 0, days_both = 0;  ///< in ten
  double days_as_assumed = 0;                           ///< for a partner just as stated, both ways
  double es_days = 0;                                   ///< by sporadic E alone, both ways
  double spread_db = 0;                      ///< of what is not known of the partner and the method
  double snr_there_db = 0, snr_back_db = 0;  ///< median, in the mode's reference bandwidth
  double elevation_deg = 0;                  ///< of the strongest mode, at the site
  /// Share of days on which the layer carries that mode, 0..1; 0 by the long-path method.
  double support = 0;
  geodesy::Way way = geodesy::Way::short_way;
  /// Decile distances of the two ratios, and the received powers.
  double there_upper_db = 0, there_lower_db = 0, back_upper_db = 0, back_lower_db = 0;
  double there_dbw = 0, back_dbw = 0;
  [[nodiscard]] bool open() const { return by.has_value(); }
};

/// The first of a region's groups of people that no other outweighs; it has one at least.
[[nodiscard]] int largest_group(const kit::Target& target);
/// The partner of a region at one of its places.
[[nodiscard]] circuit::Station partner_station(const kit::Partner& partner, GeoPoint where);
/// circuit::land_share of a site, unless the trip says whether land is near.
[[nodiscard]] double land_share_of(const kit::Site& site);

/// All 24 hours, all regions and bands, for a group of setups (each slot by the best of them).
struct OpeningTable {
  std::size_t sites = 0, targets = 0, bands = 0;
  std::vector<Slot> slots;
  [[nodiscard]] const Slot& at(int site, int target, int utc_hour, int band) const {
    return slots[((static_cast<std::size_t>(site) * targets + static_cast<std::size_t>(target)) * 24 +
                  static_cast<std::size_t>(utc_hour)) *
                     bands +
                 static_cast<std::size_t>(band)];
  }
};

struct SetupReach {
  /// The wires' x axis is turned clockwise by this from east: they run to azimuth 90 + this.
  double layout_azimuth_deg = 0;
  bool turns = false;  ///< whether the layout matters at all
  /// Per cell, 0..1: the share of days on which it works both ways on the best band of each mode, the modes by
  /// their shares; under Objective::days 1 or 0.
  std::vector<float> chance;
  double alone = 0;  ///< reach of this setup by itself, 0..1
};

/// The sky over all paths of a trip, and what each setup makes of it.
///   a cell counts  by the share of days on which the best band works both ways, short or long way round
///                  (circuit::both_ways of the two directions), in the modes that the choice counts
///   layout         of antennas that are not round: the azimuth out of 0, 30, ... 150 (330 where front and
///                  back differ) with the best reach of the setup alone, the smallest among equals; or as
///                  given, to the nearest 30; of setups that differ in their output alone that of the first
///   method         ITU-R P.533 by circuit::, P.372 by noise::; monthly median sky at the middle of the trip
/// Keeps references to trip, setups and book: they must outlive it.
class ReachModel {
 public:
  ReachModel(const kit::Trip& trip, std::span<const kit::Setup> setups, const PatternBook& book,
             const Stress& stress = {}, std::span<const double> layouts_deg = {});
  /// The same setups, laid out as they are here, under other conditions. The sky and the levels are shared
  /// unless the solar activity differs.
  [[nodiscard]] ReachModel under(const Stress& stress) const;
  /// Other setups, patterns or ground under the same sky: a trip that differs in nothing else.
  ///   layouts_deg  one for each setup
  [[nodiscard]] ReachModel over(const kit::Trip& trip, std::span<const kit::Setup> setups,
                                const PatternBook& book, std::span<const double> layouts_deg) const;
  ReachModel(ReachModel&&) noexcept;
  ~ReachModel();

  [[nodiscard]] const std::vector<WantedCell>& cells() const;
  [[nodiscard]] const std::vector<SetupReach>& setups() const;
  [[nodiscard]] double total_weight() const;
  /// SetupReach::chance of a setup on one band alone, in the order of PatternBook::setups[setup]; computed here.
  [[nodiscard]] std::vector<std::vector<float>> by_band(int setup) const;
  /// Best days in ten both ways per cell under a group of setups, in the mode that counts most there.
  [[nodiscard]] std::vector<double> best_days(std::span<const int> setups) const;
  [[nodiscard]] OpeningTable openings(std::span<const int> setups) const;
  /// One table for each group, sharing what their setups have in common.
  [[nodiscard]] std::vector<OpeningTable> openings(const std::vector<std::vector<int>>& groups) const;
  /// That a person of a region goes by.
  [[nodiscard]] const sun::Zone& clock(int target, int person) const;
  /// Short path from a site to a region's person, for bearings and distances.
  [[nodiscard]] const geodesy::Path& path(int site, int target, int person) const;

  struct Data;

 private:
  explicit ReachModel(std::unique_ptr<Data> data);
  std::unique_ptr<Data> data_;
};

}  // namespace skerry::advice
