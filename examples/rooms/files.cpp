// Reading a trip file: here the commented one that 'skerry new' writes.
#include <fmt/format.h>

#include "skerry/files/trip_file.hpp"
#include "skerry/kit/setup.hpp"

int main() {
  using namespace skerry;
  const std::string text = files::starter("My island", {-19.70, 63.43}, *parse_day("2027-02-13", {}));
  const auto no_files = [](const std::string& name, const Where& where) -> Result<std::string> {
    return fail(where, name, "no file here");
  };
  const auto trip = files::read_trip(text, "starter.toml", no_files);
  if (!trip) {
    for (const auto& error : trip.error()) fmt::print("{}\n", error.to_line());
    return 2;
  }
  const auto setups = kit::derive_setups(*trip);
  fmt::print("{} antennas, {} supports, {} setups that can stand\n", trip->antennas.size(),
             trip->supports.size(), setups.possible.size());
}
