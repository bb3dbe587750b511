#include "skerry/relief/geotiff.hpp"

#include <cmath>
#include <cstdint>
#include <limits>

#include "check.hpp"
#include "tiffs.hpp"

using namespace skerry;
using relief::decode_geotiff;
using test::Tiff;

namespace {

const terrain::Box all{-25, 60, -15, 70};
int height(int row, int column) {
  return 10 * row + column;
}
Tiff plain() {
  return test::heights<std::int16_t>(12, 9, 0.01, height);
}
std::string complaint(const Tiff& t) {
  const auto read = decode_geotiff(t.file(), "island.tif", all);
  REQUIRE_FALSE(read);
  return read.error().to_line();
}
void check_heights(const Tiff& t) {
  const auto read = decode_geotiff(t.file(), "island.tif", all);
  if (!read) FAIL(read.error().to_line());
  CHECK(read->rows == 9);
  CHECK(read->columns == 12);
  bool same = true;
  for (int r = 0; r < 9; ++r) {
    for (int c = 0; c < 12; ++c)
      same = same && read->height_m[static_cast<std::size_t>(12 * r + c)] == static_cast<float>(height(r, c));
  }
  CHECK(same);
}

}  // namespace

TEST_CASE("heights of all three kinds, both orders of bytes, in strips", "[geotiff][known]") {
  check_heights(plain());
  check_heights(test::heights<std::int16_t>(12, 9, 0.01, height, true));
  check_heights(test::heights<std::uint16_t>(12, 9, 0.01, height));
  check_heights(test::heights<float>(12, 9, 0.01, height));
  check_heights(test::heights<float>(12, 9, 0.01, height, true));
}

TEST_CASE("heights in tiles, and packed", "[geotiff][known]") {
  Tiff tiled = plain();
  tiled.tiled = true;
  tiled.entries.erase(278);
  tiled.shorts(322, {16});
  tiled.shorts(323, {16});
  std::string tile;
  for (int r = 0; r < 16; ++r) {
    for (int c = 0; c < 16; ++c)
      tile += tiled.number(static_cast<std::int16_t>(r < 9 && c < 12 ? height(r, c) : 777));
  }
  tiled.pieces = {tile};
  check_heights(tiled);

  Tiff packed = plain();  // TIFF 6.0, section 9: PackBits, a literal run of 24 bytes
  packed.shorts(259, {32773});
  for (auto& piece : packed.pieces) piece = std::string(1, static_cast<char>(piece.size() - 1)) + piece;
  check_heights(packed);
}

TEST_CASE("a pixel is an area, or a point, and lies accordingly", "[geotiff][known]") {
  // OGC 19-008r4, GTRasterTypeGeoKey: with areas the tie point is the corner of the pixel, half a step from its middle
  const auto area = decode_geotiff(plain().file(), "a.tif", all);
  REQUIRE(area);
  CHECK(area->west_deg == Approx(63.005));
  CHECK(area->north_deg == Approx(-19.005));
  CHECK(area->lon_step_deg == 0.01);
  Tiff t = plain();
  t.shorts(34735, {1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 2, 2048, 0, 1, 4326});
  const auto point = decode_geotiff(t.file(), "p.tif", all);
  REQUIRE(point);
  CHECK(point->west_deg == 63);
  CHECK(point->north_deg == -19);
  t.doubles(33922, {2, 3, 0, 63, -19, 0});
  CHECK(decode_geotiff(t.file(), "p.tif", all)->west_deg == Approx(62.98));
  CHECK(decode_geotiff(t.file(), "p.tif", all)->north_deg == Approx(-18.97));
}

TEST_CASE("only what the box needs is read", "[geotiff]") {
  const auto read = decode_geotiff(plain().file(), "a.tif", {-19.055, 63.055, -19.035, 63.065});
  REQUIRE(read);
  CHECK(read->rows < 9);
  CHECK(read->columns < 12);
  const auto row = static_cast<int>(std::lround((-19.005 - read->north_deg) / 0.01));
  const auto column = static_cast<int>(std::lround((read->west_deg - 63.005) / 0.01));
  CHECK(read->height_m.front() == static_cast<float>(height(row, column)));
  CHECK(read->height_m.back() ==
        static_cast<float>(height(row + read->rows - 1, column + read->columns - 1)));
  CHECK(decode_geotiff(plain().file(), "a.tif", {40, 10, 41, 11})->height_m.empty());
}

TEST_CASE("voids by nodata, NaN and numbers that no ground has", "[geotiff][edge]") {
  auto voids = [](const Tiff& t) {
    const auto read = decode_geotiff(t.file(), "a.tif", all);
    REQUIRE(read);
    int n = 0;
    for (const float h : read->height_m) n += std::isnan(h) ? 1 : 0;
    return n;
  };
  CHECK(voids(plain()) == 0);
  Tiff t = plain();
  t.text(42113, "5");
  CHECK(voids(t) == 1);
  t.text(42113, "-9999");
  CHECK(voids(t) == 0);
  t.text(42113, "nan");
  CHECK(voids(t) == 0);
  t.text(42113, "1e40");
  CHECK(voids(t) == 0);
  CHECK(voids(test::heights<std::int16_t>(12, 9, 0.01, [](int r, int) { return r == 0 ? -32768 : 3; })) ==
        12);
  CHECK(voids(test::heights<float>(12, 9, 0.01, [](int r, int c) {
          return c > 1   ? 3.0F
                 : r < 4 ? std::numeric_limits<float>::quiet_NaN()
                         : std::numeric_limits<float>::infinity();
        })) == 18);
  CHECK(voids(test::heights<float>(12, 9, 0.01, [](int r, int) { return r == 1 ? -3.4e38F : 3.0F; })) == 12);
}

TEST_CASE("what is no grid of degrees is named, with what to do", "[geotiff][edge]") {
  Tiff t = plain();
  t.shorts(34735, {1, 1, 0, 3, 1024, 0, 1, 1, 1025, 0, 1, 1, 3072, 0, 1, 32740});
  CHECK(
      complaint(t) ==
      "island.tif: found a map in a projection (EPSG:32740); expected latitude and longitude of WGS84 (EPSG:4326), "
      "metres; any program for maps converts it to EPSG:4326");
  t.shorts(34735, {1, 1, 0, 2, 1024, 0, 1, 2, 2048, 0, 1, 4277});
  CHECK(complaint(t).find("degrees of another datum (EPSG:4277)") != std::string::npos);
  t.shorts(34735, {1, 1, 0, 1, 1024, 0, 1, 2});
  CHECK(complaint(t).find("an unnamed datum") != std::string::npos);
  t.shorts(34735, {1, 1, 0, 3, 1024, 0, 1, 2, 2048, 0, 1, 4326, 4099, 0, 1, 9002});
  CHECK(complaint(t).find("heights in another unit (EPSG:9002)") != std::string::npos);
  t.shorts(34735, {1, 1, 0, 3, 1024, 0, 1, 2, 2048, 0, 1, 4326, 2054, 0, 1, 9101});
  CHECK(complaint(t).find("angles in another unit (EPSG:9101)") != std::string::npos);
  t.shorts(34735, {1, 1, 0, 9, 1024});  // cut short
  CHECK(complaint(t).find("no grid of degrees") != std::string::npos);
  for (const int tag : {33550, 33922, 34735}) {
    Tiff without = plain();
    without.entries.erase(tag);
    CAPTURE(tag);
    CHECK(complaint(without).find("island.tif: found ") == 0);
  }
  t = plain();
  t.doubles(33550, {0.01, std::numeric_limits<double>::quiet_NaN(), 0});
  CHECK(complaint(t).find("steps of 0.01 and nan degrees") != std::string::npos);
  t = plain();
  t.doubles(33922, {0, 0, 0, 63, 95, 0});
  CHECK(complaint(t).find("a place on the Earth") != std::string::npos);
  t = plain();
  t.entries.erase(33550);
  t.doubles(34264, {0.01, 0, 0, 63, 0, -0.01, 0, -19, 0, 0, 0, 0, 0, 0, 0, 1});
  CHECK(complaint(t).find("laid out by a matrix") != std::string::npos);
}

TEST_CASE("what holds no heights is named", "[geotiff][edge]") {
  Tiff t = plain();
  t.shorts(277, {3});
  t.shorts(258, {16, 16, 16});
  CHECK(complaint(t).find("3 samples a pixel of 16 bits") != std::string::npos);
  t = plain();
  t.shorts(258, {8});
  CHECK(complaint(t).find("1 samples a pixel of 8 bits") != std::string::npos);
  t = plain();
  t.shorts(259, {64999});
  CHECK(complaint(t).find("compression 64999") != std::string::npos);
}

TEST_CASE("a file that is cut short anywhere is refused and says nothing of its own", "[geotiff][edge]") {
  const auto whole = plain().file();
  CHECK_FALSE(decode_geotiff("", "a.tif", all));
  int refused = 0;
  for (std::size_t size = 0; size < whole.size(); ++size) {
    const auto read = decode_geotiff(std::string_view(whole).substr(0, size), "a.tif", all);
    if (!read) ++refused;
    if (!read) CHECK(read.error().to_line().find('\n') == std::string::npos);
  }
  CHECK(refused > 0.9 * static_cast<double>(whole.size()));
}

TEST_CASE("any byte may be wrong", "[geotiff][edge]") {
  // Neither a crash nor gigabytes: run under the sanitizers.
  auto whole = plain().file();
  for (std::size_t i = 0; i < whole.size(); ++i) {
    for (const char wrong : {'\0', '\x7f', '\xff'}) {
      const char right = whole[i];
      whole[i] = wrong;
      const auto read = decode_geotiff(whole, "a.tif", all);
      if (read)
        CHECK(read->height_m.size() ==
              static_cast<std::size_t>(read->rows) * static_cast<std::size_t>(read->columns));
      whole[i] = right;
    }
  }
}
