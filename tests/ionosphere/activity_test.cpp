#include <string>

#include "check.hpp"
#include "skerry/ionosphere/forecast_table.hpp"

using namespace skerry;
using namespace skerry::ionosphere;
using namespace std::chrono;

namespace {
using Kind = ActivitySource::Kind;
Result<Activity> read(const std::string& json, Month month = 2027y / February) {
  return forecast_from_file(json, month, {"cycle.json", 0, 0});
}
}  // namespace

TEST_CASE("flux and sunspots convert as the Recommendation says", "[ionosphere][activity][known]") {
  // Source: ITU-R P.371 (from memory): R12 0: 63.7; 50: 102.3; 100: 145.4; 150: 192.9.
  CHECK_THAT(f107_from_r12(0), WithinAbs(63.7, 0.05));
  CHECK_THAT(f107_from_r12(50), WithinAbs(102.3, 0.05));
  CHECK_THAT(f107_from_r12(100), WithinAbs(145.4, 0.05));
  CHECK_THAT(f107_from_r12(150), WithinAbs(192.9, 0.05));
  // Source: common practice: version 1 = 0.7 x version 2.
  CHECK_THAT(r12_from_ssn_v2(160), WithinAbs(112, 1e-9));
}

TEST_CASE("flux back to sunspots is the exact inverse and never negative",
          "[ionosphere][activity][property]") {
  for (double r = 0; r <= 300; r += 7.3) CHECK_THAT(r12_from_f107(f107_from_r12(r)), WithinAbs(r, 1e-9));
  CHECK(r12_from_f107(60) == 0.0);
  CHECK(r12_from_f107(0) == 0.0);
}

TEST_CASE("the past of the built-in table is the cycle as observed", "[ionosphere][activity][known]") {
  // Source: smoothed maxima and minima, version 2 scale, from memory: 1958-04 about 285 x 0.97, 2000-04 about
  // 175-180, 2008-12 2.2, 2014-04 116.4, 2019-12 1.8, 2024-10 160.9. Times 0.7; 2 % and 0.5 for what a daily
  // file gives.
  const auto near = [](Month month, double ssn_v2) {
    const Activity a = forecast(month);
    CAPTURE(to_iso(month));
    CHECK_THAT(a.r12, WithinAbs(0.7 * ssn_v2, 0.5 + 0.02 * 0.7 * ssn_v2));
    CHECK(a.source.kind == Kind::observed);
  };
  near(2008y / December, 2.2);
  near(2014y / April, 116.4);
  near(2019y / December, 1.8);
  near(2024y / October, 160.9);
}

TEST_CASE("the future says it is a forecast, and grows less certain", "[ionosphere][activity][property]") {
  const Activity next = forecast(2027y / February);
  CHECK(next.source.kind == Kind::forecast);
  CHECK(next.source.made.find("2025") == 0);
  const auto width = [](Month m) { return forecast(m).high_r12 - forecast(m).r12; };
  CHECK(width(2024y / June) < width(2025y / June));
  CHECK(width(2025y / June) < width(2026y / June));
  CHECK(width(2026y / December) > 10);
  for (Month m = 1950y / January; m <= 2050y / December; m += months{1}) {
    const Activity a = forecast(m);
    CAPTURE(to_iso(m));
    CHECK(a.low_r12 >= 0);
    CHECK(a.low_r12 <= a.r12);
    CHECK(a.r12 <= a.high_r12);
    CHECK(a.r12 < 200);
    CHECK((a.source.kind == Kind::mean_of_cycles) == a.source.made.empty());
  }
}

TEST_CASE("outside its months the table answers with the mean cycle and says so",
          "[ionosphere][activity][edge]") {
  for (const Month m : {1950y / January, 1958y / March, 2041y / January, 2050y / December}) {
    const Activity a = forecast(m);
    CHECK(a.source.kind == Kind::mean_of_cycles);
    CHECK(a.source.month == m);
    CHECK(a.high_r12 - a.low_r12 > 80);
  }
  CHECK(forecast(1958y / April).source.kind == Kind::observed);
  CHECK(forecast(2040y / December).source.kind == Kind::forecast);
}

TEST_CASE("an agency's file is read as it is published", "[ionosphere][activity][known]") {
  const auto a = read(R"([
    {"time-tag": "2027-01", "predicted_ssn": 88.1, "high_ssn": 96, "low_ssn": 80, "predicted_f10.7": 122.5},
    {"time-tag": "2027-02", "predicted_ssn": 86.0, "high_ssn": 100.0, "low_ssn": 70.0, "predicted_f10.7": 120.1}
  ])");
  REQUIRE(a);
  CHECK_THAT(a->r12, WithinAbs(60.2, 1e-9));
  CHECK_THAT(a->low_r12, WithinAbs(49, 1e-9));
  CHECK_THAT(a->high_r12, WithinAbs(70, 1e-9));
  CHECK(a->source.kind == Kind::file);
  CHECK(a->source.made == "cycle.json");
}

TEST_CASE("limits may be missing and numbers may be quoted", "[ionosphere][activity][edge]") {
  const auto a = read(R"([{"time-tag":"2027-02","predicted_ssn":"100","low_ssn":null}])");
  REQUIRE(a);
  CHECK_THAT(a->r12, WithinAbs(70, 1e-9));
  const Activity usual = forecast(2027y / February);
  CHECK_THAT(a->high_r12 - a->low_r12, WithinAbs(usual.high_r12 - usual.low_r12, 1e-9));
}

TEST_CASE("every mistake in a forecast file is named with its place", "[ionosphere][activity][edge]") {
  struct Row {
    std::string json, found;
    int line, column;
  };
  for (const Row& r : {
           Row{"", "not JSON", 1, 1},
           Row{"[{\"time-tag\":\"2027-02\",\n  \"predicted_ssn\":oops}]", "not JSON", 2, 19},
           Row{"{\"a\":1}", "{\"a\":1}", 1, 1},
           Row{"[]", "empty array", 1, 1},
           Row{"[\n 7]", "7", 2, 2},
           Row{"[{\"predicted_ssn\":3}]", "without \"time-tag\"", 1, 2},
           Row{"[{\"time-tag\":202702,\"predicted_ssn\":3}]", "202702", 1, 2},
           Row{"[{\"time-tag\":\"Feb 2027\",\"predicted_ssn\":3}]", "Feb 2027", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\"}]", "without \"predicted_ssn\"", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":null}]", "null", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":-1}]", "-1", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":\"nan\"}]", "nan", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":601}]", "601", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":true}]", "true", 1, 2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":50,\"low_ssn\":60}]", "low 60, predicted 50", 1,
               2},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":50,\"high_ssn\":\"x\"}]", "\"high_ssn\": \"x\"",
               1, 2},
           // not the month asked for, and brackets, commas and quotes inside strings, all the same
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":5,\"note\":\"],[{\\\"\"},\n\n  "
               "{\"time-tag\":\"2027-03\"}]",
               "predicted_ssn", 3, 3},
           Row{"[{\"time-tag\":\"2027-02\",\"predicted_ssn\":5},\n{\"time-tag\":\"2027-02\",\"predicted_"
               "ssn\":5}]",
               "second entry for 2027-02", 2, 1},
       }) {
    CAPTURE(r.json);
    const auto a = read(r.json);
    REQUIRE_FALSE(a);
    CAPTURE(a.error().to_line());
    CHECK(a.error().where.file == "cycle.json");
    CHECK(a.error().found.find(r.found) != std::string::npos);
    CHECK(a.error().where.line == r.line);
    CHECK(a.error().where.column == r.column);
    CHECK_FALSE(a.error().accepted.empty());
  }
}

TEST_CASE("a month the file lacks is refused with the months it has", "[ionosphere][activity][edge]") {
  const auto a =
      read(R"([{"time-tag":"2027-03","predicted_ssn":1},{"time-tag":"2026-12","predicted_ssn":2}])");
  REQUIRE_FALSE(a);
  CHECK(a.error().found == "no entry for 2027-02");
  CHECK(a.error().accepted.find("from 2026-12 to 2027-03") != std::string::npos);
}

TEST_CASE("odd bytes in a forecast file end in an error and nothing worse", "[ionosphere][activity][edge]") {
  CHECK_FALSE(read(std::string("\xff\xfe[]", 4)));
  CHECK_FALSE(read(std::string("[{\"time-tag\":\"2027-02\",\"predicted_ssn\":1e999}]")));
  CHECK_FALSE(read(std::string("[\0]", 3)));
  CHECK_FALSE(read(std::string(100000, '[')));
  CHECK_FALSE(read("[{\"time-tag\":\"\\u0000\xc3\\ud800\",\"predicted_ssn\":1}]"));
}

TEST_CASE("the foF2 maps are asked for less than R12 at a quiet Sun", "[ionosphere][activity][known]") {
  // Source: IG12 and R12 (old scale) of July 2017, 5.6 and 15 (common practice: both are published monthly).
  CHECK_THAT(fof2_index(R12(15)), WithinAbs(5.6, 0.5));
  CHECK(fof2_index(R12(0)) == -9);
  CHECK(fof2_index(R12(90)) == 90);
  CHECK(fof2_index(R12(160)) == 160);
  double last = -100;
  for (double r = 0; r <= 300; r += 0.5) {
    CHECK(fof2_index(R12(r)) > last);
    last = fof2_index(R12(r));
  }
}
