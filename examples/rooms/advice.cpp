// What the commented trip that 'skerry new' writes should take along.
#include <fmt/format.h>

#include "skerry/advice/advise.hpp"
#include "skerry/files/trip_file.hpp"

int main() {
  using namespace skerry;
  const std::string text = files::starter("My island", {-19.70, 63.43}, *parse_day("2027-02-13", {}));
  const auto no_files = [](const std::string& name, const Where& where) -> Result<std::string> {
    return fail(where, name, "no file here");
  };
  const auto trip = files::read_trip(text, "starter.toml", no_files);
  if (!trip) return 2;
  const auto advice = advice::advise(*trip);
  for (const int thing : advice.kit.items)
    fmt::print("take {}\n", advice.inventory.things[static_cast<std::size_t>(thing)].name);
  fmt::print("{:.1f} kg: {:.0f} % of everything that could be carried\n", advice.kit.mass_g / 1000,
             100 * advice.kit.reach / advice.reach_of_everything);
}
