// The circuit method's constants and tables, all in one place, so that a reader who holds the Recommendation
// can correct one number in one place. Everything here: ITU-R P.533-14 unless a line says otherwise, from
// memory. Layer: circuit (internal).
#pragma once

#include <array>

#include "skerry/circuit/circuit.hpp"

namespace skerry::circuit::method {

// Section 3.6 and P.1239 section 3.2: decile factors of the MUF. The P.1239 tables for F2 were not at hand;
// 0.85 and 1.15 are what an older edition of P.533 used for all F2 cases.
inline constexpr double e_lower_decile = 0.95, e_upper_decile = 1.05;
inline constexpr double f2_lower_decile = 0.85, f2_upper_decile = 1.15;

// Section 4: an F2 mode must pass the E layer at 1.05 foE.
inline constexpr double screening_factor = 1.05;

// Section 5.2.2: losses above the basic MUF, min(a sqrt(f/fb - 1) + step, most), recent editions.
struct AboveMuf {
  double slope_db, step_db, most_db;
};
inline constexpr AboveMuf e_above_muf{46, 5, 58};
inline constexpr AboveMuf f2_above_muf{36, 5, 60};
// Section 5.2.2: what no other term covers.
inline constexpr double other_losses_db = 8.72;
inline constexpr double fixed_bounce_db = 2.0;

// Lucas and Haydon 1966 / CCIR Report 252: absorption per hop = scale * I * sec(i100) / ((f + fH)^exponent +
// offset).
inline constexpr double absorption_scale = 677.2, absorption_exponent = 1.98, absorption_offset = 10.2;
inline constexpr double absorption_height_km = 100;
// Judgement: beyond this zenith angle the foE index is used when larger, so that the night keeps a little
// absorption.
inline constexpr double night_index_zenith_deg = 85;

// Section 3.5.1: mirror height that chooses the lowest order, h = min(1490/M3 - 176, 500).
inline constexpr double order_height_limit_km = 500;
inline constexpr double e_hop_limit_km = 2000, e_path_limit_km = 4000;
inline constexpr int e_modes = 3, f2_modes = 6;
// Judgement: no path needs more hops than this for its lowest order (9000 km in hops of 750 km).
inline constexpr int most_lowest_order = 12, most_hops = most_lowest_order + f2_modes - 1;

// Sections 5.2 to 5.4: which method for which distance.
inline constexpr double hops_only_km = 7000, long_only_km = 9000;

// Section 5.3: the long-path method.
inline constexpr double long_hop_km = 4000, long_height_km = 300, long_loss_height_km = 90;
inline constexpr double long_residual_db = -0.17;  // Ly
inline constexpr double long_focus_limit_db = 15;  // Gap
struct Direction {
  double w, x, y;
};
inline constexpr Direction east_west{0.1, 1.2, 0.6};
inline constexpr Direction north_south{0.2, 0.2, 0.4};

enum class Season { winter, equinox, summer };

// Section 5.4, Table 2: auroral and other losses in dB. Range class, season, geomagnetic latitude, local
// time.
inline constexpr double auroral_from_deg = 42.5, auroral_step_deg = 5;
inline constexpr double auroral_range_km = 2500;
/// Winter Dec-Feb, equinox Mar-May and Sep-Nov, summer Jun-Aug in the north; swapped in the south.
[[nodiscard]] Season auroral_season(unsigned month, bool south);
/// geomagnetic_lat_deg of either sign; solar_hour 0..24.
[[nodiscard]] double auroral_loss_db(bool far, Season season, double geomagnetic_lat_deg, double solar_hour);

/// Section 3.7 and P.1240: operational over basic MUF of F2 modes, for up to 30 dBW e.i.r.p.
/// Seasons of this table: equinox = March, April, September, October.
[[nodiscard]] double operational_ratio(unsigned month, bool south, bool day);
// Optimum working frequency without a decile table: shares of the operational F2 MUF and of the E MUF.
inline constexpr double optimum_f2_share = 0.85, optimum_e_share = 0.95;

/// Section 5.3.2: month factor I of the lower limit; latitudes of the two ends.
[[nodiscard]] double long_month_factor(unsigned month, double lat_a_deg, double lat_b_deg);
/// Section 5.3.2: winter-anomaly factor Aw at the path's middle.
[[nodiscard]] double winter_factor(unsigned month, double lat_deg);

// Section 8: deciles within the hour, dB.
inline constexpr double hour_upper_db = 5, hour_lower_db = 8;
struct Deciles {
  double upper_db, lower_db;
};
/// ITU-R P.842: day-to-day deciles of the signal against f / basic MUF.
[[nodiscard]] Deciles day_deciles(double mhz_over_muf, bool high_latitude);
inline constexpr double high_latitude_deg = 60;

}  // namespace skerry::circuit::method
