// How many contacts are likely.
#include <fmt/format.h>

#include <cmath>

#include "pack_parts.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::words::pack {

namespace {

/// "Sat 2027-03-13".
std::string day_name(Day day) {
  constexpr const char* names[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  return fmt::format("{} {}", names[std::chrono::weekday(std::chrono::sys_days{day}).c_encoding()],
                     to_iso(day));
}

/// A count and four fifths of what it may turn out to be, in whole contacts.
std::string count_text(const advice::Contacts& c) {
  return fmt::format("{:.0f}, four times in five {:.0f} to {:.0f}", c.expected, std::floor(c.low),
                     std::ceil(c.high));
}

}  // namespace

std::string likely_contacts(const advice::Advice& a) {
  const auto& c = a.contacts;
  if (c.expected < 0.5) return {};
  return fmt::format("Likely contacts: {} ({}).\n", count_text(c),
                     c.learned ? "by your own log" : "a rough guess");
}

std::string contacts(const kit::Trip& trip, const advice::Advice& a, std::size_t columns) {
  const auto& c = a.contacts;
  if (c.expected < 0.5) return {};
  std::string out = heading("LIKELY CONTACTS");
  out += wrapped(
      fmt::format(
          "{}. {}, with every region open and everybody there at the set: {:.0f} an hour, {}; the rest is "
          "what this kit works, and who is awake. One good day or one bad one is inside that span.",
          count_text(c), c.learned ? "By your own log" : "A rough guess, by no statistic", c.per_hour,
          fmt::format("up to {:.2g} times more or fewer for four of five operators", c.factor)),
      columns, "  ", "  ");
  for (const auto& part : c.days)
    out += fmt::format("  {}{}  {:>4.1f} h  about {:.0f}\n", day_name(part.day),
                       trip.sites.size() > 1 ? " " + cut(nth(trip.sites, part.site).name, 16) : "",
                       part.hours, part.expected);
  return out;
}

}  // namespace skerry::words::pack
