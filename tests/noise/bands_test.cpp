#include "skerry/noise/bands.hpp"

#include <cmath>

#include "check.hpp"

namespace noise = skerry::noise;

TEST_CASE("the allocations are those of the Radio Regulations", "[bands][known]") {
  // ITU Radio Regulations, Article 5, kHz, from memory: region, band, edges.
  struct Row {
    int region;
    const char* id;
    double low_khz, high_khz;
  };
  const Row rows[] = {
      {1, "160m", 1810, 1850},    {2, "160m", 1800, 2000},    {3, "160m", 1800, 2000},
      {1, "80m", 3500, 3800},     {2, "80m", 3500, 4000},     {3, "80m", 3500, 3900},
      {1, "60m", 5351.5, 5366.5}, {2, "60m", 5351.5, 5366.5}, {3, "60m", 5351.5, 5366.5},
      {1, "40m", 7000, 7200},     {2, "40m", 7000, 7300},     {3, "40m", 7000, 7200},
      {1, "30m", 10100, 10150},   {2, "30m", 10100, 10150},   {3, "30m", 10100, 10150},
      {1, "20m", 14000, 14350},   {2, "20m", 14000, 14350},   {3, "20m", 14000, 14350},
      {1, "17m", 18068, 18168},   {3, "17m", 18068, 18168},   {1, "15m", 21000, 21450},
      {1, "6m", 50000, 52000},    {2, "6m", 50000, 54000},    {3, "6m", 50000, 54000},
      {2, "15m", 21000, 21450},   {1, "12m", 24890, 24990},   {2, "12m", 24890, 24990},
      {1, "10m", 28000, 29700},   {3, "10m", 28000, 29700},
  };
  for (const Row& row : rows) {
    CAPTURE(row.region, row.id);
    const auto band = noise::find_band(row.id, row.region, {});
    REQUIRE(band);
    CHECK_THAT(band->low_mhz * 1000, WithinAbs(row.low_khz, 1e-6));
    CHECK_THAT(band->high_mhz * 1000, WithinAbs(row.high_khz, 1e-6));
  }
}

TEST_CASE("60 m carries 15 W e.i.r.p. and a warning; the narrow bands carry no contests", "[bands][known]") {
  // Radio Regulations No. 5.133B (WRC-15), from memory; contest-free bands by common practice.
  for (int region = 1; region <= 3; ++region) {
    CHECK(noise::bands(region).size() == 11);
    for (const noise::Band& band : noise::bands(region)) {
      CAPTURE(band.id);
      CHECK(band.eirp_limit_w.has_value() == (band.id == "60m"));
      const bool warc = band.id == "60m" || band.id == "30m" || band.id == "17m" || band.id == "12m";
      CHECK(band.contest_free == warc);
      CHECK(band.secondary == (band.id == "60m" || band.id == "30m"));
    }
    CHECK(noise::find_band("60m", region, {})->eirp_limit_w == 15.0);
    CHECK_FALSE(noise::find_band("60m", region, {})->note.empty());
  }
}

TEST_CASE("bands lie in order, do not overlap and hold their own meeting frequency", "[bands][property]") {
  for (int region = 1; region <= 3; ++region) {
    double last = 0;
    for (const noise::Band& band : noise::bands(region)) {
      CHECK(band.low_mhz > last);
      CHECK(band.high_mhz > band.low_mhz);
      CHECK(band.mhz > band.low_mhz);
      CHECK(band.mhz < band.high_mhz);
      last = band.high_mhz;
      const auto by_frequency = noise::band_of(band.mhz, region);
      REQUIRE(by_frequency);
      CHECK(by_frequency->id == band.id);
      CHECK(noise::find_band(band.id, region, {})->mhz == band.mhz);
      // The wavelength gives the band its name: 300/f within a tenth.
      CHECK_THAT(299.792458 / band.mhz / std::stod(band.id), WithinAbs(1.0, 0.10));
    }
  }
}

TEST_CASE("a band is found by every way people write it", "[bands][edge]") {
  for (const char* name :
       {"20m", "20 m", "20", "14MHz", "14 MHz", "14", "14.06", "14.06 mhz", " 20 Meters ", "20M"}) {
    CAPTURE(name);
    const auto band = noise::find_band(name, 1, {});
    REQUIRE(band);
    CHECK(band->id == "20m");
  }
  CHECK(noise::find_band("10", 1, {})->id == "10m");
  CHECK(noise::find_band("10 MHz", 1, {})->id == "30m");
  CHECK(noise::find_band("10.1", 1, {})->id == "30m");
  CHECK(noise::find_band("3.5", 1, {})->id == "80m");
  CHECK(noise::find_band("1.8MHz", 1, {})->id == "160m");
  CHECK(noise::find_band("5", 1, {})->id == "60m");
  CHECK(noise::find_band("7", 1, {})->id == "40m");
  CHECK(noise::find_band("24.9", 1, {})->id == "12m");
  CHECK(noise::find_band("28MHz", 1, {})->id == "10m");
  CHECK(noise::find_band("7.25", 2, {})->id == "40m");
  CHECK_FALSE(noise::find_band("7.25", 1, {}));
  CHECK_FALSE(noise::band_of(7.25, 3));
  CHECK_FALSE(noise::band_of(0, 1));
}

TEST_CASE("what is no band is refused with the list", "[bands][edge]") {
  for (const std::string& bad :
       {std::string(), std::string("4m"), std::string("13"), std::string("nan"), std::string("inf"),
        std::string("m"), std::string("MHz"), std::string("-20"), std::string("1e1"), std::string("20mm"),
        std::string("14..0"), std::string(5000, '9'), std::string("2\n0m")}) {
    CAPTURE(bad);
    const auto band = noise::find_band(bad, 1, {"--bands"});
    REQUIRE_FALSE(band);
    CHECK(band.error().accepted.find("160m, 80m") != std::string::npos);
    CHECK(band.error().to_line().find('\n') == std::string::npos);
    CHECK(band.error().to_line().size() < 400);
  }
  CHECK(noise::find_band("2Om", 1, {}).error().mend.find("'20m'") != std::string::npos);
}

TEST_CASE("modes need what amateur practice says", "[modes][known]") {
  // Amateur practice in 2500 Hz, from memory: SSB +3 threshold, CW by ear -15, FT8 about -21, FT4 -17.5, WSPR
  // -31 (recent).
  struct Row {
    const char* id;
    double threshold_db, required_db;
  };
  const Row rows[] = {{"ssb", 3, 10},      {"cw", -15, -6},    {"cw-auto", -2, -1},     {"rtty", -5, 2},
                      {"ft4", -17.5, -13}, {"ft8", -21, -16},  {"js8", -19, -16},       {"jt9", -26, -23},
                      {"jt65", -24, -22},  {"wspr", -31, -26}, {"digital-voice", 4, 8}, {"psk31", -8, -5}};
  CHECK(noise::modes().size() == std::size(rows));
  for (const Row& row : rows) {
    CAPTURE(row.id);
    const auto mode = noise::find_mode(row.id, {});
    REQUIRE(mode);
    CHECK(mode->threshold_snr_db == row.threshold_db);
    CHECK(mode->required_snr_db == row.required_db);
    CHECK(mode->bandwidth_hz == 2500);
  }
  // Duty of a transmission (handbooks for portable operation, common practice): CW 40-50 %, unprocessed SSB
  // 20-30 %, continuous digital 100 % in alternate slots.
  CHECK_THAT(noise::find_mode("cw", {})->duty, WithinAbs(0.45, 0.05));
  CHECK_THAT(noise::find_mode("ssb", {})->duty, WithinAbs(0.25, 0.05));
  CHECK(noise::find_mode("ft8", {})->duty == 1.0);
  CHECK(noise::find_mode("ft8", {})->tx_share == 0.5);
}

TEST_CASE("modes keep their ranges, and planning asks more than copying", "[modes][property]") {
  for (const noise::Mode& mode : noise::modes()) {
    CAPTURE(mode.id);
    CHECK(mode.required_snr_db > mode.threshold_snr_db);
    CHECK(mode.duty > 0);
    CHECK(mode.duty <= 1);
    CHECK(mode.tx_share > 0);
    CHECK(mode.tx_share <= 0.5);
    CHECK_FALSE(mode.name.empty());
    CHECK(noise::find_mode(mode.id, {})->name == mode.name);
  }
}

TEST_CASE("modes are found by their other names and mended when misspelt", "[modes][edge]") {
  CHECK(noise::find_mode("CW", {})->id == "cw");
  CHECK(noise::find_mode("phone", {})->id == "ssb");
  CHECK(noise::find_mode("usb", {})->id == "ssb");
  CHECK(noise::find_mode("Digital Voice", {})->id == "digital-voice");
  CHECK(noise::find_mode("psk", {})->id == "psk31");
  const auto typo = noise::find_mode("ftt8", {"--mode"});
  REQUIRE_FALSE(typo);
  CHECK(typo.error().mend.find("'ft8'") != std::string::npos);
  CHECK(typo.error().accepted.find("cw, ssb") != std::string::npos);
  CHECK_FALSE(noise::find_mode("", {}));
  CHECK_FALSE(noise::find_mode(std::string(10000, 'c'), {}));
}

TEST_CASE("6 m is asked for by its name or frequency", "[bands][edge]") {
  for (const char* name : {"6m", "6", "50", "50 MHz", "50.313", "6 Meters"}) {
    CAPTURE(name);
    CHECK(noise::find_band(name, 2, {})->id == "6m");
  }
  CHECK_FALSE(noise::find_band("53", 1, {}));  // Region 1 ends at 52 MHz
  CHECK(noise::find_band("53", 2, {})->id == "6m");
}
