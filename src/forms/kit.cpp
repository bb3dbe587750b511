#include "skerry/words/kit.hpp"

#include <fmt/format.h>

#include "json_common.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

namespace {

using advice::KitSheet;
using advice::Thing;
using advice::ThingKind;
using words::bag_name;
using words::lie_word;

const char* kind_word(ThingKind kind) {
  switch (kind) {
    case ThingKind::rig:
      return "rig";
    case ThingKind::antenna:
      return "antenna";
    case ThingKind::support:
      return "support";
    case ThingKind::cable:
      return "cable";
    case ThingKind::tuner:
      return "tuner";
    case ThingKind::battery:
      return "battery";
    case ThingKind::item:
      break;
  }
  return "item";
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
      one["lies"] = fit.lie == kit::Lie::no_way ? Json(nullptr) : Json(lie_word(fit.lie));
    }
    out.push_back(std::move(one));
  }
  return out;
}

Json thing_json(const kit::Trip& trip, const KitSheet& sheet, std::size_t i) {
  const Thing& thing = sheet.inventory.things[i];
  const auto& line = sheet.lines[i];
  const kit::Item& item = item_of(trip, thing);
  Json runs = Json::array();
  for (const auto& run : line.runs) {
    runs.push_back({{"rig", trip.rigs[static_cast<std::size_t>(run.rig)].item.id},
                    {"mode", trip.modes[static_cast<std::size_t>(run.mode)].id},
                    {"hours", rounded(run.hours, 2)}});
  }
  return {{"id", thing.id},
          {"name", thing.name},
          {"kind", kind_word(thing.kind)},
          {"mass_g", rounded(thing.mass_g, 3)},
          {"size_cm", item.size_cm ? Json(*item.size_cm) : Json(nullptr)},
          {"tube_cm", item.tube_cm ? Json(*item.tube_cm) : Json(nullptr)},
          {"always", thing.always},
          {"can_come", !thing.excluded},
          {"why_not", thing.excluded ? Json(thing.why_excluded) : Json(nullptr)},
          {"air",
           {{"place", place_key(line.air.place)},
            {"approval", line.air.approval},
            {"arguable", line.air.arguable},
            {"cabin_preferred", line.air.cabin_preferred},
            {"why", line.air.why},
            {"rule", line.air.rule},
            {"rule_date", line.air.rule_date}}},
          {"bags", fits_json(trip, line, item.tube_cm.has_value())},
          {"watt_hours", line.watt_hours ? Json(rounded(*line.watt_hours, 3)) : Json(nullptr)},
          {"usable_wh", line.usable_wh ? Json(rounded(*line.usable_wh, 3)) : Json(nullptr)},
          {"runs", runs}};
}

Json bags_json(const kit::Trip& trip, const KitSheet& sheet) {
  Json out = Json::array();
  for (std::size_t b = 0; b < trip.bags.size(); ++b) {
    const auto& bag = trip.bags[b];
    Json holds = nullptr;
    Json notes = kit::bag_notes(bag);
    Json mass_g = nullptr;
    if (sheet.all_in_bags) {
      const auto& load = sheet.all_in_bags->bags[b];
      holds = Json::array();
      for (const int i : load.things) holds.push_back(sheet.inventory.things[static_cast<std::size_t>(i)].id);
      notes = load.notes;
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
    const auto& why = sheet.not_carried[k];
    Json bands = Json::array();
    for (const int b : s.bands) bands.push_back(trip.bands[static_cast<std::size_t>(b)].id);
    possible.push_back({{"setup", s.label},
                        {"site", trip.sites[static_cast<std::size_t>(s.site)].id},
                        {"antenna", trip.antennas[static_cast<std::size_t>(s.antenna)].item.id},
                        {"bands", bands},
                        {"needs", s.needs},
                        {"notes", s.notes},
                        {"why_not_carried", why.empty() ? Json() : Json(why)}});
  }
  Json impossible = Json::array();
  for (const auto& i : sheet.setups.impossible) impossible.push_back({{"setup", i.setup}, {"why", i.why}});
  Json notes = Json::array();
  for (const auto& n : sheet.notes) notes.push_back({{"id", n.id}, {"text", n.text}, {"since", n.since}});
  const Json out{{"schema", "skerry.kit/1"},
                 {"trip", trip.name},
                 {"people", trip.people},
                 {"mass_limit_g", rounded(trip.mass_limit_g, 3)},
                 {"mass_g", rounded(sheet.mass_g, 3)},
                 {"can_come_g", rounded(sheet.flying_g, 3)},
                 {"longest_day_hours", rounded(sheet.need_hours, 2)},
                 {"things", things},
                 {"bags", bags_json(trip, sheet)},
                 {"everything_fits", sheet.all_in_bags.has_value()},
                 {"why_not", sheet.why_not},
                 {"possible_count", sheet.setups.possible.size()},
                 {"possible", possible},
                 {"impossible", impossible},
                 {"rules",
                  {{"checked", to_iso(kit::rules_checked())},
                   {"valid_until", to_iso(kit::rules_valid_until())},
                   {"outdated", sheet.rules_outdated},
                   {"notes", notes},
                   {"caution", kit::rules_caution}}}};
  return dump(out);
}

std::string kit_csv(const kit::Trip& trip, const KitSheet& sheet) {
  std::string out =
      "id,name,kind,mass_g,length_cm,width_cm,height_cm,tube_length_cm,tube_diameter_cm,watt_hours,place,"
      "approval,arguable,rule,rule_date,can_come,bags,why\n";
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const Thing& thing = sheet.inventory.things[i];
    const auto& line = sheet.lines[i];
    const kit::Item& item = item_of(trip, thing);
    std::string bags;
    for (std::size_t b = 0; b < trip.bags.size(); ++b) {
      const auto& fit = line.bags[b];
      if (fit.fits && fit.allowed && fit.light) bags += (bags.empty() ? "" : " ") + trip.bags[b].id;
    }
    const auto number = [](bool there, double value) {
      return there ? fmt::format("{:g}", value) : std::string();
    };
    out += fmt::format("{},{},{},{:g},", csv_field(thing.id), csv_field(thing.name), kind_word(thing.kind),
                       rounded(thing.mass_g, 3));
    for (std::size_t k = 0; k < 3; ++k)
      out += number(item.size_cm.has_value(), item.size_cm ? (*item.size_cm)[k] : 0) + ",";
    for (std::size_t k = 0; k < 2; ++k)
      out += number(item.tube_cm.has_value(), item.tube_cm ? (*item.tube_cm)[k] : 0) + ",";
    out += number(line.watt_hours.has_value(), rounded(line.watt_hours.value_or(0), 3)) + ",";
    out += fmt::format("{},{},{},{},{},{},{},{}\n", place_key(line.air.place), line.air.approval,
                       line.air.arguable, line.air.rule, line.air.rule_date, !thing.excluded, csv_field(bags),
                       csv_field(thing.excluded ? thing.why_excluded : line.air.why));
  }
  return out;
}

}  // namespace skerry::forms
