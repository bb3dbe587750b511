#include "assumed_current.hpp"

#include <algorithm>
#include <cmath>

#include "line_network.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

using Complex = std::complex<double>;

// Judgement: 40 steps to a wavelength; the straight lines between nodes then miss 0.2 % of the current, the
// same everywhere, which the power balance takes out.
constexpr double steps_per_wave = 40.0;
constexpr int least_steps = 4;
// Judgement: the spread resistance is settled when it moves by less than this share.
constexpr double settled = 0.01;
constexpr int most_passes = 6;

/// Sum of |I|^2 along a piece, ampere^2 metre (exact for the linear steps).
double square_metres(const CurrentPiece& piece, double length_m) {
  const std::size_t n = piece.amps.size() - 1;
  double sum = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const Complex a = piece.amps[i], b = piece.amps[i + 1];
    sum += (std::norm(a) + std::norm(b) + (a * std::conj(b)).real()) / 3.0;
  }
  return sum * length_m / static_cast<double>(n);
}

/// 73 ohm for a half wave with a sinusoidal current: R' lambda/4 = 73.
double nominal_spread(double mhz) {
  return 4.0 * 73.1 / (light_km_per_s / 1000.0 / mhz);
}

}  // namespace

AntennaCurrents assumed_currents(const WireAntenna& antenna, const Ground& ground, double mhz,
                                 const LineAssumptions& assume) {
  const LineNetwork net = build_network(antenna, ground, mhz, assume);
  const double wave_m = light_km_per_s / 1000.0 / mhz;
  AntennaCurrents out;
  out.notes = net.notes;
  out.grounded = std::find(net.grounded.begin(), net.grounded.end(), true) != net.grounded.end();
  const bool skip_near = out.grounded;

  double spread = nominal_spread(mhz);
  for (int pass = 0; pass < most_passes; ++pass) {
    const NetworkState state = solve_network(net, assume, spread);
    out.pieces.clear();
    out.wire_w = out.load_w = 0;
    double square = 0;
    for (const Line& line : net.lines) {
      const int steps =
          std::max(least_steps, static_cast<int>(std::ceil(line.length_m / wave_m * steps_per_wave)));
      CurrentPiece piece{line.from_m, line.to_m, line_currents(line, state, spread, steps + 1)};
      const double here = square_metres(piece, line.length_m);
      square += here;
      out.wire_w += 0.5 * line.loss_per_m * here;
      out.pieces.push_back(std::move(piece));
    }
    for (const Lump& lump : net.lumps) {
      out.load_w += 0.5 * (std::norm(state.volts(lump.from) - state.volts(lump.to)) / lump.ohm).real();
    }
    if (out.grounded) {
      out.ground_resistance_w = 0;
      for (int i = 0; i < net.nodes; ++i) {
        if (net.grounded[static_cast<std::size_t>(i)]) {
          out.ground_resistance_w += 0.5 * std::norm(state.volts(i)) / std::max(assume.ground_loss_ohm, 1e-6);
        }
      }
    } else {
      out.ground_resistance_w = 0.5 * assume.ground_loss_ohm * std::norm(state.feed_amps);
    }
    out.power = radiated_power(out.pieces, ground, mhz, skip_near);
    out.feed_ohm = 1.0 / state.feed_amps;
    const double next = 2.0 * (out.power.leaving_w() + out.power.ground_w()) / square;
    const bool done = std::abs(next - spread) < settled * spread;
    spread = next;
    if (done) break;
  }
  return out;
}

std::complex<double> nominal_feed_ohm(const WireAntenna& antenna, double mhz, const LineAssumptions& assume) {
  const Ground nowhere{GroundKind::free_space, 1, 0, "free"};
  const LineNetwork net = build_network(antenna, nowhere, mhz, assume);
  return 1.0 / solve_network(net, assume, nominal_spread(mhz)).feed_amps;
}

}  // namespace skerry::antenna
