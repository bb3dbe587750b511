#include "skerry/after/log.hpp"

#include "check.hpp"
#include "skerry/words/log.hpp"

using namespace skerry;

TEST_CASE("a finding of nothing is 0.0 dB in the log's text and in what is learned from it",
          "[words][regression]") {
  kit::Trip trip;
  trip.name = "Rock";
  after::LogReport r;
  r.findings.erp_db.median = r.findings.erp_db.low = -0.04;
  r.findings.prior_erp_db.low = r.findings.net_db.median = r.findings.net_db.low = -0.02;
  r.there.count = 1;
  r.there.mean = r.there.median = -0.03;
  const after::Log log;
  const words::LogShown shown{log, "rock.adi"};
  for (const auto& text : {words::log_text(trip, r, shown, {}),
                           words::learned_toml(trip, r, "rock.adi", Day{std::chrono::year(2027) / 2 / 14})}) {
    CAPTURE(text);
    CHECK(text.find("-0.0") == std::string::npos);
    CHECK(text.find("0.0") != std::string::npos);
  }
}
