// What is shown is what was computed: openings, cards, worksheets and contrasts as a user asks for them.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

namespace {

const std::string examples = SKERRY_SOURCE_DIR "/examples/";
using skerry::test::Folder;

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> out;
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

/// The lines between one that starts so and the next empty one.
std::vector<std::string> section(const std::string& text, const std::string& start) {
  std::vector<std::string> out;
  bool in = false;
  for (const auto& line : lines_of(text)) {
    if (line.rfind(start, 0) == 0) {
      in = true;
    } else if (in && (line.empty() || line[0] != ' ')) {
      break;
    } else if (in) {
      out.push_back(line);
    }
  }
  return out;
}

}  // namespace

TEST_CASE("openings are told to the quarter of an hour", "[cli][regression]") {
  const std::regex clock("([0-9]{2}):([0-9]{2})");
  int seen = 0;
  for (const char* to : {"-26.2,28.0", "JN45", "12.9,77.6"}) {
    const auto said = ask({"path", "-19.70,63.43", to, "--month", "2027-02", "--power-w", "100"});
    REQUIRE(said.code == 0);
    for (const auto& line : section(said.out, "Openings at")) {
      for (auto i = std::sregex_iterator(line.begin(), line.end(), clock); i != std::sregex_iterator(); ++i) {
        ++seen;
        CHECK(std::stoi((*i)[2]) % 15 == 0);
      }
    }
  }
  CHECK(seen > 30);
}

TEST_CASE("under a disturbance the openings are marked like the cells of their hours", "[cli][regression]") {
  const std::vector<std::string> question{"path",    "64.1,-21.9", "59.5,-1.6", "--month",
                                          "2027-02", "--power-w",  "100"};
  const auto quiet = ask(question);
  for (const auto& line : section(quiet.out, "Openings at")) CHECK(line.find('!') == std::string::npos);
  struct Row {
    std::vector<std::string> said;
    bool all;
  };
  for (const auto& row : {Row{{"--kp", "7"}, true}, Row{{"--flare"}, false}}) {
    auto asked = question;
    asked.insert(asked.end(), row.said.begin(), row.said.end());
    const auto said = ask(asked);
    CAPTURE(said.out, said.err);
    REQUIRE(said.code == 0);
    std::set<int> warned;
    const std::regex hour("^   ([0-9]{2})!.*");
    for (const auto& line : lines_of(said.out)) {
      std::smatch m;
      if (std::regex_match(line, m, hour)) warned.insert(std::stoi(m[1]));
    }
    REQUIRE_FALSE(warned.empty());
    const std::regex event("([0-9]{2}):([0-9]{2}) to ([0-9]{2}):([0-9]{2})(!?)");
    int events = 0;
    for (const auto& line : section(said.out, "Openings at")) {
      for (auto i = std::sregex_iterator(line.begin(), line.end(), event); i != std::sregex_iterator(); ++i) {
        ++events;
        // The hours of the table that it touches, from its own clock.
        const double start = std::stoi((*i)[1]) + std::stoi((*i)[2]) / 60.0;
        double end = std::stoi((*i)[3]) + std::stoi((*i)[4]) / 60.0;
        if (end < start) end += 24;
        bool touched = false;
        for (auto h = std::lround(start); h <= std::lround(end); ++h)
          touched = touched || warned.count(static_cast<int>(h % 24)) > 0;
        CAPTURE(line);
        CHECK((*i)[5].length() == (touched ? 1 : 0));
      }
    }
    CHECK(events > 0);
  }
}

TEST_CASE("what the ground wave alone carries stands apart, with the antenna it needs", "[cli][regression]") {
  const std::vector<std::string> question{"path",      "50.0,0.0", "50.4,0.0", "--month",    "2027-02",
                                          "--power-w", "100",      "--bands",  "80m,40m,20m"};
  const auto said = ask(question);
  REQUIRE(said.code == 0);
  CAPTURE(said.out);
  const auto ground =
      section(said.out, "Along the ground, only with vertical antennas low down at both ends");
  REQUIRE_FALSE(ground.empty());
  for (const auto& line : ground) CHECK(line.find("all day") != std::string::npos);
  // 20 m has no sky wave 44 km out: under the sky's openings it must not stand.
  for (const auto& line : section(said.out, "Openings at")) CHECK(line.find("20m") == std::string::npos);
  auto as_json = question;
  as_json.insert(as_json.end(), {"-f", "json"});
  const auto j = ask(as_json).json();
  bool found = false;
  for (const auto& o : j["ways"][0]["openings"]) {
    if (o["band"] != "20m") continue;
    found = true;
    CHECK(o["by_ground"] == true);
  }
  CHECK(found);
  const auto card = ask(
      {"card", "50.0,0.0", "50.4,0.0", "--month", "2027-02", "--power-w", "100", "--bands", "80m,40m,20m"});
  CAPTURE(card.out);
  CHECK(card.out.find("20m all day") == std::string::npos);
  CHECK(std::regex_replace(card.out, std::regex("\\s+"), " ").find("only with low verticals at both ends") !=
        std::string::npos);
}

TEST_CASE("a card of two places names a band and another for each part of the day, never the same",
          "[cli][property]") {
  const std::regex part(
      "^(all day    |[0-9]{2}:30-[0-9]{2}:30) ([0-9]+m) \\([0-9-]+\\) +(nothing else|([0-9]+m) \\([0-9-]+\\))$");
  int parts = 0;
  for (const char* to : {"-26.2,28.0", "JN45", "12.9,77.6", "-31.5,159.1"}) {
    const auto said = ask({"card", "-19.70,63.43", to, "--month", "2027-02", "--power-w", "100"});
    CAPTURE(said.out);
    REQUIRE(said.code == 0);
    for (const auto& line : lines_of(said.out)) {
      CHECK(line.size() <= 44);
      std::smatch m;
      if (!std::regex_match(line, m, part)) continue;
      ++parts;
      CHECK(m[2] != m[4]);
    }
  }
  CHECK(parts >= 8);
}

TEST_CASE("the card of Lord Howe holds what opens and says what is left off", "[cli][regression]") {
  // Western Europe opens some 4 of 41 hours on the air, New Zealand all of them.
  const auto said = ask({"card", examples + "lord_howe.toml"});
  REQUIRE(said.code == 0);
  CAPTURE(said.out);
  std::string regions;
  for (const auto& line : lines_of(said.out)) {
    if (line.size() > 2 && line[0] >= 'A' && line[0] <= 'I' && line[1] == ' ' &&
        line.find(" km") != std::string::npos)
      regions += line + "\n";
  }
  CHECK(regions.find("Western Europe") == std::string::npos);
  CHECK(regions.find("Japan") != std::string::npos);
  CHECK(regions.find("New Zealand") != std::string::npos);
  CHECK(std::regex_search(said.out, std::regex("not here: [^:]*\\(open [0-9]+ of[ \n]+[0-9]+ h\\)")));
  CHECK(std::regex_search(said.out, std::regex("\nWITH [0-9 ]+m ")));
}

TEST_CASE("a worksheet names towns and has the hop table of one layer height", "[cli][property]") {
  const auto said = ask({"explain", "-19.70,63.43", "JN45", "--month", "2027-02", "--teach"});
  REQUIRE(said.code == 0);
  CAPTURE(said.out);
  CHECK(std::regex_search(
      said.out, std::regex("Where: near end [^;]*[A-Z][a-z]+; far end [0-9]+ km [a-z-]+ of [A-Z]")));
  CHECK(said.out.find("The hop table: a mirror at 110 km (E) or 300 km (F2)") != std::string::npos);
  // Source: closed form, 2 R acos(R / (R + h)) with R = 6371 km.
  const double most = 2 * 6371.009 * std::acos(6371.009 / 6671.009);
  char row[64];
  std::snprintf(row, sizeof row, "%.0f km         -   0.0 deg", most);
  CHECK(said.out.find(row) != std::string::npos);
  // 9072 km in three hops of 3024 km.
  CHECK(said.out.find("off F2 3 hops of 3024 km") != std::string::npos);
}

TEST_CASE("a contrast changes one thing alone, in words and as a picture", "[cli][property]") {
  const std::vector<std::string> question{"explain", "-19.70,63.43", "-26.2,28.0", "--month", "2027-02",
                                          "--r12",   "60",           "--bands",    "40m,20m"};
  const Folder folder("contrast");
  const auto with = [&](const std::string& what) {
    auto asked = question;
    asked.insert(asked.end(), {"--contrast", what, "--pictures", folder.file("out")});
    return ask(asked);
  };
  struct Row {
    const char *what, *heading, *absent;
  };
  for (const auto& row :
       {Row{"month=2027-08", "only the month changes: 2027-02 and 2027-08", ", 2027-02, R12"},
        Row{"r12=140", "only the Sun's activity changes: R12 60 and R12 140", ", R12 60."},
        Row{"power=100", "only the power sent changes: 10 W and 100 W", ", 10 W with"},
        Row{"antenna=6", "only the antenna here changes: a usual home antenna and +6 dBi", " here, 100 W"},
        Row{"hour=6,18", "only the hour changes: 06 UTC and 18 UTC", "stands for"}}) {
    const auto said = with(row.what);
    CAPTURE(row.what, said.out, said.err);
    REQUIRE(said.code == 0);
    std::string flat = std::regex_replace(said.out, std::regex("\\s+"), " ");
    CHECK(flat.find(row.heading) != std::string::npos);
    CHECK(flat.find(row.absent) == std::string::npos);
    std::ifstream in(std::filesystem::path(folder.file("out")) / "contrast.svg");
    const std::string svg{std::istreambuf_iterator<char>(in), {}};
    CHECK(svg.rfind("<?xml", 0) == 0);
    CHECK(svg.find("</svg>") != std::string::npos);
  }
  // The numbers are those of `path`.
  const auto path = ask({"path", "-19.70,63.43", "-26.2,28.0", "--month", "2027-02", "--r12", "60", "--bands",
                         "40m,20m", "-f", "json"})
                        .json();
  const auto said = with("power=100").out;
  std::string row;
  for (const auto& line : lines_of(said)) {
    if (line.rfind("  20m A", 0) == 0) row = line;
  }
  REQUIRE(row.size() == 7 + 72);
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& b = path["ways"][0]["hours"][h]["bands"][1];
    const double days = b["both_days_in_ten"].get<double>();
    CAPTURE(h, row, days);
    const auto cell = row.substr(row.size() - 72 + 3 * h, 3);
    if (days >= 0.5) CHECK(std::stod(cell) == std::floor(std::round(100 * days) / 100 + 0.5));
  }
  for (const char* wrong :
       {"month", "weather=good", "hour=6", "hour=6,6", "power=0", "month=2027-02", "r12=4000"}) {
    const auto refused = with(wrong);
    CAPTURE(wrong, refused.err);
    CHECK(refused.code == 2);
    CHECK(is_one_line(refused.err));
  }
}

TEST_CASE("days in ten are whole where a person reads them", "[cli][regression]") {
  const Folder folder("whole");
  REQUIRE(ask({"report", examples + "rodrigues.toml", "--pictures", folder.file("p")}).code == 0);
  int pictures = 0;
  const std::regex broken("[0-9]\\.[0-9]+ days in ten");
  for (const auto& f : std::filesystem::directory_iterator(folder.file("p"))) {
    std::ifstream in(f.path());
    const std::string svg{std::istreambuf_iterator<char>(in), {}};
    ++pictures;
    CAPTURE(f.path().string());
    CHECK_FALSE(std::regex_search(svg, broken));
  }
  CHECK(pictures > 10);
}

TEST_CASE("the card of the page keeps to the rows that a sheet holds, and names what it leaves off",
          "[cli][regression]") {
  for (const char* trip : {"rodrigues", "lord_howe", "fair_isle"}) {
    CAPTURE(trip);
    const auto page = ask({"report", examples + trip + ".toml"}).out;
    const auto from = page.find("<section class=\"card\""), to = page.find("</section>", from);
    REQUIRE(to != std::string::npos);
    const auto card = page.substr(from, to - from);
    std::size_t rows = 0;
    for (auto at = card.find("<tr"); at != std::string::npos; at = card.find("<tr", at + 1)) ++rows;
    // Two sites: five regions of two bands each.
    CHECK(rows <= 40);
    CHECK(rows > 25);
    CHECK(std::regex_search(card, std::regex("Not on this card: .*\\((closed|open [0-9]+ of [0-9]+ h)\\)")));
  }
}
