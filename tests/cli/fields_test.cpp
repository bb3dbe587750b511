// One table of fields: an option, a line of `batch` and the trip file draw the same line; the Sun stays
// bounded.
#include "skerry/files/fields.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

using skerry::files::Field;
using skerry::test::Folder;
using skerry::test::read;

namespace {

/// examples/rodrigues.toml with lines more under [trip].
std::string trip_with(const Folder& folder, const std::string& lines) {
  auto text = read(SKERRY_SOURCE_DIR "/examples/rodrigues.toml");
  const std::string head = "[trip]\n";
  text.insert(text.find(head) + head.size(), lines + "\n");
  const auto file = folder.file("trip.toml");
  std::ofstream(file) << text;
  return file;
}

bool option_takes(const std::string& option, double value) {
  return ask({"path", "-19.70,63.43", "JN45", "--month", "2027-02", "--bands", "20m", option,
              fmt::format("{:g}", value)})
             .code == 0;
}

bool batch_takes(const std::string& key, double value) {
  const auto line = fmt::format(
      R"({{"from":"-19.70,63.43","to":"JN45","month":"2027-02","bands":["20m"],"{}":{:g}}})", key, value);
  return ask({"batch"}, line + "\n").out.find("\"error\"") == std::string::npos;
}

}  // namespace

TEST_CASE("a trip, an option and a line of batch draw the same line for the Sun",
          "[cli][fields][regression]") {
  const Folder folder("fields");
  for (const char* key : {"r12", "ssn_v2", "f107"}) {
    const auto& range = skerry::files::field("trip", key).range;
    std::string option = std::string("--") + key;
    std::replace(option.begin(), option.end(), '_', '-');
    for (const double value : {range.least - 1, range.least, range.most, range.most + 1, 380.0, 425.0}) {
      CAPTURE(key, value);
      const bool within = value >= range.least && value <= range.most;
      CHECK(option_takes(option, value) == within);
      CHECK(batch_takes(key, value) == within);
      const auto said = ask({"kit", trip_with(folder, fmt::format("{} = {:g}", key, value))});
      CHECK((said.code == 0) == within);
      if (!within) CHECK(said.err.find(skerry::files::to_text(range)) != std::string::npos);
    }
  }
}

TEST_CASE("every question of a path draws the same line as an option and in a batch",
          "[cli][fields][property]") {
  for (const Field& f : skerry::files::fields_of("question").fields) {
    if (std::string(f.key) == "mhz") continue;  // a list in a batch
    std::string option = std::string("--") + f.key;
    std::replace(option.begin(), option.end(), '_', '-');
    for (const double value : {f.range.least, f.range.most, f.range.least - 0.01, f.range.most + 0.1}) {
      CAPTURE(f.key, value);
      const bool within = skerry::files::good(value, f.range);
      CHECK(option_takes(option, value) == within);
      CHECK(batch_takes(f.key, value) == within);
    }
  }
}

TEST_CASE("the most active Sun allowed has none more active beside it", "[cli][fields][regression]") {
  const Folder folder("fields");
  const auto said = ask({"pack", trip_with(folder, "r12 = 300")});
  CHECK(said.code == 0);
  CHECK(said.out.find("R12 300") != std::string::npos);
  CHECK(said.out.find("R12 350") == std::string::npos);
  const auto spread = ask({"path", "-19.70,63.43", "JN45", "--month", "2027-02", "--r12", "300", "--spread"});
  CHECK(spread.code == 0);
  CHECK(spread.out.find("R12 270 to 300") != std::string::npos);
}

TEST_CASE("any activity near either end may be asked with its spread, its edges and its scenarios",
          "[cli][fields][regression]") {
  const Folder folder("fields");
  for (const int r12 : {0, 1, 2, 29, 30, 31, 269, 271, 298, 299, 300}) {
    CAPTURE(r12);
    const auto said = ask({"path", "-19.70,63.43", "JN45", "--month", "2027-02", "--bands", "20m", "--spread",
                           "--r12", std::to_string(r12)});
    CHECK(said.code == 0);
    CHECK(said.out.find(fmt::format("R12 {} to {}", std::max(0, r12 - 30), std::min(300, r12 + 30))) !=
          std::string::npos);
  }
  for (const char* r12 : {"r12 = 0", "r12 = 299"}) CHECK(ask({"pack", trip_with(folder, r12)}).code == 0);
}

TEST_CASE("an option that takes its range from the table of fields says what it takes",
          "[cli][fields][edge]") {
  const std::string wires = SKERRY_SOURCE_DIR "/examples/antennas/presets.toml";
  const std::string trip = SKERRY_SOURCE_DIR "/examples/rodrigues.toml";
  const std::vector<std::pair<std::vector<std::string>, std::string>> rows{
      {{"antenna", wires, "--slope-deg", "99"}, "degrees, falling away from the antenna from -30 to 30"},
      {{"antenna", wires, "--sea-from-m", "-1"}, "a distance in metres from 0 to 20000"},
      {{"antenna", wires, "--eps-r", "5", "--sigma", "99"}, "a conductivity in S/m from 0 to 10"},
      {{"pack", trip, "--mass-limit-kg", "0"}, "kilograms from 0.1 to 200"},
      {{"path", "0,0", "JN45", "--field-epoch", "1850"}, "a year from 1900 to 2030"},
      {{"path", "0,0", "JN45", "--want-days", "11"}, "days in ten from 0.5 to 9.9"},
      {{"map", "0,0", "--want-days", "11"}, "days in ten from 0.5 to 9.9"},
      {{"path", "0,0", "JN45", "--f107", "380"}, "a solar flux from 60 to 350"}};
  for (const auto& [args, expected] : rows) {
    CAPTURE(expected);
    const auto said = ask(args);
    CHECK(said.code == 2);
    CHECK(said.err.find(expected) != std::string::npos);
  }
}
