#include "skerry/words/air.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::words {

const char* const rules_caution =
    "Air-travel lines are common practice on the dates shown: the airline, the national aviation authority "
    "and the staff at security decide.";

namespace {

using kit::AirReason;

std::string size_of(const AirReason& r, bool approval, const std::string& head) {
  return approval ? fmt::format("{}, over {:g} and up to {:g} Wh", head, r.limit, r.upper_limit)
                  : fmt::format("{}, up to {:g} Wh", head, r.limit);
}

std::string size_text(const kit::Item& item) {
  if (item.tube_cm)
    return fmt::format("{:.0f} cm long, {:.1f} cm thick", (*item.tube_cm)[0], (*item.tube_cm)[1]);
  const auto& s = *item.size_cm;
  return fmt::format("{:.0f} x {:.0f} x {:.0f} cm", s[0], s[1], s[2]);
}

std::string name_with_size(const kit::Trip& trip, const advice::Thing& thing) {
  const auto& item = advice::item_of(trip, thing);
  if (item.tube_cm)
    return fmt::format("{} ({:g} cm long, {:g} cm thick)", thing.name, (*item.tube_cm)[0],
                       (*item.tube_cm)[1]);
  if (item.size_cm) {
    const auto& s = *item.size_cm;
    return fmt::format("{} ({:g} x {:g} x {:g} cm)", thing.name, s[0], s[1], s[2]);
  }
  return thing.name;
}

std::string listed(const std::vector<std::string>& names) {
  constexpr std::size_t most = 5;
  if (names.size() == 1) return names[0];
  if (names.size() > most) {
    return fmt::format("{} and {} more", fmt::join(names.begin(), names.begin() + most, ", "),
                       names.size() - most);
  }
  return fmt::format("{} and {}", fmt::join(names.begin(), names.end() - 1, ", "), names.back());
}

std::string bag_names(const kit::Trip& trip, const std::vector<int>& bags) {
  std::vector<std::string> names;
  for (const int b : bags) {
    const auto& bag = nth(trip.bags, b);
    names.push_back("the " + (bag.name.empty() ? bag.id : bag.name));
  }
  return listed(names);
}

std::string count_text(const kit::CountProblem& p) {
  using What = kit::CountProblem::What;
  const char* what = "";
  switch (p.what) {
    case What::spares:
      what = "spare batteries";
      break;
    case What::devices:
      what = "devices with batteries";
      break;
    case What::medium_spares:
      what = "spare lithium batteries over 100 Wh";
      break;
    case What::power_banks:
      what = "power banks (packs with a USB outlet)";
      break;
    case What::lead_acid_spares:
      what = "spare lead-acid batteries";
      break;
  }
  return fmt::format("{} {} for {} {}: at most {} per person (rule of {})", p.found, what, p.people,
                     p.people == 1 ? "person" : "people", p.each, p.since);
}

}  // namespace

const char* place_text(kit::Place place) {
  switch (place) {
    case kit::Place::either:
      return "cabin or hold";
    case kit::Place::cabin_only:
      return "cabin only";
    case kit::Place::hold_only:
      return "hold only";
    case kit::Place::forbidden:
      break;
  }
  return "not on a passenger flight";
}

std::string place_text(const kit::Verdict& v) {
  std::string out = place_text(v.place);
  if (v.approval) out += ", airline must agree";
  if (v.arguable) out += ", ask";
  return out;
}

std::string air_why(const kit::Verdict& v) {
  const auto& r = v.reason;
  const auto energy = fmt::format("{:g} V x {:g} Ah = {:g} Wh", r.volts, r.amp_hours, r.watt_hours);
  const auto size = size_of(r, v.approval, energy);
  using Kind = AirReason::Kind;
  switch (r.kind) {
    case Kind::as_the_rule_says:
      return kit::rule_text(v.rule);
    case Kind::too_much_energy:
      return fmt::format("{}, over {:g} Wh: not in passenger baggage", energy, r.upper_limit);
    case Kind::usb_outlet:
      return fmt::format(
          "{}, has a USB outlet and is likely to be called a power bank: cabin only, at most {:g} per "
          "person, not charged on board; ask the airline",
          size, r.each);
    case Kind::spare:
      return v.approval
                 ? fmt::format("{}: spare, cabin only, with the airline's approval, at most {:g} per person",
                               size, r.each)
                 : fmt::format("{}: spare, cabin only, terminals covered", size);
    case Kind::in_equipment:
      return fmt::format("{}: inside equipment{}, cabin preferred", size,
                         v.approval ? ", with the airline's approval" : "");
    case Kind::nickel:
      return energy + ", nickel-metal hydride: no energy limit, terminals covered";
    case Kind::lead_acid: {
      const bool allowed = v.place != kit::Place::forbidden;
      return fmt::format("{}, lead-acid: {} {:g} V and {:g} Wh, if sealed and non-spillable{}", energy,
                         allowed ? "within" : "over the limit of", r.limit, r.upper_limit,
                         allowed ? "; rule known second-hand, ask the airline" : "");
    }
    case Kind::large_container:
      return fmt::format("liquid, {:g} ml: over {:g} ml in one container, hold only", r.amount, r.limit);
    case Kind::liquid:
      return fmt::format("liquid, {:g} ml: cabin in the clear bag of {:g} ml per person, or hold", r.amount,
                         r.limit);
    case Kind::long_and_rigid:
      return fmt::format(
          "rigid and {:g} cm long: security may refuse it in the cabin; plan for the hold, or ask", r.amount);
    case Kind::ordinary:
      return "no rule of its own: cabin or hold";
    case Kind::electronics:
      return "electronics: cabin or hold, better in the cabin (value, shock, inspection)";
    case Kind::wire:
      break;
  }
  return "wire or cable: cabin or hold; a dense coil may be opened at security";
}

std::string why_excluded(const kit::Trip& trip, const advice::Thing& thing) {
  using advice::Exclusion;
  switch (thing.exclusion) {
    case Exclusion::none:
      return {};
    case Exclusion::absent:
      return "not at hand";
    case Exclusion::forbidden:
      return air_why(thing.air);
    case Exclusion::no_hold_bag:
      return "goes in the hold only, and no bag goes there";
    case Exclusion::no_cabin_bag:
      return "goes in the cabin only, and no bag goes there";
    case Exclusion::too_large:
      break;
  }
  const char* where = thing.air.place == kit::Place::hold_only    ? "no bag of the hold takes it"
                      : thing.air.place == kit::Place::cabin_only ? "no cabin bag takes it"
                                                                  : "no bag takes it";
  return fmt::format("{}: {}", where, size_text(advice::item_of(trip, thing)));
}

std::vector<std::string> bag_notes(const kit::Bag& bag) {
  std::vector<std::string> out;
  const auto excess = kit::bag_excess(bag);
  const auto& inner = excess.inner_cm;
  const auto& most = excess.usual_cm;
  if (excess.sum_cm) {
    out.push_back(fmt::format("its inner sides add up to {:g} cm; fares usually allow {:g} cm outside",
                              inner[0] + inner[1] + inner[2], *excess.sum_cm));
  }
  if (excess.mass_g) {
    out.push_back(fmt::format("{:g} kg is more than the {:g} kg that are handled as ordinary baggage",
                              bag.mass_limit_g / 1000, *excess.mass_g / 1000));
  }
  if (most) {
    out.push_back(fmt::format(
        "{:g} x {:g} x {:g} cm inside; most airlines allow {:g} x {:g} x {:g} cm outside in the cabin, some "
        "more: see the ticket",
        inner[0], inner[1], inner[2], (*most)[0], (*most)[1], (*most)[2]));
  }
  return out;
}

std::vector<std::string> bag_notes(const kit::Trip& trip, const advice::Inventory& inventory,
                                   const advice::BagLoad& load) {
  std::vector<std::string> out, names;
  for (const auto& [thing, lie] : load.aslant) {
    names.push_back(name_with_size(trip, nth(inventory.things, thing)));
    out.push_back(fmt::format("{} lies {}: pack it first", names.back(),
                              lie == kit::Lie::across_a_face
                                  ? "across the largest face, corner to corner"
                                  : "from corner to corner through the whole bag"));
  }
  if (load.packed == advice::Packed::try_at_home)
    out.push_back(
        "each thing fits when the bag is empty, and no place was found for all of them: try it at home");
  for (auto& note : bag_notes(nth(trip.bags, load.bag))) out.push_back(std::move(note));
  return out;
}

std::string bag_problem(const kit::Trip& trip, const advice::Inventory& inventory,
                        const advice::BagProblem& p) {
  const auto name = [&](int thing) { return "the " + name_with_size(trip, nth(inventory.things, thing)); };
  const auto together = [&] {
    std::vector<std::string> names;
    for (const int i : p.things) names.push_back(name(i));
    return fmt::format("{} can go into {}{}", listed(names), bag_names(trip, p.bags),
                       p.bags.size() == trip.bags.size() ? "" : " only");
  };
  using Why = advice::BagProblem::Why;
  switch (p.why) {
    case Why::batteries:
      return count_text(p.count);
    case Why::fits_no_bag:
      return fmt::format("{} goes into no bag", name(p.things[0]));
    case Why::too_heavy:
      return fmt::format("{} weighs {:.2f} kg, more than {} may hold", name(p.things[0]), p.need,
                         bag_names(trip, p.bags));
    case Why::mass:
      return fmt::format("{}: together {:.2f} kg, and there is room for {:.2f} kg", together(), p.need,
                         p.room);
    case Why::volume:
      return fmt::format("{}: together {:.1f} litres, and about {:.1f} can be filled", together(), p.need,
                         p.room);
    case Why::liquids:
      if (!p.bags.empty())
        return fmt::format("{:g} ml of liquids in {}, and {:g} ml are allowed", p.need,
                           bag_names(trip, p.bags), p.room);
      return fmt::format("{:g} ml of liquids in the cabin, and {:g} ml are allowed in all", p.need, p.room);
    case Why::persons:
      return fmt::format("in {}: {}", bag_names(trip, p.bags), count_text(p.count));
    case Why::beside:
      return fmt::format("{}, and no more than {:g} of them {} room beside each other", together(), p.room,
                         p.room > 1 ? "have" : "has");
    case Why::not_found:
      return fmt::format(
          "no way was found to share {} things out among {} so that each bag keeps its limit; that there is none "
          "is not proved",
          p.things.size(), bag_names(trip, p.bags));
    case Why::sharing:
      break;
  }
  return fmt::format(
      "{} things cannot be shared out among {} so that each bag keeps its limit, though their sum would be "
      "within{}",
      p.things.size(), bag_names(trip, p.bags),
      p.without ? fmt::format("; without {} it goes", name(*p.without)) : "");
}

std::vector<std::string> bag_problems(const kit::Trip& trip, const advice::Inventory& inventory,
                                      const std::vector<advice::BagProblem>& problems) {
  std::vector<std::string> out;
  for (const auto& problem : problems) out.push_back(bag_problem(trip, inventory, problem));
  return out;
}

std::string not_carried(const kit::Trip& trip, const advice::KitSheet& sheet, std::size_t setup) {
  const auto& why = sheet.not_carried[setup];
  using Why = advice::NotCarried::Why;
  switch (why.why) {
    case Why::carried:
      return {};
    case Why::no_power: {
      const auto rig = sheet.setups.possible[setup].rig;
      return power_why(trip, nth(sheet.inventory.power, rig.value()));
    }
    case Why::thing: {
      const auto& thing = nth(sheet.inventory.things, *why.thing);
      return fmt::format("{}: {}", thing.name, why_excluded(trip, thing));
    }
    case Why::mass:
      return "over the mass limit even with the lightest pack";
    case Why::bags:
      break;
  }
  return why.bags ? bag_problem(trip, sheet.inventory, *why.bags) : "does not go into the bags";
}

}  // namespace skerry::words
