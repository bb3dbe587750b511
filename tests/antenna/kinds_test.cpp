#include "skerry/antenna/kinds.hpp"

#include <cmath>
#include <numbers>
#include <optional>

#include "check.hpp"
#include "plain_designs.hpp"

using namespace skerry;
using namespace skerry::antenna;

namespace {

double length(const Wire& w) {
  return std::hypot(w.to_m[0] - w.from_m[0], w.to_m[1] - w.from_m[1], w.to_m[2] - w.from_m[2]);
}
/// The reason of that kind, if it is given.
std::optional<Note> reason(const Raising& raising, NoteKind kind) {
  for (const Note& why : raising.why_not) {
    if (why.kind == kind) return why;
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("wires are cut to the lengths of the trade", "[antenna][known]") {
  // Common practice, 143/f and half of it: 20.1, 14.1, 10.1, 7.9, 6.75, 5.73, 5.02 m for a half wave of bare
  // wire; ours is 142.6/f. A jacket takes 2 to 4 % off.
  const std::pair<double, double> halves[] = {{7.1, 20.1},  {10.12, 14.1}, {14.15, 10.1}, {18.12, 7.9},
                                              {21.2, 6.75}, {24.94, 5.73}, {28.5, 5.02}};
  for (const auto& [mhz, metres] : halves) {
    CAPTURE(mhz);
    Design d = design(Kind::dipole, {Shape::inverted_v});
    d.insulated = false;
    const Raising bare = raise(d, pole(6), mhz);
    REQUIRE(bare.ways.size() == 1);
    CHECK_THAT(length(bare.ways[0].antenna.wires[0]) + length(bare.ways[0].antenna.wires[1]),
               WithinAbs(metres, 0.05));
    d.insulated = true;
    const Raising jacket = raise(d, pole(6), mhz);
    CHECK_THAT(2 * length(jacket.ways[0].antenna.wires[0]), WithinAbs(0.97 * metres, 0.06));
  }
  Design v = design(Kind::vertical_quarter);
  v.insulated = false;
  const Raising up = raise(v, pole(6), 14.15);
  REQUIRE(up.ways.size() == 1);
  CHECK_THAT(length(up.ways[0].antenna.wires[0]), WithinAbs(5.05, 0.02));
  CHECK(up.ways[0].antenna.wires.size() == 3);
}

TEST_CASE("a vertical that does not fit is refused with its numbers", "[antenna][known]") {
  // Common practice: 10.1 m on 7 MHz wants a 10 m mast; 5.05 m on 14 MHz stands on a 6 m pole.
  Design v = design(Kind::vertical_quarter);
  v.insulated = false;
  const Raising low = raise(v, pole(5.5), 7.05);
  CHECK(low.ways.empty());
  const auto why = reason(low, NoteKind::support_too_low);
  REQUIRE(why);
  CHECK_THAT(why->a, WithinAbs(10.1, 0.05));
  CHECK(why->c == 5.5);
  CHECK(raise(v, pole(5.5), 18.1).ways.size() == 1);
  // A little too long: bent over at the top, not more than 15 %.
  const Raising bent = raise(v, pole(5.1), 14.1);
  REQUIRE(bent.ways.size() == 1);
  REQUIRE(!bent.ways[0].notes.empty());
  CHECK(bent.ways[0].notes[0].kind == NoteKind::top_bent_over);
  CHECK(raise(v, pole(4.5), 14.1).ways.empty());
  v.radials = 0;
  CHECK(reason(raise(v, pole(9), 14.1), NoteKind::no_radial));
}

TEST_CASE("a vertical longer than its pole leans from a foot of its own, with the radials round the foot",
          "[antenna][known]") {
  // Geometry by hand: 10.1 m on 7 MHz up to 6 m stands sqrt(10.1^2 - (6 - foot)^2) m out.
  Design v = design(Kind::vertical_quarter, {Shape::sloper});
  v.insulated = false;
  const Raising leaning = raise(v, pole(6), 7.05);
  REQUIRE(leaning.ways.size() == 1);
  const auto& wires = leaning.ways[0].antenna.wires;
  const auto& foot = wires[0].from_m;
  CHECK_THAT(length(wires[0]), WithinAbs(10.1, 0.05));
  CHECK_THAT(wires[0].to_m[2], WithinAbs(6, 1e-9));
  CHECK_THAT(foot[0], WithinAbs(std::sqrt(10.1 * 10.1 - (6 - foot[2]) * (6 - foot[2])), 0.05));
  for (std::size_t i = 1; i < wires.size(); ++i) CHECK(wires[i].from_m == foot);
  // 10 m up to 4 m are no vertical any more; 5 m on a pole of 6 m lean little.
  CHECK(reason(raise(v, pole(4), 7.05), NoteKind::sloper_too_flat));
  const Raising steep = raise(v, pole(6), 14.15);
  REQUIRE(steep.ways.size() == 1);
  CHECK(steep.ways[0].antenna.wires[0].from_m[0] < 1);
}

TEST_CASE("a conductive mast is no place for a vertical wire", "[antenna][known]") {
  // Common practice: a carbon mast detunes a wire along it and may hold the middle of an inverted V.
  Support carbon = pole(9);
  carbon.conductive = true;
  const Ground rock = find_ground("rock", {}).value();
  const auto mast_costs = [&](Kind kind, Shape shape) {
    const Design d = design(kind, {shape});
    const Raised way = raise(d, carbon, 18.1).ways.at(0);
    REQUIRE(way.mast_wire == static_cast<int>(way.antenna.wires.size()));
    REQUIRE(without_mast(way).wires.size() + 1 == way.antenna.wires.size());
    const auto with = compute_pattern(way.antenna, rock, 18.1, chain_for(d, 18.1, {}));
    const auto without = compute_pattern(without_mast(way), rock, 18.1, chain_for(d, 18.1, {}));
    REQUIRE(with);
    REQUIRE(without);
    return without->mean_dbi(20) - with->mean_dbi(20);
  };
  CHECK(mast_costs(Kind::vertical_quarter, Shape::vertical) > 1);
  CHECK(std::abs(mast_costs(Kind::dipole, Shape::inverted_v)) < 0.5);
  CHECK(raise(design(Kind::vertical_quarter), pole(6), 14.1).ways.at(0).mast_wire == 0);
}

TEST_CASE("what a mast costs is told against the same wire trimmed without it", "[antenna][property]") {
  // Beside a mast of about the wire's own length the trimmed length is another; without the mast it would be
  // mistrimmed, and the mast would seem to help by what the mismatch costs.
  Design d = design(Kind::vertical_quarter);
  Support carbon = pole(6);
  carbon.conductive = true;
  const Ground rock = find_ground("rock", {}).value();
  const Raised with = trimmed(d, carbon, raise(d, carbon, 18.1).ways.at(0), rock, 18.1);
  const Raised alone = trimmed(d, pole(6), raise(d, pole(6), 18.1).ways.at(0), rock, 18.1);
  REQUIRE(with.mast_wire > 0);
  const WireAntenna bare = without_mast(d, carbon, with, rock, 18.1);
  REQUIRE(bare.wires.size() == alone.antenna.wires.size());
  CHECK(length(bare.wires[0]) == length(alone.antenna.wires[0]));
  CHECK(length(bare.wires[0]) != length(with.antenna.wires[0]));
  const auto p = compute_pattern(bare, rock, 18.1, chain_for(d, 18.1, {}));
  REQUIRE(p);
  CHECK(p->line_swr < 2);
}

TEST_CASE("an end-fed half wave of 20.4 m serves 7, 14, 21 and 28 MHz and no other band",
          "[antenna][known]") {
  // Common practice: 1.01, 2.02, 3.02, 4.07 half waves; not on 10 (1.44), 18 (2.58), 24.9 (3.56).
  Design wire = design(Kind::end_fed_half_wave, {Shape::inverted_v});
  wire.wire_m = 20.4;
  for (const double mhz : {7.1, 14.15, 21.2, 28.5}) {
    CAPTURE(mhz);
    const Raising up = raise(wire, pole(6), mhz);
    REQUIRE(up.ways.size() == 1);
    CHECK(!up.ways[0].needs_tuner);
    CHECK_THAT(length(up.ways[0].antenna.wires.back()), WithinAbs(0.05 * 299.792 / mhz, 0.01));
  }
  for (const auto& [mhz, half_waves] : {std::pair{10.12, 1.44}, {18.1, 2.58}, {24.94, 3.56}}) {
    const auto why = reason(raise(wire, pole(6), mhz), NoteKind::not_resonant);
    REQUIRE(why);
    CHECK(why->a == mhz);
    CHECK_THAT(why->b, WithinAbs(half_waves, 0.005));
  }
  // Said to belong to a tuner, it may be asked off resonance, and says so when it is taken.
  wire.needs_tuner = true;
  const Raising tuned = raise(wire, pole(6), 18.1);
  for (const Raised& way : tuned.ways) CHECK(way.needs_tuner);
  CHECK(tuned.ways.size() + tuned.why_not.size() == 1);
  // The counterpoise is that of the lowest band it is made for.
  wire.needs_tuner = false;
  wire.bands_mhz = {7.1, 14.1};
  CHECK_THAT(length(raise(wire, pole(6), 14.1).ways.at(0).antenna.wires.back()), WithinAbs(2.11, 0.01));
  CHECK(reason(raise(wire, pole(6), 21.2), NoteKind::not_made_for));
}

TEST_CASE("a random wire always needs its tuner", "[antenna][known]") {
  Design wire = design(Kind::end_fed_random, {Shape::sloper});
  CHECK(reason(raise(wire, pole(6), 14.1), NoteKind::no_length));
  wire.wire_m = 12.5;
  int works = 0;
  for (const double mhz : {7.1, 10.1, 14.15, 18.1, 21.2, 24.9, 28.5}) {
    const Raising up = raise(wire, pole(6), mhz);
    CHECK(up.ways.size() + up.why_not.size() == 1);
    for (const Raised& way : up.ways) {
      CHECK(way.needs_tuner);
      ++works;
    }
  }
  CHECK(works >= 5);  // common practice: 12.5 m with 1:9 is carried as an all-band wire
}

TEST_CASE("a horizontal wire needs two supports", "[antenna][known]") {
  const Design d = design(Kind::dipole, {Shape::horizontal});
  CHECK(reason(raise(d, pole(6), 14.1), NoteKind::no_far_support));
  Support two = pole(6);
  two.far_height_m = 5;
  const Raising up = raise(d, two, 14.1);
  REQUIRE(up.ways.size() == 1);
  CHECK_THAT(up.ways[0].feed_height_m, WithinAbs(5.5, 1e-9));
}

TEST_CASE("every way stands above ground, within the support and in one piece", "[antenna][property]") {
  for (int kind = 0; kind < 8; ++kind) {
    for (const double usable : {2.0, 4.0, 5.5, 9.0, 12.0}) {
      for (const double mhz : {1.85, 3.6, 7.1, 10.1, 14.1, 18.1, 21.2, 24.9, 28.5}) {
        Design d = design(static_cast<Kind>(kind));
        if (d.kind == Kind::vertical_loaded || d.kind == Kind::whip) d.wire_m = 2.5;
        if (d.kind == Kind::small_loop) d.wire_m = 3;
        if (d.kind == Kind::end_fed_random) d.wire_m = 12.5;
        Support s = pole(usable);
        s.far_height_m = usable - 0.5;
        const Raising up = raise(d, s, mhz);
        CHECK(up.ways.size() + up.why_not.size() > 0);
        for (const Raised& way : up.ways) {
          CAPTURE(to_text(d.kind), to_text(way.shape), usable, mhz);
          CHECK(way.antenna.feed.wire >= 1);
          CHECK(way.antenna.feed.wire <= static_cast<int>(way.antenna.wires.size()));
          for (std::size_t i = 0; i < way.antenna.wires.size(); ++i) {
            const Wire& w = way.antenna.wires[i];
            CHECK(length(w) > 0.01);
            for (const Vec3& end : {w.from_m, w.to_m}) {
              CHECK(std::isfinite(end[0] + end[1] + end[2]));
              CHECK(end[2] >= 0.05 - 1e-9);
              CHECK(end[2] <= std::max(usable, 3.01) + 1e-9);
            }
          }
        }
      }
    }
  }
}

TEST_CASE("a loaded vertical brings its own coil", "[antenna][known]") {
  Design d = design(Kind::vertical_loaded);
  d.wire_m = 2.5;
  d.wire_radius_mm = 2;
  // X = 60 (ln(2h/a) - 1) cot(kh) for a 2.5 m whip on 7.1 MHz: 60 (ln 2500 - 1) cot(21.3 deg) = 1050
  // ohm, 23.5 uH (short monopole, from memory). The open end's 5 % lengthening takes 5 to 10 % off.
  // Solved over its counterpoise: quarter-wave wires half a metre up add a few ohm only.
  const Raising up = raise(d, pole(2), 7.1);
  REQUIRE(up.ways.size() == 1);
  REQUIRE(up.ways[0].antenna.tuned);
  CHECK(up.ways[0].antenna.tuned->q == 200);
  const auto solved = radiate(up.ways[0].antenna, find_ground("average", {}).value(), 7.1);
  REQUIRE(solved);
  CHECK_THAT(solved->solution.tuned_ohm.imag() / (2 * std::numbers::pi * 7.1), WithinAbs(20.0, 2.5));
  CHECK_THAT(solved->solution.feed_ohm.imag(), WithinAbs(0, 1e-3));
  // Longer than a quarter wave, no coil helps.
  d.wire_m = 4;
  CHECK(reason(raise(d, pole(2), 28.5), NoteKind::whip_too_long));
  d.wire_m = 0;
  CHECK(reason(raise(d, pole(2), 14.1), NoteKind::no_length));
}

TEST_CASE("words for kinds and shapes are read and written", "[antenna][edge]") {
  for (int i = 0; i < 8; ++i)
    CHECK(parse_kind(to_text(static_cast<Kind>(i)), {}).value() == static_cast<Kind>(i));
  for (int i = 0; i < 5; ++i) {
    CHECK(parse_shape(to_text(static_cast<Shape>(i)), {}).value() == static_cast<Shape>(i));
  }
  CHECK(parse_kind("End_Fed_Half_Wave", {}).value() == Kind::end_fed_half_wave);
  CHECK(parse_shape("inverted v", {}).value() == Shape::inverted_v);
  const auto bad = parse_kind("dipol", {});
  REQUIRE(!bad);
  CHECK(bad.error().to_line().find("did you mean 'dipole'") != std::string::npos);
}

TEST_CASE("a wire is trimmed to resonance over the ground it hangs on", "[antenna][known]") {
  // Common practice: trimming changes a cut length by a few per cent, and then the meter shows an SWR
  // below 2.
  const Ground rock = find_ground("rock", {}).value();
  for (const Kind kind : {Kind::dipole, Kind::vertical_quarter, Kind::end_fed_half_wave, Kind::wire_beam}) {
    const Design d = design(kind);
    for (const double mhz : {14.1, 21.2}) {
      CAPTURE(to_text(kind), mhz);
      const Raised way = raise(d, pole(6), mhz).ways.at(0);
      const Raised done = trimmed(d, pole(6), way, rock, mhz);
      const auto p = compute_pattern(done.antenna, rock, mhz, chain_for(d, mhz, {}));
      REQUIRE(p);
      CHECK(p->line_swr < 2);
      CHECK(done.antenna.wires.size() >= way.antenna.wires.size());
    }
  }
  // What has a given length is left as it is.
  Design wire = design(Kind::end_fed_half_wave, {Shape::sloper});
  wire.wire_m = 20.4;
  const Raised way = raise(wire, pole(6), 14.1).ways.at(0);
  CHECK(length(trimmed(wire, pole(6), way, rock, 14.1).antenna.wires[0]) == length(way.antenna.wires[0]));
  CHECK(trimmed(wire, pole(6), way, rock, 14.1).notes == way.notes);
}

TEST_CASE("a wire that cannot be trimmed hangs as it was cut, and says so", "[antenna][edge]") {
  const Ground rock = find_ground("rock", {}).value();
  const Design d = design(Kind::dipole);
  const Raised way = raise(d, pole(6), 14.1).ways.at(0);
  const Meter blind = [](const WireAntenna&, const Ground&, double) -> Result<std::complex<double>> {
    return fail({}, "nothing", "a reading");
  };
  const Meter stuck = [](const WireAntenna&, const Ground&, double) -> Result<std::complex<double>> {
    return std::complex<double>(50, 30);
  };
  const Meter far_off = [](const WireAntenna& wires, const Ground&, double) -> Result<std::complex<double>> {
    return std::complex<double>(50, 500 + length(wires.wires[0]));
  };
  for (const Meter& meter : {blind, stuck, far_off}) {
    const Raised done = trimmed(d, pole(6), way, rock, 14.1, meter);
    CHECK(length(done.antenna.wires[0]) == length(way.antenna.wires[0]));
    REQUIRE(done.notes.size() == way.notes.size() + 1);
    CHECK(done.notes.back() == Note{NoteKind::not_trimmed, 0.08});
  }
}

TEST_CASE("a linked dipole leaves its outer wires in the air", "[antenna][known]") {
  Design d = design(Kind::dipole, {Shape::inverted_v});
  d.linked = true;
  d.bands_mhz = {7.1, 14.1};
  const Raising low = raise(d, pole(6), 7.1);
  const Raising high = raise(d, pole(6), 14.1);
  REQUIRE(low.ways.size() == 1);
  REQUIRE(high.ways.size() == 1);
  CHECK(low.ways[0].antenna.wires.size() == 2);
  REQUIRE(high.ways[0].antenna.wires.size() == 4);
  // 142.6/f and 3 % for the jacket (common practice); together the wire is that of the lowest band, less two
  // gaps of 10 cm.
  double whole = 0;
  for (const Wire& w : high.ways[0].antenna.wires) whole += length(w);
  CHECK_THAT(length(high.ways[0].antenna.wires[0]), WithinAbs(0.97 * 142.6 / 14.1 / 2, 0.01));
  CHECK_THAT(whole + 0.2, WithinAbs(0.97 * 142.6 / 7.1, 0.01));
}

TEST_CASE("a small loop is tuned by its capacitor and wastes what its size makes it waste",
          "[antenna][known]") {
  // 31171 (A/lambda^2)^2 ohm for a small loop (Balanis, from memory): an octagon of 3 m has 0.679 m2, at
  // 14.1 MHz 0.0703 ohm, a third of a tenth of a wave's circumference away from small: 25 %.
  Design d = design(Kind::small_loop);
  d.wire_m = 3;
  d.wire_radius_mm = 5;
  const Raised way = raise(d, pole(2), 14.1).ways.at(0);
  const auto free = radiate(way.antenna, find_ground("free", {}).value(), 14.1);
  REQUIRE(free);
  CHECK_THAT(free->solution.feed_ohm.imag(), WithinAbs(0, 1e-3));
  CHECK(free->solution.tuned_ohm.imag() < 0);
  CHECK_THAT(free->solution.feed_ohm.real() * free->radiated_w, WithinAbs(0.0703, 0.25 * 0.0703));
  const auto p = pattern_of(*free, chain_for(d, 14.1, {}));
  CHECK(p.match == Match::direct);
  CHECK(reason(raise(d, pole(2), 50), NoteKind::loop_too_large));
  CHECK(reason(raise(d, pole(2), 3.6), NoteKind::loop_too_small));
}

TEST_CASE("a whip is drawn out to each band, and loaded where it is too short", "[antenna][known]") {
  Design d = design(Kind::whip);
  d.wire_m = 5.2;
  d.wire_radius_mm = 3;
  const Raised low = raise(d, pole(2), 7.1).ways.at(0);
  const Raised high = raise(d, pole(2), 21.2).ways.at(0);
  CHECK(low.antenna.tuned);
  CHECK_FALSE(high.antenna.tuned);
  CHECK_THAT(length(high.antenna.wires[0]), WithinAbs(142.6 / 21.2 / 2, 0.01));
  // Its radials slope to the ground.
  CHECK(high.antenna.wires[1].to_m[2] < 0.06);
}
