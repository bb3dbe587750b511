// The pieces of compare_log().
// Room: after, internal. Sees log.hpp.
#pragma once

#include <memory>

#include "skerry/after/log.hpp"
#include "skerry/circuit/circuit.hpp"

namespace skerry::after {

/// The kit as it was carried, on the air.
struct LogPlan {
  std::vector<kit::Setup> setups;  ///< those whose things were all carried
  advice::PatternBook book;
  std::vector<double> layouts_deg;
  std::vector<int> carried;  ///< indices into inventory.things
  advice::Inventory inventory;
  advice::OpeningTable openings;  ///< of the trip's regions
};
[[nodiscard]] LogPlan plan_for(const kit::Trip& trip, const LogOptions& options);
/// The same as compare_log() with the plan made already: for many logs of one trip.
[[nodiscard]] LogReport compare_log(const kit::Trip& trip, const Log& log, const LogOptions& options,
                                    const LogPlan& plan);

/// Paths from all sites to single places, with the carried kit: what OpeningTable says of regions, for each.
class PlaceTable {
 public:
  struct Place {
    GeoPoint at;
    kit::Partner partner;
  };
  PlaceTable(const kit::Trip& trip, const LogPlan& plan, std::vector<Place> places);
  [[nodiscard]] const advice::Slot& slot(int site, int place, int utc_hour, int band) const {
    return table_.at(site, place, utc_hour, band);
  }
  /// Noise at a place in 1 Hz, dBW, if it were so many classes noisier than its partner's.
  [[nodiscard]] double noise_dbw(int site, int place, int utc_hour, double mhz, int classes_noisier) const;
  [[nodiscard]] int size() const { return static_cast<int>(places_.size()); }

 private:
  std::vector<Place> places_;
  unsigned month_ = 1;
  advice::OpeningTable table_;
  std::vector<circuit::Circuits> circuits_;  ///< one a site
};

/// One stretch on the air, as the likelihood sees it.
struct Run {
  UtcTime start{}, end{};
  std::string band, mode;
  std::vector<int> counted;  ///< indices into LogReport::contacts that count within it
};
/// Told stretches with the contacts in them; or runs of the log. A run that contacts alone reveal begins with
/// one: that one opens it and does not count, so that the rest is a Poisson process watched until its last
/// event (a stopping time: the likelihood is that of any fixed watch; Berger and Wolpert, The Likelihood
/// Principle, 1988).
[[nodiscard]] std::vector<Run> runs_of(const Log& log, const std::vector<ContactView>& contacts,
                                       const LogOptions& options);

/// Calls f(hour_begun, minutes) for the nearest whole hours of a stretch.
template <class F>
void each_hour(UtcTime start, UtcTime end, F&& f) {
  using namespace std::chrono;
  UtcTime t = start + minutes{30};
  const UtcTime stop = end + minutes{30};
  do {
    const UtcTime begun = floor<hours>(t);
    const UtcTime next = std::min(stop, begun + hours{1});
    f(begun, static_cast<double>((next - t).count()) / 60);
    t = next;
  } while (t < stop);
}

[[nodiscard]] LearnProblem learn_problem(const kit::Trip& trip, const LogPlan& plan, const Log& log,
                                         const std::vector<ContactView>& contacts,
                                         const std::vector<Run>& runs, const PlaceTable& places,
                                         const std::vector<std::optional<int>>& place_of);

/// The trip's band of that id.
[[nodiscard]] std::optional<Id<noise::Band>> band_of(const kit::Trip& trip, const std::string& id);
/// The mode of a contact or run by its id, or the trip's first.
[[nodiscard]] const noise::Mode& mode_or_first(const kit::Trip& trip, const std::string& id);

}  // namespace skerry::after
