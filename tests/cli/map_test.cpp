#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "check.hpp"
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

TEST_CASE("mistakes in a map's options are named with what is accepted", "[cli][edge]") {
  const std::vector<std::pair<std::vector<std::string>, std::string>> rows{
      {{"--hours", "24"}, "0 to 23"},
      {{"--hours", "1.5"}, "whole"},
      {{"--hours", "6,6"}, "each hour once"},
      {{"--grid", "7"}, "divides 180"},
      {{"--way", "both"}, "short, long or best"},
      {{"--format", "png"}, "svg"},
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
