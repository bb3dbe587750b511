// What a terminal gets: widths, Unicode and ASCII, colour, and a sign of life.

#include <chrono>
#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"

namespace {

const std::string examples = SKERRY_SOURCE_DIR "/examples/";

struct Terminal {
  int columns = 100;
  bool utf8 = false, no_colour = true, err = false;
  std::chrono::milliseconds patience{60000};
};

Said on(const Terminal& terminal, const std::vector<std::string>& args, const std::string& input = {}) {
  std::istringstream in(input);
  std::ostringstream out, err;
  skerry::cli::World world{.in = in, .out = out, .err = err, .flush = {}};
  world.out_is_terminal = true;
  world.err_is_terminal = terminal.err;
  world.no_colour = terminal.no_colour;
  world.utf8 = terminal.utf8;
  world.columns = terminal.columns;
  world.patience = terminal.patience;
  Said said;
  said.code = skerry::cli::run(args, world);
  said.out = out.str();
  said.err = err.str();
  return said;
}

std::size_t width(const std::string& line) {
  return static_cast<std::size_t>(std::count_if(
      line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::size_t widest(const std::string& text) {
  std::size_t most = 0;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) most = std::max(most, width(line));
  return most;
}

/// Text without its colour sequences (ECMA-48: ESC [ ... m).
std::string uncoloured(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\x1b') {
      out += text[i];
      continue;
    }
    REQUIRE(text.substr(i, 2) == "\x1b[");
    i = text.find('m', i);
    REQUIRE(i != std::string::npos);
  }
  return out;
}

bool is_ascii(const std::string& text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

const std::vector<std::vector<std::string>> commands{
    {"pack", examples + "rodrigues.toml", "--show", "all"},
    {"pack", examples + "fair_isle.toml", "--show", "all"},
    {"pack", examples + "lord_howe.toml"},
    {"kit", examples + "lord_howe.toml"},
    {"path", "MH10", "JN45", "--month", "2027-02"},
    {"path", "MH10", "JN45", "--month", "2027-02", "--spread"},
    {"explain", "MH10", "JN45", "--month", "2027-02"},
    {"explain", "MH10", "JN45", "--month", "2027-02", "--teach"},
    {"explain", examples + "fair_isle.toml"},
    {"sun", "59.53,-1.63", "JN45", "--date", "2026-12-29"},
    {"ionosphere", "59.53,-1.63", "--month", "2026-12"},
    {"antenna", examples + "rodrigues.toml", "--mhz", "14.06"},
    {"card", examples + "rodrigues.toml"},
};

}  // namespace

TEST_CASE("text keeps within 80 and 120 columns, in ASCII and in Unicode", "[cli][property]") {
  for (const auto& args : commands) {
    for (const int columns : {80, 120}) {
      for (const bool utf8 : {false, true}) {
        CAPTURE(args, columns, utf8);
        const auto said = on({.columns = columns, .utf8 = utf8}, args);
        REQUIRE(said.code == 0);
        CHECK(widest(said.out) <= static_cast<std::size_t>(columns));
        if (!utf8) CHECK(is_ascii(said.out));
        CHECK(said.out.find('\x1b') == std::string::npos);
      }
    }
  }
}

TEST_CASE("strips have bars where the terminal knows Unicode, and the same numbers", "[cli][property]") {
  for (const auto& args : {commands[0], commands[4]}) {
    CAPTURE(args);
    const auto plain = on({}, args).out;
    auto bars = on({.utf8 = true}, args).out;
    CHECK(plain != bars);
    // Without the bars it is the plain text again.
    for (const char* bar : {"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"}) {
      for (auto at = bars.find(bar); at != std::string::npos; at = bars.find(bar)) bars.replace(at, 3, " ");
    }
    for (auto at = bars.find("·"); at != std::string::npos; at = bars.find("·")) bars.replace(at, 2, ".");
    CHECK(bars == plain);
    auto ascii = args;
    ascii.push_back("--ascii");
    CHECK(on({.utf8 = true}, ascii).out == plain);
  }
}

TEST_CASE("colour comes on a terminal only, changes no letter, and NO_COLOR takes it away",
          "[cli][property]") {
  for (const auto& args : {commands[1], commands[4]}) {
    CAPTURE(args);
    const auto plain = on({.no_colour = true}, args).out;
    const auto colour = on({.no_colour = false}, args).out;
    CHECK(colour.find("\x1b[48;5;") != std::string::npos);
    CHECK(uncoloured(colour) == plain);
    CHECK(ask(args).out.find('\x1b') == std::string::npos);
  }
}

TEST_CASE("a file gets neither colour nor bars, whatever the terminal", "[cli][edge]") {
  const auto file = std::filesystem::temp_directory_path() / "skerry-terminal-test.txt";
  std::filesystem::remove(file);
  auto args = commands[4];
  args.insert(args.end(), {"-o", file.string()});
  REQUIRE(on({.columns = 80, .utf8 = true, .no_colour = false}, args).code == 0);
  std::ifstream in(file);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  CHECK(text == ask(commands[4]).out);
  std::filesystem::remove(file);
}

TEST_CASE("who waits on a terminal sees that work goes on, and nothing of it is left", "[cli][property]") {
  using namespace std::chrono_literals;
  const std::vector<std::string> slow{"map", "MH10", "--month", "2027-02", "--grid", "5"};
  const auto said = on({.err = true, .patience = 1ms}, slow);
  REQUIRE(said.code == 0);
  CAPTURE(said.err);
  REQUIRE(said.err.rfind("\rskerry: map: ", 0) == 0);
  CHECK(said.err.find(" s") != std::string::npos);
  // The last thing written blanks the line and goes back to its start.
  const auto last = said.err.rfind('\r', said.err.size() - 2);
  CHECK(said.err.back() == '\r');
  CHECK(said.err.substr(last + 1).find_first_not_of(" \r") == std::string::npos);
  CHECK(said.out == on({}, slow).out);
  // Not within the first second, not into a file or pipe.
  CHECK(on({.err = true, .patience = 60s}, slow).err.empty());
  CHECK(on({.err = false, .patience = 1ms}, slow).err.empty());
}

TEST_CASE("an error after a sign of life stands on a line of its own", "[cli][edge]") {
  using namespace std::chrono_literals;
  const auto said = on({.err = true, .patience = 0ms}, {"pack", examples + "no-such-file.toml"});
  CHECK(said.code == 2);
  const auto at = said.err.rfind('\r');
  CHECK(is_one_line(at == std::string::npos ? said.err : said.err.substr(at + 1)));
}

TEST_CASE("the option --ascii makes names plain too", "[cli][edge]") {
  const auto file = std::filesystem::temp_directory_path() / "skerry-terminal-test.toml";
  {
    std::ifstream in(examples + "rodrigues.toml");
    std::string text{std::istreambuf_iterator<char>(in), {}};
    const auto at = text.find("name = \"") + 8;
    text.replace(at, text.find('"', at) - at, "Île Plate, Süd");
    std::ofstream(file) << text;
  }
  for (const char* command : {"pack", "kit"}) {
    CAPTURE(command);
    const auto plain = ask({command, file.string(), "--ascii"});
    REQUIRE(plain.code == 0);
    CHECK(is_ascii(plain.out));
    CHECK(plain.out.rfind("Ile Plate, Sued", 0) == 0);
    CHECK(ask({command, file.string()}).out.rfind("Île Plate, Süd", 0) == 0);
  }
  std::filesystem::remove(file);
}
