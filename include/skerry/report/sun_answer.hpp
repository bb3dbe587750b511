// What `skerry sun` shows, gathered.
// Layer: report. Sees everything above it.
#pragma once

#include <optional>
#include <vector>

#include "skerry/geodesy/path.hpp"
#include "skerry/sun/events.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/localtime.hpp"

namespace skerry::report {

struct SunAnswer {
  GeoPoint at;
  skerry::Day date{};
  sun::Zone zone = sun::Zone::utc();
  sun::Day day;
  std::vector<sun::TwilightWindow> twilight;
  struct Far {
    GeoPoint to;
    sun::Zone zone = sun::Zone::utc();
    sun::Day day;
    geodesy::Path path;
    std::vector<sun::GreyWindow> grey;
  };
  std::optional<Far> far;
};

}  // namespace skerry::report
