// What a rig sends and draws at the voltage of a pack, and how long packs last.
// Layer: kit. Sees everything above it.
#pragma once

#include <array>

#include "skerry/kit/trip.hpp"

namespace skerry::kit {

/// The nominal voltages of packs that a rig takes, V: as told, else 80 to 110 % of the voltage at which its figures
/// hold. Judgement: 3 lithium-ion cells (11.1 V) on a 13.8 V set are the least that works, 4 of them (14.8 V nominal,
/// 16.8 V full) the most that some sets bear: the set's manual decides.
[[nodiscard]] std::array<double, 2> volts_taken(const Rig& rig);
/// The pack's nominal voltage is one that the rig takes.
[[nodiscard]] bool suits(const Battery& battery, const Rig& rig);
/// What the rig sends on a supply of so many volts, W. From Rig::volts upwards power_w; below, the amplitude falls
/// evenly down to low_power_w at the least voltage. Where that is not told: a linear final by the square of the voltage
/// (the same load takes a smaller swing; common practice), behind a regulator all of it.
[[nodiscard]] double output_w(const Rig& rig, double volts);
/// The different outputs on the packs of the trip that suit the rig, W, the most first; none where none does.
[[nodiscard]] std::vector<double> outputs_w(const Trip& trip, const Rig& rig);
/// Mean current at that voltage, A: x [d I_tx + (1-d) I_rx] + (1-x) I_rx, x the share of time sending, d the mode's duty.
/// Common practice. At another voltage than Rig::volts
///   linear     I_rx is the same and what the final draws of I_tx goes with the amplitude that it sends (class B: the
///              mean of a half wave goes with its peak; textbooks, from memory): hours go by ampere-hours, and what
///              is over the voltage that is needed becomes heat
///   switching  the same power, less what is not sent: hours go by watt-hours
/// Judgement: a set of which nothing is told is taken as switching: what it needs is energy.
[[nodiscard]] double mean_current_a(const Rig& rig, const noise::Mode& mode, double volts);
[[nodiscard]] double mean_current_a(const Rig& rig, const noise::Mode& mode);  ///< at Rig::volts
/// Hours on one pack with its usable share (the whole of it: temperature and age are part of `usable`), at the mean
/// current that is drawn at the pack's voltage: usable watt-hours over watts drawn. mean_current_a > 0.
[[nodiscard]] double hours_on(const Battery& battery, double mean_current_a);
/// Energy of `hours` of operation, Wh, at the voltage where the rig's figures hold. hours >= 0.
[[nodiscard]] double energy_wh(const Rig& rig, double mean_current_a, double hours);

/// Of a panel's rated power in full sun, what gets into the packs. Judgement: flat on the ground or a bag, warm, through
/// a controller and a charge; common practice says 60 to 80 %.
inline constexpr double panel_yield = 0.7;
/// What a panel puts into the packs on a day of the trip, Wh; 0 for what is none, or where charging is not by the Sun.
[[nodiscard]] double sun_wh(const Trip& trip, const Item& item);
/// Hours on each of so many days (>= 1), when packs begin full, last for `lasts_hours`, and gain `sun_hours` between
/// one day and the next: no more than they hold, and their first charge spread evenly:
/// min(lasts, (lasts + (days - 1) sun) / days). It can be kept every day, whenever the Sun shines.
[[nodiscard]] double hours_a_day(double lasts_hours, int days, double sun_hours);

/// Longest hours of operation between two chances to charge: the most in any one day of the trip. A session
/// belongs to the day it begins; hours of several sessions, at whatever sites, count once where they overlap.
/// No session: 24.
[[nodiscard]] double longest_day_hours(const Trip& trip);

}  // namespace skerry::kit
