#include "skerry/advice/people.hpp"

#include <algorithm>
#include <cassert>
#include <chrono>

#include "skerry/advice/reach.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/table.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::advice {

double Listeners::at(UtcTime hour, const sun::Zone& clock) const {
  const auto in_the_hour_of = [&](UtcTime when) {
    const unsigned day = clock.local_weekday(when);
    const auto local = static_cast<std::size_t>(clock.local_hour(when));
    return (day == 0 || day == 6 ? weekend : weekday)[std::min<std::size_t>(local, 23)];
  };
  return 0.5 *
         (in_the_hour_of(hour - std::chrono::minutes{15}) + in_the_hour_of(hour + std::chrono::minutes{15}));
}

sun::Zone clock_of(const kit::Target& target) {
  return sun::legal_zone(nth(target.people, largest_group(target)).where);
}

std::vector<sun::Zone> clocks_of(const kit::Trip& trip) {
  std::vector<sun::Zone> out;
  for (const auto& target : trip.targets) {
    for (const auto& person : target.people) out.push_back(sun::legal_zone(person.where));
  }
  return out;
}

Listeners listeners_of(const kit::Trip& trip) {
  Listeners out;
  if (!trip.listeners.used) {
    out.weekday.fill(1);
    out.weekend.fill(1);
    return out;
  }
  for (const auto& row : table_rows("people/availability.toml", "day")) {
    const auto& hours = row.numbers("hours");
    assert(hours.size() == 24);
    auto& table = row.text("kind") == "weekend" ? out.weekend : out.weekday;
    std::copy_n(hours.begin(), 24, table.begin());
  }
  if (trip.listeners.weekday) out.weekday = *trip.listeners.weekday;
  if (trip.listeners.weekend) out.weekend = *trip.listeners.weekend;
  return out;
}

}  // namespace skerry::advice
