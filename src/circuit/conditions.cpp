#include "skerry/circuit/conditions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "skerry/ionosphere/field.hpp"

namespace skerry::circuit {

double auroral_edge_deg(double kp) {
  return 66.5 - (66.5 - 48.1) / 9 * std::clamp(kp, 0.0, 9.0);
}

std::vector<Warning> warnings(const geodesy::Path& path, const Disturbance& d, const bool (&lit)[24]) {
  double highest = 0;
  constexpr int steps = 40;
  for (int i = 0; i <= steps; ++i) {
    highest = std::max(highest,
                       std::abs(ionosphere::geomagnetic_lat_deg(geodesy::point_at(path, i / double{steps}))));
  }
  std::vector<Warning> out;
  const auto all_day = [&](Warning::Cause cause, std::string text) {
    Warning w{cause, std::move(text), {}};
    std::fill(std::begin(w.at_hour), std::end(w.at_hour), true);
    out.push_back(std::move(w));
  };
  if (d.kp >= 4 && highest >= auroral_edge_deg(d.kp)) {
    all_day(
        Warning::Cause::kp,
        fmt::format("Kp {:g}: the path crosses the auroral zone (reaches {:.0f} deg geomagnetic latitude, "
                    "aurora down to {:.0f}): "
                    "unreliable; try lower latitudes, higher bands by day, or wait a day or two",
                    d.kp, highest, auroral_edge_deg(d.kp)));
  } else if (d.kp >= 6) {
    all_day(Warning::Cause::kp, fmt::format("Kp {:g}: MUFs at middle latitudes may fall by a fifth or more "
                                            "for a day or two: plan one band lower",
                                            d.kp));
  }
  // 60 degrees: edge of the polar cap absorption zone in usual events. From memory, common practice.
  if (d.protons && highest >= 60) {
    all_day(Warning::Cause::protons,
            fmt::format(
                "solar protons: the path crosses the polar cap (reaches {:.0f} deg geomagnetic latitude): "
                "unreliable for hours to days, day side worst; use paths that stay below 60 deg",
                highest));
  }
  if (d.flare) {
    Warning w{Warning::Cause::flare,
              "flare: sunlit hours fade from the low bands upwards for minutes to two hours; wait, go up in "
              "frequency, or work the night side",
              {}};
    std::copy(std::begin(lit), std::end(lit), std::begin(w.at_hour));
    if (std::find(std::begin(lit), std::end(lit), true) != std::end(lit)) out.push_back(std::move(w));
  }
  return out;
}

}  // namespace skerry::circuit
