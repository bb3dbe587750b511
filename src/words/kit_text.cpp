// The sheet of what one owns.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "skerry/core/nth.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/kit.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::words {

namespace {

using advice::KitSheet;
using advice::Thing;

const char* lie_text(kit::Lie lie) {
  static constexpr std::array names{"no way", "along a side", "across the largest face",
                                    "corner to corner through the bag"};
  return nth(names, lie);
}

std::string size_text(const kit::Item& item) {
  if (item.tube_cm) return fmt::format("{:g} x {:g} cm", (*item.tube_cm)[0], (*item.tube_cm)[1]);
  if (!item.size_cm) return "soft";
  const auto& s = *item.size_cm;
  return fmt::format("{:g} x {:g} x {:g} cm", s[0], s[1], s[2]);
}

constexpr std::size_t name_columns = 32;

std::string things_text(const kit::Trip& trip, const KitSheet& sheet, std::size_t columns) {
  std::string out = "\nTHINGS\n";
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const Thing& thing = sheet.inventory.things[i];
    const auto& air = sheet.lines[i].air;
    // A long name has a line of its own.
    const bool long_name = thing.name.size() > name_columns;
    if (long_name) out += wrapped(thing.name, columns, "  ", "    ");
    out += fmt::format("  {:<{}} {:>8}  {:<19}  {}\n", long_name ? "" : thing.name, name_columns,
                       mass(thing.mass_g), size_text(item_of(trip, thing)), place_text(air));
    if (air.rule != "ordinary" && air.rule != "radio")
      out +=
          wrapped(fmt::format("{} (rule of {})", air_why(air), air.rule_date), columns, "      ", "      ");
    if (thing.excluded && air.place != kit::Place::forbidden)
      out += wrapped("cannot come: " + why_excluded(trip, thing), columns, "      ", "      ");
  }
  return out;
}

std::string long_text(const kit::Trip& trip, const KitSheet& sheet, std::size_t columns) {
  std::string out;
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const Thing& thing = sheet.inventory.things[i];
    const kit::Item& item = item_of(trip, thing);
    if (!item.tube_cm) continue;
    out += wrapped(
        fmt::format("{}, {:g} cm long, {:g} cm thick", thing.name, (*item.tube_cm)[0], (*item.tube_cm)[1]),
        columns, "  ", "    ");
    for (std::size_t b = 0; b < trip.bags.size(); ++b) {
      const auto& fit = sheet.lines[i].bags[b];
      std::string words;
      if (!fit.fits) {
        // Down to a tenth: never a length that does not go in.
        words = fmt::format("no: at most {:.1f} cm of that thickness",
                            std::floor(fit.longest.solid_cm * 10) / 10);
      } else {
        words = lie_text(fit.lie);
        if (!fit.allowed) words += ", but may not go there";
        if (!fit.light) words += ", but is too heavy";
      }
      out += wrapped(fmt::format("{}: {}", bag_name(trip.bags[b]), words), columns, "    ", "      ");
    }
  }
  return out.empty() ? out : "\nLONG THINGS IN EMPTY BAGS\n" + out;
}

std::string batteries_text(const kit::Trip& trip, const KitSheet& sheet, std::size_t columns) {
  std::string out;
  for (std::size_t i = 0; i < sheet.lines.size(); ++i) {
    const auto& line = sheet.lines[i];
    if (!line.watt_hours) continue;
    std::string words = fmt::format("{}: {:.4g} Wh, {:.0f} of them usable", sheet.inventory.things[i].name,
                                    *line.watt_hours, *line.usable_wh);
    for (const auto& run : line.runs) {
      words += fmt::format("; {:.1f} h of {} at {:.3g} W on the {}", run.hours,
                           nth(trip.modes, run.mode).name, run.power_w, nth(trip.rigs, run.rig).item.name);
    }
    if (const auto why = taken_by_none(trip, nth(trip.batteries, sheet.inventory.things[i].index));
        !why.empty())
      words += "; suits no rig: " + why;
    out += wrapped(words, columns, "  ", "      ");
  }
  if (out.empty()) return out;
  return "\nBATTERIES\n" + out +
         wrapped(fmt::format("the longest day has {:.1f} h of operation", sheet.need_hours), columns, "  ",
                 "  ");
}

std::string bags_text(const kit::Trip& trip, const KitSheet& sheet, std::size_t columns) {
  std::string out = "\nBAGS\n";
  for (std::size_t b = 0; b < trip.bags.size(); ++b) {
    const auto& bag = trip.bags[b];
    std::string words =
        fmt::format("{} ({}{}{}): {:g} x {:g} x {:g} cm inside, takes {}", bag_name(bag),
                    bag.hold ? "hold" : "cabin", bag.person.empty() ? "" : ", ", bag.person, bag.inner_cm[0],
                    bag.inner_cm[1], bag.inner_cm[2], mass(bag.mass_limit_g - bag.own_mass_g));
    for (const auto& note : bag_notes(bag)) words += "; " + note;
    out += wrapped(words, columns, "  ", "      ");
  }
  if (!sheet.all_in_bags) {
    const bool open =
        !sheet.why_not.empty() && sheet.why_not.front().why == advice::BagProblem::Why::not_found;
    out += wrapped(open ? "Whether everything goes at once is not known:" : "Everything at once does not go:",
                   columns, "  ", "  ");
    for (const auto& why : bag_problems(trip, sheet.inventory, sheet.why_not))
      out += wrapped(why, columns, "  - ", "    ");
    return out;
  }
  const bool placed = sheet.all_in_bags->packed == advice::Packed::placed;
  out += wrapped(placed ? "Everything that may come goes in at once:"
                        : "Everything that may come may go in at once; try it at home:",
                 columns, "  ", "  ");
  for (const auto& load : sheet.all_in_bags->bags) {
    std::string words = fmt::format("{}, {} of {}: ", bag_name(nth(trip.bags, load.bag)), mass(load.mass_g),
                                    mass(load.limit_g));
    words += load.things.empty() ? "nothing" : names_of(sheet.inventory, load.things);
    out += wrapped(words, columns, "  - ", "    ");
  }
  return out;
}

std::string setups_text(const kit::Trip& trip, const KitSheet& sheet, std::size_t columns) {
  std::map<std::string, int> blocked;
  for (std::size_t s = 0; s < sheet.not_carried.size(); ++s) {
    if (const auto why = not_carried(trip, sheet, s); !why.empty()) ++blocked[why];
  }
  int cannot = 0;
  for (const auto& [why, count] : blocked) cannot += count;
  std::string out =
      fmt::format("\nSETUPS\n  {} possible{}\n", sheet.setups.possible.size(),
                  cannot == 0 ? "" : fmt::format(" on site, but {} of them cannot be carried there", cannot));
  for (const auto& [why, count] : blocked)
    out += wrapped(fmt::format("{} not carried: {}", count, why), columns, "    ", "      ");
  for (std::size_t a = 0; a < trip.antennas.size(); ++a) {
    const auto& item = trip.antennas[a].item;
    out += wrapped(
        fmt::format("{}: {}", item.name.empty() ? item.id : item.name,
                    sheet.setups_of_antenna[a] == 0 ? "none" : std::to_string(sheet.setups_of_antenna[a])),
        columns, "    ", "      ");
  }
  if (sheet.setups.impossible.empty()) return out;
  out += fmt::format("\nIMPOSSIBLE\n");
  for (const auto& i : cannot_be(trip, sheet.setups))
    out += wrapped(i.what + ": " + i.why, columns, "  - ", "    ");
  return out;
}

std::string air_rules_text(const KitSheet& sheet, std::size_t columns) {
  std::string out = "\nBY AIR\n";
  for (const auto& note : sheet.notes)
    out += wrapped(fmt::format("{} ({})", note.text, note.since), columns, "  - ", "    ");
  out += wrapped(rules_caution, columns, "  ", "  ");
  out += wrapped(
      fmt::format("Rules last checked {}, claimed to hold until {}.{}", to_iso(kit::rules_checked()),
                  to_iso(kit::rules_valid_until()),
                  sheet.rules_outdated ? " The trip ends after that: look again before you fly." : ""),
      columns, "  ", "  ");
  return out;
}

}  // namespace

std::string bag_name(const kit::Bag& bag) {
  return bag.name.empty() ? bag.id : bag.name;
}

std::string kit_text(const kit::Trip& trip, const KitSheet& sheet, const Style& style) {
  const auto columns = style.width();
  const auto& things = sheet.inventory.things;
  const auto out_of_it =
      std::count_if(things.begin(), things.end(), [](const Thing& t) { return t.excluded; });
  std::string head = fmt::format("{} things, {} in all; {} may be carried.", things.size(),
                                 mass(sheet.mass_g), mass(trip.mass_limit_g));
  if (out_of_it > 0) head += fmt::format(" {} of them cannot come.", out_of_it);
  head += " What is worth carrying is told by 'skerry pack'.";
  std::string out = wrapped(trip.name, columns, "", "") + wrapped(head, columns, "", "");
  out += things_text(trip, sheet, columns);
  out += long_text(trip, sheet, columns);
  out += batteries_text(trip, sheet, columns);
  out += bags_text(trip, sheet, columns);
  out += setups_text(trip, sheet, columns);
  out += air_rules_text(sheet, columns);
  return on_screen(out, style);
}

}  // namespace skerry::words
