#include "search.hpp"

#include <algorithm>
#include <cmath>

#include "incumbent.hpp"
#include "shop.hpp"

namespace skerry::choose {

namespace {

template <std::size_t W>
class Search {
 public:
  Search(const Ready& ready, const Question& question, std::int64_t left, const Stop& stop, Known& known)
      : limited_(static_cast<bool>(ready.problem.feasible)),
        meter_(stop),
        look_(ready, question, meter_),
        shop_(look_),
        known_(look_, known, meter_),
        left_(left) {
    frames_.resize(ready.group.size() + 2);
    lists_.resize(frames_.size());
  }

  SearchResult run() {
    Frame<W>& root = frames_[0];
    root = look_.root(left_);
    look_.settle(root);
    known_.begin(root);
    look_.settle(root);  // its bound stands, whenever the search is stopped
    tighten(root);
    visit(0);
    SearchResult out;
    out.proved = !stopped_;
    out.bound = stopped_ ? std::max(open_bound_, known_.best().value) : known_.best().value;
    out.nodes = meter_.nodes();
    out.best = known_.best();
    return out;
  }

 private:
  /// After settle: the bound that sees mass.
  void tighten(Frame<W>& f) {
    look_.find_candidates(f);
    look_.find_owners(f);
    shop_.price(f, known_.best_ms());
    shop_.learn();
    f.bound = std::max(f.value, std::min(f.bound, shop_.bound()));
  }

  /// Settles, shrinks the allowance where only a tie by mass is left to win; false: nothing better below.
  bool worth_visiting(Frame<W>& f) {
    look_.settle(f);
    if (f.bound > known_.best().value) return true;
    if (f.bound < known_.best().value) return false;
    for (;;) {
      // Only as much as already found: then it must come lighter, or as light with fewer or earlier names.
      const std::int64_t spare = known_.best().mg - f.mg;
      if (spare < 0) return false;
      if (spare >= f.left) return true;
      f.left = spare;
      look_.settle(f);
      if (f.bound < known_.best().value) return false;
    }
  }

  enum class Probe { nothing, changed, hopeless };

  /// Tries every group both ways, and fixes what cannot be otherwise; else chooses the group to branch on.
  Probe probe(Frame<W>& f) {
    const std::int64_t enough = known_.best().value;
    const auto& groups = look_.candidates();
    come_.clear();
    stay_.clear();
    branch_group_ = -1;
    for (std::size_t i = 0; i < groups.size(); ++i) {
      const int g = groups[i];
      if (look_.waits(f, g)) continue;
      const std::int64_t with = std::min(f.bound, shop_.bound_with(i));
      std::int64_t without = std::min(f.bound, shop_.bound_without(i));
      if (without >= enough) without = std::min(without, look_.bound_without(f, g));
      if (without < enough) come_.push_back(g);
      if (with < enough) stay_.push_back(g);
      // Branch where both sides lose much: the product rule of strong branching (Achterberg, Koch and Martin
      // 2005).
      const double score =
          (static_cast<double>(f.bound - with) + 1) * (static_cast<double>(f.bound - without) + 1);
      if (branch_group_ < 0 || score > branch_score_) {
        branch_score_ = score;
        branch_group_ = g;
      }
    }
    return fix(f);
  }

  Probe fix(Frame<W>& f) {
    if (come_.empty() && stay_.empty()) return Probe::nothing;
    for (const int g : stay_) look_.leave(f, g);
    for (const int g : come_) {
      if (f.out.has(g) || look_.mg(g) > f.left) return Probe::hopeless;
      look_.take(f, g);
    }
    if (!come_.empty() && limited_ && !known_.possible(known_.groups_of(f))) return Probe::hopeless;
    return Probe::changed;
  }

  void visit(std::size_t depth) {
    Frame<W>& f = frames_[depth];
    for (;;) {
      if (stopped_) {
        open_bound_ = std::max(open_bound_, f.bound);
        return;
      }
      if (meter_.node()) stopped_ = true;
      for (;;) {
        const std::int64_t inherited = f.bound;
        if (!worth_visiting(f)) return;
        if (f.value > known_.best().value || (f.value == known_.best().value && f.mg <= known_.best().mg)) {
          const auto groups = known_.groups_of(f);
          if (!known_.possible(groups)) return;
          known_.offer(f.value, f.mg, groups);
        }
        // What more would come adds nothing: it is no lighter.
        if (f.bound <= f.value) return;
        f.bound = std::min(f.bound, inherited);
        if (!stopped_ && meter_.ended()) {
          stopped_ = true;
          open_bound_ = std::max(open_bound_, f.bound);
          return;
        }
        tighten(f);
        if (f.bound < known_.best().value) return;
        const Probe found = probe(f);
        if (found == Probe::hopeless) return;
        if (found == Probe::nothing && !look_.close_hopeless(f, known_.best().value)) break;
      }
      if (branch_group_ < 0) return;
      look_.narrow(f, lists_[depth]);
      const int g = branch_group_;
      Frame<W>& child = frames_[depth + 1];
      child = f;
      look_.take(child, g);
      if (!limited_ || known_.possible(known_.groups_of(child))) visit(depth + 1);
      look_.leave(f, g);
    }
  }

  bool limited_;
  Meter meter_;
  Look<W> look_;
  Shop<W> shop_;
  Incumbent<W> known_;
  std::int64_t left_;
  std::vector<Frame<W>> frames_;
  std::vector<Ready::Lists> lists_;  ///< of the frames that have their own
  bool stopped_ = false;
  std::int64_t open_bound_ = 0;
  std::vector<int> come_, stay_;
  int branch_group_ = -1;
  double branch_score_ = 0;
};

}  // namespace

SearchResult search(const Ready& ready, const Question& question, std::int64_t left_mg, const Stop& stop,
                    Known& known) {
  const std::size_t groups = ready.group.size();
  if (groups <= 64) return Search<1>(ready, question, left_mg, stop, known).run();
  if (groups <= 128) return Search<2>(ready, question, left_mg, stop, known).run();
  if (groups <= 256) return Search<4>(ready, question, left_mg, stop, known).run();
  return Search<0>(ready, question, left_mg, stop, known).run();
}

}  // namespace skerry::choose
