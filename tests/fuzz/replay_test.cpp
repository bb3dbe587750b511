// Every seed, and every input that once broke something, goes through its target again.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "check.hpp"
#include "targets.hpp"

namespace fs = std::filesystem;

TEST_CASE("what was fuzzed and what once broke is answered or refused as promised", "[fuzz][regression]") {
  for (const auto& target : skerry::fuzz::targets()) {
    std::vector<fs::path> files;
    for (const auto& entry :
         fs::directory_iterator(fs::path(SKERRY_SOURCE_DIR "/tests/fuzz/corpus") / target.name))
      files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    CAPTURE(target.name);
    REQUIRE_FALSE(files.empty());
    for (const auto& file : files) {
      std::ifstream in(file, std::ios::binary);
      const std::string bytes{std::istreambuf_iterator<char>(in), {}};
      CAPTURE(file.string());
      REQUIRE_NOTHROW(target.run(bytes));
      // Cut short at a few places it is still answered or refused.
      for (const std::size_t share : {1U, 2U, 3U})
        REQUIRE_NOTHROW(target.run(bytes.substr(0, bytes.size() * share / 4)));
    }
  }
}
