// The library of one's own things: adding, reading, and what a trip takes from it.
#include "skerry/files/library.hpp"

#include <algorithm>

#include "check.hpp"
#include "skerry/kit/setup.hpp"
#include "trip_text.hpp"

namespace {

using namespace skerry;
using namespace skerry::files;
using namespace skerry::kit;

const char* const shelf = R"(# My things

# bought used
[[rig]]
id = "rig-6w"
mass_g = 500
power_w = 6
receive_a = 0.2
transmit_a = 1.3

[[support]]
id = "pole-7m"
mass_g = 900
tube_cm = [62, 4]
height_m = 7
needs = ["string"]   # lives in the blue pouch

[[support]]
id = "tree"
at_site = ["some-garden"]
height_m = 9

[[item]]
id = "string"
mass_g = 40
)";

std::string all_lines(const std::vector<Error>& errors) {
  std::string out;
  for (const auto& e : errors) out += e.to_line() + "\n";
  return out;
}

FileReader one_file(const std::string& name, const std::string& text) {
  return [=](const std::string& wanted, const Where& where) -> Result<std::string> {
    if (wanted == name) return text;
    return fail(where, "'" + wanted + "'", "a file that is there");
  };
}

std::string with_head(const std::string& line) {
  std::string text = test::trip_text;
  const std::string after = "mass_limit_kg = 4.2\n";
  return text.insert(text.find(after) + after.size(), line + "\n");
}

}  // namespace

TEST_CASE("a library is read with each thing's own text and the comment above it", "[kit][property]") {
  const auto entries = read_library(shelf, "kit.toml");
  REQUIRE(entries);
  REQUIRE(entries->size() == 4);
  CHECK((*entries)[0].kind == "rig");
  CHECK((*entries)[0].text ==
        "# bought used\n[[rig]]\nid = \"rig-6w\"\nmass_g = 500\npower_w = 6\nreceive_a = 0.2\ntransmit_a = "
        "1.3\n");
  CHECK((*entries)[1].item.id == "pole-7m");
  CHECK((*entries)[1].text.find("blue pouch") != std::string::npos);
  CHECK((*entries)[3].item.mass_g == 40);
  CHECK(read_library("", "kit.toml")->empty());
}

TEST_CASE("adding keeps what stands there byte for byte and converts units once", "[kit][known]") {
  const auto added = with_entry(shelf, "kit.toml",
                                {"antenna",
                                 "wire",
                                 {{"name", "33 ft wire, \"old\""},
                                  {"mass_g", "6 oz"},
                                  {"kind", "end-fed-random"},
                                  {"wire_m", "33 ft"},
                                  {"size_cm", "4 x 3 x 1 in"},
                                  {"bands", "40m, 20m"},
                                  {"needs", "string"}}});
  REQUIRE(added);
  CHECK(added->rfind(shelf, 0) == 0);
  const auto entries = read_library(*added, "kit.toml");
  REQUIRE(entries);
  REQUIRE(entries->size() == 5);
  const auto& item = entries->back().item;
  CHECK(item.name == "33 ft wire, \"old\"");
  // Source: 1 oz = 28.349523125 g, 1 ft = 0.3048 m, 1 in = 2.54 cm, exact (agreement of 1959).
  CHECK(item.mass_g == Approx(6 * 28.349523125).margin(0.00005));
  CHECK((*item.size_cm)[0] == Approx(10.16));
  CHECK(added->find("wire_m = 10.0584\n") != std::string::npos);
  // Adding to nothing works as well.
  CHECK(with_entry("", "kit.toml", {"item", "lamp", {{"mass_g", "90"}}}));
}

TEST_CASE("nothing gets into a library that a trip could not read", "[kit][edge]") {
  const auto refused = [](const NewEntry& entry) {
    const auto out = with_entry(shelf, "kit.toml", entry);
    REQUIRE_FALSE(out);
    return all_lines(out.error());
  };
  CHECK(refused({"item", "string", {{"mass_g", "1"}}}).find("there already") != std::string::npos);
  CHECK(refused({"itm", "x", {}}).find("did you mean 'item'") != std::string::npos);
  CHECK(refused({"item", "x", {}}).find("new entry:1:1: found [[item]] 'x' without mass_g") !=
        std::string::npos);
  CHECK(refused({"item", "x", {{"mass_g", "5 stone"}}}).find("mass_g: found '5 stone'") != std::string::npos);
  CHECK(refused({"item", "x", {{"mass_g", "90"}, {"mas_g", "9"}}}).find("new entry:4") != std::string::npos);
  CHECK(refused({"item", "x y", {{"mass_g", "90"}}}).find("new entry:2") != std::string::npos);
  CHECK(refused({"item", "x", {{"a]\nb", "90"}}}).find("--set") != std::string::npos);
  CHECK_FALSE(with_entry("[[item]\n", "kit.toml", {"item", "x", {{"mass_g", "90"}}}));
}

TEST_CASE("a trip takes all of its library, or what it names and what that needs", "[kit][property]") {
  const auto plain = read_trip(test::trip_text, "trip.toml", test::no_files);
  REQUIRE(plain);
  const auto files = one_file("kit.toml", shelf);
  // The garden with the tree belongs to another trip.
  const auto wrong = read_trip(with_head("library = \"kit.toml\""), "trip.toml", files);
  REQUIRE_FALSE(wrong);
  CHECK(all_lines(wrong.error()).find("in kit.toml:20:12: 'some-garden' in at_site") != std::string::npos);

  std::string no_tree = shelf;
  no_tree.replace(no_tree.find("some-garden"), 11, "summit");
  const auto all = read_trip(with_head("library = \"kit.toml\""), "trip.toml", one_file("kit.toml", no_tree));
  REQUIRE(all);
  CHECK(all->rigs.size() == plain->rigs.size() + 1);
  CHECK(all->supports.size() == plain->supports.size() + 2);
  CHECK(all->rigs.front().item.library);
  CHECK_FALSE(all->rigs.back().item.library);

  const auto some = read_trip(with_head("library = \"kit.toml\"\nlibrary_items = [\"pole-7m\"]"), "trip.toml",
                              one_file("kit.toml", no_tree));
  REQUIRE(some);
  CHECK(some->rigs.size() == plain->rigs.size());
  CHECK(some->supports.size() == plain->supports.size() + 1);
  CHECK(some->items.size() == plain->items.size() + 1);  // the string that the pole needs
  CHECK(some->supports.front().item.library);
  CHECK(derive_setups(*all).possible.size() > derive_setups(*plain).possible.size());
}

TEST_CASE("mistakes around a library are told with the place they stand at", "[kit][edge]") {
  const auto said = [](const std::string& head, const std::string& library) {
    const auto trip = read_trip(with_head(head), "trip.toml", one_file("kit.toml", library));
    REQUIRE_FALSE(trip);
    return all_lines(trip.error());
  };
  CHECK(said("library = \"gone.toml\"", "").find("trip.toml:6:11: found 'gone.toml'") != std::string::npos);
  CHECK(said("library = \"kit.toml\"", "[[item]\n").find("in kit.toml:") != std::string::npos);
  CHECK(said("library = \"kit.toml\"", "[[item]]\nid = \"a\"\nmass_g = -1\n").find("in kit.toml:3:10") !=
        std::string::npos);
  CHECK(said("library = \"kit.toml\"", "[[itme]]\nid = \"a\"\n").find("did you mean 'item'") !=
        std::string::npos);
  CHECK(said("library_items = [\"a\"]", "").find("library_items without library") != std::string::npos);
  CHECK(said("library = \"kit.toml\"\nlibrary_items = [\"pole-7n\"]", shelf).find("did you mean 'pole-7m'") !=
        std::string::npos);
  // One id in both: said where the trip has it, with the library's line.
  const auto plain = read_trip(test::trip_text, "trip.toml", test::no_files);
  REQUIRE(plain);
  const auto id = plain->rigs.front().item.id;
  CHECK(said("library = \"kit.toml\"", "[[item]]\nid = \"" + id + "\"\nmass_g = 5\n")
            .find("the library 'kit.toml' has it already, in line 1") != std::string::npos);
}

TEST_CASE("an overlay is used only where the trip names it, and then it says so", "[kit][property]") {
  const std::string overlay = R"([learned]
erp_db = -3.2
erp_db_90 = [-6.0, -0.4]
far_noise = 1
far_noise_probability = 0.6
contacts = 143
contacts_per_hour = 21.5

[people]
weekday = [0.1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0]
weekend = [0.2, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0]
)";
  const auto plain = read_trip(test::trip_text, "trip.toml", test::no_files);
  REQUIRE(plain);
  CHECK(plain->learned.file.empty());
  CHECK_FALSE(plain->learned.in_use());
  CHECK(plain->learned.erp_db == 0);
  const auto trip = read_trip(with_head("learned = \"l.toml\""), "trip.toml", one_file("l.toml", overlay));
  if (!trip) FAIL(all_lines(trip.error()));
  CHECK(trip->learned.erp_db == -3.2);
  CHECK(plain->targets.front().partner.environment == noise::Environment::residential);
  CHECK(trip->targets.front().partner.environment == noise::Environment::city);
  CHECK((*trip->listeners.weekday)[20] == 1);
  CHECK(trip->learned.in_use());
  CHECK(trip->learned.file == "l.toml");
  CHECK(trip->learned.contacts == 143);
  CHECK(trip->learned.contacts_per_hour == 21.5);
  CHECK_FALSE(plain->learned.contacts_per_hour);
  CHECK(trip->learned.far_noise == 1);
  CHECK(trip->learned.people);
  const auto broken = read_trip(with_head("learned = \"l.toml\""), "trip.toml",
                                one_file("l.toml", "[learned]\nerp_db = -32\n"));
  REQUIRE_FALSE(broken);
  CHECK(all_lines(broken.error()).find("in l.toml:2:10") != std::string::npos);
  CHECK_FALSE(read_trip(with_head("learned = \"l.toml\""), "trip.toml", one_file("l.toml", "")));
}

TEST_CASE("a library's counts hold in the trip that takes it", "[kit][property]") {
  const std::string text =
      "[[item]]\nid = \"peg\"\nmass_g = 20\ncount = 4\n\n"
      "[[support]]\nid = \"rod\"\nmass_g = 300\nheight_m = 4\nneeds = [\"peg\"]\ncount = 2\n\n"
      "[[item]]\nid = \"lamp\"\nmass_g = 80\ncount = 2\n";
  REQUIRE(read_library(text, "kit.toml"));
  CHECK(read_library(text, "kit.toml")->size() == 3);  // as the file has them
  const auto plain = read_trip(test::trip_text, "trip.toml", test::no_files);
  REQUIRE(plain);
  const auto trip = [&](const std::string& head) {
    auto out = read_trip(with_head(head), "trip.toml", one_file("kit.toml", text));
    if (!out) UNSCOPED_INFO(all_lines(out.error()));
    REQUIRE(out);
    return *out;
  };
  const auto all = trip("library = \"kit.toml\"");
  CHECK(all.items.size() == plain->items.size() + 6);
  CHECK(all.supports.size() == plain->supports.size() + 2);
  CHECK(all.supports[1].item.id == "rod-2");
  CHECK(all.supports[1].needs.size() == 4);
  const auto some = trip("library = \"kit.toml\"\nlibrary_items = [\"rod\"]");
  CHECK(some.supports.size() == plain->supports.size() + 2);
  CHECK(some.items.size() == plain->items.size() + 4);
  const auto one = trip("library = \"kit.toml\"\nlibrary_items = [\"lamp-2\"]");
  CHECK(one.items.size() == plain->items.size() + 1);
}
