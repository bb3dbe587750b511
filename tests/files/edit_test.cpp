#include "skerry/files/edit.hpp"

#include "check.hpp"

using skerry::files::with_key;

namespace {
const std::string trip =
    "# mine\n"
    "[trip]\n"
    "name = \"\xC3\xA9t\xC3\xA9\"  # an accent before a value must not move it\n"
    "first_day = 2027-02-13   # Saturday\n"
    "f107 = 95.5 # told\n"
    "\n"
    "[[rig]]   # the small one\n"
    "id = \"a\"\n"
    "name = \"\xC3\xA9\"\npower_w = 5 # W\n"
    "[[rig]]\r\n"
    "id = \"b\"\r\n"
    "[people]\n"
    "[licence]\n"
    "bands = [\"40m\"]\n";
std::string set(skerry::files::TableAt at, std::string_view key, std::string_view toml,
                const std::vector<std::string_view>& instead = {}, const std::string& text = trip) {
  const auto out = with_key(text, at, key, toml, instead);
  REQUIRE(out);
  return *out;
}
std::string changed(const std::string& from, const std::string& to) {
  auto out = trip;
  const auto at = out.find(from);
  REQUIRE(at != std::string::npos);
  return out.replace(at, from.size(), to);
}
}  // namespace

TEST_CASE("a key set in a trip's text leaves every other byte as it was", "[files][property]") {
  CHECK(set({"trip"}, "first_day", "2027-02-20") == changed("2027-02-13", "2027-02-20"));
  CHECK(set({"trip"}, "name", "\"x\"") == changed("\"\xC3\xA9t\xC3\xA9\"", "\"x\""));
  CHECK(set({"", 7}, "power_w", "10") == changed("power_w = 5 #", "power_w = 10 #"));
  CHECK(set({"licence"}, "bands", "[\"20m\"]") == changed("[\"40m\"]", "[\"20m\"]"));
}

TEST_CASE("a key that was not there stands below its table's head, or in the place of what it replaces",
          "[files][expectation]") {
  CHECK(set({"trip"}, "mass_limit_kg", "4") == changed("[trip]\n", "[trip]\nmass_limit_kg = 4\n"));
  CHECK(set({"", 7}, "always", "true") == changed("# the small one\n", "# the small one\nalways = true\n"));
  CHECK(set({"", 11}, "always", "true") == changed("[[rig]]\r\n", "[[rig]]\r\nalways = true\r\n"));
  CHECK(set({"trip"}, "r12", "60", {"ssn_v2", "f107"}) == changed("f107 = 95.5", "r12 = 60"));
  CHECK(set({"trip"}, "r12", "60", {"ssn_v2"}) == changed("[trip]\n", "[trip]\nr12 = 60\n"));
  CHECK(set({"licence"}, "power_w", "5", {}, "licence = {bands = []}\n") ==
        "licence = {power_w = 5, bands = []}\n");
  CHECK(set({"licence"}, "power_w", "5", {}, "licence = {}") == "licence = {power_w = 5}");
}

TEST_CASE("a key for a table that is not there is refused", "[files][edge]") {
  CHECK_FALSE(with_key(trip, {"tripp"}, "a", "1"));
  CHECK_FALSE(with_key(trip, {"", 8}, "a", "1"));
  CHECK_FALSE(with_key("[trip", {"trip"}, "a", "1"));
}
