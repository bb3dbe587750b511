// Antennas from text to currents.
#include <cmath>

#include "promises.hpp"
#include "skerry/antenna/kinds.hpp"
#include "skerry/antenna/pattern.hpp"
#include "skerry/antenna/solver.hpp"
#include "skerry/files/trip_file.hpp"
#include "targets.hpp"

namespace skerry::fuzz {

namespace {

/// The solver refuses what is larger; keeps one input within some tenths of a second.
constexpr int most_segments = 48;

void solve_small(const antenna::WireAntenna& wires, const antenna::Ground& ground, double mhz) {
  antenna::SolveOptions options;
  options.segments_per_wavelength = 10;
  options.min_segments_per_wire = 2;
  options.max_segments = most_segments;
  const auto solution = antenna::solve(wires, ground, mhz, options);
  if (!solution) return check_line(solution.error().to_line());
  promise(std::isfinite(solution->feed_ohm.real()) && std::isfinite(solution->feed_ohm.imag()),
          "an impedance is finite");
  promise(solution->wire_loss_w >= 0 && solution->load_loss_w >= -1e-9, "metal and parts give no power");
  const auto field = antenna::far_field(*solution, ground, 15, 45);
  for (const float gain : field.gain_dbi) promise(gain >= -99 && gain < 40, "a gain is that of an antenna");
}

}  // namespace

void geometry(std::string_view bytes) {
  const auto read = files::read_antennas(bytes, "antennas.toml");
  if (!read) return check_errors(read.error(), "antennas.toml", true);
  antenna::Ground real;
  antenna::Ground perfect;
  perfect.kind = antenna::GroundKind::perfect;
  antenna::Ground nothing;
  nothing.kind = antenna::GroundKind::free_space;
  std::size_t looked_at = 0;
  for (const auto& a : *read) {
    if (++looked_at > 2) break;
    const double mhz = a.design.bands_mhz.empty() ? 14.06 : a.design.bands_mhz.front();
    if (a.wires) {
      for (const auto* ground : {&nothing, &perfect, &real}) solve_small(*a.wires, *ground, mhz);
      continue;
    }
    for (const double height_m : {0.3, 5.1, 40.0}) {
      antenna::Support support;
      support.usable_height_m = height_m;
      const auto raising = antenna::raise(a.design, support, mhz);
      promise(!raising.ways.empty() || !raising.why_not.empty(), "what does not stand has a reason");
      for (const auto& why : raising.why_not)
        promise(std::isfinite(why.a + why.b + why.c), "a reason has numbers");
      for (const auto& way : raising.ways) {
        for (const auto& wire : way.antenna.wires) {
          for (const double z : {wire.from_m[2], wire.to_m[2]})
            promise(std::isfinite(z) && z >= 0, "raised wires are above the ground");
        }
        if (height_m == 5.1) solve_small(way.antenna, nothing, mhz);
      }
    }
  }
}

}  // namespace skerry::fuzz
