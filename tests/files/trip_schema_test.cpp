// Schemas of the files that people write, for editors: made from the table of fields, and held against what the reader says.
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "check.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/library.hpp"
#include "skerry/files/trip_file.hpp"

using namespace skerry;
using json = nlohmann::ordered_json;
using files::Field;
using files::Kind;
using files::Range;

namespace {

/// What it means, with its unit before any second half: "Length, m; without it cut to the band".
std::string described(const Field& f) {
  std::string out = f.help;
  out[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(out[0])));
  std::string unit = f.range.unit;
  unit = unit.substr(0, std::min(unit.find(','), unit.find(" (")));
  const bool numeric = f.kind == Kind::number || (f.kind == Kind::numbers && !f.last);
  if (!numeric || f.range.whole || unit.empty() || unit[0] == '(' ||
      (unit.size() > 3 && out.substr(0, out.find(';')).find(unit) != out.npos))
    return out;
  return out.insert(std::min(out.find(';'), out.size()), ", " + unit);
}

/// 5 and not 5.0.
json plain(double value) {
  return value == std::floor(value) ? json(std::llround(value)) : json(value);
}

json within(const Range& range) {
  return {{"type", range.whole ? "integer" : "number"},
          {"minimum", plain(range.least)},
          {"maximum", plain(range.most)}};
}

json one_of(const std::vector<const char*>& words) {
  json out{{"type", "string"}};
  for (const char* w : words) out["enum"].push_back(w);
  return out;
}

const json& short_name() {
  static const json made{{"type", "string"}, {"pattern", "^[A-Za-z0-9_-]{1,40}$"}};
  return made;
}

json list_of(json items) {
  return {{"type", "array"}, {"items", std::move(items)}};
}

/// A single word counts as a list of one.
json one_or_list(const json& word, const json& item) {
  return {{"anyOf", {word, list_of(item)}}};
}
json one_or_list(const json& word) {
  return one_or_list(word, word);
}

json of_table(const std::string& name);

json exactly(int count, json items) {
  json out = list_of(std::move(items));
  out["minItems"] = out["maxItems"] = count;
  return out;
}

/// Several numbers, the last of which may have a range of its own.
json several(const Field& f) {
  if (!f.last) return exactly(f.count, within(f.range));
  json out{{"type", "array"}};
  for (int i = 0; i < f.count; ++i) out["prefixItems"].push_back(within(f.range_of(i)));
  out["minItems"] = out["maxItems"] = f.count;
  return out;
}

json shape_of(const Field& f) {
  switch (f.kind) {
    case Kind::text:
      return {{"type", "string"}};
    case Kind::clock:
      return {{"type", "string"}};
    case Kind::id:
      return short_name();
    case Kind::word:
      return one_of(f.words);
    case Kind::words:
      return one_or_list(f.words.empty() ? json{{"type", "string"}} : one_of(f.words));
    case Kind::shares:
      return one_or_list({{"type", "string"}},
                         {{"anyOf",
                           {{{"type", "string"}},
                            {{"type", "object"},
                             {"additionalProperties", false},
                             {"properties",
                              {{"name", {{"type", "string"}}},
                               {"share", {{"type", "number"}, {"minimum", 0}, {"maximum", 1}}}}},
                             {"required", {"name", "share"}}}}}});
    case Kind::ids:
      return one_or_list(short_name());
    case Kind::flag:
      return {{"type", "boolean"}};
    case Kind::number:
      return within(f.range);
    case Kind::numbers:
      return several(f);
    case Kind::rows: {
      json row = several(f);
      if (f.further) {
        row["prefixItems"].push_back(within(*f.further));
        row["maxItems"] = f.count + 1;
      }
      return list_of(row);
    }
    case Kind::day:
      return {{"type", "string"}, {"format", "date"}};
    case Kind::days:
      return list_of({{"type", "string"}, {"format", "date"}});
    case Kind::table:
      return of_table(f.table);
    case Kind::tables: {
      json out = list_of(of_table(f.table));
      out["maxItems"] = f.count;
      return out;
    }
    case Kind::name_or_table:
      return {{"anyOf", {json{{"type", "string"}}, of_table(f.table)}}};
    case Kind::flag_or_ids:
      return {{"anyOf", {json{{"type", "boolean"}}, list_of(short_name())}}};
  }
  return {};
}

json of_table(const std::string& name) {
  json properties = json::object(), required = json::array(), either = json::array();
  for (const auto& f : files::fields_of(name).fields) {
    json made = shape_of(f);
    if (f.otherwise) made["default"] = f.kind == Kind::flag ? json(*f.otherwise != 0) : plain(*f.otherwise);
    made["description"] = described(f);
    properties[f.key] = std::move(made);
    if (f.required || (f.unless && **f.unless == '\0')) required.push_back(f.key);
    if (f.unless && **f.unless != '\0') {
      either.push_back({{"required", {f.key}}});
      either.push_back(
          {{"required", {*f.unless}}, {"properties", {{*f.unless, {{"not", {{"const", false}}}}}}}});
    }
  }
  json out{{"type", "object"}, {"additionalProperties", false}, {"properties", std::move(properties)}};
  if (!required.empty()) out["required"] = std::move(required);
  if (!either.empty()) out["anyOf"] = std::move(either);
  return out;
}

/// A file's schema: docs/schemas/NAME.json.
std::string file_schema(const std::string& name) {
  const auto made = [&](const char* title, json table) {
    json out{
        {"$schema", "https://json-schema.org/draft/2020-12/schema"},
        {"$id", "urn:skerry:" + name + ":1"},
        {"title", title},
        {"description",
         "For editors that know JSON Schema for TOML; the program itself says more about what is wrong, and "
         "where."}};
    out.update(std::move(table));
    return out.dump(2) + "\n";
  };
  if (name == "trip") return made("A trip file, as skerry reads it", of_table("trip file"));
  if (name == "library-file") return made("A library of one's own things", of_table("library file"));
  if (name == "learned-file") {
    json table = of_table("learned file");
    table["required"] = {"learned"};
    return made("What a log taught", std::move(table));
  }
  // `skerry antenna` passes over what else stands there, and weighs nothing.
  json table = of_table("trip file");
  json antennas = table["properties"]["antenna"];
  std::erase(antennas["items"]["required"].get_ref<json::array_t&>(), json("mass_g"));
  antennas["minItems"] = 1;
  return made("Antennas, for 'skerry antenna'",
              {{"type", "object"}, {"properties", {{"antenna", antennas}}}, {"required", {"antenna"}}});
}

const std::vector<std::string> files_with_schemas{"trip", "library-file", "antenna-file", "learned-file"};

/// What the reader complains of: in a trip, or in a file that a log taught.
using Complaints = std::vector<Error> (*)(const std::string& text);
std::vector<Error> of_trip(const std::string& text) {
  const auto no_files = [](const std::string& name, const Where& where) -> Result<std::string> {
    return fail(where, name, "no file here");
  };
  auto trip = files::read_trip(text, "t.toml", no_files);
  return trip ? std::vector<Error>{} : trip.error();
}
std::vector<Error> of_learned(const std::string& text) {
  const auto the_file = [&](const std::string&, const Where&) -> Result<std::string> { return text; };
  auto trip = files::read_trip("[trip]\nlearned = \"l.toml\"\n", "t.toml", the_file);
  return trip ? std::vector<Error>{} : trip.error();
}

/// "expected one of: a, b" for the unknown key zzz; the last may be cut off.
std::set<std::string> accepted_by_reader(const std::string& head, Complaints complaints = of_trip) {
  std::set<std::string> out;
  for (const auto& error : complaints(head + "\nzzz = 1\n")) {
    if (error.found.find("'zzz'") == std::string::npos) continue;
    std::istringstream list(error.accepted.substr(error.accepted.find(':') + 1));
    for (std::string key; std::getline(list, key, ',');) {
      key.erase(0, key.find_first_not_of(' '));
      if (key.find("...") == std::string::npos) out.insert(key);
    }
  }
  return out;
}

/// True where the reader complains of this very text.
bool refused(const std::string& text, const std::string& found, Complaints complaints) {
  const auto all = complaints(text);
  return std::any_of(all.begin(), all.end(),
                     [&](const Error& e) { return e.found.find(found) != std::string::npos; });
}

void check_table(const json& table, const std::string& head, Complaints complaints = of_trip) {
  INFO(head);
  const auto accepted = accepted_by_reader(head, complaints);
  REQUIRE(accepted.size() >= 2);
  for (const auto& key : accepted) {
    INFO("the schema lacks " << key);
    CHECK(table["properties"].contains(key));
  }
  for (const auto& [key, value] : table["properties"].items()) {
    INFO("the reader lacks " << key);
    // A value that no key takes: the complaint is about the value, not the key.
    const auto text = fmt::format("{}\n{} = 1979-05-27T07:32:00\n", head, key);
    CHECK_FALSE(refused(text, "unknown key '" + key + "'", complaints));
    INFO(key << " is read by nobody");
    CHECK(refused(text, key + " = a date with a time", complaints));
    if (value.contains("maximum")) {
      INFO(key << " has no maximum");
      CHECK(refused(fmt::format("{}\n{} = 1e30\n", head, key), key + " = 1e+30", complaints));
    }
  }
}

}  // namespace

TEST_CASE("the files' JSON Schemas are those that the table of fields makes", "[files][approved]") {
  for (const auto& name : files_with_schemas) {
    CAPTURE(name);
    const std::string file = std::string(SKERRY_SOURCE_DIR) + "/docs/schemas/" + name + ".json";
    if (std::getenv("SKERRY_APPROVE") != nullptr) std::ofstream(file) << file_schema(name);
    std::ifstream in(file);
    std::stringstream there;
    there << in.rdbuf();
    CHECK((there.str() == file_schema(name)));
  }
}

TEST_CASE("the library's JSON Schema and its reader know the same keys, and it has no trip's",
          "[files][property]") {
  const auto of_library = [](const std::string& text) {
    auto entries = files::read_library(text, "l.toml");
    return entries ? std::vector<Error>{} : entries.error();
  };
  const auto library = json::parse(file_schema("library-file"));
  const auto tables = accepted_by_reader("", of_library);
  CHECK(tables.size() == library["properties"].size());
  for (const auto& [name, table] : library["properties"].items()) {
    CHECK(tables.contains(name));
    check_table(table["items"], "[[" + name + "]]", of_library);
  }
  CHECK_FALSE(library["properties"].contains("trip"));
}

TEST_CASE("antennas to be looked at alone need no mass, those of a trip do", "[files][property]") {
  const auto required = [](const std::string& name) {
    const auto schema = json::parse(file_schema(name));
    const auto& keys = schema["properties"]["antenna"]["items"]["required"];
    return std::count(keys.begin(), keys.end(), "mass_g");
  };
  CHECK(required("antenna-file") == 0);
  CHECK(required("trip") == 1);
  const std::string text = "[[antenna]]\nid = \"x\"\nkind = \"dipole\"\nbands = [\"20m\"]\n";
  CHECK(files::read_antennas(text, "a.toml").has_value());
  CHECK(refused(text, "[[antenna]] 'x' without mass_g", of_trip));
}

TEST_CASE("the trip files' JSON Schema and their reader know the same keys", "[files][property]") {
  const auto schema = json::parse(embedded("schemas/trip.json"));
  const auto tables = accepted_by_reader("");
  CHECK(tables.size() == schema["properties"].size());
  for (const auto& [name, table] : schema["properties"].items()) {
    CHECK(tables.contains(name));
    const bool array = table["type"] == "array";
    check_table(array ? table["items"] : table, array ? "[[" + name + "]]" : "[" + name + "]");
  }
  const auto& antenna = schema["properties"]["antenna"]["items"]["properties"];
  check_table(antenna["wire"]["items"], "[[antenna]]\n[[antenna.wire]]");
  check_table(antenna["load"]["items"], "[[antenna]]\n[[antenna.load]]");
  check_table(antenna["feed"], "[[antenna]]\n[antenna.feed]");
  check_table(schema["properties"]["site"]["items"]["properties"]["ground"]["anyOf"][1],
              "[[site]]\n[site.ground]");
  check_table(schema["properties"]["site"]["items"]["properties"]["terrain"]["anyOf"][1],
              "[[site]]\n[site.terrain]");
  check_table(schema["properties"]["region"]["items"]["properties"]["partner"],
              "[[region]]\n[region.partner]");
  check_table(of_table("learned"), "[learned]", of_learned);
  check_table(of_table("learned.people"), "[people]", of_learned);
}

TEST_CASE("what a trip must say its JSON Schema requires", "[files][property]") {
  // Each thing with its id alone: whatever the reader misses stands in `required`, and nothing else does.
  const auto schema = json::parse(embedded("schemas/trip.json"));
  for (const char* name : {"rig", "antenna", "support", "cable", "tuner", "battery", "bag", "item"}) {
    const auto& table = schema["properties"][name]["items"];
    for (const auto& [key, value] : table["properties"].items()) {
      CAPTURE(name, key);
      const bool missed = refused(fmt::format("[[{0}]]\nid = \"x\"\n", name),
                                  fmt::format("[[{}]] 'x' without {}", name, key), of_trip);
      const bool required = std::count(table["required"].begin(), table["required"].end(), key) > 0 ||
                            (table.contains("anyOf") && table["anyOf"][0]["required"][0] == key);
      if (key != "id") CHECK(missed == required);
    }
  }
  CHECK_FALSE(refused("[[support]]\nid = \"x\"\nat_site = true\n", "without mass_g", of_trip));
  CHECK(refused("[[support]]\nid = \"x\"\nat_site = false\n", "without mass_g", of_trip));
}

TEST_CASE("the starter says of a key what the table of fields says", "[files][property]") {
  const std::string text = files::starter("x", GeoPoint::at_deg(0, 0), *parse_day("2027-02-14", {}));
  CHECK(text.find("<help>") == std::string::npos);
  for (const auto& [table, key] : std::vector<std::pair<const char*, const char*>>{
           {"trip", "r12"}, {"site", "near_land"}, {"rig", "transmit_a"}, {"bag", "lining_cm"}}) {
    CAPTURE(table, key);
    CHECK(text.find(files::field(table, key).help) != std::string::npos);
  }
}

TEST_CASE("every field says what it means and what it may hold", "[files][property]") {
  for (const char* name :
       {"trip", "site", "session", "region", "region.partner", "people", "licence", "rig", "antenna",
        "antenna.wire", "antenna.load", "support", "cable", "tuner", "battery", "bag", "item", "mode"}) {
    std::set<std::string> keys;
    for (const auto& f : files::fields_of(name).fields) {
      CAPTURE(name, f.key);
      CHECK(keys.insert(f.key).second);
      CHECK(std::string(f.help).size() > 3);
      CHECK(files::accepted(f).size() > 3);
      if (f.kind == Kind::number) CHECK(f.range.least < f.range.most);
      if (f.otherwise && f.kind == Kind::number) CHECK(files::good(*f.otherwise, f.range));
    }
  }
  // What a new thing holds is what the table tells of it.
  CHECK(files::field("rig", "volts").otherwise == kit::Rig{}.volts);
  CHECK(files::field("bag", "lining_cm").otherwise == kit::Bag{}.lining_cm);
  CHECK_FALSE(files::field("support", "usable_m").otherwise);
}
