// What would put an antenna on bands that it lacks.
#include <algorithm>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

using Kind = Remedy::Kind;

AdviceOptions few() {
  AdviceOptions o;
  o.openings = o.uncertainty = o.variants = o.frontier = false;
  return o;
}
/// With every change that wins a band, whatever it brings.
Advice quick(const kit::Trip& t) {
  Advice out = advise(t, few());
  out.remedies = remedies_of(t, out.setups, out.book);
  return out;
}

kit::Trip one_antenna(const kit::Antenna& antenna, const std::vector<const char*>& bands) {
  kit::Trip t = small_trip();
  t.rigs.resize(1);
  t.supports.resize(1);
  t.antennas = {antenna};
  t.sites[0].ground = *antenna::find_ground("rock", {});
  t.bands.clear();
  for (const char* band : bands) t.bands.push_back(*noise::find_band(band, 1, {}));
  return t;
}

const Remedy* of_kind(const Advice& a, Kind kind) {
  const auto r =
      std::find_if(a.remedies.begin(), a.remedies.end(), [&](const Remedy& x) { return x.kind == kind; });
  return r == a.remedies.end() ? nullptr : &*r;
}

/// The bands that an advice can use at all.
std::vector<int> usable(const Advice& a) {
  std::vector<int> out;
  for (const auto& uses : a.book.setups) {
    for (const auto& u : uses) out.push_back(u.band);
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

bool has_all(const std::vector<int>& of, const std::vector<int>& wanted) {
  return std::all_of(wanted.begin(), wanted.end(),
                     [&](int b) { return std::find(of.begin(), of.end(), b) != of.end(); });
}

}  // namespace

TEST_CASE("the changed trip serves the bands that a remedy promises", "[advise][property]") {
  kit::Antenna end_fed = wire("wire", antenna::Kind::end_fed_half_wave, 200, {});
  end_fed.design.wire_m = 20.4;
  end_fed.design.shapes = {antenna::Shape::inverted_v};
  kit::Antenna vertical = wire("vertical", antenna::Kind::vertical_quarter, 150, {});
  int asked = 0;
  for (const auto& antenna : {end_fed, vertical}) {
    for (const bool carbon : {false, true}) {
      kit::Trip t = one_antenna(antenna, {"40m", "30m", "20m", "15m", "10m"});
      t.supports[0].conductive = carbon;
      const Advice before = quick(t);
      const auto had = usable(before);
      for (const auto& remedy : before.remedies) {
        CAPTURE(static_cast<int>(remedy.kind), remedy.number, carbon);
        ++asked;
        CHECK_FALSE(remedy.bands.empty());
        CHECK(remedy.bands.size() > remedy.lost.size());
        for (const int b : remedy.bands) CHECK(std::find(had.begin(), had.end(), b) == had.end());
        CHECK(has_all(usable(quick(changed(t, remedy))), remedy.bands));
      }
    }
  }
  CHECK(asked > 4);
}

TEST_CASE("a wire that lacks a tuner is told of the tuner, its mass and the lengths that need none",
          "[advise][known]") {
  // Common practice: an end-fed half wave is cut so that its harmonics fall into the bands.
  kit::Antenna a = wire("wire", antenna::Kind::end_fed_half_wave, 200, {});
  a.design.wire_m = 21.0;
  a.design.shapes = {antenna::Shape::inverted_v};
  kit::Trip t = one_antenna(a, {"40m", "20m", "15m", "10m"});
  const Advice before = quick(t);
  REQUIRE(usable(before).size() < 4);
  const Remedy* tuner = of_kind(before, Kind::tuner);
  REQUIRE(tuner != nullptr);
  CHECK(tuner->added_g > 100);
  CHECK(tuner->added_g < 500);
  const Remedy* cut = of_kind(before, Kind::wire_length);
  REQUIRE(cut != nullptr);
  CHECK(std::abs(cut->number / 21.0 - 1) <= 0.0601);
  // With a tuner in the inventory none is proposed.
  kit::Tuner mine;
  mine.item = thing("tuner", 300);
  t.tuners = {mine};
  CHECK(of_kind(quick(t), Kind::tuner) == nullptr);
}

TEST_CASE("a vertical longer than its pole is told of a coil, an inverted L, a slope and a longer pole",
          "[advise][known]") {
  // Common practice: 10 m of a quarter wave on 7 MHz do not stand on a 6 m pole.
  const kit::Antenna a = wire("vertical", antenna::Kind::vertical_quarter, 150, {});
  const kit::Trip t = one_antenna(a, {"40m", "20m"});
  const Advice before = quick(t);
  REQUIRE(usable(before) == std::vector<int>{1});
  const Remedy* pole = of_kind(before, Kind::longer_pole);
  REQUIRE(pole != nullptr);
  CHECK(pole->number > 9);
  CHECK(pole->number <= 12);
  CHECK(pole->added_g > 1000);
  const Remedy* l = of_kind(before, Kind::other_shape);
  REQUIRE(l != nullptr);
  CHECK(l->shape == antenna::Shape::inverted_l);
  const Remedy* coil = of_kind(before, Kind::loading);
  REQUIRE(coil != nullptr);
  CHECK(coil->number < 6);
  const auto slope = std::find_if(before.remedies.begin(), before.remedies.end(), [](const Remedy& r) {
    return r.kind == Kind::other_shape && r.shape == antenna::Shape::sloper;
  });
  REQUIRE(slope != before.remedies.end());
  for (const auto* r : {pole, l, coil, &*slope}) CHECK(r->bands == std::vector<int>{0});
  // And each with what it brings.
  AdviceOptions asked = few();
  asked.remedies = true;
  int told = 0;
  for (const auto& r : advise(t, asked).remedies) {
    REQUIRE(r.reach);
    told += r.kind == Kind::other_shape || r.kind == Kind::loading || r.kind == Kind::longer_pole ? 1 : 0;
  }
  CHECK(told >= 2);
}

TEST_CASE("an antenna that lacks nothing has no remedy, and asking can be left out", "[advise][edge]") {
  const kit::Trip t = one_antenna(wire("dipole", antenna::Kind::dipole, 200, {}), {"20m", "15m"});
  CHECK(quick(t).remedies.empty());
  const kit::Trip low =
      one_antenna(wire("vertical", antenna::Kind::vertical_quarter, 150, {}), {"40m", "20m"});
  CHECK(advise(low, few()).remedies.empty());
  CHECK_FALSE(quick(low).remedies.empty());
  // Asked in full: only what brings two points or more, with its number, the best first.
  AdviceOptions asked = few();
  asked.remedies = true;
  const Advice a = advise(low, asked);
  double last = 1;
  for (const auto& r : a.remedies) {
    REQUIRE(r.reach);
    CHECK(r.reach->then >= r.reach->now + 0.02);
    CHECK(r.reach->then <= last);
    last = r.reach->then;
    CHECK_THAT(advise(changed(low, r), few()).optimum.reach, WithinAbs(r.reach->then, 1e-12));
  }
  CHECK_FALSE(a.remedies.empty());
}

TEST_CASE("the bands told to need the tuner are those that match with it", "[advise][property]") {
  kit::Antenna a = wire("wire", antenna::Kind::end_fed_half_wave, 200, {});
  a.design.wire_m = 20.4;
  a.design.shapes = {antenna::Shape::inverted_v};
  kit::Trip t = one_antenna(a, {"40m", "30m", "20m", "17m", "15m", "12m", "10m"});
  kit::Tuner tuner;
  tuner.item = thing("tuner", 300);
  t.tuners = {tuner};
  const Advice advice = quick(t);
  int told = 0;
  for (std::size_t s = 0; s < advice.setups.possible.size(); ++s) {
    const auto& setup = advice.setups.possible[s];
    std::vector<int> with;
    for (std::size_t o = 0; o < advice.setups.possible.size(); ++o) {
      if (!advice.setups.possible[o].tuned) continue;
      for (const auto& u : advice.book.setups[o]) with.push_back(u.band);
    }
    std::sort(with.begin(), with.end());
    CHECK(setup.matches_tuned == with);
    told += static_cast<int>(setup.matches_tuned.size());
  }
  CHECK(told > 0);
}
