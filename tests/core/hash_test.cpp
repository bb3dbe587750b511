#include "skerry/core/hash.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("the content hash is FNV-1a", "[core][known]") {
  // Source: the published test values of FNV-1a 64: "" cbf29ce484222325, "a" af63dc4c8601ec8c, "foobar"
  // 85944171f73967e8 (from memory).
  CHECK(content_hash("").substr(0, 16) == "cbf29ce484222325");
  CHECK(content_hash("a").substr(0, 16) == "af63dc4c8601ec8c");
  CHECK(content_hash("foobar").substr(0, 16) == "85944171f73967e8");
  CHECK(content_hash("foobar").size() == 32);
}
