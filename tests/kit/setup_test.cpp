// Which combinations of an inventory work, and why others do not.
#include "skerry/kit/setup.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include "check.hpp"
#include "read_trip.hpp"
#include "skerry/core/nth.hpp"

namespace {

using namespace skerry;
using namespace skerry::files;
using namespace skerry::kit;
using skerry::test::changed;
using skerry::test::read_well;
using skerry::test::trip_text;

std::string with(const std::string& more) {
  return std::string(trip_text) + "\n" + more;
}

using Why = Impossible::Why;

/// The line on this antenna (none: on rigs alone) with that reason.
std::optional<Impossible> reason(const Setups& setups, std::optional<int> antenna, Why why) {
  for (const auto& i : setups.impossible) {
    const bool here = antenna ? i.antenna == Id<Antenna>(*antenna) : !i.antenna;
    if (here && i.why == why) return i;
  }
  return std::nullopt;
}

std::vector<Setup> of_antenna(const Setups& setups, int antenna) {
  std::vector<Setup> out;
  for (const auto& s : setups.possible) {
    if (s.antenna == Id<Antenna>(antenna)) out.push_back(s);
  }
  return out;
}

constexpr const char* dipole =
    "[[antenna]]\nid = \"dipole\"\nname = \"dipole\"\nkind = \"dipole\"\nmass_g = 150\nsupports = "
    "[\"pole\"]\n";
constexpr const char* vertical =
    "[[antenna]]\nid = \"gp\"\nname = \"vertical\"\nkind = \"vertical-quarter\"\nmass_g = 150\nsupports = "
    "[\"pole\"]\n";
constexpr const char* random_wire =
    "[[antenna]]\nid = \"random\"\nname = \"random wire\"\nkind = \"end-fed-random\"\nwire_m = 12.5\nmass_g "
    "= 150\nshapes = [\"sloper\"]\n";

}  // namespace

TEST_CASE("one antenna, one pole, one rig give one setup with all it needs", "[kit][known]") {
  const Trip trip = read_well(trip_text);
  const auto setups = derive_setups(trip);
  REQUIRE(setups.possible.size() == 1);
  const auto& s = setups.possible[0];
  CHECK(s.shape == antenna::Shape::inverted_v);
  CHECK(s.support == Id<Support>(0));
  CHECK(s.needs ==
        std::vector<std::string>{"cord", "guys", "pole", "rig", "wire"});  // the pole's own needs too
  // Common practice: 20.4 m is resonant near 7 and 14 MHz; fed near the ground, the rig stands at the feed.
  CHECK(s.bands == std::vector<int>{0, 1});
  CHECK(s.cable == std::nullopt);
  CHECK(s.tuner == std::nullopt);
  CHECK_FALSE(s.tuned);
}

TEST_CASE("an antenna fed in the air needs a cable that reaches", "[kit][known]") {
  const Trip trip = read_well(with(dipole));
  const auto of_dipole = of_antenna(derive_setups(trip), 1);
  REQUIRE_FALSE(of_dipole.empty());
  for (const auto& s : of_dipole) {
    CHECK(s.cable == Id<Cable>(0));
    CHECK(std::find(s.needs.begin(), s.needs.end(), "coax") != s.needs.end());
  }
  const Trip shorter = read_well(changed(with(dipole), "length_m = 10", "length_m = 3"));
  const auto setups = derive_setups(shorter);
  // An inverted V is fed at its top, 5.1 m up: 3 m of cable do not reach.
  for (const auto& s : of_antenna(setups, 1)) CHECK(s.shape != antenna::Shape::inverted_v);
  const auto why = reason(setups, 1, Why::short_cable);
  REQUIRE(why);
  CHECK(why->support == Id<Support>(0));
  CHECK_THAT(why->b, WithinAbs(6.1, 1e-9));
  const Trip none =
      read_well(changed(with(dipole), "[[cable]]\nid = \"coax\"\ntype = \"rg316\"\nlength_m = 10\n", ""));
  CHECK(reason(derive_setups(none), 1, Why::no_cable));
}

TEST_CASE("each cable that reaches is a choice of its own", "[kit][property]") {
  const auto one = of_antenna(derive_setups(read_well(with(vertical))), 1);
  const auto two =
      of_antenna(derive_setups(read_well(with(std::string(vertical) +
                                              "[[cable]]\nid = \"thick\"\ntype = \"rg58\"\nlength_m = 8\n"))),
                 1);
  CHECK(one.size() == 1);
  CHECK(two.size() == 2);
}

TEST_CASE(
    "a quarter-wave vertical stands on a pole as high as it is and not on a lower one; a conductive one is "
    "said",
    "[kit][known]") {
  // Source: common practice: 5.05 m on 14 MHz, 10.1 m on 7 MHz, on a pole that does not conduct.
  const Trip trip = read_well(changed(with(vertical), "usable_m = 5.1", "usable_m = 5.9"));
  const auto setups = derive_setups(trip);
  const auto gp = of_antenna(setups, 1);
  REQUIRE(gp.size() == 1);
  CHECK(gp[0].bands == std::vector<int>{1});
  CHECK(gp[0].stance.bands == 1);
  REQUIRE(gp[0].stance.refused.size() == 1);
  CHECK(gp[0].stance.refused[0].band == 0);
  const auto low = derive_setups(read_well(
      changed(changed(with(vertical), "height_m = 6", "height_m = 4"), "usable_m = 5.1", "usable_m = 3")));
  CHECK(of_antenna(low, 1).empty());
  const auto why = reason(low, 1, Why::does_not_stand);
  REQUIRE(why);
  REQUIRE_FALSE(why->reasons.empty());
  CHECK(why->reasons[0].kind == antenna::NoteKind::support_too_low);
  const auto carbon = derive_setups(
      read_well(changed(with(vertical), "usable_m = 5.1", "usable_m = 5.9\nconductive = true")));
  // The mast becomes part of the antenna, and the setup says so; what it costs is the antenna room's to tell.
  REQUIRE(of_antenna(carbon, 1).size() == 1);
  const auto said = of_antenna(carbon, 1)[0].stance.hanging;
  CHECK(std::any_of(said.begin(), said.end(),
                    [](const BandNote& n) { return n.note.kind == antenna::NoteKind::mast_beside; }));
  // As far from it as its owner holds the wire.
  const auto held_off = derive_setups(read_well(
      changed(with(vertical), "usable_m = 5.1", "usable_m = 5.9\nconductive = true\nstandoff_m = 0.8")));
  REQUIRE(of_antenna(held_off, 1).size() == 1);
  const auto noted = of_antenna(held_off, 1)[0].stance.hanging;
  CHECK(std::any_of(noted.begin(), noted.end(), [](const BandNote& n) {
    return n.note.kind == antenna::NoteKind::mast_beside && std::abs(n.note.a - 0.8) < 1e-9;
  }));
}

TEST_CASE("a wire of any length needs a tuner, in the rig or beside it", "[kit][known]") {
  // Source: common practice for 12.5 m of wire with a 1:9 transformer.
  const auto none = derive_setups(read_well(with(random_wire)));
  CHECK(of_antenna(none, 1).empty());
  const auto why = reason(none, 1, Why::no_tuner);
  REQUIRE(why);
  CHECK(why->rig == Id<Rig>(0));
  const std::string tuner = "[[tuner]]\nid = \"tuner\"\nmass_g = 240\n";
  const auto beside = derive_setups(read_well(with(random_wire + tuner)));
  REQUIRE(of_antenna(beside, 1).size() == 1);
  const auto s = of_antenna(beside, 1)[0];
  CHECK(s.tuned);
  CHECK(s.tuner == Id<Tuner>(0));
  CHECK(std::find(s.needs.begin(), s.needs.end(), "tuner") != s.needs.end());
  const auto inside =
      derive_setups(read_well(changed(with(random_wire + tuner), "tuner = false", "tuner = true")));
  REQUIRE(of_antenna(inside, 1).size() == 1);
  CHECK(of_antenna(inside, 1)[0].tuned);
  CHECK(of_antenna(inside, 1)[0].tuner == std::nullopt);
}

TEST_CASE("a tuner opens bands of a half wave that are off resonance, as a setup of its own",
          "[kit][known]") {
  // Source: common practice: 20.4 m is 2.58 half-waves on 18 MHz: not without a tuner.
  std::string text = changed(trip_text, "bands = [\"20m\", \"40m\"]", "bands = [\"20m\", \"40m\", \"17m\"]");
  text =
      changed(text, "bands = [\"40m\", \"20m\"]\nsupports", "bands = [\"40m\", \"20m\", \"17m\"]\nsupports");
  const auto without = derive_setups(read_well(text));
  REQUIRE(without.possible.size() == 1);
  CHECK(without.possible[0].bands == std::vector<int>{0, 1});
  const auto with_tuner = derive_setups(read_well(changed(text, "tuner = false", "tuner = true")));
  REQUIRE(with_tuner.possible.size() == 2);
  CHECK_FALSE(with_tuner.possible[0].tuned);
  CHECK(with_tuner.possible[1].tuned);
  CHECK(with_tuner.possible[1].bands == std::vector<int>{2});
}

TEST_CASE("a level wire needs two supports", "[kit][known]") {
  const std::string level =
      changed(with(dipole), "kind = \"dipole\"", "kind = \"dipole\"\nshapes = [\"horizontal\"]");
  const std::string one = changed(level, "mass_g = 150\nsupports = [\"pole\"]", "mass_g = 150");
  const auto alone = derive_setups(read_well(one));
  CHECK(of_antenna(alone, 1).empty());
  const auto pair = derive_setups(
      read_well(one + "[[support]]\nid = \"tree\"\nname = \"tree\"\nat_site = true\nheight_m = 7\n"));
  const auto ways = of_antenna(pair, 1);
  REQUIRE(ways.size() == 1);  // the same wire from either support
  CHECK(ways[0].far_support == Id<Support>(1));
  CHECK(ways[0].support == Id<Support>(0));
  CHECK(ways[0].shape == antenna::Shape::horizontal);
  CHECK(std::find(ways[0].needs.begin(), ways[0].needs.end(), "tree") == ways[0].needs.end());  // found there
}

TEST_CASE("what is found at one site is not at another", "[kit][edge]") {
  std::string text = with(
      "[[site]]\nid = \"shore\"\nat = \"-19.68,63.42\"\n[[session]]\nsite = \"shore\"\nfrom = \"06:00\"\nto "
      "= \"08:00\"\n"
      "[[support]]\nid = \"tree\"\nname = \"tree\"\nat_site = [\"shore\"]\nheight_m = 7\n");
  text = changed(text, "supports = [\"pole\"]", "supports = [\"pole\", \"tree\"]");
  const auto setups = derive_setups(read_well(text));
  REQUIRE(setups.possible.size() == 3);
  for (const auto& s : setups.possible) {
    if (s.support == Id<Support>(1)) CHECK(s.site == Id<Site>(1));
  }
}

TEST_CASE("a cable whose shield is the counterpoise must be as long as that", "[kit][property]") {
  const auto shield = [](const char* length) {
    return changed(trip_text, "wire_m = 20.4\n",
                   std::string("wire_m = 20.4\ncable_counterpoise_m = ") + length + "\n");
  };
  // Fed at a metre, the wire alone needs no cable; now it takes the 10 m one.
  const auto with = derive_setups(read_well(shield("5")));
  REQUIRE(with.possible.size() == 1);
  CHECK(with.possible[0].cable == Id<Cable>(0));
  const auto without = derive_setups(read_well(shield("12")));
  CHECK(without.possible.empty());
  const auto why = reason(without, 0, Why::short_counterpoise);
  REQUIRE(why);
  CHECK(why->a == 12);
}

TEST_CASE("rigs give only the bands and modes they have", "[kit][property]") {
  const auto narrow = derive_setups(read_well(changed(trip_text, "tuner = false", "bands = [\"40m\"]")));
  REQUIRE(narrow.possible.size() == 1);
  CHECK(narrow.possible[0].bands == std::vector<int>{0});
  const auto other = derive_setups(read_well(changed(trip_text, "tuner = false", "bands = [\"10m\"]")));
  CHECK(other.possible.empty());
  CHECK(reason(other, {}, Why::no_licensed_band));
  auto trip = read_well(trip_text);
  trip.rigs[0].modes = {"ft8"};
  const auto data = derive_setups(trip);
  CHECK(data.possible.empty());
  CHECK(reason(data, {}, Why::no_wanted_mode));
}

TEST_CASE("a whip that stands by itself needs no support", "[kit][property]") {
  const auto setups = derive_setups(
      read_well(with("[[antenna]]\nid = \"whip\"\nname = \"whip\"\nkind = "
                     "\"vertical-loaded\"\nwire_m = 2.4\nmass_g = 600\nself_standing = true\n")));
  const auto whip = of_antenna(setups, 1);
  REQUIRE(whip.size() == 1);
  CHECK(whip[0].support == std::nullopt);
  CHECK(whip[0].needs == std::vector<std::string>{"coax", "rig", "whip"});
}

TEST_CASE("wires drawn one by one need a support as high as they reach", "[kit][property]") {
  const std::string drawn =
      "[[antenna]]\nid = \"vee\"\nname = \"vee\"\nmass_g = 100\nbands = [\"20m\"]\nfeed = {wire = 1, at = "
      "1}\n"
      "[[antenna.wire]]\nfrom_m = [-4, 0, 2]\nto_m = [0, 0, 5]\n[[antenna.wire]]\nfrom_m = [0, 0, 5]\nto_m = "
      "[4, 0, 2]\n";
  const Trip trip = read_well(with(drawn));
  const auto setups = derive_setups(trip);
  REQUIRE(of_antenna(setups, 1).size() == 1);
  CHECK(of_antenna(setups, 1)[0].cable == Id<Cable>(0));
  const auto raised = raise_for(trip, of_antenna(setups, 1)[0], 14.06);
  REQUIRE(raised);
  CHECK(raised->antenna.wires.size() == 2);
  CHECK(raised->feed_height_m == 5);
  const auto low = derive_setups(read_well(changed(with(drawn), "usable_m = 5.1", "usable_m = 4")));
  CHECK(of_antenna(low, 1).empty());
  const auto why = reason(low, 1, Why::wires_too_high);
  REQUIRE(why);
  CHECK(why->a == 5);
  CHECK(why->b == 4);
}

TEST_CASE("every setup stands on every band it lists, and its needs are all in the inventory",
          "[kit][property]") {
  const Trip trip = read_well(
      with(std::string(dipole) + vertical + random_wire + "[[tuner]]\nid = \"tuner\"\nmass_g = 240\n" +
           "[[support]]\nid = \"carbon\"\nname = \"carbon pole\"\nmass_g = 300\nheight_m = "
           "6\nconductive = true\n"));
  const auto setups = derive_setups(trip);
  CHECK(setups.possible.size() > 4);
  for (const auto& s : setups.possible) {
    CAPTURE(s.needs, s.tuned, antenna::to_text(s.shape));
    CHECK_FALSE(s.bands.empty());
    for (const int b : s.bands) {
      const auto raised = raise_for(trip, s, nth(trip.bands, b).mhz);
      REQUIRE(raised);
      CHECK(raised->shape == s.shape);
      CHECK(raised->needs_tuner == s.tuned);
    }
    CHECK(std::is_sorted(s.needs.begin(), s.needs.end()));
    CHECK(std::adjacent_find(s.needs.begin(), s.needs.end()) == s.needs.end());
  }
  // The same trip gives the same list.
  const auto again = derive_setups(trip);
  REQUIRE(again.possible.size() == setups.possible.size());
  const auto indices = [](const Setup& s) {
    return std::tuple(s.site, s.rig, s.antenna, s.support, s.far_support, s.cable, s.tuner, s.tuned, s.shape);
  };
  for (std::size_t i = 0; i < again.possible.size(); ++i)
    CHECK(indices(again.possible[i]) == indices(setups.possible[i]));
}
