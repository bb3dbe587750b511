// A pattern of one gain at all angles, on the grid that Pattern describes.
#pragma once

#include "skerry/antenna/pattern.hpp"

inline skerry::antenna::Pattern isotropic(double gain_dbi, double mhz) {
  skerry::antenna::Pattern p;
  p.mhz = mhz;
  p.gain_dbi.assign(91UL * 36UL, static_cast<float>(gain_dbi));
  p.feed_ohm = 50.0;
  return p;
}
