// How long the batteries last.
// Layer: kit. Sees everything above it.
#pragma once

#include "skerry/kit/trip.hpp"

namespace skerry::kit {

/// Mean current, A: x [d I_tx + (1-d) I_rx] + (1-x) I_rx, x the share of time sending, d the mode's duty.
/// Common practice.
[[nodiscard]] double mean_current_a(const Rig& rig, const noise::Mode& mode);
/// Hours on one pack with its usable share (the whole of it: temperature and age are part of `usable`), in
/// watt-hours: the set is taken to draw the same power from packs of any voltage that suits it.
///   accuracy  10 %: linear finals draw the same current instead, and send less from a lower voltage
[[nodiscard]] double hours_on(const Battery& battery, const Rig& rig, double mean_current_a);
/// Energy of `hours` of operation, Wh, at the rig's supply voltage. hours >= 0.
[[nodiscard]] double energy_wh(const Rig& rig, double mean_current_a, double hours);
/// The pack's nominal voltage is 80 to 110 % of the rig's supply voltage. Judgement: 3 lithium-ion cells
/// (11.1 V) on a 13.8 V set are the least that works, 4 of them (14.8 V nominal, 16.8 V full) the most that
/// some sets bear: check the set's limits.
[[nodiscard]] bool suits(const Battery& battery, const Rig& rig);
/// Longest hours of operation between two chances to charge: the most in any one day of the trip. A session
/// belongs to the day it begins; hours of several sessions, at whatever sites, count once where they overlap.
/// No session: 24.
[[nodiscard]] double longest_day_hours(const Trip& trip);

}  // namespace skerry::kit
