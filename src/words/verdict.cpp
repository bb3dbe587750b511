#include "skerry/words/verdict.hpp"

#include <fmt/format.h>

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
  const auto out = fmt::format(" The battery is the limit: good for {} of the hours on the air",
                               percent_in_words(limit.share));
  if (!limit.longer)
    return out + fmt::format("; as much again would be good for {}.", percent_in_words(limit.share_of_twice));
  std::vector<std::string> names;
  for (const int b : limit.longer->batteries) names.push_back(nth(trip.batteries, b).item.name);
  return out + fmt::format("; {} ({}) would be good for {}.", fmt::join(names, " and "),
                           mass(limit.longer->mass_g), percent_in_words(limit.longer->share));
}

/// Of a kit that no other within the limit beats: proved only where it is known to go into the bags.
const char* proof_text(advice::Packed packed) {
  switch (packed) {
    case advice::Packed::placed:
      return " Proved: no kit within the limit reaches more.";
    case advice::Packed::try_at_home:
      return " No kit within the limit reaches more; that this one goes into the bags is not proved: try it at "
             "home.";
    case advice::Packed::not_found:
      break;
  }
  return " No kit within the limit reaches more, but no way was found to share this one out among the bags: try it "
         "at home.";
}

std::string works_text(const kit::Trip& trip, const Advice& advice, Reader reader) {
  const auto& kit = advice.kit;
  std::string text = fmt::format("Carry {} of {} allowed: {} of the wanted region-hours work both ways",
                                 mass(kit.mass_g), mass(advice.limit_g), percent_in_words(kit.reach));
  if (advice.reach_of_everything - kit.reach < 0.005) {
    text += ", as much as the whole inventory would give.";
  } else {
    text += fmt::format("; the whole inventory would give {}.", percent_in_words(advice.reach_of_everything));
  }
  text += kit.proved ? proof_text(advice.packed)
                     : fmt::format(" Best found; at most {} is possible within the limit.",
                                   percent_in_words(kit.bound));
  if (advice.battery_limit) text += battery_limit(trip, *advice.battery_limit);
  if (const auto& light = advice.lighter) {
    text += fmt::format(" Nearly the same for less: {} reaches {}", mass(light->mass_g),
                        percent_in_words(light->reach));
    text += reader == Reader::of_terminal ? "; " + with_limit(light->mass_g, 0) : ".";
  }
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
                      percent_in_words(item.reach_without), percent_in_words(advice.kit.reach), others);
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

std::string left_reason(const Advice& advice, const advice::ItemAdvice& item) {
  const auto& thing = thing_of(advice, item.thing);
  if (!item.used) {
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
      return works_text(trip, advice, reader);
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
          "over the limit, and reaches {} of the wanted region-hours ({}).{}",
          mass(advice.limit_g), mass(advice.lightest->mass_g), mass(advice.lightest->mass_g - advice.limit_g),
          percent_in_words(advice.lightest->reach), names_of(advice.inventory, advice.lightest->items),
          terminal ? " " + with_limit(advice.lightest->mass_g, 1e-9) : "");
    case Outcome::blocked:
      return fmt::format(
          "Nothing that works can be carried, and the sky is not the reason: it would give {} of the wanted "
          "region-hours to the lightest setup that works. In the way: {}. What could change that: another "
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
  return item.carry ? carried_reason(trip, advice, item) : left_reason(advice, item);
}

std::string firm_text(const kit::Trip& trip, const Advice& advice) {
  const auto& f = advice.firmness;
  using Why = advice::Firmness::Why;
  if (f.why == Why::nothing_reached) return "nothing is reached";
  if (f.why == Why::no_other_kit) return "no other kit to compare";
  const double lead = advice.kit.reach - f.runner_up->reach;
  const auto behind = lead > 1e-9 ? percent_in_words(lead) + " behind" : std::string("as good");
  if (f.why == Why::overtaken) {
    return fmt::format("a toss-up: the next kit is {}, and ahead in one of the cases asked ({})", behind,
                       scenario_name(trip, nth(advice.robustness.scenarios, *f.overtaken_in)));
  }
  if (f.why == Why::too_near) {
    return fmt::format(
        "a toss-up: the next kit is {} and no heavier; {} of the wanted region-hours stand within {:.1f} "
        "days in ten of the wish either way",
        behind, percent_in_words(f.fragile + f.nearly), advice::edge_days);
  }
  return fmt::format("the next kit is {}{}", behind,
                     f.why == Why::ahead_in_all ? ", and ahead in none of the cases asked" : "");
}

std::string scenario_name(const kit::Trip& trip, const advice::Scenario& s) {
  using Kind = advice::Scenario::Kind;
  switch (s.kind) {
    case Kind::quieter_sun:
      return fmt::format("quieter Sun, R12 {:.0f}", s.amount);
    case Kind::active_sun:
      return fmt::format("more active Sun, R12 {:.0f}", s.amount);
    case Kind::noisier_site:
      return "one class more noise at the site";
    case Kind::worse_antennas:
      return fmt::format("antennas {:.0f} dB worse", s.amount);
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
