// The answer on one screen.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "pack_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::words {

namespace {

using advice::Advice;

/// Source: the usual terminal of 24 lines of 80 characters.
constexpr std::size_t screen_lines = 24;

/// What goes, by bag where there are bags.
std::string carried(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  const auto list = [&](const std::vector<int>& things) {
    std::vector<std::string> parts;
    for (const int i : things) {
      const auto& thing = nth(a.inventory.things, i);
      parts.push_back(fmt::format("{} {}", thing.name, mass(thing.mass_g)));
    }
    return fmt::format("{}", fmt::join(parts, ", "));
  };
  if (a.bags.empty()) return wrapped(list(a.kit.items), columns, "  ", "  ");
  std::string out;
  for (const auto& load : a.bags) {
    if (load.things.empty()) continue;
    const auto& bag = nth(trip.bags, load.bag);
    out += wrapped(fmt::format("{} ({}): {}", bag.name, bag.hold ? "hold" : "cabin", list(load.things)),
                   columns, "  ", "    ");
  }
  return out;
}

/// The antennas of some windows by letters, so that a line has room for everything.
class Letters {
 public:
  explicit Letters(const kit::Trip& trip) : trip_(trip) {}
  char of(Id<kit::Antenna> antenna) {
    auto at = std::find(known_.begin(), known_.end(), antenna);
    if (at == known_.end()) at = known_.insert(known_.end(), antenna);
    return static_cast<char>('A' + (at - known_.begin()) % 26);
  }
  [[nodiscard]] std::string legend() const {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < known_.size(); ++i)
      out.push_back(fmt::format("{} {}", static_cast<char>('A' + i % 26), trip_.at(known_[i]).item.name));
    return fmt::format("{}", fmt::join(out, ", "));
  }

 private:
  const kit::Trip& trip_;
  std::vector<Id<kit::Antenna>> known_;
};

/// One line: clock there, UTC, band, days, antenna.
std::string window_line(const kit::Trip& trip, const Advice& a, const advice::Window& w,
                        const std::string& name, Letters& letters) {
  const UtcTime first =
      start_of(trip.climate.day) + std::chrono::hours{w.first_hour} - std::chrono::minutes{30};
  const UtcTime last = first + std::chrono::hours{w.hours};
  const auto span = [&](const sun::Zone& zone) {
    return local_clock(zone, first) + "-" + local_clock(zone, last);
  };
  return fmt::format(
      "  {} {} {} {:>4} {:>4} {}{}\n", name, span(nth(trip.sites, w.site).zone), span(sun::Zone::utc()),
      nth(trip.bands, w.band).id, days_sign(true, w.days),
      letters.of(nth(a.setups.possible, w.setup.value()).antenna),
      w.way == geodesy::Way::long_way ? fmt::format(" long way {:.0f} deg", w.bearing_deg) : std::string());
}

/// What the site's clock is called in the middle of the trip; of several that differ, but that it is theirs.
std::string clocks(const kit::Trip& trip) {
  const UtcTime noon = start_of(trip.climate.day) + std::chrono::hours{12};
  const auto label = trip.sites.front().zone.label(noon);
  const bool same = std::all_of(trip.sites.begin(), trip.sites.end(),
                                [&](const auto& site) { return site.zone.label(noon) == label; });
  return same && label.size() <= 11 ? label : "local";
}

/// The best windows of each region, in so many lines where that is possible.
std::string windows(const kit::Trip& trip, const Advice& a, std::size_t columns, std::size_t lines) {
  std::vector<std::size_t> order;
  std::vector<std::string> shut;
  std::size_t name_wide = 6;
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    const bool open = std::any_of(a.windows.begin(), a.windows.end(),
                                  [&](const auto& w) { return w.target == static_cast<int>(t); });
    if (open) order.push_back(t);
    if (!open) shut.push_back(trip.targets[t].region.name);
    name_wide = std::max(name_wide, trip.targets[t].region.name.size());
  }
  // What the rest of a line takes is 36 characters, 17 more for a long way round.
  name_wide = std::min<std::size_t>(name_wide, columns > 76 ? columns - 40 : 36);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) {
    return a.targets[x].reach * trip.targets[x].weight > a.targets[y].reach * trip.targets[y].weight;
  });
  const std::size_t regions = std::max<std::size_t>(1, std::min(order.size(), lines));
  Letters letters(trip);
  std::string out = fmt::format("  {} {:<11} UTC         band days antenna\n",
                                pack::cut("BEST HOURS", name_wide), clocks(trip));
  std::vector<std::string> more;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const auto& name = trip.targets[order[k]].region.name;
    if (k >= regions) {
      more.push_back(name);
      continue;
    }
    // A second and a third window where there is room, the regions most reached first.
    const std::size_t each = std::min<std::size_t>(3, 1 + (lines - std::min(lines, k + 1)) / regions);
    std::size_t told = 0;
    for (const auto& w : a.windows) {
      if (w.target != static_cast<int>(order[k]) || told == each) continue;
      out += window_line(trip, a, w, pack::cut(told++ == 0 ? name : "", name_wide), letters);
    }
  }
  if (!order.empty()) out += wrapped("antennas: " + letters.legend(), columns, "  ", "    ");
  if (!more.empty())
    out += wrapped(fmt::format("in strips: {}", fmt::join(more, ", ")), columns, "  ", "    ");
  if (!shut.empty())
    out += wrapped(fmt::format("under a day in ten: {}", fmt::join(shut, ", ")), columns, "  ", "    ");
  return out;
}

std::string air_and_daylight(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::vector<std::string> ask, hold;
  for (const int i : a.kit.items) {
    const auto& thing = nth(a.inventory.things, i);
    if (thing.air.approval || thing.air.arguable) ask.push_back(thing.name);
    if (thing.air.place == kit::Place::hold_only) hold.push_back(thing.name);
  }
  std::string air = ask.empty() ? "Air: nothing here needs leave by the usual rules; the airline decides"
                                : fmt::format("Air: ask the airline about {}", fmt::join(ask, ", "));
  if (!hold.empty()) air += fmt::format("; in the hold: {}", fmt::join(hold, ", "));
  const advice::DayPlan* first = nullptr;
  for (const auto& day : a.days) {
    if (day.turn_back &&
        (first == nullptr || local_clock(nth(trip.sites, day.site).zone, day.turn_back) <
                                 local_clock(nth(trip.sites, first->site).zone, first->turn_back)))
      first = &day;
  }
  std::string out = wrapped(air + ".", columns, "", "  ");
  if (first != nullptr) {
    const auto& site = nth(trip.sites, first->site);
    out += wrapped(
        fmt::format("Leave {} by {} ({}), while there is light.", site.name,
                    first->turn_back ? site.zone.labelled_clock(*first->turn_back) : "", to_iso(first->date)),
        columns, "", "  ");
  }
  return out;
}

}  // namespace

std::string pack_screen(const kit::Trip& trip, const Advice& a, const Style& style) {
  const auto columns = style.width(80);
  std::string out = pack::head(trip, a, columns);
  std::string below;
  if (a.outcome == advice::Outcome::works) {
    out += pack::other_modes(trip, a, columns);
    out += carried(trip, a, columns);
    below = air_and_daylight(trip, a, columns);
  }
  below +=
      wrapped(fmt::format("More with --show: {}, all.", fmt::join(section_names, " ")), columns, "", "  ");
  const auto used = static_cast<std::size_t>(std::count(out.begin(), out.end(), '\n') +
                                             std::count(below.begin(), below.end(), '\n'));
  // A line for the heading of the hours, and one for the antennas.
  std::size_t room = used + 2 < screen_lines ? screen_lines - used - 2 : 1;
  if (a.outcome == advice::Outcome::works) {
    const auto contacts = pack::likely_contacts(a);
    const bool told = room > trip.targets.size() && !contacts.empty() && contacts.size() <= columns;
    if (told) --room;
    out += windows(trip, a, columns, room);
    if (told) out += contacts;
  }
  return on_screen(out + below, style, 80);
}

}  // namespace skerry::words
