// What people expect of any program at a terminal.
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"
#include "skerry/core/csv.hpp"

TEST_CASE("'help' is '--help', of the program and of a command", "[cli]") {
  CHECK(ask({"help"}).out == ask({"--help"}).out);
  const auto pack = ask({"help", "pack"});
  CHECK(pack.code == 0);
  CHECK(pack.out == ask({"pack", "--help"}).out);
  CHECK(ask({"help", "pakc"}).err.find("did you mean 'pack'") != std::string::npos);
}

TEST_CASE("an output named - is standard output", "[cli]") {
  const std::vector<std::string> plain{"sun", "-19.70,63.43", "--date", "2027-02-14"};
  auto dash = plain;
  dash.insert(dash.end(), {"-o", "-"});
  CHECK(ask(dash).code == 0);
  CHECK(ask(dash).out == ask(plain).out);
}

TEST_CASE("colours come when asked for, stay away when not wanted, and other words are refused", "[cli]") {
  const std::vector<std::string> plain{"path", "-19.70,63.43", "45.5,9", "--month", "2027-02"};
  const auto with = [&](const std::string& when) {
    auto args = plain;
    args.insert(args.begin(), {"--color", when});
    return ask(args);
  };
  CHECK(ask(plain).out.find('\x1b') == std::string::npos);
  CHECK(with("never").out == ask(plain).out);
  CHECK(with("auto").out == ask(plain).out);
  CHECK(with("always").out.find('\x1b') != std::string::npos);
  CHECK(with("red").code == 2);
  CHECK(with("red").err == "skerry: --color: found 'red'; expected auto, always or never\n");
}

TEST_CASE("doctor tells the age of what is inside", "[cli]") {
  const auto ran = ask({"doctor"});
  CHECK(ran.code == 0);
  // data/editions.toml, data/air/rules.toml
  CHECK(ran.out.find("2025-07-21, ") != std::string::npos);
  CHECK(ran.out.find("until 2026-12-31") != std::string::npos);
}

TEST_CASE("the trip file has a manual page with every key", "[cli]") {
  const auto ran = ask({"manual", "trip"});
  CHECK(ran.code == 0);
  CHECK(ran.out.rfind(".TH SKERRY\\-TRIP 5 ", 0) == 0);
  for (const char* key : {"mass_limit_kg", "horizon_deg", "min_volts", "weight", "end_height_m"}) {
    CAPTURE(key);
    CHECK(ran.out.find(key) != std::string::npos);
  }
}

TEST_CASE("what is explained is explained in JSON too, and where it cannot be, that is said", "[cli]") {
  const std::string trip = SKERRY_SOURCE_DIR "/examples/rodrigues.toml";
  const std::vector<std::string> path{"path", "MH10", "JN45", "--month", "2027-02", "--way", "both"};
  const auto with = [](std::vector<std::string> args, const std::vector<std::string>& more) {
    args.insert(args.end(), more.begin(), more.end());
    return ask(args);
  };
  // The ledger's text line by line, blanks and headings left out.
  const auto text = with(path, {"--explain", "18,20m"}).out;
  const auto json = with(path, {"--explain", "18,20m", "-f", "json"}).json();
  const auto& explained = json["explained"];
  CHECK(explained["utc_hour"] == 18);
  CHECK(explained["band"] == "20m");
  REQUIRE(explained["ways"].size() == 2);
  std::string::size_type at = 0;
  for (const auto& way : explained["ways"]) {
    CHECK(way["lines"].size() > 10);
    for (const auto& line : way["lines"]) {
      CAPTURE(line);
      at = text.find(line.get<std::string>(), at);
      REQUIRE(at != std::string::npos);
    }
    // S/N of the answer = what arrives - noise - bandwidth (500 Hz or another): by the same numbers.
    const auto& band = json["ways"][way["way"] == "short" ? 0 : 1]["hours"][18]["bands"];
    const auto found =
        std::find_if(band.begin(), band.end(), [](const auto& b) { return b["band"] == "20m"; });
    REQUIRE(found != band.end());
    const double bandwidth_db = 10 * std::log10(json["reference_bandwidth_hz"].get<double>());
    CHECK(way["received_dbw"].get<double>() - way["noise_there"]["dbw_per_hz"].get<double>() - bandwidth_db ==
          Approx((*found)["snr_db"].get<double>()).margin(0.02));
  }
  CHECK_FALSE(with(path, {"-f", "json"}).json().contains("explained"));

  const auto places = ask({"explain", "MH10", "JN45", "--month", "2027-02", "-f", "json"}).json();
  CHECK(places["schema"] == "skerry.explain/1");
  REQUIRE(places["paths"].size() == 1);
  for (const auto& band : places["paths"][0]["bands"]) CHECK_FALSE(band["sentences"].empty());
  const auto regions = ask({"explain", trip, "--region", "all", "-f", "json"}).json();
  CHECK(regions["paths"].size() > 1);

  for (const auto& [args, expected] : std::initializer_list<std::pair<std::vector<std::string>, std::string>>{
           {{"path", "MH10", "JN45", "--explain", "18,20m", "-f", "csv"}, "text or json with --explain"},
           {{"antenna", trip, "--explain", "-f", "csv"}, "text or json with --explain"},
           {{"explain", "MH10", "JN45", "-f", "csv"}, "text or json"},
           {{"explain", "MH10", "JN45", "--teach", "-f", "json"}, "text with --teach"},
           {{"explain", "MH10", "JN45", "--contrast", "power=100", "-f", "json"}, "text with --contrast"}}) {
    const auto said = ask(args);
    CAPTURE(args, said.err);
    CHECK(said.code == 2);
    CHECK(is_one_line(said.err));
    CHECK(said.err.find("--format: found '") != std::string::npos);
    CHECK(said.err.find("expected " + expected) != std::string::npos);
  }
}

TEST_CASE("the packing list is a table too, and says what JSON says", "[cli]") {
  for (const char* name : {"rodrigues", "fair_isle", "lord_howe"}) {
    CAPTURE(name);
    const std::string trip = std::string(SKERRY_SOURCE_DIR "/examples/") + name + ".toml";
    const auto said = ask({"pack", trip, "-f", "csv", "--table", "things"});
    REQUIRE(said.code == 0);
    const auto json = ask({"pack", trip, "-f", "json"}).json();
    const auto table = *skerry::parse_csv(said.out, "things.csv");
    const auto column = [&](const char* head) { return table.column({head}).value(); };
    std::size_t row = 0;
    double mass_g = 0;
    for (const char* part : {"carry", "leave"}) {
      for (const auto& item : json[part]) {
        REQUIRE(row < table.rows.size());
        const auto& cells = table.rows[row++].cells;
        REQUIRE(cells.size() == table.header.size());
        CHECK(cells[column("id")] == item["id"].get<std::string>());
        CHECK(cells[column("name")] == item["name"].get<std::string>());
        CHECK(cells[column("reason")] == item["reason"].get<std::string>());
        CHECK(std::stod(cells[column("mass_g")]) == Approx(item["mass_g"].get<double>()));
        CHECK((cells[column("decision")] == "carry") == (std::string(part) == "carry"));
        if (std::string(part) == "carry") mass_g += item["mass_g"].get<double>();
        std::string bag;
        for (const auto& b : json["bags"]) {
          for (const auto& id : b["items"]) {
            if (id == item["id"]) bag = b["bag"].get<std::string>();
          }
        }
        CHECK(cells[column("bag")] == bag);
      }
    }
    CHECK(row == table.rows.size());
    CHECK(mass_g / 1000 == Approx(json["mass_kg"].get<double>()).margin(1e-3));
    // One heading to a file: without --table the hours, as ever.
    const auto hours = ask({"pack", trip, "-f", "csv"});
    CHECK(hours.out == ask({"pack", trip, "-f", "csv", "--table", "hours"}).out);
    CHECK(hours.out.starts_with("site,region,utc_hour,"));
  }
  const auto wrong = ask({"pack", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "--table", "things"});
  CHECK(wrong.code == 2);
  CHECK(wrong.err == "skerry: --table: found 'things' with text; expected csv: --format csv\n");
}

TEST_CASE("every table ends its lines alike", "[cli][property]") {
  const std::string root = SKERRY_SOURCE_DIR "/examples/";
  for (const auto& args : std::initializer_list<std::vector<std::string>>{
           {"path", "MH10", "JN45", "--month", "2027-02", "--bands", "20m"},
           {"ionosphere", "0,0", "--month", "2027-02"},
           {"sun", "MH10", "JN45", "--date", "2027-02-14"},
           {"antenna", root + "rodrigues.toml", "--mhz", "14.06"},
           {"map", "MH10", "--month", "2027-02", "--grid", "30", "--hours", "12"},
           {"pack", root + "rodrigues.toml"},
           {"pack", root + "rodrigues.toml", "--table", "things"},
           {"kit", root + "rodrigues.toml"},
           {"kit", "list", "--library", root + "library/my_kit.toml"},
           {"log", root + "rodrigues.toml", root + "log/rodrigues.adi"},
           {"score", root + "score/spots.csv"},
           {"score", "--ionosonde", root + "score/ionosondes.csv"}}) {
    auto with = args;
    with.insert(with.end(), {"-f", "csv"});
    const auto said = ask(with);
    CAPTURE(args, said.err);
    REQUIRE(said.code == 0);
    CHECK(said.out.find('\r') == std::string::npos);
    CHECK(said.out.ends_with('\n'));
  }
}

TEST_CASE("completions offer the words that options take, from the options themselves", "[cli]") {
  const auto bash = ask({"completion", "bash"}).out;
  for (const char* line : {"    \"path --format\"|\"path -f\") values=\"text json csv\" ;;\n",
                           "    \"where --format\"|\"where -f\") values=\"text json svg gpx kml\" ;;\n",
                           "    \"pack --table\") values=\"hours things\" ;;\n",
                           "    \" --color\"|\" --colour\") values=\"auto always never\" ;;\n",
                           "    completion) words=\"bash zsh fish ", "    kit) words=\"add rig antenna ",
                           "    help) words=\"pack kit report "}) {
    CAPTURE(line);
    CHECK(bash.find(line) != std::string::npos);
  }
  // Bands and modes as their tables have them.
  CHECK(bash.find("\"path --bands\") values=\"160m 80m ") != std::string::npos);
  CHECK(bash.find("\"map --mode\") values=\"") != std::string::npos);
  const auto zsh = ask({"completion", "zsh"}).out;
  CHECK(zsh.find(":value:(text json csv)'") != std::string::npos);
  CHECK(zsh.find(":value:_sequence compadd - 160m 80m ") != std::string::npos);
  CHECK(zsh.find("'1:word:(add ") != std::string::npos);
  const auto fish = ask({"completion", "fish"}).out;
  CHECK(fish.find(" -l format -s f -r -f -a 'text json csv' ") != std::string::npos);
  CHECK(fish.find(" -l bands -r -f -a '(__fish_append , 160m 80m ") != std::string::npos);
  CHECK(fish.find(" -l ascii -d ") != std::string::npos);  // a flag asks for nothing
  // What is offered is taken, what is not offered where only those are taken is refused.
  CHECK(ask({"explain", "MH10", "JN45", "--es", "perhaps"}).err ==
        "skerry: --es: found 'perhaps'; expected on or off\n");
}

TEST_CASE("the shell completes what is typed", "[cli]") {
  const skerry::test::Folder folder("completion");
  const auto script = folder.file("asked.sh");
  const auto completed = [&](const std::string& words, int at) {
    std::ofstream(script) << ask({"completion", "bash"}).out << "COMP_WORDS=(" << words
                          << ")\nCOMP_CWORD=" << at << "\n_skerry\nprintf '%s\\n' \"${COMPREPLY[@]}\"\n";
    std::string out;
    FILE* shell = ::popen(("bash " + script).c_str(), "r");
    REQUIRE(shell != nullptr);
    for (int c = std::fgetc(shell); c != EOF; c = std::fgetc(shell)) out += static_cast<char>(c);
    REQUIRE(::pclose(shell) == 0);
    return out;
  };
  CHECK(completed("skerry path --format ''", 3) == "text\njson\ncsv\n");
  CHECK(completed("skerry path --format = j", 4) == "json\n");
  CHECK(completed("skerry path --bands 40m,20", 3) == "40m,20m\n");
  CHECK(completed("skerry --color always pa", 3) == "pack\npath\npage\n");
  CHECK(completed("skerry --color ''", 2) == "auto\nalways\nnever\n");
  CHECK(completed("skerry help pat", 2) == "path\n");
  CHECK(completed("skerry kit expo", 2) == "export\n");
  CHECK(completed("skerry pack --tab", 2) == "--table\n");
}
