#include "skerry/core/text.hpp"

#include <vector>

#include "check.hpp"
#include "skerry/core/result.hpp"

using namespace skerry;

TEST_CASE("the nearest key is the one a slip of the finger away", "[core][known]") {
  const std::vector<std::string> keys{"mass_g", "height_m", "conductive", "usable_m"};
  CHECK(nearest("mas_g", keys) == "mass_g");
  CHECK(nearest("hieght_m", keys) == "height_m");  // neighbours swapped: one step (Damerau 1964)
  CHECK(nearest("CONDUCTIVE", keys) == "conductive");
  CHECK_FALSE(nearest("colour", keys).has_value());
  CHECK_FALSE(nearest("", keys).has_value());
  CHECK_FALSE(nearest(std::string(100000, 'x'), keys).has_value());
  CHECK(did_you_mean("masss_g", keys) == "did you mean 'mass_g'?");
}

TEST_CASE("numbers are read whole or not at all", "[core][edge]") {
  CHECK(to_number("14.06") == 14.06);
  CHECK(to_number("-2") == -2.0);
  CHECK(to_number("+2e1") == 20.0);
  for (const char* bad : {"", " ", "1,5", "14.06 ", "nan", "inf", "1e999", "0x10", "--1", "abc"}) {
    CAPTURE(bad);
    CHECK_FALSE(to_number(bad).has_value());
  }
}

TEST_CASE("an error is one line whatever stands in it", "[core][edge]") {
  const Error error{{"a\nb.toml", 3, 5}, "lat\titude\r\n95", "-90 to 90", "check the sign"};
  CHECK(error.to_line() == "a?b.toml:3:5: found lat?itude??95; expected -90 to 90; check the sign");
  CHECK(one_line("a\x1b[31mred", 60) == "a?[31mred");
  CHECK(one_line(std::string(100, 'x'), 10) == "xxxxxxxxxx...");
  CHECK(one_line("aaaaaaaaa\xc3\xa9", 10) == "aaaaaaaaa...");  // a two-byte letter is not cut in two
}

TEST_CASE("what leaves the program steers nothing and can be read again", "[core][edge]") {
  CHECK(written_out("plain, gr\xc3\xb6\xc3\x9f"
                    "er\nnext\r\n") ==
        "plain, gr\xc3\xb6\xc3\x9f"
        "er\nnext\r\n");
  CHECK(written_out("a\x1b[2Jb\rc\td\x7f") == "a\\u001b[2Jb\\u000dc\\u0009d\\u007f");
  CHECK(written_out("\xc2\x9b"
                    "31m \xe2\x80\xae"
                    "gnp \xef\xbb\xbf") == "\\u009b31m \\u202egnp \\ufeff");
  CHECK(written_out("\xff\xc3(\xed\xa0\x80") == "\\xff\\xc3(\\xed\\xa0\\x80");
  CHECK(written_out("\xe2\x80") == "\\xe2\\x80");  // cut short
  // The program's own colours, and no other sequence that begins like them.
  const std::string colours = "\x1b[48;5;17;38;5;255m7\x1b[0m";
  CHECK(written_out(colours, true) == colours);
  CHECK(written_out(colours).find('\x1b') == std::string::npos);
  for (const char* other :
       {"\x1b[0J", "\x1b[48;5;17;38;5;2550m", "\x1b[48;5;1;38;5;", "\x1b[8m", "\x1b[48;5;17m"})
    CHECK(written_out(other, true).find('\x1b') == std::string::npos);
}

TEST_CASE("text in UTF-16 is known by its mark or its zeros", "[core][edge]") {
  for (const auto& wide : {std::string("\xff\xfe"
                                       "a\0",
                                       4),
                           std::string("\xfe\xff\0a", 4), std::string("a\0b\0", 4), std::string("\0a\0b", 4)})
    CHECK_FALSE(check_encoding(wide, {}).has_value());
  for (const auto& other : {std::string(), std::string("a"), std::string("\xef\xbb\xbfname"),
                            std::string("\0\0\0\0", 4), std::string("\xff\xff")})
    CHECK(check_encoding(other, {}).has_value());
}

TEST_CASE("characters are taken as their standard has them", "[core][known]") {
  // Source: RFC 3629, section 7 (examples) and section 4 (what is no UTF-8).
  struct Row {
    const char* bytes;
    char32_t code;
    std::size_t length;
  };
  for (const auto& row : {Row{"A", 0x41, 1}, Row{"\xE2\x89\xA2", 0x2262, 3}, Row{"\xCE\x91", 0x391, 2},
                          Row{"\xED\x95\x9C", 0xD55C, 3}, Row{"\xF0\xA3\x8E\xB4", 0x233B4, 4},
                          Row{"\xEF\xBB\xBF", 0xFEFF, 3}}) {
    std::string_view text = row.bytes;
    const std::size_t before = text.size();
    CHECK(take_character(text) == row.code);
    CHECK(before - text.size() == row.length);
  }
  for (const char* broken : {"\xC0\x80", "\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82", "\xFF"}) {
    std::string_view text = broken;
    const std::size_t before = text.size();
    CHECK_FALSE(take_character(text));
    CHECK(before - text.size() == 1);
  }
}

TEST_CASE("what steers a screen is not shown", "[core][edge]") {
  CHECK(one_line("a\xc2\x9b"
                 "31mb") == "a?31mb");  // CSI as one character
  CHECK(one_line("a\xe2\x80\xae"
                 "gpj.exe") == "a?gpj.exe");  // right-to-left override
  CHECK(one_line("\xff"
                 "a") == "?a");
  CHECK(one_line("\xd7\x90\xd7\x99") == "\xd7\x90\xd7\x99");  // letters that run to the left are letters
  // Source: Unicode Standard Annex 9, table of the explicit directional characters; ECMA-48 C0 and C1.
  for (const char32_t c : {0x00U, 0x1BU, 0x7FU, 0x9BU, 0x61CU, 0x200EU, 0x202AU, 0x202EU, 0x2066U, 0x2069U})
    CHECK(steers_screen(c));
  for (const char32_t c : {0x20U, 0x41U, 0xA0U, 0xE9U, 0x5D0U, 0x2027U, 0x2190U, 0x1F3DDU})
    CHECK_FALSE(steers_screen(c));
}
