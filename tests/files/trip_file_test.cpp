// What a trip file may say, and what is answered when it says something else.
#include "skerry/files/trip_file.hpp"

#include <algorithm>
#include <fstream>
#include <sstream>

#include "check.hpp"
#include "read_trip.hpp"
#include "skerry/kit/setup.hpp"

namespace {

using namespace skerry;
using namespace skerry::files;
using namespace skerry::kit;
using skerry::test::changed;
using skerry::test::no_files;
using skerry::test::read_well;
using skerry::test::trip_text;
using std::chrono::year;

std::string example(const std::string& name) {
  std::ifstream file(std::string(SKERRY_SOURCE_DIR) + "/examples/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

int line_of(const std::string& text, std::size_t at) {
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

}  // namespace

TEST_CASE("a trip file is read whole", "[kit][property]") {
  const Trip trip = read_well(trip_text);
  CHECK(trip.name == "Test island");
  CHECK(trip.first_day == year{2027} / 2 / 13);
  CHECK(trip.climate.day == year{2027} / 2 / 15);
  CHECK(trip.climate.r12 == 80);
  CHECK(trip.low_r12 < 80);
  CHECK(trip.high_r12 > 80);
  CHECK(trip.mass_limit_g == 4200);
  REQUIRE(trip.sites.size() == 1);
  CHECK(trip.sites[0].at == GeoPoint::at_deg(-19.70, 63.43));
  CHECK(trip.sites[0].zone.offset_s(start_of(trip.first_day)) ==
        4 * 3600);  // tz database: Mauritius keeps UTC+4
  CHECK(trip.sites[0].sea_azimuth_to_deg == 200);
  CHECK(trip.sites[0].environment == noise::Environment::quiet);
  REQUIRE(trip.sessions.size() == 1);
  CHECK(trip.sessions[0].start_minute == 360);
  CHECK(trip.sessions[0].end_minute == 540);
  CHECK(trip.sessions[0].days.size() == 1);
  REQUIRE(trip.targets.size() == 1);
  CHECK(trip.targets[0].weight == 3);
  CHECK(trip.targets[0].people.size() == 4);
  REQUIRE(trip.bands.size() == 2);
  CHECK(trip.bands[0].id == "40m");      // lowest first, whatever the order of the file
  CHECK(trip.bands[0].high_mhz == 7.2);  // Radio Regulations, Article 5: Region 1
  CHECK(trip.modes[0].id == "cw");
  CHECK(trip.rigs[0].transmit_a == 2.2);
  CHECK(trip.antennas[0].design.kind == antenna::Kind::end_fed_half_wave);
  CHECK(trip.antennas[0].design.transformer_ratio == 49);  // common practice for the kind
  CHECK(trip.antennas[0].design.bands_mhz.size() == 2);
  CHECK(trip.supports[0].usable_height_m() == 5.1);
  CHECK(trip.cables[0].item.mass_g == 184);  // 16 g/m of the type (handbook) and two plugs of 12 g
  CHECK_THAT(trip.batteries[0].watt_hours(), WithinAbs(38.4, 1e-9));
  CHECK(trip.bags[0].mass_limit_g == 8000);
  CHECK(trip.items[1].sharp);
  CHECK(trip.items[1].line == line_of(trip_text, std::string(trip_text).find("[[item]]\nid = \"guys\"")));
}

TEST_CASE("what a trip file leaves out has sensible values", "[kit][property]") {
  std::string text = changed(trip_text, "usable_m = 5.1\n", "");
  text = changed(text, "zone = \"Indian/Mauritius\"\n", "");
  text = changed(
      text, "[[session]]\nsite = \"summit\"\nfrom = \"06:00\"\nto = \"09:00\"\ndays = [2027-02-14]\n", "");
  text = changed(text, "r12 = 80\n", "");
  const Trip trip = read_well(text);
  CHECK_THAT(trip.supports[0].usable_height_m(), WithinAbs(5.1, 1e-9));  // common practice: 80 to 90 % of 6 m
  CHECK(trip.sites[0].zone.offset_s(start_of(trip.first_day)) == 4 * 3600);  // 63.43 E is nearest to 60 E
  REQUIRE(trip.sessions.size() == 1);
  CHECK(trip.sessions[0].end_minute - trip.sessions[0].start_minute == 1440);
  CHECK(trip.climate.r12 > 0);
  CHECK(trip.activity_source.kind == ionosphere::ActivitySource::Kind::forecast);
}

TEST_CASE("solar activity may be told in three indices", "[kit][known]") {
  // Source: SILSO, version 2 counts x 0.7 for maps of the old scale. Source: ITU-R P.371: 120 flux units are
  // R12 of about 71.
  CHECK_THAT(read_well(changed(trip_text, "r12 = 80", "ssn_v2 = 100")).climate.r12, WithinAbs(70.0, 1e-9));
  CHECK_THAT(read_well(changed(trip_text, "r12 = 80", "f107 = 120")).climate.r12, WithinAbs(71.2, 0.3));
}

TEST_CASE("a session may run past midnight", "[kit][edge]") {
  const Trip trip = read_well(
      changed(changed(trip_text, "from = \"06:00\"", "from = \"22:30\""), "to = \"09:00\"", "to = 01:15:00"));
  CHECK(trip.sessions[0].start_minute == 22 * 60 + 30);
  CHECK(trip.sessions[0].end_minute == 25 * 60 + 15);
}

TEST_CASE("antennas may be drawn wire by wire", "[kit][property]") {
  const Trip trip = read_well(
      changed(trip_text,
              "kind = \"end-fed-half-wave\"\nshapes = [\"inverted-v\"]\nwire_m = 20.4\nbands = [\"40m\", "
              "\"20m\"]\nsupports = [\"pole\"]\nneeds = [\"cord\"]\n",
              "bands = [\"20m\"]\nwire_mm2 = 0.5\nfeed = {wire = 2, at = 0}\nconductivity_s_per_m = 3e7\n"
              "[[antenna.wire]]\nfrom_m = [-4, 0, 2]\nto_m = [0, 0, 5]\n[[antenna.wire]]\nfrom_m = [0, 0, "
              "5]\nto_m = [4, 0, 2]\nradius_mm = 1\n"
              "[[antenna.load]]\nwire = 1\nat = 0.5\ninductance_uh = 2.5\ncoil_q = 150\n"
              "[[antenna.load]]\nwire = 2\nat = 0.25\ninductance_uh = 3\ncapacitance_pf = 42.5\nparallel = "
              "true\n"));
  REQUIRE(trip.antennas[0].wires);
  const auto& wires = *trip.antennas[0].wires;
  REQUIRE(wires.wires.size() == 2);
  CHECK_THAT(wires.wires[0].radius_mm, WithinAbs(0.399, 0.001));  // geometry: sqrt(0.5 / pi)
  CHECK(wires.wires[1].radius_mm == 1);
  CHECK(wires.wires[0].conductivity_s_per_m == 3e7);
  CHECK(wires.feed.wire == 2);
  REQUIRE(wires.loads.size() == 2);
  CHECK(wires.loads[0].inductance_uh == 2.5);
  CHECK(wires.loads[0].coil_q == 150);
  CHECK_FALSE(wires.loads[0].parallel);
  CHECK(wires.loads[1].wire == 2);
  CHECK(wires.loads[1].at == 0.25);
  CHECK(wires.loads[1].capacitance_pf == 42.5);
  CHECK(wires.loads[1].parallel);
}

TEST_CASE("regions may be places or files", "[kit][property]") {
  const FileReader files = [](const std::string& name, const Where& where) -> Result<std::string> {
    if (name != "mine.geojson") return no_files(name, where);
    return std::string(R"({"type":"Polygon","coordinates":[[[0,45],[10,45],[10,52],[0,52],[0,45]]]})");
  };
  const Trip drawn = read_well(
      changed(trip_text, "preset = \"western-europe\"", "file = \"mine.geojson\"\nid = \"mine\""), files);
  CHECK(drawn.targets[0].region.id == "mine");
  CHECK(drawn.targets[0].people.size() == 4);
  const Trip place =
      read_well(changed(trip_text, "preset = \"western-europe\"", "at = \"51.5,0.0\"\nname = \"home\""));
  REQUIRE(place.targets[0].people.size() == 1);
  CHECK(place.targets[0].people[0].where == GeoPoint::at_deg(51.5, 0));
  CHECK(place.targets[0].people[0].weight == 1);
  CHECK(place.targets[0].region.name == "home");
}

TEST_CASE("the starter is valid as it stands and leads to setups", "[kit][property]") {
  for (const auto at : {GeoPoint::at_deg(-19.7, 63.43), GeoPoint::at_deg(59.53, -1.63),
                        GeoPoint::at_deg(-31.55, 159.08), GeoPoint::at_deg(0, -179.9)}) {
    const Trip trip = read_well(starter("My \"own\" \\ island\n", at, year{2027} / 2 / 13));
    CHECK(trip.name == "My \"own\" \\ island");
    CHECK(std::abs(trip.sites[0].at.lat_deg - at.lat_deg) < 1e-4);
    // Legal times in February: Mauritius and Rodrigues +4, Britain 0, Lord Howe in summer time +11, and by
    // longitude where no zone is known to be near. Common knowledge.
    const double legal_h = at.lat_deg == -31.55 ? 11 : static_cast<double>(std::lround(at.lon_deg / 15));
    CHECK(trip.sites[0].zone.offset_s(start_of(trip.first_day)) == std::lround(legal_h * 3600));
    CHECK_FALSE(derive_setups(trip).possible.empty());
  }
  CHECK(read_well(starter("", GeoPoint::at_deg(0, 0), year{2050} / 12 / 30)).last_day ==
        year{2050} / 12 / 31);
  // Every kind of table is shown, in use or as a remark.
  const auto text = starter("x", GeoPoint::at_deg(0, 0), year{2027} / 2 / 13);
  for (const char* head : {"[trip]", "[[site]]", "[[session]]", "[[region]]", "[licence]", "[[rig]]",
                           "[[antenna]]", "[[antenna.wire]]", "[[support]]", "[[cable]]", "[[tuner]]",
                           "[[battery]]", "[[bag]]", "[[item]]", "[[mode]]"}) {
    CHECK(text.find(head) != std::string::npos);
  }
}

TEST_CASE("the starter writes the legal zone of the nearest place, and says when it can only guess",
          "[kit][regression]") {
  const auto madeira = starter("x", GeoPoint::at_deg(32.735, -16.928), year{2027} / 7 / 1);
  CHECK(madeira.find("zone = \"Atlantic/Madeira\"") != std::string::npos);
  const auto lonely = starter("x", GeoPoint::at_deg(-45, -120), year{2027} / 7 / 1);
  CHECK(lonely.find("zone = \"-08:00\"  # only a guess from longitude") != std::string::npos);
  // West Samoa and American Samoa, 24 h apart, 160 km from each other.
  const auto samoa = starter("x", GeoPoint::at_deg(-13.9, -171.5), year{2027} / 7 / 1);
  CHECK(samoa.find("zone = \"Pacific/Apia\"") != std::string::npos);
  CHECK(samoa.find("Pacific/Pago_Pago is") != std::string::npos);
  // Nothing that a bare summit may lack.
  CHECK(read_well(madeira).supports.size() == 1);
}

TEST_CASE("without a way down no time to leave is asked for", "[kit][edge]") {
  CHECK_FALSE(read_well(trip_text).sites[0].descent_minutes);
  const auto with = [](const char* line) {
    return read_well(changed(trip_text, "sea_from_m = 200", std::string(line) + "\nsea_from_m = 200"))
        .sites[0]
        .descent_minutes;
  };
  CHECK(with("descent_minutes = 0") == 0);
  CHECK(with("descent_minutes = 25") == 25);
  CHECK(with("daylight_margin_minutes = 30") == 0);
}

TEST_CASE("the example trips are valid and want a decision", "[kit][property]") {
  for (const char* name : {"rodrigues.toml", "fair_isle.toml", "lord_howe.toml"}) {
    CAPTURE(name);
    const Trip trip = read_well(example(name));
    double total = 0;
    for (const auto& x : trip.rigs) total += x.item.mass_g;
    for (const auto& x : trip.antennas) total += x.item.mass_g;
    for (const auto& x : trip.supports) total += x.item.mass_g;
    for (const auto& x : trip.cables) total += x.item.mass_g;
    for (const auto& x : trip.tuners) total += x.item.mass_g;
    for (const auto& x : trip.batteries) total += x.item.mass_g;
    for (const auto& x : trip.items) total += x.mass_g;
    CHECK(total > 1.5 * trip.mass_limit_g);
    CHECK(trip.supports.size() >= 2);
    CHECK(trip.antennas.size() >= 4);
    CHECK(trip.targets.size() >= 5);
    const auto setups = derive_setups(trip);
    CHECK(setups.possible.size() >= 20);
    CHECK(setups.possible.size() < 300);
  }
}

TEST_CASE("a file of antennas needs nothing else", "[kit][property]") {
  const auto antennas = read_antennas(
      "[[antenna]]\nkind = \"dipole\"\n[[antenna]]\nid = \"v\"\nkind = \"vertical-quarter\"\nradials = "
      "4\nsupports = [\"elsewhere\"]\n",
      "a.toml");
  REQUIRE(antennas);
  REQUIRE(antennas->size() == 2);
  CHECK((*antennas)[0].item.id == "antenna-1");
  CHECK((*antennas)[1].design.radials == 4);
  CHECK(read_antennas(trip_text, "trip.toml")->size() == 1);
  const auto none = read_antennas("[[antena]]\nkind = \"dipole\"\n", "a.toml");
  REQUIRE_FALSE(none);
  CHECK(none.error()[0].to_line().find("did you mean [[antenna]]") != std::string::npos);
  const auto bad = read_antennas(
      "[[antenna]]\nradials = 4\n[[antenna]]\nkind = \"dipole\"\n[[antenna.wire]]\nfrom_m = [0, 0, 1]\nto_m "
      "= [0, 0, 1]\n",
      "a.toml");
  REQUIRE_FALSE(bad);
  REQUIRE(bad.error().size() == 4);
  CHECK(bad.error()[0].to_line().find("a.toml:1:1: found [[antenna]] 'antenna-1' without kind") == 0);
}

TEST_CASE("modes are told by the first that decides, or by their shares", "[kit][known]") {
  auto trip = read_well(trip_text);
  REQUIRE(trip.modes.size() == 2);
  CHECK(trip.share_of(Id<noise::Mode>(0)) == 1);
  CHECK(trip.share_of(Id<noise::Mode>(1)) == 0);
  trip = read_well(
      skerry::test::changed(trip_text, "modes = [\"cw\", \"ssb\"]",
                            "modes = [{ name = \"cw\", share = 0.7 }, { name = \"phone\", share = 0.3 }]"));
  REQUIRE(trip.modes.size() == 2);
  CHECK(trip.modes[1].id == "ssb");
  CHECK(trip.share_of(Id<noise::Mode>(0)) == 0.7);
  CHECK(trip.share_of(Id<noise::Mode>(1)) == 0.3);
}

TEST_CASE("a session may count modes of its own, and a mode may send more or less than usual",
          "[kit][known]") {
  const auto text = changed(trip_text, "days = [2027-02-14]",
                            "modes = [\"phone\", \"cw\"]\n\n[[session]]\nfrom = \"10:00\"\nto = "
                            "\"11:00\"");
  const auto trip =
      read_well(changed(text, "[[rig]]", "[[mode]]\nname = \"phone\"\nsending = 0.1\n\n[[rig]]"));
  REQUIRE(trip.sessions.size() == 2);
  const Id<noise::Mode> cw(0), ssb(1);
  CHECK(trip.share_of(trip.sessions[0], cw) == 0);
  CHECK(trip.share_of(trip.sessions[0], ssb) == 1);
  CHECK(trip.share_of(trip.sessions[1], cw) == 1);  // as [licence] has it
  CHECK(trip.share_of(cw) == 1);
  CHECK(trip.modes[1].id == "ssb");
  CHECK(trip.modes[1].tx_share == 0.1);
  CHECK(trip.modes[1].duty == noise::find_mode("ssb", {})->duty);
  CHECK(trip.modes[0].tx_share == noise::find_mode("cw", {})->tx_share);
}

TEST_CASE("a rig tells what packs it takes and what it sends on them", "[kit][known]") {
  const auto plain = read_well(trip_text).rigs[0];
  CHECK_FALSE(plain.min_volts);
  CHECK(plain.switching);
  const auto rig =
      read_well(changed(trip_text, "tuner = false",
                        "volts = 12\nmin_volts = 9\nmax_volts = 15\nlow_power_w = 4\nsupply = \"linear\""))
          .rigs[0];
  CHECK(rig.min_volts == 9);
  CHECK(rig.max_volts == 15);
  CHECK(rig.low_power_w == 4);
  CHECK_FALSE(rig.switching);
}

TEST_CASE("packs charged by the Sun want a panel and its hours", "[kit][known]") {
  const auto trip =
      read_well(changed(changed(trip_text, "want_days_in_ten = 5", "charging = \"solar\"\nsolar_hours = 4.5"),
                        "sharp = true", "solar_watts = 10\ncount = 2"));
  CHECK(trip.charging == Charging::solar);
  CHECK(trip.solar_hours == 4.5);
  REQUIRE(trip.items.size() == 3);
  CHECK(trip.items[1].solar_w == 10);
  CHECK(trip.items[2].solar_w == 10);  // each of them
}

TEST_CASE("a count makes so many things alike, and their name means all of them", "[files][property]") {
  std::string text =
      changed(trip_text, "[[support]]\nid = \"pole\"\n", "[[support]]\nid = \"pole\"\ncount = 2\n");
  text = changed(text, "[[item]]\nid = \"guys\"\n", "[[item]]\nid = \"guys\"\ncount = 3\n");
  const Trip one = read_well(trip_text);
  const Trip trip = read_well(text);
  REQUIRE(trip.supports.size() == one.supports.size() + 1);
  CHECK(trip.supports[0].item.id == "pole");
  CHECK(trip.supports[0].item.name == "6 m pole (1 of 2)");
  CHECK(trip.supports[1].item.id == "pole-2");
  CHECK(trip.supports[1].item.name == "6 m pole (2 of 2)");
  CHECK(trip.supports[1].height_m == trip.supports[0].height_m);
  CHECK(trip.items.size() == one.items.size() + 2);
  // Any of the poles holds the wire; each of them needs all the guys.
  CHECK(trip.antennas[0].supports == std::vector<std::string>{"pole", "pole-2"});
  CHECK(trip.supports[1].needs == std::vector<std::string>{"guys", "guys-2", "guys-3"});
  CHECK(derive_setups(trip).possible.size() > derive_setups(one).possible.size());
  // One of them may be named by itself.
  CHECK(read_well(changed(text, "needs = [\"guys\"]", "needs = [\"guys-3\"]")).supports[0].needs ==
        std::vector<std::string>{"guys-3"});
  CHECK(read_well(changed(text, "supports = [\"pole\"]", "supports = [\"pole-2\"]")).antennas[0].supports ==
        std::vector<std::string>{"pole-2"});
  // A count of one changes nothing.
  CHECK(read_well(changed(trip_text, "[[item]]\nid = \"guys\"\n", "[[item]]\nid = \"guys\"\ncount = 1\n"))
            .items[1]
            .name == one.items[1].name);
}
