// What is answered when a trip file says something wrong.
#include <fmt/format.h>

#include <algorithm>
#include <random>

#include "check.hpp"
#include "skerry/files/trip_file.hpp"
#include "trip_text.hpp"

namespace {

using namespace skerry;
using namespace skerry::files;
using namespace skerry::kit;
using skerry::test::changed;
using skerry::test::no_files;
using skerry::test::trip_text;

std::vector<std::string> mistakes_of(const std::string& text, const FileReader& files = no_files) {
  const auto trip = read_trip(text, "trip.toml", files);
  std::vector<std::string> lines;
  if (!trip) {
    for (const auto& e : trip.error()) lines.push_back(e.to_line());
  }
  return lines;
}

int line_of(const std::string& text, std::size_t at) {
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

}  // namespace

TEST_CASE("every mistake is told with its line, what stands there and what would be right", "[kit][edge]") {
  struct Row {
    const char* from;
    const char* to;
    std::vector<const char*> parts;  ///< all in one and the same message
  };
  const auto row = GENERATE(values<Row>({
      {"mass_limit_kg = 4.2", "mass_limit_kg = -1", {"mass_limit_kg = -1", "0.1 to 200 kg"}},
      {"mass_limit_kg = 4.2", "mass_limit_kg = nan", {"mass_limit_kg = nan", "0.1 to 200 kg"}},
      {"mass_limit_kg = 4.2", "mass_limit_kg = inf", {"mass_limit_kg = inf", "0.1 to 200 kg"}},
      {"mass_limit_kg = 4.2", "mass_limit_kg = \"4.2\"", {"'4.2'", "a number", "without quotes"}},
      {"last_day = 2027-02-17", "last_day = 2027-02-12", {"last_day = 2027-02-12", "2027-02-13 or later"}},
      {"last_day = 2027-02-17", "last_day = 2027-06-17", {"at most 61 days after"}},
      {"first_day = 2027-02-13", "first_day = 1949-02-13", {"first_day = 1949-02-13", "1950 to 2050"}},
      {"first_day = 2027-02-13", "first_day = \"13.2.2027\"", {"'13.2.2027'", "a date like 2027-02-14"}},
      {"first_day = 2027-02-13", "first_day = 2027-02-13T05:00:00", {"a date with a time", "a date like"}},
      {"want_days_in_ten = 5", "want_days_in_ten = 11", {"want_days_in_ten = 11", "0.5 to 9.5"}},
      {"want_days_in_ten = 5",
       "want_days_in_tn = 5",
       {"unknown key 'want_days_in_tn' in [trip]", "did you mean 'want_days_in_ten'"}},
      {"want_days_in_ten = 5", "count = \"hours\"", {"hours", "one of: chance, days"}},
      {"want_days_in_ten = 5", "tolerance_percent = 50", {"tolerance_percent = 50", "0 to 20"}},
      {"want_days_in_ten = 5", "charging = \"sometimes\"", {"sometimes", "every-night, none, solar"}},
      {"want_days_in_ten = 5",
       "charging = \"solar\"",
       {"charging = \"solar\" without solar_hours", "0.1 to 16 hours"}},
      {"want_days_in_ten = 5",
       "charging = \"solar\"\nsolar_hours = 4",
       {"charging = \"solar\" with 0 panels", "1 to 3 things with solar_watts"}},
      {"want_days_in_ten = 5", "solar_hours = 30", {"solar_hours = 30", "0.1 to 16"}},
      {"sharp = true", "solar_watts = 0", {"solar_watts = 0", "0.5 to 400 W"}},
      {"tuner = false", "min_volts = 14", {"min_volts = 14", "at most volts, 13.8 V"}},
      {"tuner = false", "max_volts = 12", {"max_volts = 12", "at least volts, 13.8 V"}},
      {"tuner = false", "low_power_w = 11", {"low_power_w = 11", "at most power_w, 10 W"}},
      {"tuner = false", "supply = \"mains\"", {"mains", "one of: switching, linear"}},
      {"days = [2027-02-14]",
       "modes = [\"ft8\"]",
       {"modes = ['ft8']", "modes of [licence]: cw, ssb", "add \"ft8\" to them"}},
      {"days = [2027-02-14]",
       "modes = [{ name = \"cw\", share = 0.5 }, { name = \"ssb\", share = 0.2 }]",
       {"shares that add up to 0.7 in modes", "shares that add up to 1"}},
      {"[[rig]]", "[[mode]]\nname = \"ft8\"\n\n[[rig]]", {"name = ", "ft8", "a mode of [licence]: cw, ssb"}},
      {"[[rig]]", "[[mode]]\nname = \"cw\"\nsending = 2\n\n[[rig]]", {"sending = 2", "0.01 to 1"}},
      {"[[rig]]",
       "[[mode]]\nname = \"cw\"\n[[mode]]\nname = \"morse\"\n\n[[rig]]",
       {"morse", "each mode once"}},
      {"modes = [\"cw\", \"ssb\"]",
       "modes = [{ name = \"cw\", share = 0.7 }, { name = \"ssb\", share = 0.2 }]",
       {"shares that add up to 0.9 in modes", "shares that add up to 1"}},
      {"modes = [\"cw\", \"ssb\"]",
       "modes = [{ name = \"cw\", share = 0.7 }, \"ssb\"]",
       {"shares of some modes only", "a share for each, or none"}},
      {"modes = [\"cw\", \"ssb\"]",
       "modes = [{ name = \"cw\", share = 1.7 }, \"ssb\"]",
       {"a table in modes", "a list of words"}},
      {"r12 = 80", "r12 = 80\nf107 = 120", {"f107 beside r12", "at most one"}},
      {"r12 = 80", "forecast_file = \"sun.json\"", {"forecast_file", "sun.json", "no such file"}},
      {"at = \"-19.70,63.43\"", "at = \"-99.70,63.43\"", {"-90 to 90"}},
      {"at = \"-19.70,63.43\"", "at = \"over there\"", {"over there"}},
      {"ground = \"rock\"", "ground = \"rok\"", {"rok", "did you mean 'rock'"}},
      {"ground = \"rock\"", "ground = {eps_r = 0, sigma_s_per_m = 0.01}", {"eps_r = 0", "1 to 100"}},
      {"ground = \"rock\"", "ground = 5", {"ground = 5", "a table, as"}},
      {"noise = \"quiet\"", "noise = \"quite\"", {"quite", "did you mean 'quiet'"}},
      {"zone = \"Indian/Mauritius\"", "zone = \"Indian/Mauritus\"", {"Mauritus", "Indian/Mauritius"}},
      {"sea_between_deg = [90, 200]", "sea_between_deg = [90]", {"sea_between_deg = [90]", "2 numbers"}},
      {"sea_between_deg = [90, 200]", "sea_between_deg = [90, 400]", {"400", "0 to 360 degrees"}},
      {"horizon_deg = [[0, 2], [180, 6]]",
       "horizon_deg = [[0, 2], [360, 6]]",
       {"azimuth 0 twice in horizon_deg"}},
      {"horizon_deg = [[0, 2], [180, 6]]",
       "horizon_deg = [[0, 2], [180, 6, 0.05]]",
       {"0.05 in horizon_deg", "0.1 to 200 km", "nearer ground is a slope: foreground_deg"}},
      {"horizon_deg = [[0, 2], [180, 6]]", "horizon_deg = [[0, 2], [180]]", {"lists of 2 numbers or 3"}},
      {"horizon_deg = [[0, 2], [180, 6]]",
       "foreground_deg = [[0, 12], [180, 40]]",
       {"40 in foreground_deg", "-30 to 30 degrees"}},
      {"horizon_deg = [[0, 2], [180, 6]]",
       "foreground_deg = [[0, 12], [180, 4, 1]]",
       {"[0, 12]", "lists of 2 numbers"}},
      {"horizon_deg = [[0, 2], [180, 6]]",
       "foreground_deg = [[0, 12], [360, 4]]",
       {"azimuth 0 twice in foreground_deg"}},
      {"horizon_deg = [[0, 2], [180, 6]]",
       "slope_deg = 5\nforeground_deg = [[0, 12], [180, 4]]",
       {"slope_deg beside foreground_deg"}},
      {"altitude_m = 398", "altitude_m = 39800", {"altitude_m = 39800", "-430 to 8850 m"}},
      {"[[session]]\nsite = \"summit\"",
       "[[session]]\nsite = \"sumit\"",
       {"site = 'sumit'", "did you mean 'summit'"}},
      {"from = \"06:00\"", "from = \"6 am\"", {"from = '6 am'", "\"00:00\" to \"24:00\""}},
      {"from = \"06:00\"", "from = \"06:60\"", {"from = '06:60'"}},
      {"to = \"09:00\"", "to = \"06:00\"", {"another time than from"}},
      {"from = \"06:00\"", "from = 06:00:30", {"from = 06:00:30", "whole minutes"}},
      {"zone = \"Indian/Mauritius\"", "zone = \"localtime\"", {"localtime", "a zone like"}},
      {"preset = \"western-europe\"", "at = \"-19.70,63.43\"", {"at: a place 0.0 km from [[site]] 'summit'"}},
      {"mass_g = 900", "mass_g = 0.9", {"mass_g = 0.9 for [[rig]] 'rig'", "20 to 30000 g", "0.9 kg are 900"}},
      {"mass_g = 420", "mass_g = 0.42", {"mass_g = 0.42 for [[battery]]", "0.42 kg are 420"}},
      {"mass_g = 900", "mass_g = 50000", {"mass_g = 50000 for [[rig]] 'rig'"}},
      {"tube_cm = [57, 4]", "tube_cm = [4, 57]", {"tube_cm = [4, 57]", "tube_cm = [57, 4]?"}},
      {"needs = [\"cord\"]",
       "needs = [\"wire\"]",
       {"'wire' in needs of [[antenna]] 'wire'", "does not need itself"}},
      {"days = [2027-02-14]", "days = [2027-03-14]", {"2027-03-14 in days", "days of the trip"}},
      {"days = [2027-02-14]", "days = []", {"days = []", "a list of dates"}},
      {"preset = \"western-europe\"",
       "preset = \"western-europ\"",
       {"western-europ", "did you mean 'western-europe'"}},
      {"preset = \"western-europe\"", "file = \"gone.geojson\"", {"gone.geojson", "no such file"}},
      {"preset = \"western-europe\"",
       "preset = \"japan\"\nat = \"1,2\"",
       {"preset, file and at together", "only one"}},
      {"weight = 3", "weight = 0", {"weight = 0", "above 0"}},
      {"points = 4", "points = 2.5", {"points = 2.5", "a whole number, 1 to 200"}},
      {"power_w = 100, gain_dbi",
       "power_kw = 1, gain_dbi",
       {"unknown key 'power_kw' in partner of [[region]]", "did you mean 'power_w'"}},
      {"bands = [\"20m\", \"40m\"]", "bands = [\"20m\", \"41m\"]", {"41m"}},
      {"bands = [\"20m\", \"40m\"]", "bands = []", {"bands = []", "a list of words"}},
      {"bands = [\"20m\", \"40m\"]", "bands = [\"20m\", \"20m\"]", {"'20m' twice"}},
      {"modes = [\"cw\", \"ssb\"]", "modes = [\"cw\", \"sbb\"]", {"sbb", "did you mean 'ssb'"}},
      {"mass_g = 900", "mass_kg = 0.9", {"unknown key 'mass_kg' in [[rig]] 'rig'", "did you mean 'mass_g'"}},
      {"mass_g = 900", "mass_g = 0", {"mass_g = 0", "0.1 to 60000 g"}},
      {"size_cm = [20, 9, 5]", "size_cm = [20, 9, 0]", {"0 in size_cm", "0.1 to 300 cm"}},
      {"receive_a = 0.3", "receive_a = 300", {"receive_a = 300", "0.005 to 10 A"}},
      {"transmit_a = 2.2", "transmit_a = 0.2", {"transmit_a = 0.2", "more than receive_a, 0.3 A"}},
      {"transmit_a = 2.2", "transmit_a = 0.6", {"transmit_a = 0.6", "10 W cannot come out"}},
      {"tuner = false", "tuner = \"no\"", {"tuner = 'no'", "true or false"}},
      {"wire_m = 20.4",
       "wire_m = 20.4\nself_standing = true",
       {"self_standing = true", "only for vertical kinds"}},
      {"kind = \"end-fed-half-wave\"",
       "kind = \"end-fed-halfwave\"",
       {"end-fed-halfwave", "did you mean 'end-fed-half-wave'"}},
      {"shapes = [\"inverted-v\"]", "shapes = [\"inverted-w\"]", {"inverted-w", "did you mean"}},
      {"wire_m = 20.4", "wire_m = 20400", {"wire_m = 20400", "0.2 to 300 m"}},
      {"supports = [\"pole\"]",
       "supports = [\"poll\"]",
       {"'poll' in supports of [[antenna]] 'wire'", "did you mean 'pole'"}},
      {"supports = [\"pole\"]", "supports = [\"cord\"]", {"'cord' in supports", "another kind of thing"}},
      {"needs = [\"cord\"]",
       "needs = [\"chord\"]",
       {"'chord' in needs of [[antenna]] 'wire'", "did you mean 'cord'"}},
      {"tube_cm = [57, 4]", "tube_cm = [57, 4]\nsize_cm = [57, 4, 4]", {"tube_cm together"}},
      {"usable_m = 5.1", "usable_m = 7", {"usable_m = 7", "at most height_m, 6 m"}},
      {"usable_m = 5.1", "usable_m = 5.1\nstandoff_m = 0", {"standoff_m = 0", "0.01 to 5 m"}},
      {"usable_m = 5.1", "usable_m = 5.1\nstand_off_m = 1", {"stand_off_m", "did you mean 'standoff_m'"}},
      {"type = \"rg316\"", "type = \"rg361\"", {"rg361", "did you mean 'rg316'"}},
      {"chemistry = \"lifepo4\"",
       "chemistry = \"lifepo\"",
       {"chemistry = 'lifepo'", "did you mean 'lifepo4'"}},
      {"amp_hours = 3", "amp_hours = 300", {"3840 Wh in 420 g", "under 400 Wh per kg"}},
      {"inner_cm = [53, 38, 21]", "inner_cm = [0, 0, 0]", {"0 in inner_cm = [0, 0, 0]", "3 to 300 cm"}},
      {"own_mass_g = 1100", "own_mass_g = 9000", {"own_mass_g = 9000", "less than mass_limit_kg"}},
      {"id = \"guys\"\nmass_g", "id = \"cord\"\nmass_g", {"'cord' twice", "the first stands in line"}},
      {"id = \"guys\"\nmass_g", "id = \"guys and pegs\"\nmass_g", {"'guys and pegs'", "letters, digits"}},
      {"name = \"10 W set\"", "name = \"10 W\\u0007set\"", {"10 W?set", "text in quotes"}},
      {"name = \"10 W set\"", "name = \"\"", {"name = ''", "text in quotes"}},
      {"name = \"10 W set\"", "name = 10", {"name = 10", "text in quotes"}},
  }));
  const std::string base = trip_text;
  const auto at = base.find(row.from);
  REQUIRE(at != std::string::npos);
  const auto text = changed(base, row.from, row.to);
  const auto lines = mistakes_of(text);
  CAPTURE(row.to, lines);
  const auto fits = [&](const std::string& line) {
    return std::all_of(row.parts.begin(), row.parts.end(),
                       [&](const char* part) { return line.find(part) != std::string::npos; });
  };
  const auto found = std::find_if(lines.begin(), lines.end(), fits);
  REQUIRE(found != lines.end());
  CHECK(found->find('\n') == std::string::npos);
  // The line of the replaced text, or the next ones where the replacement has several.
  const int first = line_of(base, at);
  const int last =
      first + static_cast<int>(std::count(row.to, row.to + std::string_view(row.to).size(), '\n'));
  bool placed = false;
  for (int line = first; line <= last; ++line)
    placed = placed || found->rfind("trip.toml:" + std::to_string(line) + ":", 0) == 0;
  CHECK(placed);
}

TEST_CASE("a mode that decides and that no rig has is told where the modes stand", "[kit][edge]") {
  const auto text = changed(trip_text, "tuner = false", "modes = [\"ssb\"]");
  const auto lines = mistakes_of(text);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find("'cw' in modes, which decides and no [[rig]] has") != std::string::npos);
  CHECK(lines[0].find(fmt::format("trip.toml:{}:", line_of(text, text.find("modes = [\"cw\"")))) == 0);
  // What does not decide may be a wish.
  CHECK(mistakes_of(changed(trip_text, "tuner = false", "modes = [\"cw\"]")).empty());
}

TEST_CASE("what is missing is told with its table", "[kit][edge]") {
  struct Row {
    const char* from;
    const char* part;
  };
  const auto row = GENERATE(values<Row>({
      {"first_day = 2027-02-13\n", "[trip] without first_day"},
      {"mass_limit_kg = 4.2\n", "[trip] without mass_limit_kg"},
      {"at = \"-19.70,63.43\"\n", "[[site]] 'summit' without at"},
      {"preset = \"western-europe\"\n", "[[region]] without preset"},
      {"modes = [\"cw\", \"ssb\"]\n", "[licence] without modes"},
      {"power_w = 10\n", "[[rig]] 'rig' without power_w"},
      {"mass_g = 200\nkind", "[[antenna]] 'wire' without mass_g"},
      {"kind = \"end-fed-half-wave\"\n", "[[antenna]] 'wire' without kind"},
      {"height_m = 6\n", "[[support]] 'pole' without height_m"},
      {"type = \"rg316\"\n", "[[cable]] 'coax' without type"},
      {"chemistry = \"lifepo4\"\n", "[[battery]] 'pack' without chemistry"},
      {"inner_cm = [53, 38, 21]\n", "[[bag]] 'cabin' without inner_cm"},
      {"[licence]\nbands = [\"20m\", \"40m\"]\nmodes = [\"cw\", \"ssb\"]\npower_w = 100\n",
       "the file without [licence]"},
      {"[[rig]]\nid = \"rig\"\nname = \"10 W set\"\nmass_g = 900\nsize_cm = [20, 9, 5]\npower_w = "
       "10\nreceive_a = 0.3\ntransmit_a = 2.2\ntuner = false\n",
       "the file without [[rig]]"},
      {"[[bag]]\nid = \"cabin\"\ninner_cm = [53, 38, 21]\nmass_limit_kg = 8\nown_mass_g = 1100\n",
       "the file without [[bag]]"},
      {"[[battery]]\nid = \"pack\"\nmass_g = 420\nvolts = 12.8\namp_hours = 3\nchemistry = \"lifepo4\"\n",
       "the file without [[battery]]"},
  }));
  const auto lines =
      mistakes_of(changed(trip_text, row.from, std::string(row.from).ends_with("kind") ? "kind" : ""));
  CAPTURE(row.part, lines);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find(row.part) != std::string::npos);
}

TEST_CASE("all mistakes of a file come in one run, in the order of the file", "[kit][property]") {
  std::string text = changed(trip_text, "mass_limit_kg = 4.2", "mass_limit_kg = 0");
  text = changed(text, "weight = 3", "wait = 3");
  text = changed(text, "needs = [\"guys\"]", "needs = [\"gaze\"]");
  text = changed(text, "sharp = true", "sharp = 1");
  const auto trip = read_trip(text, "trip.toml", no_files);
  REQUIRE_FALSE(trip);
  REQUIRE(trip.error().size() == 4);
  for (std::size_t i = 1; i < 4; ++i) CHECK(trip.error()[i - 1].where.line < trip.error()[i].where.line);
  for (const auto& e : trip.error()) CHECK(e.where.column > 0);
}

TEST_CASE("an unknown table at the top is told", "[kit][edge]") {
  const auto lines = mistakes_of(std::string(trip_text) + "\n[[batery]]\nid = \"x\"\n");
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find("unknown key 'batery' in the file") != std::string::npos);
  CHECK(lines[0].find("did you mean 'battery'") != std::string::npos);
}

TEST_CASE("files that are no TOML, empty, huge or hostile get a plain answer", "[kit][edge]") {
  CHECK(mistakes_of("").size() >= 7);
  const auto broken = mistakes_of("[trip]\nname = \"x\nfirst_day = 2027-02-13\n");
  REQUIRE(broken.size() == 1);
  CHECK(broken[0].rfind("trip.toml:2:", 0) == 0);
  const auto huge = mistakes_of(std::string((1U << 20U) + 1, '#'));
  REQUIRE(huge.size() == 1);
  CHECK(huge[0].find("at most 1024 kB") != std::string::npos);
  std::string dotted = "a";
  for (int i = 0; i < 100000; ++i) dotted += ".a";
  const auto deep = mistakes_of(dotted + " = 1\n");
  REQUIRE(deep.size() == 1);
  CHECK(deep[0].find("a line of") != std::string::npos);
  std::string many = trip_text;
  for (int i = 0; i < 5000; ++i) many += "k" + std::to_string(i) + " = 1\n";
  const auto most = mistakes_of(many);
  REQUIRE(most.size() == 101);
  CHECK(most.back().find("more than 100 mistakes") != std::string::npos);
  std::string rigs = trip_text;
  for (int i = 0; i < 300; ++i) rigs += "[[item]]\nid = \"i" + std::to_string(i) + "\"\nmass_g = 1\n";
  REQUIRE(mistakes_of(rigs).size() == 1);
  CHECK(mistakes_of(rigs)[0].find("at most 200") != std::string::npos);
  for (const char* text : {"[\x01", "\xff\xfe", "a = [[[[[[", "[[trip]]\n", "trip = 5\n", "site = [1, 2]\n",
                           "antenna = []\n", "[[antenna]]\nwire = 5\n", "[\xc4\x95]\n"}) {
    CAPTURE(text);
    CHECK_FALSE(mistakes_of(text).empty());
  }
}

TEST_CASE("a site without a session is told when others have one", "[kit][edge]") {
  const auto lines =
      mistakes_of(std::string(trip_text) + "\n[[site]]\nid = \"shore\"\nat = \"-19.68,63.42\"\n");
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find("site 'shore' without a [[session]]") != std::string::npos);
}

TEST_CASE("a damaged file is read or refused, never worse", "[kit][edge]") {
  // Whatever one or two bytes turn into, the answer is a trip or lines that begin with the file's name.
  std::mt19937 random(19);
  const std::string base = trip_text;
  std::uniform_int_distribution<std::size_t> place(0, base.size() - 1);
  std::uniform_int_distribution<int> byte(1, 255);
  int refused = 0;
  for (int n = 0; n < 1500; ++n) {
    std::string text = base;
    for (int k = 0; k <= n % 2; ++k) text[place(random)] = static_cast<char>(byte(random));
    if (n % 7 == 0) text.erase(place(random) / 2, 5);
    const auto lines = mistakes_of(text);
    refused += lines.empty() ? 0 : 1;
    for (const auto& line : lines) {
      if (line.rfind("trip.toml", 0) != 0) FAIL(line);
    }
  }
  CHECK(refused > 700);
}

TEST_CASE("a count that is none is told with its line and what is accepted", "[files][edge]") {
  const auto with = [](const char* count, const std::string& more = "") {
    return mistakes_of(changed(trip_text, "[[item]]\nid = \"guys\"\n",
                               fmt::format("{}[[item]]\nid = \"guys\"\ncount = {}\n", more, count)));
  };
  const std::string text = trip_text;
  const int line = line_of(text, text.find("[[item]]\nid = \"guys\"")) + 2;
  for (const char* count : {"0", "10000", "-1", "21", "2.5"}) {
    const auto lines = with(count);
    CAPTURE(count);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].find(fmt::format("trip.toml:{}:9: found count = {}", line, count)) != std::string::npos);
    CHECK(lines[0].find("a whole number, 1 to 20") != std::string::npos);
  }
  CHECK(with("20").empty());
  // What the count would call its second thing is there already, before or behind.
  const char* other = "[[item]]\nid = \"guys-2\"\nmass_g = 5\n\n";
  auto lines = with("3", other);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find("count = 3") != std::string::npos);
  CHECK(lines[0].find("another thing is called 'guys-2'") != std::string::npos);
  lines = mistakes_of(
      changed(trip_text, "[[item]]\nid = \"guys\"\n", "[[item]]\nid = \"guys\"\ncount = 3\n") + other);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find("'guys-2' twice") != std::string::npos);
  // Counts do not get round the number of tables.
  std::string many = trip_text;
  for (int n = 0; n < 11; ++n) many += fmt::format("\n[[item]]\nid = \"x{}\"\nmass_g = 5\ncount = 20\n", n);
  lines = mistakes_of(many);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].find("at most 200") != std::string::npos);
}
