// The same thing said the same way by every command: zones in doubt, the long way round, weak bands, zeros.

#include <filesystem>
#include <fstream>
#include <regex>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

using skerry::test::Folder;
using skerry::test::read;

namespace {

const std::string examples = SKERRY_SOURCE_DIR "/examples/";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

std::size_t times(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++count;
  return count;
}

}  // namespace

TEST_CASE("a time zone in doubt is warned of by every command that tells local times", "[cli][regression]") {
  const Folder folder("wording");
  const auto trip = folder.file("trip.toml");
  std::ofstream(trip) << replaced(read(examples + "fair_isle.toml"), "Europe/London", "+02:00");
  const auto expected = ask({"pack", trip}).err;
  CHECK(times(expected, "skerry: warning: ") >= 1);
  for (const char* command : {"report", "card", "kit", "calendar"}) {
    CAPTURE(command);
    const auto said = ask({command, trip});
    CHECK(said.code == 0);
    CHECK(said.err == expected);
  }
}

TEST_CASE("no answer has a negative zero", "[cli][regression]") {
  // A minus that belongs to a number made of zeros alone.
  const std::regex minus_zero(R"((^|[^0-9A-Za-z.\-])-0(\.0+)?([^0-9.:A-Za-z\-]|$))");
  std::vector<std::vector<std::string>> commands;
  for (const char* trip : {"rodrigues.toml", "lord_howe.toml", "fair_isle.toml"}) {
    commands.push_back({"pack", examples + trip, "-f", "csv"});
    commands.push_back({"report", examples + trip});
    commands.push_back({"explain", examples + trip, "--region", "all"});
    commands.push_back({"antenna", examples + trip});
  }
  for (const char* to : {"JN45", "0,0"}) {
    commands.push_back({"explain", "51,0.01", to, "--teach", "--month", "2027-02"});
    commands.push_back({"explain", "51,0.01", to, "--teach", "--month", "2027-06"});
    commands.push_back({"ionosphere", to, "--month", "2027-06"});
    commands.push_back({"path", "51,0.01", to, "--month", "2027-02", "--explain", "12,20m"});
    commands.push_back({"path", "51,0.01", to, "--month", "2027-02", "-f", "csv"});
  }
  for (const auto& command : commands) {
    const auto said = ask(command);
    CAPTURE(command[0], command[1]);
    REQUIRE(said.code == 0);
    std::istringstream lines(said.out);
    for (std::string line; std::getline(lines, line);) {
      if (line.size() > 2000) continue;  // the page's own script and data, told apart below
      std::smatch found;
      if (std::regex_search(line, found, minus_zero)) {
        CAPTURE(line);
        CHECK(found.str().empty());
      }
    }
  }
}

TEST_CASE("near regions are not answered by the long way round, in pack as in explain", "[cli][regression]") {
  // From 7000 km on: circuit::long_way_counts. The regions' distances are those of the text answer.
  std::size_t near = 0, far_long = 0;
  for (const char* name : {"rodrigues.toml", "lord_howe.toml", "fair_isle.toml"}) {
    const auto trip = examples + name;
    const auto packed = ask({"pack", trip, "-f", "json"}).json();
    std::map<std::string, double> km;
    for (const auto& target : packed["regions"])
      km[target["id"].get<std::string>()] = target["distance_km"].get<double>();
    std::istringstream lines(ask({"pack", trip, "-f", "csv"}).out);
    std::string line;
    std::getline(lines, line);
    while (std::getline(lines, line)) {
      const auto region = line.substr(line.find(',') + 1);
      const auto id = region.substr(0, region.find(','));
      REQUIRE(km.count(id) == 1);
      const bool round = line.find(",long,") != std::string::npos;
      // People live up to some hundred km from where a region's distance is taken.
      if (km[id] < 6000) {
        ++near;
        CAPTURE(line);
        CHECK_FALSE(round);
      } else if (round) {
        ++far_long;
      }
    }
  }
  CHECK(near > 0);
  CHECK(far_long > 0);
}

TEST_CASE("where no kit works, no thing is said to add nothing", "[cli][regression]") {
  const auto leave = [](const std::string& text) {
    const auto from = text.find("\nLEAVE\n");
    REQUIRE(from != std::string::npos);
    return text.substr(from);
  };
  // Less than the lightest kit that works, more than what always goes.
  const auto light = ask({"pack", examples + "rodrigues.toml", "--mass-limit-kg", "0.6", "--show", "items"});
  REQUIRE(light.code == 0);
  REQUIRE(light.out.find("No kit within") != std::string::npos);
  CHECK(times(leave(light.out), "brings nothing more") == 0);
  CHECK(times(leave(light.out), "no kit within the limit works") > 3);
  // And where one works, the words are the old ones.
  CHECK(times(leave(ask({"pack", examples + "rodrigues.toml", "--show", "items"}).out),
              "brings nothing more") > 0);
}

TEST_CASE("the page's field card marks bands on fewer days than wanted, as the text card does",
          "[cli][property]") {
  const auto page = ask({"report", examples + "rodrigues.toml"}).out;
  const std::regex cell("<td class=\"([^\"]*)\">(~?)([0-9]+|-|\\.)</td>");
  std::size_t weak = 0, good = 0;
  std::size_t at = 0;
  while ((at = page.find("<table class=\"cardgrid\">", at)) != std::string::npos) {
    const auto end = page.find("</table>", at);
    const auto grid = page.substr(at, end - at);
    at = end;
    for (auto i = std::sregex_iterator(grid.begin(), grid.end(), cell); i != std::sregex_iterator(); ++i) {
      const bool is_good = (" " + (*i)[1].str() + " ").find(" good ") != std::string::npos;
      const bool marked = (*i)[2].length() > 0, number = std::isdigit((*i)[3].str()[0]) != 0;
      CHECK(marked == (number && !is_good));
      weak += marked ? 1U : 0U;
      good += is_good ? 1U : 0U;
    }
  }
  CHECK(weak > 0);
  CHECK(good > 0);
  CHECK(page.find("'~' fewer") != std::string::npos);
}

TEST_CASE("of what all hangs on the page says what the text says", "[cli][regression]") {
  const Folder folder("wording");
  const auto trip = folder.file("trip.toml");
  // One place and a limit that one antenna is all of.
  auto text = replaced(read(examples + "rodrigues.toml"), "mass_limit_kg = 4.2", "mass_limit_kg = 2.5");
  const auto shore = text.find("[[site]]\nid = \"shore\"");
  REQUIRE(shore != std::string::npos);
  text.erase(shore, text.find("\n[[", shore) + 1 - shore);
  std::ofstream(trip) << replaced(text, "site = \"shore\"", "site = \"summit\"");
  const std::string words = "nothing is left without it";
  REQUIRE(ask({"pack", trip, "--show", "all"}).out.find("; " + words) != std::string::npos);
  const auto page = ask({"report", trip}).out;
  CHECK(page.find("; " + words) != std::string::npos);
  CHECK(page.find("without it 0 % remain") == std::string::npos);
}
