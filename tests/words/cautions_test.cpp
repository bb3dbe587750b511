#include "skerry/words/cautions.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("a forecast made long before says so, and one within a year says nothing", "[words][edge]") {
  ionosphere::Activity activity;
  activity.r12 = ionosphere::R12(90);
  activity.low_r12 = ionosphere::R12(60);
  activity.high_r12 = ionosphere::R12(120);
  activity.source = "built-in forecast of 2026-01";
  activity.months_ahead = 12;
  CHECK(words::activity_note(activity).empty());
  activity.months_ahead = 13;
  CHECK(words::activity_note(activity).find("13 months beyond") != std::string::npos);
  activity.months_ahead = 0;
  activity.mean_of_cycles = true;
  CHECK(words::activity_note(activity).find("60 to 120") != std::string::npos);
}
