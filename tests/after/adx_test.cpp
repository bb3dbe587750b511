// The XML form of a log, and positions in either form.
#include "check.hpp"
#include "skerry/after/adif.hpp"

using namespace skerry;
using namespace skerry::after;

// Call signs here begin with Q: no series of call signs does (ITU Radio Regulations, Appendix 42, from memory).

namespace {

const std::string head =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<ADX>\n<HEADER><!-- made <here> -->"
    "<ADIF_VER>3.1.4</ADIF_VER><USERDEF FIELDID=\"1\" TYPE=\"N\">EPC</USERDEF></HEADER>\n<RECORDS>\n";
const std::string tail = "</RECORDS>\n</ADX>\n";
const std::string good =
    "<RECORD><CALL>QQ1AAA</CALL><QSO_DATE>20270213</QSO_DATE><TIME_ON>0239</TIME_ON><BAND>12M</BAND>"
    "<MODE>CW</MODE><GRIDSQUARE>MK80</GRIDSQUARE></RECORD>\n";

Result<AdifFile> read(const std::string& records) {
  return parse_adif(head + records + tail, "t.adx");
}

Contact placed(const std::string& fields, std::size_t warnings = 0) {
  const auto adif = read(
      "<RECORD><CALL>QQ1AAA</CALL><QSO_DATE>20270213</QSO_DATE><TIME_ON>0239</TIME_ON><BAND>20m"
      "</BAND><MODE>CW</MODE>" +
      fields + "</RECORD>");
  REQUIRE(adif);
  const auto log = contacts_of(*adif, "t.adx");
  CHECK(log.warnings.size() == warnings);
  REQUIRE(log.contacts.size() == 1);
  return log.contacts[0];
}

}  // namespace

TEST_CASE("a log in XML says what the same log says in ADI", "[after][known]") {
  // Source: ADIF 3.1.4, the .adx form (from memory).
  const auto adx = read(
      good +
      "<RECORD>\n <call>QQ2BBB</call>\n <NAME>J&#246;rg &amp; <![CDATA[<EOR> & so]]> &#x1F30D;</NAME><COMMENT/>\n"
      " <USERDEF FIELDNAME=\"SweaterSize\">M</USERDEF><APP PROGRAMID='MONOLOG' FIELDNAME=\"Compression\" TYPE = "
      "\"s\">off</APP>\n <!-- a note --><QSO_DATE>20270214</QSO_DATE >\n</RECORD>\n");
  REQUIRE(adx);
  CHECK(adx->warnings.empty());
  REQUIRE(adx->records.size() == 2);
  const auto& fields = adx->records[1].fields;
  CHECK(fields.at("CALL") == "QQ2BBB");
  CHECK(fields.at("NAME") == "J\xC3\xB6rg & <EOR> & so \xF0\x9F\x8C\x8D");
  CHECK(fields.at("COMMENT").empty());
  CHECK(fields.at("SWEATERSIZE") == "M");
  CHECK(fields.at("APP_MONOLOG_COMPRESSION") == "off");
  CHECK(adx->records[0].line == 5);
  CHECK(adx->records[1].line == 6);
  const auto adi = parse_adif(
      "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0239<BAND:3>12M<MODE:2>CW<GRIDSQUARE:4>MK80<EOR>\n",
      "t.adi");
  REQUIRE(adi);
  CHECK(adi->records[0].fields == adx->records[0].fields);
  CHECK(parse_adif("\xEF\xBB\xBF<ADX><RECORDS>" + good + tail, "t.adx")->records.size() == 1);
}

TEST_CASE("a broken record of XML is left out with its place, and reading goes on", "[after][edge]") {
  for (const char* broken :
       {"<RECORD><CALL>QQ1AAB</CALL", "<RECORD><CALL>QQ1AAB</BAND></RECORD>",
        "<RECORD><CALL>&call;</CALL></RECORD>", "<RECORD><CALL>&#0;</CALL></RECORD>",
        "<RECORD><CALL>&#xD800;</CALL></RECORD>", "<RECORD><CALL>&#x;</CALL></RECORD>",
        "<RECORD><CALL>a & b</CALL></RECORD>", "<RECORD><CALL><B>x</B></CALL></RECORD>",
        "<RECORD>QQ1AAB</RECORD>", "<RECORD><CALL><!DOCTYPE x></CALL></RECORD>", "<RECORD><1 2></RECORD>",
        "<RECORD><CALL a=b>x</CALL></RECORD>", "<RECORD><CALL a=\"b>x</CALL></RECORD>", "<RECORD><></RECORD>",
        "<QSO></QSO><RECORD></RECORD>"}) {
    CAPTURE(broken);
    const auto adx = read(good + broken + "\n" + good);
    REQUIRE(adx);
    CHECK(adx->records.size() == 2);
    REQUIRE(adx->warnings.size() == 1);
    const auto said = adx->warnings[0].to_line();
    CAPTURE(said);
    CHECK((adx->warnings[0].where.line == 6 || adx->warnings[0].where.line == 7));
    CHECK(said.find("QQ1AAB") == std::string::npos);
  }
  std::string many = "<RECORD>";
  for (int i = 0; i < 1001; ++i) many += "<F" + std::to_string(i) + ">x</F" + std::to_string(i) + ">";
  CHECK(read(good + many + "</RECORD>" + good)->records.size() == 2);
  // Cut off, also inside a comment: what was whole stays.
  for (const char* cut : {"", "<RECORD><CALL>QQ", "<RECORD><!-- ", "<RECORD><CALL><![CDATA[x"}) {
    CAPTURE(cut);
    const auto adx = parse_adif(head + good + cut, "t.adx");
    REQUIRE(adx);
    CHECK(adx->records.size() == 1);
    CHECK_FALSE(adx->warnings.empty());
  }
}

TEST_CASE("XML that is no log, or that could reach out or grow, is refused", "[after][edge]") {
  for (const char* text :
       {"<?xml version=\"1.0\"?><!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/passwd\">]><ADX/>",
        "<?xml version=\"1.0\"?><html></html>", "<ADX>\n<HEADER/></ADX>", "<ADX>words</ADX>", "<ADX></BDX>",
        "<?xml version=\"1.0\"", "<ADX><HEADER><A>&b;</A></HEADER></ADX>",
        "<ADX><A><B><C><D><E><F/></E></D></C></B></A></ADX>"}) {
    CAPTURE(text);
    const auto adx = parse_adif(text, "t.adx");
    REQUIRE_FALSE(adx);
    CAPTURE(adx.error().to_line());
    CHECK(adx.error().where.file == "t.adx");
    CHECK_FALSE(adx.error().accepted.empty());
  }
  // A million levels end at the seventh.
  std::string deep = "<ADX>";
  for (int i = 0; i < 1000000; ++i) deep += "<A>";
  CHECK(parse_adif(deep, "t.adx").error().found == "tags nested more than 6 deep");
}

TEST_CASE("twice the log in XML costs twice the work, whatever it holds", "[after][regression]") {
  for (const std::string piece :
       {"<RECORD>", "<RECORD><", "<RECORD><A>&", "<RECORD><!--", "<RECORD><A><![CDATA[", "<RECORD><A b=\"",
        "<", "&", "</RECORD>", "<A/>", "<RECORD><A>x</B></RECORD>", "\n", "<?x "}) {
    CAPTURE(piece);
    const auto cost = [&](int count) {
      std::string text = head + good;
      for (int i = 0; i < count; ++i) text += piece;
      const auto adx = parse_adif(text + tail, "t.adx");
      REQUIRE(adx);
      CHECK(adx->records.size() >= 1);
      return adx->looked_at;
    };
    const auto once = cost(20000);
    CHECK(cost(40000) <= 2 * once + once / 20 + 1000);
    CHECK(once <= 20 * 20000 * piece.size() + 10000);
  }
}

TEST_CASE("positions in degrees and minutes place both stations", "[after][known]") {
  // Source: ADIF 3, type Location, "XDDD MM.MMM" (from memory).
  const auto by_position = placed(
      "<LAT>N048 53.700</LAT><LON>E002 22.500</LON><MY_LAT>S019 42.000</MY_LAT><MY_LON>E063 "
      "25.800</MY_LON><DXCC>339</DXCC>");
  CHECK(by_position.at->lat_deg == Approx(48.895).margin(1e-9));
  CHECK(by_position.at->lon_deg == Approx(2.375).margin(1e-9));
  CHECK(by_position.within_km == 0);
  CHECK(by_position.entity.empty());
  CHECK(by_position.my_place->lat_deg == Approx(-19.7).margin(1e-9));
  CHECK(by_position.my_place->lon_deg == Approx(63.43).margin(1e-9));
  CHECK(placed("<LAT>S033 51.000</LAT><LON>W151 12.000</LON>").at->lon_deg == Approx(-151.2).margin(1e-9));
}

TEST_CASE("a position refines its locator, and gives way to one that it does not lie in", "[after][edge]") {
  const std::string position = "<LAT>N048 53.700</LAT><LON>E002 22.500</LON>";
  CHECK(placed(position + "<GRIDSQUARE>jn18</GRIDSQUARE>").at->lat_deg == Approx(48.895).margin(1e-9));
  // Programs write the middle of a country beside the locator that was sent.
  const auto other = placed(position + "<GRIDSQUARE>JO22</GRIDSQUARE>", 1);
  CHECK(other.at->lat_deg == Approx(52.5).margin(1e-9));
  CHECK(
      placed("<MY_LAT>N048 53.700</MY_LAT><MY_LON>E002 22.500</MY_LON><MY_GRIDSQUARE>JO22</MY_GRIDSQUARE>", 1)
          .my_place->lat_deg == Approx(52.5).margin(1e-9));
  CHECK(placed(position + "<GRIDSQUARE>ZZ99</GRIDSQUARE>", 1).at->lat_deg == Approx(48.895).margin(1e-9));
  for (const char* wrong :
       {"<LAT>N048 53.700</LAT>", "<LAT>48.895</LAT><LON>2.375</LON>",
        "<LAT>N048 60.000</LAT><LON>E002 22.500</LON>", "<LAT>N091 00.000</LAT><LON>E002 22.500</LON>",
        "<LAT>E048 53.700</LAT><LON>N002 22.500</LON>", "<LAT>N04853.700 </LAT><LON>E002 22.500</LON>",
        "<LAT>N048 5-.700</LAT><LON>E002 22.500</LON>"}) {
    CAPTURE(wrong);
    const auto c = placed(std::string(wrong) + "<DXCC>339</DXCC>", 1);
    CHECK(c.entity == "Japan");
  }
}
