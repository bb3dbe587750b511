// The ionosphere over one place: text, JSON and CSV.

#include <fmt/format.h>

#include <algorithm>

#include "fixed.hpp"
#include "json_common.hpp"
#include "skerry/ionosphere/measured.hpp"
#include "skerry/report/csv.hpp"
#include "skerry/report/json.hpp"
#include "skerry/report/pack.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

std::string sky_json(const ionosphere::Sky& sky, const ionosphere::Climate& climate) {
  Json hours = Json::array();
  for (int h = 0; h < 24; ++h) {
    hours.push_back({{"utc_hour", h},
                     {"fof2_mhz", rounded(sky.fof2_mhz(0, h), 4)},
                     {"m3000f2", rounded(sky.m3000f2(0, h), 4)},
                     {"muf3000_mhz", rounded(sky.fof2_mhz(0, h) * sky.m3000f2(0, h), 4)},
                     {"foe_mhz", rounded(sky.foe_mhz(0, h), 4)},
                     {"modip_deg", rounded(sky.modip_deg(0), 3)},
                     {"gyro_mhz", rounded(sky.gyro300_mhz(0), 4)},
                     {"solar_zenith_deg", rounded(sky.zenith_deg(0, h), 3)}});
  }
  return dump(Json{
      {"schema", "skerry.ionosphere/1"},
      {"at", place_json(sky.places.front())},
      {"day", to_iso(climate.day)},
      {"r12", rounded(climate.r12, 2)},
      {"maps", climate.maps == ionosphere::MapSet::ccir ? "ccir" : "ursi"},
      {"field_epoch", climate.field_epoch},
      {"measured_fof2", climate.measured.empty() ? Json(nullptr) : Json(ionosphere::measured_note(climate))},
      {"hours", std::move(hours)}});
}

std::string sky_csv(const ionosphere::Sky& sky, const ionosphere::Climate& climate) {
  std::string out = "utc_hour,fof2_mhz,m3000f2,muf3000_mhz,foe_mhz,modip_deg,gyro_mhz,solar_zenith_deg";
  const auto note = ionosphere::measured_note(climate);
  const auto end = note.empty() ? std::string("\n") : "," + csv_field(note) + "\n";
  out += note.empty() ? "\n" : ",measured_fof2\n";
  for (int h = 0; h < 24; ++h) {
    out += fmt::format("{},{:.4f},{:.4f},{:.4f},{:.4f},{:.3f},{:.4f},{:.3f}{}", h, sky.fof2_mhz(0, h),
                       sky.m3000f2(0, h), sky.fof2_mhz(0, h) * sky.m3000f2(0, h), sky.foe_mhz(0, h),
                       plus_zero(sky.modip_deg(0), 3), sky.gyro300_mhz(0), sky.zenith_deg(0, h), end);
  }
  return out;
}

std::string sky_text(const ionosphere::Sky& sky, const ionosphere::Climate& climate, const Style& style) {
  std::string out = fmt::format(
      "Ionosphere over {} ({}), monthly median for {}, R12 {:.0f}\nmodified dip {:.1f} deg, gyrofrequency "
      "{:.2f} MHz\n\n",
      geodesy::to_text(sky.places.front()), geodesy::to_locator(sky.places.front()), to_iso(climate.day),
      climate.r12, plus_zero(sky.modip_deg(0), 1), sky.gyro300_mhz(0));
  if (const auto note = ionosphere::measured_note(climate); !note.empty())
    out += wrapped(note, static_cast<std::size_t>(std::min(style.columns, 100)), "", "  ") + "\n";
  out += "  UTC   sun up   foF2  M(3000)  MUF(3000)   foE\n";
  out += "         deg      MHz              MHz      MHz\n";
  for (int h = 0; h < 24; ++h) {
    out += fmt::format("   {:02}   {:6.1f}  {:6.2f}   {:5.2f}    {:6.2f}   {:5.2f}\n", h,
                       plus_zero(90 - sky.zenith_deg(0, h), 1), sky.fof2_mhz(0, h), sky.m3000f2(0, h),
                       sky.fof2_mhz(0, h) * sky.m3000f2(0, h), sky.foe_mhz(0, h));
  }
  if (climate.measured.empty())
    out +=
        "\nA median: on half the days foF2 is higher, on half lower; nine days in ten lie within about 15 "
        "%.\n";
  return fitted(out, static_cast<std::size_t>(style.columns));
}

}  // namespace skerry::report
