#include "skerry/kit/rules.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "skerry/core/table.hpp"

namespace skerry::kit {

namespace {

Day day_in(const TableRow& row, const char* key) {
  return parse_day(row.text(key), {"air/rules.toml"}).value();
}

struct RuleTable {
  Day checked, valid_until;
  std::map<std::string, TableRow, std::less<>> rules;
  [[nodiscard]] const TableRow& of(std::string_view id) const { return rules.find(id)->second; }
};

const RuleTable& rule_table() {
  static const RuleTable table = [] {
    RuleTable t;
    const auto head = table_rows("air/rules.toml", "table").at(0);
    t.checked = day_in(head, "checked");
    t.valid_until = day_in(head, "valid_until");
    for (auto& row : table_rows("air/rules.toml", "rule")) t.rules.emplace(row.text("id"), row);
    return t;
  }();
  return table;
}

using Kind = AirReason::Kind;

Verdict by_rule(const std::string& item, const char* rule, Place place, const AirReason& reason) {
  Verdict v;
  v.item = item;
  v.place = place;
  v.reason = reason;
  v.rule = rule;
  v.rule_date = rule_table().of(rule).text("since");
  return v;
}

/// To 0.001 Wh, so that the product of two decimal numbers falls on the side of a limit on which it stands on
/// paper.
double rated_wh(const Battery& b) {
  return std::round(b.watt_hours() * 1000) / 1000;
}

AirReason reason_of(const Battery& b, Kind kind, double limit = 0, double upper_limit = 0, double each = 0) {
  return {kind, 0, limit, upper_limit, each, b.volts, b.amp_hours, rated_wh(b)};
}

Verdict judge_lithium(const Battery& b) {
  const double wh = rated_wh(b);
  const auto& id = b.item.id;
  const double small = rule_table().of("lithium-small").number("max_wh");
  const double medium = rule_table().of("lithium-medium").number("max_wh");
  const auto because = [&](Kind kind, double each = 0) { return reason_of(b, kind, small, medium, each); };
  if (wh > medium) return by_rule(id, "lithium-large", Place::forbidden, because(Kind::too_much_energy));
  const bool needs_approval = wh > small;
  const char* rule = needs_approval ? "lithium-medium" : "lithium-small";
  Verdict v;
  if (b.usb_outlet) {
    const double each = rule_table().of("power-bank").number("max_spares");
    v = by_rule(id, "power-bank", Place::cabin_only, because(Kind::usb_outlet, each));
    v.arguable = true;
  } else if (b.spare) {
    const double each = rule_table().of("lithium-medium").number("max_spares");
    v = by_rule(id, rule, Place::cabin_only, because(Kind::spare, each));
  } else {
    v = by_rule(id, rule, Place::either, because(Kind::in_equipment));
    v.cabin_preferred = true;
  }
  v.approval = needs_approval;
  return v;
}

Verdict judge_lead_acid(const Battery& b) {
  const auto& row = rule_table().of("lead-acid");
  const double most_v = row.number("max_v");
  const double most_wh = row.number("max_wh");
  const bool allowed = b.volts <= most_v && rated_wh(b) <= most_wh;
  Verdict v = by_rule(b.item.id, "lead-acid", allowed ? Place::either : Place::forbidden,
                      reason_of(b, Kind::lead_acid, most_v, most_wh));
  v.arguable = allowed;
  return v;
}

}  // namespace

std::string rule_text(const std::string& rule) {
  return rule_table().of(rule).text("text");
}

Verdict judge(const Battery& battery) {
  if (battery.damaged) return by_rule(battery.item.id, "damaged", Place::forbidden, {Kind::as_the_rule_says});
  if (battery.chemistry == "lead-acid") return judge_lead_acid(battery);
  if (battery.chemistry == "nimh")
    return by_rule(battery.item.id, "dry-cells", Place::either, reason_of(battery, Kind::nickel));
  return judge_lithium(battery);
}

Verdict judge(const Item& item) {
  const AirReason as_it_says{Kind::as_the_rule_says};
  if (item.fuel) return by_rule(item.id, "fuel", Place::forbidden, as_it_says);
  if (item.sharp) return by_rule(item.id, "sharp", Place::hold_only, as_it_says);
  if (item.blunt) return by_rule(item.id, "blunt", Place::hold_only, as_it_says);
  if (const double most = liquid_container_ml(); item.liquid_ml > most)
    return by_rule(item.id, "liquid", Place::hold_only, {Kind::large_container, item.liquid_ml, most});
  if (const double over = rule_table().of("long-rigid").number("over_cm");
      item.tube_cm && (*item.tube_cm)[0] > over) {
    Verdict v = by_rule(item.id, "long-rigid", Place::either, {Kind::long_and_rigid, (*item.tube_cm)[0]});
    v.arguable = true;
    return v;
  }
  if (item.liquid_ml > 0)
    return by_rule(item.id, "liquid", Place::either, {Kind::liquid, item.liquid_ml, liquid_bag_ml()});
  return by_rule(item.id, "ordinary", Place::either, {});
}

std::vector<Verdict> judge(const Trip& trip) {
  std::vector<Verdict> out;
  for (const auto& b : trip.batteries) out.push_back(judge(b));
  std::vector<std::pair<int, Verdict>> rest;
  const auto add = [&](const Item& item) { rest.emplace_back(item.line, judge(item)); };
  const auto add_radio = [&](const Item& item) {
    Verdict v = judge(item);
    if (v.rule == "ordinary") {
      v = by_rule(item.id, "radio", Place::either, {Kind::electronics});
    }
    v.cabin_preferred = v.place == Place::either;
    rest.emplace_back(item.line, std::move(v));
  };
  const auto add_wire = [&](const Item& item) {
    Verdict v = judge(item);
    if (v.rule == "ordinary") v.reason.kind = Kind::wire;
    rest.emplace_back(item.line, std::move(v));
  };
  for (const auto& r : trip.rigs) add_radio(r.item);
  for (const auto& t : trip.tuners) add_radio(t.item);
  for (const auto& a : trip.antennas) add_wire(a.item);
  for (const auto& s : trip.supports) {
    if (!s.at_site) add(s.item);
  }
  for (const auto& c : trip.cables) add_wire(c.item);
  for (const auto& i : trip.items) add(i);
  std::stable_sort(rest.begin(), rest.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (auto& [line, verdict] : rest) out.push_back(std::move(verdict));
  return out;
}

namespace {

/// The rule and the key of its limit.
std::pair<const char*, const char*> limit_of(CountProblem::What what) {
  using What = CountProblem::What;
  switch (what) {
    case What::spares:
      break;
    case What::devices:
      return {"spare-count", "max_devices"};
    case What::medium_spares:
      return {"lithium-medium", "max_spares"};
    case What::power_banks:
      return {"power-bank", "max_spares"};
    case What::lead_acid_spares:
      return {"lead-acid", "max_spares"};
  }
  return {"spare-count", "max_spares"};
}

}  // namespace

bool counts_as(const Battery& b, CountProblem::What what) {
  static const double small_wh = rule_table().of("lithium-small").number("max_wh");
  const bool lithium = b.chemistry != "lead-acid" && b.chemistry != "nimh";
  const bool loose = b.spare || b.usb_outlet;
  using What = CountProblem::What;
  switch (what) {
    case What::spares:
      return loose;
    case What::devices:
      return !loose;
    case What::medium_spares:
      return lithium && loose && rated_wh(b) > small_wh;
    case What::power_banks:
      return lithium && b.usb_outlet;
    case What::lead_acid_spares:
      break;
  }
  return b.chemistry == "lead-acid" && b.spare;
}

long most_per_person(CountProblem::What what) {
  const auto [rule, key] = limit_of(what);
  return static_cast<long>(rule_table().of(rule).number(key));
}

CountProblem too_many(CountProblem::What what, long found, int people) {
  return {what, found, most_per_person(what), people, rule_table().of(limit_of(what).first).text("since")};
}

std::vector<CountProblem> count_problems(std::span<const Battery> carried, int people) {
  std::vector<CountProblem> problems;
  for (const auto what : counted_batteries) {
    const auto found = static_cast<long>(
        std::count_if(carried.begin(), carried.end(), [&](const Battery& b) { return counts_as(b, what); }));
    if (found > most_per_person(what) * people) problems.push_back(too_many(what, found, people));
  }
  return problems;
}

double liquid_container_ml() {
  static const double ml = rule_table().of("liquid").number("over_ml");
  return ml;
}
double liquid_bag_ml() {
  static const double ml = rule_table().of("liquid").number("bag_ml");
  return ml;
}

std::vector<RuleNote> rule_notes(const Trip& trip) {
  bool liquid = false;
  const auto look = [&](const Item& item) { liquid = liquid || item.liquid_ml > 0; };
  for (const auto& item : trip.items) look(item);
  const auto lithium = [](const Battery& b) { return b.chemistry == "li-ion" || b.chemistry == "lifepo4"; };
  const bool any_lithium = std::any_of(trip.batteries.begin(), trip.batteries.end(), lithium);
  const bool hold = std::any_of(trip.bags.begin(), trip.bags.end(), [](const Bag& b) { return b.hold; });
  std::vector<RuleNote> out;
  for (const auto& row : table_rows("air/rules.toml", "note")) {
    const std::string on = row.text("concerns");
    const bool wanted = (on == "batteries" && !trip.batteries.empty()) || (on == "lithium" && any_lithium) ||
                        (on == "hold" && hold) || (on == "liquid" && liquid) || on == "all";
    if (wanted) out.push_back({row.text("id"), row.text("text"), row.text("since")});
  }
  return out;
}

BagExcess bag_excess(const Bag& bag) {
  BagExcess out;
  out.inner_cm = bag.inner_cm;
  auto& inner = out.inner_cm;
  std::sort(inner.begin(), inner.end(), std::greater<>());
  if (bag.hold) {
    const auto& row = rule_table().of("hold-bag");
    const double sum_cm = row.number("max_sum_cm"), mass_g = row.number("max_kg") * 1000;
    if (inner[0] + inner[1] + inner[2] > sum_cm) out.sum_cm = sum_cm;
    if (bag.mass_limit_g > mass_g) out.mass_g = mass_g;
    return out;
  }
  const auto& row = rule_table().of("cabin-bag");
  const std::array<double, 3> most{row.number("max_long_cm"), row.number("max_middle_cm"),
                                   row.number("max_short_cm")};
  if (inner[0] > most[0] || inner[1] > most[1] || inner[2] > most[2]) out.usual_cm = most;
  return out;
}

Day rules_checked() {
  return rule_table().checked;
}
Day rules_valid_until() {
  return rule_table().valid_until;
}
bool rules_outdated(Day day) {
  return day > rule_table().valid_until;
}

}  // namespace skerry::kit
