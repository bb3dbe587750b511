// When the Sun sets on a summit, and when its twilight ends.
#include <fmt/format.h>

#include "skerry/sun/events.hpp"

int main() {
  const skerry::GeoPoint summit{-19.70, 63.43};
  const auto day = skerry::sun::day(summit, *skerry::parse_day("2027-02-14", {}), 398);
  fmt::print("sunset {}\n", skerry::to_iso(*day.set));
  fmt::print("dark enough for stars {}\n", skerry::to_iso(*day.nautical_dusk));
}
