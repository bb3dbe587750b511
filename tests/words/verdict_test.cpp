// The verdict's sentences, air rules and bags in words.
#include "skerry/words/verdict.hpp"

#include <fmt/format.h>

#include <set>

#include "../advice/small_trip.hpp"
#include "check.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/numbers.hpp"

using namespace skerry;
using namespace skerry::words;

namespace {

advice::Advice quick(const kit::Trip& t) {
  advice::AdviceOptions o;
  o.openings = o.uncertainty = o.variants = o.frontier = false;
  return advice::advise(t, o);
}

bool mentions(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// The verdict says so on a terminal.
bool says(const kit::Trip& t, const advice::Advice& a, const std::string& part) {
  const auto text = verdict_text(t, a, Reader::of_terminal);
  CAPTURE(text);
  return mentions(text, part);
}

kit::Bag cabin_bag(double takes_g) {
  kit::Bag bag;
  bag.id = bag.name = "cabin bag";
  bag.inner_cm = {{53, 38, 21}};
  bag.own_mass_g = 1000;
  bag.mass_limit_g = takes_g + 1000;
  return bag;
}

/// The small trip with one rig and one pole, whose guys must go in the hold, and no bag for it.
kit::Trip guyed_trip() {
  kit::Trip t = advice::small_trip();
  t.rigs.resize(1);
  t.supports.resize(1);
  t.supports[0].needs = {"storm guys"};
  t.items.push_back(advice::thing("storm guys", 250));
  t.items.back().sharp = true;
  t.bags = {cabin_bag(8000)};
  return t;
}

std::string only_problem(const kit::Trip& t) {
  const auto inventory = advice::take_inventory(t);
  std::vector<int> all;
  for (std::size_t i = 0; i < inventory.things.size(); ++i) all.push_back(static_cast<int>(i));
  const auto lines = bag_problems(t, inventory, advice::bag_problems(t, inventory, all));
  REQUIRE(lines.size() == 1);
  return lines[0];
}

}  // namespace

TEST_CASE("masses and shares have no more digits than they deserve", "[words][known]") {
  CHECK(mass(999.4) == "999 g");
  CHECK(mass(1000) == "1.00 kg");
  CHECK(percent(0.345) == "34 %");
  CHECK(percent(0.004) == "<1 %");
  CHECK(percent(0) == "0 %");
  CHECK(percent_in_words(0.004) == "under 1 %");
  CHECK(percent_in_words(0) == "0 %");
}

TEST_CASE("a verdict without a kit says why", "[words][edge]") {
  kit::Trip t = advice::small_trip();
  advice::Advice a;
  std::set<std::string> said;
  for (const auto outcome :
       {advice::Outcome::always_fits_no_bag, advice::Outcome::always_too_heavy,
        advice::Outcome::nothing_to_reach, advice::Outcome::no_setup, advice::Outcome::no_sky}) {
    a.outcome = outcome;
    CHECK(said.insert(verdict_text(t, a, Reader::of_terminal)).second);
    CHECK(said.insert(no_kit_text(outcome)).second);
  }
  a.outcome = advice::Outcome::no_sky;
  CHECK(says(t, a, "No kit, of any mass"));
  a.outcome = advice::Outcome::always_fits_no_bag;
  CHECK(says(t, a, "does not go into the bags"));
  t.batteries = {advice::pack("5 V bank", 5, 20, 400)};
  a = quick(t);
  CHECK(says(t, a,
             "No rig can be powered: no battery that may come suits the rig 5 W (it takes 10.2 to 14.1 V)."));
}

TEST_CASE("guys that may not fly are named as the reason, not the sky", "[words][regression]") {
  const kit::Trip t = guyed_trip();
  const auto a = quick(t);
  CHECK(says(t, a, "the sky is not the reason"));
  CHECK(says(t, a, "storm guys (goes in the hold only, and no bag goes there), so no support can stand"));
  CHECK_FALSE(says(t, a, "of any mass"));
}

TEST_CASE("a page names no option of a command line, a terminal does", "[words][property]") {
  const kit::Trip t = advice::small_trip();
  advice::Advice a = quick(t);
  REQUIRE(a.outcome == advice::Outcome::works);
  a.lightest = a.kit;
  a.lightest->mass_g = a.limit_g + 10;
  for (const auto outcome :
       {advice::Outcome::always_fits_no_bag, advice::Outcome::over_limit, advice::Outcome::no_sky}) {
    a.outcome = outcome;
    const auto page = verdict_text(t, a, Reader::of_page);
    CAPTURE(page);
    CHECK_FALSE(mentions(page, "--"));
    CHECK_FALSE(mentions(page, "skerry"));
    CHECK(page.back() == '.');
    CHECK(page != verdict_text(t, a, Reader::of_terminal));
  }
  a.outcome = advice::Outcome::over_limit;
  CHECK(says(t, a, "10 g over the limit"));
}

TEST_CASE("a pack that does not last is told in the verdict with what more would give", "[words][known]") {
  kit::Trip t = advice::small_trip();
  // 3.5 h on the air each day; a pack of half an hour or so. Twice the pack, twice the hours.
  t.batteries = {advice::pack("small pack", 12.8, 0.3, 90)};
  const auto a = quick(t);
  REQUIRE(a.battery_limit);
  CHECK(says(
      t, a,
      fmt::format("The battery is the limit: good for {:.0f} % of the hours on the air; as much again would "
                  "be good for {:.0f} %.",
                  100 * a.battery_limit->share, 100 * a.battery_limit->share_of_twice)));
  // The same number wherever it stands.
  CHECK(mentions(power_why(t, a.power[0]),
                 fmt::format("not enough, {} of the hours", of_hours(a.power[0].share))));
  CHECK(says(t, a, fmt::format("good for {} of the hours", of_hours(a.power[0].share))));
  CHECK(of_hours(0.557) == "56 %");
  CHECK(of_hours(0.999) == "99 %");  // not all of them
  CHECK(of_hours(1) == "100 %");
}

TEST_CASE("what a rig draws and sends on a pack is told, and why it does not take another",
          "[words][known]") {
  kit::Trip t = advice::small_trip();
  t.rigs.erase(t.rigs.begin());
  t.rigs[0].volts = 13.8;
  t.rigs[0].switching = false;
  t.modes[0].duty = 0.45;
  t.modes[0].tx_share = 0.35;
  t.batteries = {advice::pack("three cells", 11.1, 9, 500), advice::pack("two cells", 7.4, 9, 300)};
  const auto a = quick(t);
  REQUIRE(a.power.size() == 1);
  const auto notes = power_notes(t, a.power[0]);
  REQUIRE(notes.size() == 3);
  // 11.1 / 13.8 = 0.8043: 6.47 W, 1.9 dB less; 0.3 + 0.1575 x 1.9 x 0.8043 = 0.54 A.
  CHECK(notes[0] == "on 11.1 V it draws 0.54 A in the mean and sends 6.47 W of its 10 W (1.9 dB less)");
  CHECK(
      notes[1] ==
      "0.3 A on receive and 2.2 A key down at 13.8 V, the same current from any pack; CW by ear sends 35 % of the "
      "time, at 45 % of full power in the mean");
  CHECK(notes[2] == "two cells does not feed it: 7.4 V, and it takes 11.0 to 15.2 V");
  CHECK(item_reason(t, a, nth(a.items, a.inventory.by_id.at("two cells"))) ==
        "7.4 V: the rig 10 W takes 11.0 to 15.2 V");
}

TEST_CASE("every thing has a reason to come or to stay", "[words][property]") {
  const kit::Trip t = advice::small_trip();
  const auto a = quick(t);
  for (const auto& item : a.items) {
    CAPTURE(item.thing);
    CHECK(item_reason(t, a, item).size() > 8);
  }
  advice::ItemAdvice idle;
  idle.used = false;
  CHECK(item_reason(t, a, idle) == "no setup with it serves any wanted region and hour");
}

TEST_CASE("every caution has a topic and a sentence", "[words][property]") {
  const kit::Trip t = guyed_trip();
  auto a = quick(t);
  REQUIRE_FALSE(a.cautions.empty());
  for (const auto& c : a.cautions) {
    CAPTURE(static_cast<int>(c.kind));
    CHECK(std::string(topic_text(topic_of(c))).size() >= 3);
    const auto text = caution_text(t, a, c);
    CHECK(text.size() > 20);
    // What the method says of itself is a phrase; the rest are sentences.
    const auto topic = topic_of(c);
    if (topic != Topic::method && topic != Topic::noise) CHECK(text.back() == '.');
  }
  CHECK(caution_text(t, a, {advice::Caution::Kind::exposure, -1, 3, 0.9, 14})
            .find("nobody within 3 m of any part of the wire") != std::string::npos);
}

TEST_CASE("the rule's sentence has the numbers that decide", "[words][known]") {
  const auto why = [](double volts, double amp_hours, bool usb) {
    auto b = advice::pack("pack", volts, amp_hours, 500);
    b.usb_outlet = usb;
    return air_why(kit::judge(b));
  };
  CHECK(mentions(why(12.8, 6, false), "12.8 V x 6 Ah = 76.8 Wh, up to 100 Wh: spare, cabin only"));
  CHECK(mentions(why(12.8, 12, false), "153.6 Wh, over 100 and up to 160 Wh"));
  CHECK(mentions(why(12.8, 12, false), "with the airline's approval, at most 2 per person"));
  CHECK(mentions(why(12.8, 13, false), "166.4 Wh, over 160 Wh: not in passenger baggage"));
  CHECK(mentions(why(11.1, 9, true), "at most 2 per person"));
  kit::Item bottle;
  bottle.liquid_ml = 100.5;
  CHECK(air_why(kit::judge(bottle)) == "liquid, 100.5 ml: over 100 ml in one container, hold only");
  bottle.sharp = true;
  CHECK(air_why(kit::judge(bottle)) == kit::rule_text("sharp"));
  CHECK(mentions(rules_caution, "airline"));
  CHECK(mentions(rules_caution, "national aviation authority"));
}

TEST_CASE("bags that do not take a kit are told with the sums", "[words][known]") {
  kit::Trip t;
  t.items = {advice::thing("mast", 1400), advice::thing("stove", 4000)};
  t.items[0].tube_cm = {{67, 4.7}};
  t.items[1].sharp = true;
  kit::Bag hold = cabin_bag(5399);
  hold.id = hold.name = "hold";
  hold.hold = true;
  hold.inner_cm = {{75, 50, 33}};
  t.bags = {cabin_bag(8000), hold};
  CHECK(only_problem(t) ==
        "the mast (67 cm long, 4.7 cm thick) and the stove can go into the hold only: together 5.40 kg, and "
        "there "
        "is room for 5.40 kg");
  t.items = {advice::thing("a", 600), advice::thing("b", 600), advice::thing("c", 600)};
  t.bags = {cabin_bag(1000), cabin_bag(1000)};
  CHECK(only_problem(t) ==
        "3 things cannot be shared out among the cabin bag and the cabin bag so that each bag keeps its "
        "limit, though "
        "their sum would be within; without the a it goes");
  t.items = {advice::thing("case", 2000)};
  t.items[0].size_cm = {{52, 37, 20}};
  t.items.push_back(advice::thing("book", 300));
  t.bags = {cabin_bag(5000)};
  CHECK(mentions(only_problem(t), " litres, and about "));
  t.items.clear();
  for (int i = 0; i < 11; ++i) {
    t.items.push_back(advice::thing("bottle" + std::to_string(i), 100));
    t.items.back().liquid_ml = 100;
  }
  CHECK(only_problem(t) == "1100 ml of liquids in the cabin, and 1000 ml are allowed in all");
  t.items.clear();
  t.bags[0].mass_limit_g = 9000;
  t.batteries.assign(3, advice::pack("pack", 12.8, 12, 200));
  for (std::size_t i = 0; i < 3; ++i) t.batteries[i].item.id += std::to_string(i);
  CHECK(
      mentions(only_problem(t), "3 spare lithium batteries over 100 Wh for 1 person: at most 2 per person"));
}

TEST_CASE("the label of a reading says value, place, time, ratio and where the correction fades",
          "[words][property]") {
  ionosphere::Climate climate = advice::small_trip().climate;
  CHECK(measured_note(climate).empty());
  climate.measured = {{6.2, GeoPoint::at_deg(-20.1, 57.5), 14.5}};
  const auto note = measured_note(climate);
  for (const char* part : {"foF2 6.20 MHz measured at 20.1 S 57.5 E, 14:30 UTC", "times the map there",
                           "1000 km or 4 h", "that day only"}) {
    CAPTURE(note, part);
    CHECK(note.find(part) != std::string::npos);
  }
}

TEST_CASE("what always goes and cannot come is named with its reason, and proves nothing",
          "[words][regression]") {
  kit::Trip t = advice::small_trip();
  t.bags = {cabin_bag(8000)};
  t.items.push_back(advice::thing("pegs", 120));
  t.items.back().sharp = t.items.back().always = true;
  const auto a = quick(t);
  CHECK(says(t, a, "cannot come: pegs (goes in the hold only, and no bag goes there)"));
  CHECK(says(t, a, "nothing is proved"));
  CHECK_FALSE(says(t, a, "Proved"));
  CHECK(std::string(no_kit_text(a.outcome)) == "what always goes cannot come");
}

TEST_CASE("things alike are named once, with their number", "[words][known]") {
  advice::Inventory inventory;
  for (const char* name : {"lamp", "guy (1 of 3)", "guy (2 of 3)", "guy (3 of 3)", "rope (1 of 2)"}) {
    inventory.things.emplace_back().name = name;
    inventory.things.back().count = std::string(name) == "lamp" ? 1 : std::string(name)[0] == 'g' ? 3 : 2;
  }
  CHECK(names_of(inventory, {0, 1, 2, 3, 4}) == "lamp, 3 x guy, rope (1 of 2)");
  CHECK(names_of(inventory, {1, 3}) == "2 x guy");
  CHECK(names_of(inventory, {2}) == "guy (2 of 3)");
}

TEST_CASE("a kit that is only to be tried is never called proved", "[words][property]") {
  const kit::Trip t = advice::small_trip();
  advice::Advice a = quick(t);
  REQUIRE(a.outcome == advice::Outcome::works);
  REQUIRE(a.kit.proved);
  CHECK(says(t, a, "Proved: no kit"));
  a.packed = advice::Packed::try_at_home;
  CHECK_FALSE(says(t, a, "Proved"));
  CHECK(says(t, a, "try it at home"));
  a.packed = advice::Packed::not_found;
  CHECK_FALSE(says(t, a, "Proved"));
  CHECK(says(t, a, "No way was found"));
  CHECK_FALSE(says(t, a, "cannot"));
  CHECK_FALSE(advice::proved(a));
}

TEST_CASE("why things do not go into the bags of one person, or beside each other, is told in numbers",
          "[words][known]") {
  kit::Trip t;
  t.people = 2;
  t.bags = {cabin_bag(8000)};
  t.bags[0].person = "A";
  for (int i = 0; i < 3; ++i) t.batteries.push_back(advice::pack("pack " + std::to_string(i), 11.8, 10, 900));
  CHECK(only_problem(t) ==
        "in the cabin bag: 3 spare lithium batteries over 100 Wh for 1 person: at most 2 per person (rule of "
        "2025-01-01)");
  t.batteries.clear();
  for (int i = 0; i < 2; ++i) {
    t.items.push_back(advice::thing("rod " + std::to_string(i), 200));
    t.items.back().tube_cm = {{64, 2}};
  }
  CHECK(mentions(only_problem(t),
                 "can go into the cabin bag, and no more than 1 of them has room beside each other"));
  const auto inventory = advice::take_inventory(t);
  advice::BagProblem open{advice::BagProblem::Why::not_found, {0, 1}, {0}};
  CHECK(bag_problem(t, inventory, open).find("cannot") == std::string::npos);
  CHECK(mentions(bag_problem(t, inventory, open), "no way was found to share 2 things out"));
}
