// A pattern of one gain at all angles.
#pragma once

#include "skerry/antenna/pattern.hpp"

inline skerry::antenna::Pattern isotropic(double gain_dbi, double mhz) {
  using skerry::antenna::Pattern;
  Pattern p;
  p.mhz = mhz;
  p.gain_dbi.assign(Pattern::elevations * Pattern::azimuths, static_cast<float>(gain_dbi));
  p.feed_ohm = 50.0;
  return p;
}
