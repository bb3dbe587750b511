// Frontier, what-if, practice, pairs of bands, and what changes when the inventory does.

#include <algorithm>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

AdviceOptions quick() {
  AdviceOptions o;
  o.openings = o.uncertainty = o.variants = o.frontier = false;
  return o;
}

int id_of(const Advice& a, const std::string& id) {
  return a.inventory.by_id.at(id);
}

bool holds(const std::vector<int>& items, int item) {
  return std::find(items.begin(), items.end(), item) != items.end();
}

}  // namespace

// Authority: all 2^n kits of the small inventory.
TEST_CASE("the frontier of an advice is every kit no other beats", "[advise][known]") {
  auto t = small_trip();
  t.mass_limit_g = 3200;
  auto o = quick();
  o.frontier = true;
  const Advice a = advise(t, o);
  REQUIRE(a.frontier.complete);
  REQUIRE(a.frontier.kits.size() >= 2);
  const auto n = a.problem.items.size();
  const choose::Solver solver(a.problem);
  const auto best_at = [&](double limit_g) {
    double best = 0;
    for (unsigned subset = 0; subset < (1U << n); ++subset) {
      std::vector<int> kit;
      for (unsigned i = 0; i < n; ++i) {
        if (((subset >> i) & 1U) != 0) kit.push_back(static_cast<int>(i));
      }
      if (!holds(kit, id_of(a, "log")) || choose::mass_of(a.problem, kit) > limit_g) continue;
      best = std::max(best, solver.reach_of(kit));
    }
    return best;
  };
  for (std::size_t k = 0; k < a.frontier.kits.size(); ++k) {
    const auto& kit = a.frontier.kits[k];
    CHECK_THAT(best_at(kit.mass_g), WithinAbs(kit.reach, 1e-12));
    CHECK(best_at(kit.mass_g - 0.5) < kit.reach);  // all masses are whole grams
    if (k > 0) CHECK(kit.reach > a.frontier.kits[k - 1].reach);
  }
  CHECK(a.frontier.kits.back().items == a.kit.items);
  REQUIRE(a.more.size() == 5);
  for (const auto& more : a.more) CHECK_THAT(more.reach, WithinAbs(best_at(3200 + more.added_g), 1e-12));
}

TEST_CASE("what if answers like a trip file with the change written in", "[advise][known]") {
  auto t = small_trip();
  const Advice a = advise(t, quick());
  for (std::size_t i = 0; i < a.inventory.things.size(); ++i) {
    const auto& id = a.inventory.things[i].id;
    if (id == "log" || a.inventory.things[i].kind == ThingKind::cable) continue;
    CAPTURE(id);
    // Coming: as if it, and what it can never work without, always went.
    auto with = small_trip();
    const auto added = what_if(a, {}, {static_cast<int>(i)});
    REQUIRE(holds(added.add, static_cast<int>(i)));
    const auto mark = [&](auto& list) {
      for (auto& x : list) x.item.always = x.item.always || holds(added.add, id_of(a, x.item.id));
    };
    mark(with.rigs);
    mark(with.antennas);
    mark(with.supports);
    mark(with.batteries);
    mark(with.cables);
    const auto forced = advise(with, quick());
    CHECK(added.kit.items == forced.kit.items);
    CHECK_THAT(added.kit.reach, WithinAbs(forced.kit.reach, 1e-12));
    CHECK_THAT(added.reach, WithinAbs(forced.kit.reach - a.kit.reach, 1e-12));
    // Staying: as if it were not owned.
    auto without = small_trip();
    const auto strike = [&](auto& list) {
      std::erase_if(list, [&](const auto& x) { return x.item.id == id; });
    };
    strike(without.rigs);
    strike(without.antennas);
    strike(without.supports);
    strike(without.batteries);
    const auto poorer = advise(without, quick());
    const auto dropped = what_if(a, {static_cast<int>(i)}, {});
    CHECK_THAT(dropped.kit.reach, WithinAbs(poorer.kit.reach, 1e-9));
    CHECK_THAT(dropped.kit.mass_g, WithinAbs(poorer.kit.mass_g, 1e-9));
    CHECK_FALSE(holds(dropped.kit.items, static_cast<int>(i)));
    CHECK(dropped.reach <= 1e-12);
  }
  const auto nothing = what_if(a, {}, {});
  CHECK(nothing.kit.items == a.kit.items);
  CHECK(nothing.comes.empty());
  CHECK(nothing.goes.empty());
  CHECK(nothing.as_it_stands_fits);
  CHECK_THAT(nothing.as_it_stands_reach, WithinAbs(a.kit.reach, 1e-12));
}

TEST_CASE("owning more, or being allowed more, never lowers the reach", "[advise][property]") {
  const auto base = advise(small_trip(), quick());
  const auto at_least = [&](const kit::Trip& t) {
    const auto a = advise(t, quick());
    CHECK(a.kit.proved);
    CHECK(a.kit.reach >= base.kit.reach - 1e-9);
  };
  auto t = small_trip();
  t.antennas.push_back(wire("longer dipole", antenna::Kind::dipole, 300, {t.bands[0].mhz}));
  at_least(t);
  t = small_trip();
  t.supports.push_back(mast("mast 8 m", 8, 800));
  at_least(t);
  t = small_trip();
  t.batteries.push_back(pack("pack 1 Ah", 12.8, 1, 140));
  at_least(t);
  double last = 0;
  for (double limit_g = 1000; limit_g <= 5000; limit_g += 250) {
    t = small_trip();
    t.mass_limit_g = limit_g;
    const auto a = advise(t, quick());
    CHECK(a.kit.reach >= last - 1e-12);
    CHECK(a.kit.mass_g <= limit_g);
    last = a.kit.reach;
  }
}

TEST_CASE("a thing left at home may as well not be owned", "[advise][property]") {
  const auto base = advise(small_trip(), quick());
  for (const auto& item : base.items) {
    if (item.carry) continue;
    const auto& thing = nth(base.inventory.things, item.thing);
    auto t = small_trip();
    const auto strike = [&](auto& list) {
      std::erase_if(list, [&](const auto& x) { return x.item.id == thing.id; });
    };
    strike(t.rigs);
    strike(t.antennas);
    strike(t.supports);
    strike(t.cables);
    strike(t.batteries);
    const auto a = advise(t, quick());
    CAPTURE(thing.id);
    CHECK_THAT(a.kit.reach, WithinAbs(base.kit.reach, 1e-9));
    CHECK_THAT(a.kit.mass_g, WithinAbs(base.kit.mass_g, 1e-9));
    std::vector<std::string> names, base_names;
    for (const int i : a.kit.items) names.push_back(nth(a.inventory.things, i).id);
    for (const int i : base.kit.items) base_names.push_back(nth(base.inventory.things, i).id);
    CHECK(names == base_names);
  }
}

TEST_CASE("putting up and taking down take their minutes off each session", "[advise][known]") {
  auto t = small_trip();  // one session of 210 minutes a day
  CHECK_THAT(time_left(t, 0, 0), WithinAbs(1, 1e-12));
  CHECK_THAT(time_left(t, 0, 21), WithinAbs(0.9, 1e-12));
  CHECK_THAT(time_left(t, 0, 500), WithinAbs(0, 1e-12));
  t.antennas = {t.antennas[0]};
  t.antennas[0].setup_minutes = 8;
  t.supports = {t.supports[0]};
  t.supports[0].setup_minutes = 6;
  t.mass_limit_g = 9000;
  const auto a = advise(t, quick());
  REQUIRE(a.kit.reach > 0);
  REQUIRE(a.practice.setup_minutes.size() == 1);
  CHECK_THAT(a.practice.setup_minutes[0], WithinAbs(14, 1e-12));
  CHECK_THAT(a.practice.reach, WithinAbs(a.kit.reach, 1e-7));
  // 14 minutes up and half of it down: a tenth of 210.
  t.count_setup_time = true;
  const auto b = advise(t, quick());
  CHECK_THAT(b.kit.reach, WithinAbs(0.9 * a.kit.reach, 1e-7));
  CHECK_THAT(b.practice.reach, WithinAbs(0.9 * a.kit.reach, 1e-7));
}

// Authority: all 2^n kits of the small inventory.
TEST_CASE("the kit is the lightest that reaches the most, less the tolerance", "[advise][known]") {
  int lighter = 0;
  for (const double limit_g : {1800.0, 2600.0, 3200.0, 4000.0}) {
    for (const double tolerance : {0.0, 0.005, 0.02, 0.1}) {
      auto t = small_trip();
      t.mass_limit_g = limit_g;
      t.tolerance = tolerance;
      const Advice a = advise(t, quick());
      REQUIRE(a.kit.proved);
      const choose::Solver solver(a.problem);
      double most = 0, least_g = 1e9;
      std::vector<std::pair<double, double>> kits;
      for (unsigned subset = 0; subset < (1U << a.problem.items.size()); ++subset) {
        std::vector<int> kit;
        for (unsigned i = 0; i < a.problem.items.size(); ++i) {
          if (((subset >> i) & 1U) != 0) kit.push_back(static_cast<int>(i));
        }
        const double mass_g = choose::mass_of(a.problem, kit);
        if (!holds(kit, id_of(a, "log")) || mass_g > limit_g) continue;
        kits.emplace_back(solver.reach_of(kit), mass_g);
        most = std::max(most, kits.back().first);
      }
      for (const auto& [reach, mass_g] : kits) {
        if (reach >= most - tolerance) least_g = std::min(least_g, mass_g);
      }
      CAPTURE(limit_g, tolerance);
      CHECK(a.optimum.reach == most);
      CHECK_THAT(a.kit.mass_g, WithinAbs(least_g, 1e-6));
      CHECK(a.kit.reach >= most - tolerance);
      lighter += a.kit.mass_g < a.optimum.mass_g ? 1 : 0;
    }
  }
  CHECK(lighter > 0);
}

TEST_CASE("fewer bands in an hour never reach more, and all of them reach everything", "[advise][property]") {
  auto t = small_trip();
  t.antennas.push_back(wire("40 m dipole", antenna::Kind::dipole, 300, {t.bands[0].mhz}));
  for (auto& x : t.antennas) x.setup_minutes = 0;
  for (auto& x : t.supports) x.setup_minutes = 0;
  t.mass_limit_g = 9000;
  double last = 0;
  for (int bands = 1; bands <= 3; ++bands) {
    t.bands_per_hour = bands;
    const auto a = advise(t, quick());
    CHECK(a.practice.reach >= last - 1e-12);
    last = a.practice.reach;
    // Of the plan, which leaves out what nobody misses.
    if (bands == 3) CHECK_THAT(a.practice.reach, WithinAbs(a.kit.reach, 0.002));
  }
}

TEST_CASE("two stations keep off each other's harmonics and neighbours", "[advise][known]") {
  auto t = small_trip();
  t.bands.clear();
  for (const char* band : {"40m", "30m", "20m", "15m"}) t.bands.push_back(*noise::find_band(band, 1, {}));
  t.antennas.clear();
  for (const auto& band : t.bands)
    t.antennas.push_back(wire(band.id + " dipole", antenna::Kind::dipole, 10, {band.mhz}));
  for (auto& antenna : t.antennas) antenna.item.always = true;  // so that all bands are in the kit
  t.want_days_in_ten = 1;
  t.mass_limit_g = 9000;
  CHECK(advise(t, quick()).pairs.empty() == (advise(t, quick()).power.size() < 2));
  t.people = 2;
  const auto a = advise(t, quick());
  const auto find = [&](const char* low, const char* high) -> const BandPair* {
    for (const auto& p : a.pairs) {
      if (nth(t.bands, p.a).id == low && nth(t.bands, p.b).id == high) return &p;
    }
    return nullptr;
  };
  // Source: arithmetic. 2 x 7.0..7.2 = 14.0..14.4 and 3 x 7.0..7.2 = 21.0..21.6 MHz; 2 x 10.1 = 20.2, 3 x
  // 10.1 = 30.3.
  REQUIRE(find("40m", "20m") != nullptr);
  CHECK(find("40m", "20m")->harmonic == 2);
  if (const auto* p = find("40m", "15m")) CHECK(p->harmonic == 3);
  REQUIRE(find("30m", "20m") != nullptr);
  CHECK(find("30m", "20m")->harmonic == 0);
  CHECK_FALSE(find("30m", "20m")->close);
  CHECK(find("30m", "20m")->together());
  for (const auto& p : a.pairs) {
    CHECK(p.reach <= a.kit.reach + 1e-12);
  }
}
