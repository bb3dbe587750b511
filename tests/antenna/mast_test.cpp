#include "skerry/antenna/mast.hpp"

#include <cmath>

#include "check.hpp"
#include "plain_designs.hpp"

using namespace skerry;
using namespace skerry::antenna;

TEST_CASE("a wire taped to a conductive mast is unsettled, one held off or on its top is not",
          "[antenna][known]") {
  // Common practice: never tape a vertical to a carbon pole, since the same pole is another antenna each time
  // it is put up; hold the wire a metre off, or let the pole carry the middle of an inverted V.
  Support carbon = pole(6);
  carbon.conductive = true;
  const Ground rock = find_ground("rock", {}).value();
  const auto sway = [&](Kind kind, Shape shape, double mhz, Support support) {
    const Design d = design(kind, {shape});
    const Raised way = trimmed(d, support, raise(d, support, mhz).ways.at(0), rock, mhz);
    const auto out = mast_sway(way, rock, chain_for(d, mhz, {}), false,
                               [&](const WireAntenna& wires) -> Result<std::shared_ptr<const Solution>> {
                                 auto solved = solve(wires, rock, mhz);
                                 if (!solved) return tl::unexpected(solved.error());
                                 return std::make_shared<const Solution>(std::move(*solved));
                               });
    REQUIRE(out);
    return *out;
  };
  for (const double mhz : {14.1, 18.1, 21.2, 24.9, 28.5}) {
    CAPTURE(mhz);
    const auto taped = sway(Kind::vertical_quarter, Shape::vertical, mhz, carbon);
    CAPTURE(taped.gain_db, taped.least_swr, taped.largest_swr);
    CHECK_FALSE(taped.settled(false));
    REQUIRE(unsettled(taped, false));
    CHECK(unsettled(taped, false)->kind == NoteKind::mast_unsettled);
    CHECK(unsettled(taped, false)->a == taped.gain_db);
    const auto v = sway(Kind::dipole, Shape::inverted_v, mhz, carbon);
    CAPTURE(v.gain_db, v.least_swr, v.largest_swr);
    CHECK(v.settled(false));
    CHECK_FALSE(unsettled(v, false));
  }
  Support off = carbon;
  off.standoff_m = 1;
  const auto held_off = sway(Kind::vertical_quarter, Shape::vertical, 14.1, off);
  CAPTURE(held_off.gain_db, held_off.least_swr, held_off.largest_swr);
  CHECK(held_off.settled(false));
  CHECK(held_off.gain_db < sway(Kind::vertical_quarter, Shape::vertical, 14.1, carbon).gain_db);
}

TEST_CASE("the standoff is how far a wire along a conductive mast is from it", "[antenna][property]") {
  Support carbon = pole(6);
  carbon.conductive = true;
  const auto away = [&](Kind kind, Shape shape) {
    const Raised way = raise(design(kind, {shape}), carbon, 14.1).ways.at(0);
    const Wire& mast = way.antenna.wires.at(static_cast<std::size_t>(way.mast_wire - 1));
    return std::hypot(mast.from_m[0], mast.from_m[1]);
  };
  const double taped = away(Kind::vertical_quarter, Shape::vertical);
  CHECK(taped < 0.02);
  CHECK(taped > 0.0155);  // the radii of both: they do not go through each other
  CHECK(away(Kind::dipole, Shape::inverted_v) > taped);
  carbon.standoff_m = 1;
  CHECK(std::abs(away(Kind::vertical_quarter, Shape::vertical) - 1) < 1e-9);
  CHECK(away(Kind::dipole, Shape::inverted_v) < 0.1);  // only its top is touched
  carbon.standoff_m = 0.01;
  CHECK(away(Kind::vertical_quarter, Shape::vertical) == taped);
}

TEST_CASE("a mast may turn out in several ways, all of them within reach of the one raised",
          "[antenna][property]") {
  Support carbon = pole(6);
  carbon.conductive = true;
  const Raised way = raise(design(Kind::vertical_quarter), carbon, 14.1).ways.at(0);
  const auto masts = possible_masts(way);
  REQUIRE(masts.size() == 7);
  CHECK(masts[0].wires.size() == way.antenna.wires.size());
  Support off = carbon;
  off.standoff_m = 0.5;  // its feed cannot touch the mast
  CHECK(possible_masts(raise(design(Kind::vertical_quarter), off, 14.1).ways.at(0)).size() == 6);
  for (const auto& m : masts) {
    CHECK(m.wires.size() >= way.antenna.wires.size());
    CHECK(solve(m, find_ground("rock", {}).value(), 14.1).has_value());
  }
}
