// What a mistake looks like: where it stands, what was found, what is accepted.
#include <iostream>

#include "skerry/core/time.hpp"

int main() {
  const auto day = skerry::parse_day("2027-02-30", {"my-trip.toml", 7});
  std::cout << day.error().to_line() << "\n";
  const auto good = skerry::parse_day("2027-02-28", {"my-trip.toml", 7});
  std::cout << "read: " << skerry::to_iso(*good) << "\n";
}
