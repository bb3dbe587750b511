// `skerry path --rays` and `--takeoff`.
#include <cstdio>
#include <fstream>
#include <iterator>

#include "ask.hpp"
#include "check.hpp"

namespace {

std::vector<std::string> path(const std::vector<std::string>& more, const std::string& to = "JN45") {
  std::vector<std::string> out{"path", "-19.70,63.43", to, "--month", "2027-02", "--r12", "90"};
  out.insert(out.end(), more.begin(), more.end());
  return out;
}

std::string content(const std::string& name) {
  std::ifstream in(name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("one hour and band as a fan of rays, in words and numbers", "[cli][property]") {
  const auto text = ask(path({"--rays", "18,20m"}));
  REQUIRE(text.code == 0);
  CHECK(text.out.find("the skip zone") != std::string::npos);
  CHECK(text.out.find("arrive:") != std::string::npos);
  CHECK(text.out.find("through the layers and away") != std::string::npos);
  const auto json = ask(path({"--rays", "18,20m", "-f", "json"})).json();
  CHECK(json["schema"] == "skerry.rays/1");
  CHECK(json["utc_hour"] == 18);
  REQUIRE(json["fan"].size() > 20);
  for (const auto& ray : json["fan"]) {
    CHECK((ray["ending"] == "lands") == ray["ground_km"].is_number());
    if (ray["ending"] == "lands") CHECK(ray["ground_km"] >= json["skip_km"]);
  }
  REQUIRE_FALSE(json["arriving"].empty());
  int strongest = 0;
  for (const auto& ray : json["arriving"]) strongest += ray["strongest"] == true ? 1 : 0;
  CHECK(strongest == 1);
  // Far over what any layer turns nothing comes down, and that is an answer.
  const auto none = ask({"path", "-19.70,63.43", "-19,68", "--month", "2027-02", "--r12", "0", "--mhz", "30",
                         "--rays", "3", "-f", "json"})
                        .json();
  CHECK(none["arriving"].empty());
}

TEST_CASE("the picture of the fan is small, whole, and has a dark side", "[cli][property]") {
  const std::string name = std::string(SKERRY_BINARY_DIR) + "/fan_of_rays.svg";
  for (const std::string to : {"JN45", "-10,50", "Fair Isle"}) {
    std::remove(name.c_str());
    const auto said = ask(path({"--rays", "18,20m", "-o", name}, to));
    REQUIRE(said.code == 0);
    const auto svg = content(name);
    CAPTURE(to, svg.size());
    CHECK(svg.rfind("<?xml", 0) == 0);
    CHECK(svg.rfind("</svg>\n") == svg.size() - 7);
    CHECK(svg.size() < 12500);
    CHECK(svg.find("prefers-color-scheme:dark") != std::string::npos);
    CHECK(svg.find("var(") == std::string::npos);
    CHECK(svg.find("class=\"ray\"") != std::string::npos);
    CHECK(svg.find("nan") == std::string::npos);
  }
  std::remove(name.c_str());
}

TEST_CASE("traced angles move days, and are told in the ledger", "[cli][property]") {
  const auto mirror = ask(path({"--bands", "20m", "-f", "json"})).json();
  const auto traced = ask(path({"--bands", "20m", "-f", "json", "--takeoff", "traced"})).json();
  int moved = 0, told = 0;
  for (std::size_t hour = 0; hour < 24; ++hour) {
    const auto& a = mirror["ways"][0]["hours"][hour]["bands"][0];
    const auto& b = traced["ways"][0]["hours"][hour]["bands"][0];
    moved += a["snr_db"] != b["snr_db"] ? 1 : 0;
    REQUIRE(a["modes"].size() == b["modes"].size());
    for (std::size_t m = 0; m < a["modes"].size(); ++m) {
      CHECK_FALSE(a["modes"][m].contains("traced_from_deg"));
      told += b["modes"][m].contains("traced_from_deg") ? 1 : 0;
      CHECK(a["modes"][m]["loss_db"] == b["modes"][m]["loss_db"]);
    }
  }
  CHECK(moved > 5);
  CHECK(told > 5);
  const auto ledger = ask(path({"--bands", "20m", "--explain", "18"}));
  REQUIRE(ledger.code == 0);
  CHECK(ledger.out.find("traced through the layers it leaves here at") != std::string::npos);
  CHECK(ledger.out.find("not counted") != std::string::npos);
}

TEST_CASE("mistakes about rays are named with what is accepted", "[cli][edge]") {
  const std::vector<std::pair<std::vector<std::string>, std::string>> rows{
      {{"--rays", "18"}, "which of them"},
      {{"--rays", "24,20m"}, "a whole UTC hour"},
      {{"--rays", "18,6m"}, "as 18,20m"},
      {{"--rays", "18,20m", "-f", "csv"}, "text or json"},
      {{"--rays", "18,20m", "--way", "both"}, "one way at a time"},
      {{"--rays", "18,20m", "--explain", "18,20m"}, "one of the two"},
      {{"--rays", "18,20m", "-f", "json", "-o", "x.svg"}, "no format for a picture"},
      {{"--takeoff", "guess"}, "mirror or traced"},
  };
  for (const auto& [args, accepted] : rows) {
    const auto said = ask(path(args));
    CAPTURE(args, said.err);
    CHECK(said.code == 2);
    CHECK(is_one_line(said.err));
    CHECK(said.err.find(accepted) != std::string::npos);
  }
}
