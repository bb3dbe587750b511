#include "skerry/words/cautions.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("a forecast made long before says so, and one within a year says nothing", "[words][edge]") {
  ionosphere::Activity activity;
  activity.r12 = ionosphere::R12(90);
  activity.low_r12 = ionosphere::R12(60);
  activity.high_r12 = ionosphere::R12(120);
  using Kind = ionosphere::ActivitySource::Kind;
  activity.source = {.kind = Kind::forecast, .made = "2026-01"};
  activity.months_ahead = 12;
  CHECK(words::activity_note(activity).empty());
  activity.months_ahead = 13;
  CHECK(words::activity_note(activity).find("built-in forecast of 2026-01, 13 months beyond") !=
        std::string::npos);
  activity.months_ahead = 0;
  activity.source = {.kind = Kind::mean_of_cycles, .month = std::chrono::year{2050} / std::chrono::May};
  CHECK(words::activity_note(activity).find("60 to 120") != std::string::npos);
}

TEST_CASE("an index that was told is named as it was told", "[words][property]") {
  using ionosphere::Index;
  const auto said = [](Index index, double value) {
    return words::activity_source(ionosphere::told_activity(index, value).source);
  };
  CHECK(said(Index::r12, 80) == "R12 80 as given in the trip file");
  CHECK(said(Index::ssn_v2, 115) == "smoothed sunspot number 115 (version 2) as given in the trip file");
  CHECK(said(Index::f107, 130) == "smoothed 10.7 cm flux 130 as given in the trip file");
  CHECK(words::activity_source({.kind = ionosphere::ActivitySource::Kind::file, .made = "sun.json"}) ==
        "forecast from sun.json");
}

TEST_CASE("what a log taught is told in one sentence", "[words][property]") {
  kit::Learned learned;
  CHECK(words::learned_note(learned).empty());
  learned.file = "l.toml";
  learned.contacts = 143;
  learned.erp_db = -3.2;
  learned.far_noise = 1;
  learned.people = true;
  CHECK(
      words::learned_note(learned) ==
      "learned from 143 contacts and in use (l.toml): own radiated power -3.2 dB, far ends 1 class noisier, "
      "hours of partners by that log");
}
