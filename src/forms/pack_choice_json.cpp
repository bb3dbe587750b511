#include "pack_json_parts.hpp"

namespace skerry::forms {

namespace {

using advice::Advice;

Json ids(const Advice& a, const std::vector<int>& things) {
  Json out = Json::array();
  for (const int t : things) out.push_back(a.inventory.things[static_cast<std::size_t>(t)].id);
  return out;
}

Json kit_json(const Advice& a, const choose::Choice& kit) {
  return {{"reach", rounded(kit.reach, 5)},
          {"mass_kg", rounded(kit.mass_g / 1000, 4)},
          {"items", ids(a, kit.items)}};
}

Json bags_json(const kit::Trip& trip, const Advice& a, const std::vector<advice::BagLoad>& loads) {
  Json out = Json::array();
  for (const auto& load : loads) {
    out.push_back({{"bag", trip.bags[static_cast<std::size_t>(load.bag)].id},
                   {"items", ids(a, load.things)},
                   {"mass_kg", rounded(load.mass_g / 1000, 4)},
                   {"notes", load.notes}});
  }
  return out;
}

Json uncertainty_json(const Advice& a) {
  const auto& r = a.robustness;
  if (r.scenarios.empty()) return nullptr;
  Json scenarios = Json::array();
  for (const auto& s : r.scenarios) {
    scenarios.push_back({{"name", s.name},
                         {"kind", s.session ? "session lost" : "conditions"},
                         {"reach", rounded(s.kit, 5)},
                         {"best", rounded(s.best, 5)},
                         {"runner_up", rounded(s.runner_up, 5)},
                         {"robust", rounded(s.robust, 5)}});
  }
  return {{"scenarios", std::move(scenarios)},   {"worst", rounded(r.worst_of_chosen, 5)},
          {"robust_worst", rounded(r.worst, 5)}, {"robust_bound", rounded(r.bound, 5)},
          {"robust_proved", r.proved},           {"robust_differs", r.differs},
          {"robust_kit", kit_json(a, r.kit)}};
}

}  // namespace

Json pack_sets_json(const kit::Trip& trip, const advice::BatteryPlan& plan) {
  Json out = Json::array();
  for (const auto& set : plan.sets) {
    Json packs = Json::array();
    for (const int b : set.batteries) packs.push_back(trip.batteries[static_cast<std::size_t>(b)].item.id);
    out.push_back({{"batteries", std::move(packs)},
                   {"mass_kg", rounded(set.mass_g / 1000, 4)},
                   {"lasts_hours", rounded(set.lasts_hours, 2)},
                   {"share_of_hours", rounded(set.share, 4)}});
  }
  return out;
}

Json what_if_json(const Advice& a, const advice::WhatIf& w) {
  Json out = kit_json(a, w.kit);
  out["drop"] = ids(a, w.drop);
  out["add"] = ids(a, w.add);
  out["possible"] = !w.kit.over_limit;
  out["proved"] = w.kit.proved;
  out["reach_change"] = rounded(w.reach, 5);
  out["mass_change_g"] = rounded(w.mass_g, 1);
  out["comes"] = ids(a, w.comes);
  out["goes"] = ids(a, w.goes);
  out["as_it_stands"] = {{"reach", rounded(w.as_it_stands_reach, 5)},
                         {"mass_kg", rounded(w.as_it_stands_mass_g / 1000, 4)},
                         {"fits", w.as_it_stands_fits}};
  return out;
}

void add_choice_json(Json& out, const kit::Trip& trip, const Advice& a) {
  out["reach_by_sky"] = rounded(a.reach, 5);
  out["reach_with_people"] = rounded(a.reach_with_people, 5);
  out["people_counted"] = a.people_counted;
  out["practice"] = {{"reach", rounded(a.practice.reach, 5)},
                     {"bands_per_hour", a.practice.bands_per_hour},
                     {"setup_minutes", a.practice.setup_minutes},
                     {"put_up", Json::array()}};
  for (const int s : a.practice.raised)
    out["practice"]["put_up"].push_back(a.setups.possible[static_cast<std::size_t>(s)].label);
  Json kits = Json::array();
  for (const auto& kit : a.frontier.kits) {
    kits.push_back(kit_json(a, kit));
    kits.back()["proved"] = kit.proved;
  }
  out["frontier"] = {{"complete", a.frontier.complete}, {"kits", std::move(kits)}};
  Json more = Json::array();
  for (const auto& m : a.more) more.push_back({{"added_g", m.added_g}, {"reach", rounded(m.reach, 5)}});
  out["more_mass"] = std::move(more);
  out["single_antenna"] = a.single_setup < 0 ? Json(nullptr) : kit_json(a, a.single);
  if (a.single_setup >= 0)
    out["single_antenna"]["setup"] = a.setups.possible[static_cast<std::size_t>(a.single_setup)].label;
  Json variants = Json::array();
  for (const auto& v : a.variants) {
    Json one = kit_json(a, v.kit);
    one["name"] = v.name;
    one["without"] = ids(a, v.dropped);
    one["bags"] = bags_json(trip, a, v.bags);
    variants.push_back(std::move(one));
  }
  out["variants"] = std::move(variants);
  out["uncertainty"] = uncertainty_json(a);
  Json pairs = Json::array();
  for (const auto& p : a.pairs) {
    pairs.push_back(
        {{"bands",
          {trip.bands[static_cast<std::size_t>(p.a)].id, trip.bands[static_cast<std::size_t>(p.b)].id}},
         {"together", p.why.empty()},
         {"harmonic", p.harmonic},
         {"close", p.close},
         {"reach", rounded(p.reach, 5)},
         {"why", p.why.empty() ? Json(nullptr) : Json(p.why)}});
  }
  out["band_pairs"] = std::move(pairs);
  out["bags"] = bags_json(trip, a, a.bags);
}

}  // namespace skerry::forms
