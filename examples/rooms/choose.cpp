// The packing decision by itself: two antennas, one mast, one limit.
#include "skerry/choose/choose.hpp"

#include <fmt/format.h>

int main() {
  using namespace skerry;
  choose::Problem problem;
  problem.items = {
      {.name = "wire", .mass_g = 200}, {.name = "vertical", .mass_g = 400}, {.name = "mast", .mass_g = 900}};
  problem.weights = {1, 1, 1, 1};
  choose::CellSet low(4), high(4);
  low.add(0);
  high.add(0);
  high.add(1);
  high.add(2);
  problem.bundles = {{.items = {1}, .cells = low}, {.items = {0, 2}, .cells = high}};
  problem.limit_g = 1200;
  const auto kit = choose::best(problem);
  for (const int item : kit.items)
    fmt::print("take the {}\n", problem.items[static_cast<std::size_t>(item)].name);
  fmt::print("{:.0f} g reach {:.0f} %\n", kit.mass_g, 100 * kit.reach);
}
