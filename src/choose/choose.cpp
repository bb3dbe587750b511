#include "skerry/choose/choose.hpp"

#include <algorithm>
#include <cassert>

#include "search.hpp"

namespace skerry::choose {

struct Solver::Data {
  explicit Data(const Problem& problem) : ready(problem) {}

  /// Gains of a kit at clock.where(engine, turn), and the hours of its engines.
  struct Working {
    std::vector<std::int64_t> gains, ms;
  };
  [[nodiscard]] Working working(std::span<const int> items) const;
  [[nodiscard]] std::int64_t value(std::span<const int> items) const;
  [[nodiscard]] double share(std::int64_t value) const {
    return ready.all > 0 ? static_cast<double>(value) / static_cast<double>(ready.all) : 0.0;
  }
  [[nodiscard]] Choice only_forced(const Question& question) const;
  [[nodiscard]] bool may_begin(const Question& question) const {
    const auto& feasible = ready.problem.feasible;
    return question.left_mg >= 0 && (!feasible || feasible(question.forced));
  }
  [[nodiscard]] Choice finished(const Question& question, const SearchResult& result) const;
  /// Of these ways the one that gives most in a cell; of equals the lightest, then that of the fewest things, then by
  /// name. -1: none gives anything.
  [[nodiscard]] int best_way(const std::vector<int>& ways, std::size_t cell) const;

  Ready ready;
};

namespace {

void check([[maybe_unused]] const Problem& problem) {
#ifndef NDEBUG
  const auto is_item = [&](int i) { return i >= 0 && static_cast<std::size_t>(i) < problem.items.size(); };
  assert(problem.turns.size() == problem.weights.size());
  assert(std::is_sorted(problem.turns.begin(), problem.turns.end()));
  for (const auto& row : problem.rows) assert(row.size() == problem.weights.size());
  for (const auto& way : problem.ways) {
    assert(way.row >= 0 && static_cast<std::size_t>(way.row) < problem.rows.size());
    assert(way.engine >= 0 && static_cast<std::size_t>(way.engine) < problem.engines.size());
    assert(std::all_of(way.items.begin(), way.items.end(), is_item));
  }
  for (const auto& engine : problem.engines) {
    for (const auto& feed : engine.feeds) assert(is_item(feed.item) && feed.hours > 0);
  }
#endif
}

std::vector<char> marked(const Problem& problem, std::span<const int> items) {
  std::vector<char> in(problem.items.size(), 0);
  for (const int i : items) in[static_cast<std::size_t>(i)] = 1;
  return in;
}

bool all_in(const std::vector<char>& in, const std::vector<int>& items) {
  return std::all_of(items.begin(), items.end(), [&](int i) { return in[static_cast<std::size_t>(i)] != 0; });
}

}  // namespace

Solver::Data::Working Solver::Data::working(std::span<const int> items) const {
  const auto in = marked(ready.problem, items);
  std::vector<char> whole(ready.group.size());
  for (std::size_t g = 0; g < whole.size(); ++g) whole[g] = all_in(in, ready.group[g]) ? 1 : 0;
  std::vector<std::int32_t> base(ready.lists.slots.size(), 0);
  for (const auto& way : ready.ways) {
    if (!all_in(whole, way.groups)) continue;
    for (auto k = way.begin; k < way.end; ++k) {
      const auto& gain = ready.gains[static_cast<std::size_t>(k)];
      auto& most = base[static_cast<std::size_t>(gain.slot)];
      most = std::max(most, gain.gain);
    }
  }
  Working out{std::vector<std::int64_t>(ready.clock.places(), 0), ready.clock.own_ms};
  for (std::size_t k = 0; k < base.size(); ++k)
    out.gains[static_cast<std::size_t>(ready.lists.slots[k].where)] += base[k];
  for (std::size_t e = 0; e < ready.feeds.size(); ++e) {
    for (const auto& feed : ready.feeds[e]) {
      if (whole[static_cast<std::size_t>(feed.group)] != 0)
        out.ms[e] = std::min(no_limit_ms, out.ms[e] + feed.ms);
    }
  }
  return out;
}

std::int64_t Solver::Data::value(std::span<const int> items) const {
  const auto work = working(items);
  return Scales(ready.clock).worth(work.gains.data(), work.ms.data());
}

Choice Solver::Data::only_forced(const Question& question) const {
  Choice out;
  out.items = question.forced;
  out.mass_g = static_cast<double>(question.base_mg) / 1000;
  out.reach = out.bound = share(value(question.forced));
  out.proved = true;
  return out;
}

Choice Solver::Data::finished(const Question& question, const SearchResult& result) const {
  Choice out;
  out.items = question.items(ready, result.best.groups);
  if (!result.proved) {
    // Without proof a thing may have slipped in that serves nothing: out with it.
    for (std::size_t i = 0; i < out.items.size();) {
      std::vector<int> without = out.items;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
      if (!std::binary_search(question.forced.begin(), question.forced.end(), out.items[i]) &&
          value(without) >= result.best.value) {
        out.items = std::move(without);
      } else {
        ++i;
      }
    }
  }
  out.mass_g = mass_of(ready.problem, out.items);
  out.reach = share(result.best.value);
  out.bound = result.proved ? out.reach : share(result.bound);
  out.proved = result.proved;
  out.nodes = result.nodes;
  return out;
}

int Solver::Data::best_way(const std::vector<int>& ways, std::size_t cell) const {
  const auto& problem = ready.problem;
  const auto names = [&](const Way& way) {
    std::vector<int> out;
    for (const int i : way.items) out.push_back(ready.rank[static_cast<std::size_t>(i)]);
    std::sort(out.begin(), out.end());
    return out;
  };
  int best = -1;
  float most = 0;
  for (const int s : ways) {
    const auto& way = problem.ways[static_cast<std::size_t>(s)];
    const float gain = problem.rows[static_cast<std::size_t>(way.row)][cell];
    if (gain < most || gain <= 0) continue;
    if (gain == most) {
      const auto& other = problem.ways[static_cast<std::size_t>(best)];
      const double mass = mass_of(problem, way.items), other_mass = mass_of(problem, other.items);
      if (mass > other_mass) continue;
      if (mass == other_mass) {
        if (way.items.size() > other.items.size()) continue;
        if (way.items.size() == other.items.size() && names(way) >= names(other)) continue;
      }
    }
    best = s;
    most = gain;
  }
  return best;
}

Solver::Solver(const Problem& problem) {
  check(problem);
  data_ = std::make_unique<Data>(problem);
}
Solver::Solver(Solver&&) noexcept = default;
Solver::~Solver() = default;

const Problem& Solver::problem() const {
  return data_->ready.problem;
}

double Solver::reach_of(std::span<const int> items) const {
  return data_->share(data_->value(items));
}

Choice Solver::best(const Ask& ask, const Stop& stop) const {
  const Question question(data_->ready, ask);
  if (!data_->may_begin(question)) {
    Choice out = data_->only_forced(question);
    out.over_limit = true;
    return out;
  }
  Known known;
  return data_->finished(question, search(data_->ready, question, question.left_mg, stop, known));
}

Frontier Solver::frontier(const Ask& ask, const Stop& stop, std::size_t most, double least) const {
  const Question question(data_->ready, ask);
  Frontier out;
  if (!data_->may_begin(question)) {
    Choice only = data_->only_forced(question);
    only.over_limit = true;
    out.kits.push_back(only);
    return out;
  }
  // From the limit downwards: the best kit, then the best that is lighter than it, and so on; kits met on the
  // way start the next search.
  Known known;
  known.keep = true;
  std::int64_t left = question.left_mg;
  while (left >= 0) {
    if (out.kits.size() == most || (!out.complete && stop.now && stop.now())) {
      out.complete = false;
      break;
    }
    const SearchResult result = search(data_->ready, question, left, stop, known);
    Choice kit = data_->finished(question, result);
    if (!out.kits.empty() && kit.reach < least) {
      out.complete = out.complete && kit.bound < least;
      break;
    }
    out.complete = out.complete && result.proved;
    out.kits.push_back(std::move(kit));
    if (result.best.groups.empty()) break;
    left = result.best.mg - 1;
  }
  std::reverse(out.kits.begin(), out.kits.end());
  if (out.kits.size() > 1 && out.kits.front().reach <= 0) out.kits.erase(out.kits.begin());
  return out;
}

Account Solver::account(std::span<const int> items) const {
  const Ready& ready = data_->ready;
  const Problem& problem = ready.problem;
  const std::size_t cells = problem.weights.size(), engines = problem.engines.size();
  const auto turns = static_cast<std::size_t>(ready.clock.turns);
  const auto work = data_->working(items);
  Account out;
  out.got.assign(cells, 0);
  out.way.assign(cells, -1);
  out.share.assign(engines * turns, 0);
  out.hours.assign(engines, 0);
  std::vector<double> hours(engines * turns, 0);  // per engine and turn
  Scales scales(ready.clock);
  std::int64_t sum = 0;
  for (std::size_t d = 0; d < ready.clock.spells.size(); ++d) {
    const auto& spell = ready.clock.spells[d];
    Scales::Work best;
    std::size_t who = 0;
    for (std::size_t e = 0; e < engines; ++e) {
      auto mine = scales.work(d, static_cast<int>(e), work.gains.data(), work.ms[e]);
      if (mine.worth <= best.worth) continue;
      best = std::move(mine);
      who = e;
    }
    sum += best.worth;
    for (std::size_t k = 0; k < best.ms.size(); ++k) {
      const auto& part = spell.parts[k];
      const double worked_h = spell.count * static_cast<double>(best.ms[k]) / 3.6e6;
      const std::size_t at = who * turns + static_cast<std::size_t>(part.turn);
      out.share[at] += part.per_ms * static_cast<double>(best.ms[k]) / static_cast<double>(whole_turn);
      hours[at] += worked_h;
      out.hours[who] += worked_h;
    }
  }
  out.reach = data_->share(sum);
  for (auto& share : out.share) share = std::min(1.0, share);
  const auto in = marked(problem, items);
  std::vector<std::vector<int>> of_engine(engines);
  for (std::size_t s = 0; s < problem.ways.size(); ++s) {
    const auto& way = problem.ways[s];
    if (all_in(in, way.items)) of_engine[static_cast<std::size_t>(way.engine)].push_back(static_cast<int>(s));
  }
  for (std::size_t c = 0; c < cells; ++c) {
    const auto t = static_cast<std::size_t>(problem.turns[c]);
    double longest = 0;
    for (std::size_t e = 0; e < engines; ++e) {
      const std::size_t at = e * turns + t;
      if (out.share[at] <= 0) continue;
      const int way = data_->best_way(of_engine[e], c);
      if (way < 0) continue;
      const double v =
          problem.rows[static_cast<std::size_t>(problem.ways[static_cast<std::size_t>(way)].row)][c];
      out.got[c] += out.share[at] * v;
      if (hours[at] > longest) {
        longest = hours[at];
        out.way[c] = way;
      }
    }
    out.got[c] = std::min(1.0, out.got[c]);
  }
  return out;
}

double mass_of(const Problem& problem, std::span<const int> items) {
  std::int64_t mg = 0;
  for (const int i : items) mg += whole_mg(problem.items[static_cast<std::size_t>(i)].mass_g);
  return static_cast<double>(mg) / 1000;
}

}  // namespace skerry::choose
