// The critical frequency over one place, every six hours.
#include <fmt/format.h>

#include <array>

#include "skerry/ionosphere/sky.hpp"

int main() {
  const std::array places{skerry::GeoPoint{-19.70, 63.43}};
  skerry::ionosphere::Climate climate;
  climate.day = *skerry::parse_day("2027-02-15", {});
  climate.r12 = skerry::ionosphere::R12(60);
  const auto sky = skerry::ionosphere::sky(places, climate);
  for (int hour = 0; hour < 24; hour += 6)
    fmt::print("{:02d} UTC foF2 {:.1f} MHz\n", hour, sky.fof2_mhz(0, hour));
}
