#include "shapes.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Judgement: a wire steeper than this no longer slopes, it hangs along the pole.
constexpr double steepest_slope_deg = 60.0;
// Source: an inverted V wants 90 to 120 degrees between its legs (common practice): 45 each from the level.
constexpr double steepest_leg_deg = 45.0;
// Judgement: up to this share of a vertical may be bent over at the top: little current flows there.
constexpr double most_bent = 0.15;
// Judgement: a V or slope that rises less than this has no height to speak of.
constexpr double least_rise_m = 0.5;

}  // namespace

PathOrReason hang_vertical(const Hang& hang, const Support& support) {
  const double room = support.usable_height_m - hang.low_m;
  const double over = hang.length_m - room;
  if (over - hang.added_m > most_bent * (hang.length_m - hang.added_m)) {
    return Note{NoteKind::support_too_low, hang.length_m, hang.low_m, support.usable_height_m};
  }
  Path path;
  path.corners.push_back({0, 0, hang.low_m});
  if (over <= 0.01) {
    path.corners.push_back({0, 0, hang.low_m + hang.length_m});
  } else {
    path.corners.push_back({0, 0, support.usable_height_m});
    path.corners.push_back({over, 0, support.usable_height_m});
    path.notes.push_back({NoteKind::top_bent_over, over});
  }
  path.feed = hang.end_fed ? 0 : -1;
  return path;
}

PathOrReason hang_inverted_v(const Hang& hang, const Support& support) {
  const double apex = support.usable_height_m;
  const double leg = 0.5 * hang.length_m;
  if (apex < hang.low_m + least_rise_m) {
    return Note{NoteKind::v_too_flat, apex, hang.low_m};
  }
  const double drop = std::min(apex - hang.low_m, leg * sin_deg(steepest_leg_deg));
  const double out = std::sqrt(leg * leg - drop * drop);
  Path path;
  path.corners = {{-out, 0, apex - drop}, {0, 0, apex}, {out, 0, apex - drop}};
  path.feed = hang.end_fed ? 0 : 1;
  return path;
}

PathOrReason hang_sloper(const Hang& hang, const Support& support) {
  const double high = support.usable_height_m;
  if (high < hang.low_m + least_rise_m) {
    return Note{NoteKind::sloper_too_flat, high, hang.low_m};
  }
  const double drop = std::min(high - hang.low_m, hang.length_m * sin_deg(steepest_slope_deg));
  const double out = std::sqrt(hang.length_m * hang.length_m - drop * drop);
  Path path;
  path.corners = {{out, 0, high - drop}, {0, 0, high}};
  path.feed = hang.end_fed ? 0 : -1;
  return path;
}

PathOrReason hang_inverted_l(const Hang& hang, const Support& support) {
  if (!hang.end_fed) return Note{NoteKind::l_not_end_fed};
  const double up = support.usable_height_m - hang.low_m;
  if (up < least_rise_m) {
    return Note{NoteKind::l_too_low, up, hang.low_m};
  }
  const double rest = hang.length_m - up;
  if (rest <= most_bent * hang.length_m) return Note{NoteKind::l_too_short};
  const bool far = support.far_height_m > 0;
  const double end = far ? support.far_height_m : support.end_height_m;
  const double fall = std::clamp(support.usable_height_m - end, -rest * sin_deg(steepest_slope_deg),
                                 rest * sin_deg(steepest_slope_deg));
  Path path;
  path.corners = {{0, 0, hang.low_m},
                  {0, 0, support.usable_height_m},
                  {std::sqrt(rest * rest - fall * fall), 0, support.usable_height_m - fall}};
  path.notes.push_back({far ? NoteKind::up_then_across : NoteKind::up_then_down, up, rest});
  return path;
}

PathOrReason hang_horizontal(const Hang& hang, const Support& support) {
  if (support.far_height_m <= 0) return Note{NoteKind::no_far_support};
  const double rise = support.far_height_m - support.usable_height_m;
  if (std::abs(rise) > hang.length_m * sin_deg(steepest_leg_deg)) {
    return Note{NoteKind::too_steep, std::abs(rise), hang.length_m};
  }
  const double across = std::sqrt(hang.length_m * hang.length_m - rise * rise);
  Path path;
  path.corners = {{0, 0, support.usable_height_m}, {across, 0, support.far_height_m}};
  path.feed = hang.end_fed ? 0 : -1;
  return path;
}

}  // namespace skerry::antenna
