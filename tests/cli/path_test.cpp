// What `skerry path` adds to the bare numbers: ledger, spread, ground wave, antipode, disturbances, openings.

#include <cmath>

#include "ask.hpp"
#include "check.hpp"
#include "options.hpp"

using nlohmann::json;

namespace {

json path_answer(std::vector<std::string> args) {
  args.insert(args.begin(), "path");
  args.insert(args.end(), {"--format", "json"});
  const auto said = ask(args);
  REQUIRE(said.code == 0);
  return said.json();
}

/// The number before a word in a text, for ledgers.
double number_before(const std::string& text, const std::string& word, std::size_t from = 0) {
  const auto at = text.find(word, from);
  REQUIRE(at != std::string::npos);
  auto begin = text.find_last_of(' ', at - 2);
  return std::stod(text.substr(begin, at - begin));
}

}  // namespace

TEST_CASE("the ledger of a mode adds up by hand", "[cli][property]") {
  const auto said = ask({"path", "59.53,-1.63", "40.7,-74.0", "--month", "2026-12", "--r12", "62", "--bands",
                         "20m", "--explain", "14,20m"});
  REQUIRE(said.code == 0);
  std::istringstream lines(said.out);
  double sum = 0;
  int modes = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.find(" dB") == std::string::npos || line.rfind("      ", 0) != 0) continue;
    if (line.find("not counted") != std::string::npos) continue;  // what a traced ray would change
    if (line.find("= loss") != std::string::npos) {
      CHECK_THAT(number_before(line, "dB"), WithinAbs(sum, 0.31));  // six terms, each rounded to 0.1
      sum = 0;
      ++modes;
    } else if (line.find("dBW") == std::string::npos && line.find("deciles") == std::string::npos) {
      sum += number_before(line, "dB");
    }
  }
  CHECK(modes >= 2);
  for (const char* word :
       {"control point", "noise there", "noise here", "I am heard", "I hear them", "both ways"}) {
    CHECK(said.out.find(word) != std::string::npos);
  }
}

TEST_CASE("the spread holds the answer between its least and its most", "[cli][property]") {
  const auto j = path_answer({"MH10", "JN45", "--month", "2027-02", "--r12", "60", "--bands", "40m,20m,15m",
                              "--mode", "ft8", "--spread"});
  double widest = 0;
  for (const auto& hour : j["ways"][0]["hours"]) {
    for (const auto& b : hour["bands"]) {
      CHECK(b["least_days_in_ten"] <= b["both_days_in_ten"]);
      CHECK(b["most_days_in_ten"] >= b["both_days_in_ten"]);
      widest = std::max(widest, b["most_days_in_ten"].get<double>() - b["least_days_in_ten"].get<double>());
    }
  }
  CHECK(widest > 0.5);  // the published forms do disagree
}

TEST_CASE("over sea the ground wave carries where the sky does not", "[cli][known]") {
  // Source: common practice: 80 m works along the sea for 100 km and more; 28 MHz at 250 km over sea is in
  // the skip zone.
  const auto near = path_answer({"-15.0,-150.0", "-15.0,-149.2", "--month", "2027-02", "--r12", "60", "--mhz",
                                 "3.53,28.06"});  // 86 km of sea
  for (const auto& hour : near["ways"][0]["hours"]) {
    REQUIRE(hour["bands"][0]["ground_wave"].is_object());
    CHECK(hour["bands"][0]["ground_wave"]["days_in_ten"] > 5);
  }
  const auto far = path_answer(
      {"-15.0,-150.0", "-15.0,-147.7", "--month", "2027-02", "--r12", "5", "--mhz", "28.06", "--es", "off"});
  int skipped = 0;
  for (const auto& hour : far["ways"][0]["hours"]) skipped += hour["bands"][0]["skip_zone"].get<bool>();
  CHECK(skipped == 24);
  const auto beyond = path_answer({"MH10", "JN45", "--month", "2027-02", "--bands", "20m"});
  CHECK(beyond["ways"][0]["hours"][0]["bands"][0]["ground_wave"].is_null());
}

TEST_CASE("near the antipode bearings are called unstable and the better ones listed", "[cli][edge]") {
  const auto j = path_answer(
      {"40.4,-3.7", "-40.9,175.0", "--month", "2027-03", "--r12", "90", "--bands", "20m", "--mode", "ft8"});
  bool said = false;
  for (const auto& c : j["cautions"])
    said = said || c.get<std::string>().find("antipode") != std::string::npos;
  CHECK(said);
  CHECK_FALSE(j["antipodal_bearings"].empty());
  const auto elsewhere = path_answer({"40.4,-3.7", "40.7,-74.0", "--month", "2027-03", "--bands", "20m"});
  CHECK(elsewhere["antipodal_bearings"].empty());
}

TEST_CASE("disturbances mark the paths they concern, without decibels", "[cli][known]") {
  // Source: common practice; the auroral edge at Kp 7 is near 52 degrees, of the polar cap near 60 (US space
  // weather service, from memory).
  const auto polar = path_answer({"64.1,-21.9", "69.6,19.0", "--month", "2026-12", "--r12", "60", "--bands",
                                  "40m", "--kp", "5", "--protons"});
  CHECK(polar["ways"][0]["warnings"].size() == 2);
  const auto low = path_answer({"1.3,103.8", "-6.2,106.8", "--month", "2026-12", "--r12", "60", "--bands",
                                "40m", "--kp", "5", "--protons"});
  CHECK(low["ways"][0]["warnings"].empty());
  const auto calm =
      path_answer({"64.1,-21.9", "69.6,19.0", "--month", "2026-12", "--r12", "60", "--bands", "40m"});
  CHECK(calm["ways"][0]["hours"] == polar["ways"][0]["hours"]);
  const auto flare = path_answer(
      {"1.3,103.8", "-6.2,106.8", "--month", "2026-12", "--r12", "60", "--bands", "40m", "--flare"});
  REQUIRE(flare["ways"][0]["warnings"].size() == 1);
  // Sunlit at 06 UTC (13 h local), dark at 18.
  const auto hours = flare["ways"][0]["warnings"][0]["utc_hours"].get<std::vector<int>>();
  CHECK(std::find(hours.begin(), hours.end(), 6) != hours.end());
  CHECK(std::find(hours.begin(), hours.end(), 18) == hours.end());
}

TEST_CASE("openings are events that agree with the hours around them", "[cli][property]") {
  const auto j = path_answer({"59.53,-1.63", "48.9,2.3", "--month", "2026-12", "--r12", "62", "--bands",
                              "80m,40m,30m", "--power-w", "50"});
  const auto& way = j["ways"][0];
  REQUIRE_FALSE(way["openings"].empty());
  for (const auto& o : way["openings"]) {
    if (o["all_day"]) continue;
    const double start = o["start_utc_h"];
    const double end = o["end_utc_h"];
    CHECK(start >= 0);
    CHECK(start < 24);
    CHECK(end > start);
    CHECK(end <= start + 24);
    const auto days = [&](int h) {
      for (const auto& b : way["hours"][static_cast<std::size_t>(h % 24)]["bands"]) {
        if (b["mhz"] == o["mhz"]) return b["both_days_in_ten"].get<double>();
      }
      return -1.0;
    };
    CHECK(days(static_cast<int>(std::floor(start))) <= 5.01);
    CHECK(days(static_cast<int>(std::ceil(start))) >= 4.99);
  }
}

TEST_CASE("what only the ground wave carries is marked, and says what it needs", "[cli][regression]") {
  // Reason: a ground wave is vertically polarised; a horizontal wire hardly sends one (ITU-R P.368 is for
  // vertical antennas). At noon the D layer takes 80 m from the sky.
  const std::vector<std::string> asked{"path",  "-15.0,-150.0", "-15.0,-148.03", "--month", "2027-02",
                                       "--r12", "60",           "--bands",       "80m"};  // 212 km of sea
  const auto text = ask(asked).out;
  auto with_json = asked;
  with_json.insert(with_json.end(), {"--format", "json"});
  const auto j = ask(with_json).json();
  int marked = 0;
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& b = j["ways"][0]["hours"][h]["bands"][0];
    const double sky = std::min(b["days_in_ten"].get<double>(), b["return_days_in_ten"].get<double>());
    const bool by_ground = b["both_days_in_ten"].get<double>() > sky;
    const auto row = text.find("\n   " + std::string(h < 10 ? "0" : "") + std::to_string(h) + "  ");
    REQUIRE(row != std::string::npos);
    const auto line = text.substr(row + 1, text.find('\n', row + 1) - row - 1);
    CAPTURE(line, sky);
    CHECK((line.find('g') != std::string::npos) == by_ground);
    marked += by_ground;
  }
  CHECK(marked > 0);
  CHECK(text.find("Along the ground, marked g: 80m") != std::string::npos);
  CHECK(text.find("vertical antenna") != std::string::npos);
  // Under 100 km it is told before the sky wave.
  const auto near = ask({"path", "-15.0,-150.0", "-15.0,-149.2", "--month", "2027-02", "--r12", "60"}).out;
  CHECK(near.find("Along the ground") < near.find("by the sky"));
}

TEST_CASE("a place and itself are refused, not answered", "[cli][edge]") {
  for (const char* command : {"path", "explain"}) {
    const auto said = ask({command, "JN45", "JN45", "--month", "2027-02"});
    CAPTURE(command, said.err);
    CHECK(said.code == 2);
    CHECK(is_one_line(said.err));
    CHECK(said.err.find("at least 1 km") != std::string::npos);
  }
}

TEST_CASE("a path that is carried but too weak is not called closed", "[cli][regression]") {
  const auto said = ask({"path", "MH10", "JN45", "--month", "2027-02", "--r12", "60", "--bands", "20m,15m",
                         "--power-w", "0.001"});
  REQUIRE(said.code == 0);
  CHECK(said.out.find("Carried, but too weak: the best, ") != std::string::npos);
  CHECK(said.out.find(" dB of five days in ten") != std::string::npos);
  CHECK(said.out.find("Closed:") == std::string::npos);
}

TEST_CASE("the method's own spread lies inside the spread with the Sun", "[cli][property]") {
  const auto j = path_answer({"MH10", "JN45", "--month", "2027-02", "--r12", "60", "--bands", "20m,15m",
                              "--mode", "ft8", "--spread"});
  for (const auto& hour : j["ways"][0]["hours"]) {
    for (const auto& b : hour["bands"]) {
      CHECK(b["method_least_days_in_ten"] <= b["both_days_in_ten"]);
      CHECK(b["method_most_days_in_ten"] >= b["both_days_in_ten"]);
      CHECK(b["least_days_in_ten"] <= b["method_least_days_in_ten"]);
      CHECK(b["most_days_in_ten"] >= b["method_most_days_in_ten"]);
    }
  }
}

TEST_CASE("a disturbance marks the hours it concerns, or says that the path stays clear", "[cli][known]") {
  // Source: as above; a path by the equator touches neither the auroral zone nor the polar cap.
  const auto low = ask({"path", "1.3,103.8", "-6.2,106.8", "--month", "2026-12", "--r12", "60", "--bands",
                        "40m", "--kp", "5", "--protons"});
  CHECK(low.out.find("stays clear of the auroral zone") != std::string::npos);
  CHECK(low.out.find("stays clear of the polar cap") != std::string::npos);
  CHECK(low.out.find("! ") == std::string::npos);
  const auto polar = ask({"path", "64.1,-21.9", "69.6,19.0", "--month", "2026-12", "--r12", "60", "--bands",
                          "40m", "--kp", "9"});
  CHECK(polar.out.find("! Kp 9") < polar.out.find("  UTC here"));
  CHECK(polar.out.find("\n   12! ") != std::string::npos);
}

TEST_CASE("a Sun predicted far ahead says how far off it may be", "[cli][edge]") {
  const auto far = ask({"path", "MH10", "JN45", "--month", "2040-06", "--bands", "20m"});
  CHECK(far.out.find("months beyond what was observed") != std::string::npos);
  const auto given = ask({"path", "MH10", "JN45", "--month", "2040-06", "--bands", "20m", "--r12", "60"});
  CHECK(given.out.find("months beyond") == std::string::npos);
}

TEST_CASE("an hour to be explained names its band where several are asked for", "[cli][edge]") {
  const std::vector<std::string> question{"path", "MH10", "JN45", "--month", "2027-02", "--explain"};
  const auto with = [&](const std::string& explain, const std::string& bands) {
    auto args = question;
    args.push_back(explain);
    if (!bands.empty()) args.insert(args.end(), {"--bands", bands});
    return ask(args);
  };
  for (const char* text : {"18", "18,20m,40m"}) {
    const auto said = with(text, "");
    CAPTURE(text, said.err);
    CHECK(said.code == 2);
    CHECK(said.err.find("as 18,20m") != std::string::npos);
  }
  CHECK(with("18", "20m").code == 0);
  CHECK(with("18", "20m").out == with("18,20m", "20m").out);
  CHECK(with("18,20m", "").code == 0);
}

TEST_CASE("a number out of its bounds is answered with what it means", "[cli][edge]") {
  const auto said = ask({"path", "MH10", "JN45", "--month", "2027-02", "--skyline-deg", "-5"});
  CHECK(said.code == 2);
  CHECK(said.err.find(
            "found '-5'; expected an elevation in degrees from 0 to 80; height of the ground around") !=
        std::string::npos);
}

TEST_CASE("a clock outside the years that can be computed is not taken for a day", "[cli][edge]") {
  using namespace std::chrono;
  const auto at = [](int year) { return skerry::UtcTime{sys_days{std::chrono::year{year} / 6 / 1}}; };
  for (const int year : {1949, 1970 - 100, 2051, 2107}) {
    CAPTURE(year);
    try {
      (void)skerry::cli::day_by(at(year));
      FAIL("a day was given");
    } catch (const skerry::cli::Stop& stop) {
      CHECK(stop.failure);
      CHECK(stop.errors.front().to_line().find("the system's clock: found the year") != std::string::npos);
    }
  }
  CHECK(skerry::cli::day_by(at(2050)) == skerry::Day{std::chrono::year{2050} / 6 / 1});
}

TEST_CASE("a town's name and a short month are answered with the way to write them", "[cli][edge]") {
  // Names are read: what is none of the list is told from a mistyped position.
  const auto town = ask({"path", "Xyzzyburg", "JN45", "--month", "2027-02"});
  CHECK(town.code == 2);
  CHECK(town.err.find("no one place of that name is known") != std::string::npos);
  const auto month = ask({"path", "MH10", "JN45", "--month", "2027-6"});
  CHECK(month.code == 2);
  CHECK(month.err.find("2027-06") != std::string::npos);
}
