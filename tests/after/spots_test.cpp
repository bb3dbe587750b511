// Tables of reports: what is read, which cases they hold, and what is forecast for them.
#include "skerry/after/spots.hpp"

#include <cmath>
#include <map>
#include <random>

#include "check.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/path_answer.hpp"

using namespace skerry;
using namespace skerry::after;

namespace {

const std::string header = "time_utc,mhz,tx,rx,power_w,snr_db\n";

Spots spots_of(const std::string& rows) {
  auto spots = read_spots(header + rows, "s.csv");
  if (!spots) FAIL(spots.error().front().to_line());
  return std::move(*spots);
}

SpotQuestion question() {
  SpotQuestion q;
  q.mode = *noise::find_mode("wspr", {});
  q.r12 = [](Month) { return ionosphere::R12(60); };
  return q;
}

}  // namespace

TEST_CASE("spots are read with their times, places and powers", "[after][known]") {
  const auto spots = read_spots(
      "\xEF\xBB\xBF# comment\nSNR_dB, Time_UTC, MHz, rx, tx, power_dBm, note\n"
      "-12,2025-10-06T02:04:30Z,14.0971,JN45,jo62,37,\"a, b\"\n"
      ",2025-10-06 02:14,14.0971,\"45.5,9.0\",JO62,37,\n"
      "-3.5,1759716240,7.04,JN45,JO62,30,\n"
      ",2025-10-06T02:20,7.04,JN45,,,\n",
      "s.csv");
  REQUIRE(spots);
  CHECK(spots->left_out.empty());
  REQUIRE(spots->spots.size() == 4);
  CHECK(to_iso(spots->spots[0].time) == "2025-10-06T02:04:30Z");
  // Source: dBm is decibels above a milliwatt: 37 dBm = 5.01 W.
  CHECK(spots->spots[0].power_w == Approx(std::pow(10, 0.7)));
  CHECK(spots->spots[0].snr_db == -12);
  CHECK_FALSE(spots->spots[1].snr_db);
  // Source: 1759716240 s after 1970 is 2025-10-06 02:04 UTC (GNU date).
  CHECK(to_iso(spots->spots[2].time) == "2025-10-06T02:04:00Z");
  CHECK(spots->spots[2].power_w == Approx(1));
  CHECK_FALSE(spots->spots[3].tx);
  CHECK(spots->stations.size() == 3);  // JN45, JO62 in either case, and the typed place
}

TEST_CASE("broken records are left out with their line; a table without columns or records is refused",
          "[after][edge]") {
  const auto spots = spots_of(
      "2025-10-06T02:04Z,14.0971,JO62,JN45,1,-12\n"
      "2025-10-06,14.0971,JO62,JN45,1,-12\n"
      "2025-10-06T25:04Z,14.0971,JO62,JN45,1,-12\n"
      "2025-10-06T02:04Z,144.3,JO62,JN45,1,-12\n"
      "2025-10-06T02:04Z,14.0971,ZZ62,JN45,1,-12\n"
      "2025-10-06T02:04Z,14.0971,JO62,JN45,0,-12\n"
      "2025-10-06T02:04Z,14.0971,JO62,JN45,1,loud\n"
      "2025-10-06T02:04Z,14.0971,JO62,JO62,1,-12\n"
      "2025-10-06T02:04Z,14.0971,,JN45,,-12\n"
      "2025-10-06T02:04Z,14.0971,JO62,JN45,1\n"
      "1025-10-06T02:04Z,14.0971,JO62,JN45,1,-12\n"
      "2025-10-06T02:04Z,nan,JO62,JN45,1,-12\n");
  CHECK(spots.spots.size() == 1);
  REQUIRE(spots.left_out.size() == 11);
  for (std::size_t i = 0; i < spots.left_out.size(); ++i) {
    CAPTURE(spots.left_out[i].to_line());
    CHECK(spots.left_out[i].where.line == static_cast<int>(i) + 3);
  }
  const auto named = spots_of(
      "2025-10-06T02:04Z,14.0971,JO62,JN45,1,-12\n2025-10-06T02:04Z,14.0971,QQ1AAA,JN45,1,-12\n"
      "2025-10-06T02:04Z,14.0971,JO62,QQ1AAA,1,-12\n");
  REQUIRE(named.left_out.size() == 2);
  CHECK(named.left_out[0].found == "tx that is no place");
  for (const auto& error : named.left_out.told()) CHECK(error.to_line().find("QQ1AAA") == std::string::npos);
  const auto no_columns = read_spots("time_utc,mhz,tx,rx\n", "s.csv");
  REQUIRE_FALSE(no_columns);
  CHECK(no_columns.error().size() == 2);
  CHECK_FALSE(read_spots(header, "s.csv"));
  CHECK_FALSE(read_spots(header + "x\n", "s.csv"));
  CHECK_FALSE(read_spots("", "s.csv"));
}

TEST_CASE("a silent case counts only where the receiver and the sender were active", "[after][known]") {
  // By hand. Hour 2 (01:30 to 02:29) on 20 m: senders JO62 and FN31, receivers JN45 (heard one), IO91 (heard
  // the other) and PM95 (on the band, heard nobody): 6 cases, 2 of them heard. Hour 3: one sender, one
  // receiver, heard. 40 m: the receiver PM95 alone, no sender known: no case at all.
  const auto spots = spots_of(
      "2025-10-06T01:30Z,14.0971,JO62,JN45,1,-12\n"
      "2025-10-06T01:58Z,14.0971,JO62,JN45,1,-10\n"
      "2025-10-06T02:29Z,14.0975,FN31,IO91,1,-15\n"
      "2025-10-06T02:10Z,14.0971,,PM95,,\n"
      "2025-10-06T02:30Z,14.0971,JO62,JN45,1,-11\n"
      "2025-10-06T02:10Z,7.0401,,PM95,,\n");
  const auto scores = score_spots(spots, question());
  CHECK(scores.all.heard == 3);
  CHECK(scores.all.silent == 4);
  REQUIRE(scores.bands.size() == 2);
  CHECK(scores.bands[0].band == "40m");
  CHECK(scores.bands[0].heard + scores.bands[0].silent == 0);
  CHECK(scores.bands[1].heard == 3);
  CHECK(scores.stations == 5);
  CHECK(scores.silent_step == 1);
  // 3 heard cases with one S/N each, the first the median of two; none to compare with where the path is
  // closed.
  CHECK(static_cast<double>(scores.all.snr.count) + scores.all.heard_though_closed == 3);
}

TEST_CASE("the forecast of a case is that of `path` for its hour, month and power", "[after][property]") {
  const auto spots = spots_of("2025-10-06T09:04Z,14.0971,JO62,JN45,0.2,-12\n");
  const auto q = question();
  const auto scores = score_spots(spots, q);
  circuit::PathQuestion path;
  path.from.at =
      spots.stations[0] == *geodesy::parse_locator("JO62", {}) ? spots.stations[0] : spots.stations[1];
  path.to.at = *geodesy::parse_locator("JN45", {});
  path.from.power_w = 0.2;
  path.to.environment = noise::Environment::residential;
  path.climate.day = middle_of(std::chrono::year{2025} / 10);
  path.climate.r12 = ionosphere::R12(60);
  path.frequencies = {{"20m", noise::find_band("20m", 1, {})->mhz}};
  path.mode = q.mode;
  path.mode.required_snr_db = q.mode.threshold_snr_db;
  path.from.spread_db = circuit::sender_spread_db;
  const auto answer = circuit::answer(path);
  const auto& there = answer.ways[0].hours[9].bands[0].there;
  REQUIRE(there.open);
  CHECK(-12 - scores.all.snr.mean == Approx(there.snr_db).epsilon(1e-9));
  CHECK(scores.all.brier.mean_forecast == Approx(there.days_in_ten / 10).epsilon(1e-9));
}

TEST_CASE("reports drawn from the forecasts score as reliable, whatever the order of the file",
          "[after][property]") {
  // Simulation only: the scatter about the forecasts is the forecasts' own.
  std::mt19937 random(11);
  std::vector<std::string> rows;
  const std::vector<std::string> senders{"JO62", "FN31", "PM95"}, receivers{"IO91", "EN52", "PM85", "OF78"};
  const auto q = question();
  std::vector<circuit::PathQuestion::Frequency> bands;
  for (const char* b : {"40m", "20m", "15m"}) bands.push_back({b, noise::find_band(b, 1, {})->mhz});
  std::map<std::pair<std::string, std::string>, circuit::PathAnswer> answers;
  for (const auto& tx : senders) {
    for (const auto& rx : receivers) {
      circuit::PathQuestion path;
      path.from.at = *geodesy::parse_locator(tx, {});
      path.to.at = *geodesy::parse_locator(rx, {});
      path.from.power_w = 500;
      path.from.spread_db = circuit::sender_spread_db;
      path.to.environment = noise::Environment::residential;
      path.climate.day = middle_of(std::chrono::year{2025} / 10);
      path.climate.r12 = ionosphere::R12(60);
      path.frequencies = bands;
      path.mode = q.mode;
      path.mode.required_snr_db = q.mode.threshold_snr_db;
      path.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
      answers[{tx, rx}] = circuit::answer(path);
    }
  }
  std::uniform_real_distribution<double> uniform;
  for (int day = 1; day <= 28; ++day) {
    for (std::size_t hour = 0; hour < 24; ++hour) {
      for (std::size_t b = 0; b < bands.size(); ++b) {
        const auto when = "2025-10-" + std::string(day < 10 ? "0" : "") + std::to_string(day) + "T" +
                          (hour < 10 ? "0" : "") + std::to_string(hour) + ":10Z,";
        const auto mhz = std::to_string(bands[b].mhz);
        for (const auto& rx : receivers) rows.push_back(when + mhz + ",," + rx + ",,");
        for (const auto& tx : senders) {
          // A sender that nobody hears is not known to send. Where one receiver is nearly sure to hear it,
          // that leaves the others' shares as they are, to 3 %.
          std::map<std::string, double> chance;
          double best = 0;
          for (const auto& rx : receivers) {
            const auto& answer = answers.at({tx, rx});
            for (const auto& way : answer.ways) {
              if (way.path.way == geodesy::Way::long_way && answer.ways[0].path.distance_km < 8000) continue;
              const auto& l = way.hours[hour].bands[b].there;
              chance[rx] = std::max(chance[rx], l.days_in_ten / 10);
            }
            best = std::max(best, chance[rx]);
          }
          if (best < 0.97) continue;
          for (const auto& rx : receivers) {
            if (uniform(random) < chance[rx]) rows.push_back(when + mhz + "," + tx + "," + rx + ",500,");
          }
        }
      }
    }
  }
  const auto text_of = [&] {
    std::string text;
    for (const auto& row : rows) text += row + "\n";
    return text;
  };
  const auto scores = score_spots(spots_of(text_of()), q);
  CHECK(scores.all.brier.reliability < 0.002);
  CHECK(*scores.all.roc_area > 0.8);
  CHECK(*scores.all.brier.skill > 0.3);
  std::shuffle(rows.begin(), rows.end(), random);
  const auto again = score_spots(spots_of(text_of()), q);
  CHECK(again.all.brier.score == Approx(scores.all.brier.score).epsilon(1e-12));
  CHECK(again.all.heard == scores.all.heard);
  // Every k-th silent case, counted k times, tells about the same.
  auto few = q;
  few.most_silent = 1000;
  const auto thinned = score_spots(spots_of(text_of()), few);
  CHECK(thinned.silent_step > 1);
  CHECK(thinned.all.silent == Approx(scores.all.silent).epsilon(0.01));
  CHECK(thinned.all.brier.score == Approx(scores.all.brier.score).margin(0.01));
}
