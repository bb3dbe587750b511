#include "skerry/words/verdict.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::words {

namespace {

using advice::Advice;
using advice::Outcome;

/// Below this a difference of reach is called none. Judgement: a tenth of the last digit shown.
constexpr double nothing = 0.0005;

const advice::Thing& thing_of(const Advice& advice, int thing) {
  return nth(advice.inventory.things, thing);
}

/// "storm guys and pegs (goes in the hold only, and no bag goes there), so the 7 m pole cannot stand"
std::string blocking_text(const kit::Trip& trip, const advice::Thing& thing) {
  std::vector<std::string> stranded;
  for (const auto& support : trip.supports) {
    if (std::find(support.needs.begin(), support.needs.end(), thing.id) != support.needs.end())
      stranded.push_back("the " + support.item.name);
  }
  const bool all = !stranded.empty() && stranded.size() == trip.supports.size();
  return fmt::format("{} ({}){}", thing.name, why_excluded(trip, thing),
                     all                ? ", so no support can stand"
                     : stranded.empty() ? ""
                                        : fmt::format(", so {} cannot stand", fmt::join(stranded, ", ")));
}

std::string in_the_way(const kit::Trip& trip, const Advice& advice) {
  std::vector<std::string> reasons;
  for (const int i : advice.lightest->items) {
    if (thing_of(advice, i).excluded) reasons.push_back(blocking_text(trip, thing_of(advice, i)));
  }
  if (reasons.empty()) reasons = bag_problems(trip, advice.inventory, advice.in_the_way);
  return fmt::format("{}", fmt::join(reasons, "; "));
}

/// Down to ten grams above: what the mass limit has to be for a kit of this mass.
std::string with_limit(double mass_g, double slack) {
  return fmt::format("--mass-limit-kg {:.2f} shows it.", std::ceil(mass_g / 10 - slack) / 100);
}

std::string battery_limit(const kit::Trip& trip, const advice::BatteryLimit& limit) {
  const auto out =
      fmt::format(" The battery is the limit: good for {} of the hours on the air", of_hours(limit.share));
  if (!limit.all)
    return out + fmt::format("; as much again would be good for {}.", of_hours(limit.share_of_twice));
  std::vector<std::string> names;
  for (const int b : limit.all->batteries) names.push_back(nth(trip.batteries, b).item.name);
  return out + fmt::format("; {} ({}) would be good for {}.", fmt::join(names, " and "),
                           mass(limit.all->mass_g), of_hours(limit.all->share));
}

/// What the number of reach counts: "in CW", "in 70 % CW and 30 % SSB".
std::string in_modes(const kit::Trip& trip, const Advice& advice) {
  std::vector<std::string> parts;
  for (const auto& m : advice.modes) {
    if (m.share <= 0) continue;
    const auto& name = nth(trip.modes, m.mode).name;
    parts.push_back(m.share >= 1 ? name : fmt::format("{:.0f} % {}", 100 * m.share, name));
  }
  return parts.empty() ? std::string() : fmt::format(" in {}", fmt::join(parts, " and "));
}

/// A second share beside a first: with a decimal where both would read alike.
std::string percent_of(double share, double beside) {
  return percent_in_words(share) != percent_in_words(beside) ? percent_in_words(share)
                                                             : fmt::format("{:.1f} %", 100 * share);
}

/// What stands beside a kit that is not known to go into the bags.
const char* bags_doubt(advice::Packed packed) {
  return packed == advice::Packed::placed ? ""
         : packed == advice::Packed::try_at_home
             ? " That it goes into the bags is not proved: try it at home."
             : " No way was found to share it out among the bags: try it at home.";
}

std::string works_text(const kit::Trip& trip, const Advice& advice) {
  const auto& kit = advice.kit;
  std::string text = fmt::format("Carry {} of {} allowed: {} of what you want works{}", mass(kit.mass_g),
                                 mass(advice.limit_g), percent_in_words(kit.reach), in_modes(trip, advice));
  text += advice.reach_of_everything - kit.reach < 0.005
              ? ", as much as with everything."
              : fmt::format(" ({} with everything).", percent_in_words(advice.reach_of_everything));
  const bool plain = kit.items == advice.optimum.items;
  const bool proved = advice::proved(advice);
  if (!advice.optimum.proved) {
    text += fmt::format(" Best found; at most {} is possible within the limit.",
                        percent_in_words(advice.optimum.bound));
  } else if (plain) {
    text += !proved                ? " None within the limit reaches more."
            : advice.tolerance > 0 ? " Proved: none reaches more, none lighter nearly as much."
                                   : " Proved: no kit within the limit reaches more.";
  } else {
    text +=
        fmt::format(" {}: the most there is, {}, weighs {} more.",
                    proved ? "Proved the lightest that nothing really beats"
                           : "The lightest found that nothing really beats",
                    percent_of(advice.optimum.reach, kit.reach), mass(advice.optimum.mass_g - kit.mass_g));
  }
  text += bags_doubt(advice.packed);
  if (advice.battery_limit) text += battery_limit(trip, *advice.battery_limit);
  return text;
}

std::string carried_reason(const kit::Trip& trip, const Advice& advice, const advice::ItemAdvice& item) {
  const auto& thing = thing_of(advice, item.thing);
  if (thing.always) {
    return item.reach > nothing ? fmt::format("always goes, as the trip file says; {} of reach hangs on it",
                                              percent_in_words(item.reach))
                                : "always goes, as the trip file says";
  }
  const std::string others =
      item.instead.empty() ? "" : fmt::format(" (with {})", names_of(advice.inventory, item.instead));
  std::string out;
  if (item.reach >= 0.01) {
    out = fmt::format("without it the best kit reaches {} instead of {}{}",
                      percent_in_words(item.reach_without), percent_in_words(advice.optimum.reach), others);
  } else if (item.reach > 0) {
    out = fmt::format("without it the best kit reaches less, though by under 1 %, and weighs {} {}{}",
                      mass(std::abs(item.lighter_g)), item.lighter_g < 0 ? "more" : "less", others);
  } else if (item.lighter_g < 0) {
    out = fmt::format("the same reach without it weighs {} more{}", mass(-item.lighter_g), others);
  } else {
    out = fmt::format("another kit is as good and as heavy{}", others);
  }
  if (!item.exact) out += " (not proved)";
  if (thing.kind != advice::ThingKind::battery) return out;
  for (const auto& plan : advice.power) {
    if (std::find(plan.batteries.begin(), plan.batteries.end(), thing.index) != plan.batteries.end())
      return out + "; " + power_why(trip, plan);
  }
  return out;
}

std::string left_reason(const kit::Trip& trip, const Advice& advice, const advice::ItemAdvice& item) {
  const auto& thing = thing_of(advice, item.thing);
  if (!item.used) {
    if (thing.kind == advice::ThingKind::battery) {
      const auto why = taken_by_none(trip, nth(trip.batteries, thing.index));
      if (!why.empty()) return why;
    }
    return thing.kind == advice::ThingKind::battery ? "no rig's plan uses it: see the battery lines"
           : thing.kind == advice::ThingKind::item  ? "nothing on the air needs it"
                                                    : "no setup with it serves any wanted region and hour";
  }
  const std::string company =
      item.with.empty() ? "" : fmt::format(", with {}", names_of(advice.inventory, item.with));
  std::string out;
  if (item.reach > nothing) {
    out = fmt::format("would add {} if {} more could go{}", percent_in_words(item.reach), mass(item.added_g),
                      company);
    if (item.reach_per_kg) out += fmt::format(": {} per kg", percent_in_words(*item.reach_per_kg));
  } else {
    out = fmt::format("would add nothing for its {}{}", mass(item.added_g), company);
  }
  return item.exact ? out : out + " (not proved)";
}

}  // namespace

std::string verdict_text(const kit::Trip& trip, const Advice& advice, Reader reader) {
  const bool terminal = reader == Reader::of_terminal;
  switch (advice.outcome) {
    case Outcome::works:
      return works_text(trip, advice);
    case Outcome::always_fits_no_bag:
      return fmt::format(
          "What always goes does not go into the bags together{}. Nothing else was considered.",
          terminal ? ": see 'skerry kit' for the reason" : "");
    case Outcome::always_cannot_come: {
      std::vector<std::string> names;
      for (const int i : advice.barred) {
        const auto& thing = thing_of(advice, i);
        names.push_back(fmt::format("{} ({})", thing.name, why_excluded(trip, thing)));
      }
      return fmt::format(
          "What always goes, as the trip file says, cannot come: {}. What could change that: another bag, or "
          "without always = true. The rest is chosen as if it stayed at home; nothing is proved.",
          fmt::join(names, "; "));
    }
    case Outcome::always_too_heavy:
      return fmt::format("What always goes weighs {} already: more than the limit of {}. Nothing else fits.",
                         mass(advice.kit.mass_g), mass(advice.limit_g));
    case Outcome::nothing_to_reach:
      return "No session and region to reach: nothing to decide.";
    case Outcome::no_setup:
      return "Nothing in this inventory can be put on the air: see the reasons below.";
    case Outcome::over_limit:
      return fmt::format(
          "No kit within {} works, and the sky is not the reason: the lightest kit that works weighs {}, {} "
          "over the limit, and reaches {} of what is wanted ({}).{}",
          mass(advice.limit_g), mass(advice.lightest->mass_g), mass(advice.lightest->mass_g - advice.limit_g),
          percent_in_words(advice.lightest->reach), names_of(advice.inventory, advice.lightest->items),
          terminal ? " " + with_limit(advice.lightest->mass_g, 1e-9) : "");
    case Outcome::blocked:
      return fmt::format(
          "Nothing that works can be carried, and the sky is not the reason: it would give {} of what is "
          "wanted to the lightest setup that works. In the way: {}. What could change that: another "
          "bag, or things that do without.",
          percent_in_words(advice.lightest->reach), in_the_way(trip, advice));
    case Outcome::no_power:
      return "No rig can be powered: " + power_why(trip, advice.inventory.power.front()) + ".";
    case Outcome::no_sky:
      break;
  }
  return fmt::format(
      "No kit, of any mass, works any of the wanted regions in the hours on the air on as many days as "
      "wanted (want_days_in_ten). What could change that: fewer days, a mode that needs less signal, other "
      "hours, nearer regions{}.",
      terminal ? "; 'skerry path' shows how far off each band is" : "");
}

const char* no_kit_text(Outcome outcome) {
  switch (outcome) {
    case Outcome::works:
      return "";
    case Outcome::always_fits_no_bag:
      return "what always goes finds no room";
    case Outcome::always_cannot_come:
      return "what always goes cannot come";
    case Outcome::always_too_heavy:
      return "what always goes is over the limit";
    case Outcome::nothing_to_reach:
      return "there is nothing to reach";
    case Outcome::no_setup:
      return "nothing here can be put on the air";
    case Outcome::over_limit:
      return "no kit within the limit works";
    case Outcome::blocked:
      return "nothing that works can be carried";
    case Outcome::no_power:
      return "no rig can be powered";
    case Outcome::no_sky:
      break;
  }
  return "no kit works under this sky";
}

std::string item_reason(const kit::Trip& trip, const Advice& advice, const advice::ItemAdvice& item) {
  const auto& thing = thing_of(advice, item.thing);
  if (thing.excluded) return why_excluded(trip, thing);
  return item.carry ? carried_reason(trip, advice, item) : left_reason(trip, advice, item);
}

std::string firm_text(const kit::Trip& trip, const Advice& advice) {
  const auto& f = advice.firmness;
  using Why = advice::Firmness::Why;
  if (f.why == Why::nothing_reached) return "nothing is reached";
  if (f.why == Why::no_other_kit) return "no other kit to compare";
  const auto rival = fmt::format("{} ({}, {})", swap_text(advice.inventory, f.comes, f.goes),
                                 percent_in_words(f.runner_up->reach), mass(f.runner_up->mass_g));
  const std::size_t cases = advice.robustness.scenarios.size() + 1;
  if (f.why == Why::overtaken) {
    const auto many = std::lround(f.ahead * static_cast<double>(cases));
    return fmt::format(
        "a toss-up: {} does better in {} of {} cases asked{}", rival, many, cases,
        f.overtaken_in ? fmt::format(" (most of all with: {})",
                                     scenario_name(trip, nth(advice.robustness.scenarios, *f.overtaken_in)))
                       : "");
  }
  if (f.why == Why::too_near)
    return fmt::format("a toss-up: {} does as well in the mean of {} cases and is no heavier", rival, cases);
  const auto lead = std::abs(f.mean_lead) < 0.005 ? std::string("as good in the mean")
                    : f.mean_lead > 0             ? percent_in_words(f.mean_lead) + " behind in the mean"
                                                  : percent_in_words(-f.mean_lead) + " ahead in the mean";
  const auto mass_more = f.runner_up->mass_g - advice.kit.mass_g;
  return fmt::format("its best rival, {}, is {} of {} cases{}{}", rival, lead, cases,
                     f.why == Why::ahead_in_all ? "" : ", though ahead in some",
                     mass_more > 1 ? fmt::format(", and {} heavier", mass(mass_more)) : "");
}

std::string swap_text(const advice::Inventory& inventory, const std::vector<int>& comes,
                      const std::vector<int>& goes) {
  if (comes.empty() && goes.empty()) return "the same kit";
  if (comes.empty()) return "the kit without " + names_of(inventory, goes);
  if (goes.empty()) return "the kit with " + names_of(inventory, comes) + " too";
  return names_of(inventory, comes) + " instead of " + names_of(inventory, goes);
}

std::string scenario_name(const kit::Trip& trip, const advice::Scenario& s) {
  using Kind = advice::Scenario::Kind;
  switch (s.kind) {
    case Kind::quieter_sun:
      return fmt::format("quieter Sun, R12 {:.0f}", s.amount);
    case Kind::active_sun:
      return fmt::format("more active Sun, R12 {:.0f}", s.amount);
    case Kind::noisier_site:
      return "one class more noise at both ends";
    case Kind::worse_antennas:
      return fmt::format("antennas {:.0f} dB worse", -s.amount);
    case Kind::better_antennas:
      return fmt::format("antennas {:.0f} dB better", s.amount);
    case Kind::two_limits:
      return "far paths by the two-limit method";
    case Kind::no_sporadic_e:
      return "no sporadic E at all";
    case Kind::poorer_ground:
      return "ground one class poorer";
    case Kind::better_ground:
      return "ground one class better";
    case Kind::session_lost:
      break;
  }
  const auto& session = nth(trip.sessions, *s.session);
  const auto out = fmt::format("no session on {} from {:02}:{:02}", to_iso(s.day), session.start_minute / 60,
                               session.start_minute % 60);
  return trip.sites.size() > 1 ? out + " at " + session.site : out;
}

const char* variant_name(advice::Restriction restriction) {
  return restriction == advice::Restriction::cabin_only ? "cabin bags only"
                                                        : "nothing that may be argued about at security";
}

std::string pair_why(const kit::Trip& trip, const advice::BandPair& pair) {
  const auto& a = nth(trip.bands, pair.a).id;
  const auto& b = nth(trip.bands, pair.b).id;
  if (pair.harmonic > 0) return fmt::format("harmonic {} of {} falls into {}", pair.harmonic, a, b);
  return pair.close ? fmt::format("{} and {} are too near each other without filters", a, b) : std::string();
}

std::string names_of(const advice::Inventory& inventory, const std::vector<int>& things) {
  std::vector<std::string> names;
  names.reserve(things.size());
  for (std::size_t i = 0; i < things.size();) {
    // Things alike stand behind each other.
    const auto& thing = nth(inventory.things, things[i]);
    const auto alike = thing.count > 1 ? thing.name.substr(0, thing.name.rfind(" (")) : std::string();
    std::size_t n = 1;
    while (!alike.empty() && i + n < things.size() &&
           nth(inventory.things, things[i + n]).kind == thing.kind &&
           nth(inventory.things, things[i + n]).name.rfind(alike + " (", 0) == 0 &&
           nth(inventory.things, things[i + n]).count == thing.count)
      ++n;
    names.push_back(n > 1 ? fmt::format("{} x {}", n, alike) : thing.name);
    i += n;
  }
  return fmt::format("{}", fmt::join(names, ", "));
}

}  // namespace skerry::words
