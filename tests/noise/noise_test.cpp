#include "skerry/noise/noise.hpp"

#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/core/units.hpp"

namespace noise = skerry::noise;
using noise::Environment;
using noise::Level;

TEST_CASE("man-made and galactic medians are those of the Recommendation at the band centres",
          "[noise][known]") {
  // ITU-R P.372, Fam = c - d log f with its printed c and d (from memory), worked by hand at band centres,
  // 0.05 dB of rounding.
  struct Row {
    double mhz, city, residential, rural, quiet, galactic;
  };
  const Row rows[] = {
      {1.85, 69.4, 65.1, 59.8, 46.0, 45.9},  {3.65, 61.2, 56.9, 51.6, 37.5, 39.1},
      {5.36, 56.6, 52.3, 47.0, 32.7, 35.2},  {7.1, 53.2, 48.9, 43.6, 29.3, 32.4},
      {10.12, 49.0, 44.7, 39.4, 24.9, 28.9}, {14.15, 44.9, 40.6, 35.3, 20.7, 25.5},
      {18.1, 42.0, 37.7, 32.4, 17.6, 23.1},  {21.2, 40.1, 35.8, 30.5, 15.7, 21.5},
      {24.9, 38.1, 33.8, 28.5, 13.7, 19.9},  {28.5, 36.5, 32.2, 26.9, 12.0, 18.5},
      {50.1, 29.7, 25.4, 20.1, 5.0, 12.9},
  };
  for (const Row& row : rows) {
    CAPTURE(row.mhz);
    CHECK_THAT(noise::man_made(Environment::city, row.mhz).fam_db, WithinAbs(row.city, 0.0501));
    CHECK_THAT(noise::man_made(Environment::residential, row.mhz).fam_db, WithinAbs(row.residential, 0.0501));
    CHECK_THAT(noise::man_made(Environment::rural, row.mhz).fam_db, WithinAbs(row.rural, 0.0501));
    CHECK_THAT(noise::man_made(Environment::quiet, row.mhz).fam_db, WithinAbs(row.quiet, 0.0501));
    CHECK_THAT(noise::galactic(row.mhz).fam_db, WithinAbs(row.galactic, 0.0501));
  }
}

TEST_CASE("the deciles are those of the Recommendation", "[noise][known]") {
  // ITU-R P.372, table of Du and Dl of man-made noise; galactic 2 dB both ways (from memory).
  const Level city = noise::man_made(Environment::city, 10);
  CHECK(city.upper_db == 11.0);
  CHECK(city.lower_db == 6.7);
  const Level residential = noise::man_made(Environment::residential, 10);
  CHECK(residential.upper_db == 10.6);
  CHECK(residential.lower_db == 5.3);
  const Level rural = noise::man_made(Environment::rural, 10);
  CHECK(rural.upper_db == 9.2);
  CHECK(rural.lower_db == 4.6);
  CHECK(noise::man_made(Environment::quiet, 10).upper_db == 9.2);
  CHECK(noise::galactic(10).upper_db == 2.0);
  CHECK(noise::galactic(10).lower_db == 2.0);
}

TEST_CASE("noise power is k T0 b F", "[noise][known]") {
  // SI: k = 1.380649e-23 J/K exactly, T0 = 290 K: -203.98 dBW/Hz, printed and used as -204 by ITU-R P.372.
  CHECK_THAT(noise::noise_dbw(0, 1), WithinAbs(10 * std::log10(1.380649e-23 * 290), 0.03));
  CHECK(noise::noise_dbw(0, 1) == -204.0);
  // Quiet rural, 7.1 MHz, 2500 Hz by hand: 29.25 + 33.98 - 204 = -140.77.
  CHECK_THAT(noise::noise_dbw(noise::man_made(Environment::quiet, 7.1).fam_db, 2500),
             WithinAbs(-140.77, 0.02));
}

TEST_CASE("independent sources add as powers", "[noise][known]") {
  // Two equal powers are 10 log 2 = 3.01 dB more; no spread, no change of it.
  const Level pair = noise::combine({{40, 0, 0}, {40, 0, 0}});
  CHECK_THAT(pair.fam_db, WithinAbs(43.0103, 1e-4));
  CHECK_THAT(pair.upper_db, WithinAbs(0.0, 1e-6));
  // One alone comes back as it went in.
  const Level alone = noise::combine({{43.6, 9.2, 4.6}});
  CHECK_THAT(alone.fam_db, WithinAbs(43.6, 1e-9));
  CHECK_THAT(alone.upper_db, WithinAbs(9.2, 1e-9));
  CHECK_THAT(alone.lower_db, WithinAbs(4.6, 1e-9));
  // Log-normal sum by moments (Fenton 1960, the method of ITU-R P.372), worked apart from this program.
  const Level three = noise::combine({{43.6, 9.2, 9.2}, {32.4, 2, 2}, {40.0, 9.0, 9.0}});
  CHECK_THAT(three.fam_db, WithinAbs(46.31, 0.006));
  CHECK_THAT(three.upper_db, WithinAbs(8.26, 0.006));
  CHECK_THAT(three.lower_db, WithinAbs(8.26, 0.006));
  // The upper decile taken into the sum stops at 12 dB (ITU-R P.372, from memory).
  CHECK_THAT(noise::combine({{40, 20, 5}}).upper_db, WithinAbs(12.0, 1e-9));
}

TEST_CASE("the sum of log-normal sources has the mean power of a random experiment", "[noise][known]") {
  // Mean powers of independent sources add exactly, whatever their spread; the fit by moments keeps mean and
  // variance. Drawn here with the standard library: 400 000 draws leave about 0.5 % on the mean, 0.02 dB.
  std::mt19937_64 rng(9);
  std::normal_distribution<double> gauss;
  const double sigma_a = 5.0 / 1.282;
  const double sigma_b = 7.0 / 1.282;
  double sum = 0;
  for (int i = 0; i < 400000; ++i) {
    sum += skerry::from_db(40 + sigma_a * gauss(rng)) + skerry::from_db(38 + sigma_b * gauss(rng));
  }
  const double mean_db = skerry::to_db(sum / 400000);
  const Level both = noise::combine({{40, 5, 5}, {38, 7, 7}});
  const double c = 10 / std::log(10.0);
  const double sigma = both.upper_db / 1.282;
  CHECK_THAT(both.fam_db + sigma * sigma / (2 * c), WithinAbs(mean_db, 0.05));
}

TEST_CASE("noise() sums what its parts say", "[noise][property]") {
  std::mt19937 rng(11);
  const auto uniform = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(rng); };
  for (int i = 0; i < 3000; ++i) {
    noise::Conditions at;
    at.environment = static_cast<Environment>(i % 4);
    at.lat_deg = uniform(-90, 90);
    at.month = 1 + static_cast<unsigned>(i) % 12;
    at.solar_hour = uniform(0, 24);
    at.zenith_deg = uniform(0, 180);
    at.fof2_mhz = uniform(1, 20);
    at.land_share = i % 3 / 2.0;
    const double f = uniform(1.6, 60);
    CAPTURE(at.lat_deg, at.month, at.solar_hour, at.zenith_deg, f);
    const noise::Sources s = noise::noise(at, f);
    CHECK(s.man_made.fam_db == noise::man_made(at.environment, f).fam_db);
    CHECK(s.atmospheric.fam_db == noise::atmospheric(at, f).fam_db);
    CHECK(s.galactic.has_value() == (f > at.fof2_mhz));
    const Level whole = s.galactic ? noise::combine({s.man_made, s.atmospheric, *s.galactic})
                                   : noise::combine({s.man_made, s.atmospheric});
    CHECK_THAT(s.total.fam_db, WithinAbs(whole.fam_db, 1e-9));
    CHECK_THAT(s.total.upper_db, WithinAbs(whole.upper_db, 1e-9));
    CHECK_THAT(s.total.lower_db, WithinAbs(whole.lower_db, 1e-9));
    CHECK(std::isfinite(s.total.fam_db));
    CHECK(s.total.upper_db > 0);
    CHECK(s.total.lower_db > 0);
    // The median of a sum is not below the largest median by more than rounding would allow, nor above the
    // sum of means.
    CHECK(s.total.fam_db > std::max(s.man_made.fam_db, s.atmospheric.fam_db) - 0.5);
    CHECK(s.total.fam_db <
          std::max({s.man_made.fam_db, s.atmospheric.fam_db, s.galactic ? s.galactic->fam_db : -99}) + 12);
  }
}

TEST_CASE("the coarse atmospheric table gives its own entries back", "[noise][known]") {
  // At 1.6 MHz the night law takes off 26 L + 6 L^2 = 5.557 dB (L = log 1.6 = 0.20412). Levels: the project's
  // own coarse table (not a standard), hand-copied: band, season, hour, surface.
  const auto at = [](double lat, unsigned month, double hour, bool land) {
    noise::Conditions c;
    c.lat_deg = lat;
    c.month = month;
    c.solar_hour = hour;
    c.land_share = land ? 1 : 0;
    c.zenith_deg = 180;  // night law at any hour
    return noise::atmospheric(c, 1.6).fam_db + 5.557;
  };
  CHECK_THAT(at(10, 7, 2, true), WithinAbs(90, 0.002));
  CHECK_THAT(at(-10, 1, 22, false), WithinAbs(75, 0.002));
  CHECK_THAT(at(30, 7, 6, true), WithinAbs(62, 0.002));
  CHECK_THAT(at(30, 1, 18, false), WithinAbs(48, 0.002));
  CHECK_THAT(at(50, 7, 14, true), WithinAbs(45, 0.002));
  CHECK_THAT(at(50, 12, 10, false), WithinAbs(20, 0.002));
  CHECK_THAT(at(70, 6, 22, false), WithinAbs(48, 0.002));
  CHECK_THAT(at(70, 2, 14, true), WithinAbs(18, 0.002));
  // South: the seasons change places. Spring and autumn are their mean. Between centres straight lines, round
  // midnight too.
  CHECK_THAT(at(-50, 1, 14, true), WithinAbs(45, 0.002));
  CHECK_THAT(at(50, 4, 2, true), WithinAbs(60, 0.002));
  CHECK_THAT(at(-50, 10, 2, true), WithinAbs(60, 0.002));
  CHECK_THAT(at(40, 7, 2, true), WithinAbs(72.5, 0.002));
  CHECK_THAT(at(50, 7, 8, true), WithinAbs(37.5, 0.002));
  CHECK_THAT(at(50, 1, 0, false), WithinAbs(50, 0.002));
  CHECK_THAT(at(10, 1, 20, true), WithinAbs(87.5, 0.002));
  CHECK_THAT(at(10, 1, 24, true), WithinAbs(at(10, 1, 0, true), 1e-9));
  CHECK_THAT(at(90, 1, 2, true), WithinAbs(42, 0.002));
  CHECK_THAT(at(0, 1, 2, true), WithinAbs(90, 0.002));
}

TEST_CASE("by day the atmospheric curve passes through its points", "[noise][known]") {
  // 10 deg, land, 14 h: z = 70. Points of the coarse law by hand: 3 MHz 20 + 0.65*40 = 46, 10 MHz 26 +
  // 0.25*40 = 36, 20 MHz 24, 30 MHz 14; half way in log f between 3 and 10 MHz (5.477): 41.
  noise::Conditions c;
  c.lat_deg = 10;
  c.month = 7;
  c.solar_hour = 14;
  c.land_share = 1;
  c.zenith_deg = 30;
  CHECK_THAT(noise::atmospheric(c, 3).fam_db, WithinAbs(46, 1e-6));
  CHECK_THAT(noise::atmospheric(c, std::sqrt(30.0)).fam_db, WithinAbs(41, 1e-6));
  CHECK_THAT(noise::atmospheric(c, 10).fam_db, WithinAbs(36, 1e-6));
  CHECK_THAT(noise::atmospheric(c, 20).fam_db, WithinAbs(24, 1e-6));
  CHECK_THAT(noise::atmospheric(c, 30).fam_db, WithinAbs(14, 1e-6));
  // Twilight is half and half at 90 deg: night at 10 MHz is 70 - 26 - 6 = 38.
  c.zenith_deg = 90;
  CHECK_THAT(noise::atmospheric(c, 10).fam_db, WithinAbs(37, 1e-6));
}

TEST_CASE("noise behaves as everybody hears it", "[noise][property]") {
  // Common practice: man-made and galactic noise fall with frequency, a city is louder than the country, the
  // low bands are noisier at night, summer storms are louder than winter ones, the tropics louder than the
  // north, land than sea.
  for (double f = 1.6; f < 59; f *= 1.07) {
    for (const auto e :
         {Environment::city, Environment::residential, Environment::rural, Environment::quiet}) {
      CHECK(noise::man_made(e, f * 1.01).fam_db < noise::man_made(e, f).fam_db);
      CHECK(noise::man_made(noise::noisier(e), f).fam_db >= noise::man_made(e, f).fam_db);
    }
    CHECK(noise::galactic(f * 1.01).fam_db < noise::galactic(f).fam_db);
  }
  noise::Conditions night;
  night.lat_deg = 45;
  night.month = 7;
  night.solar_hour = 0;
  night.zenith_deg = 120;
  noise::Conditions day = night;
  day.solar_hour = 12;
  day.zenith_deg = 25;
  for (const double f : {1.8, 3.6, 7.0}) {
    CAPTURE(f);
    CHECK(noise::atmospheric(night, f).fam_db > noise::atmospheric(day, f).fam_db + 3);
    noise::Conditions winter = night;
    winter.month = 1;
    CHECK(noise::atmospheric(night, f).fam_db > noise::atmospheric(winter, f).fam_db);
    noise::Conditions tropics = night;
    tropics.lat_deg = 5;
    CHECK(noise::atmospheric(tropics, f).fam_db > noise::atmospheric(night, f).fam_db);
    noise::Conditions land = night;
    land.land_share = 1;
    CHECK(noise::atmospheric(land, f).fam_db > noise::atmospheric(night, f).fam_db);
  }
}

TEST_CASE("galactic noise is shut out below the critical frequency", "[noise][known]") {
  // ITU-R P.372: cosmic noise reaches the ground above foF2 only.
  noise::Conditions c;
  c.fof2_mhz = 8;
  CHECK_FALSE(noise::noise(c, 7.03).galactic);
  CHECK_FALSE(noise::noise(c, 8.0).galactic);
  CHECK(noise::noise(c, 8.01).galactic);
  // On a quiet island it is the floor above about 10 MHz (common practice): louder than quiet-rural man-made
  // noise.
  CHECK(noise::galactic(14).fam_db > noise::man_made(Environment::quiet, 14).fam_db);
}

TEST_CASE("environments are read by name and mended when misspelt", "[noise][edge]") {
  CHECK(noise::parse_environment("city", {}) == Environment::city);
  CHECK(noise::parse_environment(" Quiet Rural ", {}) == Environment::quiet);
  CHECK(noise::parse_environment("quiet", {}) == Environment::quiet);
  for (const auto e : {Environment::city, Environment::residential, Environment::rural, Environment::quiet}) {
    CHECK(noise::parse_environment(noise::to_text(e), {}) == e);
  }
  const auto typo = noise::parse_environment("residental", {"trip.toml", 4, 2});
  REQUIRE_FALSE(typo);
  CHECK(typo.error().mend.find("residential") != std::string::npos);
  CHECK(typo.error().where.line == 4);
  CHECK_FALSE(noise::parse_environment("", {}));
  CHECK(noise::noisier(Environment::quiet) == Environment::rural);
  CHECK(noise::noisier(Environment::rural) == Environment::residential);
  CHECK(noise::noisier(Environment::residential) == Environment::city);
  CHECK(noise::noisier(Environment::city) == Environment::city);
}
