#include "skerry/choose/choose.hpp"

#include <atomic>
#include <cmath>
#include <numeric>
#include <thread>

#include "brute.hpp"
#include "check.hpp"
#include "random_problems.hpp"

using namespace skerry::choose;

namespace {

/// Two things that do not go together, or a bag of so much room, or neither.
void limit_somehow(Problem& p, int choice) {
  if (choice == 0 && !p.items[1].kind && !p.items[2].kind) {
    p.feasible = [](std::span<const int> kit) {
      return std::count(kit.begin(), kit.end(), 1) + std::count(kit.begin(), kit.end(), 2) < 2;
    };
  } else if (choice == 1) {
    p.feasible = [](std::span<const int> kit) { return kit.size() <= 4; };
  }
}

/// A kit of the truth must be found to the thing, its number to what whole steps allow.
void same(const Choice& found, const Brute& truth) {
  REQUIRE(found.proved);
  REQUIRE(found.items == truth.items);
  CHECK_THAT(found.reach, WithinAbs(truth.reach, brute_same));
  CHECK(found.mass_g == truth.mass_g);
  CHECK(found.bound == found.reach);
}

/// One engine without a limit, all cells in one turn; a row of gains is given by the cells it serves whole.
Problem plain(std::vector<double> weights) {
  Problem p;
  p.weights = std::move(weights);
  plain_hours(p, 1);
  return p;
}
std::vector<float> cells_of(std::size_t size, std::initializer_list<std::size_t> which) {
  std::vector<float> out(size, 0);
  for (const auto c : which) out[c] = 1;
  return out;
}

Choice best(const Problem& p, const Stop& stop = {}) {
  return Solver(p).best({}, stop);
}

Stock small_stock() {
  Stock stock;
  stock.regions = 4;
  return stock;
}

}  // namespace

// Authority of the checks below: trying all subsets of the inventory, by the definition, which needs no cleverness.
TEST_CASE("every answer is the one that trying all subsets finds, ties included", "[choose][known]") {
  Dice dice(20270214);
  int compared = 0, without_anything = 0, alike = 0, several = 0;
  for (int round = 0; round < 500; ++round) {
    Problem p = small_problem(dice);
    limit_somehow(p, dice.below(3));
    const auto kits = all_kits(p);
    const Solver solver(p);
    const auto ask_both = [&](const Ask& ask) {
      const Brute truth = best_of(p, kits, ask);
      const Choice found = solver.best(ask);
      CAPTURE(round, truth.reach, truth.mass_g, found.reach, found.mass_g);
      if (truth.reach < 0) {
        CHECK(found.over_limit);
        return truth;
      }
      CHECK_FALSE(found.over_limit);
      same(found, truth);
      return truth;
    };
    const Brute chosen = ask_both({});
    if (chosen.reach < 0) continue;
    ++compared;
    without_anything += chosen.reach == 0 ? 1 : 0;
    alike +=
        std::any_of(p.items.begin(), p.items.end(), [](const Item& i) { return i.kind.has_value(); }) ? 1 : 0;
    several += p.engines.size() > 1 && p.spells.size() > 1 ? 1 : 0;
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      Ask without, with;
      without.without = {i};
      without.start = chosen.items;
      ask_both(without);
      with.with = {i};
      with.start = chosen.items;
      with.limit_g = p.limit_g + (i % 2 == 0 ? p.items[static_cast<std::size_t>(i)].mass_g : 0);
      ask_both(with);
    }
    Ask odd;  // a start of things picked blindly changes nothing
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      if (dice.unit() < 0.5) odd.start.push_back(i);
    }
    odd.limit_g = p.limit_g * 0.7;
    ask_both(odd);

    const auto truth = frontier_of(p, kits);
    const Frontier found = solver.frontier();
    CAPTURE(round);
    REQUIRE(found.complete);
    REQUIRE(found.kits.size() == truth.size());
    for (std::size_t k = 0; k < truth.size(); ++k) same(found.kits[k], truth[k]);
  }
  CHECK(compared > 420);  // most rounds are real comparisons
  CHECK(without_anything < compared / 3);
  CHECK(alike > 150);
  CHECK(several > 100);
}

TEST_CASE("engines that are fed for several spells together are decided as trying all subsets decides",
          "[choose][known]") {
  Dice dice(20270511);
  int compared = 0, full = 0;
  for (int round = 0; round < 250; ++round) {
    Problem p = small_problem(dice);
    limit_somehow(p, dice.below(3));
    for (auto& engine : p.engines) {
      engine.spells = 1 + dice.below(3);
      engine.more_hours = 0.25 * dice.below(12);
    }
    const auto kits = all_kits(p);
    const Brute chosen = best_of(p, kits, {});
    CAPTURE(round);
    if (chosen.reach < 0) continue;
    ++compared;
    const Solver solver(p);
    same(solver.best(), chosen);
    CHECK_THAT(solver.account(chosen.items).reach, WithinAbs(chosen.reach, brute_same));
    const auto truth = frontier_of(p, kits);
    const Frontier found = solver.frontier();
    REQUIRE(found.complete);
    REQUIRE(found.kits.size() == truth.size());
    for (std::size_t k = 0; k < truth.size(); ++k) same(found.kits[k], truth[k]);
    auto whole = p;
    for (auto& engine : whole.engines) engine.spells = 1;
    full += Solver(whole).best().reach > chosen.reach + 1e-6 ? 1 : 0;
  }
  CHECK(compared > 200);
  CHECK(full > 50);  // it matters
}

TEST_CASE("packs for two days give half of what there is on each, and no more than they hold",
          "[choose][known]") {
  // Two days alike of 4 hours, all worth the same. 3 h in the pack and 1 h more on the way: 4 h in all, 2 a day, half.
  Problem p = plain({1});
  p.spells[0].parts[0].hours = 4;
  p.spells[0].count = 2;
  const int pack = add_item(p, "pack", 100);
  add_way(p, {}, {1});
  p.engines[0].own_hours = 0;
  p.engines[0].feeds = {{pack, 3}};
  p.engines[0].spells = 2;
  p.engines[0].more_hours = 1;
  CHECK_THAT(best(p).reach, WithinAbs(0.5, 1e-9));
  p.engines[0].more_hours = 9;  // no room for it: 3 h a day
  CHECK_THAT(best(p).reach, WithinAbs(0.75, 1e-9));
}

TEST_CASE("the account of a kit adds up to its reach, by the definition", "[choose][known]") {
  Dice dice(31);
  for (int round = 0; round < 150; ++round) {
    const Problem p = small_problem(dice);
    const Solver solver(p);
    std::vector<int> kit;
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      if (dice.unit() < 0.7) kit.push_back(i);
    }
    const Account account = solver.account(kit);
    CAPTURE(round);
    CHECK_THAT(account.reach, WithinAbs(brute_reach(p, kit), brute_same));
    CHECK(account.reach == solver.reach_of(kit));
    double got = 0, total = 0, hours = 0, worked = 0;
    for (std::size_t c = 0; c < p.weights.size(); ++c) {
      got += p.weights[c] * account.got[c];
      total += p.weights[c];
      CHECK(account.got[c] >= 0);
      CHECK(account.got[c] <= 1);
      CHECK((account.got[c] > 0) == (account.way[c] >= 0));
      if (account.way[c] < 0) continue;
      const auto& way = p.ways[static_cast<std::size_t>(account.way[c])];
      CHECK(p.rows[static_cast<std::size_t>(way.row)][c] > 0);
      for (const int i : way.items) CHECK(std::binary_search(kit.begin(), kit.end(), i));
    }
    CHECK_THAT(got / total, WithinAbs(account.reach, brute_same));
    for (const double h : account.hours) hours += h;
    const std::size_t turns = account.share.size() / p.engines.size();
    for (std::size_t t = 0; t < turns; ++t) {
      double amount = 0;
      for (const auto& spell : p.spells) {
        for (const auto& part : spell.parts)
          amount += part.turn == static_cast<int>(t) ? spell.count * part.hours : 0;
      }
      double share = 0;
      for (std::size_t e = 0; e < p.engines.size(); ++e) share += account.share[e * turns + t];
      CHECK(share <= 1 + 1e-12);
      worked += share * amount;
    }
    CHECK_THAT(hours, WithinAbs(worked, 1e-6));
  }
}

TEST_CASE("short hours go to the best turns, the last of them in part", "[choose][known]") {
  // By hand, as a fractional knapsack (Dantzig 1957): 2 hours for turns of 2, 1 and 2 h that are worth 6, 5 and 2 of
  // 13: the second whole, then half of the first.
  Problem p;
  p.weights = {6, 5, 2};
  p.turns = {0, 1, 2};
  p.spells = {{1, {{0, 2}, {1, 1}, {2, 2}}}};
  const int rig = add_item(p, "rig", 500), small = add_item(p, "small pack", 100),
            large = add_item(p, "large pack", 300);
  p.engines.resize(1);
  p.engines[0].own_hours = 0;
  p.engines[0].feeds = {{small, 2}, {large, 9}};
  add_way(p, {rig}, {1, 1, 1});
  const Solver solver(p);
  CHECK_THAT(solver.reach_of(std::vector<int>{rig, small}), WithinAbs(8.0 / 13, 1e-9));
  CHECK(solver.reach_of(std::vector<int>{rig}) == 0);
  CHECK(solver.reach_of(std::vector<int>{rig, large}) == 1);
  const Account account = solver.account(std::vector<int>{rig, small});
  CHECK_THAT(account.share[0], WithinAbs(0.5, 1e-9));
  CHECK_THAT(account.share[1], WithinAbs(1, 1e-9));
  CHECK(account.share[2] == 0);
  CHECK(account.way == std::vector<int>{0, 0, -1});
  CHECK_THAT(account.hours[0], WithinAbs(2, 1e-9));
  Ask ask;
  ask.limit_g = 799;
  CHECK(solver.best(ask).items == std::vector<int>{rig, small});
  CHECK(solver.best().items == std::vector<int>{rig, large});
  const auto kits = solver.frontier().kits;
  REQUIRE(kits.size() == 2);
  CHECK(kits[0].mass_g == 600);
  CHECK(kits[1].mass_g == 800);
}

TEST_CASE("a spell is worked by the engine that does best in it", "[choose][known]") {
  // By hand: two days of one hour; the first rig serves the first day whole, the second the other by half.
  Problem p;
  p.weights = {1, 1};
  p.turns = {0, 1};
  p.spells = {{3, {{0, 1}}}, {1, {{1, 1}}}};
  p.engines.resize(2);
  const int first = add_item(p, "first", 100), second = add_item(p, "second", 100);
  add_way(p, {first}, {1, 0.25F}, 0);
  add_way(p, {second}, {0.75F, 0.5F}, 1);
  const Solver solver(p);
  CHECK_THAT(solver.reach_of(std::vector<int>{first}), WithinAbs(0.625, 1e-12));
  CHECK_THAT(solver.reach_of(std::vector<int>{second}), WithinAbs(0.625, 1e-12));
  CHECK_THAT(solver.reach_of(std::vector<int>{first, second}), WithinAbs(0.75, 1e-12));
  const auto account = solver.account(std::vector<int>{first, second});
  CHECK(account.way == std::vector<int>{0, 1});
  CHECK_THAT(account.hours[0], WithinAbs(3, 1e-9));
  CHECK_THAT(account.hours[1], WithinAbs(1, 1e-9));
}

TEST_CASE("a weighted cover by hand: the greedy choice is not the best", "[choose][known]") {
  // Source: common practice, the textbook example of maximum coverage: of the sets {1,2,3,4}, {1,2,5}, {3,4,6} two
  // may be taken; greedy starts with the largest and reaches 5 of 6, the other two reach all.
  Problem p = plain({1, 1, 1, 1, 1, 1});
  for (const char* name : {"large", "left", "right"}) add_item(p, name, 1);
  add_way(p, {0}, cells_of(6, {0, 1, 2, 3}));
  add_way(p, {1}, cells_of(6, {0, 1, 4}));
  add_way(p, {2}, cells_of(6, {2, 3, 5}));
  p.limit_g = 2;
  CHECK(best(p).items == std::vector<int>{1, 2});
  CHECK(best(p).reach == 1);
}

TEST_CASE("a thing more never lowers the reach, a higher limit never lowers it", "[choose][property]") {
  Dice dice(5);
  for (int round = 0; round < 40; ++round) {
    Problem p = round % 2 == 0 ? random_problem(dice, 14, 40, 200, 0.25, 0.1)
                               : inventory_problem(dice, small_stock(), 0.3);
    const double before = best(p).reach;
    Problem higher = p;
    higher.limit_g *= 1.15;
    CHECK(best(higher).reach >= before);
    Problem richer = p;
    const int more = add_item(richer, "one more", 10);
    auto row = p.rows[0];
    row[static_cast<std::size_t>(dice.below(static_cast<int>(row.size())))] = 1;
    add_way(richer, {more, dice.below(more)}, std::move(row));
    richer.engines[0].feeds.push_back({more, 0.5});
    CHECK(best(richer).reach >= before);
  }
}

TEST_CASE("the frontier rises in mass and in reach, and each of its kits is the best of its mass",
          "[choose][property]") {
  Dice dice(12);
  for (int round = 0; round < 6; ++round) {
    const Problem p = inventory_problem(dice, small_stock(), 0.35);
    const Solver solver(p);
    const auto frontier = solver.frontier();
    REQUIRE(frontier.complete);
    REQUIRE(frontier.kits.size() > 3);
    for (std::size_t k = 0; k < frontier.kits.size(); ++k) {
      const auto& kit = frontier.kits[k];
      CHECK(kit.reach == solver.reach_of(kit.items));
      Ask ask;
      ask.limit_g = kit.mass_g;
      CHECK(solver.best(ask).items == kit.items);
      if (k == 0) continue;
      CHECK(kit.mass_g > frontier.kits[k - 1].mass_g);
      CHECK(kit.reach > frontier.kits[k - 1].reach);
    }
    CHECK(frontier.kits.back().items == solver.best().items);
    const double least = frontier.kits[2].reach;
    const auto upper = solver.frontier({}, {}, 1000, least);
    CHECK(upper.complete);
    REQUIRE(upper.kits.size() == frontier.kits.size() - 2);
    for (std::size_t k = 0; k < upper.kits.size(); ++k)
      CHECK(upper.kits[k].items == frontier.kits[k + 2].items);
    const auto few = solver.frontier({}, {}, 2);
    CHECK_FALSE(few.complete);
    REQUIRE(few.kits.size() == 2);
    CHECK(few.kits[1].items == frontier.kits.back().items);
  }
}

TEST_CASE("other names and another order change nothing but names", "[choose][property]") {
  Dice dice(77);
  const auto shuffled = [&](std::size_t n) {
    std::vector<int> to(n);
    std::iota(to.begin(), to.end(), 0);
    for (std::size_t k = n; k > 1; --k)
      std::swap(to[k - 1], to[static_cast<std::size_t>(dice.below(static_cast<int>(k)))]);
    return to;
  };
  for (int round = 0; round < 60; ++round) {
    const Problem p = round % 2 == 0 ? small_problem(dice) : inventory_problem(dice, small_stock(), 0.3);
    Problem q = p;
    const auto item_to = shuffled(p.items.size()), row_to = shuffled(p.rows.size()),
               way_from = shuffled(p.ways.size());
    for (std::size_t i = 0; i < p.items.size(); ++i)
      q.items[static_cast<std::size_t>(item_to[i])] = p.items[i];
    for (std::size_t r = 0; r < p.rows.size(); ++r) q.rows[static_cast<std::size_t>(row_to[r])] = p.rows[r];
    for (std::size_t s = 0; s < p.ways.size(); ++s) {
      q.ways[s] = p.ways[static_cast<std::size_t>(way_from[s])];
      q.ways[s].row = row_to[static_cast<std::size_t>(q.ways[s].row)];
      for (auto& i : q.ways[s].items) i = item_to[static_cast<std::size_t>(i)];
      std::reverse(q.ways[s].items.begin(), q.ways[s].items.end());
    }
    for (auto& engine : q.engines) {
      for (auto& feed : engine.feeds) feed.item = item_to[static_cast<std::size_t>(feed.item)];
      std::reverse(engine.feeds.begin(), engine.feeds.end());
    }
    // Cells change places within their turns.
    for (std::size_t c = 1; c < q.weights.size(); ++c) {
      if (q.turns[c] != q.turns[c - 1] || dice.unit() < 0.5) continue;
      std::swap(q.weights[c], q.weights[c - 1]);
      for (auto& row : q.rows) std::swap(row[c], row[c - 1]);
    }
    const Choice a = best(p), b = best(q);
    std::vector<int> moved;
    for (const int i : a.items) moved.push_back(item_to[static_cast<std::size_t>(i)]);
    std::sort(moved.begin(), moved.end());
    CAPTURE(round);
    CHECK(b.items == moved);
    CHECK(b.reach == a.reach);  // to the last bit
    const auto wide = Solver(p).frontier(), other = Solver(q).frontier();
    REQUIRE(wide.kits.size() == other.kits.size());
    for (std::size_t k = 0; k < wide.kits.size(); ++k) CHECK(wide.kits[k].reach == other.kits[k].reach);
    // Names that sort the same way give the same kit.
    Problem named = p;
    for (auto& item : named.items) item.name = "the " + item.name;
    CHECK(best(named).items == a.items);
  }
}

TEST_CASE("an unused thing in the inventory changes nothing", "[choose][property]") {
  Dice dice(6);
  for (int round = 0; round < 40; ++round) {
    Problem p = random_problem(dice, 12, 30, 150, 0.3, 0.1);
    const Choice before = best(p);
    const int stone = add_item(p, "a stone", 0);
    p.engines.emplace_back().feeds = {{stone, 3}};  // feeds what nobody has
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
    p.items[static_cast<std::size_t>(add_item(p, "first aid", 400))].always = true;
    const Choice after = best(p);
    CHECK(after.reach <= before);
    CHECK(after.items.back() == 12);
    p.limit_g += 400;
    CHECK(best(p).reach == before);
  }
}

TEST_CASE("a question leaves out what always goes and takes what must not, when told to", "[choose][edge]") {
  Problem p = plain({1, 2});
  add_item(p, "always", 100);
  add_item(p, "forbidden", 100);
  p.items[0].always = true;
  p.items[1].excluded = true;
  add_way(p, {0}, cells_of(2, {0}));
  add_way(p, {1}, cells_of(2, {1}));
  const Solver solver(p);
  CHECK(solver.best().items == std::vector<int>{0});
  Ask ask;
  ask.with = {1};
  CHECK(solver.best(ask).items == std::vector<int>{0, 1});
  ask.without = {0};
  CHECK(solver.best(ask).items == std::vector<int>{1});
  ask.limit_g = 99;
  CHECK(solver.best(ask).over_limit);
  ask.with.clear();
  CHECK(solver.best(ask).items.empty());
}

TEST_CASE("a stopped search hands over a kit and a bound that holds", "[choose][edge]") {
  Dice dice(11);
  const Problem p = random_problem(dice, 30, 100, 1000, 0.25, 0.06);
  const Choice whole = best(p);
  REQUIRE(whole.proved);
  for (const std::uint64_t nodes : {1, 2, 4, 8, 32}) {
    Stop stop;
    stop.max_nodes = nodes;
    const Choice part = best(p, stop);
    CAPTURE(nodes, part.reach, part.bound, whole.nodes);
    CHECK(part.reach <= whole.reach);
    CHECK(part.bound >= whole.reach);
    CHECK(part.bound < 0.9);  // better than "everything"
    CHECK(part.reach > 0);
    CHECK(part.nodes <= nodes);
    CHECK(part.mass_g <= p.limit_g);
    CHECK_THAT(part.reach, WithinAbs(Solver(p).reach_of(part.items), 1e-11));
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
  const Problem p = random_problem(dice, 40, 150, 800, 0.3, 0.1);
  Stop stop;
  stop.now = [] { return true; };
  const Choice part = best(p, stop);
  CHECK_FALSE(part.proved);
  CHECK(part.nodes <= 1);
  CHECK(part.reach > 0);
  CHECK(part.bound >= part.reach);
  CHECK(part.mass_g <= p.limit_g);
  const Solver solver(p);
  for (const int i : part.items) {  // nothing slipped in that serves nothing
    auto rest = part.items;
    std::erase(rest, i);
    CHECK(solver.reach_of(rest) < part.reach);
  }
}

TEST_CASE("the wish is asked for by the work done, not by nodes, however dear these are",
          "[choose][regression]") {
  // Twice the ways make a node dearer; the wish is asked as often for the same work and ends the search.
  for (const int ways : {150, 300}) {
    Dice dice(3);
    const Problem p = random_problem(dice, 45, ways, 1500, 0.3, 0.1);
    Stop stop;
    int asked = 0;
    stop.now = [&asked] { return ++asked > 40; };
    const Choice choice = best(p, stop);
    CAPTURE(ways, choice.nodes, asked);
    CHECK(choice.reach > 0);
    CHECK(choice.bound >= choice.reach);
    CHECK(asked > 20);
    CHECK(asked <= 41);  // and ends when it is told to
  }
}

TEST_CASE("a question that was stopped finds no less than the kit it was given", "[choose][property]") {
  Dice dice(11);
  const Problem p = inventory_problem(dice, small_stock(), 0.3);
  const Solver solver(p);
  const Choice chosen = solver.best();
  Stop stop;
  stop.now = [] { return true; };
  for (const int item : chosen.items) {
    Ask ask;
    ask.start = chosen.items;
    std::erase(ask.start, item);
    const double known = solver.reach_of(ask.start);
    ask.without = {item};
    const Choice found = solver.best(ask, stop);
    CHECK(found.reach >= known);
    CHECK(found.bound >= found.reach);
    CHECK(found.reach == solver.reach_of(found.items));
  }
  for (int item = 0; item < static_cast<int>(p.items.size()); ++item) {
    Ask ask;
    ask.with = {item};
    ask.start = chosen.items;
    ask.limit_g = p.limit_g + p.items[static_cast<std::size_t>(item)].mass_g;
    CHECK(solver.best(ask, stop).reach >= chosen.reach);
  }
}

TEST_CASE("many questions at once have the answers they have one by one", "[choose][property]") {
  Dice dice(23);
  const Problem p = inventory_problem(dice, small_stock(), 0.3);
  const Solver solver(p);
  const std::size_t n = p.items.size();
  std::vector<Choice> alone(n), together(n);
  const auto ask_without = [&](std::size_t i) {
    Ask ask;
    ask.without = {static_cast<int>(i)};
    return solver.best(ask);
  };
  for (std::size_t i = 0; i < n; ++i) alone[i] = ask_without(i);
  std::atomic<std::size_t> next{0};
  std::vector<std::thread> threads;
  for (int k = 0; k < 4; ++k) {
    threads.emplace_back([&] {
      for (std::size_t i = next++; i < n; i = next++) together[i] = ask_without(i);
    });
  }
  for (auto& thread : threads) thread.join();
  for (std::size_t i = 0; i < n; ++i) {
    CHECK(together[i].items == alone[i].items);
    CHECK(together[i].reach == alone[i].reach);
    CHECK(together[i].nodes == alone[i].nodes);
  }
}

TEST_CASE("equal reach goes to the lighter kit, then to fewer things, then to the name", "[choose][edge]") {
  Problem p = plain({1, 1});
  add_item(p, "d", 300);
  add_item(p, "c", 200);
  add_item(p, "b", 100);
  add_item(p, "a", 200);
  p.limit_g = 1000;
  const auto chosen = [&](std::vector<int> one, std::vector<int> other) {
    Problem q = p;
    add_way(q, std::move(one), cells_of(2, {0}));
    add_way(q, std::move(other), cells_of(2, {0}));
    return best(q).items;
  };
  CHECK(chosen({0}, {1}) == std::vector<int>{1});     // 200 g before 300 g
  CHECK(chosen({0}, {1, 2}) == std::vector<int>{0});  // one thing before two of the same mass
  CHECK(chosen({1}, {3}) == std::vector<int>{3});     // "a" before "c"
}

TEST_CASE("of things that stand for one another the first by name goes", "[choose][edge]") {
  Problem p;
  p.weights = {1, 1, 1};
  plain_hours(p, 3);
  p.engines[0].own_hours = 0;
  add_item(p, "rig", 100);
  for (const char* name : {"pack c", "pack a", "pack b"}) {
    const int i = add_item(p, name, 50);
    p.items[static_cast<std::size_t>(i)].kind = 4;
    p.engines[0].feeds.push_back({i, 1});
  }
  add_way(p, {0}, {1, 0.75F, 0.5F});
  const Solver solver(p);
  Ask ask;
  ask.limit_g = 150;
  CHECK(solver.best(ask).items == std::vector<int>{0, 2});
  ask.limit_g = 249;
  CHECK(solver.best(ask).items == std::vector<int>{0, 2, 3});
  ask.without = {2};
  CHECK(solver.best(ask).items == std::vector<int>{0, 1, 3});
  ask.without.clear();
  ask.with = {1};
  CHECK(solver.best(ask).items == std::vector<int>{0, 1, 2});
}

TEST_CASE("boundaries: exactly at the limit fits, a milligram more does not", "[choose][edge]") {
  Problem p = plain({1});
  add_item(p, "mast", 600.1);
  add_item(p, "wire", 99.9);
  add_way(p, {0, 1}, cells_of(1, {0}));
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
  p = plain({0, 0});
  p.items[static_cast<std::size_t>(add_item(p, "log", 100))].always = true;
  add_way(p, {}, cells_of(2, {0, 1}));
  p.limit_g = 100;
  CHECK(best(p).items == std::vector<int>{0});
  CHECK(best(p).reach == 0);  // no weight at all
  p.weights = {1, 3};
  p.rows[0] = cells_of(2, {1});
  CHECK(best(p).reach == 0.75);  // works with what always goes
  CHECK(Solver(p).frontier().kits.size() == 1);
  p.limit_g = 99;
  CHECK(best(p).over_limit);
  CHECK(Solver(p).frontier().kits.front().over_limit);
}

TEST_CASE("there is no number of things at which the search runs out of room", "[choose][regression]") {
  // 20 000 things of 1 g, no two in the same ways: thing i is in way b where bit b of i + 1 is set. Any
  // two ways are over the limit, so that the truth is the heaviest cell.
  constexpr int things = 20000, ways = 15;
  Dice dice(11);
  Problem p;
  for (int b = 0; b < ways; ++b) p.weights.push_back(1 + dice.below(50));
  plain_hours(p, 1);
  p.limit_g = 10200;
  for (int i = 0; i < things; ++i) add_item(p, "thing " + std::to_string(i), 1);
  for (int b = 0; b < ways; ++b) {
    std::vector<int> items;
    for (int i = 0; i < things; ++i) {
      if ((((i + 1) >> b) & 1) != 0) items.push_back(i);
    }
    REQUIRE(static_cast<double>(items.size()) <= p.limit_g);
    for (const auto& other : p.ways) {
      std::vector<int> both;
      std::set_union(items.begin(), items.end(), other.items.begin(), other.items.end(),
                     std::back_inserter(both));
      REQUIRE(static_cast<double>(both.size()) > p.limit_g);
    }
    add_way(p, std::move(items), cells_of(ways, {static_cast<std::size_t>(b)}));
  }
  const auto kit = best(p);
  CHECK(kit.proved);
  const double all = std::accumulate(p.weights.begin(), p.weights.end(), 0.0);
  CHECK_THAT(kit.reach, WithinAbs(*std::max_element(p.weights.begin(), p.weights.end()) / all, 1e-9));
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
    add_item(p, "a" + std::to_string(k), a);
    add_item(p, "b" + std::to_string(k), b);
    p.weights.push_back(4 + dice.below(20));
    p.weights.push_back(1 + dice.below(9));
    grams.push_back(a);
    grams.push_back(b);
    worth.push_back(static_cast<int>(p.weights[p.weights.size() - 2]));
    worth.push_back(static_cast<int>(p.weights.back()));
  }
  plain_hours(p, 1);
  for (int k = 0; k < pairs; ++k) {
    const auto cell = static_cast<std::size_t>(2 * k);
    add_way(p, {2 * k}, cells_of(2 * pairs, {cell}));
    add_way(p, {2 * k, 2 * k + 1}, cells_of(2 * pairs, {cell, cell + 1}));
  }
  p.limit_g = limit;
  std::vector<int> most(limit + 1, 0);
  for (int k = 0; k < pairs; ++k) {
    const auto a = static_cast<std::size_t>(2 * k), b = a + 1;
    for (int m = limit; m >= 0; --m) {
      int top = most[static_cast<std::size_t>(m)];
      if (m >= grams[a]) top = std::max(top, most[static_cast<std::size_t>(m - grams[a])] + worth[a]);
      if (m >= grams[a] + grams[b]) {
        top = std::max(top, most[static_cast<std::size_t>(m - grams[a] - grams[b])] + worth[a] + worth[b]);
      }
      most[static_cast<std::size_t>(m)] = top;
    }
  }
  const double total = std::accumulate(p.weights.begin(), p.weights.end(), 0.0);
  Stop stop;
  stop.max_nodes = 2'000'000;
  const Choice found = best(p, stop);
  CAPTURE(found.nodes, found.proved);
  CHECK(found.bound >= most[limit] / total - 1e-9);
  CHECK_THAT(found.reach, WithinAbs(most[limit] / total, 1e-9));
}
