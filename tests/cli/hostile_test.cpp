// Trips that nobody would write, and trips somebody spoilt: each works or is refused with the place of the
// mistake, within 5 s of computing and 500 MB.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <random>
#include <sstream>

#include "check.hpp"
#include "process.hpp"
#include "skerry/cli/run.hpp"

namespace fs = std::filesystem;
using skerry::test::Ended;

namespace {

std::string content(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// A folder with one trip and the files it may name.
struct Desk {
  fs::path path = fs::temp_directory_path() / ("skerry-hostile-" + std::to_string(::getpid()));
  Desk() {
    fs::create_directories(path);
    std::ofstream(path / "region.geojson")
        << R"({"type":"Polygon","coordinates":[[[0,50],[2,50],[2,52],[0,52],[0,50]]]})";
    std::ofstream(path / "forecast.json") << R"([{"time-tag":"2027-02","predicted_ssn":81.2}])";
  }
  ~Desk() { fs::remove_all(path); }
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  /// The program on this trip, in a process of its own.
  [[nodiscard]] Ended ask(const std::string& command, const std::string& text) const {
    std::ofstream(path / "t.toml", std::ios::binary) << text;
    skerry::test::Setting s;
    s.folder = path.string();
    s.cpu_limit_s = 20;
    return skerry::test::run_child(
        [&] {
          std::istringstream in;
          std::ostringstream out, err;
          skerry::cli::World world{.in = in, .out = out, .err = err, .flush = {}};
          const int code = skerry::cli::run({command, "t.toml"}, world);
          for (const auto& [fd, said] : {std::pair(1, out.str()), std::pair(2, err.str())}) {
            if (::write(fd, said.data(), said.size()) < 0) return 95;
          }
          return code;
        },
        s);
  }
};

/// Works, or is refused line by line with file and place.
void check_answer(const Ended& said) {
  CAPTURE(said.code, said.signal, said.err.substr(0, 600), said.cpu_s, said.most_mb);
  CHECK(said.signal == 0);
  CHECK((said.code == 0 || said.code == 2));
  // A spoilt zone or longitude may leave a warning.
  if (said.code == 0 && !said.err.empty()) CHECK(said.err.rfind("skerry: warning: ", 0) == 0);
  if (said.code == 2) {
    CHECK(said.out.empty());
    std::istringstream lines(said.err);
    std::size_t count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
      CAPTURE(line);
      CHECK(line.rfind("skerry: t.toml:", 0) == 0);
      const bool placed = line.size() > 15 && line[15] >= '1' && line[15] <= '9';
      const bool whole_file = line.find("more than 100 mistakes") != std::string::npos ||
                              line.find(" kB; expected") != std::string::npos;
      CHECK((placed || whole_file));
      CHECK(line.find("expected") + line.find("mend these first") != 2 * std::string::npos);
      CHECK(line.size() < 1500);
    }
    CHECK(count >= 1);
    CHECK(count <= 101);
  }
  if (!skerry::test::instrumented) {
    CHECK(said.cpu_s < 5);
    CHECK(said.most_mb < 500);
  }
}

const std::string& small_trip() {
  static const std::string text = content(SKERRY_SOURCE_DIR "/tests/fuzz/corpus/trip/whole.toml");
  return text;
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::string many(int count, const std::function<std::string(int)>& one) {
  std::string out;
  for (int i = 0; i < count; ++i) out += one(i);
  return out;
}

std::string region_file(const std::string& coordinates) {
  return R"({"type":"Polygon","coordinates":[)" + coordinates + "]}";
}

}  // namespace

TEST_CASE("trips beyond all measure are refused with the place of the mistake", "[cli][edge]") {
  const Desk desk;
  const std::string& t = small_trip();
  const auto drawn = [&](const std::string& wires) {
    return t +
           "[[antenna]]\nid = \"drawn\"\nmass_g = 100\nbands = [\"20m\"]\nself_standing = true\n"
           "feed = {wire = 1, at = 0.5}\n" +
           wires;
  };
  const auto wire = [](const std::string& from, const std::string& to) {
    return "[[antenna.wire]]\nfrom_m = " + from + "\nto_m = " + to + "\n";
  };
  struct Row {
    const char* what;
    std::string text;
    std::string part;  ///< of the refusal
  };
  const std::vector<Row> refused{
      {"empty", "", "[trip]"},
      {"nothing but a mark", "\xef\xbb\xbf", "[trip]"},
      {"no UTF-8", "\xff\xfe" + t, "t.toml:1:1"},
      {"NUL bytes", changed(t, "\"Test island\"", std::string("\"a\0b\"", 5)), "t.toml:2:"},
      {"a control character", changed(t, "Test island", "a\\u001b[31mb"), "control or direction marks"},
      {"a C1 control", changed(t, "Test island", "a\\u009b31mb"), "control or direction marks"},
      {"a mark that turns the writing", changed(t, "Test island", "a\\u202Egnp"),
       "control or direction marks"},
      {"a long name", changed(t, "Test island", std::string(3000, 'x')), "1 to 200 characters"},
      {"a line without end", changed(t, "Test island", std::string(900000, 'x')), "a line of 9000"},
      {"a file without end", t + "#" + std::string(2U << 20U, '\n'), "over 1024 kB"},
      {"brackets in brackets", t + "x = " + std::string(1800, '[') + std::string(1800, ']'), "levels"},
      {"dots after dots", t + "a" + many(1900, [](int) { return ".a"; }) + " = 1\n", "levels"},
      {"tables in tables",
       t + many(200,
                [](int) {
                  return "x = [\n{" + std::string("a") + many(1800, [](int) { return ".a"; }) + " = [\n";
                }),
       "levels"},
      {"year 0", changed(t, "2027-02-13", "0000-01-01"), "years 1950 to 2050"},
      {"year 9999", changed(t, "2027-02-17", "9999-12-31"), "years 1950 to 2050"},
      {"30 February", changed(t, "first_day = 2027-02-13", "first_day = \"2027-02-30\""), "calendar"},
      {"a mass that is none", changed(t, "mass_g = 900", "mass_g = nan"), "0.1 to 60000 g"},
      {"endless mass", changed(t, "mass_g = 900", "mass_g = inf"), "0.1 to 60000 g"},
      {"1e300 metres", changed(t, "wire_m = 20.4", "wire_m = 1e300"), "0.2 to 300 m"},
      {"beyond a double", changed(t, "wire_m = 20.4", "wire_m = 1e999"), "t.toml:53:"},
      {"a mast taller than space", changed(t, "height_m = 6", "height_m = 200000"), "0.3 to 40 m"},
      {"a million radials", changed(t, "shapes = [\"inverted-v\"]", "radials = 1000000"), "1 to 120"},
      {"a million wires",
       drawn(many(11000, [&](int i) { return wire("[0,0,1]", "[0,0," + std::to_string(2 + i) + "]"); })),
       "200"},
      {"a wire without length", drawn(wire("[0, 0, 2]", "[0, 0, 2]")), "the wire has no length"},
      {"10 000 regions",
       t + many(10000,
                [](int i) { return "[[region]]\nat = \"1,1\"\nid = \"r" + std::to_string(i) + "\"\n"; }),
       "10001 tables [[region]]"},
      {"10 000 batteries",
       t + many(9000,
                [](int i) {
                  return "[[battery]]\nid = \"b" + std::to_string(i) +
                         "\"\nmass_g = 400\nvolts = 12\namp_hours = 3\nchemistry = \"lifepo4\"\n";
                }),
       "9001 tables [[battery]]"},
      {"100 packs",
       t + many(100,
                [](int i) {
                  return "[[battery]]\nid = \"b" + std::to_string(i) +
                         "\"\nmass_g = 400\nvolts = 12\namp_hours = 3\nchemistry = \"lifepo4\"\n";
                }),
       "sets of up to four packs"},
      {"200 masts",
       changed(t, "supports = [\"pole\"]\n", "") + many(199,
                                                        [](int i) {
                                                          return "[[support]]\nid = \"s" + std::to_string(i) +
                                                                 "\"\nmass_g = 400\nheight_m = 6\n";
                                                        }),
       "pairs of supports"},
      {"100 antennas of 120 radials",
       t + many(100,
                [](int i) {
                  return "[[antenna]]\nid = \"v" + std::to_string(i) +
                         "\"\nmass_g = 400\nkind = \"vertical-quarter\"\nradials = 120\n";
                }),
       "fewer wires or radials"},
      {"12 000 points",
       changed(t, "points = 4", "points = 200") +
           many(59,
                [](int i) {
                  return "[[region]]\npreset = \"western-europe\"\npoints = 200\nid = \"r" +
                         std::to_string(i) + "\"\n";
                }),
       "circuits"},
      {"unknown keys without end", t + many(60000, [](int i) { return "k" + std::to_string(i) + " = 1\n"; }),
       "mend these first"},
      {"needs without end",
       t + many(190,
                [](int i) {
                  return "[[antenna]]\nid = \"w" + std::to_string(i) +
                         "\"\nmass_g = 9\nkind = \"dipole\"\nneeds = [" +
                         many(300,
                              [i](int k) {
                                return "\"n" + std::to_string(k) + "x" + std::to_string(i) + "\"," +
                                       (k % 100 == 99 ? "\n" : "");
                              }) +
                         "]\n";
                }),
       "mend these first"},
      {"a file out of the folder", changed(t, "preset = \"western-europe\"", "file = \"../../etc/passwd\""),
       "'..' is not followed"},
      {"an absolute path", changed(t, "preset = \"western-europe\"", "file = \"/etc/passwd\""),
       "absolute paths are not followed"},
  };
  for (const auto& row : refused) {
    CAPTURE(row.what);
    const auto said = desk.ask("pack", row.text);
    check_answer(said);
    CHECK(said.code == 2);
    CAPTURE(said.err.substr(0, 300));
    CHECK(said.err.find(row.part) != std::string::npos);
  }
  // Odd, and yet they can be answered.
  const std::vector<std::pair<const char*, std::string>> answered{
      {"a mark in front and CRLF", content(SKERRY_SOURCE_DIR "/tests/fuzz/corpus/trip/crlf_and_mark.toml")},
      {"letters that run to the left",
       changed(t, "Test island", "\xd7\x90\xd7\x99 \xd8\xac\xd8\xb2\xd9\x8a\xd8\xb1\xd8\xa9")},
      {"coincident wires", drawn(wire("[0, 0, 2]", "[0, 0, 6]") + wire("[0, 0, 2]", "[0, 0, 6]"))},
      {"crossing wires", drawn(wire("[-5, 0, 6]", "[5, 0, 6]") + wire("[0, -5, 6]", "[0, 5, 6]"))},
      {"200 wires", drawn(many(200,
                               [&](int i) {
                                 return wire("[0, " + std::to_string(i) + ", 1]",
                                             "[3, " + std::to_string(i) + ", 1]");
                               }))},
      {"120 radials", t + "[[antenna]]\nid = \"v\"\nmass_g = 400\nkind = \"vertical-quarter\"\nradials = "
                          "120\nbands = [\"20m\"]\nsupports = [\"pole\"]\n"},
      {"200 things", t + many(197,
                              [](int i) {
                                return "[[item]]\nid = \"i" + std::to_string(i) +
                                       "\"\nmass_g = 1\nalways = true\nsize_cm = [5, 5, 5]\n";
                              })},
      {"64 bags", t + many(63,
                           [](int i) {
                             return "[[bag]]\nid = \"g" + std::to_string(i) +
                                    "\"\ninner_cm = [50, 40, 20]\nmass_limit_kg = 8\n";
                           })},
      {"20 packs", t + many(19,
                            [](int i) {
                              return "[[battery]]\nid = \"b" + std::to_string(i) +
                                     "\"\nmass_g = " + std::to_string(400 + i) +
                                     "\nvolts = 12.8\namp_hours = 3\nchemistry = \"lifepo4\"\n";
                            })},
      {"60 regions", t + many(59, [](int i) {
                       return "[[region]]\npreset = \"japan\"\npoints = 20\nid = \"r" + std::to_string(i) +
                              "\"\n";
                     })}};
  for (const auto& [what, text] : answered) {
    CAPTURE(what);
    check_answer(desk.ask("pack", text));
  }
}

TEST_CASE("outlines of all kinds are answered or refused, never followed astray", "[cli][edge]") {
  const Desk desk;
  const std::string t = changed(small_trip(), "preset = \"western-europe\"", "file = \"r.geojson\"");
  const std::vector<std::pair<std::string, const char*>> rows{
      {region_file("[[0,0],[1,1],[1,0],[0,1]]"), "crosses or touches itself"},
      {region_file("[[0,80],[120,80],[-120,80]]"), "runs round a pole"},
      {region_file("[[170,0],[-170,0],[-170,10],[170,10]]"), nullptr},  // over the date line
      {region_file("[[0,89],[90,90],[10,89]]"), nullptr},               // up to the pole
      {region_file("[[0,0],[1,0],[2,0]]"), "t.toml"},
      {region_file("[[0,0],[1e300,0],[2,1]]"), "longitude"},
      {region_file("[[0,0],[0,0],[0,0]]"), "at least 3"},
      {std::string(5U << 20U, '['), "nested"},
      {"{\"a\":" + std::string(2U << 20U, '1'), "r.geojson"},
      {"", "broken JSON"},
      {"\xef\xbb\xbf" + region_file("[[0,50],[2,50],[2,52]]"), nullptr},
      {region_file("[" + many(100001, [](int i) { return (i ? "," : "") + std::string("[1,2]"); }) + "]"),
       "100000 points"}};
  for (const auto& [text, part] : rows) {
    std::ofstream(desk.path / "r.geojson", std::ios::binary) << text;
    const auto said = desk.ask("kit", t);
    CAPTURE(text.substr(0, 80), said.err.substr(0, 300));
    check_answer(said);
    if (part == nullptr) {
      CHECK(said.code == 0);
    } else {
      CHECK(said.code == 2);
      CHECK(said.err.find(part) != std::string::npos);
    }
  }
  // A forecast of the same kind.
  const std::string f = changed(small_trip(), "r12 = 80", "forecast_file = \"f.json\"");
  for (const std::string& text :
       {std::string(3U << 20U, '['), "{\"a\":" + std::string(3U << 20U, '['),
        "[" + many(300000, [](int) { return std::string("[1],"); }) + "1]", std::string()}) {
    std::ofstream(desk.path / "f.json", std::ios::binary) << text;
    const auto said = desk.ask("kit", f);
    check_answer(said);
    CHECK(said.code == 2);
    CHECK(said.err.find("f.json") != std::string::npos);
  }
}

TEST_CASE("a trip names no file beyond its folder, by whatever way", "[cli][edge]") {
  const Desk desk;
  const fs::path outside = desk.path.string() + "-outside";
  fs::create_directories(outside);
  std::ofstream(outside / "secret.geojson") << region_file("[[0,50],[2,50],[2,52]]");
  fs::create_symlink(outside / "secret.geojson", desk.path / "link.geojson");
  fs::create_directory_symlink(outside, desk.path / "door");
  fs::create_symlink("region.geojson", desk.path / "inner.geojson");
  REQUIRE(::mkfifo((desk.path / "pipe.geojson").c_str(), 0600) == 0);
  const auto named = [&](const std::string& name) {
    return changed(small_trip(), "preset = \"western-europe\"", "file = \"" + name + "\"");
  };
  for (const std::string& name : {std::string("link.geojson"), std::string("door/secret.geojson"),
                                  (outside / "secret.geojson").string(), std::string("../x/region.geojson"),
                                  std::string("pipe.geojson"), std::string("/dev/zero")}) {
    CAPTURE(name);
    const auto said = desk.ask("kit", named(name));
    check_answer(said);
    CHECK(said.code == 2);
  }
  for (const char* name : {"region.geojson", "./region.geojson", "inner.geojson"}) {
    CAPTURE(name);
    CHECK(desk.ask("kit", named(name)).code == 0);
  }
  // Asked for, the whole file system is open.
  std::ofstream(desk.path / "t.toml") << named("door/secret.geojson");
  skerry::test::Setting s;
  s.folder = desk.path.string();
  const std::string program = SKERRY_BINARY_DIR "/skerry";
  CHECK(skerry::test::run_program({program, "kit", "t.toml"}, s).code == 2);
  CHECK(skerry::test::run_program({program, "kit", "t.toml", "--allow-outside"}, s).code == 0);
  CHECK(skerry::test::run_program({program, "--allow-outside", "kit", "t.toml"}, s).code == 0);
  fs::remove_all(outside);
}

namespace {

/// Spoils a trip the way people, editors and attackers do: by lines, tables, values and bytes.
class Spoiler {
 public:
  explicit Spoiler(unsigned seed) : random_(seed) {}

  std::string spoil(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    for (int k = 1 + below(2); k > 0; --k) one_change(lines);
    std::string out;
    for (const auto& line : lines) out += line + (crlf_ ? "\r\n" : "\n");
    if (below(12) == 0) out.insert(0, "\xef\xbb\xbf");
    if (below(20) == 0) out.resize(static_cast<std::size_t>(below(static_cast<int>(out.size()))));
    if (below(16) == 0) {
      static const std::vector<std::string> bytes{std::string(1, '\0'),
                                                  "\xff",
                                                  "\r",
                                                  "\x1b[2J",
                                                  "\xc2\x9b",
                                                  "\xe2\x80\xae",
                                                  "\"",
                                                  "[",
                                                  "}",
                                                  "#",
                                                  "'''"};
      out.insert(static_cast<std::size_t>(below(static_cast<int>(out.size()) + 1)),
                 bytes[static_cast<std::size_t>(below(static_cast<int>(bytes.size())))]);
    }
    return out;
  }

 private:
  int below(int n) { return n <= 0 ? 0 : static_cast<int>(random_() % static_cast<unsigned>(n)); }

  std::string value() {
    static const std::vector<std::string> values{"1e300",
                                                 "-1e300",
                                                 "nan",
                                                 "inf",
                                                 "-inf",
                                                 "0",
                                                 "-0.0",
                                                 "1",
                                                 "-1",
                                                 "1e-300",
                                                 "9223372036854775807",
                                                 "0x7fffffff",
                                                 "true",
                                                 "\"\"",
                                                 "\" \"",
                                                 "\"x\"",
                                                 "\"a\\u202Eb\"",
                                                 "\"a\\u001b[31m\"",
                                                 "\"<b>&amp;\"",
                                                 "\"=1+1\"",
                                                 "\"../../etc/passwd\"",
                                                 "\"/etc/passwd\"",
                                                 "\"region.geojson\"",
                                                 "\"forecast.json\"",
                                                 "[]",
                                                 "[[]]",
                                                 "[1, \"a\"]",
                                                 "{}",
                                                 "{a = {b = {c = 1}}}",
                                                 "0001-01-01",
                                                 "9999-12-31",
                                                 "2027-02-14",
                                                 "23:59:60",
                                                 "07:00:00",
                                                 "2027-02-14T07:00:00Z",
                                                 "\"24:00\"",
                                                 "\"90,180\"",
                                                 "\"-90,-180\"",
                                                 "\"89.99,0\"",
                                                 "\"0,179.999\"",
                                                 "[0, 0, 0]",
                                                 "[1e9, 1, 1]",
                                                 "[360, 360]",
                                                 "[[0, 1], [360, 1]]",
                                                 "\"40m\"",
                                                 "[\"160m\", \"10m\"]",
                                                 "\"dipole\"",
                                                 "\"small-loop\"",
                                                 "\"wire-beam\"",
                                                 "0.5",
                                                 "40",
                                                 "120",
                                                 "200"};
    if (below(20) == 0) return "\"" + std::string(static_cast<std::size_t>(below(5000)), 'y') + "\"";
    if (below(20) == 0) {
      const auto deep = static_cast<std::size_t>(below(300));
      return std::string(deep, '[') + std::string(deep, ']');
    }
    return values[static_cast<std::size_t>(below(static_cast<int>(values.size())))];
  }

  /// A number made somewhat larger or smaller: a trip that may well be meant. Other values as they are.
  std::string scaled(const std::string& old) {
    static const double factors[] = {0.3, 0.7, 0.95, 1.05, 1.5, 3};
    char* end = nullptr;
    const double number = std::strtod(old.c_str(), &end);
    if (end == old.c_str() || *end != '\0') return old;
    std::ostringstream out;
    out << number * factors[below(6)];
    return " " + out.str();
  }

  /// First line and the line after the last of a random table.
  std::pair<std::size_t, std::size_t> block(const std::vector<std::string>& lines) {
    std::vector<std::size_t> heads;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (!lines[i].empty() && lines[i][0] == '[') heads.push_back(i);
    }
    if (heads.empty()) return {0, lines.size()};
    const auto pick = static_cast<std::size_t>(below(static_cast<int>(heads.size())));
    return {heads[pick], pick + 1 < heads.size() ? heads[pick + 1] : lines.size()};
  }

  void one_change(std::vector<std::string>& lines) {
    if (lines.empty()) return;
    const auto at = static_cast<std::size_t>(below(static_cast<int>(lines.size())));
    switch (below(10)) {
      case 0:
      case 1:
      case 2:
      case 3:
        for (std::size_t i = at; i < lines.size(); ++i) {
          const auto equals = lines[i].find('=');
          if (equals == std::string::npos) continue;
          lines[i] = lines[i].substr(0, equals + 1) + " " +
                     (below(2) == 0 ? value() : scaled(lines[i].substr(equals + 1)));
          break;
        }
        break;
      case 4:
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
        break;
      case 5:
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at), lines[at]);
        break;
      case 6: {
        const auto [from, to] = block(lines);
        const std::vector<std::string> copy(lines.begin() + static_cast<std::ptrdiff_t>(from),
                                            lines.begin() + static_cast<std::ptrdiff_t>(to));
        static const int counts[] = {1, 3, 30, 250};
        const int count = counts[below(4)];
        for (int k = 0; k < count; ++k) {
          for (auto line : copy) {
            // With names of their own, so that the copies are not refused for that alone.
            if (line.rfind("id = \"", 0) == 0)
              line = line.substr(0, line.size() - 1) + "-" + std::to_string(k) + "\"";
            lines.push_back(line);
          }
        }
        break;
      }
      case 7: {
        const auto [from, to] = block(lines);
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(from),
                    lines.begin() + static_cast<std::ptrdiff_t>(to));
        break;
      }
      case 8:
        std::swap(lines[at], lines[static_cast<std::size_t>(below(static_cast<int>(lines.size())))]);
        break;
      default:
        if (below(3) == 0) {
          crlf_ = !crlf_;
        } else {
          lines[at] =
              lines[at].substr(0, static_cast<std::size_t>(below(static_cast<int>(lines[at].size()) + 1)));
        }
    }
  }

  std::mt19937 random_;  // its numbers are the same with every library
  bool crlf_ = false;
};

}  // namespace

TEST_CASE("every spoilt trip works or is refused with the place of the mistake", "[cli][property]") {
  // SKERRY_MUTANTS=100000 makes a long run of it.
  const char* wanted = std::getenv("SKERRY_MUTANTS");
  const int mutants = wanted != nullptr ? std::atoi(wanted) : 200;
  const Desk desk;
  std::vector<std::string> seeds{small_trip(), small_trip(),
                                 content(SKERRY_SOURCE_DIR "/tests/fuzz/corpus/trip/more_tables.toml"),
                                 content(SKERRY_SOURCE_DIR "/tests/fuzz/corpus/trip/files.toml"),
                                 content(SKERRY_SOURCE_DIR "/examples/fair_isle.toml")};
  int worked = 0, refused = 0;
  double slowest_s = 0, largest_mb = 0;
  for (int i = 0; i < mutants; ++i) {
    const auto& seed = seeds[static_cast<std::size_t>(i) % seeds.size()];
    const std::string text = Spoiler(static_cast<unsigned>(i + 1)).spoil(seed);
    const auto said = desk.ask(i % 3 == 0 || wanted != nullptr ? "pack" : "kit", text);
    CAPTURE(i);
    check_answer(said);
    (said.code == 0 ? worked : refused) += 1;
    slowest_s = std::max(slowest_s, said.cpu_s);
    largest_mb = std::max(largest_mb, said.most_mb);
    const bool bad = said.signal != 0 || (said.code != 0 && said.code != 2);
    if (bad) std::ofstream("mutant-" + std::to_string(i) + ".toml", std::ios::binary) << text;
  }
  if (wanted != nullptr)
    std::cout << mutants << " mutants: " << worked << " worked, " << refused << " refused; slowest "
              << slowest_s << " s, largest " << largest_mb << " MB\n";
  CHECK(worked > mutants / 10);
  CHECK(refused > mutants / 3);
}
