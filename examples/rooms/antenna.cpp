// An inverted V on a 6 m pole: over rock, and over the sea.
#include <fmt/format.h>

#include "skerry/antenna/kinds.hpp"

int main() {
  using namespace skerry::antenna;
  Design dipole;
  dipole.id = "dipole";
  dipole.kind = Kind::dipole;
  dipole.shapes = {Shape::inverted_v};
  const auto up = raise(dipole, Support{}, 14.1);
  for (const char* name : {"rock", "sea"}) {
    const auto ground = find_ground(name, {});
    const auto pattern = compute_pattern(up.ways.front().antenna, *ground, 14.1, Chain{});
    if (!pattern) {
      fmt::print("{}\n", pattern.error().to_line());
      return 1;
    }
    fmt::print("{}: {:.1f} dBi at 10 degrees, {:.1f} dBi at 45, feed {:.0f} ohm\n", name,
               pattern->best_dbi(10), pattern->best_dbi(45), pattern->feed_ohm.real());
  }
}
