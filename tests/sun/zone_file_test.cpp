#include "zone_file.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "check.hpp"

using skerry::sun::is_whole_zone_file;
namespace fs = std::filesystem;

namespace {

std::string read(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

// The authority is the system's own database, as the tz project's compiler wrote it.
TEST_CASE("every file of the system's time zone database is whole", "[sun][known]") {
  const fs::path folder = "/usr/share/zoneinfo";
  if (!fs::exists(folder)) {
    WARN("skipped: no time zone database");
    return;
  }
  std::size_t zones = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    const auto bytes = read(entry.path());
    if (bytes.substr(0, 4) != "TZif") continue;  // tables of zones and countries
    CAPTURE(entry.path().string());
    CHECK(is_whole_zone_file(bytes));
    ++zones;
  }
  CHECK(zones > 100);
}

// RFC 8536, appendix B.1: version 1 file that represents UTC with leap seconds, shortened to none: header
// with one type of six bytes, four letters "UTC\0", one standard and one UT indicator.
TEST_CASE("a zone file that lacks a byte or points outside itself is not whole", "[sun][edge]") {
  std::string utc = "TZif";
  utc.append(16, '\0');
  for (const char count : {'\1', '\1', '\0', '\0', '\1', '\4'}) utc += std::string(3, '\0') + count;
  utc += std::string(6, '\0') + std::string("UTC\0", 4) + std::string(2, '\0');
  REQUIRE(utc.size() == 44 + 6 + 4 + 2);
  CHECK(is_whole_zone_file(utc));
  for (std::size_t n = 0; n < utc.size(); ++n) CHECK_FALSE(is_whole_zone_file(utc.substr(0, n)));
  const auto with = [&](std::size_t at, char byte) {
    auto out = utc;
    out[at] = byte;
    return out;
  };
  CHECK_FALSE(is_whole_zone_file(with(0, 'X')));
  CHECK_FALSE(is_whole_zone_file(with(32, '\x7f')));    // two thousand million times
  CHECK_FALSE(is_whole_zone_file(with(39, '\0')));      // no type
  CHECK_FALSE(is_whole_zone_file(with(43, '\0')));      // no letters
  CHECK_FALSE(is_whole_zone_file(with(23, '\3')));      // more indicators than types
  CHECK_FALSE(is_whole_zone_file(with(44 + 5, '\4')));  // a name that begins after the letters
  CHECK_FALSE(is_whole_zone_file(with(4, '2')));        // version 2 without its second part
  // Version 2: the same again with times of eight bytes (there are none), and a footer.
  auto second = with(4, '2');
  second += second;
  CHECK_FALSE(is_whole_zone_file(second));
  CHECK(is_whole_zone_file(second + "\nUTC0\n"));
  CHECK_FALSE(is_whole_zone_file(second + "\nUTC0"));
}
