// docs/schemas/trip.json, for editors, against the reader: both must know the same keys.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "check.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/files/trip_file.hpp"

using namespace skerry;
using nlohmann::json;

namespace {

/// What the reader complains of.
std::vector<Error> complaints(const std::string& text) {
  const auto no_files = [](const std::string& name, const Where& where) -> Result<std::string> {
    return fail(where, name, "no file here");
  };
  auto trip = files::read_trip(text, "t.toml", no_files);
  return trip ? std::vector<Error>{} : trip.error();
}

/// "expected one of: a, b" for the unknown key zzz; the last may be cut off.
std::set<std::string> accepted_by_reader(const std::string& head) {
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

void check_table(const json& table, const std::string& head) {
  INFO(head);
  const auto accepted = accepted_by_reader(head);
  REQUIRE(accepted.size() >= 3);
  for (const auto& key : accepted) {
    INFO("the schema lacks " << key);
    CHECK(table["properties"].contains(key));
  }
  for (const auto& [key, value] : table["properties"].items()) {
    INFO("the reader lacks " << key);
    bool unknown = false;
    // A value that no key takes: the complaint is about the value, not the key.
    for (const auto& error : complaints(fmt::format("{}\n{} = 1979-05-27T07:32:00\n", head, key)))
      unknown = unknown || error.found.find("unknown key '" + key + "'") != std::string::npos;
    CHECK_FALSE(unknown);
  }
}

}  // namespace

TEST_CASE("the trip files' JSON Schema and their reader know the same keys", "[kit][property]") {
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
}
