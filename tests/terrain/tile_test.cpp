#include "skerry/terrain/tile.hpp"

#include "check.hpp"
#include "grids.hpp"

using namespace skerry;
using namespace skerry::terrain;

TEST_CASE("an HGT file is big-endian heights from its north-west corner on", "[hgt][known]") {
  // from memory: the format's description by its makers: rows from the north, S20E063 has its south-west corner there
  std::string bytes(2UL * 1201 * 1201, '\0');
  bytes[0] = 0x01;  // 258
  bytes[1] = 0x02;
  bytes[2] = '\x80';  // -32768
  bytes[4] = '\xff';  // -2
  bytes[5] = '\xfe';
  const auto t = decode_hgt(bytes, "dem/S20E063.hgt", {-20, 63, -19, 64});
  REQUIRE(t);
  CHECK(t->rows == 1201);
  CHECK(t->columns == 1201);
  CHECK(t->north_deg == -19);
  CHECK(t->west_deg == 63);
  CHECK(t->south_deg() == Approx(-20));
  CHECK(t->height_m[0] == 258);
  CHECK(std::isnan(t->height_m[1]));
  CHECK(t->height_m[2] == -2);
}

TEST_CASE("the name of an HGT file tells its corner", "[hgt]") {
  const auto is = [](const char* name, double lat, double lon) {
    const auto corner = hgt_corner(name);
    REQUIRE(corner);
    CHECK(corner->lat_deg == lat);
    CHECK(corner->lon_deg == lon);
  };
  is("N19E063.hgt", 19, 63);
  is("/far/away/s20w001.HGT", -20, -1);
  is("N00E179.some.product.hgt", 0, 179);
  for (const char* bad : {"N19E063.tif", "N9E063.hgt", "X19E063.hgt", "N19E06x.hgt", "N95E063.hgt",
                          "N19E200.hgt", "", ".hgt", "readme.hgt"})
    CHECK_FALSE(hgt_corner(bad));
}

TEST_CASE("HGT files that are none are refused in one line", "[hgt][edge]") {
  const Box box{-20, 63, -19, 64};
  const auto shortened = decode_hgt(std::string(2884801, '\0'), "S20E063.hgt", box);
  REQUIRE_FALSE(shortened);
  CHECK(
      shortened.error().to_line() ==
      "S20E063.hgt: found 2884801 bytes; expected 2884802 (3 arc-seconds) or 25934402 (1 arc-second), as an HGT file "
      "has; copy it again: it may have been cut short, or still be packed");
  CHECK_FALSE(decode_hgt("", "S20E063.hgt", box));
  CHECK_FALSE(decode_hgt(std::string(2884802, '\0'), "island.hgt", box));
}

TEST_CASE("only what the box needs is kept, across the date line too", "[hgt]") {
  const auto bytes = test::hgt_of(-43, 183, 1201, [](GeoPoint p) { return p.lat_deg < -43.5 ? 100 : 7; });
  const auto box = box_about(GeoPoint::at_deg(-43.9, -176.5), 10);
  const auto t = decode_hgt(bytes, "S44W177.hgt", box);
  REQUIRE(t);
  CHECK(t->rows < 300);
  CHECK(t->rows > 200);
  CHECK(t->north_deg >= box.north_deg);
  CHECK(t->south_deg() == Approx(-44).margin(0.02));
  CHECK(t->height_m.size() == static_cast<std::size_t>(t->rows) * static_cast<std::size_t>(t->columns));
  CHECK(t->height_m[0] == 100);
  // The same place from the other side of the line.
  const Box beyond{box.south_deg, box.west_deg + 360, box.north_deg, box.east_deg + 360};
  const auto same = decode_hgt(bytes, "S44W177.hgt", beyond);
  REQUIRE(same);
  CHECK(same->west_deg == Approx(t->west_deg + 360));
  CHECK(same->columns == t->columns);
  CHECK(overlaps(GeoPoint{-44, -177}, box));
  CHECK(overlaps(GeoPoint{-44, -177}, beyond));
  CHECK_FALSE(overlaps(GeoPoint{-44, -179}, box));
  const auto elsewhere = decode_hgt(bytes, "S44W177.hgt", {-20, 63, -19, 64});
  REQUIRE(elsewhere);
  CHECK(elsewhere->height_m.empty());
}
