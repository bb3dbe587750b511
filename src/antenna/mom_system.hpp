// The matrix of an antenna: assembled, with its metal and its parts, and solved for any of its ports.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <Eigen/Dense>
#include <complex>
#include <vector>

#include "mom_mesh.hpp"

namespace skerry::antenna::mom {

/// Impedance per metre and charge effect of a wire's own material.
struct WireMaterial {
  std::complex<double> series_ohm_per_m;  ///< skin effect
  std::complex<double> jacket;            ///< (1 - 1/eps) ln(b/a), 0 when bare
};
[[nodiscard]] WireMaterial wire_material(const Wire& wire, double mhz);

/// Internal impedance per metre of a round wire, ohm: (g/(2 pi a sigma)) I0(g a)/I1(g a), g = (1 + j)/depth.
///   source   Ramo, Whinnery and Van Duzer, "Fields and Waves in Communication Electronics", section 4.5
///            (from memory)
[[nodiscard]] std::complex<double> internal_ohm_per_m(double radius_m, double conductivity_s_per_m,
                                                      double mhz);

/// Impedance of a lumped part, ohm.
[[nodiscard]] std::complex<double> load_ohm(const Load& load, double mhz);

struct System {
  Mesh mesh;
  std::vector<WireMaterial> materials;  ///< by wire
  std::vector<std::complex<double>> loads_ohm;
  Eigen::MatrixXcd matrix;  ///< ohm, loads included
  Eigen::MatrixXd feeds;    ///< current through each feed per basis current, [basis][feed]
};

[[nodiscard]] Result<System> make_system(const WireAntenna& antenna, const std::vector<Feed>& feeds,
                                         const Ground& ground, double mhz, const SolveOptions& options);

/// The impedance x of a part of quality q (0: no loss) at port 2 that leaves port 1 without reactance:
/// Z11 - Z12^2/(Z22 + |x|/q + j x) real; of two such x of the wanted sign the one with less resistance at
/// port 1 (series resonance); 0 when there is none.
///   admittance  short-circuit admittances of the two ports
///   same_port   the part lies in series with the feed: x = -Im Z11
[[nodiscard]] std::complex<double> tuning_ohm(const Eigen::Matrix2cd& admittance, bool same_port,
                                              bool capacitor, double q);

/// Impedance matrix between several ports of one structure, ohm (inverse of the short-circuit admittances).
[[nodiscard]] Result<Eigen::MatrixXcd> port_impedances(const WireAntenna& antenna,
                                                       const std::vector<Feed>& feeds, const Ground& ground,
                                                       double mhz, const SolveOptions& options = {});

}  // namespace skerry::antenna::mom
