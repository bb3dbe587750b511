#include "skerry/engine/session.hpp"

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/ionosphere/forecast_table.hpp"

using nlohmann::json;
using skerry::engine::Session;

namespace {

std::string example(const std::string& name) {
  std::ifstream in(std::string(SKERRY_SOURCE_DIR) + "/examples/" + name + ".toml");
  std::stringstream out;
  out << in.rdbuf();
  return out.str();
}

json ask(Session& session, const json& message) {
  const auto said = session.answer(message.dump());
  CHECK(said.find('\n') == std::string::npos);
  return json::parse(said);
}

skerry::kit::Trip read(const std::string& text) {
  auto trip = skerry::files::read_trip(text, "trip", [](const std::string&, const skerry::Where& where) {
    return skerry::Result<std::string>(skerry::fail(where, "a file", "none"));
  });
  REQUIRE(trip);
  return *trip;
}

}  // namespace

TEST_CASE("a session's answer is the advice that the program gives", "[engine][property]") {
  const auto text = example("rodrigues");
  Session session;
  const auto open = ask(session, {{"do", "open"}, {"trip", text}, {"id", {1, "x"}}});
  REQUIRE(open["ok"] == true);
  CHECK(open["id"] == json({1, "x"}));
  const auto advice = skerry::advice::advise(read(text));
  CHECK(open["facts"]["mass_g"] == advice.kit.mass_g);
  CHECK(open["facts"]["reach"] == skerry::rounded(advice.reach, 6));
  CHECK_FALSE(open["parts"].empty());
  // A limit by a change is the limit in the file.
  auto lighter = text;
  const auto at = lighter.find("mass_limit_kg = 4.2");
  REQUIRE(at != std::string::npos);
  lighter.replace(at, 19, "mass_limit_kg = 2.5");
  const auto changed = ask(session, {{"do", "change"}, {"limit_g", 2500}});
  Session other;
  const auto reopened = ask(other, {{"do", "open"}, {"trip", lighter}});
  CHECK(changed["facts"] == reopened["facts"]);
  CHECK(changed["parts"] == reopened["parts"]);
  CHECK_FALSE(changed["said"].get<std::string>().empty());
  // And back: what is absent is as the file has it.
  const auto back = ask(session, {{"do", "change"}});
  CHECK(back["facts"] == open["facts"]);
  CHECK(back["parts"] == open["parts"]);
}

TEST_CASE("things that must go or are not mine do", "[engine][expectation]") {
  Session session;
  const auto open = ask(session, {{"do", "open"}, {"trip", example("rodrigues")}});
  const auto carried = open["facts"]["carried"].get<std::vector<std::string>>();
  const auto left = open["facts"]["left"].get<std::vector<std::string>>();
  REQUIRE_FALSE(carried.empty());
  REQUIRE_FALSE(left.empty());
  const auto changed = ask(session, {{"do", "change"},
                                     {"limit_g", 6000},
                                     {"must_go", json::array({left.front()})},
                                     {"not_mine", json::array({carried.front(), "unheard of"})}});
  REQUIRE(changed["ok"] == true);
  const auto now = changed["facts"]["carried"].get<std::vector<std::string>>();
  CHECK(std::find(now.begin(), now.end(), left.front()) != now.end());
  CHECK(std::find(now.begin(), now.end(), carried.front()) == now.end());
}

TEST_CASE("what is set is written into the trip file, which then says the same, comments and all",
          "[engine][property]") {
  Session session;
  REQUIRE(ask(session, {{"do", "open"}, {"trip", example("rodrigues")}})["ok"] == true);
  const json set{{"power_w", 8}, {"r12", 120}, {"date", "2027-06-05"}};
  const auto changed =
      ask(session, {{"do", "change"}, {"limit_g", 3000}, {"must_go", json::array({"whip"})}, {"set", set}});
  REQUIRE(changed["ok"] == true);
  const auto saved = ask(session, {{"do", "save"}});
  REQUIRE(saved["ok"] == true);
  const auto text = saved["trip"].get<std::string>();
  CHECK(text.find("# basalt under thin soil") != std::string::npos);
  CHECK(text.find("first_day = 2027-06-05") != std::string::npos);
  CHECK(text.find("last_day = 2027-06-09") != std::string::npos);
  CHECK(text.find("mass_limit_kg = 3\n") != std::string::npos);
  Session other;
  const auto reopened = ask(other, {{"do", "open"}, {"trip", text}});
  REQUIRE(reopened["ok"] == true);
  CHECK(reopened["facts"] == changed["facts"]);
}

TEST_CASE("mistakes come back by line, and leave the session as it was", "[engine][edge]") {
  Session session;
  CHECK(ask(session, {{"do", "rest"}})["ok"] == false);
  CHECK(ask(session, {{"do", "change"}})["ok"] == false);
  CHECK(ask(session, {{"do", "save"}})["ok"] == false);
  const auto open = ask(session, {{"do", "open"}, {"trip", example("fair_isle")}});
  REQUIRE(open["ok"] == true);
  const auto bad = ask(session, {{"do", "open"}, {"trip", "[trip]\nname = 3\n"}});
  CHECK(bad["ok"] == false);
  CHECK(bad["errors"][0]["line"] == 1);
  CHECK(bad["error"].get<std::string>().find("trip:1:") != std::string::npos);
  for (const json& wrong :
       {json{{"do", "change"}, {"limit_g", -5}}, json{{"do", "change"}, {"set", {{"power_w", 1e9}}}},
        json{{"do", "change"}, {"set", {{"colour", 1}}}}, json{{"do", "change"}, {"set", {{"date", "then"}}}},
        json{{"do", "dance"}}, json{{"do", "pack"}, {"trip", ""}}, json{{"do", "path"}}})
    CHECK(ask(session, wrong)["ok"] == false);
  CHECK(json::parse(session.answer("no JSON"))["ok"] == false);
  CHECK(json::parse(session.answer(std::string(1000, '[')))["ok"] == false);
  CHECK(ask(session, {{"do", "change"}})["facts"] == open["facts"]);
}

TEST_CASE("a trip's other files come with it", "[engine][expectation]") {
  auto text = example("rodrigues");
  const auto at = text.find("[trip]\n");
  REQUIRE(at != std::string::npos);
  text.insert(at + 7, "library = \"mine.toml\"\n");
  Session session;
  const auto missing = ask(session, {{"do", "open"}, {"trip", text}});
  CHECK(missing["ok"] == false);
  CHECK(missing["error"].get<std::string>().find("mine.toml") != std::string::npos);
  const auto whole =
      ask(session, {{"do", "open"},
                    {"trip", text},
                    {"files", {{"mine.toml", "[[item]]\nid = \"spoon\"\nname = \"spoon\"\nmass_g = 20\n"}}}});
  REQUIRE(whole["ok"] == true);
  const auto left = whole["facts"]["left"].get<std::vector<std::string>>();
  CHECK(std::find(left.begin(), left.end(), "spoon") != left.end());
}

TEST_CASE("a place may be told by its name, and what it was taken for is in the answer",
          "[engine][expectation]") {
  Session session;
  const json place = {{"lat_deg", 59.53}, {"lon_deg", -1.63}};
  const auto named =
      ask(session, {{"do", "sun"}, {"at", "Fair Isle"}, {"date", "2027-01-05"}, {"format", "json"}});
  REQUIRE(named["ok"] == true);
  CHECK(json::parse(named["text"].get<std::string>())["at"]["name"] == "Fair Isle");
  const auto text = ask(session, {{"do", "ionosphere"}, {"at", "Fair Isle"}, {"month", "2027-01"}})["text"];
  CHECK(text.get<std::string>().starts_with("AT"));
  const auto typed = ask(session, {{"do", "ionosphere"}, {"at", place}, {"month", "2027-01"}})["text"];
  CHECK_FALSE(typed.get<std::string>().starts_with("AT"));
  // One of several: which they are is the hint.
  const auto several =
      ask(session,
          {{"do", "path"}, {"question", {{"from", "Springfield"}, {"to", "JN45"}, {"month", "2027-01"}}}});
  REQUIRE(several["ok"] == false);
  CHECK(several["errors"][0]["where"] == "from");
  CHECK(several["errors"][0]["mend"].get<std::string>().find("Springfield, IL") != std::string::npos);
  // Two of one place, and a doubt beside an answer.
  const json near = {{"from", "JN45"}, {"to", "JN45"}, {"month", "2027-01"}};
  CHECK(ask(session, {{"do", "path"}, {"question", near}})["errors"][0]["where"] == "to");
  const json sea = {{"from", "-40,20"}, {"to", "JN45"}, {"month", "2027-01"}};
  CHECK(ask(session, {{"do", "path"}, {"question", sea}})["warnings"].size() == 1);
}

TEST_CASE("tables are scored as the program scores them, and what was left out is said",
          "[engine][expectation]") {
  Session session;
  std::string table =
      "time_utc,mhz,tx,rx,power_w,snr_db\n"
      "2024-03-01T12:00Z,14.1,JN45,FN42,5,-12\n"
      "2024-03-01T13:00Z,14.1,JN45,FN42,5,loud\n";
  const auto told =
      ask(session, {{"do", "score"}, {"spots", table}, {"name", "mine.csv"}, {"format", "json"}});
  REQUIRE(told["ok"] == true);
  CHECK(json::parse(told["text"].get<std::string>())["left_out"] == 1);
  REQUIRE(told["warnings"].size() == 1);
  CHECK(told["warnings"][0].get<std::string>().starts_with("mine.csv:3"));
  const auto none = ask(session, {{"do", "score"}});
  CHECK(none["errors"][0]["where"] == "spots");
  const auto two = ask(session, {{"do", "score"}, {"spots", table}, {"hours", table}});
  CHECK(two["errors"][0]["where"] == "hours");
}

TEST_CASE("explanations as JSON and the packing list are had by message too", "[engine][expectation]") {
  const auto text = example("rodrigues");
  const auto trip = read(text);
  Session session;
  const auto sheet = ask(session, {{"do", "explain"}, {"trip", text}, {"format", "json"}, {"region", "all"}});
  REQUIRE(sheet["ok"] == true);
  skerry::engine::ExplainAsk all;
  all.format = skerry::engine::Format::json;
  all.region = "all";
  CHECK(sheet["text"] == *skerry::engine::explain(trip, all));
  const auto list = ask(session, {{"do", "pack"}, {"trip", text}, {"format", "csv"}, {"table", "things"}});
  REQUIRE(list["ok"] == true);
  skerry::engine::PackAsk things;
  things.format = skerry::engine::Format::csv;
  things.table = skerry::engine::PackTable::things;
  CHECK(list["text"] == *skerry::engine::pack(trip, things));
  CHECK(ask(session, {{"do", "explain"}, {"trip", text}, {"format", "csv"}})["ok"] == false);
  CHECK(ask(session, {{"do", "pack"}, {"trip", text}, {"table", "things"}})["ok"] == false);
}

TEST_CASE("a conversation reaches what its surroundings let it reach", "[engine][expectation]") {
  auto text = example("rodrigues");
  const std::string head = "[trip]\n";
  text.insert(text.find(head) + head.size(), "library = \"things.toml\"\n");
  Session alone;
  CHECK(ask(alone, {{"do", "pack"}, {"trip", text}, {"name", "my.toml"}})["error"]
            .get<std::string>()
            .starts_with("my.toml:"));
  std::string wanted;
  skerry::engine::Surroundings around;
  around.read = [&](const std::string& name, const skerry::Where& at) -> skerry::Result<std::string> {
    // A forecast of one's own, which every trip asks for, is not there.
    if (name == skerry::ionosphere::own_forecast) return skerry::fail(at, "nothing", "a forecast");
    wanted = name;
    return std::string("[[item]]\nid = \"whistle\"\nname = \"whistle\"\nmass_g = 20\n");
  };
  Session here(std::move(around));
  const auto packed = ask(here, {{"do", "pack"}, {"trip", text}, {"format", "json"}});
  CHECK(packed["ok"] == true);
  CHECK(wanted == "things.toml");
  // The message's own files go first.
  wanted.clear();
  ask(here, {{"do", "pack"}, {"trip", text}, {"files", {{"things.toml", ""}}}});
  CHECK(wanted.empty());
  skerry::engine::Surroundings small;
  small.most_bytes = 1U << 20U;
  Session narrow(std::move(small));
  CHECK(ask(narrow, {{"do", "pack"}, {"trip", std::string(2U << 20U, ' ')}})["error"].get<std::string>().find(
            "at most 1 MB") != std::string::npos);
}

TEST_CASE("a session draws the rays of a cell", "[engine][property]") {
  Session session;
  CHECK(ask(session, {{"do", "rays"}, {"way", 0}, {"hour", 18}, {"band", 0}})["ok"] == false);
  REQUIRE(ask(session, {{"do", "open"}, {"trip", example("rodrigues")}})["ok"] == true);
  const auto drawn = ask(session, {{"do", "rays"}, {"way", 0}, {"hour", 18}, {"band", 1}});
  REQUIRE(drawn["ok"] == true);
  const std::string svg = drawn["svg"];
  CHECK(svg.rfind("<svg class=\"section rays\"", 0) == 0);
  CHECK(svg.find("class=\"lobe\"") != std::string::npos);
  CHECK(svg.size() < 10000);
  CHECK_FALSE(std::string(drawn["text"]).empty());
  CHECK(ask(session, {{"do", "rays"}, {"way", 9999}, {"hour", 18}, {"band", 1}})["ok"] == false);
  CHECK(ask(session, {{"do", "rays"}, {"way", 0}, {"hour", 24}, {"band", 1}})["ok"] == false);
}
