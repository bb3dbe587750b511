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

#ifdef SKERRY_COLUMNS
TEST_CASE("a file kept by columns is put together again byte for byte", "[core][columns][property]") {
  struct Kept {
    const char* name;
    std::size_t row_bytes;
  };
  for (const auto& kept : {Kept{"ccir/ccir.bin", 4}, Kept{"ursi/ursi.bin", 4}, Kept{"foes/foes.bin", 4},
                           Kept{"igrf/igrf.bin", 4}, Kept{"zones/tables.bin", 18}}) {
    std::ifstream file(std::string(SKERRY_COLUMNS) + kept.name, std::ios::binary);
    std::ostringstream columns;
    columns << file.rdbuf();
    CHECK(columns.str() != embedded(kept.name));
    CHECK(detail::by_rows(columns.str(), kept.row_bytes) == embedded(kept.name));
  }
}
#endif

TEST_CASE("table rows keep the order of the file and their types", "[core][property]") {
  const auto rows = table_rows("bands/modes.toml", "mode");
  REQUIRE(rows.size() > 3);
  for (const auto& row : rows) {
    CHECK_FALSE(row.text("id").empty());
    CHECK_FALSE(row.has("no such cell"));
  }
}
