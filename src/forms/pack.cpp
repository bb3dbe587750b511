// The packing advice: skerry.pack/1.

#include "skerry/words/pack.hpp"

#include "pack_choice.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/kit/energy.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"
#include "things.hpp"

namespace skerry::forms {

namespace {

using advice::Advice;

const char* remedy_key(advice::Remedy::Kind kind) {
  using Kind = advice::Remedy::Kind;
  switch (kind) {
    case Kind::wire_length:
      return "wire-length";
    case Kind::counterpoise:
      return "counterpoise";
    case Kind::ratio:
      return "transformer";
    case Kind::tuner:
      return "tuner";
    case Kind::other_support:
      return "other-support";
    case Kind::longer_pole:
      return "longer-pole";
    case Kind::other_shape:
      return "other-shape";
    case Kind::loading:
      return "coil";
    case Kind::standoff:
      return "standoff";
    case Kind::no_mast_beside:
      return "no-conductive-mast";
    case Kind::cable:
      break;
  }
  return "cable";
}

const char* topic_key(words::Topic topic) {
  static constexpr std::array<const char*, 14> keys{
      "measured foF2", "learned",   "zone",        "air",     "licence",  "site",   "exposure",
      "voltage",       "lightning", "power lines", "battery", "daylight", "method", "noise"};
  return nth(keys, topic);
}

Json air_json(const kit::Verdict& v) {
  return {{"place", place_key(v.place)},
          {"approval", v.approval},
          {"arguable", v.arguable},
          {"why", words::air_why(v)},
          {"rule_date", v.rule_date}};
}

Json item_json(const kit::Trip& trip, const Advice& a, const advice::ItemAdvice& item) {
  const auto& thing = nth(a.inventory.things, item.thing);
  Json out = {{"id", thing.id}, {"name", thing.name}, {"mass_g", rounded(thing.mass_g, 1)}};
  if (item.carry) {
    out["always"] = thing.always;
    out["reach_lost_without"] = rounded(item.reach, 5);
    out["reach_lost_as_it_stands"] = rounded(item.as_it_stands, 5);
  } else {
    out["reach_gained_with"] = thing.excluded ? Json(nullptr) : Json(rounded(item.reach, 5));
    out["added_g"] = rounded(item.added_g, 1);
  }
  out["reach_per_kg"] = or_null(item.reach_per_kg, 5);
  out["exact"] = item.exact;
  out["reason"] = words::item_reason(trip, a, item);
  out["air"] = air_json(thing.air);
  return out;
}

Json setup_json(const kit::Trip& trip, const Advice& a, const advice::SetupUse& use) {
  const auto& setup = nth(a.setups.possible, use.setup);
  Json bands = list(use.bands, [&](const auto& b) -> Json {
    return {{"band", id_at(trip.bands, b.use.band)}, {"reach", rounded(b.reach, 5)}};
  });
  Json sole = list(use.sole, [&](const auto& s) -> Json {
    return {{"site", id_at(trip.sites, s.site)},
            {"region", id_at(trip.targets, s.target)},
            {"utc_hours", s.utc_hours},
            {"share", rounded(s.share, 5)}};
  });
  return {{"label", words::setup_label(trip, setup)},
          {"site", id_at(trip.sites, setup.site)},
          {"rig", id_at(trip.rigs, setup.rig)},
          {"antenna", id_at(trip.antennas, setup.antenna)},
          {"support", id_or_null(trip.supports, setup.support)},
          {"cable", id_or_null(trip.cables, setup.cable)},
          {"tuner", id_or_null(trip.tuners, setup.tuner)},
          {"shape", antenna::to_text(setup.shape)},
          {"needs", setup.needs},
          {"in_plan", use.in_plan},
          {"share_of_hours", rounded(use.share_of_hours, 4)},
          {"wire_azimuth_deg", or_null(use.turns, use.wire_azimuth_deg, 1)},
          {"mast_cost_db", or_null(use.mast_cost ? std::optional(use.mast_cost->db) : std::nullopt, 1)},
          {"reach_alone", rounded(use.alone, 5)},
          {"reach_without", rounded(use.without, 5)},
          {"bands", std::move(bands)},
          {"only_by_this", std::move(sole)},
          {"notes", words::setup_notes(trip, setup)}};
}

Json openings_json(const kit::Trip& trip, const Advice& a) {
  Json out = Json::array();
  for (std::size_t site = 0; site < trip.sites.size(); ++site) {
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      for (int h = 0; h < 24; ++h) {
        for (std::size_t b = 0; b < trip.bands.size(); ++b) {
          const auto& s = a.openings.at(static_cast<int>(site), static_cast<int>(t), h, static_cast<int>(b));
          if (!s.open()) continue;
          out.push_back({{"site", trip.sites[site].id},
                         {"region", trip.targets[t].region.id},
                         {"utc_hour", h},
                         {"band", trip.bands[b].id},
                         {"way", way_key(s.way)},
                         {"days_in_ten", rounded(s.days_both, 2)},
                         {"days_in_ten_there", rounded(s.days_there, 2)},
                         {"days_in_ten_back", rounded(s.days_back, 2)},
                         {"snr_there_db", rounded(s.snr_there_db, 2)},
                         {"snr_back_db", rounded(s.snr_back_db, 2)},
                         {"elevation_deg", rounded(s.elevation_deg, 1)},
                         {"mode", id_at(trip.modes, s.by->mode)}});
        }
      }
    }
  }
  return out;
}

Json regions_json(const kit::Trip& trip, const Advice& a) {
  Json out = Json::array();
  for (const auto& t : a.targets) {
    Json hours = list(t.by_hour, [](const auto& share) { return or_null(share, 4); });
    const auto& target = nth(trip.targets, t.target);
    out.push_back(
        {{"id", target.region.id},
         {"name", target.region.name},
         {"weight", target.weight},
         {"reach", rounded(t.reach, 5)},
         {"bearing_deg", rounded(t.bearing_deg, 1)},
         {"distance_km", rounded(t.distance_km, 0)},
         {"clock", clock_json(advice::clock_of(target), start_of(trip.climate.day) + std::chrono::hours{12})},
         {"served_by_utc_hour", std::move(hours)}});
  }
  return out;
}

Json emissions_json(const kit::Trip& trip, const kit::Rig& rig) {
  const auto shares = advice::counted_shares(trip);
  Json out = Json::array();
  for (const auto m : ids_of(trip.modes)) {
    const auto& mode = nth(trip.modes, m);
    if (!advice::rig_has_mode(rig, mode)) continue;
    out.push_back({{"mode", mode.id},
                   {"share", rounded(nth(shares, m.value()), 4)},
                   {"sending", mode.tx_share},
                   {"duty", mode.duty}});
  }
  return out;
}

Json sets_json(const kit::Trip& trip, const advice::BatteryPlan& plan) {
  return list(plan.feeds, [&](const auto& feed) -> Json {
    return {{"batteries", Json::array({id_at(trip.batteries, feed.battery)})},
            {"mass_kg", rounded(nth(trip.batteries, feed.battery).item.mass_g / 1000, 4)},
            {"volts", nth(trip.batteries, feed.battery).volts},
            {"power_w", rounded(feed.power_w, 2)},
            {"drawn_w", rounded(feed.drawn_w, 2)},
            {"lasts_hours", rounded(feed.hours, 2)},
            {"share_of_hours", rounded(feed.share, 4)}};
  });
}

Json what_if_json(const Advice& a, const advice::WhatIf& w) {
  Json out = one_kit_json(a, w.kit);
  out["drop"] = ids(a.inventory.things, w.drop);
  out["add"] = ids(a.inventory.things, w.add);
  out["possible"] = !w.kit.over_limit;
  out["proved"] = w.kit.proved;
  out["reach_change"] = rounded(w.reach, 5);
  out["mass_change_g"] = rounded(w.mass_g, 1);
  out["comes"] = ids(a.inventory.things, w.comes);
  out["goes"] = ids(a.inventory.things, w.goes);
  out["as_it_stands"] = {{"reach", rounded(w.as_it_stands_reach, 5)},
                         {"mass_kg", rounded(w.as_it_stands_mass_g / 1000, 4)},
                         {"fits", w.as_it_stands_fits}};
  return out;
}

}  // namespace

std::string pack_json(const kit::Trip& trip, const Advice& a, const advice::WhatIf* what_if) {
  Json carry = Json::array();
  Json leave = Json::array();
  for (const auto& item : a.items) (item.carry ? carry : leave).push_back(item_json(trip, a, item));
  Json setups = list(a.uses, [&](const auto& use) { return setup_json(trip, a, use); });
  Json impossible = list(words::cannot_be(trip, a), [&](const auto& i) -> Json {
    return {{"setup", i.what}, {"why", i.why}};
  });
  Json remedies = list(a.remedies, [&](const auto& r) -> Json {
    return {{"antenna", trip.at(r.antenna).item.id},
            {"kind", remedy_key(r.kind)},
            {"number", r.number > 0 ? Json(rounded(r.number, 2)) : Json(nullptr)},
            {"shape", antenna::to_text(r.shape)},
            {"support", r.support ? Json(trip.at(*r.support).item.id) : Json(nullptr)},
            {"added_g", rounded(r.added_g, 1)},
            {"bands_won", ids(trip.bands, r.bands)},
            {"bands_lost", ids(trip.bands, r.lost)},
            {"reach_now", or_null(r.reach ? std::optional(r.reach->now) : std::nullopt, 5)},
            {"reach_then", or_null(r.reach ? std::optional(r.reach->then) : std::nullopt, 5)},
            {"text", words::remedy_text(trip, r)}};
  });
  Json bands = list(a.bands, [&](const auto& s) -> Json {
    return {{"band", id_at(trip.bands, s.index)},
            {"reach_alone", rounded(s.alone, 5)},
            {"reach_without", rounded(s.without, 5)}};
  });
  Json antennas = list(a.antennas, [&](const auto& s) -> Json {
    return {{"antenna", id_at(trip.antennas, s.index)},
            {"reach_alone", rounded(s.alone, 5)},
            {"reach_without", rounded(s.without, 5)}};
  });
  Json power = list(a.power, [&](const auto& p) -> Json {
    return {{"rig", id_at(trip.rigs, p.rig)},
            {"batteries", ids(trip.batteries, p.batteries)},
            {"need_wh", rounded(p.need_wh, 1)},
            {"packed_wh", rounded(p.packed_wh, 1)},
            {"need_hours", rounded(p.need_hours, 2)},
            {"lasts_hours", rounded(p.lasts_hours, 2)},
            {"share_of_hours", rounded(p.share, 4)},
            {"enough", p.enough},
            {"why", words::power_why(trip, p)},
            {"notes", words::power_notes(trip, p)},
            {"power_w", rounded(p.power_w, 2)},
            {"receive_a", nth(trip.rigs, p.rig).receive_a},
            {"transmit_a", nth(trip.rigs, p.rig).transmit_a},
            {"mean_current_a", rounded(p.mean_current_a, 3)},
            {"takes_volts", kit::volts_taken(nth(trip.rigs, p.rig))},
            {"panels", ids(trip.items, p.panels)},
            {"sun_hours", rounded(p.sun_hours, 2)},
            {"emissions", emissions_json(trip, nth(trip.rigs, p.rig))},
            {"sets", sets_json(trip, p)}};
  });
  Json days = list(a.days, [&](const auto& d) -> Json {
    return {{"date", to_iso(d.date)},
            {"site", id_at(trip.sites, d.site)},
            {"rise_utc", time_json(d.sun.rise)},
            {"set_utc", time_json(d.sun.set)},
            {"light_ends_utc", time_json(d.light_ends)},
            {"leave_by_utc", time_json(d.turn_back)},
            {"session_after_daylight", d.session_after},
            {"clock", clock_json(nth(trip.sites, d.site).zone, d.sun.noon)}};
  });
  Json cautions = list(a.cautions, [&](const auto& c) -> Json {
    return {{"topic", topic_key(words::topic_of(c))}, {"text", words::caution_text(trip, a, c)}};
  });
  Json out{{"schema", "skerry.pack/1"},
           {"trip", trip.name},
           {"first_day", to_iso(trip.first_day)},
           {"last_day", to_iso(trip.last_day)},
           {"r12", rounded(trip.climate.r12, 2)},
           {"activity_source", words::activity_source(trip.activity_source)},
           {"verdict", words::verdict_text(trip, a, words::Reader::of_terminal)},
           {"carry", std::move(carry)},
           {"leave", std::move(leave)},
           {"mass_kg", rounded(a.kit.mass_g / 1000, 4)},
           {"limit_kg", rounded(a.limit_g / 1000, 4)},
           {"reach", rounded(a.kit.reach, 5)},
           {"bound", rounded(a.kit.bound, 5)},
           {"proved", advice::proved(a)},
           {"always_cannot_come", ids(a.inventory.things, a.barred)},
           {"reach_of_everything", rounded(a.reach_of_everything, 5)},
           {"setups", std::move(setups)},
           {"impossible", std::move(impossible)},
           {"remedies", std::move(remedies)},
           {"bands", std::move(bands)},
           {"antennas", std::move(antennas)},
           {"regions", regions_json(trip, a)},
           {"openings", openings_json(trip, a)},
           {"power", std::move(power)},
           {"days", std::move(days)},
           {"firmness", firmness_json(trip, a)},
           {"cautions", std::move(cautions)}};
  add_choice_json(out, trip, a);
  if (what_if != nullptr) out["what_if"] = what_if_json(a, *what_if);
  return dump(out);
}

}  // namespace skerry::forms
