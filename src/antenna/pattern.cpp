#include "skerry/antenna/pattern.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>

#include "feed_chain.hpp"
#include "mom_absorb.hpp"
#include "mom_numbers.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

using mom::least_gain_dbi;
// Judgement: the accuracy promised of the power balance.
constexpr double largest_defect_w = 0.01;
// A tap on a coil steps up; it does not step down from far above (common practice).
constexpr double highest_tapped_ohm = 60.0;
constexpr int elevations = 91;
constexpr int azimuths = 36;

double gain_db(double ratio) {
  return ratio > 0 ? std::max(least_gain_dbi, to_db(ratio)) : least_gain_dbi;
}

double cell(const Pattern& p, int e, int a) {
  return static_cast<double>(nth(p.gain_dbi, e * azimuths + a % azimuths));
}

/// Elevation cell and the share of the next one.
std::pair<int, double> split(double elevation_deg) {
  assert(elevation_deg >= 0 && elevation_deg <= 90);
  const int e = std::min(elevations - 2, static_cast<int>(elevation_deg));
  return {e, elevation_deg - e};
}

}  // namespace

Pattern::Cut Pattern::cut(double azimuth_deg) const {
  const double turn = wrap_360(azimuth_deg) / azimuth_step_deg;
  const int a = static_cast<int>(turn);
  return {&nth(gain_dbi, a % azimuths), &nth(gain_dbi, (a + 1) % azimuths), turn - a};
}

double Pattern::Cut::at_dbi(double elevation_deg) const {
  const auto [e, up] = split(elevation_deg);
  const auto row = [&](int r) {
    return static_cast<double>(left[r * azimuths]) * (1.0 - share) +
           static_cast<double>(right[r * azimuths]) * share;
  };
  return row(e) * (1.0 - up) + row(e + 1) * up;
}

double Pattern::Cut::low_angle_dbi() const {
  double best = least_gain_dbi;
  for (int r = 0; r <= low_angle_deg; ++r) {
    best = std::max(best, static_cast<double>(left[r * azimuths]) * (1.0 - share) +
                              static_cast<double>(right[r * azimuths]) * share);
  }
  return best;
}

double Pattern::at_dbi(double elevation_deg, double azimuth_deg) const {
  return cut(azimuth_deg).at_dbi(elevation_deg);
}

double Pattern::low_angle_dbi(double azimuth_deg) const {
  return cut(azimuth_deg).low_angle_dbi();
}

double Pattern::best_dbi(double elevation_deg, double* azimuth_deg) const {
  const auto [e, up] = split(elevation_deg);
  double best = -1e9;
  for (int a = 0; a < azimuths; ++a) {
    const double gain = cell(*this, e, a) * (1.0 - up) + cell(*this, e + 1, a) * up;
    // Judgement: noise must not choose between mirrored azimuths, in a null least of all.
    if (gain > best + 1e-4) {
      best = gain;
      if (azimuth_deg != nullptr) *azimuth_deg = a * azimuth_step_deg;
    }
  }
  return best;
}

double Pattern::mean_dbi(double elevation_deg) const {
  const auto [e, up] = split(elevation_deg);
  double sum = 0;
  for (int a = 0; a < azimuths; ++a) {
    sum += from_db(cell(*this, e, a) * (1.0 - up) + cell(*this, e + 1, a) * up);
  }
  return to_db(sum / azimuths);
}

WireAntenna with_coil_q(WireAntenna antenna, double coil_q) {
  for (Load& load : antenna.loads) {
    if (load.coil_q <= 0) load.coil_q = coil_q;
  }
  return antenna;
}

Result<Radiated> radiate(const WireAntenna& antenna, const Ground& ground, double mhz, double coil_q,
                         std::span<const Foreground> foregrounds) {
  assert(mhz > 0);
  auto solution = solve(with_coil_q(antenna, coil_q), ground, mhz);
  if (!solution) return tl::unexpected(solution.error());
  return radiate(std::move(*solution), ground, foregrounds);
}

Radiated radiate(Solution solution, const Ground& ground, std::span<const Foreground> foregrounds) {
  Radiated out;
  out.ground = ground;
  out.solution = std::move(solution);
  std::vector<FarField> fields = far_fields(out.solution, ground, foregrounds);
  out.field = std::move(fields[0]);
  out.beyond.assign(std::make_move_iterator(fields.begin() + 1), std::make_move_iterator(fields.end()));
  out.radiated_w = out.field.radiated_w;
  out.ground_w = out.field.ground_loss_w;
  if (out.ground_w < -largest_defect_w) {
    out.solution.notes.push_back({NoteKind::power_not_closed, -out.ground_w});
  }
  return out;
}

namespace {
/// With the resistance in series with the feed.
FedThrough feed(const Solution& solution, const Chain& chain) {
  const auto feed_ohm = solution.feed_ohm + std::max(0.0, chain.ground_loss_ohm);
  return through_chain(feed_ohm, solution.mhz, chain,
                       chain.own_match && solution.tuned_ohm != std::complex<double>(0) &&
                           feed_ohm.real() <= highest_tapped_ohm);
}
}  // namespace

Matching matching_of(const Solution& solution, const Chain& chain) {
  const FedThrough fed = feed(solution, chain);
  return {fed.match, fed.match_why, fed.line_swr, fed.total_db};
}

Pattern pattern_of(const Radiated& radiated, const Chain& chain) {
  return pattern_of(radiated, chain, radiated.field);
}

Pattern pattern_of(const Radiated& radiated, const Chain& chain, const FarField& field) {
  const Solution& solution = radiated.solution;
  Pattern out;
  out.mhz = solution.mhz;
  // A resistance in series with the feed takes its share of every watt.
  const double series = std::max(0.0, chain.ground_loss_ohm);
  const double left = solution.feed_ohm.real() / (solution.feed_ohm.real() + series);
  out.feed_ohm = solution.feed_ohm + series;
  out.notes = solution.notes;
  if (solution.tuned_ohm.imag() > 0) {
    out.notes.push_back({NoteKind::coil_set, solution.tuned_ohm.imag() / (2 * std::numbers::pi * out.mhz)});
  } else if (solution.tuned_ohm.imag() < 0) {
    out.notes.push_back(
        {NoteKind::capacitor_set, -1e6 / (2 * std::numbers::pi * out.mhz * solution.tuned_ohm.imag())});
  }
  const double leaving_w = radiated.radiated_w * left;
  out.radiation_efficiency_db = gain_db(leaving_w);
  const double ground_w = std::max(0.0, radiated.ground_w * left + (1 - left));
  const double wire_w = solution.wire_loss_w * left;
  const double parts_w = solution.load_loss_w * left;
  const double lost_w = ground_w + wire_w + parts_w;
  // Shares in dB add up to the whole: each loss has its share of the lost watts.
  const auto share = [&](Loss::In where, double watts) {
    if (lost_w > 0 && watts > 1e-9)
      out.losses.push_back({where, -out.radiation_efficiency_db * watts / lost_w});
  };
  share(Loss::In::ground, ground_w);
  share(Loss::In::wire, wire_w);
  share(Loss::In::coil, parts_w);

  FedThrough fed = feed(solution, chain);
  out.losses.insert(out.losses.end(), fed.losses.begin(), fed.losses.end());
  if (fed.match_why) out.notes.push_back(*fed.match_why);
  out.match_why = fed.match_why;
  out.steps = std::move(fed.steps);
  out.swr = fed.swr;
  out.line_swr = fed.line_swr;
  out.match = fed.match;
  out.system_efficiency_db = out.radiation_efficiency_db - fed.total_db;

  const auto change = static_cast<float>(gain_db(left) - fed.total_db);
  out.gain_dbi.reserve(field.gain_dbi.size());
  for (const float g : field.gain_dbi) {
    out.gain_dbi.push_back(std::max(static_cast<float>(least_gain_dbi), g + change));
  }
  return out;
}

Result<Pattern> compute_pattern(const WireAntenna& antenna, const Ground& ground, double mhz,
                                const Chain& chain) {
  const auto radiated = radiate(antenna, ground, mhz, chain.coil_q);
  if (!radiated) return tl::unexpected(radiated.error());
  return pattern_of(*radiated, chain);
}

EnergyBalance energy_balance(const Radiated& radiated) {
  EnergyBalance out;
  out.radiated_w = radiated.radiated_w;
  out.wire_w = radiated.solution.wire_loss_w;
  out.parts_w = radiated.solution.load_loss_w;
  // Judgement: who asks for the workings waits some seconds, not minutes. Measured: wires of 20 m at 0.3 m take
  // a hundredth of it on 14 MHz.
  constexpr double most_work = 4e7;
  if (ground_absorption_work(radiated.solution, radiated.ground) > most_work) {
    out.ground_w = 1 - out.radiated_w - out.wire_w - out.parts_w;
    out.defect_w = std::nan("");
    return out;
  }
  out.ground_w = ground_absorption_w(radiated.solution, radiated.ground);
  out.defect_w = 1 - out.radiated_w - out.wire_w - out.parts_w - out.ground_w;
  return out;
}

std::vector<WireCurrent> current_summary(const Solution& solution) {
  std::vector<WireCurrent> out;
  for (const SegmentCurrent& c : solution.currents) {
    if (out.empty() || out.back().wire != c.wire) {
      out.emplace_back();
      out.back().wire = c.wire;
      out.back().from_a = out.back().largest_a = std::abs(c.from_a);
    }
    WireCurrent& w = out.back();
    w.length_m += std::hypot(c.to_m[0] - c.from_m[0], c.to_m[1] - c.from_m[1], c.to_m[2] - c.from_m[2]);
    w.to_a = std::abs(c.to_a);
    if (w.to_a > w.largest_a) {
      w.largest_a = w.to_a;
      w.largest_at_m = w.length_m;
    }
  }
  return out;
}

}  // namespace skerry::antenna
