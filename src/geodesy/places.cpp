#include "places.hpp"

#include <string>
#include <vector>

#include "bytes.hpp"
#include "columns.hpp"
#include "skerry/core/embedded.hpp"

namespace skerry::geodesy {

namespace {

std::vector<Place> read_places() {
  // Names point into it.
  const auto columns = embedded_if("places/columns.bin");
  static const std::string made = columns.empty() ? std::string() : places_of_columns(columns);
  Bytes bytes(columns.empty() ? embedded("places/places.bin") : std::string_view(made), "SKPL");
  std::vector<Place> out(bytes.count());
  for (Place& place : out) {
    const double lat_deg = bytes.difference() * 0.001;
    const double lon_deg = bytes.difference() * 0.001;
    place.where = GeoPoint::at_deg(lat_deg, lon_deg);
    place.vec = unit_vector(place.where);
    place.people = bytes.count();
    place.gathered = bytes.count();
    const std::uint32_t length = bytes.count();
    place.name = bytes.text(length);
  }
  return out;
}

}  // namespace

std::span<const Place> places() {
  static const std::vector<Place> read = read_places();
  return read;
}

}  // namespace skerry::geodesy
