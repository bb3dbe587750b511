// Tables as the agencies publish them, made up here in their forms (columns and names from memory).
#include "skerry/ionosphere/forecast_table.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <string>

#include "check.hpp"

using namespace skerry;
using namespace skerry::ionosphere;
using namespace std::chrono;

namespace {

Result<ReadTable> read(const std::string& text, const TableAsk& ask = {}) {
  return read_table(text, {"table"}, ask);
}

/// A cycle of 132 months from January 2020 that peaks at 160, as columns; noise: of monthly means.
std::string columns(double noise, const char* separator, const char* more, int from = 0, int to = 132) {
  std::string out;
  for (int m = from; m < to; ++m) {
    const int year = 2020 + m / 12, month = 1 + m % 12;
    const double wave = 80 - 80 * std::cos(2 * 3.14159265 * m / 132);
    const double value = std::max(0.0, wave * (1 + noise * ((m * 7) % 5 - 2)));
    char line[120];
    std::snprintf(line, sizeof line, "%d%s%02d%s%.3f%s%7.1f%s", year, separator, month, separator,
                  year + (month - 0.5) / 12, separator, value, separator);
    out += line + std::string(more) + "\n";
  }
  return out;
}

double r12(const ReadTable& read, Month month) {
  const auto found = read.table.months.find(month);
  return found == read.table.months.end() ? -1 : found->second.r12.value();
}

}  // namespace

TEST_CASE("smoothed columns are taken as they stand, times 0.7", "[ionosphere][forecast][known]") {
  // Source: the change of scale of July 2015, 0.7 (common practice). The cycle's top, July 2025, is 160.
  for (const char* separator : {" ", "; ", ";"}) {
    const std::string parted = separator;
    const auto text = columns(0, separator, parted == " " ? "17.2 1100 *" : "17.2;1100;1");
    const auto out = read(text);
    REQUIRE(out);
    CHECK(out->form == TableForm::smoothed_text);
    CHECK(out->table.months.size() == 132);
    CHECK_THAT(r12(*out, 2025y / July), WithinAbs(112, 0.05));
    CHECK(out->table.last_observed() == 2030y / December);
  }
}

TEST_CASE("monthly means are known by their jumps and smoothed over 13 months",
          "[ionosphere][forecast][known]") {
  const auto out = read(columns(0.1, " ", "17.2 1100"));
  REQUIRE(out);
  CHECK(out->form == TableForm::means_text);
  // Six months at either end have no whole window.
  CHECK(out->table.months.size() == 120);
  CHECK(out->table.months.begin()->first == 2020y / July);
  CHECK_THAT(r12(*out, 2025y / July), WithinAbs(112, 3));
  // A straight line and a constant are what smoothing by 1/24, 1/12 .. 1/24 leaves alone (ITU-R P.371, from memory).
  std::string line;
  for (int m = 1; m <= 12; ++m)
    line += fmt::format("2026 {:02} {:.3f} {} 1 1\n", m, 2026 + (m - 0.5) / 12, 10 * m);
  line += "2027 01 2027.042 130 1 1\n";
  const auto ramp = read(line, {.smoothed = false});
  REQUIRE(ramp);
  REQUIRE(ramp->table.months.size() == 1);
  CHECK_THAT(r12(*ramp, 2026y / July), WithinAbs(0.7 * 70, 1e-9));
  // What the asker says goes before.
  CHECK(read(columns(0.1, " ", "17.2 1100"), {.smoothed = true})->form == TableForm::smoothed_text);
  // A gap leaves out every month whose window it is in.
  const auto gap = read(columns(0.1, " ", "17.2 1100", 0, 40) + columns(0.1, " ", "17.2 1100", 41, 80));
  REQUIRE(gap);
  CHECK(gap->table.months.size() == 40 - 12 + 39 - 12);
}

TEST_CASE("five columns are a prediction with its error", "[ionosphere][forecast][known]") {
  const auto out = read("# year month\n2027 02 2027.123 86.0 10.0\n2027 03 2027.204 5.0 10.0\n");
  REQUIRE(out);
  CHECK(out->form == TableForm::predicted_text);
  const auto a = activity_of(out->table, 2027y / February, "x");
  REQUIRE(a);
  CHECK_THAT(a->r12, WithinAbs(60.2, 1e-9));
  CHECK_THAT(a->low_r12, WithinAbs(53.2, 1e-9));
  CHECK_THAT(a->high_r12, WithinAbs(67.2, 1e-9));
  CHECK(activity_of(out->table, 2027y / March, "x")->low_r12 == 0.0);
  CHECK_FALSE(activity_of(out->table, 2027y / April, "x"));
}

TEST_CASE("observed indices come by sunspots or by flux, and months without a number are left out",
          "[ionosphere][forecast][known]") {
  const std::string text = R"([
    {"time-tag":"1749-01","ssn":96.7,"smoothed_ssn":-1.0,"f10.7":-1.0,"smoothed_f10.7":-1.0},
    {"time-tag":"2024-05","ssn":171.7,"smoothed_ssn":156.7,"f10.7":187.9,"smoothed_f10.7":192.9},
    {"time-tag":"2024-06","ssn":164.2,"smoothed_ssn":158.0,"f10.7":195.0,"smoothed_f10.7":194.0},
    {"time-tag":"2026-10","ssn":90.0,"smoothed_ssn":-1.0,"f10.7":140.0,"smoothed_f10.7":-1.0}])";
  const auto spots = read(text);
  REQUIRE(spots);
  CHECK(spots->form == TableForm::observed_json);
  CHECK(spots->table.months.size() == 2);
  CHECK_THAT(r12(*spots, 2024y / May), WithinAbs(0.7 * 156.7, 1e-9));
  // Source: ITU-R P.371 (from memory): R12 150 is flux 192.9.
  const auto flux = read(text, {.by_flux = true});
  REQUIRE(flux);
  CHECK_THAT(r12(*flux, 2024y / May), WithinAbs(150, 0.1));
  const auto without = read(R"([{"time-tag":"2024-05","ssn":171.7,"f10.7":187.9}])");
  REQUIRE_FALSE(without);
  CHECK(without.error().found == "an entry without \"smoothed_ssn\"");
  const auto predicted = read(
      R"([{"time-tag":"2027-02","predicted_ssn":86.0,"predicted_f10.7":102.3,"high_f10.7":145.4,"low_f10.7":63}])",
      {.by_flux = true});
  REQUIRE(predicted);
  const auto a = activity_of(predicted->table, 2027y / February, "x");
  CHECK_THAT(a->r12, WithinAbs(50, 0.1));
  CHECK_THAT(a->high_r12, WithinAbs(100, 0.1));
  CHECK(a->low_r12 == 0.0);
}

TEST_CASE("put together, what was observed stays, and the file says it all again",
          "[ionosphere][forecast][property]") {
  auto both = read(R"([{"time-tag":"2026-09","smoothed_ssn":100},{"time-tag":"2026-10","smoothed_ssn":98}])");
  const auto ahead = read(R"([{"time-tag":"2026-10","predicted_ssn":50},
                             {"time-tag":"2027-11","predicted_ssn":80,"low_ssn":60,"high_ssn":100}])");
  REQUIRE(both);
  REQUIRE(ahead);
  for (int order = 0; order < 2; ++order) {
    ForecastTable table = order == 0 ? both->table : ahead->table;
    table.take_in(order == 0 ? ahead->table : both->table);
    CHECK(table.months.size() == 3);
    CHECK_THAT(table.months.at(2026y / October).r12, WithinAbs(68.6, 1e-9));
    const auto csv = to_csv(table, "made here\nof two");
    CHECK(csv ==
          "# made here\n# of two\nmonth,r12,low_r12,high_r12,kind\n2026-09,70.0,,,observed\n"
          "2026-10,68.6,,,observed\n2027-11,56.0,42.0,70.0,forecast\n");
    const auto again = read(csv);
    REQUIRE(again);
    CHECK(again->form == TableForm::own);
    CHECK(to_csv(again->table, "made here\nof two") == csv);
    const auto a = forecast_with(csv, 2027y / November);
    REQUIRE(a);
    CHECK(a->months_ahead == 13);
    CHECK(a->source.kind == ActivitySource::Kind::file);
    CHECK(a->source.made == own_forecast);
    // Months that it lacks are the built-in forecast's.
    CHECK(forecast_with(csv, 2027y / February)->r12 == forecast(2027y / February).r12);
    CHECK(forecast_with("", 2027y / November)->r12 == forecast(2027y / November).r12);
    // An observed number is surer than a predicted one. Source: data/activity/SOURCE.md, 2 + 3 %.
    CHECK_THAT(forecast_with(csv, 2026y / October)->high_r12, WithinAbs(68.6 * 1.03 + 2, 1e-9));
  }
}

TEST_CASE("every mistake in a table is named with its line", "[ionosphere][forecast][edge]") {
  struct Row {
    std::string text, found;
    int line;
  };
  for (
      const Row& r : {
          Row{"<html>\n", "'<html>'", 1},
          Row{"2027 02 2027.123\n", "'2027 02 2027.123'", 1},
          Row{"2027 13 2027.123 5 5\n", "2027 13", 1},
          Row{"2027 02 2026.123 5 5\n", "2026.123", 1},
          Row{"2027 02 2027.123 601 5\n", "601", 1},
          Row{"2027 02 2027.123 nan 5\n", "nan", 1},
          Row{"2027 02 2027.123 60 x\n", "60 x", 1},
          Row{"2027 02 2027.123 5 5\n2027 03 2027.204 5 5 5\n", "6 columns", 2},
          Row{"2027 02 2027.123 5 5\n\n2027 02 2027.123 5 5\n", "not after", 3},
          Row{"2027 02 2027.123 5 5 5\n2027 03 2027.204 90 5 5\n2027 04 2027.288 5 5 5\n", "no 13 months", 0},
          Row{"2027 02 2027.123 -1 -1\n", "no month with a number", 0},
          Row{"1800 02 1800.123 5 5\n", "no month with a number", 0},
          Row{"month,r12\n2027-02,3\n", "without month, r12 or kind", 1},
          Row{"month,r12,kind\n2027-02,301,observed\n", "'301'", 2},
          Row{"month,r12,kind\n2027-02,,observed\n", "''", 2},
          Row{"month,r12,kind\n2027-02,3,seen\n", "'seen'", 2},
          Row{"month,r12,kind\n2027-02,3\n", "2 columns", 2},
          Row{"month,r12,kind\n2027-2,3,observed\n", "2027-2", 2},
          Row{"month,r12,kind\n2027-02,3,observed\n2027-02,3,observed\n", "2027-02 twice", 3},
          Row{"month,r12,low_r12,high_r12,kind\n2027-02,3,4,5,observed\n", "outside its limits", 2},
          Row{"[{\"time-tag\":\"2024-05\",\"smoothed_ssn\":5},\n{\"time-tag\":\"2024-05\",\"smoothed_ssn\":5}]",
              "second entry for 2024-05", 2},
          Row{"[{\"time-tag\":\"2024-05\",\"smoothed_ssn\":-1}]", "no month with a number", 0},
      }) {
    CAPTURE(r.text);
    const auto out = read(r.text);
    REQUIRE_FALSE(out);
    CAPTURE(out.error().to_line());
    CHECK(out.error().where.file == "table");
    CHECK(out.error().found.find(r.found) != std::string::npos);
    CHECK(out.error().where.line == r.line);
    CHECK_FALSE(out.error().accepted.empty());
  }
  CHECK_FALSE(read("2027 02 2027.123 5 5\n", {.by_flux = true}));
  const auto broken = forecast_with("month,r12,kind\n2027-02,x,observed\n", 2027y / February);
  REQUIRE_FALSE(broken);
  CHECK(broken.error().mend.find("forecast import") != std::string::npos);
}
