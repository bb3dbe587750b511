// The whole decision on random trips, against trying all subsets.
// Authority: all 2^n kits, each judged by the setups it completes and the hours its packs last; no search involved.

#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

class Dice {
 public:
  explicit Dice(std::uint32_t seed) : from_(seed) {}
  int below(int n) { return static_cast<int>(from_() % static_cast<std::uint32_t>(n)); }
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(from_()) / 4294967295.0);
  }

 private:
  std::mt19937 from_;
};

/// 1 to 3 rigs, 1 or 2 antennas, 1 or 2 masts, 1 to 6 packs some of which are alike, of one voltage or several that rigs
/// may not take, set-up times, one or two sessions on some or all of three days, the second in modes of its own, panels,
/// and bags that may be tight.
kit::Trip random_trip(Dice& dice) {
  kit::Trip t = small_trip();
  t.count_setup_time = dice.below(2) == 0;
  t.charging = std::array{kit::Charging::none, kit::Charging::every_night,
                          kit::Charging::solar}[static_cast<std::size_t>(dice.below(3))];
  if (t.charging == kit::Charging::solar) {
    t.solar_hours = 0.5 * (1 + dice.below(6));
    for (int i = 0; i <= dice.below(2); ++i) {
      auto panel = thing("panel " + std::to_string(i + 1), std::round(dice.between(60, 400)));
      panel.solar_w = 2 + dice.below(10);
      t.items.push_back(panel);
    }
  }
  t.objective = dice.below(4) == 0 ? kit::Objective::days : kit::Objective::chance;
  t.want_days_in_ten = 2;
  t.tolerance = std::array{0.0, 0.0, 0.01, 0.05}[static_cast<std::size_t>(dice.below(4))];
  t.modes.push_back(*noise::find_mode("ssb", {}));
  if (dice.below(3) == 0) t.mode_shares = {0.6, 0.4};
  auto third = t.rigs[1];
  third.item = thing("rig 20 W", std::round(dice.between(500, 1300)));
  third.power_w = 20;
  third.receive_a = 0.4;
  third.transmit_a = 4;
  t.rigs.push_back(third);
  t.rigs.resize(static_cast<std::size_t>(1 + dice.below(3)));
  if (dice.below(2) == 0) t.antennas.resize(1);
  if (dice.below(2) == 0) t.supports.resize(1);
  t.batteries.clear();
  const int packs = 1 + dice.below(t.charging == kit::Charging::solar ? 4 : 6);
  const bool voltages = dice.below(2) == 0;
  for (auto& rig : t.rigs) {
    rig.volts = 13.8;
    if (dice.below(3) == 0) rig.min_volts = 7;
    if (dice.below(4) == 0) rig.max_volts = 14;
    if (dice.below(3) == 0) rig.low_power_w = 0.3 * rig.power_w;
    rig.switching = dice.below(4) == 0;
  }
  for (int i = 0; i < packs; ++i) {
    const double amp_hours = std::array{0.3, 0.5, 0.8, 1.5}[static_cast<std::size_t>(dice.below(4))];
    const double volts =
        std::array{12.8, 12.8, 11.1, 14.8, 7.4}[static_cast<std::size_t>(voltages ? dice.below(5) : 0)];
    t.batteries.push_back(
        pack("pack " + std::to_string(i + 1), volts, amp_hours,
             dice.below(3) == 0 ? 100 * amp_hours + 60 : std::round(dice.between(40, 260))));
  }
  for (auto* list : {&t.antennas[0].setup_minutes, &t.supports[0].setup_minutes}) *list = dice.below(30);
  if (dice.below(2) == 0) {
    auto evening = t.sessions[0];
    evening.start_minute = 16 * 60;
    evening.end_minute = 18 * 60 + 30 * dice.below(3);
    evening.days = {t.first_day};
    if (dice.below(2) == 0) evening.mode_shares = {0.2, 0.8};
    t.sessions.push_back(evening);
  }
  if (dice.below(3) == 0) {
    kit::Bag bag;
    bag.id = bag.name = "bag";
    bag.inner_cm = {55, 40, 25};
    bag.mass_limit_g = std::round(dice.between(900, 3000));
    t.bags = {bag};
  }
  t.mass_limit_g = std::round(dice.between(900, 3600));
  return t;
}

AdviceOptions quick() {
  AdviceOptions o;
  o.openings = o.variants = o.uncertainty = o.frontier = false;
  return o;
}

/// Every kit's reach, from the model and the rules alone.
class AllKits {
 public:
  AllKits(const kit::Trip& trip, const Advice& a)
      : trip_(trip), a_(a), setups_(a.setups), model_(trip, setups_.possible, a.book) {
    for (const auto& slice : session_slices(trip)) {
      const Day day = trip.charging == kit::Charging::none ? trip.first_day : slice.day;
      days_[day][slice.utc_hour] += slice.minutes;
      minutes_[slice.utc_hour] += slice.minutes;
    }
    for (const auto& setup : setups_.possible) {
      unsigned needs = 0;
      for (const auto& id : setup.needs) {
        if (const auto at = a.inventory.by_id.find(id); at != a.inventory.by_id.end())
          needs |= 1U << at->second;
      }
      needs_.push_back(needs);
      double put_up = trip.at(setup.antenna).setup_minutes;
      for (const auto& support : {setup.support, setup.far_support})
        put_up += support ? trip.at(*support).setup_minutes : 0;
      time_.push_back(trip.count_setup_time ? time_left(trip, 0, 1.5 * put_up) : 1);
    }
  }
  [[nodiscard]] double reach_of(unsigned kit) const {
    std::map<Day, double> best;
    double total = 0;
    for (const auto& cell : model_.cells()) total += cell.weight;
    const auto has = [&](const std::string& id) { return ((kit >> a_.inventory.by_id.at(id)) & 1U) != 0; };
    for (const auto r : ids_of(trip_.rigs)) {
      const auto& rig = trip_.at(r);
      // The packs that the rig takes, used at the output of one of them: those that give less stay unused.
      std::set<double> outputs;
      for (const auto& battery : trip_.batteries) {
        if (has(battery.item.id) && takes(rig, battery)) outputs.insert(kit::output_w(rig, battery.volts));
      }
      for (const double power_w : outputs) {
        double fed = 0, drawn_w = 0;
        for (const auto& battery : trip_.batteries) {
          if (!takes(rig, battery) || kit::output_w(rig, battery.volts) < power_w) continue;
          const double a = mean_current_a(trip_, rig, battery.volts);
          drawn_w = std::max(drawn_w, a * battery.volts);
          if (has(battery.item.id)) fed += 60 * kit::hours_on(battery, a);
        }
        if (trip_.charging == kit::Charging::solar) {
          double sun_wh = 0;
          for (const auto& item : trip_.items) {
            if (has(item.id)) sun_wh += 0.7 * item.solar_w * trip_.solar_hours;
          }
          const auto days = static_cast<double>(days_.size());
          fed = std::min(fed, (fed + (days - 1) * 60 * sun_wh / drawn_w) / days);
        }
        work(r, power_w, fed, kit, best);
      }
    }
    double sum = 0;
    for (const auto& [day, got] : best) sum += got;
    return sum / total;
  }

 private:
  static bool takes(const kit::Rig& rig, const kit::Battery& battery) {
    return battery.volts >= rig.min_volts.value_or(0.8 * rig.volts) &&
           battery.volts <= rig.max_volts.value_or(1.1 * rig.volts);
  }
  /// What a rig that sends so much makes of each day with so many minutes.
  void work(Id<kit::Rig> r, double power_w, double fed, unsigned kit, std::map<Day, double>& best) const {
    std::map<int, double> worth;  // by hour
    for (std::size_t c = 0; c < model_.cells().size(); ++c) {
      double most = 0;
      for (std::size_t s = 0; s < needs_.size(); ++s) {
        const auto& setup = setups_.possible[s];
        if (setup.rig != r || setup.power_w != power_w || (needs_[s] & ~kit) != 0) continue;
        most = std::max(most, time_[s] * static_cast<double>(model_.setups()[s].chance[c]));
      }
      worth[model_.cells()[c].utc_hour] += most * model_.cells()[c].weight;
    }
    for (const auto& [day, parts] : days_) {
      std::vector<std::pair<double, double>> rates;  // worth a minute, minutes
      for (const auto& [hour, minutes] : parts) rates.emplace_back(worth[hour] / minutes_.at(hour), minutes);
      std::sort(rates.begin(), rates.end(), std::greater<>());
      double left = fed, got = 0;
      for (const auto& [rate, minutes] : rates) {
        got += rate * std::min(left, minutes);
        left -= std::min(left, minutes);
      }
      best[day] = std::max(best[day], got);
    }
  }

  const kit::Trip& trip_;
  const Advice& a_;
  kit::Setups setups_;
  ReachModel model_;
  std::map<Day, std::map<int, double>> days_;
  std::map<int, double> minutes_;
  std::vector<unsigned> needs_;
  std::vector<double> time_;
};

unsigned mask_of(const std::vector<int>& items) {
  unsigned out = 0;
  for (const int i : items) out |= 1U << i;
  return out;
}

}  // namespace

TEST_CASE("three hundred random trips are decided as trying all subsets decides them", "[advise][property]") {
  Dice dice(20270213);
  constexpr double same = 1e-5;  // chances are floats, hours whole milliseconds
  int works = 0, lighter = 0, tight = 0, sunny = 0, outputs = 0, not_taken = 0, own_modes = 0;
  for (int round = 0; round < 300; ++round) {
    const auto t = random_trip(dice);
    const Advice a = advise(t, quick());
    CAPTURE(round, a.outcome, t.mass_limit_g, t.tolerance);
    const AllKits kits(t, a);
    const auto& things = a.inventory.things;
    REQUIRE(things.size() <= 16);
    const auto feasible = feasible_in_bags(t, a.inventory);
    struct Kit {
      unsigned mask;
      double reach, mass_g;
    };
    std::vector<Kit> allowed;
    for (unsigned mask = 0; mask < (1U << things.size()); ++mask) {
      double mass_g = 0;
      bool legal = true;
      std::vector<int> items;
      for (std::size_t i = 0; i < things.size(); ++i) {
        const bool in = ((mask >> i) & 1U) != 0;
        if (in) items.push_back(static_cast<int>(i));
        mass_g += in ? things[i].mass_g : 0;
        legal = legal && (in || !things[i].always) && !(in && things[i].excluded);
      }
      if (!legal || mass_g > t.mass_limit_g + 1e-9) continue;
      if (feasible && !feasible(items)) {
        ++tight;
        continue;
      }
      allowed.push_back({mask, kits.reach_of(mask), mass_g});
    }
    if (allowed.empty()) {
      CHECK(a.kit.over_limit);
      continue;
    }
    double most = 0, least_g = 1e9;
    for (const auto& k : allowed) most = std::max(most, k.reach);
    CHECK(a.optimum.proved);
    CHECK(a.kit.proved);
    CHECK_THAT(a.optimum.reach, WithinAbs(most, same));
    CHECK_THAT(kits.reach_of(mask_of(a.kit.items)), WithinAbs(a.kit.reach, same));
    if (most <= 0) continue;
    ++works;
    sunny +=
        std::any_of(a.power.begin(), a.power.end(), [](const auto& p) { return !p.panels.empty(); }) ? 1 : 0;
    std::set<double> sent;
    for (const auto& setup : a.setups.possible) sent.insert(setup.power_w.value_or(0));
    outputs += sent.size() > t.rigs.size() ? 1 : 0;
    not_taken += std::any_of(a.inventory.power.begin(), a.inventory.power.end(),
                             [&](const auto& p) { return p.feeds.size() < t.batteries.size(); })
                     ? 1
                     : 0;
    own_modes += t.sessions.back().mode_shares.empty() ? 0 : 1;
    // Lightest within the tolerance; a kit whose reach stands within rounding of the line may go either way.
    double least_sure_g = 1e9;
    for (const auto& k : allowed) {
      if (k.reach <= 0) continue;  // nothing is no kit
      if (k.reach >= most - t.tolerance - same) least_g = std::min(least_g, k.mass_g);
      if (k.reach >= most - t.tolerance + same) least_sure_g = std::min(least_sure_g, k.mass_g);
    }
    CHECK(a.kit.mass_g >= least_g - 1e-6);
    if (t.tolerance > 0) CHECK(a.kit.mass_g <= least_sure_g + 1e-6);
    CHECK(a.kit.reach >= most - t.tolerance - same);
    lighter += a.kit.mass_g < a.optimum.mass_g - 1e-6 ? 1 : 0;
    // What is lost without a thing is what is lost when it is struck from the list.
    for (const auto& item : a.items) {
      if (!item.carry) continue;
      double without = 0;
      for (const auto& k : allowed) {
        if (((k.mask >> item.thing) & 1U) == 0) without = std::max(without, k.reach);
      }
      if (things[static_cast<std::size_t>(item.thing)].always) continue;
      CHECK_THAT(item.reach_without, WithinAbs(without, same));
      CHECK_THAT(item.reach, WithinAbs(most - without, 2 * same));
    }
  }
  CHECK(works > 200);
  CHECK(lighter > 20);
  CHECK(tight > 0);
  CHECK(sunny > 20);
  CHECK(outputs > 40);
  CHECK(not_taken > 40);
  CHECK(own_modes > 40);
}

TEST_CASE("renaming and reordering what is owned changes nothing but names", "[advise][property]") {
  Dice dice(7);
  for (int round = 0; round < 12; ++round) {
    const auto t = random_trip(dice);
    auto other = t;
    std::reverse(other.rigs.begin(), other.rigs.end());
    std::reverse(other.batteries.begin(), other.batteries.end());
    std::reverse(other.antennas.begin(), other.antennas.end());
    std::reverse(other.supports.begin(), other.supports.end());
    for (auto& rig : other.rigs) rig.item.id = "a" + rig.item.id;
    for (auto& battery : other.batteries) battery.item.id = "z" + battery.item.id;
    const auto a = advise(t, quick()), b = advise(other, quick());
    CAPTURE(round);
    CHECK(a.optimum.reach == b.optimum.reach);
    CHECK(a.optimum.mass_g == b.optimum.mass_g);
    CHECK(a.kit.reach == b.kit.reach);
    CHECK(a.kit.mass_g == b.kit.mass_g);
  }
}
