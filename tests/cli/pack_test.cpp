// skerry pack: what if, another limit, and a text that fits the screen.

#include <fmt/format.h>

#include <csignal>
#include <cstdio>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"
#include "process.hpp"
#include "skerry/os/ending.hpp"

using nlohmann::json;

namespace {

std::string example(const char* name) {
  return std::string(SKERRY_SOURCE_DIR "/examples/") + name + ".toml";
}

std::vector<std::string> ids(const json& items) {
  std::vector<std::string> out;
  for (const auto& item : items) out.push_back(item["id"]);
  return out;
}

bool holds(const std::vector<std::string>& list, const std::string& id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

}  // namespace

TEST_CASE("what if is answered in one call, in both forms", "[cli][known]") {
  const auto said =
      ask({"pack", example("rodrigues"), "--what-if", "drop=pole-6m,add=mast-10m", "--format", "json"});
  REQUIRE(said.code == 0);
  const auto j = said.json();
  REQUIRE(j.contains("what_if"));
  const auto& w = j["what_if"];
  const std::vector<std::string> items = w["items"];
  CHECK(holds(items, "mast-10m"));
  CHECK_FALSE(holds(items, "pole-6m"));
  CHECK(w["reach_change"].get<double>() <= j["tolerance"].get<double>());  // the best, less so much
  CHECK(w["reach"].get<double>() - j["reach"].get<double>() ==
        Approx(w["reach_change"].get<double>()).margin(2e-5));
  CHECK(1000 * (w["mass_kg"].get<double>() - j["mass_kg"].get<double>()) ==
        Approx(w["mass_change_g"].get<double>()).margin(0.2));
  CHECK(w["mass_kg"] <= j["limit_kg"]);
  for (const auto& id : ids(j["carry"])) {
    const std::vector<std::string> goes = w["goes"];
    CHECK(holds(items, id) != holds(goes, id));
  }
  const auto text = ask({"pack", example("rodrigues"), "--what-if", "add=mast-10m"});
  CHECK(text.code == 0);
  CHECK(text.out.find("best kit then reaches") != std::string::npos);
}

TEST_CASE("mistakes in what if are told", "[cli][edge]") {
  const auto near = ask({"pack", example("rodrigues"), "--what-if", "drop=mast-10"});
  CHECK(near.code == 2);
  CHECK(near.err.find("mast-10m") != std::string::npos);
  CHECK(ask({"pack", example("rodrigues"), "--what-if", "mast-10m"}).code == 2);
  CHECK(ask({"pack", example("rodrigues"), "--what-if", "drop=mast-10m,add=mast-10m"}).code == 2);
  CHECK(ask({"pack", example("rodrigues"), "--what-if", "drop=mast-10m", "--format", "csv"}).code == 2);
  CHECK(ask({"pack", example("rodrigues"), "--mass-limit-kg", "-3"}).code == 2);
  CHECK(ask({"pack", example("rodrigues"), "--mass-limit-kg", "nan"}).code == 2);
}

TEST_CASE("another mass limit holds, and its frontier agrees with the first", "[cli][property]") {
  const auto whole = ask({"pack", example("rodrigues"), "--format", "json"}).json();
  const auto small =
      ask({"pack", example("rodrigues"), "--mass-limit-kg", "3.3", "--tolerance", "0", "--format", "json"})
          .json();
  CHECK(small["reach"] == small["plain_optimum"]["reach"]);
  CHECK(small["limit_kg"] == 3.3);
  CHECK(small["mass_kg"] <= 3.3);
  CHECK(small["reach"] <= whole["reach"]);
  double best = 0;
  for (const auto& kit : whole["frontier"]["kits"]) {
    if (kit["mass_kg"].get<double>() <= 3.3) best = std::max(best, kit["reach"].get<double>());
  }
  CHECK(best == Approx(small["reach"].get<double>()).margin(2e-5));
  CHECK(whole["uncertainty"]["scenarios"].size() >= 4);
}

TEST_CASE("the packing advice is one screen, and the rest is asked for by name", "[cli][known]") {
  for (const char* trip : {"rodrigues", "fair_isle", "lord_howe"}) {
    const auto said = ask({"pack", example(trip)});
    REQUIRE(said.code == 0);
    std::istringstream lines(said.out);
    int count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
      CAPTURE(trip, line);
      CHECK(line.size() <= 80);
    }
    CHECK(count <= 24);  // the usual terminal
    for (const char* part : {"Carry ", " in CW", "Proved", "BEST HOURS", "Air: ", "--show"})
      CHECK(said.out.find(part) != std::string::npos);
  }
  const auto some = ask({"pack", example("rodrigues"), "--show", "frontier,modes"});
  CHECK(some.out.find("WHAT EACH GRAM BRINGS") != std::string::npos);
  CHECK(some.out.find("MODE BY MODE") != std::string::npos);
  CHECK(some.out.find("DAYLIGHT") == std::string::npos);
  const auto wrong = ask({"pack", example("rodrigues"), "--show", "strip"});
  CHECK(wrong.code == 2);
  CHECK(wrong.err.find("did you mean 'strips'") != std::string::npos);
  CHECK(ask({"pack", example("rodrigues"), "--tolerance", "21"}).code == 2);
}

TEST_CASE("the packing advice fits 100 columns and no two words run together", "[cli][edge]") {
  for (const char* trip : {"rodrigues", "fair_isle", "lord_howe"}) {
    const auto said = ask({"pack", example(trip), "--show", "all"});
    REQUIRE(said.code == 0);
    std::istringstream lines(said.out);
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      // Names in the examples are plain ASCII: bytes are columns.
      CHECK(line.size() <= 100);
      CHECK(line.find("agreewithout") == std::string::npos);
    }
    // The verdict stands before the lists.
    CHECK(said.out.find("Carry ") < said.out.find("PACK"));
  }
}

TEST_CASE("people in the trip file are read, and mistakes in them told", "[cli][edge]") {
  std::ifstream in(example("rodrigues"));
  std::string text((std::istreambuf_iterator<char>(in)), {});
  const auto with = [&](const std::string& more) {
    const std::string name = "pack_test_people.toml";
    std::ofstream(name) << text << more;
    auto said = ask({"pack", name, "--format", "json"});
    std::remove(name.c_str());
    return said;
  };
  const auto counted = with("\n[people]\ncount = true\n");
  REQUIRE(counted.code == 0);
  CHECK(counted.json()["people_counted"] == true);
  CHECK(counted.json()["reach"].get<double>() ==
        Approx(counted.json()["reach_with_people"].get<double>()).margin(2e-5));
  const auto off = with("\n[people]\nuse = false\n");
  REQUIRE(off.code == 0);
  CHECK(off.json()["reach_by_sky"].get<double>() ==
        Approx(off.json()["reach_with_people"].get<double>()).margin(2e-5));
  CHECK(with("\n[people]\nweekday = [0.5, 0.5]\n").code == 2);
  CHECK(with("\n[people]\nuse = false\ncount = true\n").code == 2);
  CHECK(with("\n[people]\nweekdays = 1\n").err.find("weekday") != std::string::npos);
}

namespace {

/// The example with so many packs and rigs in all: within every limit of docs/trust.md.
std::string many_things(int packs, int rigs) {
  auto text = skerry::test::read(example("rodrigues"));
  for (int i = 3; i < packs; ++i)
    text += fmt::format(
        "\n[[battery]]\nid = \"b{0}\"\nname = \"b{0}\"\nmass_g = {1}\nchemistry = \"lifepo4\"\nvolts = "
        "12.8\namp_hours = {2:.2f}\n",
        i, 150 + 13 * i, 1.5 + 0.37 * i);
  for (int i = 2; i < rigs; ++i)
    text += fmt::format(
        "\n[[rig]]\nid = \"r{0}\"\nname = \"r{0}\"\nmass_g = {1}\nsize_cm = [13, 8, 4]\npower_w = "
        "{2}\nreceive_a = {3:.2f}\ntransmit_a = {4:.2f}\n",
        i, 300 + 7 * i, 5 + i % 20, 0.12 + 0.01 * (i % 50), 1.1 + 0.05 * (i % 20));
  return text;
}

}  // namespace

TEST_CASE("a time limit shows the best kit so far, what could still exist, and that it was stopped",
          "[cli][known]") {
  const auto whole = ask({"pack", example("rodrigues"), "-f", "json"}).json();
  const auto said = ask({"pack", example("rodrigues"), "-f", "json", "--time-limit", "0"});
  CHECK(said.code == 0);
  CHECK(said.err ==
        "skerry: stopped at the time limit: the best kit found so far; what is not called proved may be "
        "beaten\n");
  const auto part = said.json();
  CHECK_FALSE(part["proved"].get<bool>());
  CHECK(part["reach"].get<double>() > 0);
  CHECK(part["reach"] <= whole["reach"]);
  CHECK(part["bound"] >= whole["reach"]);
  CHECK(part["mass_kg"] <= part["limit_kg"]);
  const auto text = ask({"pack", example("rodrigues"), "--time-limit", "0"});
  CHECK(text.out.find("Best found; at most") != std::string::npos);
  // One that is far off changes nothing.
  const auto far = ask({"pack", example("rodrigues"), "-f", "json", "--time-limit", "10000"});
  CHECK(far.err.empty());
  CHECK(far.json() == whole);
  CHECK(ask({"pack", example("rodrigues"), "--time-limit", "-1"}).code == 2);
}

TEST_CASE("the first Ctrl-C only leaves a mark once there is an answer, the second ends the program",
          "[cli][edge]") {
  const auto with_signals = [](int arm_after) {
    return skerry::test::run_child([&] {
      skerry::os::clean_up_on_signals();
      skerry::os::GentleInterrupt interrupt;
      for (int i = 0; i < 2; ++i) {
        if (i == arm_after) interrupt.arm();
        ::raise(SIGINT);
        if (!interrupt.asked()) return 9;
      }
      return 8;
    });
  };
  CHECK(with_signals(5).signal == SIGINT);  // not armed: at once
  CHECK(with_signals(0).signal == SIGINT);  // the second
  const auto marked = skerry::test::run_child([] {
    skerry::os::clean_up_on_signals();
    skerry::os::GentleInterrupt interrupt;
    interrupt.arm();
    ::raise(SIGINT);
    return interrupt.asked() ? 7 : 9;
  });
  CHECK(marked.code == 7);
}

TEST_CASE("Ctrl-C in the midst of a long search gives the best kit so far, whole", "[cli][regression]") {
  const skerry::test::Folder folder("pack");
  std::ofstream(folder.file("t.toml")) << many_things(12, 60);
  bool in_the_search = false;
  // When the search begins depends on the machine: from too early to late.
  for (double after = 0.2; after < 40 && !in_the_search; after *= 1.5) {
    skerry::test::Setting setting;
    setting.folder = folder.path.string();
    setting.signal = SIGINT;
    setting.signal_after_s = after;
    const auto said =
        skerry::test::run_program({SKERRY_BINARY_DIR "/skerry", "pack", "t.toml", "-o", "kit.txt"}, setting);
    CAPTURE(after, said.code, said.err);
    if (said.code == 0) break;     // done before
    CHECK(said.signal == SIGINT);  // as a shell expects it: 130
    if (said.err.empty()) {
      CHECK(folder.names() == std::set<std::string>{"t.toml"});
      continue;
    }
    in_the_search = true;
    CHECK(said.err.find("stopped by Ctrl-C") != std::string::npos);
    const auto text = skerry::test::read(folder.path / "kit.txt");
    CHECK(text.find("Carry ") != std::string::npos);
    CHECK(text.back() == '\n');
    CHECK(folder.names() == std::set<std::string>{"kit.txt", "t.toml"});
  }
  CHECK(in_the_search);
}

TEST_CASE("without sporadic E a kit reaches no more, and everybody takes the word", "[cli][property]") {
  // The southern summer, by 2200 km of sea: what everything reaches, for the choice may be stopped.
  const auto with = ask({"pack", example("rodrigues"), "-f", "json"});
  const auto without = ask({"pack", example("rodrigues"), "--es", "off", "-f", "json"});
  REQUIRE(with.code == 0);
  REQUIRE(without.code == 0);
  CHECK(without.json()["reach_of_everything"].get<double>() <=
        with.json()["reach_of_everything"].get<double>() + 1e-9);
  CHECK(without.out != with.out);
  for (const char* command : {"pack", "report", "card", "explain"}) {
    CAPTURE(command);
    const auto wrong = ask({command, example("rodrigues"), "--es", "maybe"});
    CHECK(wrong.code == 2);
    CHECK(wrong.err.find("--es") != std::string::npos);
  }
}
