// Some thousands of questions that nobody would ask, the same in every run: every reader gets files that were
// spoilt, every option of every command gets values that it did not expect. What is promised of the answers
// stands with the targets. SKERRY_GENERATED=10 makes ten times as many.

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <random>
#include <sstream>

#include "check.hpp"
#include "process.hpp"
#include "targets.hpp"

namespace fs = std::filesystem;

namespace {

/// How many times as many runs as are said; the sanitizers take some ten times as long for each.
double times() {
  const char* wanted = std::getenv("SKERRY_GENERATED");
  return wanted != nullptr ? std::atof(wanted) : skerry::test::instrumented ? 0.1 : 1;
}

/// What readers stumble over: empty, huge, odd numbers; control and direction marks; no UTF-8; other formats'
/// marks; words of the formats themselves.
const std::vector<std::string>& hostile() {
  static const std::vector<std::string> all{"",
                                            " ",
                                            "0",
                                            "-1",
                                            "-0",
                                            "1",
                                            "0.5",
                                            "1e9",
                                            "1e999",
                                            "-1e-320",
                                            "nan",
                                            "inf",
                                            "0x10",
                                            "007",
                                            "1,5",
                                            "99999999999999999999",
                                            "20m",
                                            "14.06",
                                            "2027-02-14",
                                            "2027-02-30",
                                            "0000-00-00",
                                            "9999-12",
                                            "24:00",
                                            "06:00:30",
                                            "25:61",
                                            "-19.70,63.43",
                                            "91,181",
                                            "MH10",
                                            "ZZ99zz",
                                            "cw",
                                            "ft8",
                                            "western-europe",
                                            "true",
                                            "t.toml",
                                            "nowhere/x",
                                            ",",
                                            ",,",
                                            "a,b",
                                            "18,20m",
                                            "6.2@MH10@14:30",
                                            "@@",
                                            "=1+1",
                                            "%s%n",
                                            "$(x)",
                                            "\"",
                                            "'",
                                            "\\",
                                            "<",
                                            ">",
                                            "<EOR>",
                                            "<CALL:5>",
                                            "</script>",
                                            "{",
                                            "[[",
                                            "]",
                                            "\"\"\"",
                                            "#",
                                            ";",
                                            "\t",
                                            "\r\n",
                                            std::string(1, '\0'),
                                            "\x1b[2J",
                                            "\x7f",
                                            "\xc2\x9b"
                                            "31m",
                                            "\xe2\x80\xae",
                                            "\xef\xbb\xbf",
                                            "\xff\xfe",
                                            "\xed\xa0\x80",
                                            "\xf0\x9f\x8f\x9d",
                                            std::string(300, 'x'),
                                            std::string(5000, '9'),
                                            std::string(200, '[')};
  return all;
}

class Spoiler {
 public:
  explicit Spoiler(unsigned seed) : random_(seed) {}

  std::string spoil(std::string text, const std::string& other) {
    const int changes = 1 + below(4);
    for (int i = 0; i < changes; ++i) one_change(text, other);
    return text;
  }
  std::size_t below(std::size_t n) { return n == 0 ? 0 : random_() % n; }
  int below(int n) { return static_cast<int>(below(static_cast<std::size_t>(n))); }
  const std::string& value() { return hostile()[below(hostile().size())]; }

 private:
  /// Begin and length of a random line, or of what stands between two marks in it.
  std::pair<std::size_t, std::size_t> piece(const std::string& text) {
    const auto at = below(text.size() + 1);
    const auto before = text.find_last_of("\n,=:", at == 0 ? 0 : at - 1);
    const auto begin = before == std::string::npos || before >= at ? 0 : before + 1;
    const auto end = std::min(text.find_first_of("\n,=:", at), text.size());
    return {begin, std::max(end, begin) - begin};
  }

  void one_change(std::string& text, const std::string& other) {
    const auto [at, size] = piece(text);
    switch (below(9)) {
      case 0:
      case 1:
      case 2:
        text.replace(at, size, value());
        break;
      case 3:
        text.insert(below(text.size() + 1), value());
        break;
      case 4:
        text.erase(at, size);
        break;
      case 5:
        if (!text.empty()) text[below(text.size())] = static_cast<char>(below(256));
        break;
      case 6: {  // from another file of the kind
        const auto [from, taken] = piece(other);
        text.replace(at, size, other.substr(from, taken));
        break;
      }
      case 7: {  // some of it many times
        const auto part = text.substr(at, std::min<std::size_t>(size + 1, 200));
        for (int k = below(3) == 0 ? 200 : 3; k > 0 && text.size() < 60000; --k) text.insert(at, part);
        break;
      }
      default:
        text.resize(below(text.size() + 1));
    }
  }

  std::mt19937 random_;  // its numbers are the same with every library
};

std::string content(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> seeds_of(const std::string& target) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(SKERRY_SOURCE_DIR "/tests/fuzz/corpus") / target))
    files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  std::vector<std::string> out;
  for (const auto& file : files) {
    // A large one would take the time of many small ones.
    if (fs::file_size(file) < 60000) out.push_back(content(file));
  }
  return out;
}

}  // namespace

TEST_CASE("every reader answers or refuses what generators make of its files", "[fuzz][property]") {
  // By what a run costs: an antenna is solved, a batch line is answered, a word is read.
  const std::map<std::string, int> shares{{"trip", 3000},     {"region", 3000},  {"horizon", 1000},
                                          {"forecast", 1500}, {"places", 3500},  {"batch", 800},
                                          {"tables", 4000},   {"geometry", 200}, {"arguments", 1000}};
  for (const auto& target : skerry::fuzz::targets()) {
    CAPTURE(target.name);
    REQUIRE(shares.count(target.name) == 1);
    const auto seeds = seeds_of(target.name);
    REQUIRE_FALSE(seeds.empty());
    const int runs = static_cast<int>(shares.at(target.name) * times());
    for (int i = 0; i < runs; ++i) {
      Spoiler spoiler(static_cast<unsigned>(i + 1));
      const auto& seed = seeds[static_cast<std::size_t>(i) % seeds.size()];
      const auto bytes = spoiler.spoil(seed, seeds[spoiler.below(seeds.size())]);
      CAPTURE(i);
      REQUIRE_NOTHROW(target.run(bytes));
    }
  }
}

TEST_CASE("every option of every command answers or refuses values that it did not expect",
          "[fuzz][property]") {
  // The shell's completion lists them all: an option added tomorrow is asked tomorrow.
  const auto listed = skerry::fuzz::invoke({"completion", "bash"});
  std::istringstream lines(listed.out);
  // What each command can be asked with, in the folder of the targets.
  const std::vector<std::pair<std::string, std::vector<std::vector<std::string>>>> bases{
      {"pack", {{"t.toml"}}},
      {"kit",
       {{"t.toml"},
        {"add", "item", "--name", "x", "--mass", "20", "--library", "own.toml"},
        {"list", "--library", "k.toml"},
        {"export", "--library", "k.toml"}}},
      {"report", {{"t.toml"}}},
      {"page", {{}}},
      {"path", {{"MH10", "JN45"}}},
      {"sun", {{"MH10"}, {"MH10", "JN45"}}},
      {"ionosphere", {{"MH10"}}},
      {"antenna", {{"t.toml", "--id", "wire"}}},
      {"map", {{"MH10", "--grid", "30", "--hours", "12", "--bands", "20m"}}},
      {"batch", {{}}},
      {"new", {{}, {"x.toml"}}},
      {"explain", {{"t.toml"}, {"MH10", "JN45"}}},
      {"calendar", {{"t.toml"}}},
      {"card", {{"t.toml"}, {"MH10", "JN45"}}},
      {"geojson", {{"t.toml"}, {"MH10", "JN45"}}},
      {"schema", {{"trip"}}},
      {"log", {{"t.toml", "l.adi"}}},
      {"score", {{"s.csv"}, {"--ionosonde", "i.csv"}}},
      {"doctor", {{}}},
      {"forecast", {{"import", "f.json", "-o", "-"}}},
      {"horizon", {{"MH10", "--terrain", "."}}},
      {"where", {{"t.toml", "--terrain", "."}}},
      {"manual", {{}}},
      {"completion", {{"bash"}}},
      {"help", {{}}}};
  std::size_t commands = 0, options = 0, runs = 0;
  Spoiler spoiler(20270214);
  for (std::string line; std::getline(lines, line);) {
    const auto paren = line.find(") words=\"");
    if (paren == std::string::npos) continue;
    const auto command = line.substr(4, paren - 4);
    if (command == "\"\"") continue;
    const auto base =
        std::find_if(bases.begin(), bases.end(), [&](const auto& b) { return b.first == command; });
    CAPTURE(line);
    REQUIRE(base != bases.end());
    ++commands;
    std::istringstream words(line.substr(paren + 9, line.find('"', paren + 9) - paren - 9));
    for (std::string option; words >> option;) {
      if (option[0] != '-') continue;
      ++options;
      const int values = static_cast<int>(std::ceil(8 * times()));
      for (int k = 0; k < values; ++k) {
        std::vector<std::string> args{command};
        const auto& more = base->second[spoiler.below(base->second.size())];
        args.insert(args.end(), more.begin(), more.end());
        args.push_back(option);
        auto value = spoiler.value();
        value.resize(std::min(value.size(), value.find('\0')));  // no argument holds one
        args.push_back(value);
        CAPTURE(args);
        REQUIRE_NOTHROW(skerry::fuzz::invoke(args));
        ++runs;
      }
    }
  }
  CHECK(commands == bases.size());
  CHECK(options > 200);
  CHECK(runs >= options);
}
