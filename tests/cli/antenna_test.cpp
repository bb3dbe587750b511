// `skerry antenna`: its options reach the solver, and the tables of docs/antennas.md are what it says.
#include <unistd.h>

#include <cmath>
#include <complex>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"

using nlohmann::json;

namespace {

/// A file of its own for each process and use, gone with the test.
class File {
 public:
  explicit File(const std::string& text) {
    static int count = 0;
    name_ = std::filesystem::temp_directory_path() /
            ("skerry-antenna-" + std::to_string(getpid()) + "-" + std::to_string(++count) + ".toml");
    std::ofstream(name_) << text;
  }
  ~File() { std::remove(name_.c_str()); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  [[nodiscard]] const std::string& name() const { return name_; }

 private:
  std::string name_;
};

json antennas(const File& file, std::vector<std::string> more) {
  std::vector<std::string> args{"antenna", file.name(), "--format", "json"};
  args.insert(args.end(), more.begin(), more.end());
  const auto said = ask(args);
  INFO(said.err);
  REQUIRE(said.code == 0);
  return said.json()["antennas"];
}

double best(const json& antenna, int elevation_deg) {
  return antenna["gain_dbi"][static_cast<std::size_t>(elevation_deg)]["best_dbi"];
}
double loss(const json& antenna, const std::string& name) {
  for (const auto& l : antenna["ledger"]) {
    if (l["loss"] == name) return l["db"];
  }
  return 0;
}
bool noted(const json& antenna, const std::string& words) {
  return antenna["notes"].dump().find(words) != std::string::npos;
}

const char* const dipole_kind =
    "[[antenna]]\nid = \"d\"\nkind = \"dipole\"\nshapes = [\"inverted-v\"]\nwire_m = 10.0\n";
const char* const vertical_kind = "[[antenna]]\nid = \"v\"\nkind = \"vertical-quarter\"\nradials = 4\n";

std::string drawn(double length_m, const std::string& more) {
  return "[[antenna]]\nid = \"drawn\"\nwire_radius_mm = 0.5\ninsulated = false\nfeed = {wire = 1, at = "
         "0.5}\n" +
         more + "[[antenna.wire]]\nfrom_m = [" + std::to_string(-length_m / 2) + ", 0, 8]\nto_m = [" +
         std::to_string(length_m / 2) + ", 0, 8]\n";
}

}  // namespace

TEST_CASE("a trap drawn in a file cuts off the wire beyond it", "[cli][known]") {
  // Common practice: with traps resonant on 14.1 MHz the inner 10.1 m work alone there; below resonance they
  // are coils and the whole wire, shorter than a plain one, works on 40 m. 1/(2 pi sqrt(LC)): 3 uH with 42.47
  // pF.
  std::string loads;
  for (const double at : {0.5 - 5.05 / 16, 0.5 + 5.05 / 16}) {
    loads += "[[antenna.load]]\nwire = 1\nat = " + std::to_string(at) +
             "\ninductance_uh = 3\ncapacitance_pf = 42.47\ncoil_q = 200\nparallel = true\n";
  }
  const File trapped(drawn(16, "") + loads);
  const json with = antennas(trapped, {"--mhz", "7.1,14.1"});
  const json plain = antennas(File(drawn(10.1, "")), {"--mhz", "14.1"});
  const json bare = antennas(File(drawn(16, "")), {"--mhz", "7.1,14.1"});
  const auto ohm = [](const json& a) {
    return std::complex<double>(a["resistance_ohm"].get<double>(), a["reactance_ohm"].get<double>());
  };
  CHECK(std::abs(ohm(with[1]) - ohm(plain[0])) < 30);
  CHECK(std::abs(ohm(bare[1]) - ohm(plain[0])) > 300);
  CHECK(loss(with[1], "coil") > 0.1);
  CHECK(loss(with[1], "coil") < 1.0);
  CHECK(with[0]["reactance_ohm"].get<double>() > bare[0]["reactance_ohm"].get<double>() + 50);
}

TEST_CASE("a coil's Q, a resistor, a jacket and poor metal reach the solver from the file",
          "[cli][property]") {
  const auto coil = [](const char* more) {
    return drawn(8, "") + "[[antenna.load]]\nwire = 1\nat = 0.5\n" + more;
  };
  // 2 uH at the feed is j177 ohm at 14.1 MHz, with Q 100 1.77 ohm (circuit theory).
  const json plain = antennas(File(drawn(8, "")), {});
  const json loaded = antennas(File(coil("inductance_uh = 2\ncoil_q = 100\n")), {});
  CHECK_THAT(loaded[0]["reactance_ohm"].get<double>() - plain[0]["reactance_ohm"].get<double>(),
             WithinAbs(177.2, 0.1));
  CHECK_THAT(loaded[0]["resistance_ohm"].get<double>() - plain[0]["resistance_ohm"].get<double>(),
             WithinAbs(1.772, 0.002));
  const json resistor = antennas(File(coil("resistance_ohm = 50\n")), {});
  CHECK_THAT(resistor[0]["resistance_ohm"].get<double>() - plain[0]["resistance_ohm"].get<double>(),
             WithinAbs(50, 0.002));
  CHECK(loss(resistor[0], "coil") > 1);
  // Steel, about 6e6 S/m, loses three times what copper does: the square root of the ratio.
  const json steel = antennas(File(drawn(8, "conductivity_s_per_m = 6e6\n")), {});
  const double lost = loss(plain[0], "wire");
  CHECK_THAT(loss(steel[0], "wire") / lost, WithinAbs(std::sqrt(5.8e7 / 6e6), 0.35));
  // Common practice: a jacket makes a wire 2 to 4 % longer electrically.
  std::string jacket = drawn(8, "");
  jacket.replace(jacket.find("insulated = false"), 17, "insulated = true ");
  CHECK(antennas(File(jacket), {})[0]["reactance_ohm"].get<double>() >
        plain[0]["reactance_ohm"].get<double>() + 15);
}

TEST_CASE("the sea further out and falling ground show in the gain, towards one side or all round",
          "[cli][property]") {
  const File file(vertical_kind);
  const std::vector<std::string> here{"--mhz", "18.1", "--ground", "rock"};
  const auto with = [&](std::vector<std::string> more) {
    more.insert(more.begin(), here.begin(), here.end());
    return antennas(file, more)[0];
  };
  const json land = with({});
  const json shore = with({"--sea-from-m", "10"});
  const json east = with({"--sea-from-m", "10", "--toward-deg", "90"});
  // Common practice: salt water in front gives a vertical 7 to 11 dB at 5 to 10 degrees.
  CHECK(best(shore, 5) - best(land, 5) > 6);
  CHECK(best(shore, 40) == best(land, 40));
  CHECK_THAT(best(east, 5), WithinAbs(best(shore, 5), 0.5));
  CHECK(east["gain_dbi"][5]["best_azimuth_deg"] == 90);
  CHECK(east["gain_dbi"][5]["mean_dbi"].get<double>() < shore["gain_dbi"][5]["mean_dbi"].get<double>() - 1);
  CHECK(noted(shore, "on every side: sea from 10 m"));
  CHECK(noted(east, "towards 90 degrees: sea from 10 m"));
  // A level wire's lobe comes down with the slope: more at low angles (image on the tilted plane).
  const File wire(dipole_kind);
  const json level = antennas(wire, {"--ground", "rock"})[0];
  const json falling = antennas(wire, {"--ground", "rock", "--slope-deg", "10"})[0];
  CHECK(best(falling, 5) > best(level, 5) + 5);
  const json rising = antennas(wire, {"--ground", "rock", "--slope-deg", "-10"})[0];
  CHECK(best(rising, 5) < best(level, 5));
}

TEST_CASE("a ground of one's own is taken by its two constants", "[cli][property]") {
  const File file(vertical_kind);
  // The constants of the preset give the preset (data/ground/ground.toml: rock 5, 0.001 S/m).
  const json own = antennas(file, {"--mhz", "18.1", "--eps-r", "5", "--sigma", "0.001"})[0];
  const json preset = antennas(file, {"--mhz", "18.1", "--ground", "rock"})[0];
  CHECK(own["gain_dbi"] == preset["gain_dbi"]);
  CHECK(own["ground"] == "eps_r 5, 0.001 S/m");
  CHECK(ask({"antenna", file.name(), "--eps-r", "5"})
            .err.find("--eps-r: found one constant of a ground; expected both") != std::string::npos);
  CHECK(ask({"antenna", file.name(), "--eps-r", "0.5", "--sigma", "1"}).code == 2);
  CHECK(ask({"antenna", file.name(), "--toward-deg", "5"}).code == 2);
  CHECK(ask({"antenna", file.name(), "--ground", "free", "--slope-deg", "5"}).code == 2);
}

TEST_CASE("the option --shape keeps one way of hanging and --explain accounts for the watt",
          "[cli][property]") {
  const File file("[[antenna]]\nid = \"w\"\nkind = \"end-fed-half-wave\"\nwire_m = 20.4\n");
  const json all = antennas(file, {});
  const json one = antennas(file, {"--shape", "sloper", "--explain"});
  CHECK(all.size() > 1);
  REQUIRE(one.size() == 1);
  CHECK(one[0]["shape"] == "sloper");
  const auto& w = one[0]["workings"];
  const auto& b = w["balance"];
  // Energy conservation, 1 % promised.
  CHECK_THAT(b["radiated_w"].get<double>() + b["wire_w"].get<double>() + b["parts_w"].get<double>() +
                 b["ground_w"].get<double>(),
             WithinAbs(1, 0.01));
  double chain_db = 0;
  for (const auto& step : w["chain"]) chain_db += step["db"].get<double>();
  CHECK_THAT(one[0]["radiation_efficiency_db"].get<double>() - one[0]["system_efficiency_db"].get<double>(),
             WithinAbs(chain_db, 0.005));
  // The plot: segments go on from each other along a wire, and its free end carries nothing.
  const auto& segments = w["segments"];
  REQUIRE(segments.size() > 10);
  CHECK(segments[0]["to"]["at_m"] == segments[1]["from"]["at_m"]);
  CHECK(segments.back()["to"]["a"] == 0);
  const auto text = ask({"antenna", file.name(), "--shape", "sloper", "--explain"}).out;
  CHECK(text.find("energy balance") != std::string::npos);
  CHECK(ask({"antenna", file.name(), "--shape", "slopper"}).err.find("did you mean 'sloper'") !=
        std::string::npos);
}

TEST_CASE("a conductive mast is solved with the antenna and its price told", "[cli][property]") {
  const File file(vertical_kind);
  const json pole = antennas(file, {"--mhz", "18.1"})[0];
  const json carbon = antennas(file, {"--mhz", "18.1", "--conductive"})[0];
  CHECK(noted(carbon, "the conductive mast "));
  CHECK(noted(carbon, "dB at 20 degrees"));
  CHECK(std::abs(carbon["gain_dbi"][20]["mean_dbi"].get<double>() -
                 pole["gain_dbi"][20]["mean_dbi"].get<double>()) > 0.05);
  CHECK(noted(antennas(File(drawn(8, "")), {"--conductive"})[0], "drawn as one of them"));
}

TEST_CASE("the cable's shield may be the counterpoise", "[cli][property]") {
  const auto with = [](const char* more) {
    return std::string(
               "[[antenna]]\nid = \"w\"\nkind = \"end-fed-half-wave\"\nshapes = "
               "[\"sloper\"]\nwire_m = 20.4\n") +
           more;
  };
  const json shield = antennas(File(with("cable_counterpoise_m = 5\n")), {"--explain"})[0];
  const json wire = antennas(File(with("")), {"--explain"})[0];
  CHECK(noted(shield, "shield of 5.0 m of cable"));
  // Common practice: 0.05 wavelengths of it do; the match stays usable, and the wire still does the work.
  CHECK(shield["match"] == "direct");
  CHECK_THAT(best(shield, 20), WithinAbs(best(wire, 20), 1.0));
  double length = 0;
  for (const auto& c : shield["workings"]["currents"]) length += c["length_m"].get<double>();
  CHECK_THAT(length, WithinAbs(20.4 + 5, 0.01));
  CHECK(ask({"antenna", File(std::string(vertical_kind) + "cable_counterpoise_m = 5\n").name()}).code == 2);
}

TEST_CASE("what a rig says is told: as it is, with a tuner, or not at all", "[cli][known]") {
  // Common practice: a dipole on its second harmonic has thousands of ohms, which no small tuner matches.
  const json own = antennas(File(drawn(10.1, "")), {"--mhz", "14.1,28.2"});
  CHECK(own[0]["match"] == "direct");
  CHECK(own[1]["match"] == "impossible");
  CHECK(noted(own[1], "cannot be matched"));
  const json wire = antennas(File("[[antenna]]\nid = \"r\"\nkind = \"end-fed-random\"\nwire_m = "
                                  "12.5\nshapes = [\"sloper\"]\n"),
                             {"--mhz", "18.1"});
  CHECK(wire[0]["match"] == "with-tuner");
  CHECK(noted(wire[0], "needs a tuner: SWR"));
}

TEST_CASE("the gain table of docs/antennas.md is what the program answers", "[cli][regression]") {
  std::ifstream page(SKERRY_SOURCE_DIR "/docs/antennas.md");
  REQUIRE(page);
  struct Row {
    std::string id, mhz;
    std::vector<double> gain;
  };
  std::vector<Row> rows;
  std::string line;
  bool inside = false;
  while (std::getline(page, line)) {
    if (line.find("<!-- gain table: begin") == 0) inside = true;
    if (line.find("<!-- gain table: end") == 0) inside = false;
    if (!inside || line.rfind("| `", 0) != 0) continue;
    std::vector<std::string> cells;
    std::size_t from = 1;
    while (from < line.size()) {
      const std::size_t to = line.find('|', from);
      cells.push_back(line.substr(from + 1, to - from - 2));
      from = to + 1;
    }
    REQUIRE(cells.size() == 15);
    Row row{cells[0].substr(1, cells[0].size() - 2), cells[1], {}};
    for (std::size_t c = 2; c < 14; ++c) row.gain.push_back(std::stod(cells[c]));
    rows.push_back(row);
  }
  REQUIRE(rows.size() > 60);
  const std::vector<std::vector<std::string>> places{
      {"--ground", "rock"}, {"--ground", "average"}, {"--ground", "rock", "--sea-from-m", "10"}};
  const std::vector<int> elevations{5, 10, 20, 45};
  // A sample, every fifth row: 7 and 5 share no factor, so all bands come up.
  for (std::size_t r = 0; r < rows.size(); r += 5) {
    const Row& row = rows[r];
    for (std::size_t p = 0; p < places.size(); ++p) {
      std::vector<std::string> args{"antenna",   SKERRY_SOURCE_DIR "/examples/antennas/presets.toml",
                                    "--id",      row.id,
                                    "--mhz",     row.mhz,
                                    "--format",  "json",
                                    "--height-m"};
      args.emplace_back(row.id == "half-up" ? "8.5" : "5.1");
      args.insert(args.end(), places[p].begin(), places[p].end());
      if (row.id == "wire-9") args.emplace_back("--tuner");
      const auto said = ask(args);
      REQUIRE(said.code == 0);
      const json answer = said.json()["antennas"];
      REQUIRE(answer.size() == 1);
      for (std::size_t e = 0; e < elevations.size(); ++e) {
        CAPTURE(row.id, row.mhz, p, elevations[e]);
        // One decimal is printed, of a number rounded to two.
        CHECK_THAT(best(answer[0], elevations[e]), WithinAbs(row.gain[4 * p + e], 0.0551));
      }
    }
  }
}
