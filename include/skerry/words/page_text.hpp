// What stands on the page beside its pictures, as formatting texts: {} are numbers, names and signs.
// Layer: words. Sees nothing.
#pragma once

namespace skerry::words::caption {

// The answer.
inline constexpr auto in_practice = "in practice";
inline constexpr auto in_practice_long = "one antenna after the other";
inline constexpr auto likely = "likely contacts";
inline constexpr auto likely_long = "where somebody is awake";
inline constexpr auto by_the_sky = "by the sky alone";
inline constexpr auto in_bag = "in the bag";
inline constexpr auto of_limit = "of {} allowed";
inline constexpr auto no_limit = "no limit set";
inline constexpr auto same_kit = "same kit";
inline constexpr auto works_in = "of what you want works in {}";
inline constexpr auto works = "of what you want works";
inline constexpr auto is_proved = "proved";
inline constexpr auto not_proved = "best found";

// The beam.
inline constexpr auto beam_picture =
    "Reach against mass: {} kits that no other beats, from {} with {} to {} with {}";
inline constexpr auto beam_blocks =
    "{} packed things as blocks, as wide as they are heavy, {} together; {} "
    "left at home below in outline";
inline constexpr auto beam_limit = "limit {}";
inline constexpr auto beam_thing = "{}, {}: {}";
inline constexpr auto brings = "without it {} less";
inline constexpr auto goes_anyway = "goes anyway";
inline constexpr auto brings_under = "eases";
inline constexpr auto adds = "+{}";
inline constexpr auto adds_nothing = "0";
inline constexpr auto cannot_come = "cannot come";
inline constexpr auto at_home = "At home";
inline constexpr auto in_the_bag = "In the bag";

// The table of regions.
inline constexpr auto regions_label = "Best band and days in ten for each region and hour of your sessions";
inline constexpr auto region_head = "region";
inline constexpr auto reach_head = "reach";
inline constexpr auto from_here_clock = "local time";
/// Begins as the cell looks: days, band.
inline constexpr auto cell_label = "{} {}, days in ten at {}{}{}";
inline constexpr auto cell_closed = "{}, closed";
inline constexpr auto cell_long = ", the long way round";
inline constexpr auto cell_night = ", night there";
inline constexpr auto finding = "{} to {} local: {} on {}, {} of 10 days{}";

// The section.
inline constexpr auto hop_mirror = "%0 layer, mirror at %1 km";
inline constexpr auto d_layer = "D layer, lit";
inline constexpr auto e_layer = "E layer, lit";
inline constexpr auto stretched =
    "Heights are drawn {:.1f} times as large as distances; the curve of the Earth is taken out, so that a ray "
    "bends upwards.";
inline constexpr auto section_label = "Section along the way from {} to {}";
inline constexpr auto drawn_hops = ", drawn as equal hops";
// With the script's own marks: %0 band, %1 hour, %2 site, %3 region, %4 a number.
inline constexpr auto hop_closed_short =
    "%0 at %1 UTC, %2 to %3: closed. The highest usable frequency is %4 MHz";
inline constexpr auto below_band = ", below the band.";
inline constexpr auto too_weak = ", but what arrives is too weak.";
inline constexpr auto hop_no_setup_short = "%0 at %1 UTC, %2 to %3: nothing in the kit works this band here.";
inline constexpr auto hop_faint_short =
    "%0 at %1 UTC, %2 to %3: open on %4 days in ten; too weak to be taken apart.";
inline constexpr auto reach_line = "Now on %0, on half of the days or more than wanted: %1.";
inline constexpr auto reach_none = "nobody";
inline constexpr auto no_ledger =
    "No ledger: closed here at this hour, too weak, or nothing in the kit works the band.";
inline constexpr auto ledger_there = "they hear you";
inline constexpr auto ledger_back = "you hear them";
inline constexpr auto packed_of = "%0 of %1 packed.";
inline constexpr auto light_day = "daylight";
inline constexpr auto light_grey = "grey line";
inline constexpr auto light_night = "night";
inline constexpr auto on_air = "on the air";

/// A line of the ledger. Kinds: "level" and "ratio" with their sign, "loss" and "gain" only where not nought,
/// "days"; "sum" after it: set off. %0 is the bandwidth in Hz.
struct LedgerLine {
  const char* text;
  const char* text_of_long_method;  ///< empty: the same
  const char* there;
  const char* back;
  const char* kind;
};
inline constexpr LedgerLine ledger[] = {
    {"power sent, dBW", "", "there_power_dbw", "back_power_dbw", "level"},
    {"gain of the sending antenna", "", "there_from_dbi", "back_from_dbi", "ratio"},
    {"gain of the receiving antenna", "", "there_to_dbi", "back_to_dbi", "ratio"},
    {"distance (free space)", "", "free_space_db", "free_space_db", "loss"},
    {"absorption in the D layer", "between the two limit frequencies", "absorption_db", "absorption_db",
     "loss"},
    {"above the usable frequency", "", "above_muf_db", "above_muf_db", "loss"},
    {"bounces off the ground", "", "ground_db", "ground_db", "loss"},
    {"through the E layer below", "", "screening_db", "screening_db", "loss"},
    {"auroral zone", "", "auroral_db", "auroral_db", "loss"},
    {"over the edge of the skyline", "", "skyline_db", "skyline_db", "loss"},
    {"what the method adds", "", "other_db", "other_db", "loss"},
    {"focusing towards the antipode", "", "focusing_db", "focusing_db", "gain"},
    {"other modes, blended", "", "there_rest_db", "back_rest_db", "gain"},
    {"arrives, dBW", "", "there_received_dbw", "back_received_dbw", "level sum"},
    {"noise in %0 Hz, dBW", "", "there_noise_dbw", "back_noise_dbw", "level"},
    {"signal over noise", "", "there_snr_db", "back_snr_db", "ratio sum"},
    {"needed", "", "there_required_db", "back_required_db", "ratio"},
    {"margin", "", "there_margin_db", "back_margin_db", "ratio sum"},
    {"days in ten", "", "there_days", "back_days", "days sum"},
};

// %5 hops, %6 layer, %7 the long way round, %8 degrees, %9 equal hops.
inline constexpr auto hop_open =
    "%0 at %1 UTC, %2 to %3: %5 off the %6 layer%7, leaving %8\u00B0 above the horizon%9; %4 days in ten both ways";
inline constexpr auto hop_one = "1 hop";
inline constexpr auto hop_many = "%0 hops";
inline constexpr auto hop_es = ", by sporadic E alone %0";
inline constexpr auto hop_skip = ". On such days nothing comes down nearer than %0 km.";
inline constexpr auto hop_no_skip = ". On such days there is no skip zone.";
inline constexpr auto hop_end = ".";

// The antennas' plots.
inline constexpr auto pattern_best = "best bearing";
inline constexpr auto pattern_mean = "mean of all";
inline constexpr auto pattern_used = "used most: {}\u2013{}\u00B0";
inline constexpr auto pattern_beyond = "; {} of it above {}\u00B0";

// Lists.
inline constexpr auto bag_place = "hold";
inline constexpr auto cabin_place = "cabin";
inline constexpr auto worth_bands = "Bands";
inline constexpr auto worth_antennas = "Antennas";
inline constexpr auto worth_head = "alone";
inline constexpr auto worth_without = "without it";
inline constexpr auto case_head = "if";
inline constexpr auto case_kit = "this kit";
inline constexpr auto case_best = "the best then";
inline constexpr auto case_rival = "its rival";
inline constexpr auto as_expected = "as expected";
inline constexpr auto region_line_short = "Bearing {:.0f}&#176;, {:.0f} km.";

// What a change did.
inline constexpr auto change_with = "With {}: ";
inline constexpr auto change_without = "Without {}: ";
inline constexpr auto change_both = "{} instead of {}: ";
inline constexpr auto change_reach = "{} instead of {}";
inline constexpr auto change_same = "still {}";
inline constexpr auto change_gone = "; {} goes";
inline constexpr auto change_come = "; {} comes";
inline constexpr auto change_mass = ", {}";

}  // namespace skerry::words::caption
