// When the Sun sets, and when the F2 layer above still sees it.
#include <fmt/format.h>

#include "skerry/sun/events.hpp"

int main() {
  const skerry::GeoPoint summit{-19.70, 63.43};
  const auto day = skerry::sun::day(summit, *skerry::parse_day("2027-02-14", {}), 398);
  fmt::print("sunset {}\n", skerry::to_iso(*day.set));
  fmt::print("the F2 layer loses the Sun at {:.1f} degrees from overhead\n",
             skerry::sun::layer_sunrise_zenith_deg(300, 100));
}
