// Air-travel rules at their boundaries, and cylinders in boxes.
#include "skerry/kit/rules.hpp"

#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/core/embedded.hpp"

namespace {

using namespace skerry;
using namespace skerry::kit;

Battery battery(double volts, double amp_hours, const char* chemistry = "lifepo4", bool spare = true,
                bool usb = false) {
  Battery b;
  b.item.id = "pack";
  b.volts = volts;
  b.amp_hours = amp_hours;
  b.chemistry = chemistry;
  b.spare = spare;
  b.usb_outlet = usb;
  return b;
}

Bag box(double a, double b, double c) {
  Bag bag;
  bag.inner_cm = {a, b, c};
  return bag;
}

Bag lined(Bag bag, double lining_cm) {
  bag.lining_cm = lining_cm;
  return bag;
}

Item tube(double length_cm, double diameter_cm) {
  Item item;
  item.tube_cm = {{length_cm, diameter_cm}};
  return item;
}

/// Longest cylinder by trying directions: never more than the exact answer, and close to it from below.
double sampled_solid(const std::array<double, 3>& sides, double d, int steps) {
  double best = 0;
  for (int i = 0; i <= steps; ++i) {
    for (int j = 0; j <= steps; ++j) {
      const double polar = std::numbers::pi / 2 * i / steps;
      const double around = std::numbers::pi / 2 * j / steps;
      const std::array<double, 3> u = {std::sin(polar) * std::cos(around), std::sin(polar) * std::sin(around),
                                       std::cos(polar)};
      double longest = 1e9;
      for (std::size_t k = 0; k < 3; ++k) {
        const double rest = sides[k] - d * std::sqrt(std::max(0.0, 1 - u[k] * u[k]));
        longest = std::min(longest, rest < 0 ? 0 : (u[k] > 1e-12 ? rest / u[k] : 1e9));
      }
      best = std::max(best, longest);
    }
  }
  return best;
}

}  // namespace

// Source: IATA, "Passengers travelling with lithium batteries": up to 100 Wh free, over 100 to 160 Wh with
// approval, above not; the products are the arithmetic printed on such packs.
TEST_CASE("watt-hour limits hold exactly at their boundaries", "[kit][known]") {
  struct Row {
    double volts, amp_hours;
    double wh;
    Place place;
    bool approval;
  };
  const auto row = GENERATE(values<Row>({
      {12.0, 3.0, 36, Place::cabin_only, false},
      {12.8, 6.0, 76.8, Place::cabin_only, false},
      {11.1, 9.0, 99.9, Place::cabin_only, false},
      {12.5, 8.0, 100, Place::cabin_only, false},
      {14.8, 6.8, 100.64, Place::cabin_only, true},
      {12.8, 12.0, 153.6, Place::cabin_only, true},
      {12.8, 12.5, 160, Place::cabin_only, true},
      {12.8, 13.0, 166.4, Place::forbidden, false},
  }));
  const auto verdict = judge(battery(row.volts, row.amp_hours));
  CAPTURE(row.wh);
  CHECK(verdict.place == row.place);
  CHECK(verdict.approval == row.approval);
  CHECK(verdict.reason.watt_hours == row.wh);
  CHECK(verdict.reason.limit == 100);
  CHECK(verdict.reason.upper_limit == 160);
  CHECK(verdict.rule_date == "2025-01-01");
}

TEST_CASE("rounding of the product never moves a pack across a limit", "[kit][property]") {
  // 100 = V x (100 / V) and 160 likewise, for every tenth of a volt: on paper exactly at the limit.
  for (int tenth = 30; tenth <= 300; ++tenth) {
    const double volts = tenth / 10.0;
    CAPTURE(volts);
    CHECK_FALSE(judge(battery(volts, 100 / volts)).approval);
    CHECK(judge(battery(volts, 160 / volts)).place == Place::cabin_only);
    CHECK(judge(battery(volts, 100.01 / volts)).approval);
    CHECK(judge(battery(volts, 160.01 / volts)).place == Place::forbidden);
  }
}

TEST_CASE("a pack inside equipment may go in the hold, a spare may not", "[kit][known]") {
  // Source: the same leaflet.
  CHECK(judge(battery(12.8, 6, "li-ion", false)).place == Place::either);
  CHECK(judge(battery(12.8, 6, "li-ion", false)).cabin_preferred);
  CHECK(judge(battery(12.8, 12, "li-ion", false)).approval);
  CHECK(judge(battery(12.8, 13, "li-ion", false)).place == Place::forbidden);
}

TEST_CASE("a pack with a USB outlet is judged as a power bank, by the rule of March 2026", "[kit][known]") {
  // Source: UK CAA notice of 2026; ICAO Doc 9284 Addendum 1, in force 27 March 2026.
  const auto verdict = judge(battery(11.1, 9, "li-ion", true, true));
  CHECK(verdict.place == Place::cabin_only);
  CHECK(verdict.arguable);
  CHECK(verdict.rule_date == "2026-03-27");
  CHECK(verdict.reason.kind == AirReason::Kind::usb_outlet);
  CHECK(verdict.reason.each == 2);
}

TEST_CASE("lead-acid packs are limited to 12 V and 100 Wh", "[kit][known]") {
  // Source: an airline's rule on non-spillable batteries, second-hand.
  CHECK(judge(battery(12, 7.2, "lead-acid")).place == Place::either);
  CHECK(judge(battery(12, 7.2, "lead-acid")).arguable);
  CHECK(judge(battery(12, 8.4, "lead-acid")).place == Place::forbidden);  // 100.8 Wh
  CHECK(judge(battery(24, 2, "lead-acid")).place == Place::forbidden);
  CHECK(judge(battery(12, 20, "nimh")).place == Place::either);
}

TEST_CASE("sharp things go in the hold, poles are arguable, fuel stays at home", "[kit][known]") {
  // Source: EU 2015/1998, Attachment 4-C, and lists made after it.
  Item pegs;
  pegs.sharp = true;
  CHECK(judge(pegs).place == Place::hold_only);
  CHECK_FALSE(judge(pegs).arguable);
  CHECK(judge(tube(67, 4.7)).place == Place::either);
  CHECK(judge(tube(67, 4.7)).arguable);
  CHECK_FALSE(judge(tube(30, 2)).arguable);
  Item gas;
  gas.fuel = true;
  gas.sharp = true;
  CHECK(judge(gas).place == Place::forbidden);
  Item spray;
  spray.liquid_ml = 100;
  CHECK(judge(spray).place == Place::either);
  spray.liquid_ml = 101;
  CHECK(judge(spray).place == Place::hold_only);
  CHECK(judge(Item{}).place == Place::either);
}

TEST_CASE("counts are per person", "[kit][known]") {
  // Source: the leaflet: two spares over 100 Wh, 20 spares, 15 devices; power banks two (2026).
  std::vector<Battery> big(2, battery(12.8, 12));
  CHECK(count_problems(big, 1).empty());
  big.push_back(battery(12.8, 12));
  REQUIRE(count_problems(big, 1).size() == 1);
  CHECK(count_problems(big, 1)[0].what == CountProblem::What::medium_spares);
  CHECK(count_problems(big, 1)[0].found == 3);
  CHECK(count_problems(big, 1)[0].each == 2);
  CHECK(count_problems(big, 2).empty());
  CHECK(count_problems(std::vector<Battery>(20, battery(12.8, 3)), 1).empty());
  CHECK(count_problems(std::vector<Battery>(21, battery(12.8, 3)), 1).size() == 1);
  CHECK(count_problems(std::vector<Battery>(3, battery(11.1, 3, "li-ion", true, true)), 1).size() == 1);
  CHECK(count_problems(std::vector<Battery>(3, battery(12, 3, "lead-acid")), 1).size() == 1);
  CHECK(count_problems(std::vector<Battery>(16, battery(7.2, 1, "li-ion", false)), 1).size() == 1);
  CHECK(count_problems({}, 1).empty());
}

TEST_CASE("verdicts stand batteries first, then in the order of the file, without what is found at the site",
          "[kit][property]") {
  Trip trip;
  Rig rig;
  rig.item.id = "rig";
  rig.item.line = 30;
  trip.rigs.push_back(rig);
  Support pole;
  pole.item = tube(57, 4);
  pole.item.id = "pole";
  pole.item.line = 10;
  Support tree;
  tree.item.id = "tree";
  tree.item.line = 20;
  tree.at_site = true;
  trip.supports = {pole, tree};
  trip.batteries.push_back(battery(12.8, 6));
  const auto verdicts = judge(trip);
  REQUIRE(verdicts.size() == 3);
  CHECK(verdicts[0].item == "pack");
  CHECK(verdicts[1].item == "pole");
  CHECK(verdicts[2].item == "rig");
  CHECK(verdicts[2].cabin_preferred);
  CHECK(verdicts[2].rule == "radio");
  for (const auto& v : verdicts) CHECK(v.rule_date.size() == 10);
}

TEST_CASE("old rules are known as old", "[kit][property]") {
  using namespace std::chrono;
  CHECK(rules_checked() <= rules_valid_until());
  CHECK_FALSE(rules_outdated(rules_valid_until()));
  CHECK(rules_outdated(sys_days{rules_valid_until()} + days{1}));
}

TEST_CASE("longest cylinders in usual bags", "[kit][known]") {
  // searched_cm: authorities/longest_tube.py, printed to 0.001. solid, flat: a table of practice for packers,
  // which is cut and not rounded to 0.1 cm and stands up to 0.15 cm short of the search.
  struct Row {
    std::array<double, 3> box;
    double d, searched_cm, solid, flat;
  };
  const auto row = GENERATE(values<Row>({
      {{55, 40, 23}, 2, 69.298, 69.2, 66.1},   {{55, 40, 23}, 3, 68.070, 68.0, 65.2},
      {{55, 40, 23}, 4, 66.857, 66.8, 64.2},   {{55, 40, 23}, 4.7, 66.018, 66.0, 63.6},
      {{55, 40, 23}, 6, 64.481, 64.4, 62.4},   {{55, 40, 20}, 2, 68.462, 68.4, 66.1},
      {{55, 40, 20}, 3, 67.272, 67.2, 65.2},   {{55, 40, 20}, 4, 66.098, 66.0, 64.2},
      {{55, 40, 20}, 4.7, 65.287, 65.3, 63.6}, {{55, 40, 20}, 6, 63.806, 63.8, 62.4},
      {{56, 45, 25}, 2, 73.512, 73.5, 69.9},   {{56, 45, 25}, 3, 72.249, 72.2, 68.9},
      {{56, 45, 25}, 4, 70.996, 70.9, 67.9},   {{56, 45, 25}, 4.7, 70.126, 70.0, 67.3},
      {{56, 45, 25}, 6, 68.527, 68.4, 66.0},   {{40, 30, 20}, 2, 51.266, 51.2, 48.1},
      {{40, 30, 20}, 3, 49.993, 50.0, 47.1},   {{40, 30, 20}, 4, 48.737, 48.7, 46.2},
      {{40, 30, 20}, 4.7, 47.869, 47.8, 45.6}, {{40, 30, 20}, 6, 46.285, 46.3, 44.4},
      {{75, 50, 33}, 2, 93.498, 93.4, 88.3},   {{75, 50, 33}, 3, 92.268, 92.2, 87.4},
      {{75, 50, 33}, 4, 91.049, 90.9, 86.5},   {{75, 50, 33}, 4.7, 90.204, 90.1, 85.9},
      {{75, 50, 33}, 6, 88.650, 88.6, 84.7},
  }));
  CAPTURE(row.box[0], row.box[2], row.d);
  const auto fit = longest_tube(row.box, row.d);
  CHECK_THAT(fit.solid_cm, WithinAbs(row.searched_cm, 0.001));
  CHECK(fit.solid_cm > row.solid - 0.05);
  CHECK(fit.solid_cm < row.solid + 0.151);
  CHECK(fit.flat_cm > row.flat - 0.05);
  CHECK(fit.flat_cm < row.flat + 0.151);
}

TEST_CASE("the exact cylinder is never beaten by trying directions, nor far above the best of them",
          "[kit][property]") {
  std::mt19937 random(20270214);
  std::uniform_real_distribution<double> side(10, 80);
  std::uniform_real_distribution<double> share(0.02, 0.98);
  for (int n = 0; n < 60; ++n) {
    const std::array<double, 3> sides = {side(random), side(random), side(random)};
    const double d = share(random) * *std::min_element(sides.begin(), sides.end());
    CAPTURE(sides[0], sides[1], sides[2], d);
    const double exact = longest_tube(sides, d).solid_cm;
    const double sampled = sampled_solid(sides, d, 400);
    CHECK(sampled <= exact + 1e-9);
    CHECK(sampled >= exact - 0.6);  // directions stand 0.22 degrees apart: 0.4 % of at most 139 cm
  }
}

TEST_CASE("limits of the cylinder: a thread takes the diagonal, a disc lies down, a thick one does not go in",
          "[kit][edge]") {
  // Geometry, exact.
  CHECK_THAT(longest_tube({55, 40, 23}, 1e-9).solid_cm, WithinAbs(std::hypot(55.0, 40.0, 23.0), 1e-6));
  CHECK_THAT(longest_tube({55, 40, 23}, 1e-9).flat_cm, WithinAbs(std::hypot(55.0, 40.0), 1e-6));
  CHECK_THAT(longest_tube({40, 30, 20}, 25).solid_cm, WithinAbs(20.0, 1e-6));
  CHECK(longest_tube({40, 30, 20}, 25).flat_cm == 0);
  // A thin disc stands aslant up to a diameter of sqrt(30^2 + 20^2) = 36.06 cm.
  CHECK(longest_tube({40, 30, 20}, 36.0).solid_cm > 0);
  CHECK(longest_tube({40, 30, 20}, 36.1).solid_cm == 0);
  CHECK_THAT(longest_tube({30, 30, 30}, 30).solid_cm, WithinAbs(30.0, 1e-6));
}

TEST_CASE("longer bags never hold shorter cylinders, whatever way the sides are named", "[kit][property]") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> side(8, 80);
  for (int n = 0; n < 100; ++n) {
    const double a = side(random);
    const double b = side(random);
    const double c = side(random);
    const double d = 0.3 * std::min({a, b, c});
    const auto fit = longest_tube({a, b, c}, d);
    CHECK(longest_tube({a + 1, b, c}, d).solid_cm >= fit.solid_cm - 1e-9);
    CHECK(longest_tube({c, a, b}, d).solid_cm == Approx(fit.solid_cm).epsilon(1e-12));
    CHECK(longest_tube({a, b, c}, d * 1.1).solid_cm <= fit.solid_cm + 1e-9);
    CHECK(fit.flat_cm <= fit.solid_cm + 1e-9);
  }
}

TEST_CASE("a 67 cm mast of 4.7 cm does not go into a classic cabin bag though its diagonal is 71.8 cm",
          "[kit][known]") {
  CHECK_FALSE(fits(tube(67, 4.7), lined(box(55, 40, 23), 0)));
  CHECK(fits(tube(66, 4.7), lined(box(55, 40, 23), 0)));
  CHECK_FALSE(fits(tube(66, 4.7), box(55, 40, 23)));  // with 1 cm of lining
  CHECK(fits(tube(67, 4.7), box(75, 50, 33)));
}

TEST_CASE("boxes fit by sorted sides, long thin ones also aslant, soft things always", "[kit][edge]") {
  Item item;
  item.size_cm = {{54, 39, 22}};
  CHECK(fits(item, box(23, 55, 40)));
  CHECK_FALSE(fits(item, lined(box(23, 55, 40), 1.01)));
  item.size_cm = {{60, 2, 2}};
  CHECK(fits(item, box(55, 40, 23)));
  item.size_cm = {{80, 2, 2}};
  CHECK_FALSE(fits(item, box(55, 40, 23)));
  CHECK(fits(Item{}, box(55, 40, 23)));
  CHECK_FALSE(fits(Item{}, box(55, 40, 1)));
}

TEST_CASE("the ways of a tube are those in which its widths fit, and no others", "[kit][property]") {
  // The check: directions over the whole eighth of the sphere, the width of a cylinder with flat ends along each
  // side (as for longest_tube, from its text).
  std::mt19937 random(11);
  const auto number = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  int some = 0, none = 0;
  for (int n = 0; n < 120; ++n) {
    const std::array<double, 3> inner{number(15, 30), number(25, 45), number(40, 60)};
    const double d = number(0.5, 12), l = d + number(0, 70);
    const auto ways = ways_of_tube(inner, {l, d});
    // Where longest_tube stands within its rounding nobody is asked.
    if (std::abs(longest_tube(inner, d).solid_cm - l) < 1e-6) continue;
    REQUIRE(ways.has_value() == (longest_tube(inner, d).solid_cm >= l));
    (ways ? some : none) += 1;
    const auto width = [&](double u) { return l * u + d * std::sqrt(std::max(0.0, 1 - u * u)); };
    if (ways) {
      for (const auto& u : ways->some) {
        CHECK_THAT(u[0] * u[0] + u[1] * u[1] + u[2] * u[2], WithinAbs(1, 1e-9));
        for (std::size_t k = 0; k < 3; ++k) CHECK(width(u[k]) <= inner[k] + 1e-6);
      }
    }
    std::array<double, 3> play{}, along{1e9, 1e9, 1e9}, across{1e9, 1e9, 1e9};
    for (int i = 0; i <= 300; ++i) {
      for (int j = 0; j <= 300; ++j) {
        const double z = i / 300.0, turn = j / 300.0 * 1.5707963267948966, r = std::sqrt(1 - z * z);
        const std::array<double, 3> u{r * std::cos(turn), r * std::sin(turn), z};
        bool holds = true;
        for (std::size_t k = 0; k < 3; ++k) holds = holds && width(u[k]) <= inner[k];
        if (!holds) continue;
        REQUIRE(ways.has_value());
        for (std::size_t k = 0; k < 3; ++k) {
          const double rim = 0.5 * d * std::sqrt(std::max(0.0, 1 - u[k] * u[k]));
          play[k] = std::max(play[k], 0.5 * (inner[k] - width(u[k])));
          along[k] = std::min(along[k], l * u[k] + rim);
          across[k] = std::min(across[k], rim);
        }
      }
    }
    if (!ways) continue;
    // No direction tried is outside the bounds, and where any was tried they are nearly met.
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(play[k] <= ways->play_cm[k] + 1e-6);
      CHECK(along[k] >= ways->along_cm[k] - 1e-6);
      CHECK(across[k] >= ways->across_cm[k] - 1e-6);
      if (longest_tube(inner, d).solid_cm > l + 5 && l > 2 * d) {
        CHECK(ways->play_cm[k] - play[k] < 1);
        CHECK(along[k] - ways->along_cm[k] < 2);
        CHECK(across[k] - ways->across_cm[k] < 1);
      }
    }
  }
  CHECK(some > 15);
  CHECK(none > 15);
}

TEST_CASE("a battery counts as what the table says, and each sort has its number", "[kit][known]") {
  // Source: data/air/rules.toml.
  using What = CountProblem::What;
  CHECK(counts_as(battery(12.8, 10), What::medium_spares));
  CHECK(counts_as(battery(12.8, 10), What::spares));
  CHECK_FALSE(counts_as(battery(12.8, 7.8), What::medium_spares));  // 99.84 Wh
  CHECK_FALSE(counts_as(battery(12.8, 10, "lifepo4", false), What::medium_spares));
  CHECK(counts_as(battery(12.8, 10, "lifepo4", false), What::devices));
  CHECK(counts_as(battery(5, 10, "li-ion", false, true), What::power_banks));
  CHECK(counts_as(battery(12, 7, "lead-acid"), What::lead_acid_spares));
  CHECK(most_per_person(What::spares) == 20);
  CHECK(most_per_person(What::devices) == 15);
  CHECK(most_per_person(What::medium_spares) == 2);
  CHECK(most_per_person(What::power_banks) == 2);
  CHECK(most_per_person(What::lead_acid_spares) == 2);
  CHECK(too_many(What::power_banks, 3, 1).each == 2);
}
