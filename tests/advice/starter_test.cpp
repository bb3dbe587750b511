// The first answer a newcomer sees: the starter trip, as it stands, must carry something somewhere.
#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/files/trip_file.hpp"

using namespace skerry;

TEST_CASE("the starter trip reaches somebody from islands all over the world", "[advice][property]") {
  const auto no_files = [](const std::string& name, const Where& where) -> Result<std::string> {
    return fail(where, name, "no file here");
  };
  for (const auto at : {GeoPoint::at_deg(-19.7, 63.43), GeoPoint::at_deg(59.53, -1.63),
                        GeoPoint::at_deg(0, -179.9), GeoPoint::at_deg(-54.28, -36.5)}) {
    for (const int month : {2, 7}) {
      const auto first = std::chrono::year{2027} / month / 13;
      const auto trip = files::read_trip(files::starter("An island", at, first), "starter.toml", no_files);
      REQUIRE(trip);
      advice::AdviceOptions quick;
      quick.variants = false;
      const auto advice = advice::advise(*trip, quick);
      CAPTURE(at.lat_deg, at.lon_deg, month, advice.outcome);
      CHECK(advice.kit.reach > 0.1);
      CHECK(advice.kit.mass_g < advice.limit_g);
    }
  }
}
