// Logs as they are written, and as they are broken.
#include "skerry/after/adif.hpp"

#include "check.hpp"
#include "skerry/geodesy/land.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/geodesy/region.hpp"

using namespace skerry;
using namespace skerry::after;

// Call signs here begin with Q: no series of call signs does (ITU Radio Regulations, Appendix 42, from
// memory).

namespace {

Log log_of(const std::string& text) {
  const auto adif = parse_adif(text, "t.adi");
  REQUIRE(adif);
  return contacts_of(*adif, "t.adi");
}

const std::string good =
    "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0239<BAND:3>12M<MODE:2>CW<GRIDSQUARE:4>MK80<EOR>\n";

}  // namespace

TEST_CASE("fields are taken by their length in bytes, in any case, with header, types and text between",
          "[after][known]") {
  // Source: ADIF 3, the .adi form (from memory): "<" name ":" length [":" type] ">" data, EOH and EOR.
  const auto adif = parse_adif(
      "A header with <a stray bracket and <fields:3>abc\n<adif_ver:5>3.1.4 <eoh>\n"
      "<call:6:S>QQ1AAA text that is passed over <Comment:9>a<EO>b<c> "
      "<NAME:6>J\xC3\xB6rg!<qso_date:8:d>20270213\n"
      "<EOR><CALL:6>QQ2BBB<eor>\n",
      "t.adi");
  REQUIRE(adif);
  CHECK(adif->warnings.empty());
  REQUIRE(adif->records.size() == 2);
  const auto& fields = adif->records[0].fields;
  CHECK(fields.at("CALL") == "QQ1AAA");
  CHECK(fields.at("COMMENT") == "a<EO>b<c>");
  CHECK(fields.at("NAME") == "J\xC3\xB6rg!");
  CHECK(fields.at("QSO_DATE") == "20270213");
  CHECK(adif->records[0].line == 3);
  CHECK(adif->records[1].fields.at("CALL") == "QQ2BBB");
  // No header where the file begins with a tag.
  CHECK(parse_adif(good, "t.adi")->records.size() == 1);
}

TEST_CASE("a broken record is left out with its place, and reading goes on", "[after][edge]") {
  for (const char* broken : {"<CALL:x>QQ1AAA<EOR>", "<CALL>QQ1AAA<EOR>", "<CALL:-1>Q<EOR>", "<CALL:>Q<EOR>",
                             "<CALL:60>QQ1AAA<EOR>", "<CALL:9999999999>QQ1AAA<EOR>"}) {
    CAPTURE(broken);
    const auto adif = parse_adif(good + broken + "\n" + good, "t.adi");
    REQUIRE(adif);
    CHECK(adif->records.size() == 2);
    REQUIRE(adif->warnings.size() == 1);
    CHECK(adif->warnings[0].where.line == 2);
    CHECK(adif->warnings[0].where.column == 1);
  }
  // A length past the end takes the last record with it.
  const auto cut = parse_adif(good + "<CALL:6>QQ1AAA<BAND:3>20", "t.adi");
  REQUIRE(cut);
  CHECK(cut->records.size() == 1);
  CHECK(cut->warnings.size() == 1);
  const auto unfinished = parse_adif(good + "<CALL:6>QQ1AAA<BAND:3>20m", "t.adi");
  REQUIRE(unfinished);
  CHECK(unfinished->warnings.at(0).found == "a last record without <EOR>");
  for (const char* nothing : {"", "no log at all", "<", "<<<<", "< \n >"}) {
    CAPTURE(nothing);
    CHECK_FALSE(parse_adif(nothing, "t.adi"));
  }
}

TEST_CASE("the length decides what is data, also where the data look like the end of a record",
          "[after][regression]") {
  const std::string said = "read me <EOR> and <eor>";
  const auto adif = parse_adif("<CALL:6>QQ1AAA<COMMENT:" + std::to_string(said.size()) + ">" + said +
                                   "\n <BAND:3>20m<EOR>\n" + good + "<NOTES:5><EOR><EOR>\n",
                               "t.adi");
  REQUIRE(adif);
  CHECK(adif->warnings.empty());
  REQUIRE(adif->records.size() == 3);
  CHECK(adif->records[0].fields.at("COMMENT") == said);
  CHECK(adif->records[0].fields.at("BAND") == "20m");
  CHECK(adif->records[2].fields.at("NOTES") == "<EOR>");
  // A length that ends amid the next record is wrong: one record is lost, not two.
  const auto wrong = parse_adif("<CALL:6>QQ1AAA<COMMENT:20>hello<EOR>\n" + good, "t.adi");
  REQUIRE(wrong);
  CHECK(wrong->records.size() == 1);
  CHECK(wrong->warnings.at(0).found == "<COMMENT:20> that reaches into the next record");
}

TEST_CASE("twice the log costs twice the work, whatever it holds", "[after][regression]") {
  const auto many = [](const std::string& piece, std::size_t count) {
    std::string out;
    out.reserve(piece.size() * count);
    for (std::size_t i = 0; i < count; ++i) out += piece;
    return out;
  };
  // Brackets alone; broken fields without a line's end; lengths to the end of everything; a long header; blanks.
  for (const std::string piece :
       {"<", "< ", "<A:x>", "<A:x><EOR>", "<A:50000>x<EOR>", "<A:50000>x", "<A:0>", "<A:1>x<EOR>", "<A:9>",
        "x", "<A:3>   ", "\n", "<CALL:6>QQ1AAA<EOR>\n", "<B:8><EOR> x<C>", "<EOR>", "<EOH>", ">"}) {
    for (const std::string tail : {"", "<EOR>", "                    x"}) {
      CAPTURE(piece, tail);
      const auto cost = [&](std::size_t count) {
        const auto adif = parse_adif("<A:1>x<EOR>" + many(piece, count) + many(tail, count), "t.adi");
        REQUIRE(adif);
        return adif->looked_at;
      };
      const auto once = cost(20000);
      CHECK(cost(40000) <= 2 * once + once / 20 + 1000);
      CHECK(once <= 20 * 20000 * (piece.size() + tail.size()) + 1000);
    }
  }
}

TEST_CASE("a record of more fields than the format has is left out", "[after][edge]") {
  std::string text = good;
  for (int i = 0; i < 2000; ++i) text += "<F" + std::to_string(i) + ":1>x";
  const auto adif = parse_adif(text + "<EOR>\n" + good, "t.adi");
  REQUIRE(adif);
  CHECK(adif->records.size() == 2);
  CHECK(adif->warnings.at(0).found == "a record of over 1000 fields");
}

TEST_CASE("contacts have time, band, mode, reports and the place of their square", "[after][known]") {
  const auto log = log_of(
      "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:6>023959<BAND:3>12m<FREQ:6>14.074<MODE:4>MFSK<SUBMODE:3>FT4"
      "<GRIDSQUARE:6>JN18ev<RST_SENT:3>-07<RST_RCVD:4>R+12<MY_GRIDSQUARE:6>MH10rh<EOR>"
      "<CALL:6>QQ1AAB<QSO_DATE:8>20270212<TIME_ON:4>2359<BAND:3>40M<MODE:2>CW<DXCC:3>339<RST_SENT:3>559<RST_"
      "RCVD:3>"
      "599<EOR>");
  REQUIRE(log.warnings.size() == 1);  // a frequency outside the band that is named
  CHECK(log.warnings[0].found == "BAND '12m', FREQ '14.074'");
  CHECK(log.warnings[0].mend == "taken for 20m");
  REQUIRE(log.contacts.size() == 2);
  const auto& first = log.contacts[0];  // by time
  CHECK(to_iso(first.time) == "2027-02-12T23:59:00Z");
  CHECK(first.band == "40m");
  CHECK(first.mode == "cw");
  CHECK(first.entity == "Japan");
  CHECK(first.within_km == 900);
  CHECK(first.sent_s == 5);
  CHECK_FALSE(first.received_s);  // 599 says nothing
  CHECK_FALSE(first.sent_db);
  const auto& second = log.contacts[1];
  CHECK(to_iso(second.time) == "2027-02-13T02:39:59Z");
  CHECK(second.band == "20m");  // the frequency goes before the band
  CHECK(second.mode == "ft4");
  CHECK(second.within_km == 0);
  // Source: IARU locator JN18ev: 2 deg 20' to 2 deg 25' E, 48 deg 52.5' to 48 deg 55' N.
  CHECK(second.at->lat_deg == Approx(48.8958).margin(0.001));
  CHECK(second.at->lon_deg == Approx(2.375).margin(0.001));
  CHECK(second.sent_db == -7);
  CHECK(second.received_db == 12);
  CHECK(second.my_place.has_value());
}

TEST_CASE("records without time or band are left out, those without a place are kept", "[after][edge]") {
  const auto log =
      log_of(good + "<CALL:6>QQ1AAA<QSO_DATE:8>20270230<TIME_ON:4>0239<BAND:3>12m<EOR>\n" +
             "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>2460<BAND:3>12m<EOR>\n" +
             "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0239<BAND:2>4m<EOR>\n" +
             "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0239<FREQ:5>7.030<MODE:4>WHAT<EOR>\n" +
             "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0239<BAND:3>20m<GRIDSQUARE:4>ZZ99<COUNTRY:6>"
             "france<EOR>\n");
  REQUIRE(log.contacts.size() == 3);
  REQUIRE(log.warnings.size() == 5);
  CHECK(log.warnings[0].found == "MODE 'WHAT'");
  CHECK(log.warnings[1].where.line == 2);
  CHECK(log.warnings[4].found == "GRIDSQUARE 'ZZ99'");
  CHECK(log.contacts[1].band == "40m");
  CHECK_FALSE(log.contacts[1].at);
  CHECK(log.contacts[1].mode.empty());
  CHECK(log.contacts[2].entity == "France");
}

TEST_CASE("what a log cannot mean is said, and what is no contact is left out", "[after][edge]") {
  const std::string head = "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0239";
  struct Row {
    const char* record;
    std::size_t contacts;
    const char* says;
  };
  // Source: the format's list of QSO_COMPLETE (Y, N, NIL, ?), from memory.
  for (const auto& row : {Row{"<BAND:3>40m<FREQ:6>14.060<MODE:2>CW", 1, "taken for 20m"},
                          {"<BAND:2>6m<FREQ:6>14.060<MODE:2>CW", 1, "BAND '6m'"},
                          {"<BAND:3>20m<FREQ:5>14060<MODE:2>CW", 1, "taken by its band alone"},
                          {"<BAND:3>20m<MODE:7>SMOKING", 1, "MODE 'SMOKING'"},
                          {"<BAND:3>20m<MODE:4>MFSK<SUBMODE:5>SMOKE", 1, "SUBMODE 'SMOKE'"},
                          {"<BAND:3>20m<MODE:2>CW<QSO_COMPLETE:1>N", 0, "QSO_COMPLETE 'N'"},
                          {"<BAND:3>20m<MODE:2>CW<QSO_COMPLETE:3>NIL", 0, "QSO_COMPLETE 'NIL'"},
                          {"<BAND:3>20m<MODE:2>CW<QSO_COMPLETE:1>?", 1, nullptr},
                          {"<BAND:3>20m<MODE:2>CW<QSO_COMPLETE:1>Y", 1, nullptr},
                          {"<BAND:3>20m<FREQ:5>0.000<MODE:2>CW", 1, nullptr}}) {
    CAPTURE(row.record);
    const auto log = log_of(head + row.record + "<EOR>");
    CHECK(log.contacts.size() == row.contacts);
    REQUIRE(log.warnings.size() == (row.says == nullptr ? 0U : 1U));
    if (row.says == nullptr) continue;
    CAPTURE(log.warnings[0].to_line());
    CHECK(log.warnings[0].to_line().find(row.says) != std::string::npos);
  }
  // An unknown mode of many records is told once.
  std::string many;
  for (int i = 0; i < 12; ++i)
    many += "<CALL:6>QQ1AA" + std::string(1, static_cast<char>('A' + i)) +
            "<QSO_DATE:8>20270213<TIME_ON:4>0239<BAND:3>20m<MODE:4>WHAT<EOR>";
  const auto log = log_of(many);
  CHECK(log.contacts.size() == 12);
  REQUIRE(log.warnings.size() == 1);
  CHECK(log.warnings[0].found == "MODE 'WHAT', in 12 records");
}

TEST_CASE("a contact that stands twice counts once", "[after][edge]") {
  const auto record = [](const char* call, const char* time, const char* band) {
    return std::string("<CALL:6>") + call + "<QSO_DATE:8>20270213<TIME_ON:4>" + time + "<BAND:3>" + band +
           "<MODE:2>CW<EOR>\n";
  };
  const auto log = log_of(record("QQ1AAA", "0239", "20m") + record("QQ1AAA", "0239", "20m") +
                          record("qq1aaa", "0242", "20m") + record("QQ1AAA", "0240", "40m") +
                          record("QQ1AAB", "0239", "20m") + record("QQ1AAA", "0400", "20m"));
  CHECK(log.contacts.size() == 4);
  REQUIRE(log.warnings.size() == 2);
  CHECK(log.warnings[0].found == "the contact of line 1 once more");
  CHECK(log.warnings[0].where.line == 2);
  CHECK(log.warnings[1].where.line == 3);
  // Without a call only the same record is the same contact.
  const std::string nobody = "<QSO_DATE:8>20270213<TIME_ON:4>0239<BAND:3>20m<MODE:2>CW";
  CHECK(log_of(nobody + "<EOR>" + nobody + "<EOR>").contacts.size() == 1);
  CHECK(log_of(nobody + "<EOR>" + nobody + "<GRIDSQUARE:4>JO01<EOR>").contacts.size() == 2);
}

TEST_CASE("no message about a log names anybody", "[after][property]") {
  // Lengths that reach too far or not far enough, tags that hold what should stand behind them, one value in
  // another's field.
  for (const char* broken :
       {"<CALL:QQ1AAA><BAND:3>20m<EOR>", "<CALL QQ1AAA><BAND:3>20m<EOR>", "<QQ1AAA><BAND:3>20m<EOR>",
        "<QQ1AAA:6><BAND:3>20m<EOR>", "<CALL:x>QQ1AAA<BAND:3>20m<EOR>", "<CALL:6:QQ1AAA<BAND:3>20m<EOR>",
        "<QSO_DATE:35>20270213<CALL:6>QQ1AAA<BAND:3>20m<EOR>",
        "<TIME_ON:30>0930<CALL:6>QQ1AAA<BAND:3>20m<EOR>",
        "<QSO_DATE:8>20270213<TIME_ON:4>0930<BAND:20>21m<CALL:6>QQ1AAA<EOR>",
        "<QSO_DATE:8>20270213<TIME_ON:4>0930<BAND:3>20m<MODE:20>CW<CALL:6>QQ1AAA<EOR>",
        "<QSO_DATE:8>20270213<TIME_ON:4>0930<BAND:3>20m<GRIDSQUARE:24>JO<CALL:6>QQ1AAA<EOR>",
        "<CALL:6>QQ1AAA<QSO_DATE:6>QQ1AAA<TIME_ON:4>0930<BAND:3>20m<EOR>",
        "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0930<BAND:6>qq1aaa<EOR>",
        "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0930<BAND:3>20m<MODE:6>QQ1AAA<EOR>",
        "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0930<BAND:3>20m<GRIDSQUARE:6>QQ1AAA<EOR>",
        "<OPERATOR:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:6>QQ1AAA<BAND:3>20m<EOR>",
        "<CALL:999>QQ1AAA<BAND:3>20m<EOR>"}) {
    CAPTURE(broken);
    const auto adif = parse_adif(std::string(broken) + "\n" + good, "t.adi");
    REQUIRE(adif);
    const auto log = contacts_of(*adif, "t.adi");
    CHECK_FALSE(log.warnings.empty());
    for (const auto& warning : log.warnings.told()) {
      CAPTURE(warning.to_line());
      CHECK(warning.to_line().find("QQ1AAA") == std::string::npos);
      CHECK(warning.to_line().find("qq1aaa") == std::string::npos);
    }
    for (const auto& contact : log.contacts) CHECK(contact.mode_as_told.find("<CALL") == std::string::npos);
  }
}

TEST_CASE("a log of another encoding, or without a record, is refused", "[after][edge]") {
  CHECK_FALSE(parse_adif("<ADX>\n<HEADER/></ADX>", "t.adx"));
  const auto wide = parse_adif(std::string("\xff\xfe<\0C\0", 6), "t.adi");
  REQUIRE_FALSE(wide);
  CHECK(wide.error().found == "text in UTF-16");
}

TEST_CASE("entities have numbers of their own, and the places of larger lands lie on land",
          "[after][known]") {
  // Source: the amateur list of country entities (from memory), a few that every log has.
  CHECK(find_entity(291)->name == "United States");
  CHECK(find_entity(230)->name == "Germany");
  CHECK(find_entity(339)->name == "Japan");
  CHECK(find_entity(1)->name == "Canada");
  CHECK(find_entity(150)->name == "Australia");
  CHECK(find_entity(462)->name == "South Africa");
  CHECK(find_entity("fed. rep. of germany")->number == 230);
  CHECK(find_entity("Nowhere") == nullptr);
  CHECK(find_entity(9999) == nullptr);
  CHECK(entities().size() == 316);
  int large = 0, at_sea = 0;
  for (const auto& e : entities()) {
    CAPTURE(e.name);
    CHECK(e.within_km > 0);
    CHECK(e.within_km <= 3000);
    if (e.within_km < 250) continue;
    ++large;
    // Source: Natural Earth's land (data/land); groups of islands have sea in their middle.
    at_sea += !geodesy::is_land(e.at);
  }
  CAPTURE(large, at_sea);
  CHECK(large > 80);
  CHECK(at_sea < large / 4);
  // Each lies in the region of people that it should.
  for (const auto& [number, region] :
       {std::pair{230, "western-europe"}, std::pair{339, "japan"}, std::pair{291, "eastern-north-america"},
        std::pair{462, "southern-africa"}}) {
    CAPTURE(number, region);
    CHECK(geodesy::contains(*geodesy::preset_region(region, {}), find_entity(number)->at));
  }
}
