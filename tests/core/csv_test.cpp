#include "skerry/core/csv.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("records are split as RFC 4180 writes them", "[core][known]") {
  // Source: RFC 4180, section 2: the examples of rules 2, 5, 6 and 7.
  const auto table = parse_csv(
      "field_name,field_name2,field_name3\r\naaa,bbb,ccc\r\n\"aaa\",\"b \r\nbb\",\"ccc\"\r\n"
      "\"aaa\",\"b\"\"bb\",\"ccc\"\r\nzzz,yyy,xxx",
      "t.csv");
  REQUIRE(table);
  REQUIRE(table->rows.size() == 4);
  CHECK(table->rows[0].cells == std::vector<std::string>{"aaa", "bbb", "ccc"});
  CHECK(table->rows[1].cells == std::vector<std::string>{"aaa", "b \r\nbb", "ccc"});
  CHECK(table->rows[2].cells[1] == "b\"bb");
  CHECK(table->rows[3].cells[2] == "xxx");
  CHECK(table->rows[1].line == 3);
  CHECK(table->rows[2].line == 5);
}

TEST_CASE("comments, blank lines, a byte order mark and blanks around cells are no content", "[core][edge]") {
  const auto table =
      parse_csv("\xEF\xBB\xBF# from here\n\n Time , MHz \n# more\n 1 , \" x \" ,\n\n", "t.csv");
  REQUIRE(table);
  CHECK(table->header == std::vector<std::string>{"time", "mhz"});
  REQUIRE(table->rows.size() == 1);
  CHECK(table->rows[0].line == 5);
  CHECK(table->rows[0].cells == std::vector<std::string>{"1", " x ", ""});
  CHECK(table->column({"frequency", "mhz"}) == 1);
  CHECK(table->column({"none"}) == -1);
}

TEST_CASE("a table without header, with a name twice or an open quote is refused where it stands",
          "[core][edge]") {
  CHECK(parse_csv("", "t.csv").error().found == "no header");
  CHECK(parse_csv("# only\n", "t.csv").error().where.line == 2);
  CHECK(parse_csv("a,b,A\n", "t.csv").error().found == "column 'a' twice");
  const auto open = parse_csv("a,b\n1,2\n3,\"4\n5,6\n", "t.csv");
  REQUIRE_FALSE(open);
  CHECK(open.error().where.line == 3);
  CHECK_FALSE(parse_csv("a\n1\n", "t.csv", 2));
}
