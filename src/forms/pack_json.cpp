#include "pack_json_parts.hpp"

namespace skerry::forms {

namespace {

using advice::Advice;

Json air_json(const kit::Verdict& v) {
  return {{"place", place_key(v.place)},
          {"approval", v.approval},
          {"arguable", v.arguable},
          {"why", v.why},
          {"rule_date", v.rule_date}};
}

Json item_json(const Advice& a, const advice::ItemAdvice& item) {
  const auto& thing = a.inventory.things[static_cast<std::size_t>(item.thing)];
  Json out = {{"id", thing.id}, {"name", thing.name}, {"mass_g", rounded(thing.mass_g, 1)}};
  if (item.carry) {
    out["always"] = thing.always;
    out["reach_lost_without"] = rounded(item.reach, 5);
    out["reach_lost_as_it_stands"] = rounded(item.as_it_stands, 5);
  } else {
    out["reach_gained_with"] = thing.excluded ? Json(nullptr) : Json(rounded(item.reach, 5));
    out["added_g"] = rounded(item.added_g, 1);
  }
  out["reach_per_kg"] = item.reach_per_kg ? Json(rounded(*item.reach_per_kg, 5)) : Json(nullptr);
  out["exact"] = item.exact;
  out["reason"] = thing.excluded ? thing.why_excluded : item.reason;
  out["air"] = air_json(thing.air);
  return out;
}

Json setup_json(const kit::Trip& trip, const Advice& a, const advice::SetupUse& use) {
  const auto& setup = a.setups.possible[static_cast<std::size_t>(use.setup)];
  Json bands = Json::array();
  for (const auto& b : use.bands) {
    bands.push_back(
        {{"band", trip.bands[static_cast<std::size_t>(b.use.band)].id}, {"reach", rounded(b.reach, 5)}});
  }
  Json sole = Json::array();
  for (const auto& s : use.sole) {
    sole.push_back({{"site", trip.sites[static_cast<std::size_t>(s.site)].id},
                    {"region", trip.targets[static_cast<std::size_t>(s.target)].region.id},
                    {"utc_hours", s.utc_hours},
                    {"share", rounded(s.share, 5)}});
  }
  return {
      {"label", setup.label},
      {"site", trip.sites[static_cast<std::size_t>(setup.site)].id},
      {"rig", trip.rigs[static_cast<std::size_t>(setup.rig)].item.id},
      {"antenna", trip.antennas[static_cast<std::size_t>(setup.antenna)].item.id},
      {"support", setup.support < 0 ? Json(nullptr)
                                    : Json(trip.supports[static_cast<std::size_t>(setup.support)].item.id)},
      {"cable",
       setup.cable < 0 ? Json(nullptr) : Json(trip.cables[static_cast<std::size_t>(setup.cable)].item.id)},
      {"tuner",
       setup.tuner < 0 ? Json(nullptr) : Json(trip.tuners[static_cast<std::size_t>(setup.tuner)].item.id)},
      {"shape", antenna::to_text(setup.shape)},
      {"needs", setup.needs},
      {"in_plan", use.in_plan},
      {"share_of_hours", rounded(use.share_of_hours, 4)},
      {"wire_azimuth_deg", use.turns ? Json(rounded(use.wire_azimuth_deg, 1)) : Json(nullptr)},
      {"mast_cost_db", use.mast_cost_db ? Json(rounded(*use.mast_cost_db, 1)) : Json(nullptr)},
      {"reach_alone", rounded(use.alone, 5)},
      {"reach_without", rounded(use.without, 5)},
      {"bands", std::move(bands)},
      {"only_by_this", std::move(sole)},
      {"notes", setup.notes}};
}

Json openings_json(const kit::Trip& trip, const Advice& a) {
  Json out = Json::array();
  for (std::size_t site = 0; site < trip.sites.size(); ++site) {
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      for (int h = 0; h < 24; ++h) {
        for (std::size_t b = 0; b < trip.bands.size(); ++b) {
          const auto& s = a.openings.at(static_cast<int>(site), static_cast<int>(t), h, static_cast<int>(b));
          if (!s.open) continue;
          out.push_back(
              {{"site", trip.sites[site].id},
               {"region", trip.targets[t].region.id},
               {"utc_hour", h},
               {"band", trip.bands[b].id},
               {"way", s.way == geodesy::Way::short_way ? "short" : "long"},
               {"days_in_ten", rounded(s.days_both, 2)},
               {"days_in_ten_there", rounded(s.days_there, 2)},
               {"days_in_ten_back", rounded(s.days_back, 2)},
               {"snr_there_db", rounded(s.snr_there_db, 2)},
               {"snr_back_db", rounded(s.snr_back_db, 2)},
               {"elevation_deg", rounded(s.elevation_deg, 1)},
               {"mode", s.mode < 0 ? Json(nullptr) : Json(trip.modes[static_cast<std::size_t>(s.mode)].id)}});
        }
      }
    }
  }
  return out;
}

Json regions_json(const kit::Trip& trip, const Advice& a) {
  Json out = Json::array();
  for (const auto& t : a.targets) {
    Json hours = Json::array();
    for (const double share : t.by_hour) hours.push_back(share < 0 ? Json(nullptr) : Json(rounded(share, 4)));
    const auto& target = trip.targets[static_cast<std::size_t>(t.target)];
    out.push_back({{"id", target.region.id},
                   {"name", target.region.name},
                   {"weight", target.weight},
                   {"reach", rounded(t.reach, 5)},
                   {"bearing_deg", rounded(t.bearing_deg, 1)},
                   {"distance_km", rounded(t.distance_km, 0)},
                   {"served_by_utc_hour", std::move(hours)}});
  }
  return out;
}

Json firmness_json(const Advice& a) {
  const auto& f = a.firmness;
  return {{"toss_up", f.toss_up},
          {"why", f.why},
          {"share_at_the_edge", rounded(f.fragile, 5)},
          {"share_nearly_served", rounded(f.nearly, 5)},
          {"low_r12", f.asked_the_sun ? Json(rounded(f.low_r12, 1)) : Json(nullptr)},
          {"high_r12", f.asked_the_sun ? Json(rounded(f.high_r12, 1)) : Json(nullptr)},
          {"reach_at_low_r12", f.asked_the_sun ? Json(rounded(f.reach_low, 5)) : Json(nullptr)},
          {"reach_at_high_r12", f.asked_the_sun ? Json(rounded(f.reach_high, 5)) : Json(nullptr)}};
}

}  // namespace

std::string pack_json(const kit::Trip& trip, const Advice& a, const advice::WhatIf* what_if) {
  Json carry = Json::array();
  Json leave = Json::array();
  for (const auto& item : a.items) (item.carry ? carry : leave).push_back(item_json(a, item));
  Json setups = Json::array();
  for (const auto& use : a.uses) setups.push_back(setup_json(trip, a, use));
  Json impossible = Json::array();
  for (const auto& i : a.impossible) impossible.push_back({{"setup", i.what}, {"why", i.why}});
  Json bands = Json::array();
  for (const auto& s : a.bands) {
    bands.push_back({{"band", trip.bands[static_cast<std::size_t>(s.index)].id},
                     {"reach_alone", rounded(s.alone, 5)},
                     {"reach_without", rounded(s.without, 5)}});
  }
  Json antennas = Json::array();
  for (const auto& s : a.antennas) {
    antennas.push_back({{"antenna", trip.antennas[static_cast<std::size_t>(s.index)].item.id},
                        {"reach_alone", rounded(s.alone, 5)},
                        {"reach_without", rounded(s.without, 5)}});
  }
  Json power = Json::array();
  for (const auto& p : a.power) {
    Json packs = Json::array();
    for (const int b : p.batteries) packs.push_back(trip.batteries[static_cast<std::size_t>(b)].item.id);
    power.push_back({{"rig", trip.rigs[static_cast<std::size_t>(p.rig)].item.id},
                     {"batteries", std::move(packs)},
                     {"need_wh", rounded(p.need_wh, 1)},
                     {"packed_wh", rounded(p.packed_wh, 1)},
                     {"need_hours", rounded(p.need_hours, 2)},
                     {"lasts_hours", rounded(p.lasts_hours, 2)},
                     {"share_of_hours", rounded(p.share, 4)},
                     {"enough", p.enough},
                     {"why", p.why},
                     {"sets", pack_sets_json(trip, p)}});
  }
  Json days = Json::array();
  for (const auto& d : a.days) {
    days.push_back({{"date", to_iso(d.date)},
                    {"site", trip.sites[static_cast<std::size_t>(d.site)].id},
                    {"rise_utc", time_json(d.sun.rise)},
                    {"set_utc", time_json(d.sun.set)},
                    {"leave_by_utc", time_json(d.turn_back)},
                    {"session_after_daylight", d.session_after}});
  }
  Json cautions = Json::array();
  for (const auto& c : a.cautions) cautions.push_back({{"topic", c.topic}, {"text", c.text}});
  Json out{{"schema", "skerry.pack/1"},
           {"trip", trip.name},
           {"first_day", to_iso(trip.first_day)},
           {"last_day", to_iso(trip.last_day)},
           {"r12", rounded(trip.climate.r12, 2)},
           {"activity_source", a.activity_source},
           {"verdict", a.verdict},
           {"carry", std::move(carry)},
           {"leave", std::move(leave)},
           {"mass_kg", rounded(a.kit.mass_g / 1000, 4)},
           {"limit_kg", rounded(a.limit_g / 1000, 4)},
           {"reach", rounded(a.kit.reach, 5)},
           {"bound", rounded(a.kit.bound, 5)},
           {"proved", a.kit.proved},
           {"reach_of_everything", rounded(a.reach_of_everything, 5)},
           {"setups", std::move(setups)},
           {"impossible", std::move(impossible)},
           {"bands", std::move(bands)},
           {"antennas", std::move(antennas)},
           {"regions", regions_json(trip, a)},
           {"openings", openings_json(trip, a)},
           {"power", std::move(power)},
           {"days", std::move(days)},
           {"firmness", firmness_json(a)},
           {"cautions", std::move(cautions)}};
  add_choice_json(out, trip, a);
  if (what_if != nullptr) out["what_if"] = what_if_json(a, *what_if);
  return dump(out);
}

}  // namespace skerry::forms
