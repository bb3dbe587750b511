#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <sstream>

#include "check.hpp"
#include "skerry/cli/run.hpp"

using nlohmann::json;
using namespace skerry;

namespace {

struct Ran {
  int code = 0;
  std::string out, err;
  std::vector<json> lines;
};

Ran run(const std::vector<std::string>& args, const std::string& input = {},
        std::function<bool()> flush = {}) {
  std::istringstream in(input);
  std::ostringstream out;
  std::ostringstream err;
  cli::World world{in, out, err};
  world.flush = std::move(flush);
  Ran ran;
  ran.code = cli::run(args, world);
  ran.out = out.str();
  ran.err = err.str();
  return ran;
}

Ran batch(const std::string& input) {
  Ran ran = run({"batch"}, input);
  std::istringstream text(ran.out);
  std::string line;
  while (std::getline(text, line)) ran.lines.push_back(json::parse(line));
  return ran;
}

const std::string good =
    R"({"id":7,"from":"-19.70,63.43","to":{"lat_deg":45.5,"lon_deg":9},"month":"2027-02","r12":90,"mhz":[7.03,14.06],"way":"both"})";

/// Every key of `part` stands in `whole` with an equal value; lists element by element.
void check_within(const json& part, const json& whole, const std::string& where) {
  CAPTURE(where);
  if (part.is_object()) {
    for (const auto& [key, value] : part.items()) {
      if (key == "schema" || key == "id" || key == "required_snr_db") continue;
      REQUIRE(whole.contains(key));
      check_within(value, whole[key], where + "." + key);
    }
  } else if (part.is_array()) {
    REQUIRE(part.size() == whole.size());
    for (std::size_t i = 0; i < part.size(); ++i)
      check_within(part[i], whole[i], where + "[" + std::to_string(i) + "]");
  } else {
    CHECK(part == whole);
  }
}

}  // namespace

TEST_CASE("an answer of the batch is that of the path command", "[cli][property]") {
  for (const bool modes : {false, true}) {
    auto question = json::parse(good);
    question["modes"] = modes;
    const auto ran = batch(question.dump() + "\n");
    REQUIRE(ran.code == 0);
    REQUIRE(ran.lines.size() == 1);
    CHECK(ran.lines[0]["id"] == 7);
    CHECK(ran.lines[0]["schema"] == "skerry.batch/1");
    CHECK(ran.lines[0]["ways"][0]["hours"][0]["bands"][0].contains("modes") == modes);
    const auto path = run({"path", "-19.70,63.43", "45.5,9", "--month", "2027-02", "--r12", "90", "--mhz",
                           "7.03,14.06", "--way", "both", "-f", "json"});
    REQUIRE(path.code == 0);
    check_within(ran.lines[0], json::parse(path.out), "answer");
  }
}

TEST_CASE("answers come in the order of the questions, bad ones in their place", "[cli][property]") {
  std::string input;
  for (int i = 0; i < 700; ++i) {
    if (i % 100 == 50) input += "no json\n";
    if (i % 100 == 60) input += "  \r\n";
    input += R"({"id":)" + std::to_string(i) + R"(,"from":"0,0","to":"10,)" + std::to_string(i % 90) +
             R"(","month":"2027-06","r12":50,"bands":["20m"],"hours":[12]})" + "\n";
  }
  const auto ran = batch(input);
  CHECK(ran.code == 2);
  CHECK(ran.err ==
        "skerry: standard input: found 7 of 707 lines that could not be answered, the first line 51; "
        "expected questions as in 'skerry batch --help'; each says what is wrong in its place\n");
  REQUIRE(ran.lines.size() == 707);
  std::size_t next = 0;
  std::size_t errors = 0;
  for (const auto& line : ran.lines) {
    if (line.contains("error")) {
      CHECK(next % 100 == 50);
      // Before it: the questions, the errors and the blank lines (one in each finished hundred), and it
      // counts from 1.
      CHECK(line["line"] == next + errors + next / 100 + 1);
      ++errors;
      continue;
    }
    REQUIRE(line["id"] == next);
    ++next;
  }
  CHECK(errors == 7);
}

TEST_CASE("an id comes back as it was written, however many digits it has", "[cli][property]") {
  for (const char* id : {"12345678901234567890123", "-0", "1.50", "1e-400", "[18446744073709551616,\"a\"]",
                         "\"\\u00e9\"", "{\"a\":0.1000000000000000055511151231257827}"}) {
    CAPTURE(id);
    const std::string rest =
        R"(,"from":"0,0","to":"10,10","month":"2027-06","r12":50,"mhz":[14],"hours":[12]})";
    const auto ran = run({"batch"}, std::string("{ \"id\" : ") + id + rest + "\n");
    CHECK(ran.out.rfind(std::string("{\"id\":") + id + ",", 0) == 0);
    const auto refused = run({"batch"}, std::string("{\"id\":") + id + "}\n");
    CHECK(refused.out.rfind(std::string("{\"id\":") + id + ",\"error\"", 0) == 0);
  }
}

TEST_CASE("a line that cannot be answered says where, what and what would be right", "[cli][edge]") {
  struct Row {
    std::string line, where, accepted;
  };
  const std::vector<Row> rows{
      {"{", "", "one JSON object"},
      {"[]", "", "one JSON object"},
      {"\xff\xfe", "", "one JSON object"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","r12":NaN})", "", "one JSON object"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","r12":1e999})", "", "within 1e308"},
      {std::string(5000, '[') + std::string(5000, ']'), "", "levels"},
      {"\"" + std::string(70000, 'x') + "\"", "", "bytes a line"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","colour":1})", "", "one of id"},
      {R"({"from":"0,0","from":"0,0","to":"1,1","month":"2027-02"})", "from", "once"},
      {R"({"to":"1,1","month":"2027-02"})", "from", "lat_deg"},
      {R"({"from":{"lat_deg":1,"lat_deg":2,"lon_deg":0},"to":"1,1","month":"2027-02"})", "lat_deg", "once"},
      {R"({"from":{"lat_deg":1,"lon_deg":190},"to":"1,1","month":"2027-02"})", "from", "-180 to 180"},
      {R"({"from":"0,0","to":{"lat_deg":91,"lon_deg":0},"month":"2027-02"})", "to", "-90 to 90"},
      {R"({"from":"0,0","to":{"lat_deg":1},"month":"2027-02"})", "to", "lat_deg"},
      {R"({"from":"0,0","to":"1,1"})", "month", "2027-02"},
      {R"({"from":"0,0","to":"1,1","month":"2027-13"})", "month", ""},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","r12":-1})", "r12", "0 to 300"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","r12":"90"})", "r12", "JSON number"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","r12":9,"f107":100})", "r12", "one of"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","bands":[]})", "bands", "1 to 100"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","bands":["21m"]})", "bands", "20m"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","mhz":[1.0]})", "mhz", "1.6 to 54"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","way":"shrt"})", "way", "short, long, both"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","hours":[24]})", "hours", "0 to 23"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","hours":[1.5]})", "hours", "0 to 23"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","power_w":0})", "power_w", "0.001 to 2000"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","mode":"cq"})", "mode", "one of"},
      {R"({"from":"0,0","to":"1,1","month":"2027-02","modes":1})", "modes", "true or false"},
  };
  std::string input;
  for (const auto& row : rows) input += row.line + "\n";
  const auto ran = batch(input + good);  // the last without its line break
  CHECK(ran.code == 2);
  REQUIRE(ran.lines.size() == rows.size() + 1);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].line.substr(0, 100), ran.lines[i].dump());
    CHECK(ran.lines[i]["line"] == i + 1);
    CHECK(ran.lines[i].value("where", "") == rows[i].where);
    CHECK(ran.lines[i]["accepted"].get<std::string>().find(rows[i].accepted) != std::string::npos);
    CHECK_FALSE(ran.lines[i]["error"].get<std::string>().empty());
  }
  CHECK(ran.lines.back()["id"] == 7);
}

TEST_CASE("ids of any kind come back as they were", "[cli][property]") {
  for (const std::string id : {"1", "\"a\\u00e9\"", "null", "[1,{\"x\":2.5}]", "1e3"}) {
    const auto ran = batch(R"({"id":)" + id +
                           R"(,"from":"0,0","to":"1,1","month":"2027-02","hours":[1],"bands":["40m"]})" +
                           "\n" + R"({"id":)" + id + R"(,"from":"0,0"})");
    REQUIRE(ran.lines.size() == 2);
    CHECK(ran.lines[0]["id"] == json::parse(id));
    CHECK(ran.lines[1]["id"] == json::parse(id));
    CHECK(ran.lines[1].contains("error"));
  }
}

namespace {

const std::string folder = SKERRY_SOURCE_DIR "/examples";

std::string text_of(const std::string& name) {
  std::ifstream in(folder + "/" + name);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("a line that asks what to pack gets the command's answer on one line", "[cli][property]") {
  const json by_text = {{"id", 3}, {"do", "pack"}, {"trip", text_of("fair_isle.toml")}, {"mass_limit_kg", 4}};
  const json by_name = {{"id", "x"}, {"do", "pack"}, {"trip", "fair_isle.toml"}, {"mass_limit_kg", 4}};
  const auto ran =
      run({"batch", "--trips", folder}, by_text.dump() + "\n" + good + "\n" + by_name.dump() + "\n");
  CHECK(ran.code == 0);
  const auto one = run({"pack", folder + "/fair_isle.toml", "--mass-limit-kg", "4", "-f", "json"});
  REQUIRE(one.code == 0);
  const auto wanted = nlohmann::ordered_json::parse(one.out).dump().substr(1);
  std::istringstream lines(ran.out);
  std::string line;
  for (const std::string id : {"3", "7", "\"x\""}) {
    REQUIRE(std::getline(lines, line));
    if (id == "7") {
      CHECK(json::parse(line)["schema"] == "skerry.batch/1");
    } else {
      CHECK(line == "{\"id\":" + id + "," + wanted);
    }
  }
}

TEST_CASE("what is set beside a trip on a line is what the trip file would say", "[cli][property]") {
  auto edited = text_of("fair_isle.toml");
  const auto r12 = edited.find("r12 =");
  if (r12 == std::string::npos) {
    edited.insert(edited.find("[trip]") + 7, "r12 = 20\n");
  } else {
    edited.replace(r12, edited.find('\n', r12) - r12, "r12 = 20");
  }
  const json set = {{"do", "pack"}, {"trip", text_of("fair_isle.toml")}, {"set", {{"r12", 20}}}};
  const json said = {{"do", "pack"}, {"trip", edited}};
  const auto a = batch(set.dump() + "\n");
  const auto b = batch(said.dump() + "\n");
  REQUIRE(a.lines.size() == 1);
  CHECK(a.lines[0]["r12"] == 20);
  CHECK(a.out == b.out);
  CHECK(a.out != batch(json{{"do", "pack"}, {"trip", text_of("fair_isle.toml")}}.dump() + "\n").out);
}

TEST_CASE("trips make a table of their own", "[cli][property]") {
  const json line = {{"id", 3}, {"do", "pack"}, {"trip", text_of("fair_isle.toml")}};
  const auto ran =
      run({"batch", "--fields", "id,reach,proved,mass_kg,carry"}, line.dump() + "\n" + good + "\n");
  CHECK(ran.code == 2);
  CHECK(ran.err.find("line 2: found a path among trips") != std::string::npos);
  const auto whole = batch(line.dump()).lines.at(0);
  std::string ids;
  for (const auto& item : whole["carry"]) ids += (ids.empty() ? "" : " ") + item["id"].get<std::string>();
  CHECK(ran.out == fmt::format("id,reach,proved,mass_kg,carry\n3,{},{},{},{}\n", whole["reach"].dump(),
                               whole["proved"].dump(), whole["mass_kg"].dump(), ids));
  const auto paths = run({"batch", "--fields", "id,mhz"}, line.dump() + "\n");
  CHECK(paths.code == 2);
  CHECK(paths.out == "id,mhz\n");
  CHECK(paths.err.find("line 1: do: found a trip among paths") != std::string::npos);
  CHECK(run({"batch", "--fields", "reach,mhz"}).code == 2);
}

TEST_CASE("what is wrong with a line about a trip is told on a line", "[cli][edge]") {
  struct Row {
    json line;
    std::string found;
  };
  const auto trip = text_of("fair_isle.toml");
  const std::vector<Row> rows{
      {{{"do", "pack"}}, "no trip"},
      {{{"do", "pack"}, {"trip", 7}}, "7"},
      {{{"do", "pack"}, {"trip", "fair_isle.toml"}}, "'fair_isle.toml'"},
      {{{"do", "pack"}, {"trip", "[trip\n"}}, ""},
      {{{"do", "pack"}, {"trip", trip}, {"set", {{"watts", 5}}}}, "key 'watts'"},
      {{{"do", "pack"}, {"trip", trip}, {"set", 5}}, "5"},
      {{{"do", "pack"}, {"trip", trip}, {"drop", {"no such thing"}}}, "'no such thing'"},
      {{{"do", "pack"}, {"trip", trip}, {"format", "text"}}, "'format'"},
      {{{"do", "pack"}, {"trip", trip}, {"from", "0,0"}}, "key 'from'"},
      {{{"do", "path"}, {"from", "0,0"}, {"to", "1,1"}, {"month", "2027-02"}}, "\"path\""},
  };
  std::string input;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    auto line = rows[i].line;
    line["id"] = i;
    input += line.dump() + "\n";
  }
  const auto ran = batch(input + good + "\n");
  CHECK(ran.code == 2);
  REQUIRE(ran.lines.size() == rows.size() + 1);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].line.dump().substr(0, 100), ran.lines[i].dump());
    CHECK(ran.lines[i]["id"] == i);
    CHECK(ran.lines[i]["line"] == i + 1);
    CHECK(ran.lines[i]["found"].get<std::string>().find(rows[i].found) != std::string::npos);
  }
  CHECK(ran.lines.back()["id"] == 7);
  const auto out_of_it = run({"batch", "--trips", folder}, R"({"do":"pack","trip":"../README.md"})");
  CHECK(out_of_it.code == 2);
  CHECK(json::parse(out_of_it.out)["error"].get<std::string>().find("..") != std::string::npos);
}

TEST_CASE("a reader that goes away ends the batch quietly", "[cli][edge]") {
  std::string input;
  for (int i = 0; i < 2000; ++i) input += "x\n";
  int asked = 0;
  const auto ran = run({"batch"}, input, [&] { return ++asked < 2; });
  CHECK(ran.code == 0);
  CHECK(ran.err.empty());
  CHECK(asked == 2);
}

TEST_CASE("nothing in gives nothing out", "[cli][edge]") {
  CHECK(batch("").out.empty());
  CHECK(batch("\n\n \n").out.empty());
}

TEST_CASE("a batch as a table has the numbers of the answers in JSON", "[cli][property]") {
  const auto whole = batch(good);
  REQUIRE(whole.code == 0);
  const auto table = run({"batch", "--fields", "id,way,utc_hour,mhz,both_days_in_ten"}, good);
  REQUIRE(table.code == 0);
  std::istringstream lines(table.out);
  std::string line;
  REQUIRE(std::getline(lines, line));
  CHECK(line == "id,way,utc_hour,mhz,both_days_in_ten");
  for (const auto& way : whole.lines[0]["ways"]) {
    for (const auto& hour : way["hours"]) {
      for (const auto& band : hour["bands"]) {
        REQUIRE(std::getline(lines, line));
        CHECK(line == fmt::format("7,{},{},{:.4f},{:.2f}", way["way"].get<std::string>(),
                                  hour["utc_hour"].get<int>(), band["mhz"].get<double>(),
                                  band["both_days_in_ten"].get<double>()));
      }
    }
  }
  CHECK_FALSE(std::getline(lines, line));
}

TEST_CASE("a table tells of wrong lines beside it, and of wrong columns before it", "[cli][edge]") {
  const auto ran = run({"batch", "--fields", "id,snr_db"}, "x\n" + std::string(good));
  CHECK(ran.code == 2);
  CHECK(ran.err.find("skerry: line 1: found") == 0);
  CHECK(ran.out.find('x') == std::string::npos);
  const auto wrong = run({"batch", "--fields", "id,snr_bd"}, "");
  CHECK(wrong.code == 2);
  CHECK(wrong.err.find("did you mean 'snr_db'") != std::string::npos);
}
