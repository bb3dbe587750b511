// The ionosphere over one place.
#include "skerry/ionosphere/sky.hpp"

#include <fmt/format.h>

#include "common.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/ionosphere/sporadic_e.hpp"
#include "skerry/words/cautions.hpp"

namespace skerry::forms {

std::string sky_json(const ionosphere::Sky& sky, const ionosphere::SporadicE& es,
                     const ionosphere::Climate& climate, const std::optional<geodesy::Named>& named) {
  Json hours = Json::array();
  for (int h = 0; h < 24; ++h) {
    hours.push_back({{"utc_hour", h},
                     {"fof2_mhz", rounded(sky.fof2_mhz(0, h), 4)},
                     {"m3000f2", rounded(sky.m3000f2(0, h), 4)},
                     {"muf3000_mhz", rounded(sky.fof2_mhz(0, h) * sky.m3000f2(0, h), 4)},
                     {"foe_mhz", rounded(sky.foe_mhz(0, h), 4)},
                     {"modip_deg", rounded(sky.modip_deg(0), 3)},
                     {"gyro_mhz", rounded(sky.gyro300_mhz(0), 4)},
                     {"solar_zenith_deg", rounded(sky.zenith_deg(0, h), 3)},
                     {"foes_lower_mhz", rounded(es.lower_mhz(0, h), 4)},
                     {"foes_median_mhz", rounded(es.median_mhz(0, h), 4)},
                     {"foes_upper_mhz", rounded(es.upper_mhz(0, h), 4)}});
  }
  return dump(
      Json{{"schema", "skerry.ionosphere/1"},
           {"at", place_json(sky.places.front(), named)},
           {"day", to_iso(climate.day)},
           {"r12", rounded(climate.r12, 2)},
           {"maps", climate.maps == ionosphere::MapSet::ccir ? "ccir" : "ursi"},
           {"field_epoch", climate.field_epoch},
           {"measured_fof2", climate.measured.empty() ? Json(nullptr) : Json(words::measured_note(climate))},
           {"hours", std::move(hours)}});
}

std::string sky_csv(const ionosphere::Sky& sky, const ionosphere::SporadicE& es,
                    const ionosphere::Climate& climate) {
  std::string out =
      "utc_hour,fof2_mhz,m3000f2,muf3000_mhz,foe_mhz,modip_deg,gyro_mhz,solar_zenith_deg,foes_lower_mhz,foes_median_mhz,foes_upper_mhz";
  const auto note = words::measured_note(climate);
  const auto end = note.empty() ? std::string("\n") : "," + csv_field(note) + "\n";
  out += note.empty() ? "\n" : ",measured_fof2\n";
  for (int h = 0; h < 24; ++h) {
    out +=
        fmt::format("{},{:.4f},{:.4f},{:.4f},{:.4f},{:.3f},{:.4f},{:.3f},{:.4f},{:.4f},{:.4f}{}", h,
                    sky.fof2_mhz(0, h), sky.m3000f2(0, h), sky.fof2_mhz(0, h) * sky.m3000f2(0, h),
                    sky.foe_mhz(0, h), plus_zero(sky.modip_deg(0), 3), sky.gyro300_mhz(0),
                    sky.zenith_deg(0, h), es.lower_mhz(0, h), es.median_mhz(0, h), es.upper_mhz(0, h), end);
  }
  return out;
}

}  // namespace skerry::forms
