#include "skerry/geodesy/towns.hpp"

#include "check.hpp"
#include "skerry/geodesy/path.hpp"

using namespace skerry;

TEST_CASE("points are named by the towns they lie near", "[geodesy][known]") {
  // Positions from memory of any atlas, to a tenth of a degree.
  struct Row {
    GeoPoint where;
    const char* name;
    double within_km;
  };
  const Row rows[] = {{GeoPoint::at_deg(64.1, -21.9), "Reykjav\u00edk", 15},
                      {GeoPoint::at_deg(41.9, 12.5), "Rome", 15},
                      {GeoPoint::at_deg(-36.85, 174.76), "Auckland", 15}};
  for (const auto& row : rows) {
    CAPTURE(row.name);
    const auto town = geodesy::nearest_town(row.where, 500);
    REQUIRE(town);
    CHECK(town->distance_km < row.within_km);
    CHECK(town->distance_km == Approx(geodesy::distance_km(town->where, row.where)).margin(0.01));
  }
}

TEST_CASE("far out at sea there is no town", "[geodesy][edge]") {
  // The oceanic pole of inaccessibility, 2700 km from any land (common knowledge).
  const auto nemo = GeoPoint::at_deg(-48.9, -123.4);
  CHECK_FALSE(geodesy::nearest_town(nemo, 1500).has_value());
  const auto nearest = geodesy::nearest_town(nemo, 20000);
  REQUIRE(nearest);
  CHECK(nearest->distance_km > 2500);
}
