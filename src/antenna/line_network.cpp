#include "line_network.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2.0 * std::numbers::pi;

// Judgement: ends nearer than this are joined, and wire ends this near to z = 0 are in the ground.
constexpr double touch_m = 1e-3;
// Source: PVC jackets slow the wave by 2 to 4 % (common practice); the middle.
constexpr double jacket_velocity = 0.97;
// Judgement: a picture of lines has no meaning for fatter wires; keeps the logarithm positive.
constexpr double least_z0_ohm = 80.0;

double distance(const Vec3& a, const Vec3& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}
Vec3 between(const Vec3& a, const Vec3& b, double share) {
  return {a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])};
}

/// Resistance of a round wire with skin effect, ohm/m: current in a layer one skin depth thick.
/// Source: Ramo, Whinnery, Van Duzer, Fields and Waves, ch. 4 (from memory); within 5 % above a radius of 1.5
/// skin depths.
double conductor_ohm_per_m(const Wire& wire, double mhz) {
  const double mu0 = 4e-7 * std::numbers::pi;
  const double a = wire.radius_mm / 1000.0;
  const double skin = std::sqrt(1.0 / (std::numbers::pi * mhz * 1e6 * mu0 * wire.conductivity_s_per_m));
  const double layer = std::min(skin, a);
  return 1.0 / (wire.conductivity_s_per_m * std::numbers::pi * layer * (2.0 * a - layer));
}

Complex load_ohm(const Load& load, double mhz, double spare_q) {
  const double omega = two_pi * mhz * 1e6;
  const double xl = omega * load.inductance_uh * 1e-6;
  const double q = load.coil_q > 0 ? load.coil_q : spare_q;
  const Complex coil(q > 0 ? xl / q : 0.0, xl);
  if (load.capacitance_pf <= 0) return load.resistance_ohm + coil;
  const Complex condenser(0.0, -1.0 / (omega * load.capacitance_pf * 1e-12));
  if (!load.parallel) return load.resistance_ohm + coil + condenser;
  return load.resistance_ohm + coil * condenser / (coil + condenser);
}

/// Wire ends gathered into junctions.
struct Junctions {
  std::vector<Vec3> at;
  std::vector<int> wires;  // how many wire ends meet there
  int find(const Vec3& p) {
    for (std::size_t i = 0; i < at.size(); ++i) {
      if (distance(at[i], p) < touch_m) {
        ++wires[i];
        return static_cast<int>(i);
      }
    }
    at.push_back(p);
    wires.push_back(1);
    return static_cast<int>(at.size()) - 1;
  }
};

struct Insert {
  double at;
  int load;  // -1: the feed
};

/// Lengthens the last quarter wave of every open arm and gives each line the impedance of its whole arm.
void dress(LineNetwork& net, const Ground& ground, double mhz, const LineAssumptions& assume,
           const std::vector<const Wire*>& wire_of) {
  const double wave_m = light_km_per_s / 1000.0 / mhz;
  const double k = two_pi / wave_m;
  std::vector<std::vector<int>> at(static_cast<std::size_t>(net.nodes));
  std::vector<bool> stop(static_cast<std::size_t>(net.nodes), false);
  for (std::size_t i = 0; i < net.lines.size(); ++i) {
    at[static_cast<std::size_t>(net.lines[i].from)].push_back(static_cast<int>(i));
    at[static_cast<std::size_t>(net.lines[i].to)].push_back(static_cast<int>(i));
  }
  for (const Lump& lump : net.lumps)
    stop[static_cast<std::size_t>(lump.from)] = stop[static_cast<std::size_t>(lump.to)] = true;
  stop[static_cast<std::size_t>(net.feed_from)] = stop[static_cast<std::size_t>(net.feed_to)] = true;
  std::vector<double> arm_m, stretch(net.lines.size(), 0.0);
  for (const Line& line : net.lines) arm_m.push_back(line.length_m);

  for (int node = 0; node < net.nodes; ++node) {
    const auto start = static_cast<std::size_t>(node);
    if (at[start].size() != 1 || stop[start] || net.grounded[start]) continue;
    std::vector<int> arm;
    int here = node, line = at[start].front();
    double length = 0;
    const double zone_m = 0.25 * wave_m;
    while (true) {
      const Line& l = net.lines[static_cast<std::size_t>(line)];
      const double inside = std::clamp(zone_m - length, 0.0, l.length_m);
      stretch[static_cast<std::size_t>(line)] += assume.end_effect * inside / l.length_m;
      arm.push_back(line);
      length += l.length_m;
      here = l.from == here ? l.to : l.from;
      const auto h = static_cast<std::size_t>(here);
      if (stop[h] || net.grounded[h] || at[h].size() != 2) break;
      line = at[h][0] == line ? at[h][1] : at[h][0];
      if (line == arm.front()) break;
    }
    for (const int l : arm)
      arm_m[static_cast<std::size_t>(l)] = std::max(arm_m[static_cast<std::size_t>(l)], length);
  }
  for (std::size_t i = 0; i < net.lines.size(); ++i) {
    Line& line = net.lines[i];
    line.z0_ohm = 60.0 * (std::log(2.0 * arm_m[i] / line.radius_m) - 1.0);
    if (ground.kind != GroundKind::free_space) {
      // Near the ground a wire is half of a two-wire line with its image: 60 ln(2h/a).
      const double height = 0.5 * (line.from_m[2] + line.to_m[2]);
      line.z0_ohm = std::min(line.z0_ohm, 60.0 * std::log(2.0 * std::max(height, 0.02) / line.radius_m));
    }
    line.z0_ohm = std::max(line.z0_ohm, least_z0_ohm);
    line.phase_per_m = k * (1.0 + stretch[i]) / (wire_of[i]->insulated ? jacket_velocity : 1.0);
  }
}

struct Constants {
  Complex gamma, z;
};
Constants constants(const Line& line, double spread_ohm_per_m) {
  // Series impedance R' + j b z0, shunt j b/z0.
  const Complex series(spread_ohm_per_m + line.loss_per_m, line.phase_per_m * line.z0_ohm);
  const Complex shunt(0.0, line.phase_per_m / line.z0_ohm);
  return {std::sqrt(series * shunt), std::sqrt(series / shunt)};
}

}  // namespace

LineNetwork build_network(const WireAntenna& antenna, const Ground& ground, double mhz,
                          const LineAssumptions& assume) {
  assert(!antenna.wires.empty() && antenna.feed.wire >= 1 &&
         antenna.feed.wire <= static_cast<int>(antenna.wires.size()));
  LineNetwork net;
  Junctions junctions;
  std::vector<std::pair<int, int>> ends;
  for (const Wire& wire : antenna.wires) {
    const int from = junctions.find(wire.from_m);
    ends.emplace_back(from, junctions.find(wire.to_m));
  }
  net.nodes = static_cast<int>(junctions.at.size());
  for (const Vec3& p : junctions.at) {
    net.grounded.push_back(ground.kind != GroundKind::free_space && p[2] < touch_m);
  }
  const double wave_m = light_km_per_s / 1000.0 / mhz;
  std::vector<const Wire*> wire_of;
  for (std::size_t w = 0; w < antenna.wires.size(); ++w) {
    const Wire& wire = antenna.wires[w];
    const double length = distance(wire.from_m, wire.to_m);
    assert(length > 0 && wire.radius_mm > 0);
    std::vector<Insert> inserts;
    for (std::size_t i = 0; i < antenna.loads.size(); ++i) {
      if (antenna.loads[i].wire == static_cast<int>(w) + 1) {
        inserts.push_back({std::clamp(antenna.loads[i].at, 0.0, 1.0), static_cast<int>(i)});
      }
    }
    const auto alone = [&](int node) {
      return junctions.wires[static_cast<std::size_t>(node)] == 1 &&
             !net.grounded[static_cast<std::size_t>(node)];
    };
    if (antenna.feed.wire == static_cast<int>(w) + 1) {
      double at = std::clamp(antenna.feed.at, 0.0, 1.0);
      // Nothing to push against: the cable's outside does it in practice, for about that length.
      const double inward = std::min(0.05 * wave_m / length, 0.5);
      if ((at < inward && alone(ends[w].first)) || (at > 1.0 - inward && alone(ends[w].second))) {
        const double moved = at < 0.5 ? inward : 1.0 - inward;
        if (std::abs(moved - at) > 0.25 * inward) {
          net.notes.push_back(
              "fed at a wire's very end with no counterpoise drawn: 0.05 wavelengths of the wire taken as "
              "one");
          at = moved;
        }
      }
      inserts.push_back({at, -1});
    }
    // At one place the feed comes before the loads: a base coil is part of the antenna, not of the
    // counterpoise.
    std::stable_sort(inserts.begin(), inserts.end(), [](const Insert& a, const Insert& b) {
      return a.at != b.at ? a.at < b.at : a.load < b.load;
    });
    int here = ends[w].first;
    double done = 0;
    const auto run_line = [&](double upto, int to) {
      net.lines.push_back({here, to, between(wire.from_m, wire.to_m, done),
                           between(wire.from_m, wire.to_m, upto), (upto - done) * length,
                           wire.radius_mm / 1000.0, 0, 0, conductor_ohm_per_m(wire, mhz)});
      wire_of.push_back(&wire);
      here = to;
      done = upto;
    };
    const auto new_node = [&net] {
      net.grounded.push_back(false);
      return net.nodes++;
    };
    for (std::size_t i = 0; i < inserts.size(); ++i) {
      if ((inserts[i].at - done) * length > touch_m) {
        const bool at_end = (1.0 - inserts[i].at) * length <= touch_m;
        run_line(at_end ? 1.0 : inserts[i].at, new_node());
      }
      const bool last = i + 1 == inserts.size() && (1.0 - done) * length <= touch_m;
      const int next = last ? ends[w].second : new_node();
      if (inserts[i].load < 0) {
        net.feed_from = here;
        net.feed_to = next;
      } else {
        net.lumps.push_back(
            {here, next,
             load_ohm(antenna.loads[static_cast<std::size_t>(inserts[i].load)], mhz, assume.coil_q)});
      }
      here = next;
    }
    if ((1.0 - done) * length > touch_m) run_line(1.0, ends[w].second);
  }
  dress(net, ground, mhz, assume, wire_of);
  return net;
}

NetworkState solve_network(const LineNetwork& net, const LineAssumptions& assume, double spread_ohm_per_m) {
  // Modified nodal analysis; the last unknown is the feed's current (Ho, Ruehli, Brennan 1975).
  const int n = net.nodes;
  Eigen::MatrixXcd a = Eigen::MatrixXcd::Zero(n + 1, n + 1);
  Eigen::VectorXcd rhs = Eigen::VectorXcd::Zero(n + 1);
  const auto join = [&a](int p, int q, Complex self, Complex mutual) {
    a(p, p) += self;
    a(q, q) += self;
    a(p, q) += mutual;
    a(q, p) += mutual;
  };
  for (const Line& line : net.lines) {
    const Constants c = constants(line, spread_ohm_per_m);
    const Complex gl = c.gamma * line.length_m;
    const Complex s = 1.0 / (c.z * std::sinh(gl));
    join(line.from, line.to, std::cosh(gl) * s, -s);
  }
  for (const Lump& lump : net.lumps) {
    const Complex y = 1.0 / (std::abs(lump.ohm) > 1e-9 ? lump.ohm : Complex(1e-9));
    join(lump.from, lump.to, y, -y);
  }
  bool any_grounded = false;
  for (int i = 0; i < n; ++i) {
    if (!net.grounded[static_cast<std::size_t>(i)]) continue;
    any_grounded = true;
    a(i, i) += 1.0 / std::max(assume.ground_loss_ohm, 1e-6);
  }
  // V(to) - V(from) + R I = 1: the source pushes current out of `to`.
  a(net.feed_to, n) -= 1.0;
  a(net.feed_from, n) += 1.0;
  a(n, net.feed_to) = 1.0;
  a(n, net.feed_from) = -1.0;
  a(n, n) = any_grounded ? 0.0 : assume.ground_loss_ohm;
  rhs(n) = 1.0;
  NetworkState out;
  const Eigen::VectorXcd x = a.partialPivLu().solve(rhs);
  out.volts = x.head(n);
  out.feed_amps = x(n);
  return out;
}

std::vector<Complex> line_currents(const Line& line, const NetworkState& state, double spread_ohm_per_m,
                                   int count) {
  const Constants c = constants(line, spread_ohm_per_m);
  const Complex v1 = state.volts(line.from), v2 = state.volts(line.to);
  const Complex base = 1.0 / (c.z * std::sinh(c.gamma * line.length_m));
  std::vector<Complex> out;
  out.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    const double s = line.length_m * i / (count - 1);
    out.push_back((v1 * std::cosh(c.gamma * (line.length_m - s)) - v2 * std::cosh(c.gamma * s)) * base);
  }
  return out;
}

}  // namespace skerry::antenna
