// Wires trimmed to resonance over the ground they stand on.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "raising.hpp"
#include "skerry/antenna/solver.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::antenna {

namespace {

// Judgement: nobody cuts off or adds more; what needs more is built wrong.
constexpr double most_trim = 0.08;
// Bent over, and down again, a wire wants to be longer: who hangs one so cuts it so. Measured: a quarter wave on
// 7 MHz, half of it up, 1 m up at its end, over rock.
constexpr double most_trim_bent = 0.15;
double most_trim_of(Shape shape) {
  return shape == Shape::inverted_l ? most_trim_bent : most_trim;
}
// Judgement: and no more at once before the slope is known.
constexpr double first_trim = 0.06;
// Judgement: what a pocket meter in the field shows as "resonant".
constexpr double near_enough_ohm = 2.0;
constexpr double near_enough_share = 0.02;
constexpr int most_rounds = 6;

bool cut_to_band(const Design& design) {
  switch (design.kind) {
    case Kind::vertical_quarter:
    case Kind::dipole:
    case Kind::wire_beam:
    case Kind::end_fed_half_wave:
      return design.wire_m <= 0;
    case Kind::vertical_loaded:
    case Kind::end_fed_random:
    case Kind::small_loop:
    case Kind::whip:
      return false;
  }
  return false;
}

/// How much reactance a wire cut to the band gains for the whole of its length.
///   source  a wire as a line of 60 (ln(length/radius) - 1) ohm, a quarter wave long: Schelkunoff,
///           "Electromagnetic Waves", ch. 11 (from memory), X = -Z cot(k length). Measured: the factors, on
///           raised verticals and inverted Vs of 7 to 28 MHz.
double reactance_slope_ohm(const Design& design, const Raised& as_cut, double mhz) {
  const double radius_m = nth(as_cut.antenna.wires, as_cut.antenna.feed.wire - 1).radius_mm * 1e-3;
  const double line_ohm = 60 * (std::log(0.25 * wavelength_m(mhz) / radius_m) - 1);
  const double quarter_turn = 0.5 * std::numbers::pi;
  return quarter_turn * line_ohm * (design.kind == Kind::vertical_quarter ? 1.16 : 2 * 0.96);
}

struct Trial {
  Raised raised;
  /// Reactance in ohm, or susceptance over conductance at an end-fed wire: grows with length.
  double off = 0;
};

std::optional<Raised> raise_one(Design design, const Support& support, double mhz, Shape shape, double trim) {
  design.shapes = {shape};
  design.trim = trim;
  Raising raising = raise(design, support, mhz);
  if (raising.ways.empty()) return std::nullopt;
  return std::move(raising.ways.front());
}

Result<std::complex<double>> solved_feed_ohm(const WireAntenna& wires, const Ground& ground, double mhz) {
  const auto solution = solve(wires, ground, mhz);
  if (!solution) return tl::unexpected(solution.error());
  return solution->feed_ohm;
}

std::optional<Trial> attempt(const Design& design, const Support& support, const Ground& ground, double mhz,
                             Shape shape, double trim, const Meter& meter) {
  auto raised = raise_one(design, support, mhz, shape, trim);
  if (!raised) return std::nullopt;
  const auto feed_ohm = meter(raised->antenna, ground, mhz);
  if (!feed_ohm) return std::nullopt;
  const std::complex<double> z = *feed_ohm;
  return Trial{std::move(*raised), design.kind == Kind::end_fed_half_wave ? -z.imag() / z.real() : z.imag()};
}

/// The way at the length that resonates on the band; none where no length does, within most_trim of the rule.
std::optional<Raised> resonant(const Design& design, const Support& support, const Raised& as_cut,
                               const Ground& ground, double mhz, const Meter& meter) {
  const bool end_fed = design.kind == Kind::end_fed_half_wave;
  // One wire for several bands is trimmed on the lowest.
  const double trim_mhz = end_fed ? lowest_band_mhz(design, mhz) : mhz;
  const double enough = end_fed ? near_enough_share : near_enough_ohm;
  // For the first step only. Judgement: 20 half-widths for the whole length at a half wave's end.
  const double slope = end_fed ? 20.0 : reactance_slope_ohm(design, as_cut, mhz);
  double last_trim = 1;
  auto last = attempt(design, support, ground, trim_mhz, as_cut.shape, last_trim, meter);
  if (!last) return std::nullopt;
  double trim = last_trim - std::clamp(last->off / slope, -first_trim, first_trim);
  const auto found = [&] { return std::abs(last->off) <= enough; };
  for (int round = 0; !found(); ++round) {
    if (round == most_rounds || trim == last_trim) return std::nullopt;
    auto next = attempt(design, support, ground, trim_mhz, as_cut.shape, trim, meter);
    if (!next) return std::nullopt;
    const double change = (next->off - last->off) / (trim - last_trim);
    last = std::move(next);
    last_trim = trim;
    if (found()) break;
    if (!(change > 0)) return std::nullopt;
    const double most = most_trim_of(as_cut.shape);
    trim = std::clamp(trim - last->off / change, 1 - most, 1 + most);
  }
  auto out = trim_mhz == mhz ? std::optional<Raised>(std::move(last->raised))
                             : raise_one(design, support, mhz, as_cut.shape, last_trim);
  if (out && std::abs(last_trim - 1) >= 0.001) out->notes.push_back({NoteKind::trimmed, last_trim - 1});
  return out;
}

}  // namespace

Raised trimmed(const Design& design, const Support& support, const Raised& as_cut, const Ground& ground,
               double mhz, const Meter& meter) {
  if (!cut_to_band(design) || as_cut.needs_tuner) return as_cut;
  if (auto found = resonant(design, support, as_cut, ground, mhz, meter ? meter : solved_feed_ohm))
    return std::move(*found);
  Raised out = as_cut;
  out.notes.push_back({NoteKind::not_trimmed, most_trim_of(as_cut.shape)});
  return out;
}

WireAntenna without_mast(const Design& design, const Support& support, const Raised& raised,
                         const Ground& ground, double mhz, const Meter& meter) {
  Support apart = support;
  apart.conductive = false;
  const auto alone = raise_one(design, apart, mhz, raised.shape, design.trim);
  return alone ? trimmed(design, apart, *alone, ground, mhz, meter).antenna : without_mast(raised);
}

}  // namespace skerry::antenna
