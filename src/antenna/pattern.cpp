#include "skerry/antenna/pattern.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "assumed_current.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Judgement: a gain below this is nothing; keeps logarithms finite where the field vanishes.
constexpr double least_gain_dbi = -99.0;
constexpr int elevations = 91;
constexpr int azimuths = 36;

double gain_db(double ratio) {
  return ratio > 0 ? std::max(least_gain_dbi, to_db(ratio)) : least_gain_dbi;
}

double cell(const Pattern& p, int e, int a) {
  return static_cast<double>(p.gain_dbi[static_cast<std::size_t>(e * azimuths + a % azimuths)]);
}

/// Elevation cell and the share of the next one.
std::pair<int, double> split(double elevation_deg) {
  assert(elevation_deg >= 0 && elevation_deg <= 90);
  const int e = std::min(elevations - 2, static_cast<int>(elevation_deg));
  return {e, elevation_deg - e};
}

/// From rig to antenna: what each part takes, in dB, and what the rig sees.
struct ChainLoss {
  std::vector<Loss> losses;
  double total_db = 0, swr = 1;
};
ChainLoss through_chain(std::complex<double> feed_ohm, double mhz, const Chain& chain,
                        std::vector<std::string>& notes) {
  ChainLoss out;
  const auto lose = [&out](const char* name, double db) {
    if (db <= 0) return;
    out.losses.push_back({name, db});
    out.total_db += db;
  };
  std::complex<double> z(std::max(feed_ohm.real(), 1e-3), feed_ohm.imag());
  if (chain.transformer_ratio > 0 && chain.transformer_ratio != 1) {
    lose("transformer", chain.transformer_loss_db > 0 ? chain.transformer_loss_db
                                                      : transformer_loss_db(chain.transformer_ratio, mhz));
    z /= chain.transformer_ratio;
  } else {
    lose("transformer", chain.transformer_loss_db);
  }
  if (!chain.line.cable.empty() && chain.line.length_m > 0) {
    if (const auto cable = find_cable(chain.line.cable, {})) {
      const LineInput in = through_line(**cable, mhz, chain.line.length_m, z);
      lose("cable", in.loss_db);
      z = in.ohm;
    } else {
      assert(false && "cable ids are checked where they are read");
    }
  }
  out.swr = swr_of(z);
  if (chain.line.tuner) {
    lose("tuner", chain.line.tuner_loss_db >= 0 ? chain.line.tuner_loss_db : tuner_loss_db(z));
    if (out.swr <= tuner_largest_swr()) {
      out.swr = 1;
      return out;
    }
    notes.push_back(fmt::format("SWR {:.0f} at the tuner is beyond a small tuner's usual {:.0f}", out.swr,
                                tuner_largest_swr()));
  }
  const double rho = (out.swr - 1.0) / (out.swr + 1.0);
  lose("mismatch", -to_db(1.0 - rho * rho));
  return out;
}

}  // namespace

double Pattern::at_dbi(double elevation_deg, double azimuth_deg) const {
  const auto [e, up] = split(elevation_deg);
  const double turn = wrap_360(azimuth_deg) / azimuth_step_deg;
  const int a = static_cast<int>(turn);
  const double right = turn - a;
  const double low = cell(*this, e, a) * (1.0 - right) + cell(*this, e, a + 1) * right;
  const double high = cell(*this, e + 1, a) * (1.0 - right) + cell(*this, e + 1, a + 1) * right;
  return low * (1.0 - up) + high * up;
}

double Pattern::low_angle_dbi(double azimuth_deg) const {
  double best = least_gain_dbi;
  for (int e = 0; e <= 8; ++e) best = std::max(best, at_dbi(e, azimuth_deg));
  return best;
}

double Pattern::best_dbi(double elevation_deg, double* azimuth_deg) const {
  const auto [e, up] = split(elevation_deg);
  double best = -1e9;
  for (int a = 0; a < azimuths; ++a) {
    const double gain = cell(*this, e, a) * (1.0 - up) + cell(*this, e + 1, a) * up;
    if (gain > best + 1e-6) {  // float noise must not choose between mirrored azimuths
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

Pattern isotropic(double gain_dbi, double mhz) {
  Pattern p;
  p.mhz = mhz;
  p.gain_dbi.assign(elevations * azimuths, static_cast<float>(gain_dbi));
  p.feed_ohm = 50.0;
  return p;
}

Pattern compute_pattern(const WireAntenna& antenna, const Ground& ground, double mhz, const Chain& chain) {
  assert(mhz > 0);
  LineAssumptions assume;
  assume.coil_q = chain.coil_q;
  assume.ground_loss_ohm = std::max(0.0, chain.ground_loss_ohm);
  const AntennaCurrents currents = assumed_currents(antenna, ground, mhz, assume);

  Pattern out;
  out.mhz = mhz;
  out.feed_ohm = currents.feed_ohm;
  out.notes = currents.notes;
  out.notes.push_back("assumed standing-wave current; feed reactance approximate");
  const double ground_w = currents.power.ground_w() + currents.ground_resistance_w;
  const double lost_w = ground_w + currents.wire_w + currents.load_w;
  const double leaving_w = currents.power.leaving_w();
  const double input_w = leaving_w + lost_w;
  out.radiation_efficiency_db = gain_db(leaving_w / input_w);

  // Shares in dB add up to the whole: each loss has its share of the lost watts.
  const auto share = [&](const char* name, double watts) {
    if (lost_w > 0 && watts > 1e-9 * input_w) {
      out.losses.push_back({name, -out.radiation_efficiency_db * watts / lost_w});
    }
  };
  share("ground", ground_w);
  share("wire", currents.wire_w);
  share("coil", currents.load_w);
  if (currents.grounded && ground.kind == GroundKind::real) {
    out.notes.push_back(
        "wire ends in the ground: near-field earth loss is the stated ground resistance only");
  }

  const ChainLoss chain_loss = through_chain(currents.feed_ohm, mhz, chain, out.notes);
  out.losses.insert(out.losses.end(), chain_loss.losses.begin(), chain_loss.losses.end());
  out.swr = chain_loss.swr;
  out.system_efficiency_db = out.radiation_efficiency_db - chain_loss.total_db;

  const std::vector<double> intensity = radiation_intensity(currents.pieces, ground, mhz);
  const double scale = 4.0 * std::numbers::pi / input_w * from_db(-chain_loss.total_db);
  out.gain_dbi.reserve(intensity.size());
  for (const double u : intensity) out.gain_dbi.push_back(static_cast<float>(gain_db(u * scale)));
  return out;
}

}  // namespace skerry::antenna
