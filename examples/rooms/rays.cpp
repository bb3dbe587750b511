// Where rays of 14 MHz come down under one quiet sky.
#include <fmt/format.h>

#include "skerry/rays/ray.hpp"

int main() {
  const skerry::rays::Slice slice(skerry::rays::layers(8, 3, 3, 60));
  const auto fan = skerry::rays::fan(slice, 14, 5000);
  for (const double deg : {5.0, 15.0, 40.0}) {
    const auto ray = skerry::rays::trace(slice, 14, deg, 1, 5000);
    if (ray.ending == skerry::rays::Ending::landed)
      fmt::print("{:.0f} degrees: down at {:.0f} km, turned at {:.0f} km\n", deg, ray.ground_km, ray.apex_km);
    else
      fmt::print("{:.0f} degrees: through\n", deg);
  }
  if (fan.skip) fmt::print("nearer than {:.0f} km nothing comes down\n", fan.skip->km);
}
