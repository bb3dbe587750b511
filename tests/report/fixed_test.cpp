#include "fixed.hpp"

#include <fmt/format.h>

#include <cmath>

#include "check.hpp"
#include "skerry/advice/log.hpp"
#include "skerry/report/log_report.hpp"

using namespace skerry;

// The judge is the formatting library's own rounding.
TEST_CASE("what would show as -0 shows as 0, and nothing else changes", "[report][property]") {
  for (const int digits : {0, 1, 2, 3, 4, 5, 6}) {
    const double unit = std::pow(10.0, -digits);
    for (const double value : {0.0, -0.0, -0.49 * unit, 0.49 * unit, -0.51 * unit, -0.99 * unit, -1e-12, -1.0,
                               2.5 * unit, -123.456}) {
      CAPTURE(digits, value);
      const auto plain = fmt::format("{:.{}f}", value, digits);
      const auto said = fmt::format("{:.{}f}", report::plus_zero(value, digits), digits);
      const bool minus_zero = plain.find_first_of("123456789") == std::string::npos && plain.front() == '-';
      CHECK(said == (minus_zero ? plain.substr(1) : plain));
    }
  }
}

TEST_CASE("a finding of nothing is 0.0 dB in the log's text and in what is learned from it",
          "[report][regression]") {
  kit::Trip trip;
  trip.name = "Rock";
  advice::LogReport r;
  r.findings.erp_db.median = r.findings.erp_db.low = -0.04;
  r.findings.prior_erp_db.low = r.findings.net_db.median = r.findings.net_db.low = -0.02;
  r.there.count = 1;
  r.there.mean = r.there.median = -0.03;
  const advice::Log log;
  const report::LogShown shown{log, "rock.adi"};
  for (const auto& text :
       {report::log_text(trip, r, shown, {}),
        report::learned_toml(trip, r, "rock.adi", Day{std::chrono::year(2027) / 2 / 14})}) {
    CAPTURE(text);
    CHECK(text.find("-0.0") == std::string::npos);
    CHECK(text.find("0.0") != std::string::npos);
  }
}
