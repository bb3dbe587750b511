#include "skerry/antenna/mast.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "raising.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Judgement: what holds a wire by its middle or its end hangs on a cord of so much.
constexpr double cord_m = 0.05;
// Judgement: a travel pole of 3 cm in the middle.
constexpr double mast_radius_mm = 15;
// Judgement: it stands on stone or a spike and touches no wet ground.
constexpr double mast_foot_m = 0.02;
// Source: along the fibre of carbon-fibre tube 1e4 to 5e4 S/m (from memory); a metal mast is better, and
// changes little else.
constexpr double mast_conductivity_s_per_m = 2e4;
// Judgement: radials and counterpoise pass by its skin.
constexpr double clear_of_skin = 1.1;

// Judgement: what differs from one evening to the next and from the maker's figure, or cannot be seen: the
// foot on the ground or on a stone, lacquer in a joint that lets current through or not (sections of 1.2 m),
// sections not drawn out to the end, the thin top above the wire.
constexpr double raised_foot_m = 0.3;
constexpr double section_m = 1.2;
// Wider than the mast is thick: nearer ends would not count as apart.
constexpr double joint_gap_m = 0.04;
constexpr double shorter = 0.90;
constexpr double longer = 1.15;
// Taped, the feed hangs on the mast, and its return (radials, counterpoise) may touch it where it is bare. Judgement:
// the axes are then no further apart.
constexpr double touching_m = 0.04;
// Judgement: 20 degrees stands for the angles that matter.
constexpr double elevation_step_deg = 10;
constexpr std::size_t told_row = 2;

/// How far the axis of the mast is from a wire taped to it: their radii and a jacket as thick as the wire's.
double taped_m(const Design& design) {
  return (mast_radius_mm + 2 * design.wire_radius_mm) / 1000.0;
}

double distance_of_mast(const Design& design, Shape shape, const Support& support) {
  if (!runs_along_support(shape)) return cord_m;
  return std::max(taped_m(design), support.standoff_m.value_or(0));
}

WireAntenna with_mast(const Raised& raised, const std::vector<std::array<double, 2>>& pieces) {
  WireAntenna out = raised.antenna;
  Wire mast = nth(out.wires, raised.mast_wire - 1);
  const auto piece = [&mast](const std::array<double, 2>& from_to) {
    Wire w = mast;
    w.from_m[2] = from_to[0];
    w.to_m[2] = from_to[1];
    return w;
  };
  nth(out.wires, raised.mast_wire - 1) = piece(pieces.front());
  for (std::size_t i = 1; i < pieces.size(); ++i) out.wires.push_back(piece(pieces[i]));
  return out;
}

/// From foot to top in so many equal pieces, insulated from each other.
std::vector<std::array<double, 2>> cut_in(int pieces, double foot_m, double top_m) {
  std::vector<std::array<double, 2>> out;
  const double each = (top_m - foot_m) / pieces;
  for (int i = 0; i < pieces; ++i)
    out.push_back({foot_m + i * each, foot_m + (i + 1) * each - (i + 1 < pieces ? joint_gap_m : 0)});
  return out;
}

}  // namespace

bool runs_along_support(Shape shape) {
  return shape == Shape::vertical || shape == Shape::inverted_l;
}

void add_mast(const Design& design, const Support& support, Raised& out) {
  const bool on_radials = design.kind == Kind::vertical_quarter || design.kind == Kind::vertical_loaded;
  double away = distance_of_mast(design, out.shape, support);
  // Between the first two radials, which leave at 90 degrees of azimuth and counter-clockwise from there; a
  // hat's wires leave north and south.
  double aside = on_radials && design.radials > 1 ? 180.0 / design.radials : 90.0;
  if (design.hat_m > 0) aside = std::min(aside, 45.0);
  if (aside < 90) away = std::max(away, clear_of_skin * mast_radius_mm / 1000.0 / sin_deg(aside));
  Wire mast;
  mast.from_m = {away * cos_deg(aside), away * sin_deg(aside), mast_foot_m};
  if (aside == 90) mast.from_m[0] = 0;
  mast.to_m = {mast.from_m[0], mast.from_m[1], support.usable_height_m};
  mast.radius_mm = mast_radius_mm;
  mast.conductivity_s_per_m = mast_conductivity_s_per_m;
  out.antenna.wires.push_back(mast);
  out.mast_wire = static_cast<int>(out.antenna.wires.size());
  out.notes.push_back({NoteKind::mast_beside, away});
}

WireAntenna without_mast(const Raised& raised) {
  WireAntenna out = raised.antenna;
  if (raised.mast_wire > 0) out.wires.erase(out.wires.begin() + (raised.mast_wire - 1));
  return out;
}

std::vector<WireAntenna> possible_masts(const Raised& raised) {
  assert(raised.mast_wire > 0);
  const Wire& mast = nth(raised.antenna.wires, raised.mast_wire - 1);
  const double foot = mast.from_m[2], top = mast.to_m[2];
  std::vector<WireAntenna> out{raised.antenna};
  const Wire& fed = nth(raised.antenna.wires, raised.antenna.feed.wire - 1);
  const Vec3 beside{mast.from_m[0], mast.from_m[1], fed.from_m[2]};
  if (raised.antenna.feed.at == 0 &&
      std::hypot(beside[0] - fed.from_m[0], beside[1] - fed.from_m[1]) < touching_m && beside[2] > foot &&
      beside[2] < top) {
    out.push_back(raised.antenna);
    Wire touch = fed;
    touch.to_m = beside;
    touch.insulated = false;
    out.back().wires.push_back(touch);
  }
  for (const double share : {longer, shorter}) out.push_back(with_mast(raised, {{foot, share * top}}));
  for (const int pieces : {2, static_cast<int>(std::ceil((top - foot) / section_m))}) {
    if (top - foot > pieces * 10 * joint_gap_m) out.push_back(with_mast(raised, cut_in(pieces, foot, top)));
  }
  if (top > 2 * raised_foot_m) out.push_back(with_mast(raised, {{raised_foot_m, top}}));
  return out;
}

bool MastSway::settled(bool tuned) const {
  return gain_db <= most_gain_sway_db && (tuned || largest_swr - least_swr <= most_swr_sway);
}

std::optional<Note> unsettled(const MastSway& sway, bool tuned) {
  if (sway.settled(tuned)) return std::nullopt;
  return Note{NoteKind::mast_unsettled, sway.gain_db, sway.least_swr, sway.largest_swr};
}

std::optional<MastSway> mast_sway(const Raised& raised, const Ground& ground, const Chain& chain, bool tuned,
                                  const Solver& solve) {
  MastSway out;
  double least_db = 0, most_db = 0;
  bool first = true;
  for (const auto& masts : possible_masts(raised)) {
    const auto solution = solve(masts);
    if (!solution) return std::nullopt;
    const auto match = matching_of(**solution, chain);
    const auto field = far_field(**solution, ground, elevation_step_deg, 30);
    const std::size_t azimuths = static_cast<std::size_t>(std::lround(360 / field.azimuth_step_deg));
    double sum = 0;
    for (std::size_t a = 0; a < azimuths; ++a)
      sum += from_db(static_cast<double>(field.gain_dbi[told_row * azimuths + a]));
    const double db = to_db(sum / static_cast<double>(azimuths)) - match.lost_db;
    least_db = first ? db : std::min(least_db, db);
    most_db = first ? db : std::max(most_db, db);
    out.least_swr = first ? match.line_swr : std::min(out.least_swr, match.line_swr);
    out.largest_swr = std::max(out.largest_swr, match.line_swr);
    first = false;
    out.gain_db = most_db - least_db;
    if (!out.settled(tuned)) break;
  }
  return out;
}

}  // namespace skerry::antenna
