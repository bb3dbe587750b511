#include "skerry/words/cautions.hpp"

#include <fmt/format.h>

namespace skerry::words {

std::string warning_text(const circuit::Warning& w) {
  using Cause = circuit::Warning::Cause;
  switch (w.cause) {
    case Cause::aurora:
      return fmt::format(
          "Kp {:g}: the path crosses the auroral zone (reaches {:.0f} deg geomagnetic latitude, aurora down "
          "to {:.0f}): unreliable; try lower latitudes, higher bands by day, or wait a day or two",
          w.kp, w.highest_deg, w.edge_deg);
    case Cause::low_muf:
      return fmt::format(
          "Kp {:g}: MUFs at middle latitudes may fall by a fifth or more for a day or two: plan one band "
          "lower",
          w.kp);
    case Cause::protons:
      return fmt::format(
          "solar protons: the path crosses the polar cap (reaches {:.0f} deg geomagnetic latitude): "
          "unreliable for hours to days, day side worst; use paths that stay below 60 deg",
          w.highest_deg);
    case Cause::flare:
      break;
  }
  return "flare: sunlit hours fade from the low bands upwards for minutes to two hours; wait, go up in "
         "frequency, or work the night side";
}

}  // namespace skerry::words
