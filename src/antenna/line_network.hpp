// An antenna cut into lines, nodes and lumped parts, and the voltages on them.
// Layer: antenna, inside. Sees core and the antenna headers.
#pragma once

#include <Eigen/Dense>
#include <complex>
#include <string>
#include <vector>

#include "assumed_current.hpp"

namespace skerry::antenna {

/// A stretch of one wire between two nodes.
struct Line {
  int from = 0, to = 0;
  Vec3 from_m{}, to_m{};
  double length_m = 0, radius_m = 0;
  double z0_ohm = 0;
  double phase_per_m = 0;  ///< rad/m, end effect and jacket included
  double loss_per_m = 0;   ///< of the conductor, ohm/m
};
struct Lump {
  int from = 0, to = 0;
  std::complex<double> ohm;
};

struct LineNetwork {
  std::vector<Line> lines;
  std::vector<Lump> lumps;
  int nodes = 0, feed_from = 0, feed_to = 0;
  std::vector<bool> grounded;  ///< per node
  std::vector<std::string> notes;
};

[[nodiscard]] LineNetwork build_network(const WireAntenna& antenna, const Ground& ground, double mhz,
                                        const LineAssumptions& assume);

/// Node voltages for 1 V across the feed and the feed's current, with `spread_ohm_per_m` added on all lines.
struct NetworkState {
  Eigen::VectorXcd volts;
  std::complex<double> feed_amps;
};
[[nodiscard]] NetworkState solve_network(const LineNetwork& network, const LineAssumptions& assume,
                                         double spread_ohm_per_m);

/// Current (from -> to) at evenly spaced nodes of a line.
[[nodiscard]] std::vector<std::complex<double>> line_currents(const Line& line, const NetworkState& state,
                                                              double spread_ohm_per_m, int count);

}  // namespace skerry::antenna
