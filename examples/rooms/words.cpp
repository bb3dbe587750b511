// The whole answer for a starter trip, as the text that 'skerry pack' prints: its first lines.
#include <iostream>

#include "skerry/advice/advise.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/words/pack.hpp"

int main() {
  using namespace skerry;
  const std::string text = files::starter("My island", {-19.70, 63.43}, *parse_day("2027-02-13", {}));
  const auto no_files = [](const std::string& name, const Where& where) -> Result<std::string> {
    return fail(where, name, "no file here");
  };
  const auto trip = files::read_trip(text, "starter.toml", no_files);
  if (!trip) return 2;
  const std::string page = words::pack_screen(*trip, advice::advise(*trip), {});
  std::cout << page.substr(0, page.find("\n\n", page.find("Carry"))) << "\n";
}
