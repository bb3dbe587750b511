#include "mom_system.hpp"

#include <cmath>
#include <numbers>

#include "mom_kernel.hpp"
#include "mom_numbers.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::antenna::mom {

namespace {

/// A usual PVC jacket. Judgement: as thick as the conductor's radius (hook-up and antenna wire: 0.5 mm copper
/// in a 1 mm radius jacket), relative permittivity 3, loss tangent 0.02 (plasticised PVC on HF: 2.9 to 3.5
/// and 0.01 to 0.05, from memory). It shortens a half wave by about 2.5 %, inside the 2 to 4 % of common
/// practice.
constexpr double jacket_ratio = 2.0;
constexpr double jacket_eps = 3.0;
constexpr double jacket_loss_tangent = 0.02;

std::shared_ptr<const SommerfeldTable> table_for(const Ground& ground, double mhz, const Room& room) {
  return ground_table(complex_permittivity(ground, mhz), wave_number(mhz), room.width_m, room.low_m,
                      room.high_m);
}

struct Filler {
  const std::vector<Segment>& segments;
  std::vector<Scaled> scaled;
  const Ground& ground;
  std::shared_ptr<const SommerfeldTable> table;

  Filler(const System& system, const Ground& ground_in, double mhz, const Room& room)
      : segments(system.mesh.segments), ground(ground_in) {
    const double k0 = wave_number(mhz);
    scaled.reserve(segments.size());
    for (const Segment& s : segments) {
      const auto in_k0 = [k0](const Vec3& v) { return Vec3{v[0] * k0, v[1] * k0, v[2] * k0}; };
      scaled.push_back({in_k0(s.from), s.along, s.length * k0, s.radius * k0});
    }
    if (ground.kind == GroundKind::real) table = table_for(ground, mhz, room);
  }

  [[nodiscard]] Block by_ground(std::size_t p, std::size_t q) const {
    if (table) return ground_block(scaled[p], scaled[q], *table);
    if (ground.kind == GroundKind::perfect) return image_block(scaled[p], scaled[q]);
    return {};
  }
  [[nodiscard]] bool level(std::size_t p) const { return std::abs(segments[p].along[2]) < 1e-12; }
};

void scatter(System& system, std::size_t p, std::size_t q, const Block& block) {
  for (std::size_t a = 0; a < 2; ++a) {
    for (std::size_t b = 0; b < 2; ++b) {
      for (const Share& i : system.mesh.shares[p][a]) {
        for (const Share& j : system.mesh.shares[q][b]) {
          const Complex value = block[2 * a + b] * (i.sign * j.sign);
          system.matrix(i.basis, j.basis) += value;
          if (p != q) system.matrix(j.basis, i.basis) += value;
        }
      }
    }
  }
}

void fill(System& system, const Ground& ground, double mhz, const Room& room) {
  const Filler filler(system, ground, mhz, room);
  const auto& segments = system.mesh.segments;
  const std::size_t count = segments.size();
  system.matrix = Eigen::MatrixXcd::Zero(system.mesh.unknowns, system.mesh.unknowns);
  // In one piece all segments are alike: through the air only their distance counts, and by the ground too
  // when level.
  std::vector<Block> direct;
  std::vector<Block> reflected;
  for (std::size_t p = 0; p < count; ++p) {
    if (p == 0 || segments[p].piece != segments[p - 1].piece) {
      direct.clear();
      reflected.clear();
      for (std::size_t q = p; q < count && segments[q].piece == segments[p].piece; ++q) {
        direct.push_back(direct_block(filler.scaled[p], filler.scaled[q]));
        if (filler.level(p)) reflected.push_back(filler.by_ground(p, q));
      }
    }
    for (std::size_t q = p; q < count; ++q) {
      const bool same = segments[q].piece == segments[p].piece;
      Block block = same ? direct[q - p] : direct_block(filler.scaled[p], filler.scaled[q]);
      const Block by_ground = same && !reflected.empty() ? reflected[q - p] : filler.by_ground(p, q);
      for (std::size_t k = 0; k < 4; ++k) block[k] += by_ground[k];
      scatter(system, p, q, block);
    }
  }
  system.matrix *= Complex(0, eta0_ohm / (4 * pi));
}

void add_materials(System& system, double mhz) {
  const double k0 = wave_number(mhz);
  for (std::size_t p = 0; p < system.mesh.segments.size(); ++p) {
    const Segment& s = system.mesh.segments[p];
    const WireMaterial& m = nth(system.materials, s.wire);
    const Complex series = m.series_ohm_per_m * s.length;
    // The jacket weakens the charge's own field inside it: less voltage for the same charge.
    // Source: Richmond and Newman, "Dielectric coated wire antennas", Radio Science 11(1), 1976.
    const Complex charge = Complex(0, eta0_ohm / (2 * pi * k0 * s.length)) * m.jacket;
    const Shape shape(k0 * s.length);
    const Complex same = series * shape.same() + charge * shape.slope_same();
    const Complex other = series * shape.other() - charge * shape.slope_other();
    const Block block{same, other, other, same};
    scatter(system, p, p, block);
  }
}

Eigen::VectorXd port_vector(const Mesh& mesh, const Port& port) {
  Eigen::VectorXd v = Eigen::VectorXd::Zero(mesh.unknowns);
  for (const Share& share : nth(mesh.shares, port.segment)[static_cast<std::size_t>(port.end)]) {
    v[share.basis] += share.sign;
  }
  return v;
}

}  // namespace

std::complex<double> internal_ohm_per_m(double radius_m, double conductivity_s_per_m, double mhz) {
  // Source: SI 2019, magnetic constant 4 pi 1e-7 to ten digits.
  const double mu0 = 4e-7 * pi;
  const double depth_m = 1 / std::sqrt(pi * mhz * 1e6 * mu0 * conductivity_s_per_m);
  const Complex g = Complex(1, 1) / depth_m;
  const Complex z = g * radius_m;
  Complex ratio;  // I0(z)/I1(z)
  if (std::abs(z) > 30) {
    // Source: quotient of Abramowitz and Stegun 9.7.1 for orders 0 and 1, to the third power of 1/z.
    ratio = 1.0 + 1.0 / (2.0 * z) + 3.0 / (8.0 * z * z) + 3.0 / (8.0 * z * z * z);
  } else {
    // I0/I1 = 2/z + 1/(4/z + 1/(6/z + ...)). Source: Abramowitz and Stegun 9.6.26 as a continued fraction.
    Complex tail = 0;
    for (int k = 80; k >= 1; --k) tail = 2.0 * k / z + (k == 80 ? Complex(0) : 1.0 / tail);
    ratio = tail;
  }
  return g / (2 * pi * radius_m * conductivity_s_per_m) * ratio;
}

WireMaterial wire_material(const Wire& wire, double mhz) {
  WireMaterial m;
  m.series_ohm_per_m = internal_ohm_per_m(wire.radius_mm * 1e-3, wire.conductivity_s_per_m, mhz);
  if (wire.insulated) {
    const Complex eps = jacket_eps * Complex(1, -jacket_loss_tangent);
    m.jacket = (1.0 - 1.0 / eps) * std::log(jacket_ratio);
  }
  return m;
}

std::complex<double> load_ohm(const Load& load, double mhz) {
  const double w = 2 * pi * mhz * 1e6;
  const double reactance = w * load.inductance_uh * 1e-6;
  const Complex coil(load.coil_q > 0 ? reactance / load.coil_q : 0.0, reactance);
  if (load.capacitance_pf <= 0) return load.resistance_ohm + coil;
  const Complex capacitor(0, -1 / (w * load.capacitance_pf * 1e-12));
  if (load.parallel) return load.resistance_ohm + coil * capacitor / (coil + capacitor);
  return load.resistance_ohm + coil + capacitor;
}

Result<System> make_system(const WireAntenna& antenna, const std::vector<Feed>& feeds, const Ground& ground,
                           double mhz, const SolveOptions& options) {
  auto mesh = make_mesh(antenna, feeds, ground, mhz, options);
  if (!mesh) return tl::unexpected(mesh.error());
  System system;
  system.mesh = std::move(*mesh);
  for (const Wire& wire : antenna.wires) system.materials.push_back(wire_material(wire, mhz));
  fill(system, ground, mhz, room_of(antenna));
  add_materials(system, mhz);
  for (std::size_t l = 0; l < antenna.loads.size(); ++l) {
    system.loads_ohm.push_back(load_ohm(antenna.loads[l], mhz));
    const Eigen::VectorXd v = port_vector(system.mesh, system.mesh.loads[l]);
    system.matrix += system.loads_ohm.back() * (v * v.transpose());
  }
  system.feeds = Eigen::MatrixXd::Zero(system.mesh.unknowns, static_cast<Eigen::Index>(feeds.size()));
  for (std::size_t f = 0; f < feeds.size(); ++f) {
    system.feeds.col(static_cast<Eigen::Index>(f)) = port_vector(system.mesh, system.mesh.feeds[f]);
  }
  return system;
}

std::complex<double> tuning_ohm(const Eigen::Matrix2cd& admittance, bool same_port, bool capacitor,
                                double q) {
  const double sign = capacitor ? -1.0 : 1.0;
  const auto part = [q](double x) { return Complex(q > 0 ? std::abs(x) / q : 0.0, x); };
  if (same_port) {
    const double x = -(1.0 / admittance(0, 0)).imag();
    return x * sign > 0 ? part(x) : Complex(0);
  }
  const Eigen::Matrix2cd z = admittance.inverse();
  const double x11 = z(0, 0).imag();
  const Complex w = z(0, 1) * z(1, 0);
  // Im(w/(a + j b)) = X11 is a quadratic in b = X22 + x; a = R22 + |x|/q changes little and is followed.
  double x = 0;
  for (int round = 0; round < 30; ++round) {
    const double a = z(1, 1).real() + part(x).real();
    const double c = x11 * a * a - w.imag() * a;
    const double root2 = w.real() * w.real() - 4 * x11 * c;
    if (root2 < 0) return 0;
    const double s = -0.5 * (w.real() + std::copysign(std::sqrt(root2), w.real()));
    double best = 0;
    double least = 0;
    for (const double b : {x11 != 0 ? s / x11 : 0.0, s != 0 ? c / s : 0.0}) {
      const double found = b - z(1, 1).imag();
      const double resistance = (z(0, 0) - w / Complex(a, b)).real();
      if (found * sign <= 0 || (best != 0 && resistance >= least)) continue;
      best = found;
      least = resistance;
    }
    if (best == 0) return 0;
    if (std::abs(best - x) < 1e-9 * std::abs(best)) return part(best);
    x = best;
  }
  return part(x);
}

Result<Eigen::MatrixXcd> port_impedances(const WireAntenna& antenna, const std::vector<Feed>& feeds,
                                         const Ground& ground, double mhz, const SolveOptions& options) {
  auto system = make_system(antenna, feeds, ground, mhz, options);
  if (!system) return tl::unexpected(system.error());
  const Eigen::MatrixXcd drive = system->feeds.cast<Complex>();
  const Eigen::MatrixXcd admittance = drive.transpose() * system->matrix.partialPivLu().solve(drive);
  return Eigen::MatrixXcd(admittance.inverse());
}

}  // namespace skerry::antenna::mom

namespace skerry::antenna {

using mom::Complex;

Room room_of(const WireAntenna& antenna) {
  Vec3 least{1e300, 1e300, 1e300};
  Vec3 most{-1e300, -1e300, -1e300};
  for (const Wire& wire : antenna.wires) {
    for (std::size_t k = 0; k < 3; ++k) {
      least[k] = std::min({least[k], wire.from_m[k], wire.to_m[k]});
      most[k] = std::max({most[k], wire.from_m[k], wire.to_m[k]});
    }
  }
  if (antenna.wires.empty()) return {};
  return {std::hypot(most[0] - least[0], most[1] - least[1]), least[2], most[2]};
}

void prepare_ground(const Ground& ground, double mhz, const Room& room) {
  if (ground.kind == GroundKind::real) (void)mom::table_for(ground, mhz, room);
}

Result<Solution> solve(const WireAntenna& antenna, const Ground& ground, double mhz,
                       const SolveOptions& options) {
  std::vector<Feed> ports{antenna.feed};
  if (antenna.tuned) ports.push_back({antenna.tuned->wire, antenna.tuned->at});
  auto system = mom::make_system(antenna, ports, ground, mhz, options);
  if (!system) return tl::unexpected(system.error());
  const mom::Mesh& mesh = system->mesh;
  Solution out;
  out.mhz = mhz;
  out.notes = mesh.notes;
  out.unknowns = mesh.unknowns;
  const Eigen::VectorXcd drive = system->feeds.col(0).cast<Complex>();
  Eigen::VectorXcd current;
  if (antenna.tuned) {
    // Two ports solved at once; the part at the second is a source of minus its own voltage.
    const Eigen::MatrixXcd drives = system->feeds.cast<Complex>();
    const Eigen::MatrixXcd currents = system->matrix.partialPivLu().solve(drives);
    const Eigen::Matrix2cd y = drives.transpose() * currents;
    const bool same = (system->feeds.col(0) - system->feeds.col(1)).norm() < 1e-12;
    out.tuned_ohm = mom::tuning_ohm(y, same, antenna.tuned->capacitor, antenna.tuned->q);
    if (out.tuned_ohm == Complex(0)) {
      out.notes.push_back(
          {antenna.tuned->capacitor ? NoteKind::no_capacitor_tunes : NoteKind::no_coil_tunes});
    }
    current = currents.col(0) - currents.col(1) * (out.tuned_ohm * y(1, 0) / (1.0 + out.tuned_ohm * y(1, 1)));
  } else {
    current = system->matrix.partialPivLu().solve(drive);
  }
  out.feed_ohm = 1.0 / (drive.transpose() * current)(0);
  if (!(out.feed_ohm.real() > 0)) {
    return fail({}, "antenna '" + antenna.id + "' whose solution takes no power at the feed",
                "a feed that drives current", "check that the feed is part of the antenna");
  }
  // 1 W into the terminals: |V|^2 Re(1/Z) = 1.
  current *= std::sqrt(1 / (1.0 / out.feed_ohm).real());
  const auto at_end = [&](std::size_t s, std::size_t end) {
    Complex sum = 0;
    for (const mom::Share& share : mesh.shares[s][end]) sum += share.sign * current[share.basis];
    return sum;
  };
  const double k0 = mom::wave_number(mhz);
  for (std::size_t s = 0; s < mesh.segments.size(); ++s) {
    const mom::Segment& segment = mesh.segments[s];
    SegmentCurrent c;
    c.from_m = segment.from;
    for (std::size_t k = 0; k < 3; ++k) c.to_m[k] = segment.from[k] + segment.length * segment.along[k];
    c.radius_m = segment.radius;
    c.wire = segment.wire + 1;
    c.from_a = at_end(s, 0);
    c.to_a = at_end(s, 1);
    const mom::WireMaterial& m = nth(system->materials, segment.wire);
    const mom::Shape shape(k0 * segment.length);
    const double squares = std::norm(c.from_a) + std::norm(c.to_a);
    const double product = 2 * (c.from_a * std::conj(c.to_a)).real();
    out.wire_loss_w +=
        m.series_ohm_per_m.real() * segment.length * (shape.same() * squares + shape.other() * product);
    const Complex charge = Complex(0, mom::eta0_ohm / (2 * mom::pi * k0 * segment.length)) * m.jacket;
    out.wire_loss_w += charge.real() * (shape.slope_same() * squares - shape.slope_other() * product);
    out.currents.push_back(c);
  }
  if (antenna.tuned) {
    const Complex through = (system->feeds.col(1).cast<Complex>().transpose() * current)(0);
    out.tuned_loss_w = out.tuned_ohm.real() * std::norm(through);
    out.load_loss_w += out.tuned_loss_w;
  }
  for (std::size_t l = 0; l < system->loads_ohm.size(); ++l) {
    const mom::Port& port = mesh.loads[l];
    const Complex through =
        at_end(static_cast<std::size_t>(port.segment), static_cast<std::size_t>(port.end));
    out.each_load_loss_w.push_back(system->loads_ohm[l].real() * std::norm(through));
    out.load_loss_w += out.each_load_loss_w.back();
  }
  return out;
}

}  // namespace skerry::antenna
