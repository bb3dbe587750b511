#include "mom_geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "skerry/core/units.hpp"

namespace skerry::antenna::mom {

namespace {

constexpr std::size_t most_wires = 500;
constexpr double farthest_m = 2000;
/// Judgement: the ground table is measured out to four wavelengths and checked out to thirty (x = 190).
constexpr double most_wavelengths = 30;

bool finite(const Vec3& v) {
  return std::isfinite(v[0]) && std::isfinite(v[1]) && std::isfinite(v[2]);
}

std::string point_text(const Vec3& v) {
  return fmt::format("[{:.4g}, {:.4g}, {:.4g}]", v[0], v[1], v[2]);
}

Result<bool> check_wire(const std::string& name, const Wire& wire, const Ground& ground) {
  for (const Vec3& end : {wire.from_m, wire.to_m}) {
    if (!finite(end) || std::max({std::abs(end[0]), std::abs(end[1]), std::abs(end[2])}) > farthest_m) {
      return fail({}, name + " ends at " + point_text(end), "finite coordinates within 2000 m");
    }
    if (ground.kind == GroundKind::real && end[2] < least_height_m) {
      return fail({}, fmt::format("{} ends at height {:.4g} m over real ground", name, end[2]),
                  "at least 0.01 m", "raise it a little, or use perfect ground for an earthed wire");
    }
    const double radius_m = wire.radius_mm * 1e-3;
    if (ground.kind == GroundKind::perfect && (end[2] < -join_m || (end[2] > join_m && end[2] < radius_m))) {
      return fail({}, fmt::format("{} ends at height {:.4g} m", name, end[2]),
                  "0 (connected to perfect ground) or more than the wire's radius");
    }
  }
  if (ground.kind == GroundKind::real && std::max(wire.from_m[2], wire.to_m[2]) < 1e-3 * wire.radius_mm) {
    return fail({}, fmt::format("{} of radius {:.4g} mm lies half in the ground", name, wire.radius_mm),
                "a height above its radius");
  }
  if (ground.kind == GroundKind::perfect && wire.from_m[2] <= join_m && wire.to_m[2] <= join_m) {
    return fail({}, name + " lies on perfect ground",
                "a wire above it: what lies on a conductor carries nothing");
  }
  if (!std::isfinite(wire.radius_mm) || wire.radius_mm < 0.01 || wire.radius_mm > 500) {
    return fail({}, fmt::format("{} has radius {:.4g} mm", name, wire.radius_mm), "0.01 to 500 mm");
  }
  const double length = distance(wire.from_m, wire.to_m);
  if (length < 0.01) return fail({}, fmt::format("{} is {:.4g} m long", name, length), "at least 0.01 m");
  if (length < 0.008 * wire.radius_mm) {
    return fail({}, fmt::format("{} is {:.4g} m long and {:.4g} mm in radius", name, length, wire.radius_mm),
                "a thin wire: longer than eight radii");
  }
  if (!std::isfinite(wire.conductivity_s_per_m) || wire.conductivity_s_per_m <= 0) {
    return fail({}, fmt::format("{} has conductivity {:.4g} S/m", name, wire.conductivity_s_per_m),
                "above 0");
  }
  return true;
}

Result<bool> check_pair(const WireAntenna& antenna, std::size_t i, std::size_t j) {
  const Wire& a = antenna.wires[i];
  const Wire& b = antenna.wires[j];
  const std::string both = fmt::format("antenna '{}', wires {} and {}", antenna.id, i + 1, j + 1);
  bool joined = false;
  for (const bool a_end : {false, true}) {
    for (const bool b_end : {false, true}) {
      const Vec3& pa = a_end ? a.to_m : a.from_m;
      const Vec3& pb = b_end ? b.to_m : b.from_m;
      if (distance(pa, pb) > join_m) continue;
      joined = true;
      const Vec3 out_a = minus(a_end ? a.from_m : a.to_m, pa);
      const Vec3 out_b = minus(b_end ? b.from_m : b.to_m, pb);
      const double cosine = dot(out_a, out_b) / std::sqrt(dot(out_a, out_a) * dot(out_b, out_b));
      // Judgement: below two degrees two wires from one point are one on top of the other.
      if (cosine > cos_deg(2))
        return fail({}, both + " lie on each other", "wires at an angle of 2 degrees or more");
    }
  }
  if (joined) return true;
  for (const Vec3& end : {b.from_m, b.to_m})
    joined = joined || nearest_point(a.from_m, a.to_m, end).distance_m <= join_m;
  for (const Vec3& end : {a.from_m, a.to_m})
    joined = joined || nearest_point(b.from_m, b.to_m, end).distance_m <= join_m;
  const double gap = gap_m(a.from_m, a.to_m, b.from_m, b.to_m);
  if (joined) {
    const Vec3 da = minus(a.to_m, a.from_m);
    const Vec3 db = minus(b.to_m, b.from_m);
    if (std::abs(dot(da, db)) > cos_deg(2) * std::sqrt(dot(da, da) * dot(db, db))) {
      return fail({}, both + " lie on each other", "wires at an angle of 2 degrees or more");
    }
    return true;
  }
  if (gap < 1e-3 * (a.radius_mm + b.radius_mm)) {
    return fail({}, fmt::format("{} pass at {:.4g} m and are not joined", both, gap),
                "a gap wider than their radii", "let one end on the other, or keep them apart");
  }
  return true;
}

}  // namespace

Foot nearest_point(const Vec3& from, const Vec3& to, const Vec3& p) {
  const Vec3 line = minus(to, from);
  const double at = std::clamp(dot(minus(p, from), line) / dot(line, line), 0.0, 1.0);
  return {at, distance(plus(from, scaled(line, at)), p)};
}

double gap_m(const Vec3& a0, const Vec3& a1, const Vec3& b0, const Vec3& b1) {
  // Source: Ericson, "Real-Time Collision Detection", section 5.1.9 (closest points of two segments); the
  // least is either inside both, or at one of the four ends.
  double least = std::min({nearest_point(a0, a1, b0).distance_m, nearest_point(a0, a1, b1).distance_m,
                           nearest_point(b0, b1, a0).distance_m, nearest_point(b0, b1, a1).distance_m});
  const Vec3 u = minus(a1, a0);
  const Vec3 v = minus(b1, b0);
  const Vec3 w = minus(a0, b0);
  const double uu = dot(u, u);
  const double uv = dot(u, v);
  const double vv = dot(v, v);
  const double det = uu * vv - uv * uv;
  if (det > 1e-12 * uu * vv) {
    const double s = (uv * dot(v, w) - vv * dot(u, w)) / det;
    const double t = (uu * dot(v, w) - uv * dot(u, w)) / det;
    if (s >= 0 && s <= 1 && t >= 0 && t <= 1) {
      least = std::min(least, distance(plus(a0, scaled(u, s)), plus(b0, scaled(v, t))));
    }
  }
  return least;
}

Result<bool> check_geometry(const WireAntenna& antenna, const std::vector<Feed>& feeds, const Ground& ground,
                            double mhz, const SolveOptions& options) {
  if (!std::isfinite(mhz) || mhz < 0.1 || mhz > 60) {
    return fail({}, fmt::format("frequency {} MHz", mhz), "0.1 to 60 MHz");
  }
  if (options.segments_per_wavelength < 10 || options.segments_per_wavelength > 200 ||
      options.min_segments_per_wire < 2 || options.min_segments_per_wire > 200) {
    return fail({},
                fmt::format("{} segments per wavelength, at least {} per wire",
                            options.segments_per_wavelength, options.min_segments_per_wire),
                "10 to 200 per wavelength, 2 to 200 per wire");
  }
  if (ground.kind == GroundKind::real && !(ground.eps_r >= 1 && ground.eps_r <= 100 &&
                                           ground.sigma_s_per_m >= 0 && ground.sigma_s_per_m <= 1e9)) {
    return fail({},
                fmt::format("ground with permittivity {} and conductivity {} S/m", ground.eps_r,
                            ground.sigma_s_per_m),
                "permittivity 1 to 100, conductivity 0 or more");
  }
  if (antenna.wires.empty() || antenna.wires.size() > most_wires) {
    return fail({}, fmt::format("antenna '{}' with {} wires", antenna.id, antenna.wires.size()),
                "1 to 500 wires");
  }
  Vec3 low{1e9, 1e9, 1e9};
  Vec3 high{-1e9, -1e9, -1e9};
  for (std::size_t w = 0; w < antenna.wires.size(); ++w) {
    const Wire& wire = antenna.wires[w];
    if (auto sound = check_wire(fmt::format("antenna '{}', wire {}", antenna.id, w + 1), wire, ground);
        !sound) {
      return sound;
    }
    for (std::size_t k = 0; k < 3; ++k) {
      low[k] = std::min({low[k], wire.from_m[k], wire.to_m[k]});
      high[k] = std::max({high[k], wire.from_m[k], wire.to_m[k]});
    }
  }
  const double wavelength_m = 1000 * light_km_per_s / (mhz * 1e6);
  if (distance(low, high) > most_wavelengths * wavelength_m) {
    return fail({},
                fmt::format("antenna '{}' is {:.3g} wavelengths across", antenna.id,
                            distance(low, high) / wavelength_m),
                "at most 30 wavelengths");
  }
  for (std::size_t i = 0; i < antenna.wires.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (auto sound = check_pair(antenna, j, i); !sound) return sound;
    }
  }
  const auto on_wire = [&](int wire, double at) {
    return wire >= 1 && wire <= static_cast<int>(antenna.wires.size()) && at >= 0 && at <= 1;
  };
  for (const Feed& feed : feeds) {
    if (!on_wire(feed.wire, feed.at)) {
      return fail({}, fmt::format("antenna '{}': feed on wire {} at {}", antenna.id, feed.wire, feed.at),
                  fmt::format("wire 1 to {}, at 0 to 1", antenna.wires.size()));
    }
  }
  for (const Load& load : antenna.loads) {
    if (!on_wire(load.wire, load.at)) {
      return fail({}, fmt::format("antenna '{}': load on wire {} at {}", antenna.id, load.wire, load.at),
                  fmt::format("wire 1 to {}, at 0 to 1", antenna.wires.size()));
    }
    for (const double value : {load.resistance_ohm, load.inductance_uh, load.capacitance_pf, load.coil_q}) {
      if (!std::isfinite(value) || value < 0) {
        return fail({}, fmt::format("antenna '{}': load value {}", antenna.id, value), "0 or more");
      }
    }
  }
  return true;
}

}  // namespace skerry::antenna::mom
