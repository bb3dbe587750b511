// `skerry forecast import`, and who reads what it keeps.
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

namespace {

using skerry::test::Folder;
using skerry::test::read;

/// A folder of settings of its own for a while.
struct Settings {
  Folder folder{"forecast"};
  const char* old = std::getenv("XDG_CONFIG_HOME");
  std::string kept = old != nullptr ? old : "";
  Settings() { ::setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1); }
  ~Settings() {
    if (old != nullptr)
      ::setenv("XDG_CONFIG_HOME", kept.c_str(), 1);
    else
      ::unsetenv("XDG_CONFIG_HOME");
  }
  Settings(const Settings&) = delete;
  Settings& operator=(const Settings&) = delete;
  [[nodiscard]] std::string own() const { return folder.file("skerry/forecast.csv"); }
  [[nodiscard]] std::string with(const std::string& name, const std::string& text) const {
    std::ofstream(folder.file(name)) << text;
    return folder.file(name);
  }
};

/// Names from memory of the agencies' files.
constexpr const char* predicted =
    R"([{"time-tag":"2027-01","predicted_ssn":30.0,"high_ssn":50.0,"low_ssn":10.0,"predicted_f10.7":90.0},
        {"time-tag":"2027-02","predicted_ssn":20.0,"high_ssn":40.0,"low_ssn":5.0,"predicted_f10.7":80.0}])";
constexpr const char* observed =
    R"([{"time-tag":"2026-04","ssn":60.0,"smoothed_ssn":55.0,"smoothed_f10.7":110.0},
        {"time-tag":"2026-05","ssn":60.0,"smoothed_ssn":-1.0,"smoothed_f10.7":-1.0}])";

double r12_of_path(const std::vector<std::string>& more = {}) {
  std::vector<std::string> args{"path", "-19.70,63.43", "45.5,9", "--month", "2027-02", "-f", "json"};
  args.insert(args.end(), more.begin(), more.end());
  const auto said = ask(args);
  REQUIRE(said.code == 0);
  return said.json()["r12"];
}

}  // namespace

TEST_CASE("what is imported is what paths and trips are computed with, until it is deleted",
          "[cli][property]") {
  const Settings here;
  const double built_in = r12_of_path();
  const auto trip = SKERRY_SOURCE_DIR "/examples/rodrigues.toml";
  const auto before = ask({"pack", trip, "--show", "conditions"});
  CHECK(ask({"doctor"}).out.find("the built-in one; 'skerry forecast import'") != std::string::npos);

  const auto said =
      ask({"forecast", "import", here.with("p.json", predicted), here.with("o.json", observed)});
  CHECK(said.err.empty());
  REQUIRE(said.code == 0);
  CHECK(said.out.find(
            "p.json: predicted, JSON: smoothed sunspot numbers, version 2; 0.7 of them is R12 (2027-01 to "
            "2027-02, 2 months)") != std::string::npos);
  CHECK(said.out.find("observed to 2026-04 (") != std::string::npos);
  CHECK(said.out.find("predicted 2027-01 to 2027-02") != std::string::npos);
  CHECK(read(here.own())
            .find("\nmonth,r12,low_r12,high_r12,kind\n2026-04,38.5,,,observed\n2027-01,21.0,7.0,35.0,"
                  "forecast\n2027-02,14.0,3.5,28.0,forecast\n") != std::string::npos);
  CHECK(r12_of_path() == 14.0);
  // With what is kept already: other months stay.
  const auto later = here.with("l.json", R"([{"time-tag":"2027-03","predicted_ssn":10.0}])");
  REQUIRE(ask({"forecast", "import", here.own(), later}).code == 0);
  CHECK(read(here.own()).find("\n2027-02,14.0,3.5,28.0,forecast\n2027-03,7.0,,,forecast\n") !=
        std::string::npos);
  // The example is in February 2027.
  const auto now = ask({"pack", trip, "-f", "json"}).json();
  CHECK(now.dump().find("config:forecast.csv") != std::string::npos);
  CHECK(ask({"doctor"}).out.find("yours, observed to 2026-04 (") != std::string::npos);
  // What is told goes before, and a question of a batch depends on nothing but itself.
  CHECK(r12_of_path({"--r12", "77"}) == 77.0);
  CHECK(r12_of_path({"--forecast", here.folder.file("p.json")}) == 14.0);
  const auto batch = ask({"batch"}, R"({"from":[-19.7,63.43],"to":[45.5,9],"month":"2027-02"})");
  CHECK(batch.out.find("\"r12\":14.0") == std::string::npos);

  std::filesystem::remove(here.own());
  CHECK(r12_of_path() == built_in);
  CHECK(ask({"pack", trip, "--show", "conditions"}).out == before.out);
}

TEST_CASE("a report's page is given the forecast that its answers were computed with", "[cli][edge]") {
  const Settings here;
  REQUIRE(ask({"forecast", "import", here.with("p.json", predicted)}).code == 0);
  const auto page = here.folder.file("page.html");
  REQUIRE(ask({"report", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "-o", page}).code == 0);
  CHECK(read(page).find("config:forecast.csv") != std::string::npos);
}

TEST_CASE("a broken forecast of one's own stops what needs it, and doctor says so", "[cli][edge]") {
  const Settings here;
  std::filesystem::create_directories(here.folder.path / "skerry");
  std::ofstream(here.own()) << "month,r12,kind\n2027-02,many,observed\n";
  const auto path = ask({"path", "-19.70,63.43", "45.5,9", "--month", "2027-02"});
  CHECK(path.code == 2);
  CHECK(is_one_line(path.err));
  CHECK(path.err.find("config:forecast.csv:2:1: found 'many'") != std::string::npos);
  const auto pack = ask({"kit", SKERRY_SOURCE_DIR "/examples/rodrigues.toml"});
  CHECK(pack.code == 2);
  CHECK(pack.err.find("config:forecast.csv:2:1: 'many'") != std::string::npos);
  CHECK(ask({"sun", "-19.70,63.43", "--month", "2027-02"}).code == 0);
  const auto doctor = ask({"doctor"});
  CHECK(doctor.code == 0);
  CHECK(doctor.out.find("yours, and it cannot be read: ") != std::string::npos);
  // What mends it.
  CHECK(ask({"forecast", "import", here.with("p.json", predicted)}).code == 0);
  CHECK(r12_of_path() == 14.0);
}

TEST_CASE("import writes elsewhere when asked, and refuses what it cannot take", "[cli][edge]") {
  const Settings here;
  const auto file = here.with("p.json", predicted);
  const auto to = here.folder.file("mine.csv");
  const auto said = ask({"forecast", "import", file, "-o", to, "--index", "f107"});
  REQUIRE(said.code == 0);
  CHECK(said.out.find("R12 from F = 63.7") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(here.own()));
  // Source: ITU-R P.371 (from memory), flux 80 is R12 21.8.
  CHECK(r12_of_path({"--forecast", to}) == Approx(21.8).margin(0.1));
  const auto piped = ask({"forecast", "import", file, "-o", "-"});
  CHECK(piped.code == 0);
  CHECK(piped.out.find("2027-02,14.0,3.5,28.0,forecast") != std::string::npos);
  CHECK(piped.err.find("predicted, JSON") != std::string::npos);
  const auto refused = [&](const std::vector<std::string>& args, const std::string& part) {
    const auto no = ask(args);
    CAPTURE(no.err);
    CHECK(no.code == 2);
    CHECK(is_one_line(no.err));
    CHECK(no.err.find(part) != std::string::npos);
  };
  refused({"forecast", "import", here.with("x.txt", "nothing")}, "x.txt:1:1: found 'nothing'");
  refused({"forecast", "import", file, "--index", "f10"}, "--index");
  refused({"forecast", "import", file, "--numbers", "x"}, "--numbers");
  refused({"forecast", "import"}, "FILE");
  refused({"forecast"}, "forecast");
  refused({"forecast", "import", here.folder.file("none.json")}, "none.json");
  CHECK_FALSE(std::filesystem::exists(here.own()));
}
