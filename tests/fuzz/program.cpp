// The program as a whole: its command line and its batch lines.
#include <unistd.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "promises.hpp"
#include "skerry/cli/run.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/batch.hpp"
#include "targets.hpp"

namespace skerry::fuzz {

namespace {

namespace fs = std::filesystem;

Said run(const std::vector<std::string>& args, const std::string& input) {
  std::istringstream in(input);
  std::ostringstream out, err;
  cli::World world{.in = in, .out = out, .err = err, .flush = {}};
  Said said;
  const unsigned threads = thread_count();
  said.code = cli::run(args, world);
  set_thread_count(threads);
  said.out = out.str();
  said.err = err.str();
  return said;
}

const char* const small_trip = R"([trip]
first_day = 2027-02-13
last_day = 2027-02-13
mass_limit_kg = 3
r12 = 80
[[site]]
at = "-19.70,63.43"
[[session]]
from = "06:00"
to = "07:00"
[[region]]
file = "r.geojson"
[licence]
bands = ["20m"]
modes = ["cw"]
[[rig]]
id = "rig"
mass_g = 500
power_w = 5
receive_a = 0.1
transmit_a = 1
[[antenna]]
id = "wire"
mass_g = 100
kind = "dipole"
bands = ["20m"]
[[battery]]
id = "pack"
mass_g = 300
volts = 12
amp_hours = 2
chemistry = "lifepo4"
[[bag]]
id = "bag"
inner_cm = [50, 40, 20]
mass_limit_kg = 8
)";

/// A folder of our own that everything runs in, taken away at the end of the process.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "skerry-fuzz-XXXXXX").string();
    promise(::mkdtemp(name.data()) != nullptr, "a temporary folder can be made");
    path_ = name;
    fill();
  }
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  /// Runs inside; what was written is looked at and taken away.
  Said ask(const std::vector<std::string>& args) {
    const auto before = fs::current_path();
    fs::current_path(path_);
    Said said = run(args, "{\"id\":1}\n");
    std::vector<fs::path> fresh;
    for (const auto& entry : fs::directory_iterator(".")) {
      const auto name = entry.path().filename().string();
      promise(name.find(".skerry-part-") == std::string::npos, "no half-written file stays");
      if (std::find(ours.begin(), ours.end(), name) == ours.end()) fresh.push_back(entry.path());
    }
    for (const auto& name : fresh) fs::remove_all(name);
    bool wrote = false;
    for (const auto& arg : args)
      wrote = wrote || arg.rfind("-o", 0) == 0 || arg.rfind("--", 0) == 0 || arg == "new";
    if (wrote) fill();
    fs::current_path(before);
    return said;
  }

 private:
  static constexpr std::array ours{"t.toml", "r.geojson", "f.json", "k.toml", "l.adi", "s.csv", "i.csv"};
  void fill() const {
    std::ofstream(path_ / "t.toml") << small_trip;
    std::ofstream(path_ / "r.geojson")
        << R"({"type":"Polygon","coordinates":[[[0,50],[2,50],[2,52],[0,52]]],"id":"r"})";
    std::ofstream(path_ / "k.toml") << "[[item]]\nid = \"cord\"\nname = \"cord\"\nmass_g = 80\n";
    std::ofstream(path_ / "l.adi")
        << "<CALL:6>QQ1AAA<QSO_DATE:8>20270213<TIME_ON:4>0610<BAND:3>20m<MODE:2>CW<GRIDSQUARE:4>JO01<EOR>\n"
           "<CALL:6>QQ1AAB<QSO_DATE:8>20270213<TIME_ON:4>0620<BAND:3>20m<MODE:2>CW<GRIDSQUARE:4>JO01<EOR>\n";
    std::ofstream(path_ / "s.csv") << "time_utc,mhz,tx,rx,power_w,snr_db\n"
                                      "2027-02-13T06:10:00Z,14.1,MH10,JO01,5,-20\n";
    std::ofstream(path_ / "i.csv") << "station,place,month,utc_hour,fof2_mhz\nx,JO31,2020-06,12,6.1\n";
    std::ofstream(path_ / "f.json") << R"([{"time-tag":"2027-02","predicted_ssn":81.2}])";
  }
  fs::path path_;
};

/// Long computations of valid questions, which tests run elsewhere: here only their refusals are wanted.
bool too_long(const std::vector<std::string>& args) {
  for (const auto& arg : args) {
    for (const char* word : {"map", "report", "pack", "calendar", "card", "geojson", "kit", "explain"})
      if (arg == word) return std::find(args.begin(), args.end(), "t.toml") != args.end() || arg == "map";
  }
  return false;
}

}  // namespace

Said invoke(const std::vector<std::string>& args) {
  static Folder folder;
  Said said = folder.ask(args);
  promise(said.code == 0 || said.code == 1 || said.code == 2, "an exit code is 0, 1 or 2");
  for (std::string_view text : {std::string_view(said.out), std::string_view(said.err)}) {
    while (!text.empty()) {
      const auto c = take_character(text);
      promise(c && (!steers_screen(*c) || *c == '\n' || *c == '\r'), "nothing that is said steers a screen");
    }
  }
  if (said.code != 0) {
    promise(said.err.rfind("skerry: ", 0) == 0 && said.err.back() == '\n',
            "a failure is told on standard error");
    // A batch answers the lines that it can.
    const bool batch = std::find(args.begin(), args.end(), "batch") != args.end();
    promise(batch || said.out.empty(), "a failure prints no half answer");
    std::istringstream lines(said.err);
    for (std::string line; std::getline(lines, line);) check_line(line);
  }
  return said;
}

void arguments(std::string_view bytes) {
  if (bytes.size() > 600) return;
  std::vector<std::string> args;
  std::string current;
  for (const char c : bytes) {
    if (c == '\n') {
      args.push_back(current);
      current.clear();
    } else if (c == '/' || c == '\0') {
      return;  // no way out of the folder; an argument holds no NUL
    } else {
      current += c;
    }
  }
  args.push_back(current);
  if (args.size() > 24 || too_long(args)) return;
  invoke(args);
}

void batch(std::string_view bytes) {
  if (bytes.size() > 200000) return;
  // The framing: as many lines as were asked, each of them JSON. Questions that can be answered go in one by
  // one below, and cut down, since the whole answer takes many milliseconds.
  std::string refused;
  std::size_t lines = 0, answered = 0;
  std::istringstream in{std::string(bytes)};
  for (std::string line; std::getline(in, line);) {
    std::string id;
    const auto request = engine::read_request(line, id);
    if (!request) {
      promise(!request.error().empty(), "a refusal has a reason");
      for (const auto& error : request.error()) check_line(error.to_line());
      refused += line + "\n";
      if (line.find_first_not_of(" \t\r") != std::string::npos) ++lines;
      continue;
    }
    if (++answered > 1) continue;
    auto question = request->question;
    question.frequencies.resize(std::min<std::size_t>(question.frequencies.size(), 1));
    question.ways.resize(1);
    const auto answer = forms::path_line(circuit::answer(question), request->options);
    promise(nlohmann::json::accept(answer), "an answer is JSON");
    promise(answer.find('\n') == answer.size() - 1, "an answer is one line");
  }
  const Said said = run({"batch"}, refused);
  promise(said.code == (lines > 0 ? 2 : 0), "a batch goes on to its end");
  std::istringstream out(said.out);
  std::size_t told = 0;
  for (std::string line; std::getline(out, line); ++told) {
    promise(nlohmann::json::accept(line), "an error is told in JSON");
    promise(line.find("\"error\"") != std::string::npos, "what was refused is refused again");
  }
  promise(told == lines, "there is one answer for each line");
}

}  // namespace skerry::fuzz
