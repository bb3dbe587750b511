// Places by name on the command line, and legal time in every answer.
#include <algorithm>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

using skerry::test::Folder;

namespace {

std::string read(const std::string& name) {
  std::ifstream in(name);
  return {std::istreambuf_iterator<char>(in), {}};
}
std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}
bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}
std::string first_line(const std::string& text) {
  return text.substr(0, text.find('\n'));
}
const std::string examples = SKERRY_SOURCE_DIR "/examples/";

}  // namespace

TEST_CASE("names are taken by every command that asks for a place, and what they were taken for is told",
          "[cli][property]") {
  const std::string isle = "Fair Isle, United Kingdom (island), 59.530 N 1.630 W (IO99em), Europe/London";
  const auto path = ask({"path", "Fair Isle", "Boston", "--month", "2027-02", "--bands", "20m"});
  CHECK(path.code == 0);
  CHECK(first_line(path.out) == "FROM: " + isle);
  CHECK(holds(path.out, "TO: Boston, MA, United States, 42.358 N 71.060 W"));
  CHECK(holds(path.out, "not \"Boston, GB\""));  // there is another, and so it is called
  CHECK(first_line(ask({"sun", "fair isle", "--date", "2027-02-14"}).out) == "AT: " + isle);
  CHECK(first_line(ask({"ionosphere", "Fair Isle", "--month", "2027-02"}).out) == "AT: " + isle);
  CHECK(first_line(ask({"explain", "Fair Isle", "Boston", "--month", "2027-02", "--bands", "20m"}).out) ==
        "FROM: " + isle);
  CHECK(first_line(
            ask({"explain", "Fair Isle", "Boston", "--month", "2027-02", "--bands", "20m", "--teach"}).out) ==
        "FROM: " + isle);
  CHECK(first_line(ask({"card", "Fair Isle", "Boston", "--month", "2027-02"}).out) == "FROM: " + isle);
  CHECK(first_line(ask({"map", "Fair Isle", "--month", "2027-02", "--grid", "30", "--hours", "12"}).out) ==
        "AT: " + isle);
  // Where the answer is a format, it stands in a key or on the other stream.
  const auto json =
      ask({"path", "Fair Isle", "Boston", "--month", "2027-02", "--bands", "20m", "-f", "json"});
  CHECK(json.json()["from"]["name"] == "Fair Isle");
  CHECK(json.json()["to"]["country"] == "United States");
  CHECK(json.json()["to"]["zone"] == "America/New_York");
  CHECK(json.err.empty());
  const auto csv = ask({"path", "Fair Isle", "Boston", "--month", "2027-02", "--bands", "20m", "-f", "csv"});
  CHECK(csv.out.rfind("way,utc_hour", 0) == 0);
  CHECK(holds(csv.err, "skerry: FROM: " + isle));
  CHECK(holds(ask({"geojson", "Fair Isle", "Boston", "--month", "2027-02"}).err, "skerry: TO: Boston"));
  CHECK(ask({"sun", "Fair Isle", "--date", "2027-02-14", "-f", "json"}).json()["at"]["name"] == "Fair Isle");
  // A position says no more than it did.
  CHECK_FALSE(ask({"path", "59.53,-1.63", "JN45", "--month", "2027-02", "--bands", "20m", "-f", "json"})
                  .json()["from"]
                  .contains("name"));
}

TEST_CASE("a trip begins at a name, and is called after it", "[cli][property]") {
  const auto said = ask({"new", "--at", "Lord Howe Island", "--first-day", "2027-04-01"});
  CHECK(said.code == 0);
  CHECK(holds(said.err, "skerry: --at: Lord Howe Island, Australia (island)"));
  CHECK(holds(said.out, "name = \"Lord Howe Island\""));
  CHECK(holds(said.out, "zone = \"Australia/Lord_Howe\""));
  CHECK(holds(said.out, "-31.5300,159.0700"));
}

TEST_CASE("a name of several places is answered with a short numbered list", "[cli][property]") {
  const auto said = ask({"path", "Fair Isle", "Springfield", "--month", "2027-02"});
  CHECK(said.code == 2);
  CHECK(said.out.empty());
  CHECK(first_line(said.err).rfind("skerry: TO: found 'Springfield', which may be any of ", 0) == 0);
  CHECK(holds(said.err, "\n  1  \"Springfield, MO\": Springfield, MO, United States, 37."));
  CHECK(holds(said.err, "\n  2  \"Springfield, MA\""));
  CHECK(std::count(said.err.begin(), said.err.end(), '\n') <= 11);
  CHECK(ask({"sun", "Springfield, MA", "--date", "2027-02-14"}).code == 0);
  // What is none is told in one line, as ever.
  CHECK(is_one_line(ask({"sun", "Xyzzyburg"}).err));
  CHECK(is_one_line(ask({"sun", "91,20"}).err));
  // A file keeps positions: a name is told where it is.
  Folder folder("places");
  const auto trip = folder.file("trip.toml");
  std::ofstream(trip) << replaced(read(examples + "fair_isle.toml"), "at = \"59.5", "at = \"Fair Isle\" #");
  const auto named = ask({"pack", trip});
  CHECK(named.code == 2);
  CHECK(holds(named.err, "stands at \"59.5300,-1.6300\""));
}

TEST_CASE("a site on the wrong side of the Earth for its zone is refused with what was meant",
          "[cli][property]") {
  Folder folder("signs");
  const auto trip = folder.file("trip.toml");
  const auto starter = ask({"new", "--at", "16.87,-25.00", "--name", "x", "--first-day", "2027-02-14"}).out;
  REQUIRE(holds(starter, "zone = \"Atlantic/Cape_Verde\""));
  std::ofstream(trip) << replaced(starter, "16.8700,-25.0000", "16.8700,25.0000");
  const auto said = ask({"pack", trip});
  CHECK(said.code == 2);
  CHECK(is_one_line(said.err));
  CHECK(holds(said.err, trip + ":"));
  CHECK(holds(said.err, "25.00 E, which lies in Chad, while the zone is Atlantic/Cape_Verde"));
  CHECK(holds(said.err, "did you mean 25.00 W?"));
  std::ofstream(trip) << replaced(read(examples + "rodrigues.toml"), "-19.70,63.43", "63.43,-19.70");
  const auto swapped = ask({"pack", trip});
  CHECK(swapped.code == 2);
  CHECK(holds(swapped.err, "did you mean 19.70 S 63.43 E?"));
}

TEST_CASE("a place out on the water is asked about and answered", "[cli][property]") {
  const auto said = ask({"sun", "44,-30", "--date", "2027-02-14"});
  CHECK(said.code == 0);
  CHECK(is_one_line(said.err));
  CHECK(holds(said.err, "44.00 N 30.00 W lies in the open sea, "));
  CHECK(holds(said.err, "is that meant?"));
  CHECK(holds(said.out, "-02:00 nautical"));
  CHECK(holds(ask({"path", "47.6,-87.5", "JN45", "--month", "2027-02"}).err, "out on Lake Superior"));
  CHECK(ask({"sun", "59.53,-1.63", "--date", "2027-02-14"}).err.empty());
}

TEST_CASE("both ends are told by their legal time on the day", "[cli][known]") {
  // Source: the tz database. Milan in July: CEST, UTC+2; by longitude it would be UTC+1. Lord Howe: +10:30.
  const auto explain = ask(
      {"explain", "-31.53,159.07", "45.46,9.19", "--date", "2027-07-10", "--bands", "20m", "--hour", "12"});
  CHECK(holds(explain.out, "at 12 UTC (22:30 +10:30 here, 14:00 CEST there)"));
  const auto path = ask({"path", "-31.53,159.07", "45.46,9.19", "--date", "2027-07-10", "--bands", "20m"});
  CHECK(holds(path.out, "Clocks on 2027-07-10: here +10:30, there CEST (UTC+2)"));
  CHECK(holds(path.out, "  UTC here:30 there   MUF"));
  CHECK(holds(path.out, "   12      22    14 "));
  const auto json = ask({"path", "-31.53,159.07", "45.46,9.19", "--date", "2027-07-10", "-f", "json"}).json();
  CHECK(json["from_clock"]["utc_offset_min"] == 630);
  CHECK(json["to_clock"]["label"] == "CEST");
  CHECK(json["to_clock"]["nautical"] == false);
  const auto card = ask({"card", "-31.53,159.07", "45.46,9.19", "--date", "2027-07-10"});
  CHECK(holds(card.out, "clocks: here +10:30, there CEST (UTC+2)"));
  const auto sun = ask({"sun", "45.46,9.19", "--date", "2027-07-10"});
  CHECK(holds(sun.out, " CEST"));
  const auto lesson =
      ask({"explain", "51.5,-0.1", "45.46,9.19", "--month", "2027-07", "--bands", "20m", "--teach"});
  CHECK(holds(lesson.out, " BST here, "));
  CHECK(holds(lesson.out, " CEST there)"));
}

TEST_CASE("a change of clocks within a trip is told and shown on each day", "[cli][known]") {
  // Source: the tz database: Lord Howe goes from +11 to +10:30 at 02:00 on 2027-04-04, that is at 15:00 UTC on the 3rd.
  Folder folder("clocks");
  const auto trip = folder.file("trip.toml");
  std::ofstream(trip) << ask({"new", "--at", "Lord Howe Island", "--first-day", "2027-04-01"}).out;
  const std::string change = "the clock is changed at 15:00 UTC on 2027-04-03, from +11:00 to +10:30";
  const auto pack = ask({"pack", trip, "--show", "days,strips"});
  CHECK(pack.code == 0);
  CHECK(holds(pack.out, change));
  CHECK(holds(pack.out, "  2027-04-03"));
  for (const auto& [day, label] : {std::pair{"2027-04-03", "+11:00"}, {"2027-04-04", "+10:30"}}) {
    const auto at = pack.out.find(std::string("  ") + day);
    REQUIRE(at != std::string::npos);
    CHECK(holds(first_line(pack.out.substr(at)), label));
  }
  // The strips: a row of hours for each clock, the half hours in its head.
  CHECK(holds(pack.out, "  before 11 12 13 14"));
  CHECK(holds(pack.out, "after:30 10 11 12 13"));
  CHECK(holds(pack.out, "   there "));
  const auto card = ask({"card", trip});
  CHECK(holds(card.out, "\nlocal clock +11:00; from 15:00 UTC on 2027-04-03 +10:30\n"));
  CHECK(holds(card.out, "before   11 12 13"));
  CHECK(holds(card.out, "after:30 10 11 12"));
  const auto json = ask({"pack", trip, "-f", "json"}).json();
  CHECK(json["days"][2]["clock"]["utc_offset_min"] == 660);
  CHECK(json["days"][3]["clock"]["utc_offset_min"] == 630);
  CHECK(json["regions"][0]["clock"]["nautical"] == false);
  const auto calendar = ask({"calendar", trip});
  CHECK(holds(calendar.out, "TZOFFSETFROM:+1100\r\nTZOFFSETTO:+1030\r\nTZNAME:+10:30"));
  CHECK(holds(replaced(calendar.out, "\r\n ", ""),
              "The clock is changed that day\\, to +10:30\\, at 15:00 UTC."));
}
