// How strong the E layer is under a given Sun, and how high the F2 layer stands.
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

/// Height of the F2 peak, km.
///   fof2_mhz, foe_mhz    > 0; their ratio counts as at least 1.7
///   m3000f2              1.5..4.5
///   r12                  0..300, limited to 160 as the maps are: beyond, the fit's own terms change sign
///   geomagnetic_lat_deg  -90..90; best the dip latitude atan(tan(dip)/2) of field() at 300 km, which a
///                        reference ionosphere uses; the dipole's latitude instead moves the result by up to
///                        31 km near the magnetic equator (R12 = 100, ratio 1.7; measured by the tests)
///   returns              about 200..500 km
///   accuracy             with dip latitude within 2.2 km of a reference ionosphere when the Sun is above 15
///                        deg, rms 3.4 km otherwise (there foE differs); of the fit itself some 20 km (from
///                        memory)
///   source               Bilitza, Sheikh and Eyfrig, Telecommunication Journal 46, 549-553, 1979
[[nodiscard]] double hmf2_km(double fof2_mhz, double foe_mhz, double m3000f2, double r12,
                             double geomagnetic_lat_deg);

}  // namespace skerry::ionosphere
