// explain, calendar, geojson, card and schema as a user calls them.

#include <stdlib.h>

#include <cmath>
#include <cstdio>
#include <ctime>
#include <map>
#include <optional>
#include <set>

#include "ask.hpp"
#include "check.hpp"

namespace {

const std::string examples = SKERRY_SOURCE_DIR "/examples/";

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

bool is_ascii(const std::string& text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c == '\n' || (c >= 0x20 && c < 0x7F); });
}

/// SOURCE_DATE_EPOCH for a while; null: none.
class OneMoment {
 public:
  explicit OneMoment(const char* seconds) {
    if (const char* old = std::getenv(name)) old_ = old;
    if (seconds != nullptr) {
      ::setenv(name, seconds, 1);
    } else {
      ::unsetenv(name);
    }
  }
  ~OneMoment() {
    if (old_) {
      ::setenv(name, old_->c_str(), 1);
    } else {
      ::unsetenv(name);
    }
  }
  OneMoment(const OneMoment&) = delete;
  OneMoment& operator=(const OneMoment&) = delete;

 private:
  static constexpr const char* name = "SOURCE_DATE_EPOCH";
  std::optional<std::string> old_;
};

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

/// A light check: type, required, properties, items, const, enum, minimum and maximum. The whole of the
/// standard is checked by an independent validator: tests/forms/authorities/check_schemas.py.
void follow(const nlohmann::json& schema, const nlohmann::json& value, const nlohmann::json& root,
            const std::string& at) {
  if (schema.contains("$ref")) {
    return follow(root.at(nlohmann::json::json_pointer(schema["$ref"].get<std::string>().substr(1))), value,
                  root, at);
  }
  INFO(at);
  if (schema.contains("type")) {
    const auto is = [&](const std::string& type) {
      if (type == "object") return value.is_object();
      if (type == "array") return value.is_array();
      if (type == "string") return value.is_string();
      if (type == "boolean") return value.is_boolean();
      if (type == "null") return value.is_null();
      if (type == "integer")
        return value.is_number() && value.get<double>() == std::floor(value.get<double>());
      return value.is_number();
    };
    const auto& type = schema["type"];
    bool any = false;
    if (type.is_string()) {
      any = is(type);
    } else {
      for (const auto& t : type) any = any || is(t);
    }
    CHECK(any);
    if (!any) return;
  }
  if (schema.contains("const")) CHECK(value == schema["const"]);
  if (schema.contains("enum")) CHECK(std::count(schema["enum"].begin(), schema["enum"].end(), value) == 1);
  if (value.is_number() && schema.contains("minimum"))
    CHECK(value.get<double>() >= schema["minimum"].get<double>());
  if (value.is_number() && schema.contains("maximum"))
    CHECK(value.get<double>() <= schema["maximum"].get<double>());
  if (value.is_object()) {
    for (const auto& key : schema.value("required", nlohmann::json::array())) {
      INFO(key);
      CHECK(value.contains(key.get<std::string>()));
    }
    const auto properties = schema.value("properties", nlohmann::json::object());
    for (const auto& [key, part] : value.items()) {
      if (properties.contains(key)) follow(properties[key], part, root, at + "/" + key);
    }
  }
  if (value.is_array() && schema.contains("items")) {
    for (std::size_t i = 0; i < value.size(); ++i)
      follow(schema["items"], value[i], root, at + "/" + std::to_string(i));
  }
}

}  // namespace

TEST_CASE("answers follow the schemas that the program prints", "[cli][property]") {
  const std::vector<std::pair<std::string, std::vector<std::string>>> answers{
      {"path", {"path", "MH10", "JN45", "--month", "2027-02", "--bands", "40m", "-f", "json"}},
      {"sun", {"sun", "78.22,15.65", "--date", "2026-12-21", "-f", "json"}},
      {"ionosphere", {"ionosphere", "59.53,-1.63", "--month", "2026-12", "-f", "json"}},
      {"antenna", {"antenna", examples + "rodrigues.toml", "--mhz", "14.06", "-f", "json"}},
      {"pack", {"pack", examples + "fair_isle.toml", "-f", "json"}},
      {"map", {"map", "MH10", "--month", "2027-02", "--grid", "30", "--hours", "6", "-f", "json"}},
  };
  for (const auto& [name, args] : answers) {
    CAPTURE(name);
    const auto schema = ask({"schema", name}).json();
    const auto said = ask(args);
    REQUIRE(said.code == 0);
    follow(schema, said.json(), schema, name);
  }
  const auto batch =
      ask({"batch"}, "{\"from\":\"MH10\",\"to\":\"JN45\",\"month\":\"2027-02\",\"bands\":[\"20m\"]}\n");
  REQUIRE(batch.code == 0);
  const auto schema = ask({"schema", "batch"}).json();
  follow(schema, nlohmann::json::parse(batch.out), schema, "batch");
}

TEST_CASE("the list of schemas and a wrong name", "[cli][edge]") {
  const auto names = lines_of(ask({"schema"}).out);
  CHECK(std::count(names.begin(), names.end(), "path") == 1);
  const auto wrong = ask({"schema", "pathh"});
  CHECK(wrong.code == 2);
  CHECK(wrong.err.find("did you mean 'path'?") != std::string::npos);
}

TEST_CASE("an explanation fits the screen, is ASCII where the terminal is, and names its sums",
          "[cli][property]") {
  const auto said = ask({"explain", "-19.70,63.43", "JN45", "--month", "2027-02"});
  REQUIRE(said.code == 0);
  CHECK(is_ascii(said.out));
  for (const auto& line : lines_of(said.out)) {
    CAPTURE(line);
    CHECK(line.size() <= 100);
  }
  for (const char* part : {"D layer", "take-off angle", "reflection point", "man-made noise",
                           "in all:", "days in ten", "40m ", "10m "}) {
    CAPTURE(part);
    CHECK(said.out.find(part) != std::string::npos);
  }
  for (const char* gloss : {"| D layer:", "| dB:", "| MUF:", "| take-off angle:"}) {
    CAPTURE(gloss);
    CHECK(count(said.out, gloss) <= 1);
  }
  CHECK(count(said.out, "| D layer:") == 1);
}

TEST_CASE("different causes lead for different bands and hours", "[cli][known]") {
  // Source: common practice: by day the D layer eats 80 m, at night the layer is too thin for 10 m in a quiet
  // year.
  const auto lead = [](const std::vector<std::string>& args) {
    const auto text = ask(args).out;
    const auto at = text.find("mostly:");
    return at == std::string::npos ? std::string() : text.substr(at + 9, 60);
  };
  const auto day = lead(
      {"explain", "IM12", "JN18", "--month", "2027-02", "--r12", "60", "--bands", "80m", "--hour", "13"});
  const auto night =
      lead({"explain", "IM12", "JN18", "--month", "2027-02", "--r12", "5", "--bands", "10m", "--hour", "2"});
  CAPTURE(day, night);
  CHECK(day.find("D layer") != std::string::npos);
  CHECK(night.find("reflection point") != std::string::npos);
}

TEST_CASE("a terminal that knows Unicode gets bars, and --ascii takes them away", "[cli][edge]") {
  const auto say = [](std::vector<std::string> args) {
    std::istringstream in;
    std::ostringstream out, err;
    skerry::cli::World world{.in = in, .out = out, .err = err, .flush = {}};
    world.out_is_terminal = true;
    world.utf8 = true;
    CHECK(skerry::cli::run(args, world) == 0);
    return out.str();
  };
  const std::vector<std::string> args{"explain", "IM12", "JN18", "--month", "2027-02", "--bands", "20m"};
  const auto bars = say(args);
  CAPTURE(bars);
  CHECK(bars.find("°") != std::string::npos);
  bool any = false;
  for (const char* bar : {"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"})
    any = any || bars.find(bar) != std::string::npos;
  CHECK(any);
  auto plain = args;
  plain.push_back("--ascii");
  CHECK(is_ascii(say(plain)));
  plain = args;
  plain.insert(plain.begin(), "--ascii");
  CHECK(is_ascii(say(plain)));
}

TEST_CASE("a worksheet changes one thing at a time and its key has no blanks", "[cli][property]") {
  const auto said =
      ask({"explain", "-19.70,63.43", "JN45", "--month", "2027-02", "--teach", "--bands", "20m"});
  REQUIRE(said.code == 0);
  const auto fold = said.out.find("--- fold here ---");
  REQUIRE(fold != std::string::npos);
  const auto sheet = said.out.substr(0, fold);
  const auto key = said.out.substr(fold);
  CHECK(count(sheet, "____ MHz") >= 10);
  CHECK(key.find("____") == std::string::npos);
  CHECK(count(key, "only the ") == 4);
  // The common row of all lessons is the same in each: with R12 100, as the sheet says it raised it.
  std::set<std::string> base;
  for (const auto& line : lines_of(key)) {
    CAPTURE(line);
    CHECK(line.size() <= 100);
    for (const char* label : {"  R12 100 ", "  6 m up ", "  2027-02 "}) {
      if (line.rfind(label, 0) == 0 && line.find("instead") == std::string::npos)
        base.insert(line.substr(18));
    }
  }
  REQUIRE(base.size() == 1);
  // The base case works, or the sheet says what was raised.
  CHECK(std::stod(base.begin()->substr(base.begin()->find_last_of(' '))) >= 5);
  const auto two =
      ask({"explain", "-19.70,63.43", "JN45", "--month", "2027-02", "--teach", "--bands", "40m,10m"});
  CHECK(two.out.find("only the band changes") != std::string::npos);
  CHECK(ask({"explain", examples + "rodrigues.toml", "--teach"}).code == 2);
}

TEST_CASE("a trip is explained with what is packed", "[cli][known]") {
  const auto said = ask({"explain", examples + "fair_isle.toml", "--bands", "40m"});
  CAPTURE(said.err);
  REQUIRE(said.code == 0);
  CHECK(is_ascii(said.out));
  CHECK((said.out.find("dBi there") != std::string::npos || said.out.find("closed") != std::string::npos ||
         said.out.find("nothing packed") != std::string::npos));
  for (const auto& line : lines_of(said.out)) {
    CAPTURE(line);
    CHECK(line.size() <= 100);
  }
  CHECK(ask({"explain", examples + "fair_isle.toml", "--region", "atlantis"}).code == 2);
  CHECK(ask({"explain", examples + "fair_isle.toml", "--hour", "7.5"}).code == 2);
}

TEST_CASE("a calendar has one event for each session, its openings told within, and keeps its UIDs",
          "[cli][regression]") {
  const OneMoment moment("1767225600");
  const auto all = ask({"calendar", examples + "rodrigues.toml", "--openings"});
  const auto said = ask({"calendar", examples + "rodrigues.toml"});
  REQUIRE(said.code == 0);
  // Two sites with a session on each of five days, one of them with a way down: the trip file.
  CHECK(count(said.out, "BEGIN:VEVENT") == 15);
  CHECK(count(all.out, "BEGIN:VEVENT") > 15);
  CHECK(count(said.out, "CATEGORIES:OPENING") == 0);
  std::string text = said.out;
  for (auto at = text.find("\r\n "); at != std::string::npos; at = text.find("\r\n ", at)) text.erase(at, 3);
  CHECK(text.find("\\nSouthern Africa: 20m ") != std::string::npos);
  std::set<std::string> uids;
  for (const auto& line : lines_of(all.out)) {
    if (line.rfind("UID:", 0) == 0) uids.insert(line);
  }
  for (const auto& line : lines_of(said.out)) {
    if (line.rfind("UID:", 0) == 0) CHECK(uids.count(line) == 1);
  }
}

TEST_CASE("a calendar's time stamp is when it was made", "[cli][known]") {
  // Source: RFC 5545 section 3.8.7.2: DTSTAMP of a published object is the moment it was created.
  // 2026-01-01T00:00:00Z is 1767225600 s after 1970 (20454 days).
  {
    const OneMoment moment("1767225600");
    const auto said = ask({"calendar", examples + "fair_isle.toml"});
    CHECK(count(said.out, "DTSTAMP:20260101T000000Z\r\n") == count(said.out, "BEGIN:VEVENT"));
  }
  {
    const OneMoment moment("yesterday");
    CHECK(ask({"calendar", examples + "fair_isle.toml"}).code == 2);
  }
  const OneMoment moment(nullptr);
  const auto said = ask({"calendar", examples + "fair_isle.toml"});
  REQUIRE(said.code == 0);
  const auto at = said.out.find("DTSTAMP:");
  REQUIRE(at != std::string::npos);
  const std::time_t now = std::time(nullptr);
  char text[32];
  std::strftime(text, sizeof text, "%Y%m%dT%H%M%SZ", std::gmtime(&now));
  CHECK(said.out.substr(at + 8, 16) <= std::string(text));
}

TEST_CASE("a quick card of two places is some fifteen short lines", "[cli][property]") {
  const auto said = ask({"card", "-19.70,63.43", "-26.2,28.0", "--month", "2027-02", "--mode", "ssb",
                         "--power-w", "10", "--bands", "80m,40m,20m,15m,10m"});
  CAPTURE(said.out, said.err);
  REQUIRE(said.code == 0);
  CHECK(is_ascii(said.out));
  const auto lines = lines_of(said.out);
  CHECK(lines.size() <= 20);
  for (const auto& line : lines) CHECK(line.size() <= 44);
  // Below the parts of the day every band asked for is told, once as open, weak or closed; the numbers are
  // those of `path`.
  const auto bands = said.out.find("days in ten both ways:");
  REQUIRE(bands != std::string::npos);
  for (const char* band : {"80m", "40m", "20m", "15m", "10m"})
    CHECK(count(said.out.substr(bands), band) == 1);
  const auto path = ask({"path", "-19.70,63.43", "-26.2,28.0", "--month", "2027-02", "--mode", "ssb",
                         "--power-w", "10", "--bands", "20m", "--format", "json"})
                        .json();
  double most = 0;
  int hour = 0;
  for (int h = 0; h < 24; ++h) {
    const double days =
        path["ways"][0]["hours"][static_cast<std::size_t>(h)]["bands"][0]["both_days_in_ten"].get<double>();
    if (days > most) {
      most = days;
      hour = h;
    }
  }
  char best[16];
  std::snprintf(best, sizeof best, "%02d (%.0f)", hour, most);
  const auto at = said.out.find("20m", bands);
  CHECK(said.out.find(best, at) != std::string::npos);
  CHECK(ask({"card", "MH10", "JN45", "--mode", "telepathy"}).code == 2);
  CHECK(ask({"card", examples + "fair_isle.toml", "--mode", "ssb"}).code == 2);
}

TEST_CASE("a calendar keeps the grammar, its UIDs and its bytes", "[cli][property]") {
  const OneMoment moment("1767225600");
  const auto said = ask({"calendar", examples + "rodrigues.toml", "--openings"});
  REQUIRE(said.code == 0);
  CHECK(said.out == ask({"--threads", "1", "calendar", examples + "rodrigues.toml", "--openings"}).out);
  std::set<std::string> uids;
  std::vector<std::string> open;
  std::size_t sessions = 0;
  for (auto line : lines_of(said.out)) {
    REQUIRE_FALSE(line.empty());
    REQUIRE(line.back() == '\r');
    line.pop_back();
    CHECK(line.size() <= 75);
    if (line.rfind("BEGIN:", 0) == 0) open.push_back(line.substr(6));
    if (line.rfind("END:", 0) == 0) {
      REQUIRE_FALSE(open.empty());
      CHECK(open.back() == line.substr(4));
      open.pop_back();
    }
    if (line.rfind("UID:", 0) == 0) CHECK(uids.insert(line).second);
    if (line == "CATEGORIES:SESSION") ++sessions;
  }
  CHECK(open.empty());
  // Two sites with one session a day, 13 to 17 February: the trip file.
  CHECK(sessions == 10);
  CHECK(said.out.find("DTSTART;TZID=Indian/Mauritius:20270213T061500\r\n") != std::string::npos);
  CHECK(said.out.find("TZOFFSETTO:+0400\r\n") != std::string::npos);
  CHECK(said.out.find("TRIGGER:-PT15M\r\n") != std::string::npos);
  CHECK(said.out.find("TRANSP:TRANSPARENT\r\n") != std::string::npos);
  CHECK(ask({"calendar", examples + "rodrigues.toml", "--alarm-min", "0"}).out.find("VALARM") ==
        std::string::npos);
}

TEST_CASE("a measured foF2 changes explanations and cards, and is said there", "[cli][property]") {
  const std::vector<std::string> reading{"--fof2", "6.2@-20.1,57.5@14:30"};
  const std::vector<std::string> places{"-19.70,63.43", "JN45", "--month", "2027-02"};
  const std::string trip = SKERRY_SOURCE_DIR "/examples/rodrigues.toml";
  const std::pair<std::vector<std::string>, const char*> rows[] = {
      {{"explain", places[0], places[1], "--month", "2027-02", "--bands", "20m"}, "foF2 6.20 MHz measured"},
      {{"card", places[0], places[1], "--month", "2027-02"}, "foF2 6.20 MHz measured"},
      {{"explain", trip}, "foF2 6.20 MHz measured"},
      {{"card", trip}, "foF2 measured on the day"}};
  for (const auto& [args, words] : rows) {
    auto with = args;
    with.insert(with.end(), reading.begin(), reading.end());
    const auto plain = ask(args), said = ask(with);
    CAPTURE(args[0], args[1], said.err);
    REQUIRE(plain.code == 0);
    REQUIRE(said.code == 0);
    std::string flat = said.out;
    std::replace(flat.begin(), flat.end(), '\n', ' ');
    for (auto at = flat.find("  "); at != std::string::npos; at = flat.find("  ")) flat.erase(at, 1);
    CHECK(flat.find(words) != std::string::npos);
    CHECK(plain.out.find(words) == std::string::npos);
    CHECK(said.out != plain.out);
  }
  const auto lesson = ask({"explain", places[0], places[1], "--teach", "--fof2", "6.2@-20.1,57.5@14:30"});
  CHECK(lesson.code == 2);
  CHECK(is_one_line(lesson.err));
}

TEST_CASE("a card is under 2 kB of plain ASCII in 80 columns, for every example", "[cli][property]") {
  for (const char* trip : {"rodrigues", "fair_isle", "lord_howe"}) {
    CAPTURE(trip);
    const auto said = ask({"card", examples + trip + ".toml"});
    REQUIRE(said.code == 0);
    CHECK(said.out.size() < 2000);
    CHECK(is_ascii(said.out));
    for (const auto& line : lines_of(said.out)) {
      CAPTURE(line);
      CHECK(line.size() <= 80);
    }
    // The cautions are whole, whatever else had to go.
    CHECK(said.out.find("any part of the wire.") != std::string::npos);
    CHECK(said.out.find("...") == std::string::npos);
    for (const char* part : {"sun ", "UTC ", "local", "on air", "KIT ", "CARE ", " deg "}) {
      CAPTURE(part);
      CHECK(said.out.find(part) != std::string::npos);
    }
  }
}

TEST_CASE("GeoJSON of two places has both ways, hops and the edge of night", "[cli][known]") {
  const auto said =
      ask({"geojson", "-19.70,63.43", "JN45", "--month", "2027-02", "--hour", "16", "--band", "20m"});
  REQUIRE(said.code == 0);
  std::map<std::string, int> kinds;
  const auto j = said.json();
  for (const auto& f : j["features"]) ++kinds[f["properties"]["kind"].get<std::string>()];
  CHECK(kinds["end"] == 2);
  CHECK(kinds["path"] == 2);
  CHECK(kinds["reflection"] >= 3);
  CHECK(kinds["terminator"] == 1);
  const auto gpx =
      ask({"geojson", "-19.70,63.43", "JN45", "--month", "2027-02", "--hour", "16", "-f", "gpx"});
  CHECK(gpx.out.find("<wpt lat=\"-19.70000\" lon=\"63.43000\"><name>-19.70,63.43</name>") !=
        std::string::npos);
  CHECK(ask({"geojson", "MH10", "JN45", "-f", "kml"}).out.find("<kml xmlns=") != std::string::npos);
  CHECK(ask({"geojson", "MH10", "JN45", "-f", "shp"}).code == 2);
  CHECK(ask({"geojson", "MH10", "JN45", "--hour", "24"}).code == 2);
  CHECK(ask({"geojson", "MH10", "JN45", "--band", "41m"}).code == 2);
}
