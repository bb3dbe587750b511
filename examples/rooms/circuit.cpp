// The highest frequencies that one path carries, hour by hour.
#include "skerry/circuit/circuit.hpp"

#include <fmt/format.h>

#include <array>

int main() {
  using namespace skerry;
  const std::array paths{geodesy::make_path({-19.70, 63.43}, {-26.2, 28.0}, geodesy::Way::short_way)};
  ionosphere::Climate climate;
  climate.day = *parse_day("2027-02-15", {});
  climate.r12 = ionosphere::R12(60);
  const circuit::Circuits circuits(paths, climate);
  for (int hour = 0; hour < 24; hour += 6) {
    const auto muf = circuits.muf(0, hour);
    const auto passage = circuits.passage(0, hour, 14.1);
    fmt::print("{:02d} UTC: MUF {:.1f} MHz; on 14.1 MHz {} modes\n", hour, muf.basic_mhz, passage.count);
  }
}
