// Bands of which only the solver knows that they need a tuner, and those that none can serve.
#include <algorithm>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

/// One end-fed wire on one mast, one rig.
kit::Trip wire_trip(antenna::Kind kind, double wire_m, const std::vector<const char*>& bands) {
  kit::Trip t = small_trip();
  t.rigs.resize(1);
  t.supports.resize(1);
  t.antennas = {wire("wire", kind, 200, {})};
  t.antennas[0].design.wire_m = wire_m;
  t.antennas[0].design.shapes = {antenna::Shape::inverted_v};
  t.sites[0].ground = *antenna::find_ground("rock", {});
  t.bands.clear();
  for (const char* band : bands) t.bands.push_back(*noise::find_band(band, 1, {}));
  return t;
}

Advice quick(const kit::Trip& t) {
  AdviceOptions o;
  o.openings = o.uncertainty = o.variants = o.frontier = false;
  return advise(t, o);
}

/// What is told of a band of the wire as inverted V.
std::optional<antenna::Note> told_of(const Advice& a, int band) {
  for (const auto& line : a.unfit) {
    if (line.antenna != Id<kit::Antenna>(0) || line.shape != antenna::Shape::inverted_v) continue;
    for (const auto& b : line.bands) {
      if (b.told.band == band) return std::get<antenna::Note>(b.told.why);
    }
  }
  return std::nullopt;
}

bool used(const Advice& a, int band, bool tuned) {
  for (std::size_t s = 0; s < a.setups.possible.size(); ++s) {
    const auto& uses = a.book.setups[s];
    if (a.setups.possible[s].tuned == tuned &&
        std::any_of(uses.begin(), uses.end(), [&](const SetupBand& u) { return u.band == band; }))
      return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a band that no tuner can match is told with its SWR", "[advise][property]") {
  kit::Trip t = wire_trip(antenna::Kind::end_fed_random, 12.5, {"40m", "15m"});
  t.rigs[0].tuner = true;
  const Advice a = quick(t);
  // Every band is either worked or told.
  int told = 0;
  for (int b = 0; b < 2; ++b) {
    CAPTURE(b);
    const auto why = told_of(a, b);
    CHECK(why.has_value() != used(a, b, true));
    if (!why) continue;
    ++told;
    CHECK(why->kind == antenna::NoteKind::beyond_tuner);
    CHECK(why->a > why->b);
  }
  CHECK(told >= 1);
  REQUIRE(a.unfit.size() == 1);
  CHECK(nth(a.setups.possible, a.unfit[0].bands[0].told.setup).support == Id<kit::Support>(0));
  // A tuner that takes anything leaves nothing to tell.
  t.rigs[0].tuner = false;
  kit::Tuner wide;
  wide.item = thing("wide tuner", 300);
  wide.max_swr = 1000;
  t.tuners = {wide};
  const Advice all = quick(t);
  CHECK(all.unfit.empty());
  for (int b = 0; b < 2; ++b) CHECK(used(all, b, true));
}

TEST_CASE("where only the solver finds that a tuner is needed, a tuner is offered", "[advise][property]") {
  // Common practice: on its higher harmonics an end-fed half wave is rarely 50 ohm behind its transformer.
  kit::Trip t = wire_trip(antenna::Kind::end_fed_half_wave, 20.4, {"40m", "10m"});
  t.antennas[0].bands = {"40m", "10m"};
  const auto by_length = kit::derive_setups(t);
  REQUIRE(by_length.possible.size() == 1);
  REQUIRE(by_length.possible[0].bands.size() == 2);  // resonant by the rule of the trade
  const Advice without = quick(t);
  CHECK_FALSE(used(without, 1, false));
  REQUIRE(told_of(without, 1));
  CHECK(told_of(without, 1)->kind == antenna::NoteKind::needs_tuner);
  CHECK(without.setups.possible.size() == 1);  // nothing made in vain
  kit::Tuner tuner;
  tuner.item = thing("tuner", 300);
  t.tuners = {tuner};
  const Advice with = quick(t);
  REQUIRE(with.setups.possible.size() == 2);
  CHECK(with.setups.possible[1].tuned);
  CHECK(with.setups.possible[1].bands == std::vector<int>{1});
  CHECK(std::count(with.setups.possible[1].needs.begin(), with.setups.possible[1].needs.end(), "tuner") == 1);
  CHECK(with.setups.possible[1].tuner == Id<kit::Tuner>(0));
  CHECK(with.setups.possible[1].shape == with.setups.possible[0].shape);
  CHECK(used(with, 1, true));
  CHECK_FALSE(told_of(with, 1));
  t.tuners.clear();
  t.rigs[0].tuner = true;
  CHECK(used(quick(t), 1, true));
}
