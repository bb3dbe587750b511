#include "skerry/choose/choose.hpp"

#include <cmath>
#include <numeric>

#include "check.hpp"
#include "random_problems.hpp"

using namespace skerry::choose;

namespace {

/// Every kit there is, by trying all subsets: the outside truth for small inventories.
struct Brute {
  std::vector<int> items;
  double mass_g = 0, reach = -1;
};

std::vector<int> members(const Problem& p, unsigned subset) {
  std::vector<int> out;
  for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
    if (((subset >> i) & 1U) != 0) out.push_back(i);
  }
  return out;
}

std::vector<std::string> sorted_names(const Problem& p, const std::vector<int>& kit) {
  std::vector<std::string> out;
  for (const int i : kit) out.push_back(p.items[static_cast<std::size_t>(i)].name);
  std::sort(out.begin(), out.end());
  return out;
}

bool legal(const Problem& p, const std::vector<int>& kit) {
  double grams = 0;
  std::vector<char> in(p.items.size(), 0);
  for (const int i : kit) {
    in[static_cast<std::size_t>(i)] = 1;
    grams += p.items[static_cast<std::size_t>(i)].mass_g;
  }
  for (std::size_t i = 0; i < p.items.size(); ++i) {
    if (p.items[i].always && in[i] == 0) return false;
    if (p.items[i].excluded && in[i] != 0) return false;
  }
  // Masses of the tests are whole grams: sums are exact.
  return grams <= p.limit_g && (!p.feasible || p.feasible(kit));
}

/// Weight served, summed anew cell by cell (weights of the tests are whole numbers: sums are exact).
double brute_reach(const Problem& p, const std::vector<int>& kit) {
  double served = 0, total = 0;
  for (std::size_t c = 0; c < p.weights.size(); ++c) {
    total += p.weights[c];
    for (const auto& s : p.bundles) {
      bool works = s.cells.has(c);
      for (const int need : s.items) works = works && std::find(kit.begin(), kit.end(), need) != kit.end();
      if (works) {
        served += p.weights[c];
        break;
      }
    }
  }
  return served / total;
}

bool better(const Problem& p, const Brute& a, const Brute& b) {
  if (a.reach != b.reach) return a.reach > b.reach;
  if (a.mass_g != b.mass_g) return a.mass_g < b.mass_g;
  if (a.items.size() != b.items.size()) return a.items.size() < b.items.size();
  return sorted_names(p, a.items) < sorted_names(p, b.items);
}

std::vector<Brute> all_kits(const Problem& p) {
  std::vector<Brute> out;
  for (unsigned subset = 0; subset < (1U << p.items.size()); ++subset) {
    Brute kit;
    kit.items = members(p, subset);
    if (!legal(p, kit.items)) continue;
    for (const int i : kit.items) kit.mass_g += p.items[static_cast<std::size_t>(i)].mass_g;
    kit.reach = brute_reach(p, kit.items);
    out.push_back(std::move(kit));
  }
  return out;
}

Brute best_of(const Problem& p, const std::vector<Brute>& kits) {
  Brute best;
  for (const auto& kit : kits) {
    if (best.reach < 0 || better(p, kit, best)) best = kit;
  }
  return best;
}

/// Small, with whole weights and masses so that ties happen often.
Problem small_problem(Dice& dice) {
  const int items = 4 + dice.below(8), cells = 8 + dice.below(40);
  Problem p = random_problem(dice, items, 2 + dice.below(14), cells, 0.2 + 0.6 * dice.unit(), 0.25);
  for (auto& w : p.weights) w = dice.below(4);
  p.weights[0] = 1;
  for (auto& item : p.items) item.mass_g = 100 * (1 + dice.below(6));
  p.limit_g = std::floor(p.limit_g / 2);
  if (dice.unit() < 0.3) p.items[0].always = true;
  if (dice.unit() < 0.2) p.items[1].excluded = true;
  if (dice.unit() < 0.2) p.items[2].mass_g = 0;
  return p;
}

bool always_fits(const Problem& p) {
  double grams = 0;
  for (const auto& item : p.items) grams += item.always ? item.mass_g : 0;
  return grams <= p.limit_g;
}

CellSet cells_of(std::size_t size, std::initializer_list<std::size_t> which) {
  CellSet out(size);
  for (const auto c : which) out.add(c);
  return out;
}

}  // namespace

// Authority of the checks below: trying all subsets of the inventory, which needs no cleverness.
TEST_CASE("the best kit is the one that trying all subsets finds, ties included", "[choose][known]") {
  Dice dice(20270214);
  int compared = 0, without_anything = 0;
  for (int round = 0; round < 600; ++round) {
    Problem p = small_problem(dice);
    const int pair = dice.below(3);
    if (pair == 0) {  // two things that do not go together, and their supersets
      p.feasible = [](std::span<const int> kit) {
        return std::count(kit.begin(), kit.end(), 2) + std::count(kit.begin(), kit.end(), 3) < 2;
      };
    } else if (pair == 1) {  // a bag for at most four things
      p.feasible = [](std::span<const int> kit) { return kit.size() <= 4; };
    }
    if (!always_fits(p)) {
      CHECK(best(p).over_limit);
      continue;
    }
    const Brute truth = best_of(p, all_kits(p));
    const Choice found = best(p);
    CAPTURE(round, truth.reach, truth.mass_g, found.reach, found.mass_g);
    REQUIRE(found.proved);
    REQUIRE(found.items == truth.items);
    // Whole weights are counted exactly: what differs is one division.
    CHECK_THAT(found.reach, WithinAbs(truth.reach, 1e-12));
    CHECK(found.mass_g == truth.mass_g);
    CHECK(found.bound == found.reach);
    ++compared;
    without_anything += truth.reach == 0 ? 1 : 0;
  }
  CHECK(compared > 400);  // most rounds are real comparisons
  CHECK(without_anything < compared / 2);
}

TEST_CASE("the frontier is every kit that no lighter or better one beats", "[choose][known]") {
  Dice dice(7);
  for (int round = 0; round < 120; ++round) {
    Problem p = small_problem(dice);
    if (!always_fits(p)) continue;
    std::vector<Brute> kits = all_kits(p);
    std::sort(kits.begin(), kits.end(), [](const Brute& a, const Brute& b) {
      return a.mass_g != b.mass_g ? a.mass_g < b.mass_g : a.reach > b.reach;
    });
    std::vector<Brute> truth;
    for (const auto& kit : kits) {
      if (truth.empty() ? kit.reach > 0 : kit.reach > truth.back().reach) truth.push_back(kit);
    }
    const Frontier found = frontier(p);
    CAPTURE(round);
    REQUIRE(found.complete);
    if (truth.empty()) {
      REQUIRE(found.kits.size() == 1);
      CHECK(found.kits[0].reach == 0);
      continue;
    }
    REQUIRE(found.kits.size() == truth.size());
    for (std::size_t k = 0; k < truth.size(); ++k) {
      CHECK(found.kits[k].mass_g == truth[k].mass_g);
      CHECK_THAT(found.kits[k].reach, WithinAbs(truth[k].reach, 1e-12));
    }
  }
}

TEST_CASE("leaving a thing costs what trying all subsets without it says", "[choose][known]") {
  Dice dice(99);
  for (int round = 0; round < 120; ++round) {
    Problem p = small_problem(dice);
    if (!always_fits(p)) continue;
    const Choice chosen = best(p);
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      if (p.items[static_cast<std::size_t>(i)].always) continue;
      Problem without = p;
      without.items[static_cast<std::size_t>(i)].excluded = true;
      const Brute truth = best_of(without, all_kits(without));
      const Change change = loss_of_dropping(p, chosen, i);
      CAPTURE(round, i);
      CHECK_THAT(change.reach, WithinAbs(chosen.reach - truth.reach, 1e-12));
      // Dropping what is not in the kit changes nothing.
      if (std::find(chosen.items.begin(), chosen.items.end(), i) == chosen.items.end()) {
        CHECK(change.kit.items == chosen.items);
      }
    }
  }
}

TEST_CASE("taking more brings what trying all subsets under the raised limit says", "[choose][known]") {
  Dice dice(123);
  for (int round = 0; round < 120; ++round) {
    Problem p = small_problem(dice);
    if (!always_fits(p)) continue;
    const Choice chosen = best(p);
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      if (p.items[static_cast<std::size_t>(i)].excluded) continue;
      Problem wider = p;
      wider.items[static_cast<std::size_t>(i)].always = true;
      const bool in = std::find(chosen.items.begin(), chosen.items.end(), i) != chosen.items.end();
      if (!in) wider.limit_g += p.items[static_cast<std::size_t>(i)].mass_g;
      const Brute truth = best_of(wider, all_kits(wider));
      const int one[] = {i};
      const Change change = gain_of_adding(p, chosen, one);
      CAPTURE(round, i);
      CHECK_THAT(change.reach, WithinAbs(truth.reach - chosen.reach, 1e-12));
      CHECK(change.reach > -1e-12);
      CHECK(change.added_g == (in ? 0 : p.items[static_cast<std::size_t>(i)].mass_g));
    }
  }
}

TEST_CASE("a thing more never lowers the reach, a higher limit never lowers it", "[choose][property]") {
  Dice dice(5);
  for (int round = 0; round < 40; ++round) {
    Problem p = random_problem(dice, 14, 40, 200, 0.25, 0.1);
    const double before = best(p).reach;
    Problem higher = p;
    higher.limit_g *= 1.15;
    CHECK(best(higher).reach >= before);
    Problem richer = p;
    richer.items.push_back({"one more", 10, false, false});
    richer.bundles.push_back({{14, dice.below(14)}, p.bundles[0].cells});
    richer.bundles.back().cells.add(static_cast<std::size_t>(dice.below(200)));
    CHECK(best(richer).reach >= before);
  }
}

TEST_CASE("an unused thing in the inventory changes nothing", "[choose][property]") {
  Dice dice(6);
  for (int round = 0; round < 40; ++round) {
    Problem p = random_problem(dice, 12, 30, 150, 0.3, 0.1);
    const Choice before = best(p);
    p.items.push_back({"a stone", 0, false, false});
    const Choice after = best(p);
    CHECK(after.items == before.items);
    CHECK(after.reach == before.reach);
  }
}

TEST_CASE("a thing that always goes leaves less for the others", "[choose][property]") {
  Dice dice(8);
  for (int round = 0; round < 40; ++round) {
    Problem p = random_problem(dice, 12, 30, 150, 0.3, 0.1);
    const double before = best(p).reach;
    p.items.push_back({"first aid", 400, true, false});
    const Choice after = best(p);
    CHECK(after.reach <= before);
    CHECK(after.items.back() == 12);
    p.limit_g += 400;
    CHECK(best(p).reach == before);
  }
}

TEST_CASE("a stopped search hands over a kit and a bound that holds", "[choose][edge]") {
  Dice dice(11);
  const Problem p = random_problem(dice, 30, 100, 1000, 0.25, 0.06);
  const Choice whole = best(p);
  REQUIRE(whole.proved);
  for (const std::uint64_t nodes : {1, 5, 25, 125}) {
    Stop stop;
    stop.max_nodes = nodes;
    const Choice part = skerry::choose::best(p, stop);
    CAPTURE(nodes, part.reach, part.bound);
    CHECK(part.reach <= whole.reach);
    CHECK(part.bound >= whole.reach);
    CHECK(part.reach > 0);
    CHECK(part.nodes <= nodes);
    CHECK(part.mass_g <= p.limit_g);
    CHECK_THAT(part.reach, WithinAbs(reach_of(p, part.items), 1e-11));
  }
  int asked = 0;
  Stop by_clock;
  by_clock.now = [&asked] { return ++asked > 0; };
  CHECK_FALSE(best(random_problem(dice, 40, 150, 2000, 0.3, 0.1), by_clock).proved);
  CHECK(asked > 0);
}

TEST_CASE("a wish to end is heard before the first node, and there is a kit all the same",
          "[choose][regression]") {
  Dice dice(7);
  const Problem p = inventory_problem(dice, 60, 400, 12, 0.15);
  Stop stop;
  stop.now = [] { return true; };
  const Choice part = best(p, stop);
  const Choice whole = best(p);
  CHECK_FALSE(part.proved);
  CHECK(part.nodes <= 1);
  CHECK(part.reach > 0);
  CHECK(part.reach <= whole.reach);
  CHECK(part.bound >= whole.reach);
  CHECK(part.mass_g <= p.limit_g);
}

TEST_CASE("the wish is asked for by the work done, not by nodes, however dear these are",
          "[choose][regression]") {
  // A hundred rigs of which each serves much the same: the bundles grow with them, the tree does not.
  const auto asked_with = [](int rigs) {
    Problem p;
    constexpr int cells = 1500;
    for (int i = 0; i < 40; ++i) p.items.push_back({"part " + std::to_string(i), 90.0 + i, false, false});
    p.weights.assign(cells, 1);
    Dice dice(3);
    std::vector<CellSet> serves;
    for (int b = 0; b < 40; ++b) {
      serves.emplace_back(static_cast<std::size_t>(cells));
      for (int c = 0; c < cells; ++c) {
        if (dice.unit() < 0.2) serves.back().add(static_cast<std::size_t>(c));
      }
    }
    for (int r = 0; r < rigs; ++r) {
      p.items.push_back({"rig " + std::to_string(r), 300.0 + r, false, false});
      const int rig = static_cast<int>(p.items.size()) - 1;
      for (int a = 0; a < 20; ++a) {
        Bundle bundle;
        bundle.items = {a, 20 + (a + r) % 20, rig};
        bundle.cells = serves[static_cast<std::size_t>(a)];
        bundle.cells.merge(serves[static_cast<std::size_t>(20 + (a + r) % 20)]);
        p.bundles.push_back(std::move(bundle));
      }
    }
    p.limit_g = 1200;
    Stop stop;
    int asked = 0;
    stop.now = [&asked] { return ++asked > 400; };
    const Choice choice = best(p, stop);
    CHECK(choice.reach > 0);
    CHECK(choice.bound >= choice.reach);
    CAPTURE(rigs, choice.nodes, asked);
    return asked;
  };
  const int few = asked_with(50);
  CHECK(few > 1);
  CHECK(asked_with(100) <= 401);  // and ends when it is told to
}

TEST_CASE("a question that was stopped finds no less than what is there when nothing else changes",
          "[choose][property]") {
  Dice dice(11);
  const Problem p = inventory_problem(dice, 40, 200, 12, 0.15);
  const Choice chosen = best(p);
  Stop stop;
  stop.now = [] { return true; };
  for (const int item : chosen.items) {
    auto rest = chosen.items;
    std::erase(rest, item);
    const auto loss = skerry::choose::loss_of_dropping(p, chosen, item, stop);
    CHECK(loss.kit.reach >= reach_of(p, rest) - 1e-12);
    CHECK(loss.kit.bound >= loss.kit.reach);
    CHECK_THAT(loss.kit.reach, WithinAbs(reach_of(p, loss.kit.items), 1e-11));
  }
  for (int item = 0; item < static_cast<int>(p.items.size()); ++item) {
    const std::vector<int> one{item};
    CHECK(skerry::choose::gain_of_adding(p, chosen, one, stop).reach >= 0);
  }
}

TEST_CASE("equal reach goes to the lighter kit, then to fewer things, then to the name", "[choose][edge]") {
  Problem p;
  p.weights = {1, 1};
  p.items = {
      {"d", 300, false, false}, {"c", 200, false, false}, {"b", 100, false, false}, {"a", 200, false, false}};
  p.limit_g = 1000;
  p.bundles = {{{0}, cells_of(2, {0})}, {{1}, cells_of(2, {0})}};
  CHECK(best(p).items == std::vector<int>{1});  // 200 g before 300 g
  p.bundles = {{{0}, cells_of(2, {0})}, {{1, 2}, cells_of(2, {0})}};
  CHECK(best(p).items == std::vector<int>{0});  // one thing before two of the same mass
  p.bundles = {{{1}, cells_of(2, {0})}, {{3}, cells_of(2, {0})}};
  CHECK(best(p).items == std::vector<int>{3});  // "a" before "c"
}

TEST_CASE("boundaries: exactly at the limit fits, a milligram more does not", "[choose][edge]") {
  Problem p;
  p.weights = {1};
  p.items = {{"mast", 600.1, false, false}, {"wire", 99.9, false, false}};
  p.bundles = {{{0, 1}, cells_of(1, {0})}};
  p.limit_g = 700.0;
  CHECK(best(p).reach == 1);
  p.limit_g = 699.999;
  CHECK(best(p).reach == 0);
  CHECK(best(p).items.empty());
}

TEST_CASE("nothing to choose from is answered, not refused", "[choose][edge]") {
  Problem p;
  CHECK(best(p).proved);
  CHECK(best(p).reach == 0);
  p.items = {{"log", 100, true, false}};
  p.weights = {0, 0};
  p.bundles = {{{}, cells_of(2, {0, 1})}};
  p.limit_g = 100;
  CHECK(best(p).items == std::vector<int>{0});
  CHECK(best(p).reach == 0);  // no weight at all
  p.weights = {1, 3};
  p.bundles = {{{}, cells_of(2, {1})}};
  CHECK(best(p).reach == 0.75);  // works with what always goes
  p.limit_g = 99;
  CHECK(best(p).over_limit);
  CHECK(frontier(p).kits.front().over_limit);
  CHECK_FALSE(best_single(p).bundle);
}

TEST_CASE("the best single bundle is the best of those that fit", "[choose][known]") {
  Dice dice(77);
  for (int round = 0; round < 60; ++round) {
    Problem p = small_problem(dice);
    if (!always_fits(p)) continue;
    double truth = 0;
    for (const auto& s : p.bundles) {
      std::vector<int> kit = s.items;
      for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
        if (p.items[static_cast<std::size_t>(i)].always) kit.push_back(i);
      }
      std::sort(kit.begin(), kit.end());
      kit.erase(std::unique(kit.begin(), kit.end()), kit.end());
      if (legal(p, kit)) truth = std::max(truth, brute_reach(p, kit));
    }
    std::vector<int> bare;
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      if (p.items[static_cast<std::size_t>(i)].always) bare.push_back(i);
    }
    truth = std::max(truth, brute_reach(p, bare));
    CHECK_THAT(best_single(p).kit.reach, WithinAbs(truth, 1e-12));
  }
}

TEST_CASE("there is no number of things at which the search runs out of room", "[choose][regression]") {
  // 20 000 things of 1 g, no two in the same bundles: thing i is in bundle b where bit b of i + 1 is set. Any
  // two bundles are over the limit, so that the truth is the heaviest cell.
  constexpr int things = 20000, bundles = 15;
  Dice dice(11);
  Problem p;
  p.limit_g = 10200;
  for (int i = 0; i < things; ++i) p.items.push_back({"thing " + std::to_string(i), 1, false, false});
  for (int b = 0; b < bundles; ++b) {
    Bundle bundle{{}, cells_of(bundles, {static_cast<std::size_t>(b)})};
    for (int i = 0; i < things; ++i) {
      if ((((i + 1) >> b) & 1) != 0) bundle.items.push_back(i);
    }
    REQUIRE(static_cast<double>(bundle.items.size()) <= p.limit_g);
    for (const auto& other : p.bundles) {
      std::vector<int> both;
      std::set_union(bundle.items.begin(), bundle.items.end(), other.items.begin(), other.items.end(),
                     std::back_inserter(both));
      REQUIRE(static_cast<double>(both.size()) > p.limit_g);
    }
    p.bundles.push_back(std::move(bundle));
    p.weights.push_back(1 + dice.below(50));
  }
  const auto kit = best(p);
  CHECK(kit.proved);
  const double all = std::accumulate(p.weights.begin(), p.weights.end(), 0.0);
  CHECK_THAT(kit.reach, WithinAbs(*std::max_element(p.weights.begin(), p.weights.end()) / all, 1e-12));
  CHECK(kit.mass_g <= p.limit_g);
}

TEST_CASE("more than 64 different things are chosen among as exactly", "[choose][edge]") {
  // Forty separate pairs of which only the heavier thing of each is shared: a plain knapsack in disguise,
  // solved by dynamic programming over whole grams. Source: Bellman's recursion for the 0-1 knapsack.
  Dice dice(3);
  Problem p;
  constexpr int pairs = 40, limit = 900;
  std::vector<int> grams, worth;
  for (int k = 0; k < pairs; ++k) {
    const int a = 20 + dice.below(60), b = 5 + dice.below(30);
    p.items.push_back({"a" + std::to_string(k), static_cast<double>(a), false, false});
    p.items.push_back({"b" + std::to_string(k), static_cast<double>(b), false, false});
    p.weights.push_back(4 + dice.below(20));
    p.weights.push_back(1 + dice.below(9));
    grams.push_back(a);
    grams.push_back(b);
    worth.push_back(static_cast<int>(p.weights[p.weights.size() - 2]));
    worth.push_back(static_cast<int>(p.weights.back()));
  }
  for (int k = 0; k < pairs; ++k) {
    const auto cell = static_cast<std::size_t>(2 * k);
    p.bundles.push_back({{2 * k}, cells_of(2 * pairs, {cell})});
    p.bundles.push_back({{2 * k, 2 * k + 1}, cells_of(2 * pairs, {cell, cell + 1})});
  }
  p.limit_g = limit;
  std::vector<int> best(limit + 1, 0);
  for (int k = 0; k < pairs; ++k) {
    const auto a = static_cast<std::size_t>(2 * k), b = a + 1;
    for (int m = limit; m >= 0; --m) {
      int top = best[static_cast<std::size_t>(m)];
      if (m >= grams[a]) top = std::max(top, best[static_cast<std::size_t>(m - grams[a])] + worth[a]);
      if (m >= grams[a] + grams[b]) {
        top = std::max(top, best[static_cast<std::size_t>(m - grams[a] - grams[b])] + worth[a] + worth[b]);
      }
      best[static_cast<std::size_t>(m)] = top;
    }
  }
  const double total = std::accumulate(p.weights.begin(), p.weights.end(), 0.0);
  Stop stop;
  stop.max_nodes = 2'000'000;
  const Choice found = skerry::choose::best(p, stop);
  CAPTURE(found.nodes, found.proved);
  CHECK(found.bound >= best[limit] / total - 1e-12);
  CHECK_THAT(found.reach, WithinAbs(best[limit] / total, 1e-12));
}
