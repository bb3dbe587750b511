// How strong the E layer is under a given Sun.
// Layer: ionosphere. Sees core only.
#pragma once

namespace skerry::ionosphere {

/// Monthly median critical frequency of the E layer, MHz.
///   lat_deg             -90..90, geographic
///   declination_deg     of the Sun, -23.5..23.5
///   zenith_deg          of the Sun, 0..180
///   f107                12-month smoothed solar flux, > 0, usually from 63.7 (no upper limit)
///   hours_after_sunset  hours since the Sun passed zenith angle 90 going down; negative: no sunset to count
///                       from (polar night). Without effect by day (zenith < 90).
///   returns             never less than the night floor (0.39 MHz at flux 66, 0.51 at 150)
///   accuracy            formula of medians; a day scatters by some 5 % (common practice)
///   limits              jumps at |lat| = 12 (exponent), up to 0.13 MHz, and at 32 (two branches), up to
///                       0.005 MHz (measured by the tests), as the source does
///   source              ITU-R P.1239 section 4 (Muggleton 1975): foE^4 = A B C D; parts from memory
[[nodiscard]] double foe_mhz(double lat_deg, double declination_deg, double zenith_deg, double f107,
                             double hours_after_sunset);

}  // namespace skerry::ionosphere
