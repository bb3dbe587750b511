// The machine-readable contract: stable keys, numbers as numbers, null where nature has no answer.

#include "ask.hpp"
#include "check.hpp"

using nlohmann::json;

namespace {

void require_keys(const json& object, const std::vector<const char*>& keys) {
  for (const char* key : keys) {
    CAPTURE(key);
    REQUIRE(object.contains(key));
  }
}

}  // namespace

TEST_CASE("path speaks skerry.path/1", "[cli][known]") {
  const auto said = ask({"path", "-19.70,63.43", "51.5,-0.1", "--month", "2027-02", "--r12", "60", "--bands",
                         "40m,20m", "--way", "both", "--format", "json"});
  REQUIRE(said.code == 0);
  const auto j = said.json();
  CHECK(j["schema"] == "skerry.path/1");
  require_keys(j, {"from", "to", "month", "r12", "ways"});
  require_keys(j["from"], {"lat_deg", "lon_deg", "locator"});
  CHECK(j["month"] == "2027-02");
  CHECK(j["r12"] == 60);
  REQUIRE(j["ways"].size() == 2);
  for (const auto& way : j["ways"]) {
    require_keys(way, {"way", "distance_km", "bearing_deg", "return_bearing_deg", "hours"});
    REQUIRE(way["hours"].size() == 24);
    int expected = 0;
    for (const auto& hour : way["hours"]) {
      CHECK(hour["utc_hour"] == expected++);
      require_keys(hour, {"basic_muf_mhz", "operational_muf_mhz", "bands"});
      CHECK(hour["basic_muf_mhz"].is_number());
      REQUIRE(hour["bands"].size() == 2);
      for (const auto& band : hour["bands"]) {
        require_keys(band, {"band", "mhz", "modes", "snr_db", "required_snr_db", "margin_db", "days_in_ten"});
        CHECK(band["days_in_ten"].is_number());
        for (const auto& mode : band["modes"]) {
          require_keys(mode, {"layer", "hops", "elevation_deg", "reflection_height_km", "basic_muf_mhz",
                              "support_probability", "loss_db", "absorption_db"});
          CHECK(mode["support_probability"] >= 0);
          CHECK(mode["support_probability"] <= 1);
        }
        if (band["snr_db"].is_number()) {
          CHECK(band["margin_db"].get<double>() ==
                Approx(band["snr_db"].get<double>() - band["required_snr_db"].get<double>()).margin(0.011));
        }
      }
    }
  }
  // Source: WGS84 geodesic (Karney 2013), from the general-purpose library's own tool for these two places:
  // within 1 km.
  CHECK(j["ways"][0]["way"] == "short");
  CHECK(j["ways"][0]["distance_km"].get<double>() + j["ways"][1]["distance_km"].get<double>() ==
        Approx(40030.2).margin(0.2));
}

TEST_CASE("a closed band keeps its weak modes and says what it lacks", "[cli][known]") {
  // Source: P.533 section 5.2.2: modes above their MUF stay in, with the loss that belongs to it.
  const auto said = ask({"path", "51.5,-0.1", "51.9,-0.5", "--month", "2026-01", "--r12", "10", "--mhz",
                         "28.06", "--format", "json"});
  REQUIRE(said.code == 0);
  const auto answer = said.json();
  for (const auto& hour : answer["ways"][0]["hours"]) {
    const auto& band = hour["bands"][0];
    REQUIRE_FALSE(band["modes"].empty());
    CHECK(band["snr_db"].is_number());
    CHECK(band["margin_db"] < 0);
    CHECK(band["both_days_in_ten"] < 0.5);
    for (const auto& mode : band["modes"]) {
      if (mode["layer"] != "Es") CHECK(mode["above_muf_db"] > 20);
    }
  }
}

TEST_CASE("ionosphere speaks skerry.ionosphere/1", "[cli][known]") {
  const auto said =
      ask({"ionosphere", "59.53,-1.63", "--month", "2026-12", "--r12", "80", "--format", "json"});
  REQUIRE(said.code == 0);
  const auto j = said.json();
  CHECK(j["schema"] == "skerry.ionosphere/1");
  require_keys(j["at"], {"lat_deg", "lon_deg", "locator"});
  REQUIRE(j["hours"].size() == 24);
  for (const auto& hour : j["hours"]) {
    require_keys(hour, {"utc_hour", "fof2_mhz", "m3000f2", "muf3000_mhz", "foe_mhz", "modip_deg", "gyro_mhz",
                        "solar_zenith_deg", "foes_lower_mhz", "foes_median_mhz", "foes_upper_mhz"});
    CHECK(hour["foes_lower_mhz"] <= hour["foes_median_mhz"]);
    CHECK(hour["foes_median_mhz"] <= hour["foes_upper_mhz"]);
    CHECK(hour["muf3000_mhz"].get<double>() ==
          Approx(hour["fof2_mhz"].get<double>() * hour["m3000f2"].get<double>()).margin(2e-3));
  }
}

TEST_CASE("sun speaks skerry.sun/1, and polar night is an answer", "[cli][known]") {
  const auto day = ask({"sun", "-19.70,63.43", "--date", "2027-02-14", "--format", "json"}).json();
  CHECK(day["schema"] == "skerry.sun/1");
  CHECK(day["state"] == "day and night");
  CHECK(day["rise_utc"].get<std::string>().substr(0, 13) == "2027-02-14T01");
  require_keys(day, {"set_utc", "civil_dawn_utc", "civil_dusk_utc", "nautical_dawn_utc",
                     "astronomical_dusk_utc", "noon_elevation_deg"});
  const auto night = ask({"sun", "78.22,15.65", "--date", "2026-12-21", "--format", "json"}).json();
  CHECK(night["state"] == "polar night");
  CHECK(night["rise_utc"].is_null());
  CHECK(night["set_utc"].is_null());
}

TEST_CASE("antenna speaks skerry.antenna/1", "[cli][known]") {
  const auto said = ask({"antenna", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "--mhz", "14.06",
                         "--ground", "rock", "--format", "json"});
  REQUIRE(said.code == 0);
  const auto j = said.json();
  CHECK(j["schema"] == "skerry.antenna/1");
  REQUIRE_FALSE(j["antennas"].empty());
  for (const auto& a : j["antennas"]) {
    require_keys(a, {"id", "mhz", "ground", "resistance_ohm", "reactance_ohm", "radiation_efficiency_db",
                     "system_efficiency_db", "swr", "gain_dbi", "ledger"});
    CHECK(a["gain_dbi"].size() == 91);
    require_keys(a["gain_dbi"][10], {"elevation_deg", "best_dbi", "best_azimuth_deg", "mean_dbi"});
    CHECK(a["gain_dbi"][10]["best_dbi"] >= a["gain_dbi"][10]["mean_dbi"]);
    double sum = 0;
    for (const auto& loss : a["ledger"]) sum += loss["db"].get<double>();
    CHECK(sum == Approx(-a["system_efficiency_db"].get<double>()).margin(0.02));
  }
}

TEST_CASE("pack speaks skerry.pack/1 and its sums are right", "[cli][known]") {
  for (const char* trip : {"rodrigues", "fair_isle", "lord_howe"}) {
    CAPTURE(trip);
    const auto said =
        ask({"pack", std::string(SKERRY_SOURCE_DIR "/examples/") + trip + ".toml", "--format", "json"});
    REQUIRE(said.code == 0);
    const auto j = said.json();
    CHECK(j["schema"] == "skerry.pack/1");
    require_keys(j, {"carry", "leave", "mass_kg", "reach", "setups", "impossible"});
    double grams = 0;
    for (const auto& item : j["carry"]) {
      require_keys(item, {"id", "name", "mass_g", "reason"});
      grams += item["mass_g"].get<double>();
    }
    CHECK(grams / 1000 == Approx(j["mass_kg"].get<double>()).margin(1e-4));
    CHECK(j["mass_kg"] <= j["limit_kg"]);
    CHECK(j["reach"] > 0);
    CHECK(j["reach"] <= j["reach_of_everything"]);
    CHECK(j["proved"] == true);
    // What is recommended is the lightest within the tolerance of the most there is, which is proved too.
    CHECK(j["bound"] == j["plain_optimum"]["reach"]);
    CHECK(j["plain_optimum"]["proved"] == true);
    CHECK(j["reach"].get<double>() >= j["bound"].get<double>() - j["tolerance"].get<double>() - 1e-5);
    CHECK(j["mass_kg"] <= j["plain_optimum"]["mass_kg"]);
    require_keys(j, {"modes", "windows", "tolerance", "plain_optimum"});
    CHECK(j["modes"][0]["share"] == 1);
    CHECK(j["modes"][0]["reach"] == j["reach"]);
    CHECK_FALSE(j["leave"].empty());
    CHECK_FALSE(j["cautions"].empty());
  }
}

TEST_CASE("text fits 100 columns", "[cli][edge]") {
  for (const auto& args : {std::vector<std::string>{"pack", SKERRY_SOURCE_DIR "/examples/fair_isle.toml"},
                           std::vector<std::string>{"sun", "-19.70,63.43", "JN45", "--date", "2027-02-14"}}) {
    std::istringstream lines(ask(args).out);
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      CHECK(line.size() <= 110);
    }
  }
}

TEST_CASE("CSV has one header and as many fields in every line", "[cli][property]") {
  for (const auto& args :
       {std::vector<std::string>{"path", "MH10", "JN45", "--month", "2027-02", "--bands", "20m", "--format",
                                 "csv"},
        std::vector<std::string>{"ionosphere", "MH10", "--month", "2027-02", "--format", "csv"},
        std::vector<std::string>{"sun", "MH10", "JN45", "--date", "2027-02-14", "--format", "csv"},
        std::vector<std::string>{"pack", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "--format", "csv"}}) {
    const auto said = ask(args);
    REQUIRE(said.code == 0);
    std::istringstream lines(said.out);
    std::string line;
    std::getline(lines, line);
    const auto commas = std::count(line.begin(), line.end(), ',');
    while (std::getline(lines, line)) CHECK(std::count(line.begin(), line.end(), ',') == commas);
  }
}
