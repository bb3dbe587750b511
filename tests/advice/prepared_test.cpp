// A trip prepared once and decided often, against the same trip written otherwise and advised whole.

#include "skerry/advice/prepared.hpp"

#include <atomic>

#include "check.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

std::vector<std::string> ids(const Advice& a, const std::vector<int>& things) {
  std::vector<std::string> out;
  for (const int i : things) out.push_back(nth(a.inventory.things, i).id);
  return out;
}

kit::Trip with_bag() {
  auto t = small_trip();
  kit::Bag bag;
  bag.id = bag.name = "bag";
  bag.inner_cm = {55, 40, 25};
  bag.mass_limit_g = 2900;
  t.bags = {bag};
  t.tolerance = 0.01;
  t.modes.push_back(*noise::find_mode("ssb", {}));
  return t;
}

void check_same(const Advice& a, const Advice& b) {
  CHECK(a.outcome == b.outcome);
  CHECK(a.limit_g == b.limit_g);
  for (const auto kit : {&Advice::kit, &Advice::optimum}) {
    CHECK((a.*kit).items == (b.*kit).items);
    CHECK((a.*kit).mass_g == (b.*kit).mass_g);
    CHECK((a.*kit).reach == (b.*kit).reach);
    CHECK((a.*kit).proved == (b.*kit).proved);
  }
  CHECK(a.reach == b.reach);
  CHECK(a.reach_of_everything == b.reach_of_everything);
  CHECK(a.full_kit_fits == b.full_kit_fits);
  CHECK(a.practice.reach == b.practice.reach);
  REQUIRE(a.frontier.kits.size() == b.frontier.kits.size());
  for (std::size_t k = 0; k < a.frontier.kits.size(); ++k) {
    CHECK(a.frontier.kits[k].items == b.frontier.kits[k].items);
    CHECK(a.frontier.kits[k].reach == b.frontier.kits[k].reach);
  }
  REQUIRE(a.uses.size() == b.uses.size());
  for (std::size_t k = 0; k < a.uses.size(); ++k) {
    CHECK(a.uses[k].setup == b.uses[k].setup);
    CHECK(a.uses[k].alone == b.uses[k].alone);
    CHECK(a.uses[k].openings.slots.size() == b.uses[k].openings.slots.size());
  }
  REQUIRE(a.items.size() == b.items.size());
  for (std::size_t k = 0; k < a.items.size(); ++k) {
    CHECK(a.items[k].carry == b.items[k].carry);
    CHECK(a.items[k].as_it_stands == b.items[k].as_it_stands);
    CHECK(a.items[k].added_g == b.items[k].added_g);
    CHECK(a.items[k].with == b.items[k].with);
  }
  CHECK(a.windows.size() == b.windows.size());
  CHECK(a.cautions.size() == b.cautions.size());
  CHECK(a.bags.size() == b.bags.size());
}

void check_rest_same(const Advice& a, const Advice& b) {
  CHECK(a.single.items == b.single.items);
  for (std::size_t k = 0; k < a.items.size(); ++k) {
    CHECK(a.items[k].reach == b.items[k].reach);
    CHECK(a.items[k].instead == b.items[k].instead);
  }
  REQUIRE(a.modes.size() == b.modes.size());
  for (std::size_t k = 0; k < a.modes.size(); ++k) CHECK(a.modes[k].reach == b.modes[k].reach);
  CHECK(a.firmness.mean_lead == b.firmness.mean_lead);
  CHECK(a.firmness.ahead == b.firmness.ahead);
  REQUIRE(a.firmness.runner_up.has_value() == b.firmness.runner_up.has_value());
  if (a.firmness.runner_up) CHECK(a.firmness.runner_up->items == b.firmness.runner_up->items);
  REQUIRE(a.robustness.scenarios.size() == b.robustness.scenarios.size());
  for (std::size_t k = 0; k < a.robustness.scenarios.size(); ++k)
    CHECK(a.robustness.scenarios[k].kit == b.robustness.scenarios[k].kit);
  REQUIRE(a.variants.size() == b.variants.size());
  for (std::size_t k = 0; k < a.variants.size(); ++k)
    CHECK(a.variants[k].kit.items == b.variants[k].kit.items);
}

}  // namespace

TEST_CASE("a prepared trip decides another limit, tolerance and must-go as the trip so written does",
          "[prepared][property]") {
  Prepared prepared(with_bag());
  const auto kits = prepared.inventory().things.size();
  for (const double limit_g : {400.0, 1500.0, 2200.0, 3000.0, 5000.0}) {
    for (const double tolerance : {0.0, 0.03}) {
      for (std::size_t must = 0; must < kits; must += 3) {
        CAPTURE(limit_g, tolerance, must);
        Changes changes;
        changes.limit_g = limit_g;
        changes.tolerance = tolerance;
        changes.must_go = {static_cast<int>(must)};
        auto a = prepared.decide(changes);
        CHECK_FALSE(a.complete);
        const auto b = advise(prepared.trip_with(changes));
        CHECK(b.complete);
        check_same(a, b);
        prepared.complete(a);
        CHECK(a.complete);
        check_rest_same(a, b);
      }
    }
  }
}

TEST_CASE("what is not at hand is as though it were not in the file", "[prepared][property]") {
  const auto trip = with_bag();
  const Prepared prepared(trip);
  const auto strike = [](auto& list, const std::string& id) {
    std::erase_if(list, [&](const auto& thing) { return thing.item.id == id; });
  };
  int changed = 0;
  const auto before = prepared.decide();
  for (const auto& thing : prepared.inventory().things) {
    auto other = trip;
    strike(other.rigs, thing.id);
    strike(other.antennas, thing.id);
    strike(other.supports, thing.id);
    strike(other.cables, thing.id);
    strike(other.batteries, thing.id);
    std::erase_if(other.items, [&](const auto& item) { return item.id == thing.id; });
    Changes changes;
    changes.not_mine = {prepared.inventory().by_id.at(thing.id)};
    const auto a = prepared.decide(changes);
    const auto b = Prepared(other).decide();
    CAPTURE(thing.id);
    CHECK(ids(a, a.kit.items) == ids(b, b.kit.items));
    CHECK(a.optimum.reach == b.optimum.reach);
    CHECK(a.kit.proved == b.kit.proved);
    CHECK(a.reach_of_everything == b.reach_of_everything);
    CHECK(a.frontier.kits.size() == b.frontier.kits.size());
    const auto& struck = nth(a.inventory.things, changes.not_mine.front());
    CHECK(struck.exclusion == Exclusion::absent);
    changed += ids(a, a.kit.items) != ids(before, before.kit.items) ? 1 : 0;
  }
  CHECK(changed >= 4);
}

TEST_CASE("a thing that must go and is not at hand is told", "[prepared][edge]") {
  const Prepared prepared(small_trip());
  Changes changes;
  changes.must_go = changes.not_mine = {prepared.inventory().by_id.at("mast 10 m")};
  const auto a = prepared.decide(changes);
  CHECK(a.outcome == Outcome::always_cannot_come);
  CHECK_FALSE(proved(a));
}

TEST_CASE("an advice outlives what it was made by", "[prepared][edge]") {
  Advice a;
  {
    std::optional<Prepared> first(small_trip());
    Prepared second = std::move(*first);
    first.reset();
    a = second.decide();
    second.complete(a);
  }
  const auto b = advise(small_trip());
  check_same(a, b);
  check_rest_same(a, b);
  CHECK(what_if(a, {}, {a.inventory.by_id.at("mast 10 m")}).kit.reach ==
        what_if(b, {}, {b.inventory.by_id.at("mast 10 m")}).kit.reach);
}

TEST_CASE("one thread decides what many do, and a stop ends both parts", "[prepared][edge]") {
  Prepared prepared(with_bag());
  auto many = prepared.decide();
  prepared.complete(many);
  set_thread_count(1);
  Prepared alone(with_bag());
  auto one = alone.decide();
  alone.complete(one);
  set_thread_count(0);
  check_same(one, many);
  check_rest_same(one, many);
  std::atomic<int> asked = 0;
  AdviceOptions options;
  options.stop.now = [&asked] {
    ++asked;
    return true;
  };
  auto cut = prepared.decide({}, options);
  prepared.complete(cut, options);
  CHECK(asked > 0);
  CHECK(cut.kit.reach > 0);
  CHECK(cut.robustness.scenarios.empty());
}
