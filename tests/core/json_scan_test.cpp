#include "skerry/core/json_scan.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("a member is given as it was written, without the blanks around it", "[core][known]") {
  CHECK(member_text(R"({"id": 12345678901234567890123, "a": 1})", "id") == "12345678901234567890123");
  CHECK(member_text(R"({"a": {"id": 2}, "b": "id", "id" : [ 1 , "x ] y" ] })", "id") == R"([1,"x ] y"])");
  CHECK(member_text(R"({"id":"a\"b, \\","c":1})", "id") == R"("a\"b, \\")");
  CHECK(member_text(R"({"a":"id","id":null})", "id") == "null");
  CHECK(member_text(R"({"id":{"id":1.50}})", "id") == R"({"id":1.50})");
  CHECK(member_text(R"({"a":1})", "id").empty());
  CHECK(member_text("{}", "id").empty());
  CHECK(member_text(R"([1,{"id":2}])", "id").empty());
}
