#include "skerry/advice/prepared.hpp"

#include <optional>

#include "advise_parts.hpp"
#include "hung_wires.hpp"
#include "skerry/core/nth.hpp"
#include "ways.hpp"

namespace skerry::advice {

/// Holds still: the model refers to the rest.
struct Prepared::Data {
  kit::Trip trip;
  Advice base;  ///< what no change touches
  std::optional<ReachModel> model;
  /// Laid out when first asked for.
  std::optional<std::vector<Case>> cases;
  std::optional<std::vector<ModeCase>> modes;
};

namespace {

/// The kit as it is worked. Refers to all that it is made of.
struct Worked {
  choose::Account account;
  std::vector<int> setups;
  Worth worth;
  Worked(const kit::Trip& trip, const Advice& advice, const ReachModel& model, const choose::Solver& solver)
      : account(solver.account(advice.kit.items)),
        setups(working(advice, account, advice.kit.items)),
        worth(trip, advice, model, account, weights_of(trip, model)) {}
  Worked(const Worked&) = delete;
  Worked& operator=(const Worked&) = delete;
};

/// What a kit gets, by one of the cells' weights.
double share_of_all(const ReachModel& model, const std::vector<double>& got, double WantedCell::*weight) {
  double sum = 0, all = 0;
  for (std::size_t c = 0; c < got.size(); ++c) {
    sum += got[c] * model.cells()[c].*weight;
    all += model.cells()[c].*weight;
  }
  return all > 0 ? sum / all : 0;
}

void sum_up_everything(Advice& advice, const choose::Solver& solver) {
  std::vector<int> everything;
  double everything_g = 0;
  for (std::size_t i = 0; i < advice.inventory.things.size(); ++i) {
    if (advice.inventory.things[i].excluded) continue;
    everything.push_back(static_cast<int>(i));
    everything_g += advice.inventory.things[i].mass_g;
  }
  advice.reach_of_everything = solver.reach_of(everything);
  const auto& feasible = advice.problem.feasible;
  advice.full_kit_fits = everything_g <= advice.limit_g && (!feasible || feasible(everything));
}

}  // namespace

Prepared::Prepared(kit::Trip trip, const PatternBook* before) : data_(std::make_unique<Data>()) {
  auto& d = *data_;
  d.trip = std::move(trip);
  auto& base = d.base;
  base.setups = kit::derive_setups(d.trip);
  base.inventory = take_inventory(d.trip);
  base.book = pattern_book(d.trip, base.setups.possible, before);
  offer_tuners(d.trip, base.setups, base.book);
  feed_setups(d.trip, base.inventory, base.setups, base.book);
  d.model.emplace(d.trip, base.setups.possible, base.book);
  base.cells = d.model->cells();
  base.problem = packing_problem(d.trip, base.inventory, base.setups, *d.model);
  base.people_counted = d.trip.listeners.count;
  base.unfit = bands_that_cannot_be(base.setups, base.book);
  plan_days(base, d.trip);
}

Prepared::Prepared(Prepared&&) noexcept = default;
Prepared& Prepared::operator=(Prepared&&) noexcept = default;
Prepared::~Prepared() = default;

const kit::Trip& Prepared::trip() const {
  return data_->trip;
}

const Inventory& Prepared::inventory() const {
  return data_->base.inventory;
}

kit::Trip Prepared::trip_with(const Changes& changes) const {
  kit::Trip out = data_->trip;
  const auto& things = data_->base.inventory.things;
  if (changes.limit_g) out.mass_limit_g = *changes.limit_g;
  if (changes.tolerance) out.tolerance = *changes.tolerance;
  for (const int i : changes.must_go) item_of(out, nth(things, i)).always = true;
  for (const int i : changes.not_mine) item_of(out, nth(things, i)).absent = true;
  return out;
}

Advice Prepared::decide(const Changes& changes, const AdviceOptions& options) const {
  const auto& d = *data_;
  const auto trip = trip_with(changes);
  Advice out = d.base;
  out.changes = changes;
  out.inventory = take_inventory(trip);
  lay_out_things(out.problem, trip, out.inventory, out.setups);
  out.limit_g = trip.mass_limit_g;
  out.tolerance = trip.tolerance;
  const choose::Solver solver(out.problem);
  choose_kit(out, solver, options);
  const Worked kit(trip, out, *d.model, solver);
  out.shares = shares_in(trip, out, kit.account, kit.setups);
  out.reach = share_of_all(*d.model, kit.account.got, &WantedCell::weight);
  out.reach_with_people = share_of_all(*d.model, kit.account.got, &WantedCell::people_weight);
  count_contacts(out, trip, *d.model, kit.account.got);
  plan_power(out, trip, kit.setups);
  sum_up_everything(out, solver);
  if (auto plan = pack_bags(trip, out.inventory, out.kit.items)) {
    out.bags = std::move(plan->bags);
    out.packed = plan->packed;
  }
  list_items(out, solver);
  describe_uses(out, trip, *d.model, kit.worth, kit.setups, options);
  find_windows(out, trip, *d.model);
  look_at_practice(out, trip, *d.model, kit.worth);
  pair_bands(out, trip, kit.worth);
  add_cautions(out, trip, *d.model);
  if (options.frontier) trace_frontier(out, solver, options);
  find_outcome(out, trip);
  return out;
}

void Prepared::complete(Advice& advice, const AdviceOptions& options) {
  auto& d = *data_;
  const auto trip = trip_with(advice.changes);
  const choose::Solver solver(advice.problem);
  const Worked kit(trip, advice, *d.model, solver);
  find_single(advice, solver, kit.worth, options);
  if (options.variants) advice.variants = variants(advice, trip, bounded(options.stop, most_asked));
  if (options.remedies && !ended(options)) find_remedies(advice, trip, options);
  std::vector<choose::Choice> looked_at;
  judge_items(advice, solver, options, looked_at);
  cost_masts(advice, trip);
  looked_at.insert(looked_at.end(), advice.frontier.kits.begin(), advice.frontier.kits.end());
  looked_at.push_back(advice.optimum);
  if (!d.modes) d.modes = mode_cases_of(d.trip, d.base, *d.model);
  ask_each_mode(advice, trip, *d.modes, options);
  const bool ask = options.uncertainty && advice.kit.reach > 0 && !ended(options);
  if (ask && !d.cases) d.cases = cases_of(d.trip, d.base, *d.model);
  const std::vector<Case> none;
  weigh_firmness(advice, trip, *d.model, kit.setups, ask ? *d.cases : none, std::move(looked_at), options);
  advice.complete = true;
}

PatternBook currents_of(const PatternBook& book) {
  PatternBook out;
  out.solved = std::make_shared<SolvedWires>();
  out.solved->currents.by_key = book.solved->currents.by_key;
  out.solved->sways.by_key = book.solved->sways.by_key;
  return out;
}

}  // namespace skerry::advice
