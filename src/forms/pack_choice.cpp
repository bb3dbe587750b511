#include "pack_choice.hpp"

#include "skerry/core/nth.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"
#include "things.hpp"

namespace skerry::forms {

using advice::Advice;

namespace {

Json modes_json(const kit::Trip& trip, const Advice& a) {
  return list(a.modes, [&](const auto& m) {
    Json best = one_kit_json(a, m.best);
    best["comes"] = ids(a.inventory.things, m.comes);
    best["goes"] = ids(a.inventory.things, m.goes);
    best["proved"] = m.best.proved;
    return Json{{"mode", id_at(trip.modes, m.mode)},
                {"share", rounded(m.share, 4)},
                {"reach", rounded(m.reach, 5)},
                {"if_it_decided", std::move(best)}};
  });
}

Json windows_json(const kit::Trip& trip, const Advice& a) {
  return list(a.windows, [&](const auto& w) -> Json {
    const auto& setup = nth(a.setups.possible, w.setup.value());
    return {{"site", id_at(trip.sites, w.site)},       {"region", nth(trip.targets, w.target).region.id},
            {"band", id_at(trip.bands, w.band)},       {"antenna", id_at(trip.antennas, setup.antenna)},
            {"first_utc_hour", w.first_hour},          {"hours", w.hours},
            {"days_in_ten", rounded(w.days, 2)},       {"long_way", w.way == geodesy::Way::long_way},
            {"bearing_deg", rounded(w.bearing_deg, 1)}};
  });
}

Json cm(const std::array<double, 3>& point) {
  return {rounded(point[0], 2), rounded(point[1], 2), rounded(point[2], 2)};
}

Json bags_json(const kit::Trip& trip, const Advice& a, const std::vector<advice::BagLoad>& loads) {
  return list(loads, [&](const auto& load) -> Json {
    return {{"bag", id_at(trip.bags, load.bag)},
            {"items", ids(a.inventory.things, load.things)},
            {"mass_kg", rounded(load.mass_g / 1000, 4)},
            {"packed", packed_key(load.packed)},
            {"places", list(load.places,
                            [&](const auto& p) -> Json {
                              return {{"item", nth(a.inventory.things, p.thing).id},
                                      {"aslant", p.aslant},
                                      {"from_cm", cm(p.from_cm)},
                                      {"to_cm", cm(p.to_cm)}};
                            })},
            {"notes", words::bag_notes(trip, a.inventory, load)}};
  });
}

Json uncertainty_json(const kit::Trip& trip, const Advice& a) {
  const auto& r = a.robustness;
  if (r.scenarios.empty()) return nullptr;
  Json scenarios = list(r.scenarios, [&](const auto& s) -> Json {
    return {{"name", words::scenario_name(trip, s)},
            {"kind", s.kind == advice::Scenario::Kind::session_lost ? "session lost" : "conditions"},
            {"reach", rounded(s.kit, 5)},
            {"best", rounded(s.best, 5)},
            {"runner_up", rounded(s.runner_up, 5)},
            {"robust", rounded(s.robust, 5)}};
  });
  return {{"scenarios", std::move(scenarios)},   {"worst", rounded(r.worst_of_chosen, 5)},
          {"robust_worst", rounded(r.worst, 5)}, {"robust_bound", rounded(r.bound, 5)},
          {"robust_proved", r.proved},           {"robust_differs", r.differs},
          {"robust_kit", one_kit_json(a, r.kit)}};
}

}  // namespace

Json one_kit_json(const Advice& a, const choose::Choice& kit) {
  return {{"reach", rounded(kit.reach, 5)},
          {"mass_kg", rounded(kit.mass_g / 1000, 4)},
          {"items", ids(a.inventory.things, kit.items)}};
}

Json firmness_json(const kit::Trip& trip, const Advice& a) {
  const auto& f = a.firmness;
  Json rival = nullptr;
  if (f.runner_up) {
    rival = one_kit_json(a, *f.runner_up);
    rival["comes"] = ids(a.inventory.things, f.comes);
    rival["goes"] = ids(a.inventory.things, f.goes);
    rival["mean_lead"] = rounded(f.mean_lead, 5);
    rival["ahead_in_share_of_cases"] = rounded(f.ahead, 4);
  }
  return {{"toss_up", f.toss_up},
          {"why", words::firm_text(trip, a)},
          {"rival", std::move(rival)},
          {"share_at_the_edge", rounded(f.fragile, 5)},
          {"share_nearly_served", rounded(f.nearly, 5)},
          {"low_r12", or_null(f.asked_the_sun, f.low_r12, 1)},
          {"high_r12", or_null(f.asked_the_sun, f.high_r12, 1)},
          {"reach_at_low_r12", or_null(f.asked_the_sun, f.reach_low, 5)},
          {"reach_at_high_r12", or_null(f.asked_the_sun, f.reach_high, 5)}};
}

void add_choice_json(Json& out, const kit::Trip& trip, const Advice& a) {
  out["reach_by_sky"] = rounded(a.reach, 5);
  out["reach_with_people"] = rounded(a.reach_with_people, 5);
  out["people_counted"] = a.people_counted;
  out["tolerance"] = rounded(a.tolerance, 5);
  out["plain_optimum"] = one_kit_json(a, a.optimum);
  out["plain_optimum"]["proved"] = a.optimum.proved;
  out["plain_optimum"]["bound"] = rounded(a.optimum.bound, 5);
  out["modes"] = modes_json(trip, a);
  out["windows"] = windows_json(trip, a);
  out["practice"] = {
      {"reach", rounded(a.practice.reach, 5)},
      {"bands_per_hour", a.practice.bands_per_hour},
      {"setup_minutes", a.practice.setup_minutes},
      {"put_up", list(a.practice.raised, [&](int s) { return words::setup_label(trip, a, s); })}};
  out["contacts"] = {{"expected", rounded(a.contacts.expected, 2)},
                     {"low", rounded(a.contacts.low, 2)},
                     {"high", rounded(a.contacts.high, 2)},
                     {"per_hour", rounded(a.contacts.per_hour, 2)},
                     {"factor", rounded(a.contacts.factor, 3)},
                     {"learned", a.contacts.learned},
                     {"days", list(a.contacts.days, [&](const auto& d) -> Json {
                        return {{"site", id_at(trip.sites, d.site)},
                                {"date", to_iso(d.day)},
                                {"hours", rounded(d.hours, 3)},
                                {"expected", rounded(d.expected, 2)}};
                      })}};
  Json kits = list(a.frontier.kits, [&](const auto& kit) {
    Json one = one_kit_json(a, kit);
    one["proved"] = kit.proved;
    return one;
  });
  out["frontier"] = {{"complete", a.frontier.complete}, {"kits", std::move(kits)}};
  Json more = list(a.more, [&](const auto& m) -> Json {
    return {{"added_g", m.added_g}, {"reach", rounded(m.reach, 5)}};
  });
  out["more_mass"] = std::move(more);
  out["single_antenna"] = a.single_setup ? one_kit_json(a, a.single) : Json(nullptr);
  if (a.single_setup)
    out["single_antenna"]["setup"] = words::setup_label(trip, nth(a.setups.possible, *a.single_setup));
  Json variants = list(a.variants, [&](const auto& v) {
    Json one = one_kit_json(a, v.kit);
    one["name"] = words::variant_name(v.restriction);
    one["without"] = ids(a.inventory.things, v.dropped);
    one["bags"] = bags_json(trip, a, v.bags);
    return one;
  });
  out["variants"] = std::move(variants);
  out["uncertainty"] = uncertainty_json(trip, a);
  Json pairs = list(a.pairs, [&](const auto& p) -> Json {
    return {{"bands", {id_at(trip.bands, p.a), id_at(trip.bands, p.b)}},
            {"together", p.together()},
            {"harmonic", p.harmonic > 0},
            {"close", p.close},
            {"reach", rounded(p.reach, 5)},
            {"why", p.together() ? Json(nullptr) : Json(words::pair_why(trip, p))}};
  });
  out["band_pairs"] = std::move(pairs);
  out["bags"] = bags_json(trip, a, a.bags);
  out["bags_packed"] = packed_key(a.packed);
}

}  // namespace skerry::forms
