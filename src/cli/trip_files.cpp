#include "skerry/cli/trip_files.hpp"

#include "elevation.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/surroundings.hpp"

namespace skerry::cli {

namespace {

Result<geodesy::Surroundings> terrain_of(const std::vector<std::string>& files, const std::string& wanted,
                                         GeoPoint at, const Where& where) {
  const auto elevation =
      read_elevation(files, wanted, terrain::box_about(at, terrain::View{}.reach_km), where);
  if (!elevation) return tl::unexpected(elevation.error());
  const auto around = look_around(*elevation, at, wanted, where);
  if (!around) return tl::unexpected(around.error());
  return terrain::in_few_numbers(*around);
}

}  // namespace

engine::Surroundings beside(const std::string& name, bool outside) {
  engine::Surroundings out;
  out.read = [=](const std::string& wanted, const Where& where) {
    return os::read_named(name, wanted, where, outside);
  };
  out.terrain = [=](const std::string& wanted, GeoPoint at,
                    const Where& where) -> Result<geodesy::Surroundings> {
    const auto found = os::files_beside(name, wanted, where, outside);
    if (!found) return tl::unexpected(found.error());
    return terrain_of(*found, wanted, at, where);
  };
  return out;
}

engine::TripFiles trips_in(const std::string& folder, bool outside) {
  if (folder.empty()) return {};
  return {.text =
              [=](const std::string& name, const Where& where) {
                return os::read_beside(folder + "/questions", name, where, outside);
              },
          .beside = [=](const std::string& name) { return beside(folder + "/" + name, outside); }};
}

}  // namespace skerry::cli
