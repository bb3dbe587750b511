#include <tiffio.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "check.hpp"
#include "folder.hpp"
#include "skerry/cli/run.hpp"

using namespace skerry;

namespace {

struct Ran {
  int code = 0;
  std::string out, err;
};
Ran map(std::vector<std::string> args) {
  args.insert(args.begin(), {"map", "-19.70,63.43", "--month", "2027-02", "--r12", "90"});
  if (std::find(args.begin(), args.end(), "--grid") == args.end()) args.insert(args.end(), {"--grid", "10"});
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  cli::World world{in, out, err};
  const int code = cli::run(args, world);
  return {code, out.str(), err.str()};
}

}  // namespace

TEST_CASE("the map speaks all its formats", "[cli][property]") {
  CHECK(map({}).out.find("Share of the world's surface") != std::string::npos);
  CHECK(map({"-f", "csv", "--hours", "6"}).out.rfind("lat_deg,", 0) == 0);
  CHECK(nlohmann::json::parse(map({"-f", "geojson", "--hours", "0,12"}).out)["type"] == "FeatureCollection");
  CHECK(map({"-f", "svg", "--hours", "6,18"}).out.rfind("<svg ", 0) == 0);
  const auto summary = nlohmann::json::parse(map({"-f", "json", "--bands", "40m,20m"}).out);
  CHECK(summary["schema"] == "skerry.map/1");
  REQUIRE(summary["hours"].size() == 24);
  REQUIRE(summary["hours"][0]["bands"].size() == 2);
  for (const auto& hour : summary["hours"]) {
    CHECK(hour["bands"][0]["world_share"] >= 0);
    CHECK(hour["bands"][0]["world_share"] <= 1);
  }
}

TEST_CASE("the map as GeoTIFF holds the numbers of its CSV, cell by cell", "[cli][property]") {
  const test::Folder folder("map");
  const auto name = folder.file("map.tif");
  REQUIRE(map({"--hours", "6", "--bands", "20m", "-o", name}).code == 0);
  const auto bytes = test::read(name);
  CHECK(bytes.rfind("II*", 0) == 0);
  CHECK(bytes.find("role=\"description\">20m 06 UTC</Item>") != std::string::npos);
  TIFFSetWarningHandler(nullptr);  // it has no names for GeoTIFF's tags
  TIFF* tiff = TIFFOpen(name.c_str(), "r");
  REQUIRE(tiff != nullptr);
  std::istringstream rows(map({"--hours", "6", "--bands", "20m", "-f", "csv"}).out);
  std::string line;
  std::getline(rows, line);
  std::size_t open = 0;
  for (std::uint32_t r = 0; r < 18; ++r) {
    std::vector<float> row(36);
    REQUIRE(TIFFReadScanline(tiff, row.data(), r, 0) == 1);
    for (const float days : row) {
      REQUIRE(std::getline(rows, line));
      std::vector<std::string> cells;
      std::istringstream parts(line);
      for (std::string cell; std::getline(parts, cell, ',');) cells.push_back(cell);
      REQUIRE(cells.size() == 11);
      // No S/N: nothing propagates.
      CHECK(std::isnan(days) == cells[6].empty());
      if (std::isnan(days)) continue;
      ++open;
      CHECK_THAT(days, WithinAbs(std::stod(cells[10]), 0.001));
    }
  }
  TIFFClose(tiff);
  CHECK(open > 50);
}

TEST_CASE("mistakes in a map's options are named with what is accepted", "[cli][edge]") {
  const std::vector<std::pair<std::vector<std::string>, std::string>> rows{
      {{"--hours", "24"}, "0 to 23"},
      {{"--hours", "1.5"}, "whole"},
      {{"--hours", "6,6"}, "each hour once"},
      {{"--grid", "7"}, "divides 180"},
      {{"--way", "both"}, "short, long or best"},
      {{"--format", "png"}, "svg"},
      {{"--format", "tif"}, "-o map.tif"},
      {{"--bands", "21m"}, "20m"},
      {{"--mhz", "14,14"}, "once"},
      {{"-f", "svg", "--bands", "40m,20m,15m"}, "at most 48"},
  };
  for (const auto& [args, words] : rows) {
    const auto ran = map(args);
    CAPTURE(ran.err);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.find(words) != std::string::npos);
  }
}
