#include "skerry/words/kit.hpp"

#include <fmt/format.h>

#include "common.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/setup.hpp"
#include "things.hpp"

namespace skerry::forms {

namespace {

using advice::KitSheet;
using advice::Thing;
using words::bag_name;

const char* lie_key(kit::Lie lie) {
  static constexpr std::array keys{"no way", "along a side", "across the largest face",
                                   "corner to corner through the bag"};
  return nth(keys, lie);
}

Json fits_json(const kit::Trip& trip, const advice::KitLine& line, bool tube) {
  Json out = Json::array();
  for (std::size_t b = 0; b < trip.bags.size(); ++b) {
    const auto& fit = line.bags[b];
    Json one{
        {"bag", trip.bags[b].id}, {"fits", fit.fits}, {"allowed", fit.allowed}, {"light_enough", fit.light}};
    if (tube) {
      one["longest_cm"] = rounded(fit.longest.solid_cm, 2);
      one["longest_flat_cm"] = rounded(fit.longest.flat_cm, 2);
      one["lies"] = fit.lie == kit::Lie::no_way ? Json(nullptr) : Json(lie_key(fit.lie));
    }
    out.push_back(std::move(one));
  }
  return out;
}

Json thing_json(const kit::Trip& trip, const KitSheet& sheet, std::size_t i) {
  const Thing& thing = sheet.inventory.things[i];
  const auto& line = sheet.lines[i];
  const kit::Item& item = item_of(trip, thing);
  Json runs = list(line.runs, [&](const auto& run) -> Json {
    return {{"rig", id_at(trip.rigs, run.rig)},
            {"mode", id_at(trip.modes, run.mode)},
            {"hours", rounded(run.hours, 2)},
            {"power_w", rounded(run.power_w, 2)}};
  });
  return {{"id", thing.id},
          {"name", thing.name},
          {"kind", kind_key(thing.kind)},
          {"mass_g", rounded(thing.mass_g, 3)},
          {"size_cm", item.size_cm ? Json(*item.size_cm) : Json(nullptr)},
          {"tube_cm", item.tube_cm ? Json(*item.tube_cm) : Json(nullptr)},
          {"always", thing.always},
          {"can_come", !thing.excluded},
          {"why_not", thing.excluded ? Json(words::why_excluded(trip, thing)) : Json(nullptr)},
          {"air",
           {{"place", place_key(line.air.place)},
            {"approval", line.air.approval},
            {"arguable", line.air.arguable},
            {"cabin_preferred", line.air.cabin_preferred},
            {"why", words::air_why(line.air)},
            {"rule", line.air.rule},
            {"rule_date", line.air.rule_date}}},
          {"bags", fits_json(trip, line, item.tube_cm.has_value())},
          {"watt_hours", or_null(line.watt_hours, 3)},
          {"usable_wh", or_null(line.usable_wh, 3)},
          {"runs", runs}};
}

Json bags_json(const kit::Trip& trip, const KitSheet& sheet) {
  Json out = Json::array();
  for (std::size_t b = 0; b < trip.bags.size(); ++b) {
    const auto& bag = trip.bags[b];
    Json holds = nullptr;
    Json notes = words::bag_notes(bag);
    Json mass_g = nullptr;
    if (sheet.all_in_bags) {
      const auto& load = sheet.all_in_bags->bags[b];
      holds = ids(sheet.inventory.things, load.things);
      notes = words::bag_notes(trip, sheet.inventory, load);
      mass_g = rounded(load.mass_g, 3);
    }
    out.push_back({{"id", bag.id},
                   {"name", bag_name(bag)},
                   {"hold", bag.hold},
                   {"person", bag.person},
                   {"inner_cm", bag.inner_cm},
                   {"lining_cm", bag.lining_cm},
                   {"mass_limit_g", rounded(bag.mass_limit_g, 3)},
                   {"own_mass_g", rounded(bag.own_mass_g, 3)},
                   {"everything", holds},
                   {"mass_g", mass_g},
                   {"notes", notes}});
  }
  return out;
}

}  // namespace

std::string kit_json(const kit::Trip& trip, const KitSheet& sheet) {
  Json things = Json::array();
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) things.push_back(thing_json(trip, sheet, i));
  Json possible = Json::array();
  for (std::size_t k = 0; k < sheet.setups.possible.size(); ++k) {
    const auto& s = sheet.setups.possible[k];
    const auto why = words::not_carried(trip, sheet, k);
    Json bands = list(s.bands, [&](int b) { return id_at(trip.bands, b); });
    possible.push_back({{"setup", words::setup_label(trip, s)},
                        {"site", id_at(trip.sites, s.site)},
                        {"antenna", id_at(trip.antennas, s.antenna)},
                        {"bands", bands},
                        {"needs", s.needs},
                        {"notes", words::setup_notes(trip, s)},
                        {"why_not_carried", or_null(why)}});
  }
  Json impossible = list(words::cannot_be(trip, sheet.setups), [&](const auto& i) -> Json {
    return {{"setup", i.what}, {"why", i.why}};
  });
  Json notes = list(sheet.notes, [&](const auto& n) -> Json {
    return {{"id", n.id}, {"text", n.text}, {"since", n.since}};
  });
  const Json out{{"schema", "skerry.kit/1"},
                 {"trip", trip.name},
                 {"people", trip.people},
                 {"mass_limit_g", rounded(trip.mass_limit_g, 3)},
                 {"mass_g", rounded(sheet.mass_g, 3)},
                 {"can_come_g", rounded(sheet.flying_g, 3)},
                 {"longest_day_hours", rounded(sheet.need_hours, 2)},
                 {"things", things},
                 {"bags", bags_json(trip, sheet)},
                 {"everything_fits",
                  sheet.all_in_bags.has_value() && sheet.all_in_bags->packed == advice::Packed::placed},
                 {"why_not", words::bag_problems(trip, sheet.inventory, sheet.why_not)},
                 {"possible_count", sheet.setups.possible.size()},
                 {"possible", possible},
                 {"impossible", impossible},
                 {"rules",
                  {{"checked", to_iso(kit::rules_checked())},
                   {"valid_until", to_iso(kit::rules_valid_until())},
                   {"outdated", sheet.rules_outdated},
                   {"notes", notes},
                   {"caution", words::rules_caution}}}};
  return dump(out);
}

std::string kit_csv(const kit::Trip& trip, const KitSheet& sheet) {
  std::string out = fmt::format(
      "id,name,kind,mass_g,{},watt_hours,place,approval,arguable,rule,rule_date,can_come,bags,why\n",
      size_heads);
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const Thing& thing = sheet.inventory.things[i];
    const auto& line = sheet.lines[i];
    const kit::Item& item = item_of(trip, thing);
    std::string bags;
    for (std::size_t b = 0; b < trip.bags.size(); ++b) {
      const auto& fit = line.bags[b];
      if (fit.fits && fit.allowed && fit.light) bags += (bags.empty() ? "" : " ") + trip.bags[b].id;
    }
    out += fmt::format("{},{},{},{:g},", csv_field(thing.id), csv_field(thing.name), kind_key(thing.kind),
                       rounded(thing.mass_g, 3));
    out += size_fields(item) + ",";
    out += (line.watt_hours ? fmt::format("{:g}", rounded(*line.watt_hours, 3)) : "") + ",";
    out +=
        fmt::format("{},{},{},{},{},{},{},{}\n", place_key(line.air.place), line.air.approval,
                    line.air.arguable, line.air.rule, line.air.rule_date, !thing.excluded, csv_field(bags),
                    csv_field(thing.excluded ? words::why_excluded(trip, thing) : words::air_why(line.air)));
  }
  return out;
}

}  // namespace skerry::forms
