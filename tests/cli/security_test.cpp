// What a stranger's trip file or question can do to the one who reads the answer: nothing. And what the
// program can do to the world: read the files it is given, write the file it is asked for.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>

#include "ask.hpp"
#include "check.hpp"
#include "process.hpp"
#include "skerry/core/text.hpp"

namespace fs = std::filesystem;

namespace {

/// A trip all of whose names were chosen by an attacker.
struct Attack {
  fs::path folder = fs::temp_directory_path() / ("skerry-attack-" + std::to_string(::getpid()));
  std::string trip = (folder / "t.toml").string();
  Attack() {
    fs::create_directories(folder);
    std::ofstream(folder / "r.geojson")
        << R"x({"type":"Feature","properties":{"name":"</script><b onclick=x>\u202Egpj.\u001b[31m\u009b",)x"
        << R"x("id":"=HYPERLINK(1)"},"geometry":{"type":"Polygon",)x"
        << R"x("coordinates":[[[0,50],[2,50],[2,52],[0,52]]]}})x";
    std::ifstream in(SKERRY_SOURCE_DIR "/tests/fuzz/corpus/trip/whole.toml");
    std::string text{std::istreambuf_iterator<char>(in), {}};
    const auto put = [&](const std::string& from, const std::string& to) {
      const auto at = text.find(from);
      REQUIRE(at != std::string::npos);
      text.replace(at, from.size(), to);
    };
    put("\"Test island\"", R"("</title><script>alert(1)</script>\"'&;,\\n")");
    put("preset = \"western-europe\"", "file = \"r.geojson\"");
    put("\"10 W set\"", R"("=cmd|' /C calc'!A0")");
    put("\"end-fed wire\"", R"("+1<img src=x onerror=y>")");
    put("\"6 m pole\"", R"("@SUM(1)\\,;END:VEVENT")");
    // So that there is something to pack and to show.
    put("wire_m = 20.4", "wire_m = 20.2");
    put("days = [2027-02-14]\n", "");
    put("\"06:00\"", "\"00:00\"");
    put("\"09:00\"", "\"24:00\"");
    put("mass_limit_kg = 4.2", "mass_limit_kg = 9");
    std::ofstream(trip) << text;
  }
  ~Attack() { fs::remove_all(folder); }
  Attack(const Attack&) = delete;
  Attack& operator=(const Attack&) = delete;
};

/// Nothing in it steers a terminal or an editor.
bool harmless(std::string_view text) {
  while (!text.empty()) {
    const auto c = skerry::take_character(text);
    if (!c || (skerry::steers_screen(*c) && *c != '\n' && *c != '\r')) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("names chosen by an attacker stay text in every answer", "[cli][edge]") {
  const Attack attack;
  for (const auto& args : {std::vector<std::string>{"pack", attack.trip},
                           {"pack", attack.trip, "-f", "json"},
                           {"pack", attack.trip, "-f", "csv"},
                           {"kit", attack.trip},
                           {"kit", attack.trip, "-f", "json"},
                           {"kit", attack.trip, "-f", "csv"},
                           {"report", attack.trip},
                           {"calendar", attack.trip},
                           {"card", attack.trip},
                           {"geojson", attack.trip},
                           {"explain", attack.trip},
                           {"antenna", attack.trip},
                           {"antenna", attack.trip, "-f", "csv"}}) {
    const auto said = ask(args);
    CAPTURE(args[0], args.size() > 3 ? args[3] : "", said.err);
    REQUIRE(said.code == 0);
    CHECK(harmless(said.out));
  }
  // A page: no element and no script but its own two.
  const auto page = ask({"report", attack.trip}).out;
  CHECK(page.find("<script>alert") == std::string::npos);
  CHECK(page.find("<img") == std::string::npos);
  CHECK(page.find("<b onclick") == std::string::npos);
  CHECK(page.find("Content-Security-Policy\" content=\"default-src 'none'") != std::string::npos);
  CHECK(page.find("unsafe-inline") == std::string::npos);
  // A module of WebAssembly may be compiled, where the page carries one; text may not.
  CHECK(page.find(" 'unsafe-eval'") == std::string::npos);
  // A spreadsheet: no cell begins as a formula does, unless it is a number.
  for (const auto& args :
       {std::vector<std::string>{"pack", attack.trip, "-f", "csv"}, {"kit", attack.trip, "-f", "csv"}}) {
    const auto csv = ask(args).out;
    const std::regex formula(R"x((^|[,\n])"?[=+@])x");
    CHECK_FALSE(std::regex_search(csv, formula));
  }
  const auto csv = ask({"kit", attack.trip, "-f", "csv"}).out;
  CHECK(csv.find("\"'=cmd|") != std::string::npos);
  // A calendar: properties begin at line starts only where the program puts them. Source: RFC 5545, 3.3.11.
  const auto ics = ask({"calendar", attack.trip}).out;
  std::size_t begun = 0, ended = 0;
  for (auto at = ics.find("\nBEGIN:VEVENT"); at != std::string::npos; at = ics.find("\nBEGIN:VEVENT", at + 1))
    ++begun;
  for (auto at = ics.find("\nEND:VEVENT"); at != std::string::npos; at = ics.find("\nEND:VEVENT", at + 1))
    ++ended;
  CHECK(begun > 0);
  CHECK(begun == ended);
  // JSON stays JSON.
  CHECK(nlohmann::json::accept(ask({"geojson", attack.trip}).out));
  CHECK(ask({"pack", attack.trip, "-f", "json"}).json()["trip"].get<std::string>().find("<script>") !=
        std::string::npos);
}

TEST_CASE("messages show what was typed without obeying it", "[cli][edge]") {
  for (const std::string& bad : {std::string("\x1b[2J"),
                                 std::string("\xc2\x9b"
                                             "2J"),
                                 std::string("\xe2\x80\xae"
                                             "abc"),
                                 std::string("\xff\xfe"), std::string("a\nb"), std::string(100000, 'x')}) {
    for (const auto& args : {std::vector<std::string>{"sun", bad},
                             {bad},
                             {"sun", "MH10", "--date", bad},
                             {"sun", "MH10", "--" + bad},
                             {"path", "MH10", "JN45", "--mhz", bad},
                             {"pack", bad},
                             {"path", "MH10", "JN45", "--forecast", bad},
                             {"sun", "MH10", "--zone", bad},
                             {"antenna", SKERRY_SOURCE_DIR "/examples/rodrigues.toml", "--id", bad},
                             {"schema", bad},
                             {"sun", "MH10", "-f", bad},
                             {"new", "--name", bad, "--at", bad}}) {
      const auto said = ask(args);
      CAPTURE(args[0], said.err.substr(0, 300));
      CHECK(said.code == 2);
      CHECK(is_one_line(said.err));
      CHECK(harmless(said.err));
      CHECK(said.err.size() < 1500);
    }
  }
}

TEST_CASE("what a table or a file's name holds steers no terminal", "[cli][edge]") {
  const Attack attack;
  const std::string evil = "e\x1b[2Jv\xe2\x80\xaei\xc2\x9bl\xff";
  const auto table = (attack.folder / "sondes.csv").string();
  std::ofstream(table) << "station,place,month,utc_hour,fof2_mhz\n\"=" << evil
                       << "\rx\",JO31,2020-06,12,6.1\n";
  for (const std::string format : {"text", "csv", "json"}) {
    const auto said = ask({"score", "--ionosonde", table, "-f", format});
    CAPTURE(format, said.out, said.err);
    CHECK(said.code == 0);
    CHECK(harmless(said.out));
    // In sentences such a mark is a '?', data keep it.
    CHECK((said.out.find("\\u202e") != std::string::npos) == (format != "text"));
    // A file is no safer a place than the screen.
    const auto file = (attack.folder / "answer").string();
    CHECK(ask({"score", "--ionosonde", table, "-f", format, "-o", file}).code == 0);
    std::ifstream in(file);
    const std::string written{std::istreambuf_iterator<char>(in), {}};
    CHECK(written == said.out);
  }
  // JSON reads the same text again.
  const auto again = ask({"score", "--ionosonde", table, "-f", "json"}).json();
  CHECK(again["fof2"]["by_station"][0]["group"].get<std::string>().find("v\xe2\x80\xaei\xc2\x9bl") !=
        std::string::npos);
  const auto named = (attack.folder / ("n" + evil + ".toml")).string();
  const auto fresh = ask({"new", named, "--first-day", "2027-02-14"});
  CHECK(fresh.code == 0);
  CHECK(fresh.out.find("wrote ") != std::string::npos);
  CHECK(harmless(fresh.out));
  const auto added =
      ask({"kit", "add", "item", "--name", "whistle", "--mass", "20", "--library", named + "k"});
  CHECK(added.code == 0);
  CHECK(added.out.find("added to ") != std::string::npos);
  CHECK(harmless(added.out));
  const auto log = attack.folder / "l.adi";
  std::ofstream(log)
      << "<CALL:6>QQ1AAA<QSO_DATE:8>20270214<TIME_ON:4>0700<BAND:3>20m<MODE:2>CW<GRIDSQUARE:4>JO01<EOR>"
         "<CALL:6>QQ1AAB<QSO_DATE:8>20270214<TIME_ON:4>0705<BAND:3>20m<MODE:2>CW<GRIDSQUARE:4>JO01<EOR>";
  const auto learned = ask({"log", attack.trip, log.string(), "--learn", named + "l"});
  CAPTURE(learned.err);
  CHECK(learned.code == 0);
  CHECK(learned.err.find("wrote ") != std::string::npos);
  CHECK(harmless(learned.err));
}

TEST_CASE("the program knows no network, and starts none but a terminal's pager", "[cli][property]") {
  // A program that opens connections imports the functions for it, whatever it does with them.
  const auto names =
      skerry::test::run_program({"/usr/bin/nm", "-D", "--undefined-only", SKERRY_BINARY_DIR "/skerry"});
  if (names.code != 0) return;  // no binutils
  CHECK(names.out.find(" write") != std::string::npos);
  std::istringstream lines(names.out);
  for (std::string line; std::getline(lines, line);) {
    std::string name = line.substr(line.rfind(' ') + 1);
    name = name.substr(0, name.find('@'));
    if (skerry::test::instrumented) continue;  // sanitizers and counters bring their own
    for (const char* forbidden :
         {"socket", "connect", "getaddrinfo", "gethostbyname", "send", "sendto", "recv", "bind", "listen",
          "accept", "curl_easy_init", "system", "popen", "execve", "execvp", "fork", "dlopen"}) {
      CAPTURE(name);
      CHECK(name != forbidden);
    }
  }
  // posix_spawn is there for the pager alone (pager_test.cpp): nothing is started where no terminal is.
  const auto mark = fs::temp_directory_path() / ("skerry-pager-" + std::to_string(::getpid()));
  skerry::test::Setting s;
  s.environment = {{"SKERRY_PAGER", "touch " + mark.string()}, {"TERM", "xterm"}};
  CHECK(skerry::test::run_program({SKERRY_BINARY_DIR "/skerry", "schema", "trip"}, s).code == 0);
  CHECK_FALSE(fs::exists(mark));
}

TEST_CASE("a batch opens no file, bounds each line and goes on after a bad one", "[cli][edge]") {
  const std::string good =
      R"({"id":1,"from":"MH10","to":"JN45","month":"2027-02","bands":["20m"],"hours":[12]})"
      "\n";
  const std::string input = R"({"forecast":"/etc/passwd"})"
                            "\n" +
                            good +
                            R"({"from":"@/etc/passwd","to":"0,0"})"
                            "\n" +
                            std::string(3U << 20U, '{') + "\n" + std::string(1, '\0') + "\n\xff\n" + good;
  const auto file = fs::temp_directory_path() / ("skerry-batch-" + std::to_string(::getpid()));
  std::ofstream(file, std::ios::binary) << input;
  skerry::test::Setting s;
  s.in = file.string();
  const std::string program = SKERRY_BINARY_DIR "/skerry";
  const auto said = skerry::test::run_program({program, "batch"}, s);
  CHECK(said.code == 2);  // some lines could not be answered, and all were looked at
  CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 7);
  CHECK(said.out.find("root:") == std::string::npos);
  if (!skerry::test::instrumented) CHECK(said.most_mb < 200);
  // The largest question there is: a hundred frequencies, both ways, every mode told.
  std::string largest =
      R"({"from":"MH10","to":"JN45","month":"2027-02","way":"both","modes":true,"mhz":[1.6)";
  for (int i = 1; i < 100; ++i) largest += "," + std::to_string(1.6 + 0.28 * i);
  std::ofstream(file, std::ios::binary | std::ios::trunc) << largest << "]}\n";
  const auto large = skerry::test::run_program({program, "batch"}, s);
  CHECK(large.code == 0);
  CHECK(large.out.find("\"error\"") == std::string::npos);
  if (!skerry::test::instrumented) CHECK(large.cpu_s < 5);
  fs::remove(file);
  // What it opens, where the system can tell.
  if (!fs::exists("/usr/bin/strace")) {
    WARN("skipped: strace is not installed");
    return;
  }
  std::ofstream(file, std::ios::binary | std::ios::trunc) << input;
  const auto traced = skerry::test::run_program(
      {"/usr/bin/strace", "-f", "-e", "trace=open,openat,socket,connect,execve", program, "batch"}, s);
  fs::remove(file);
  if (traced.code != 0) return;  // tracing is not allowed here
  CHECK(traced.err.find("socket(") == std::string::npos);
  CHECK(traced.err.find("execve(") == traced.err.rfind("execve("));  // itself
  std::istringstream lines(traced.err);
  for (std::string line; std::getline(lines, line);) {
    if (line.find("open") == std::string::npos || line.find('"') == std::string::npos) continue;
    CAPTURE(line);
    CHECK((line.find("/lib") != std::string::npos || line.find("/etc/ld.so") != std::string::npos ||
           line.find("/sys/") != std::string::npos || line.find("/proc/") != std::string::npos));
  }
}

TEST_CASE("outside cli and os nothing looks at the clock, the locale or the environment", "[cli][property]") {
  const std::regex banned(
      R"((system_clock::now|steady_clock|std::locale|setlocale|getenv|current_zone|random_device|localtime(_r)?\s*\(|std::time\(|\bstrtod\b|std::stod|std::isalpha|std::tolower|std::toupper))");
  std::size_t looked_at = 0;
  for (const char* top : {"/src", "/include"}) {
    for (const auto& entry : fs::recursive_directory_iterator(std::string(SKERRY_SOURCE_DIR) + top)) {
      const auto name = entry.path().string();
      const auto ending = entry.path().extension();
      // Below src/ or include/skerry/; python stands beside cli, as the other command line.
      const auto part = fs::relative(entry.path(), std::string(SKERRY_SOURCE_DIR) + top);
      const auto room = *std::next(part.begin(), std::string(top) == "/src" ? 0 : 1);
      if ((ending != ".cpp" && ending != ".hpp") || room == "cli" || room == "os" || room == "python" ||
          entry.path().filename() == "main.cpp")
        continue;
      ++looked_at;
      std::ifstream in(name);
      for (std::string line; std::getline(in, line);) {
        const auto code = line.substr(0, line.find("//"));
        CAPTURE(name, line);
        // The one place: where the standard library cannot read a double, and no locale is set.
        if (name.ends_with("/src/core/text.cpp") && code == "  value = std::strtod(ended.c_str(), &end);")
          continue;
        CHECK_FALSE(std::regex_search(code, banned));
      }
    }
  }
  CHECK(looked_at > 150);
}
