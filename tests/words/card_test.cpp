// Cards, strips and calendars of an answer whose openings are known, because the test writes them.
#include "skerry/words/card.hpp"

#include <algorithm>
#include <sstream>

#include "../advice/small_trip.hpp"
#include "check.hpp"
#include "skerry/advice/agenda.hpp"
#include "skerry/words/agenda.hpp"
#include "skerry/words/pack.hpp"

using namespace skerry;
using namespace skerry::words;

namespace {

struct Made {
  kit::Trip trip = advice::small_trip();
  advice::Advice advice;
  Made() {
    for (const char* name : {"Alpha", "Bravo", "Charlie", "Delta"})
      trip.targets.push_back(advice::place_target(name, 30, 60, 3));
    trip.targets.push_back(advice::place_target("Echo", 23.7, 121, 1));
    advice::AdviceOptions options;
    options.uncertainty = options.variants = options.frontier = false;
    advice = advice::advise(trip, options);
    for (auto& slot : advice.openings.slots) slot = {};
  }
  advice::Slot& at(int target, int hour, int band) {
    return const_cast<advice::Slot&>(advice.openings.at(0, target, hour, band));
  }
  void open(int target, int hour, int band, double days, geodesy::Way way = geodesy::Way::short_way) {
    auto& slot = at(target, hour, band);
    slot.days_both = days;
    slot.way = way;
    slot.by = advice::ServedBy{Id<kit::Setup>(0), Id<noise::Mode>(0), Id<geodesy::WeightedPoint>(0)};
  }
};

constexpr int echo = 6;

std::string line_with(const std::string& text, const std::string& start) {
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    if (line.rfind(start, 0) == 0) return line;
  }
  return {};
}

}  // namespace

TEST_CASE("a card shows the one region that opens, and names the closed ones instead of printing them",
          "[words][regression]") {
  Made made;
  for (int hour = 8; hour < 12; ++hour) made.open(echo, hour, 1, 6);
  const auto card = card_text(made.trip, made.advice);
  CAPTURE(card);
  CHECK(line_with(card, "A ").rfind("A Echo ", 0) == 0);
  CHECK(line_with(card, "B ").empty());
  CHECK(card.find("not here: ") != std::string::npos);
  CHECK(card.find("Alpha (closed)") != std::string::npos);
  CHECK(line_with(card, "A  ").find(" 20") != std::string::npos);
}

TEST_CASE("a card says which antenna goes with which band, and the mode", "[words][regression]") {
  Made made;
  for (int hour = 8; hour < 12; ++hour) made.open(echo, hour, 1, 6);
  const auto card = card_text(made.trip, made.advice);
  const auto& setup = made.advice.setups.possible[0];
  const auto line = line_with(card, "WITH ");
  CAPTURE(card);
  CHECK(line == "WITH 20m " + made.trip.at(setup.antenna).item.name + "; CW");
}

TEST_CASE("what goes the long way is marked, with its bearing, on cards, in strips and in calendars",
          "[words][regression]") {
  Made made;
  const auto round = geodesy::Way::long_way;
  for (int hour = 8; hour < 12; ++hour) made.open(echo, hour, 1, hour < 10 ? 6 : 3, round);
  made.open(1, 9, 1, 6);
  const double bearing = made.advice.targets[echo].bearing_deg;
  char degrees[16], three[16];
  std::snprintf(degrees, sizeof degrees, "%.0f deg", bearing + 180 - (bearing >= 180 ? 360 : 0));
  std::snprintf(three, sizeof three, "%03.0f deg", bearing + 180 - (bearing >= 180 ? 360 : 0));
  const auto card = card_text(made.trip, made.advice);
  CAPTURE(card);
  CHECK(card.find(std::string("Echo") + " ") != std::string::npos);
  CHECK(card.find(std::string("long way ") + three) != std::string::npos);
  CHECK(card.find("L20L20l20l20") != std::string::npos);
  CHECK(card.find("L40 the long way round") != std::string::npos);

  const auto strips = pack_text(made.trip, made.advice, std::array{Section::strips}, Style{});
  CAPTURE(strips);
  CHECK(strips.find(std::string("L the long way, ") + degrees) != std::string::npos);
  CHECK(strips.find(" 6L 6L 3L 3L") != std::string::npos);
  CHECK(strips.find("'L' long way") != std::string::npos);

  std::string calendar;
  for (const auto& e : advice::agenda(made.trip, made.advice, false)) {
    if (e.kind == advice::EventKind::opening && *e.target == Id<kit::Target>(echo))
      calendar += event_title(made.trip, e) + event_text(made.trip, made.advice, e, false);
  }
  CAPTURE(calendar);
  CHECK(calendar.find(std::string("long way ") + degrees) != std::string::npos);
  std::string sessions;
  for (const auto& e : advice::gathered(advice::agenda(made.trip, made.advice, false)))
    sessions += event_text(made.trip, made.advice, e, true);
  CHECK(sessions.find(std::string("long way ") + degrees) != std::string::npos);
}

TEST_CASE("without the long way nothing is said of it", "[words][property]") {
  Made made;
  for (int hour = 8; hour < 12; ++hour) made.open(echo, hour, 1, 6);
  CHECK(card_text(made.trip, made.advice).find("long way") == std::string::npos);
  CHECK(pack_text(made.trip, made.advice, std::array{Section::strips}, Style{}).find("long way") ==
        std::string::npos);
}

TEST_CASE("columns of an hour say what they span", "[words][regression]") {
  Made made;
  CHECK(card_text(made.trip, made.advice).find("14: 13:30-14:30") != std::string::npos);
  CHECK(pack_text(made.trip, made.advice, std::array{Section::strips}, Style{}).find("13:30 to 14:30") !=
        std::string::npos);
}

TEST_CASE("a card with nothing open shows the weightiest region, closed", "[words][edge]") {
  Made made;
  const auto card = card_text(made.trip, made.advice);
  CAPTURE(card);
  CHECK(line_with(card, "A ").rfind("A Alpha ", 0) == 0);
  CHECK(line_with(card, "B ").empty());
  CHECK(line_with(card, "WITH").empty());
  CHECK(card.size() < card_limit_bytes);
}
