#include "skerry/core/csv.hpp"

#include "allocations.hpp"
#include "check.hpp"
#include "skerry/core/warnings.hpp"

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
  CHECK(table->column({"frequency", "mhz"}) == 1U);
  CHECK_FALSE(table->column({"none"}));
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

TEST_CASE("a table is read record by record: twice as many take no more memory", "[core][property]") {
  const auto count = [](int rows) {
    std::string text = "time_utc,mhz\n";
    for (int i = 0; i < rows; ++i) text += i % 3 == 0 ? "x\n" : "2027-02-14T14:30:00Z,14.097\n";
    int read = 0;
    const auto allocations = skerry::test::allocations_of([&] {
      auto reader = CsvReader::open(text, "t.csv");
      for (CsvRow row; reader && *reader->next(row);) ++read;
    });
    CHECK(read == rows);
    return allocations;
  };
  const auto once = count(1000);
  // A long cell asks for memory of its own; what was asked for once is used again.
  CHECK(count(2000) - once <= 1000 * 2 / 3 + 1);
}

TEST_CASE("of a record without end a thousand cells are kept, and no header has as many", "[core][edge]") {
  const std::string commas(100000, ',');
  const auto table = parse_csv("a,b\n" + commas + "\n1,2\n", "t.csv");
  REQUIRE(table);
  REQUIRE(table->rows.size() == 2);
  CHECK(table->rows[0].cells.size() == 1000);
  CHECK(table->rows[1].cells == std::vector<std::string>{"1", "2"});
  CHECK(parse_csv(commas, "t.csv").error().found == "a thousand columns or more");
}

TEST_CASE("of any number of warnings the first are told and all are counted", "[core][property]") {
  Warnings warnings;
  for (int i = 0; i < 5000; ++i) warnings.push_back({{"t.csv", i + 1, 1}, "this", "that", {}});
  CHECK(warnings.size() == 5000);
  CHECK(warnings.told().size() == Warnings::most_told);
  CHECK(warnings.told().back().where.line == static_cast<int>(Warnings::most_told));
  CHECK(warnings.first(3).size() == 3);
}

TEST_CASE("tables parted or written otherwise are refused by what they are", "[core][edge]") {
  const auto said = [](const std::string& text) {
    const auto table = parse_csv(text, "t.csv");
    return table ? std::string() : table.error().to_line();
  };
  CHECK(said("time_utc;mhz;tx\n2027;14,1;x\n").find("columns parted by semicolons") != std::string::npos);
  CHECK(said("time_utc;mhz;tx\n").find("save it again as CSV with commas") != std::string::npos);
  CHECK(said("time_utc\tmhz\n").find("columns parted by tabs") != std::string::npos);
  for (const auto& wide : {std::string("\xff\xfe"
                                       "a\0,\0",
                                       6),
                           std::string("\xfe\xff\0a\0,", 6), std::string("a\0,\0b\0", 6)})
    CHECK(said(wide).find("found text in UTF-16; expected text in UTF-8; save it again") !=
          std::string::npos);
  CHECK(said("a;b,c\n1,2\n").empty());  // there are commas
  CHECK(said("name\n1\n").empty());
}
