// The circuit method's constants and tables, all in one place, so that a reader who holds the Recommendation
// can correct one number in one place. Everything here: ITU-R P.533-14 unless a line says otherwise, from
// memory. Layer: circuit (internal).
#pragma once

namespace skerry::circuit::method {

// Sections 3.6 and 10: a share of days against a distance from the median, measured in decile distances x:
// most - slope / (1 + x) above it, slope / (1 + x) - least below: 0.5 at 0, 0.9 or 0.1 at 1.
inline constexpr double share_most = 1.30, share_slope = 0.80, share_least = 0.30;

// Section 3.5.1.1: limits of the F2 layer's longest hop and of foF2/foE in its formula. Far outside the maps'
// range the formula can leave the Earth; the limits never bind for M(3000) in 2..4.5.
inline constexpr double least_dmax_km = 2000, most_dmax_km = 9000, least_dmax_ratio = 2.0;

// Section 5.1.2: mirror height of F2 modes. The first of the three cases holds up to this foF2/foE; least
// foF2/foE and f/foF2 of the fits; where two of the fits change their form (f/foF2), and the last df.
inline constexpr double low_ratio = 3.33, least_ratio = 1.8, least_below_critical = 0.1;
inline constexpr double f1_change = 1.71, g_change = 3.7, most_df = 0.65;
inline constexpr double highest_mirror_km = 800;
// Judgement: the first case and the others pass into each other over this much of foF2/foE to either side.
inline constexpr double ratio_breadth = 0.4;
// Judgement: the fits were made for real layers; a mirror under the E layer would be one of their artefacts.
inline constexpr double lowest_mirror_km = 110;

// Section 3.6 and P.1239 section 3.2: decile factors of the MUF. The P.1239 tables for F2 were not at hand;
// 0.85 and 1.15 are what an older edition of P.533 used for all F2 cases.
inline constexpr double e_lower_decile = 0.95, e_upper_decile = 1.05;
inline constexpr double f2_lower_decile = 0.85, f2_upper_decile = 1.15;

// Section 4 removes an F2 mode under 1.05 times the E layer's MUF. Measured: as a lid that takes 6 dB, rising
// over 0.3 of that MUF, it told hours that were heard from others better (docs/scoring.md, July 2017); the
// breadth is a judgement, without effect on that measure between 0.1 and 0.5.
inline constexpr double screening_top = 1.05, screening_breadth = 0.3, screening_db = 6;

// Section 5.2.2 and P.525: free space, this + 20 log f + 20 log p'.
inline constexpr double free_space_db = 32.45;
// Section 5.2.2: losses above the basic MUF, min(a sqrt(f/fb - 1) + step, most), recent editions. Judgement: a
// MUF is not known to better than 5 %, by hour or by place; the mean of the law over that much to either side.
struct AboveMuf {
  double slope_db, step_db, most_db;
};
inline constexpr double muf_breadth = 0.05;
inline constexpr AboveMuf e_above_muf{46, 5, 58};
inline constexpr AboveMuf f2_above_muf{36, 5, 60};
// Section 5.2.2: what no other term covers.
inline constexpr double other_losses_db = 8.72;
inline constexpr double fixed_bounce_db = 2.0;

// Lucas and Haydon 1966 / CCIR Report 252: absorption per hop = scale * I * sec(i100) / ((f + fH)^exponent +
// offset).
inline constexpr double absorption_scale = 677.2, absorption_exponent = 1.98, absorption_offset = 10.2;
inline constexpr double absorption_height_km = 100;
// Index by the Sun's zenith angle chi: (1 + per_sunspot R12) cos(share chi)^power, 0 from the last chi on.
inline constexpr double index_per_sunspot = 0.0037, index_zenith_share = 0.881, index_power = 1.3;
inline constexpr double index_last_zenith_deg = 102;
// Index by foE: least + exp(offset + per_mhz foE), from CCIR Report 252-2.
inline constexpr double index_foe_least = -0.04, index_foe_offset = -2.937, index_foe_per_mhz = 0.8445;
// Judgement: from this zenith angle on, in full after the breadth, the foE index is used when larger, so that
// the night keeps a little absorption.
inline constexpr double night_index_zenith_deg = 80, night_index_breadth_deg = 10;

// Section 3.5.1: mirror height that chooses the lowest order, h = min(1490/M3 - 176, 500); section 5.1.2: of
// the reflection, 1490/(M3 + dM) - 316.
inline constexpr double height_scale_km = 1490, order_height_offset_km = 176, height_offset_km = 316;
inline constexpr double order_height_limit_km = 500;
// Table 1: control points this far from either end, on paths longer than twice that.
inline constexpr double end_point_km = 1000, end_points_from_km = 2000;
inline constexpr double e_hop_limit_km = 2000, e_path_limit_km = 4000;
// Judgement: where the Recommendation ends a mode at a length (one hop of E, all E modes, the fewest hops of
// F2), it fades over so much to either side: its power by the square of what is left of the way, down to none.
inline constexpr double e_hop_fade_km = 250, e_path_fade_km = 300, order_fade_km = 250;
// Judgement: a ray under the horizon of a level sea bends over it and loses so much a degree; under the last it is
// cut. What rises above that horizon is an edge (edge.hpp).
inline constexpr double sunk_db_per_deg = 15, most_sunk_deg = 3;
inline constexpr int e_modes = 3, f2_modes = 6;
// Judgement: no path needs more hops than this for its lowest order (40 000 km in hops of 2200 km; a short
// path under a low layer in hops of 750 km).
inline constexpr int most_lowest_order = 18, most_hops = most_lowest_order + f2_modes;

// Sections 5.2 to 5.4: which method for which distance, where both are used (FarMethod::limits).
inline constexpr double hops_only_km = 7000, long_only_km = 9000;

// Section 5.3: the long-path method.
inline constexpr double long_hop_km = 4000, long_height_km = 300, long_loss_height_km = 90;
inline constexpr double long_residual_db = -0.17;  // Ly
inline constexpr double long_focus_limit_db = 15;  // Gap
// Free-space field of 1 kW e.i.r.p., 139.6 - 20 log p'; what the method takes from it between its limits;
// from a field to the power of an isotropic receiver, E - 20 log f - 107.2 (section 7).
inline constexpr double long_field_db = 139.6, long_field_offset_db = 36.4, field_to_power_db = 107.2;
inline constexpr double kilowatt_dbw = 30;
// Section 5.3.1: fg = 1.1 foF2 M(3000)F2, and K = 1.2 + W fg/fgn + X ((fgn/fg)^(1/3) - 1) + Y (fgm/fgn)^2.
inline constexpr double long_fg_factor = 1.1, long_k_base = 1.2;
// Section 5.3.2: fL = (5.3 I sqrt((1 + 0.009 R12) sum / (cos i90 ln(9.5e6/p'))) - fH) Aw; at night no lower
// than sqrt(D/3000) MHz. Once the day's limit has sunk to twice the night's, it decays for three hours: 2
// exp(-0.23 * 3) = 1.003 lands on the night's value.
inline constexpr double long_lower_factor = 5.3, long_per_sunspot = 0.009, long_slant_scale_km = 9.5e6;
inline constexpr double long_night_km = 3000, night_begins = 2, night_decay_per_h = 0.23;
inline constexpr int night_decay_h = 3;
/// Weights of the correction K along an east-west and a north-south path.
struct LimitShape {
  double w, x, y;
};
inline constexpr LimitShape east_west{0.1, 1.2, 0.6};
inline constexpr LimitShape north_south{0.2, 0.2, 0.4};

enum class Season { winter, equinox, summer };

// Section 5.4, Table 2: auroral and other losses in dB. Range class, season, geomagnetic latitude, local
// time.
// Judgement: an entry holds at the middle of its latitudes and hours, straight lines between, and the two
// classes pass into each other from 2000 to 3000 km.
inline constexpr double auroral_from_deg = 40, auroral_step_deg = 5;
inline constexpr double auroral_near_km = 2000, auroral_far_km = 3000;
/// Winter Dec-Feb, equinox Mar-May and Sep-Nov, summer Jun-Aug in the north; swapped in the south.
[[nodiscard]] Season auroral_season(unsigned month, bool south);
/// far_share 0..1 of the table for long paths; geomagnetic_lat_deg of either sign; solar_hour 0..24.
[[nodiscard]] double auroral_loss_db(double far_share, Season season, double geomagnetic_lat_deg,
                                     double solar_hour);

/// Section 3.7 and P.1240: operational over basic MUF of F2 modes, for up to 30 dBW e.i.r.p.
/// Seasons of this table: equinox = March, April, September, October.
[[nodiscard]] double operational_ratio(unsigned month, bool south, bool day);
// Optimum working frequency without a decile table: shares of the operational F2 MUF and of the E MUF.
inline constexpr double optimum_f2_share = 0.85, optimum_e_share = 0.95;

/// Section 5.3.2: month factor I of the lower limit; latitudes of the two ends.
[[nodiscard]] double long_month_factor(unsigned month, double lat_a_deg, double lat_b_deg);
/// Section 5.3.2: winter-anomaly factor Aw at the path's middle.
[[nodiscard]] double winter_factor(unsigned month, double lat_deg);

// Measured: 17 dB from one pair of stations to the next in July 2017 (docs/scoring.md); 11 dB of it among
// receivers and 8 dB among senders; this is left to the method.
inline constexpr double method_spread_db = 10;
// Judgement: days in ten that are printed as one.
inline constexpr double least_open_days = 0.5;

// Judgement: sporadic E counts in full from the lowest band on which its odds were held against reception, and
// not at all where the foEs asked for is under what ionosondes tell from noise (1.5 to 2 MHz).
inline constexpr double es_from_mhz = 7.5, es_whole_mhz = 14;

// At the magnetic equator by day ionosondes see the electrojet's irregularities, which scatter upwards and do not
// mirror an oblique ray (common practice). Measured: one way of 800 km there, July 2017, 20 to 15 m: heard on 0.06 to
// 0.25 of days where 0.42 to 0.51 were said. Judgement: the dips, degrees, between which it comes in.
inline constexpr double es_equator_least = 0.3, es_equator_deg = 10, es_whole_from_deg = 25;

// Section 8: deciles within the hour, dB.
inline constexpr double hour_upper_db = 5, hour_lower_db = 8;
struct Deciles {
  double upper_db, lower_db;
};
/// ITU-R P.842: day-to-day deciles of the signal against f / basic MUF; high_share 0..1 of its columns for
/// geomagnetic latitudes of 60 degrees and more. Judgement: over so much to either side one passes into the other.
[[nodiscard]] Deciles day_deciles(double mhz_over_muf, double high_share);
inline constexpr double high_latitude_deg = 60, high_latitude_breadth_deg = 2.5;

// Scope: the lowest frequency the method was made for.
inline constexpr double least_mhz = 2;

// Judgement: received power of a path with no mode at all, in the 7000 to 9000 km blend: far under any noise.
inline constexpr double nothing_dbw = -260;

// The ground wave. Field of 1 kW on a short vertical at 1 km over perfect ground (P.368: 300 mV/m), and that
// antenna's gain.
inline constexpr double ground_field_dbuv = 109.5424, short_vertical_dbi = 4.77;
// Judgement: least decile distance of its ratio; a noise that never varied would make an edge of the margin.
inline constexpr double least_ground_spread_db = 1;

// Judgement: rings around a place, how many places are looked at on each, and which share of land counts as
// inland.
inline constexpr double land_rings_km[] = {150, 300};
inline constexpr int land_places = 16;
inline constexpr double inland_share = 0.5;

// Disturbances. Kp from which the aurora and the fall of MUFs at middle latitudes are worth a warning.
// Judgement. Aurora's edge at midnight at Kp 0 and 9, geomagnetic degrees: the US Space Weather Prediction
// Center's public table. Edge of polar cap absorption in usual events, and of the
// auroral zone on disturbed days: common practice. All from memory.
inline constexpr double warn_from_kp = 4, fall_from_kp = 6, most_kp = 9;
inline constexpr double quiet_aurora_deg = 66.5, storm_aurora_deg = 48.1, polar_cap_deg = 60;

}  // namespace skerry::circuit::method
