// The kit under other conditions.

#include <algorithm>
#include <cmath>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

AdviceOptions only_uncertainty() {
  AdviceOptions o;
  o.openings = o.variants = false;
  return o;
}

using Kind = Scenario::Kind;

const Scenario& first_of(const Advice& a, Kind kind) {
  for (const auto& s : a.robustness.scenarios) {
    if (s.kind == kind) return s;
  }
  FAIL("no scenario " << static_cast<int>(kind));
  return a.robustness.scenarios.front();
}

/// Reach of the kit in another trip with the same inventory.
double reach_in(const Advice& a, const kit::Trip& other) {
  const auto book = pattern_book(other, a.setups.possible);
  const ReachModel model(other, a.setups.possible, book);
  const auto problem = packing_problem(other, a.inventory, a.setups, model);
  return choose::Solver(problem).reach_of(a.kit.items);
}

}  // namespace

TEST_CASE("the scenarios are the trip with that one thing written into it", "[robust][known]") {
  auto t = small_trip();
  // Verticals only: no layout to choose, so that the changed trip cannot lay its wires out anew.
  t.antennas = {t.antennas[1]};
  t.mass_limit_g = 9000;
  const Advice a = advise(t, only_uncertainty());
  REQUIRE(a.kit.reach > 0);
  auto quiet_sun = t;
  quiet_sun.climate.r12 = t.low_r12;
  CHECK_THAT(first_of(a, Kind::quieter_sun).kit, WithinAbs(reach_in(a, quiet_sun), 1e-9));
  auto active_sun = t;
  active_sun.climate.r12 = t.high_r12;
  CHECK_THAT(first_of(a, Kind::active_sun).kit, WithinAbs(reach_in(a, active_sun), 1e-9));
  auto noisy = t;
  noisy.sites[0].environment = noise::noisier(t.sites[0].environment);
  for (auto& target : noisy.targets) target.partner.environment = noise::noisier(target.partner.environment);
  CHECK_THAT(first_of(a, Kind::noisier_site).kit, WithinAbs(reach_in(a, noisy), 1e-6));
  // 2 dB less at both ends of a path is the same as 2 dB less power there and from there.
  auto weak = t;
  for (auto& rig : weak.rigs) rig.power_w *= std::pow(10.0, -0.2);
  for (auto& target : weak.targets) target.partner.power_w *= std::pow(10.0, -0.2);
  CHECK_THAT(first_of(a, Kind::worse_antennas).kit, WithinAbs(reach_in(a, weak), 1e-6));
  // Ground one class off: a third of the conductivity and three times, the permittivity by 1.4. The kit's own bands
  // alone are asked, so that at most a band that comes up there is missed.
  for (const bool better : {false, true}) {
    auto other = t;
    auto& ground = other.sites[0].ground;
    ground.sigma_s_per_m *= better ? 3.0 : 1 / 3.0;
    ground.eps_r *= better ? 1.4 : 1 / 1.4;
    const double whole = reach_in(a, other);
    const double told = first_of(a, better ? Kind::better_ground : Kind::poorer_ground).kit;
    CHECK(told <= whole + 1e-6);
    CHECK(told >= whole - 0.002);
    CHECK((better ? told > a.kit.reach : told < a.kit.reach));
  }
  // One of three equal days lost: two thirds of what was reached are left of what was wanted.
  CHECK_THAT(first_of(a, Kind::session_lost).kit, WithinAbs(a.kit.reach * 2 / 3, 1e-7));
}

TEST_CASE("worse conditions never reach more", "[robust][property]") {
  const Advice a = advise(small_trip(), only_uncertainty());
  for (const Kind kind : {Kind::noisier_site, Kind::worse_antennas, Kind::session_lost}) {
    const auto& s = first_of(a, kind);
    CHECK(s.kit <= a.kit.reach + 1e-12);
    CHECK(s.best >= s.kit - 1e-12);
    CHECK(s.best >= s.runner_up - 1e-12);
  }
}

// Authority: all 2^n kits of the small inventory, each in all scenarios.
TEST_CASE("the robust kit has the best worst case, and the bound holds", "[robust][known]") {
  for (const double limit_g : {2200.0, 2800.0, 3200.0}) {
    auto t = small_trip();
    t.mass_limit_g = limit_g;
    const Advice a = advise(t, only_uncertainty());
    const auto& r = a.robustness;
    CHECK(r.worst >= r.worst_of_chosen - 1e-12);
    CHECK(r.bound >= r.worst - 1e-12);
    CHECK(r.kit.mass_g <= limit_g);
    CHECK(r.proved == (r.worst >= r.bound - 1e-9));
    double least = r.kit.reach;
    for (const auto& s : r.scenarios) least = std::min(least, s.robust);
    CHECK_THAT(least, WithinAbs(r.worst, 1e-9));
    least = a.kit.reach;
    for (const auto& s : r.scenarios) least = std::min(least, s.kit);
    CHECK_THAT(least, WithinAbs(r.worst_of_chosen, 1e-9));
    CHECK(r.differs == (r.worst > r.worst_of_chosen + 0.005));
  }
}

TEST_CASE("the rival is the best of all kits in the mean, and a toss-up is what its leads say",
          "[robust][property]") {
  int rivals = 0;
  for (const double limit_g : {1800.0, 2200.0, 2600.0, 2800.0, 3200.0, 4000.0}) {
    for (const double tolerance : {0.0, 0.02}) {
      auto t = small_trip();
      t.mass_limit_g = limit_g;
      t.tolerance = tolerance;
      const Advice a = advise(t, only_uncertainty());
      const auto& f = a.firmness;
      if (a.kit.reach <= 0 || !f.runner_up) continue;
      ++rivals;
      CHECK(f.runner_up->mass_g <= limit_g);
      CHECK_FALSE((f.comes.empty() && f.goes.empty()));
      double lead = a.kit.reach - f.runner_up->reach;
      int ahead = f.runner_up->reach - a.kit.reach > tolerance ? 1 : 0;
      for (const auto& s : a.robustness.scenarios) {
        lead += s.kit - s.runner_up;
        if (s.runner_up - s.kit > tolerance) ++ahead;
      }
      const auto cases = static_cast<double>(a.robustness.scenarios.size() + 1);
      CHECK_THAT(f.mean_lead, WithinAbs(lead / cases, 1e-9));
      CHECK_THAT(f.ahead, WithinAbs(ahead / cases, 1e-9));
      const bool too_near = std::abs(f.mean_lead) < tolerance && f.runner_up->mass_g <= a.kit.mass_g + 1e-6;
      CHECK(f.toss_up == (f.ahead >= 0.25 || too_near));
    }
  }
  CHECK(rivals >= 6);
}

TEST_CASE("water under the antennas has no class to be off by", "[robust][edge]") {
  auto t = small_trip();
  t.sites[0].ground = antenna::sea();
  const auto a = advise(t, only_uncertainty());
  for (const auto& s : a.robustness.scenarios) {
    CHECK(s.kind != Kind::poorer_ground);
    CHECK(s.kind != Kind::better_ground);
  }
}
