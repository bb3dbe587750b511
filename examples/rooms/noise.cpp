// What a signal must beat on 40 m at a quiet shore by night, and where that comes from.
#include "skerry/noise/noise.hpp"

#include <fmt/format.h>

#include "skerry/noise/bands.hpp"

int main() {
  skerry::noise::Conditions night;
  night.environment = *skerry::noise::parse_environment("quiet", {});
  night.lat_deg = -19.7;
  night.month = 2;
  night.solar_hour = 23;
  night.zenith_deg = 130;
  night.fof2_mhz = 5;
  const auto band = skerry::noise::find_band("40m", 1, {});
  const auto noise = skerry::noise::noise(night, band->mhz);
  fmt::print("{} MHz: man-made {:.0f} dB, atmospheric {:.0f} dB, all {:.0f} dB above kT0B\n", band->mhz,
             noise.man_made.fam_db, noise.atmospheric.fam_db, noise.total.fam_db);
}
