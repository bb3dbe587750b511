// Tables of a month's hours: what is read, which cases they are, how hours and lengths are told.
#include "skerry/after/hour_table.hpp"

#include <fmt/format.h>

#include <array>

#include "check.hpp"

using namespace skerry;
using namespace skerry::after;

namespace {

const std::string header = "month,utc_hour,mhz,tx,rx,power_w,days_active,days_heard\n";

HourTable table_of(const std::string& rows) {
  auto table = read_hour_table(header + rows, "h.csv");
  if (!table) FAIL(table.error().front().to_line());
  return std::move(*table);
}

SpotQuestion question() {
  SpotQuestion q;
  q.mode = *noise::find_mode("cw", {});
  q.r12 = [](Month) { return ionosphere::R12(60); };
  return q;
}

}  // namespace

TEST_CASE("a table of hours is read with its days", "[after][known]") {
  const auto table =
      table_of("2017-07,9,14.1,\"60.2,24.8\",JO62,100,27,13\n2017-07,10,14.1,\"60.2,24.8\",JO62,100,0,0\n");
  REQUIRE(table.rows.size() == 1);  // the second has no day that could tell
  const auto& r = table.rows.front();
  CHECK(to_iso(r.month) == "2017-07");
  CHECK(r.utc_hour == 9);
  CHECK(r.mhz == 14.1);
  CHECK(r.days_active == 27);
  CHECK(r.days_heard == 13);
  CHECK(table.stations.size() == 2);
}

TEST_CASE("broken hours are left out with their line; a table without columns or rows is refused",
          "[after][edge]") {
  const std::string good = "2017-07,9,14.1,JO62,JN45,100,20,3\n";
  for (const char* row : {"2017-13,9,14.1,JO62,JN45,100,20,3\n", "2017-07,24,14.1,JO62,JN45,100,20,3\n",
                          "2017-07,9.5,14.1,JO62,JN45,100,20,3\n", "2017-07,9,140,JO62,JN45,100,20,3\n",
                          "2017-07,9,14.1,JO62,JO62,100,20,3\n", "2017-07,9,14.1,JO62,JN45,0,20,3\n",
                          "2017-07,9,14.1,JO62,JN45,100,32,3\n", "2017-07,9,14.1,JO62,JN45,100,20,21\n",
                          "2017-07,9,14.1,JO62,JN45,100,20,nan\n", "2017-07,9,14.1,JO62,JN45,100,20\n"}) {
    CAPTURE(row);
    const auto table = table_of(good + row);
    CHECK(table.rows.size() == 1);
    REQUIRE(table.left_out.size() == 1);
    CHECK(table.left_out[0].where.line == 3);
  }
  CHECK_FALSE(read_hour_table(header, "h.csv"));
  CHECK_FALSE(read_hour_table("month,utc_hour,mhz,tx,rx,power_w,days_active\n", "h.csv"));
}

TEST_CASE("a row counts as its days, by band and by length", "[after][known]") {
  // Source: by hand: 20 and 10 days on 20 m (600 km), 5 on 15 m (9300 km).
  const auto table = table_of(
      "2017-07,9,14.1,JO62,JN45,100,20,8\n2017-07,10,14.1,JO62,JN45,100,10,2\n2017-07,10,21.1,JO62,PM95,100,5,0\n"
      "2017-07,11,21.1,JO62,PM95,100,4,4\n");
  const auto scores = score_hours(table, question(), 5);
  CHECK(scores.spots == 3);  // the last has too few days
  CHECK(scores.stations == 3);
  CHECK(to_iso(scores.first) == "2017-07-01T00:00:00Z");
  REQUIRE(scores.bands.size() == 2);
  CHECK(scores.bands[0].band == "20m");
  CHECK(scores.bands[0].heard == 10);
  CHECK(scores.bands[0].silent == 20);
  CHECK(scores.bands[0].brier.base_rate == Approx(1.0 / 3));
  CHECK(scores.bands[1].heard == 0);
  CHECK(scores.all.silent == 25);
  REQUIRE(scores.classes.size() == 2);
  CHECK(scores.classes[0].to_km == 2500);
  CHECK(scores.classes[0].score.heard == 10);
  CHECK(scores.classes[1].from_km == 7000);
  CHECK(scores.classes[1].score.silent == 5);
  CHECK_FALSE(scores.all.hours);  // two hours are too few to rank
}

TEST_CASE("days heard in the forecast's own order rank as one", "[after][property]") {
  // A month that went as forecast: heard on as many days as the program says; and one turned round.
  const auto ask = [](const std::array<double, 24>& heard) {
    std::string rows;
    for (std::size_t h = 0; h < 24; ++h)
      rows += fmt::format("2017-07,{},14.1,JO62,EM95,100,30,{:.3f}\n", h, heard[h]);
    return score_hours(table_of(rows), question(), 1);
  };
  std::array<double, 24> forecast{};
  for (std::size_t h = 0; h < 24; ++h) {
    // what is said of one hour, from a table of that hour alone
    forecast[h] =
        score_hours(table_of(fmt::format("2017-07,{},14.1,JO62,EM95,100,30,15\n", h)), question(), 1)
            .all.brier.mean_forecast;
  }
  std::array<double, 24> as_said{}, turned{};
  for (std::size_t h = 0; h < 24; ++h) {
    as_said[h] = 30 * forecast[h];
    turned[h] = 30 * (1 - forecast[h]);
  }
  const auto right = ask(as_said);
  REQUIRE(right.all.hours);
  CHECK(right.all.hours->ways == 1);
  CHECK(right.all.hours->mean > 0.99);  // days printed to a thousandth may tie
  CHECK(*right.all.brier.skill > 0);
  CHECK(ask(turned).all.hours->mean < -0.99);
}
