// The packing decision by itself: two antennas, one mast, one limit.
#include "skerry/choose/choose.hpp"

#include <fmt/format.h>

int main() {
  using namespace skerry;
  choose::Problem problem;
  problem.items = {
      {.name = "wire", .mass_g = 200}, {.name = "vertical", .mass_g = 400}, {.name = "mast", .mass_g = 900}};
  // Four cells, all of one hour of one day; one engine that is never short of hours.
  problem.weights = {1, 1, 1, 1};
  problem.turns = {0, 0, 0, 0};
  problem.spells = {{.count = 1, .parts = {{.turn = 0, .hours = 1}}}};
  problem.engines.resize(1);
  problem.rows = {{1, 0, 0, 0}, {1, 1, 1, 0}};
  problem.ways = {{.items = {1}, .row = 0}, {.items = {0, 2}, .row = 1}};
  problem.limit_g = 1200;
  const auto kit = choose::Solver(problem).best();
  for (const int item : kit.items)
    fmt::print("take the {}\n", problem.items[static_cast<std::size_t>(item)].name);
  fmt::print("{:.0f} g reach {:.0f} %\n", kit.mass_g, 100 * kit.reach);
}
