// What a ReachModel keeps.
// Layer: advice, internal. Sees reach.hpp.
#pragma once

#include <array>
#include <functional>
#include <limits>
#include <memory>
#include <vector>

#include "skerry/advice/reach.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

struct ReachModel::Data {
  const kit::Trip& trip;
  std::span<const kit::Setup> setups;
  const PatternBook& book;
  Stress stress;

  /// Per setup: the first that differs from it in its output alone, or itself. It hears the same, and its wires lie the
  /// same way.
  std::vector<std::size_t> like;

  unsigned month = 1;
  std::vector<SiteHour> hours;
  std::vector<WantedCell> cells;
  double total_weight = 0;
  std::vector<SetupReach> reaches;

  /// People of all targets in a row; path index = (site * people + person) * 2 + way.
  std::vector<int> first_person;  ///< per target
  int people = 0;
  std::vector<int> target_of;  ///< per person in the row
  std::vector<circuit::Station> partners;
  std::vector<double> spread_of;  ///< circuit::unknown_db of a contact with him
  std::vector<sun::Zone> clocks;  ///< clocks_of the trip

  /// Per site: session hours in a row, and where an hour stands in it (-1: no session).
  std::vector<std::vector<int>> site_hours;
  std::vector<std::array<int, 24>> slot_of;
  std::vector<double> site_land;  ///< per site: circuit::land_share, or as the trip says
  std::vector<char> band_used;    ///< by any setup
  /// Per site and session hour ([site][slot]): what counts in each mode of the trip.
  std::vector<std::vector<std::vector<double>>> mode_shares;
  std::vector<double> needed_db;               ///< per mode: its required ratio and its bandwidth
  std::vector<double> partner_dbw;             ///< per person
  std::vector<std::vector<double>> power_dbw;  ///< [setup][band use]
  std::vector<double> short_km;                ///< per site and person, [site * people + person]
  std::vector<std::size_t> sky_base;           ///< per site, into `cells` and (by person) `far_noise`

  /// What does not depend on the own station: shared by models that differ in it alone.
  struct Sky {
    std::vector<circuit::Passage> passages;  ///< [site][person][way][slot][band]
    std::vector<circuit::Noise> far_noise;   ///< [site][person][slot][band]
    /// Received power, less the mode's required ratio and bandwidth, without which the partner hears next to
    /// nothing; laid out like `passages`. For skipping what is hopeless; what passes is computed in full.
    std::vector<double> least_dbw;
  };
  std::shared_ptr<circuit::Circuits> circuits;
  std::shared_ptr<Sky> sky;

  /// What arrives of 1 W at a partner of stated gain 0 dBi, or a home antenna. Per setup band.
  struct Levels {
    int layouts = 1;
    std::vector<circuit::Received> arriving;  ///< [layout][person][way][slot]
  };
  struct Field {
    std::vector<std::vector<int>> level_of;  ///< [setup][band use] into levels
    std::vector<Levels> levels;
  };
  std::shared_ptr<Field> field;
  std::vector<std::vector<std::vector<circuit::Noise>>> home_noise;  ///< [setup][band use][slot]

  [[nodiscard]] std::size_t bands() const { return trip.bands.size(); }
  [[nodiscard]] std::size_t path_index(int site, int person, int way) const {
    return static_cast<std::size_t>((site * people + person) * 2 + way);
  }
  [[nodiscard]] std::size_t slots(int site) const { return nth(site_hours, site).size(); }
  [[nodiscard]] const circuit::Passage& passage(int site, int person, int way, std::size_t slot,
                                                int band) const {
    return sky->passages[sky_index(site, person, way, slot, band)];
  }
  [[nodiscard]] std::size_t noise_index(int site, int person, std::size_t slot, int band) const {
    return nth(sky_base, site) + (static_cast<std::size_t>(person) * slots(site) + slot) * bands() +
           static_cast<std::size_t>(band);
  }

  Data(const kit::Trip& t, std::span<const kit::Setup> s, const PatternBook& b, const Stress& st)
      : trip(t), setups(s), book(b), stress(st) {
    find_like();
  }

  void find_like();

  /// With the same sky, and neither levels nor noises at home yet.
  [[nodiscard]] std::unique_ptr<Data> under_this_sky(const kit::Trip& trip,
                                                     std::span<const kit::Setup> setups,
                                                     const PatternBook& book, const Stress& stress) const;
  void lay_out_cells();
  void make_paths();
  void fill_sky();
  void fill_far_noise();
  /// Every site with every person, on both cores.
  void for_each_path(const std::function<void(int site, int person)>& what) const;
  /// Every way of the sky likewise; the ways of one band and hour in turn.
  void for_each_way(
      const std::function<void(int site, int person, int way, std::size_t slot, int band)>& what) const;
  /// With layouts given, of those alone.
  void fill_levels(std::span<const double> layouts_deg);
  void fill_home_noise();
  void evaluate(std::span<const double> layouts_deg);
  /// One setup, laid out so or as is best; `other` is room to work in.
  void evaluate_one(std::size_t setup, std::optional<double> layout_deg, SetupReach& other);

  [[nodiscard]] circuit::Station partner_station(int person, bool with_gain) const;
  [[nodiscard]] circuit::Station own_station(std::size_t setup, const SetupBand& use, double layout_deg,
                                             double bearing_deg, double power_w) const;
  [[nodiscard]] circuit::Noise partner_noise(int site, int person, int hour, int band) const;
  [[nodiscard]] circuit::Noise own_noise(std::size_t setup, const SetupBand& use, int hour) const;

  [[nodiscard]] const circuit::Received& one_watt(std::size_t setup, std::size_t use, int layout, int person,
                                                  int way, std::size_t slot) const {
    const auto& level = nth(field->levels, field->level_of[setup][use]);
    const int turn = layout % level.layouts;
    return level.arriving[static_cast<std::size_t>((turn * people + person) * 2 + way) *
                              slots(setups[setup].site.value()) +
                          slot];
  }
  [[nodiscard]] std::size_t sky_index(int site, int person, int way, std::size_t slot, int band) const {
    return nth(sky_base, site) * 2 +
           ((static_cast<std::size_t>(person * 2 + way) * slots(site) + slot) * bands() +
            static_cast<std::size_t>(band));
  }
  /// Days in ten, both ways, of one setup band on one path and slot in one mode, from the stored levels; up to
  /// `least` of the way there alone. The long way round only where circuit::long_way_counts.
  [[nodiscard]] double days(std::size_t setup, std::size_t use, std::size_t mode, int layout, int person,
                            int way, std::size_t slot, double least = 0) const;
  /// Of days in a mode of that share: what they count.
  [[nodiscard]] double worth(double share, double days_in_ten) const;
  [[nodiscard]] const std::vector<double>& shares_at(int site, int utc_hour) const {
    return nth(nth(mode_shares, site), nth(nth(slot_of, site), utc_hour));
  }
  /// The mode in which a use is told at an hour: what counts most there of those that its rig has and its band allows;
  /// without a session, that of the use.
  [[nodiscard]] Id<noise::Mode> mode_at(const kit::Rig& rig, const SetupBand& use, int site,
                                        int utc_hour) const;
  /// SetupReach::chance of one layout; a row of the right size, overwritten.
  void weigh_chances(std::size_t setup, int layout, std::vector<float>& chance) const;
};

/// Days in ten that count as none, so that what is hopeless is not computed. Judgement: one day in 200.
inline constexpr double no_days = 0.05;
/// What Stress::antenna_db may be at most.
inline constexpr double most_better_db = 3;
/// Azimuths tried for wires that are not round.
inline constexpr double layout_step_deg = 30;
/// Half a turn is enough where front and back are alike.
[[nodiscard]] inline int layouts_of(const Radiator& radiator) {
  if (!radiator.turns) return 1;
  return radiator.lopsided ? 12 : 6;
}

}  // namespace skerry::advice
