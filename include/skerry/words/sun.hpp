// Sun and sky over a place in words; what `skerry sun` shows, gathered.
// Layer: words. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/ionosphere/climate.hpp"
#include "skerry/sun/events.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/localtime.hpp"
#include "skerry/words/style.hpp"

namespace skerry::ionosphere {
struct Sky;
struct SporadicE;
}  // namespace skerry::ionosphere

namespace skerry::words {

struct SunAnswer {
  GeoPoint at;
  std::optional<geodesy::Named> named;  ///< where a name was given
  skerry::Day date{};
  sun::Zone zone = sun::Zone::utc();
  sun::Day day;
  std::vector<sun::TwilightWindow> twilight;
  struct Far {
    GeoPoint to;
    std::optional<geodesy::Named> named;
    sun::Zone zone = sun::Zone::utc();
    sun::Day day;
    geodesy::Path path;
    std::vector<sun::GreyWindow> grey;
  };
  std::optional<Far> far;
};

[[nodiscard]] std::string sun_text(const SunAnswer& answer, const Style& style);
[[nodiscard]] std::string sky_text(const ionosphere::Sky& sky, const ionosphere::SporadicE& es,
                                   const ionosphere::Climate& climate, const Style& style);

}  // namespace skerry::words
