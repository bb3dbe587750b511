#include "skerry/advice/advise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "advise_parts.hpp"
#include "verdict_parts.hpp"
#include "ways.hpp"

namespace skerry::advice {

std::string percent(double share) {
  const double p = 100 * share;
  if (p > 1e-9 && p < 1) return "under 1 %";
  return fmt::format("{:.0f} %", p);
}

std::string grams(double mass_g) {
  return mass_g < 1000 ? fmt::format("{:.0f} g", mass_g) : fmt::format("{:.2f} kg", mass_g / 1000);
}

choose::Problem packing_problem(const kit::Trip& trip, const Inventory& inventory, const kit::Setups& setups,
                                const ReachModel& model) {
  choose::Problem out;
  out.limit_g = trip.mass_limit_g;
  for (const auto& thing : inventory.things)
    out.items.push_back({thing.id, thing.mass_g, thing.always, thing.excluded});
  lay_out_ways(out, trip, inventory, setups, model, weights_of(trip, model));
  out.feasible = feasible_in_bags(trip, inventory);
  return out;
}

namespace {

void list_impossible(Advice& advice, const kit::Trip& trip) {
  for (const auto& i : advice.setups.impossible) advice.impossible.push_back({i.setup, i.why});
  for (auto& line : bands_that_cannot_be(trip, advice.setups, advice.book))
    advice.impossible.push_back(std::move(line));
  for (const auto& thing : advice.inventory.things) {
    if (thing.excluded) advice.impossible.push_back({thing.name, thing.why_excluded});
  }
  for (const auto& power : advice.inventory.power) {
    if (!power.possible) {
      advice.impossible.push_back({trip.rigs[static_cast<std::size_t>(power.rig)].item.name, power.why});
    }
  }
}

/// The lightest kit that is nearly as good, if that saves something worth carrying less for.
///   Judgement: a hundredth of the reach is within the method's own error; 200 g and a tenth of the mass are
///   felt.
const choose::Choice* nearly_as_good(const Advice& advice) {
  for (const auto& kit : advice.frontier.kits) {  // by rising mass
    if (kit.reach >= advice.kit.reach - 0.01 && kit.mass_g <= advice.kit.mass_g - 200 &&
        kit.mass_g <= 0.9 * advice.kit.mass_g)
      return &kit;
  }
  return nullptr;
}

/// "The battery is the limit ..." where no rig of the kit is fed for all hours on the air; else "".
std::string battery_limit(const Advice& advice, const kit::Trip& trip) {
  const BatteryPlan* best = nullptr;
  for (const auto& plan : advice.power) {
    if (best == nullptr || plan.share > best->share) best = &plan;
  }
  if (best == nullptr || best->batteries.empty() || best->share >= 0.995) return {};
  std::string out =
      fmt::format(" The battery is the limit: good for {} of the hours on the air", percent(best->share));
  const PackSet* longer = nullptr;
  for (const auto& set : advice.inventory.power[static_cast<std::size_t>(best->rig)].sets) {
    if (set.share > (longer == nullptr ? best->share : longer->share) + 1e-9) longer = &set;
  }
  if (longer != nullptr) {
    std::vector<std::string> names;
    for (const int b : longer->batteries)
      names.push_back(trip.batteries[static_cast<std::size_t>(b)].item.name);
    return out + fmt::format("; {} ({}) would be good for {}.", fmt::join(names, " and "),
                             grams(longer->mass_g), percent(longer->share));
  }
  return out + fmt::format("; as much again would be good for {}.",
                           percent(share_of_hours(trip, 2 * best->lasts_hours)));
}

/// Why no kit works at all; nothing when one does.
std::optional<Reason> no_kit(const Advice& advice, const kit::Trip& trip) {
  const auto& kit = advice.kit;
  if (kit.over_limit && kit.mass_g <= advice.limit_g) {
    return Reason{
        "What always goes does not go into the bags together: see 'skerry kit' for the reason. Nothing "
        "else "
        "was considered.",
        "what always goes finds no room"};
  }
  if (kit.over_limit) {
    return Reason{
        fmt::format("What always goes weighs {} already: more than the limit of {}. Nothing else fits.",
                    grams(kit.mass_g), grams(advice.limit_g)),
        "what always goes is over the limit"};
  }
  if (advice.cells.empty())
    return Reason{"No session and region to reach: nothing to decide.", "there is nothing to reach"};
  if (advice.setups.possible.empty())
    return Reason{"Nothing in this inventory can be put on the air: see the reasons below.",
                  "nothing here can be put on the air"};
  if (kit.reach <= 0) return why_nothing_works(advice, trip);
  return std::nullopt;
}

std::string verdict_text(const Advice& advice, const kit::Trip& trip) {
  const auto& kit = advice.kit;
  std::string text = fmt::format("Carry {} of {} allowed: {} of the wanted region-hours work both ways",
                                 grams(kit.mass_g), grams(advice.limit_g), percent(kit.reach));
  if (advice.reach_of_everything - kit.reach < 0.005) {
    text += ", as much as the whole inventory would give.";
  } else {
    text += fmt::format("; the whole inventory would give {}.", percent(advice.reach_of_everything));
  }
  if (kit.proved) {
    text += " Proved: no kit within the limit reaches more.";
  } else {
    text += fmt::format(" Best found; at most {} is possible within the limit.", percent(kit.bound));
  }
  text += battery_limit(advice, trip);
  if (const choose::Choice* light = nearly_as_good(advice)) {
    text += fmt::format(" Nearly the same for less: {} reaches {}; --mass-limit-kg {:.2f} shows it.",
                        grams(light->mass_g), percent(light->reach), std::ceil(light->mass_g / 10) / 100);
  }
  return text;
}

}  // namespace

Advice advise(const kit::Trip& trip, const AdviceOptions& options) {
  Advice out;
  out.limit_g = trip.mass_limit_g;
  out.activity_source = trip.activity_source;
  out.setups = kit::derive_setups(trip);
  out.inventory = take_inventory(trip);
  out.book = pattern_book(trip, out.setups.possible);
  offer_tuners(trip, out.setups, out.book);
  const ReachModel model(trip, out.setups.possible, out.book);
  out.cells = model.cells();
  out.problem = packing_problem(trip, out.inventory, out.setups, model);
  out.kit = choose::best(out.problem, options.stop);
  auto single = choose::best_single(out.problem);
  out.single = std::move(single.kit);
  if (single.bundle >= 0)
    out.single_setup = out.problem.bundles[static_cast<std::size_t>(single.bundle)].origin;
  out.shares = shares_in(out.problem, out.setups.possible.size(), out.kit.items);
  const auto in_kit = working(out.shares);
  out.reach = Worth(model, out.shares, false).of(in_kit);
  out.reach_with_people = Worth(model, out.shares, true).of(in_kit);
  out.people_counted = trip.listeners.count;
  plan_power(out, trip);

  std::vector<int> everything;
  double everything_g = 0;
  for (std::size_t i = 0; i < out.inventory.things.size(); ++i) {
    if (out.inventory.things[i].excluded) continue;
    everything.push_back(static_cast<int>(i));
    everything_g += out.inventory.things[i].mass_g;
  }
  out.reach_of_everything = choose::reach_of(out.problem, everything);
  out.full_kit_fits =
      everything_g <= trip.mass_limit_g && (!out.problem.feasible || out.problem.feasible(everything));
  if (auto plan = pack_bags(trip, out.inventory, out.kit.items)) out.bags = std::move(plan->bags);
  if (options.variants) out.variants = variants(trip, out.setups, model, out.kit, options.stop);

  list_impossible(out, trip);
  judge_items(out, options);
  describe_uses(out, trip, model, options);
  look_at_practice(out, trip, model);
  pair_bands(out, trip, model);
  plan_days(out, trip);
  add_cautions(out, trip, model);
  if (options.frontier) trace_frontier(out, options);
  weigh_firmness(out, trip, model, options);
  const auto no_kit_because = no_kit(out, trip);
  out.no_kit_works = no_kit_because ? no_kit_because->in_short : std::string{};
  out.verdict = no_kit_because ? no_kit_because->text : verdict_text(out, trip);
  return out;
}

}  // namespace skerry::advice
