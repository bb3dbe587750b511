// A trip from its text, which must be good.
#pragma once

#include <string>
#include <utility>

#include "check.hpp"
#include "trip_text.hpp"

namespace skerry::test {

inline kit::Trip read_well(const std::string& text, const files::FileReader& files = no_files) {
  auto trip = files::read_trip(text, "trip.toml", files);
  if (!trip) {
    for (const auto& e : trip.error()) UNSCOPED_INFO(e.to_line());
  }
  REQUIRE(trip);
  return std::move(*trip);
}

}  // namespace skerry::test
