#include "skerry/kit/rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "skerry/core/table.hpp"

namespace skerry::kit {

const char* const rules_caution =
    "Air-travel lines are common practice on the dates shown: the airline, the national aviation authority "
    "and the staff at "
    "security decide.";

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

Verdict by_rule(const std::string& item, const char* rule, Place place, std::string why) {
  const auto& row = rule_table().of(rule);
  Verdict v;
  v.item = item;
  v.place = place;
  v.why = why.empty() ? row.text("text") : std::move(why);
  v.rule = rule;
  v.rule_date = row.text("since");
  return v;
}

/// To 0.001 Wh, so that the product of two decimal numbers falls on the side of a limit on which it stands on
/// paper.
double rated_wh(const Battery& b) {
  return std::round(b.watt_hours() * 1000) / 1000;
}

std::string energy_words(const Battery& b) {
  return fmt::format("{:g} V x {:g} Ah = {:g} Wh", b.volts, b.amp_hours, rated_wh(b));
}

Verdict judge_lithium(const Battery& b) {
  const double wh = rated_wh(b);
  const double small = rule_table().of("lithium-small").number("max_wh");
  const double medium = rule_table().of("lithium-medium").number("max_wh");
  const std::string head = energy_words(b);
  if (wh > medium) {
    return by_rule(b.item.id, "lithium-large", Place::forbidden,
                   fmt::format("{}, over {:g} Wh: not in passenger baggage", head, medium));
  }
  const bool needs_approval = wh > small;
  const std::string size = needs_approval
                               ? fmt::format("{}, over {:g} and up to {:g} Wh", head, small, medium)
                               : fmt::format("{}, up to {:g} Wh", head, small);
  Verdict v;
  if (b.usb_outlet) {
    v = by_rule(
        b.item.id, "power-bank", Place::cabin_only,
        fmt::format(
            "{}, has a USB outlet and is likely to be called a power bank: cabin only, at most {:g} per "
            "person, not charged on board; ask the airline",
            size, rule_table().of("power-bank").number("max_spares")));
    v.arguable = true;
  } else if (b.spare) {
    v = needs_approval
            ? by_rule(
                  b.item.id, "lithium-medium", Place::cabin_only,
                  fmt::format("{}: spare, cabin only, with the airline's approval, at most {:g} per person",
                              size, rule_table().of("lithium-medium").number("max_spares")))
            : by_rule(b.item.id, "lithium-small", Place::cabin_only,
                      fmt::format("{}: spare, cabin only, terminals covered", size));
  } else {
    v = by_rule(b.item.id, needs_approval ? "lithium-medium" : "lithium-small", Place::either,
                fmt::format("{}: inside equipment{}, cabin preferred", size,
                            needs_approval ? ", with the airline's approval" : ""));
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
                      fmt::format("{}, lead-acid: {} {:g} V and {:g} Wh, if sealed and non-spillable{}",
                                  energy_words(b), allowed ? "within" : "over the limit of", most_v, most_wh,
                                  allowed ? "; rule known second-hand, ask the airline" : ""));
  v.arguable = allowed;
  return v;
}

}  // namespace

std::string to_text(Place place) {
  switch (place) {
    case Place::either:
      return "cabin or hold";
    case Place::cabin_only:
      return "cabin only";
    case Place::hold_only:
      return "hold only";
    case Place::forbidden:
      return "not on a passenger flight";
  }
  return {};
}

Verdict judge(const Battery& battery) {
  if (battery.damaged) return by_rule(battery.item.id, "damaged", Place::forbidden, {});
  if (battery.chemistry == "lead-acid") return judge_lead_acid(battery);
  if (battery.chemistry == "nimh") {
    return by_rule(battery.item.id, "dry-cells", Place::either,
                   energy_words(battery) + ", nickel-metal hydride: no energy limit, terminals covered");
  }
  return judge_lithium(battery);
}

Verdict judge(const Item& item) {
  if (item.fuel) return by_rule(item.id, "fuel", Place::forbidden, {});
  if (item.sharp) return by_rule(item.id, "sharp", Place::hold_only, {});
  if (item.blunt) return by_rule(item.id, "blunt", Place::hold_only, {});
  if (const double most = liquid_container_ml(); item.liquid_ml > most) {
    return by_rule(
        item.id, "liquid", Place::hold_only,
        fmt::format("liquid, {:g} ml: over {:g} ml in one container, hold only", item.liquid_ml, most));
  }
  if (const double over = rule_table().of("long-rigid").number("over_cm");
      item.tube_cm && (*item.tube_cm)[0] > over) {
    Verdict v = by_rule(
        item.id, "long-rigid", Place::either,
        fmt::format("rigid and {:g} cm long: security may refuse it in the cabin; plan for the hold, or ask",
                    (*item.tube_cm)[0]));
    v.arguable = true;
    return v;
  }
  if (item.liquid_ml > 0) {
    return by_rule(item.id, "liquid", Place::either,
                   fmt::format("liquid, {:g} ml: cabin in the clear bag of {:g} ml per person, or hold",
                               item.liquid_ml, liquid_bag_ml()));
  }
  return by_rule(item.id, "ordinary", Place::either, "no rule of its own: cabin or hold");
}

std::vector<Verdict> judge(const Trip& trip) {
  std::vector<Verdict> out;
  for (const auto& b : trip.batteries) out.push_back(judge(b));
  std::vector<std::pair<int, Verdict>> rest;
  const auto add = [&](const Item& item) { rest.emplace_back(item.line, judge(item)); };
  const auto add_radio = [&](const Item& item) {
    Verdict v = judge(item);
    if (v.rule == "ordinary") {
      v = by_rule(item.id, "radio", Place::either,
                  "electronics: cabin or hold, better in the cabin (value, shock, inspection)");
    }
    v.cabin_preferred = v.place == Place::either;
    rest.emplace_back(item.line, std::move(v));
  };
  const auto add_wire = [&](const Item& item) {
    Verdict v = judge(item);
    if (v.rule == "ordinary") v.why = "wire or cable: cabin or hold; a dense coil may be opened at security";
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

std::vector<std::string> count_problems(std::span<const Battery> carried, int people) {
  const auto& table = rule_table();
  const auto lithium = [](const Battery& b) { return b.chemistry != "lead-acid" && b.chemistry != "nimh"; };
  const double small = table.of("lithium-small").number("max_wh");
  struct Count {
    const char* rule;
    const char* limit;
    const char* what;
    long found;
  };
  const auto count = [&](auto&& test) { return std::count_if(carried.begin(), carried.end(), test); };
  const Count counts[] = {
      {"spare-count", "max_spares", "spare batteries",
       count([](const Battery& b) { return b.spare || b.usb_outlet; })},
      {"spare-count", "max_devices", "devices with batteries",
       count([](const Battery& b) { return !b.spare && !b.usb_outlet; })},
      {"lithium-medium", "max_spares", "spare lithium batteries over 100 Wh", count([&](const Battery& b) {
         return lithium(b) && (b.spare || b.usb_outlet) && rated_wh(b) > small;
       })},
      {"power-bank", "max_spares", "power banks (packs with a USB outlet)",
       count([&](const Battery& b) { return lithium(b) && b.usb_outlet; })},
      {"lead-acid", "max_spares", "spare lead-acid batteries",
       count([](const Battery& b) { return b.chemistry == "lead-acid" && b.spare; })},
  };
  std::vector<std::string> problems;
  for (const auto& c : counts) {
    const auto each = static_cast<long>(table.of(c.rule).number(c.limit));
    if (c.found > each * people) {
      problems.push_back(fmt::format("{} {} for {} {}: at most {} per person (rule of {})", c.found, c.what,
                                     people, people == 1 ? "person" : "people", each,
                                     table.of(c.rule).text("since")));
    }
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

std::vector<std::string> bag_notes(const Bag& bag) {
  std::vector<std::string> out;
  std::array<double, 3> inner = bag.inner_cm;
  std::sort(inner.begin(), inner.end(), std::greater<>());
  if (bag.hold) {
    const auto& row = rule_table().of("hold-bag");
    const double sum = inner[0] + inner[1] + inner[2];
    if (const double most = row.number("max_sum_cm"); sum > most) {
      out.push_back(
          fmt::format("its inner sides add up to {:g} cm; fares usually allow {:g} cm outside", sum, most));
    }
    if (const double most = row.number("max_kg") * 1000; bag.mass_limit_g > most) {
      out.push_back(fmt::format("{:g} kg is more than the {:g} kg that are handled as ordinary baggage",
                                bag.mass_limit_g / 1000, most / 1000));
    }
    return out;
  }
  const auto& row = rule_table().of("cabin-bag");
  const std::array<double, 3> most{row.number("max_long_cm"), row.number("max_middle_cm"),
                                   row.number("max_short_cm")};
  if (inner[0] > most[0] || inner[1] > most[1] || inner[2] > most[2]) {
    out.push_back(
        fmt::format("{:g} x {:g} x {:g} cm inside; most airlines allow {:g} x {:g} x {:g} cm "
                    "outside in the cabin, some more: see the ticket",
                    inner[0], inner[1], inner[2], most[0], most[1], most[2]));
  }
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
