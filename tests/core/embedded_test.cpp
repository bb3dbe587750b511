#include "skerry/core/embedded.hpp"

#include <fstream>
#include <sstream>

#include "check.hpp"
#include "skerry/core/table.hpp"

using namespace skerry;

TEST_CASE("the program carries the data files byte for byte", "[core][property]") {
  for (const char* name : {"bands/bands.toml", "ccir/ccir.bin"}) {
    std::ifstream file(std::string(SKERRY_SOURCE_DIR "/data/") + name, std::ios::binary);
    std::ostringstream content;
    content << file.rdbuf();
    REQUIRE_FALSE(content.str().empty());
    CHECK(embedded(name) == content.str());
  }
}

TEST_CASE("table rows keep the order of the file and their types", "[core][property]") {
  const auto rows = table_rows("bands/modes.toml", "mode");
  REQUIRE(rows.size() > 3);
  for (const auto& row : rows) {
    CHECK_FALSE(row.text("id").empty());
    CHECK_FALSE(row.has("no such cell"));
  }
}
