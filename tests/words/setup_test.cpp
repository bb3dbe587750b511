// What setups, notes and reasons are called.
#include "skerry/words/setup.hpp"

#include <set>

#include "../advice/small_trip.hpp"
#include "check.hpp"

using namespace skerry;
using namespace skerry::words;
using antenna::Note;
using antenna::NoteKind;

namespace {

/// One rig and one wire on one mast.
kit::Trip wire_trip() {
  kit::Trip t = advice::small_trip();
  t.rigs.resize(1);
  t.rigs[0].item.name = "10 W set";
  t.supports.resize(1);
  t.supports[0].item.name = "6 m pole";
  t.antennas = {advice::wire("wire", antenna::Kind::end_fed_half_wave, 200, {})};
  t.antennas[0].item.name = "end-fed wire";
  return t;
}

constexpr Id<kit::Antenna> wire;
constexpr Id<kit::Support> pole;
constexpr Id<kit::Rig> rig;

kit::Setup on_pole() {
  kit::Setup s;
  s.support = pole;
  s.stance.bands = 3;
  return s;
}

}  // namespace

TEST_CASE("every note has a sentence of its own, on one line", "[words][property]") {
  std::set<std::string> said;
  const auto last = static_cast<int>(NoteKind::too_steep);
  for (int kind = 0; kind <= last; ++kind) {
    CAPTURE(kind);
    const auto text = note_text({static_cast<NoteKind>(kind), 1.5, 2.5, 3.5});
    CHECK(text.size() > 8);
    CHECK(text.find('\n') == std::string::npos);
    CHECK(said.insert(text).second);
  }
}

TEST_CASE("notes tell their numbers", "[words][known]") {
  CHECK(note_text({NoteKind::not_resonant, 10.12, 1.44}) == "not resonant on 10.12 MHz (1.44 half-waves)");
  CHECK(note_text({NoteKind::support_too_low, 10.1, 0.5, 5.5}) ==
        "a 10.1 m vertical from 0.5 m up does not fit on a support usable to 5.5 m");
  CHECK(note_text({NoteKind::trimmed, -0.023}) == "trimmed 2.3 % shorter than the rule");
  CHECK(note_text({NoteKind::not_trimmed, 0.08}) ==
        "as the rule cuts it: no length within 8 % of that was found resonant");
  CHECK(note_text({NoteKind::beyond_tuner, 31, 10}) ==
        "cannot be matched: SWR 31 at the tuner, which reaches 10");
  Note shape{NoteKind::wrong_shape};
  shape.antenna = antenna::Kind::dipole;
  shape.shape = antenna::Shape::inverted_l;
  CHECK(note_text(shape) == "a dipole does not hang as inverted-l");
  CHECK(notes_text({{NoteKind::l_not_end_fed}, {NoteKind::no_far_support}, {NoteKind::l_not_end_fed}}) ==
        "an inverted L is fed at its low end; no far support for a horizontal wire");
}

TEST_CASE("a setup is called by its antenna, supports, rig, cable, tuner and site", "[words][known]") {
  kit::Trip t = wire_trip();
  kit::Setup s = on_pole();
  CHECK(setup_label(t, s) == "end-fed wire as inverted V on the 6 m pole with the 10 W set");
  t.supports.push_back(t.supports[0]);
  t.supports[1].item.name = "tree";
  s.far_support = Id<kit::Support>(1);
  s.shape = antenna::Shape::horizontal;
  s.cable = Id<kit::Cable>(0);
  CHECK(setup_label(t, s) ==
        "end-fed wire level on the 6 m pole and the tree with the 10 W set through cable");
  s.tuned = true;
  s.far_support.reset();
  s.cable.reset();
  CHECK(setup_label(t, s) == "end-fed wire level on the 6 m pole with the 10 W set and its own tuner");
  kit::Tuner tuner;
  tuner.item = advice::thing("tuner", 100);
  t.tuners = {tuner};
  s.tuner = Id<kit::Tuner>(0);
  t.sites.push_back(t.sites[0]);
  t.sites[1].name = "shore";
  s.site = Id<kit::Site>(1);
  CHECK(setup_label(t, s) == "end-fed wire level on the 6 m pole with the 10 W set and the tuner at shore");
}

TEST_CASE("what is said of several bands is said once, with the bands in front unless it is all of them",
          "[words][property]") {
  const kit::Trip t = wire_trip();
  kit::Setup s = on_pole();
  // Told to a tenth of a metre, the first two are the same.
  s.stance.hanging = {{0, {NoteKind::top_bent_over, 1.21}}, {1, {NoteKind::top_bent_over, 1.19}},
                      {0, {NoteKind::retuned_loop}},        {1, {NoteKind::retuned_loop}},
                      {2, {NoteKind::retuned_loop}},        {1, {NoteKind::off_resonance, 2.58}},
                      {2, {NoteKind::off_resonance, 3.56}}};
  CHECK(setup_notes(t, s) == std::vector<std::string>{"40m, 20m: top 1.2 m bent over",
                                                      "loop retuned after every change of frequency",
                                                      "20m: needs a tuner (2.58 half-waves)",
                                                      "15m: needs a tuner (3.56 half-waves)"});
  // Off resonance on both, but only one matches with a tuner.
  s.matches_tuned = {2};
  CHECK(setup_notes(t, s, true) == std::vector<std::string>{"40m, 20m: top 1.2 m bent over",
                                                            "loop retuned after every change of frequency",
                                                            "needs the tuner on 15m"});
  s.stance.hanging.clear();
  s.stance.refused = {{2, {NoteKind::not_made_for, 21.2}}};
  s.wants_tuner = {0, 1};
  CHECK(setup_notes(t, s) ==
        std::vector<std::string>{"not on 15m: not made for 21.20 MHz", "not without a tuner: 40m, 20m"});
}

TEST_CASE("a support that wants guys and has none is told", "[words][edge]") {
  kit::Trip t = wire_trip();
  t.supports[0].needs_guys = true;
  CHECK(setup_notes(t, on_pole()) ==
        std::vector<std::string>{"the 6 m pole wants guys: none are listed with it"});
  t.supports[0].needs = {"guys"};
  CHECK(setup_notes(t, on_pole()).empty());
}

TEST_CASE("what cannot be is told with its reason, and none twice", "[words][known]") {
  const kit::Trip t = wire_trip();
  using Why = kit::Impossible::Why;
  kit::Setups setups;
  const auto told = [&] {
    const auto lines = cannot_be(t, setups);
    REQUIRE(lines.size() == 1);
    return lines[0].what + ": " + lines[0].why;
  };
  const auto only = [&](const kit::Impossible& one) {
    setups.impossible = {one, one};
    return told();
  };
  CHECK(only({Why::short_cable, wire, pole, {}, {}, 5.1, 6.1}) ==
        "end-fed wire on the 6 m pole: its feed point is 5.1 m up: no cable is 6.1 m long");
  CHECK(only({Why::short_counterpoise, wire, pole, {}, {}, 12, 12}) ==
        "end-fed wire on the 6 m pole: 12.0 m of cable are its counterpoise: no cable is that long");
  CHECK(only({Why::wires_too_high, wire, pole, {}, {}, 5, 4}) ==
        "end-fed wire on the 6 m pole: its wires reach 5.0 m, the support 4.0 m");
  CHECK(only({Why::no_licensed_band, {}, {}, {}, rig}) == "10 W set: has none of the licensed bands");
  CHECK(only({Why::no_tuner, wire, {}, {}, rig}) ==
        "end-fed wire with the 10 W set: not resonant: needs a tuner, and there is none");
  // Told to a tenth of a metre, these are one.
  setups.impossible = {{Why::short_cable, wire, pole, {}, {}, 3.01, 4.01},
                       {Why::short_cable, wire, pole, {}, {}, 3.02, 4.02}};
  CHECK(told() == "end-fed wire on the 6 m pole: its feed point is 3.0 m up: no cable is 4.0 m long");
}

TEST_CASE("of many reasons the commonest three are told", "[words][property]") {
  const kit::Trip t = wire_trip();
  kit::Setups setups;
  kit::Impossible one{kit::Impossible::Why::does_not_stand, wire, pole, {}, {}};
  one.reasons = {{NoteKind::l_not_end_fed},         {NoteKind::no_far_support},
                 {NoteKind::not_made_for, 7},       {NoteKind::no_far_support},
                 {NoteKind::not_made_for, 14},      {NoteKind::not_made_for, 21},
                 {NoteKind::sloper_too_flat, 1, 2}, {NoteKind::sloper_too_flat, 1, 2}};
  setups.impossible = {one};
  const auto lines = cannot_be(t, setups);
  REQUIRE(lines.size() == 1);
  CHECK(
      lines[0].why ==
      "no far support for a horizontal wire; a sloper needs a high end: 1.0 m against 2.0 m at the low end; "
      "an inverted L is fed at its low end; and 3 more like these");
}

TEST_CASE("bands that no rig can use are told with the place, things with the rule", "[words][known]") {
  const kit::Trip t = wire_trip();
  advice::Advice a;
  a.setups.possible = {on_pole()};
  advice::UnfitBands unfit;
  unfit.bands = {{{0, 0, Note{NoteKind::needs_tuner, 7.2}}, 0},
                 {{0, 2, Error{{}, "a wire that lies on another", "", {}}}, 2}};
  a.unfit = {unfit};
  advice::Thing mast;
  mast.name = "long mast";
  mast.excluded = true;
  mast.exclusion = advice::Exclusion::no_hold_bag;
  a.inventory.things = {mast};
  const auto lines = cannot_be(t, a);
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].what == "end-fed wire as inverted V");
  CHECK(lines[0].why ==
        "40m: needs a tuner: SWR 7.2 at the rig (on the 6 m pole); 15m: a wire that lies on another (on the "
        "6 m "
        "pole, and in 2 other ways)");
  CHECK(lines[1].what + ": " + lines[1].why == "long mast: goes in the hold only, and no bag goes there");
}

TEST_CASE("a remedy is told with what it wins and what it loses, each kind in words of its own",
          "[words][known]") {
  kit::Trip t = wire_trip();
  t.antennas[0].design.wire_m = 20.4;
  advice::Remedy r;
  r.antenna = wire;
  r.support = pole;
  r.shape = antenna::Shape::sloper;
  r.bands = {0, 2};
  r.number = 20.8;
  CHECK(remedy_text(t, r) == "end-fed wire, made longer to 20.8 m: serves 40m and 15m");
  r.number = 20.0;
  r.lost = {1};
  CHECK(remedy_text(t, r) == "end-fed wire, cut to 20.0 m: serves 40m and 15m, no longer 20m");
  r.lost.clear();
  r.bands = {0, 1, 2};
  r.kind = advice::Remedy::Kind::tuner;
  r.number = r.added_g = 240;
  r.reach = {0.12, 0.82};
  CHECK(remedy_text(t, r) ==
        "end-fed wire, with a small tuner (240 g): serves 40m, 20m and 15m: 12 % -> 82 %");
  std::set<std::string> said;
  for (int kind = 0; kind <= static_cast<int>(advice::Remedy::Kind::cable); ++kind) {
    r.kind = static_cast<advice::Remedy::Kind>(kind);
    const auto text = remedy_text(t, r);
    CAPTURE(text);
    CHECK(text.find("end-fed wire, ") == 0);
    CHECK(text.find(", : ") == std::string::npos);
    CHECK(said.insert(text).second);
  }
}
