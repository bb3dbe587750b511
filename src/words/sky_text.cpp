// The ionosphere over one place.
#include <fmt/format.h>

#include <algorithm>

#include "skerry/core/decimal.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/ionosphere/sporadic_e.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/sun.hpp"

namespace skerry::words {

std::string sky_text(const ionosphere::Sky& sky, const ionosphere::SporadicE& es,
                     const ionosphere::Climate& climate, const Style& style) {
  std::string out = fmt::format(
      "Ionosphere over {} ({}), monthly median for {}, R12 {:.0f}\n"
      "modified dip {:.1f} deg, gyrofrequency {:.2f} MHz\n\n",
      geodesy::to_text(sky.places.front()), geodesy::to_locator(sky.places.front()), to_iso(climate.day),
      climate.r12, plus_zero(sky.modip_deg(0), 1), sky.gyro300_mhz(0));
  if (const auto note = measured_note(climate); !note.empty())
    out += wrapped(note, style.width(100), "", "  ") + "\n";
  out += "  UTC   sun up   foF2  M(3000)  MUF(3000)   foE    foEs\n";
  out += "         deg      MHz              MHz      MHz  9 to 1 days in ten\n";
  for (int h = 0; h < 24; ++h) {
    out += fmt::format("   {:02}   {:6.1f}  {:6.2f}   {:5.2f}    {:6.2f}   {:5.2f}  {:5.2f} to {:5.2f}\n", h,
                       plus_zero(90 - sky.zenith_deg(0, h), 1), sky.fof2_mhz(0, h), sky.m3000f2(0, h),
                       sky.fof2_mhz(0, h) * sky.m3000f2(0, h), sky.foe_mhz(0, h), es.lower_mhz(0, h),
                       es.upper_mhz(0, h));
  }
  if (climate.measured.empty())
    out +=
        "\nA median: on half the days foF2 is higher, on half lower; nine days in ten lie within about 15 "
        "%.\n";
  out += wrapped(
      "foEs, sporadic E: reached on nine days in ten, and on one. By day the ordinary E layer is in it.",
      style.width(100), "", "");
  return on_screen(out, style);
}

}  // namespace skerry::words
