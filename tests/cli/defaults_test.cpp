// Defaults that somebody set down: the configuration file and SKERRY_* in the environment.
#include <stdlib.h>

#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

namespace {

const std::string examples = SKERRY_SOURCE_DIR "/examples/";

/// A folder of settings with that configuration, and variables, while it lives.
class Settings {
 public:
  explicit Settings(const std::string& config,
                    std::vector<std::pair<std::string, std::string>> variables = {})
      : folder_("defaults"), variables_(std::move(variables)) {
    std::filesystem::create_directories(folder_.path / "skerry");
    std::ofstream(file()) << config;
    ::unsetenv("SKERRY_NO_CONFIG");
    variables_.emplace_back("XDG_CONFIG_HOME", folder_.path.string());
    for (const auto& [name, value] : variables_) ::setenv(name.c_str(), value.c_str(), 1);
  }
  Settings(const Settings&) = delete;
  Settings& operator=(const Settings&) = delete;
  ~Settings() {
    for (const auto& [name, value] : variables_) ::unsetenv(name.c_str());
  }
  [[nodiscard]] std::string file() const { return folder_.file("skerry/config.toml"); }
  [[nodiscard]] std::string beside(const std::string& name) const { return folder_.file(name); }

 private:
  skerry::test::Folder folder_;
  std::vector<std::pair<std::string, std::string>> variables_;
};

Said with_settings(const std::vector<std::string>& args) {
  std::istringstream in;
  std::ostringstream out, err;
  skerry::cli::World world{.in = in, .out = out, .err = err, .flush = {}};
  world.own_settings = true;
  Said said;
  said.code = skerry::cli::run(args, world);
  said.out = out.str();
  said.err = err.str();
  return said;
}

const std::vector<std::string> sky{"ionosphere", "0,0", "--month", "2027-02"};
std::vector<std::string> and_more(std::vector<std::string> args, const std::vector<std::string>& more) {
  args.insert(args.end(), more.begin(), more.end());
  return args;
}

std::string form(const Said& said) {
  CAPTURE(said.err);
  REQUIRE(said.code == 0);
  return said.out.front() == '{' ? "json" : said.out.starts_with("utc_hour,") ? "csv" : "text";
}

}  // namespace

TEST_CASE("what is typed goes before the environment, that before the file, a command's table before all's",
          "[cli][property]") {
  const auto of = [](const std::string& config, const std::string& variable,
                     const std::vector<std::string>& more = {}) {
    const Settings settings(config, {{"SKERRY_FORMAT", variable}});
    return form(with_settings(and_more(sky, more)));
  };
  const std::string top = "format = \"json\"\n", own = "[ionosphere]\nformat = \"csv\"\n";
  CHECK(of("", "") == "text");
  CHECK(of(top, "") == "json");
  CHECK(of(top + own, "") == "csv");
  CHECK(of("[sun]\nformat = \"csv\"\n", "") == "text");
  CHECK(of(top + own, "text") == "text");
  CHECK(of("", "json") == "json");
  CHECK(of(top + own, "text", {"-f", "csv"}) == "csv");
  CHECK(of(top + own, "", {"--format", "text"}) == "text");
}

TEST_CASE("defaults are read as the options are: numbers, flags, lists, with dashes or underlines",
          "[cli][property]") {
  const std::vector<std::string> path{"path", "MH10", "JN45", "--month", "2027-02"};
  {
    const Settings settings("power-w = 5\nbands = [\"40m\", \"20m\"]\nr12 = 80.5\nes = \"off\"\n");
    CHECK(with_settings(path).out ==
          ask(and_more(path, {"--power-w", "5", "--bands", "40m,20m", "--r12", "80.5", "--es", "off"})).out);
  }
  {
    const Settings settings("", {{"SKERRY_POWER_W", "5"}, {"SKERRY_BANDS", "40m,20m"}});
    CHECK(with_settings(path).out == ask(and_more(path, {"--power-w", "5", "--bands", "40m,20m"})).out);
  }
  {
    const Settings settings("power_w = 5\nspread = true\n[path]\nspread = false\n");
    CHECK(with_settings(path).out == ask(and_more(path, {"--power-w", "5"})).out);
  }
  // A table of one command asks nothing of another.
  const Settings settings("[map]\nway = \"best\"\n");
  CHECK(with_settings(path).out == ask(path).out);
}

TEST_CASE("what a command does not know of a default for all is passed over there", "[cli][edge]") {
  const Settings settings("format = \"csv\"\nmode = \"ssb\"\n");
  CHECK(form(with_settings(sky)) == "csv");
  // No table there.
  const std::vector<std::string> why{"explain", "MH10", "JN45", "--month", "2027-02", "--bands", "20m"};
  CHECK(with_settings(why).out == ask(and_more(why, {"--mode", "ssb"})).out);
  // A trip says its modes itself; that is a mistake only where somebody typed one.
  CHECK(with_settings({"card", examples + "rodrigues.toml"}).code == 0);
  CHECK(ask({"card", examples + "rodrigues.toml", "--mode", "ssb"}).code == 2);
}

TEST_CASE("a format gives way to the name of the output file", "[cli][edge]") {
  const Settings settings("format = \"json\"\n");
  const auto written = [&](const std::string& name) {
    const auto file = settings.beside(name);
    REQUIRE(with_settings(and_more(sky, {"-o", file})).code == 0);
    std::ifstream in(file);
    return std::string{std::istreambuf_iterator<char>(in), {}};
  };
  const auto json = ask(and_more(sky, {"-f", "json"})).out;
  CHECK(written("a.json") == json);
  CHECK(written("a") == json);
  CHECK(written("a.txt") == ask(sky).out);
  CHECK(form(with_settings(and_more(sky, {"-o", "-"}))) == "json");
}

TEST_CASE("a mistake in a default is one line that says where it stands", "[cli][edge]") {
  for (const auto& [config, expected] : std::initializer_list<std::pair<const char*, const char*>>{
           {"\nfromat = \"json\"\n",
            ":2:10: found fromat; expected an option of some command; did you mean 'format'?"},
           {"format = \"jsn\"\n", ":1:10: found format = 'jsn'; expected text, json"},
           {"[pakc]\nformat = \"json\"\n",
            ":2:10: found [pakc]; expected a command, as [pack]; did you mean 'pack'?"},
           {"[ionosphere]\npower-w = 5\n", ":2:11: found power-w; expected an option of 'skerry ionosphere'"},
           {"[ionosphere]\nmonth = \"2027-02\"\nformat = \"svg\"\n",
            ":3:10: found format = 'svg'; expected text, json or csv"},
           {"r12 = 5000\n", ":1:7: found r12 = '5000'; expected "},
           {"format = \n", ":1:"},
           {"r12 = { a = 1 }\n[[ionosphere]]\nr12 = 2\n", ":"},
           {"output = \"x.json\"\n", ":1:10: found output; expected an option of some command"}}) {
    const Settings settings(config);
    const auto said = with_settings(sky);
    CAPTURE(config, said.err, said.out);
    CHECK(said.code == 2);
    CHECK(is_one_line(said.err));
    CHECK(said.err.find("skerry: " + settings.file() + expected) == 0);
    // What is wrong there does not keep anybody from help, nor from asking what it is.
    CHECK(with_settings({"--help"}).code == 0);
    CHECK(with_settings({"doctor"}).code == 0);
    CHECK(with_settings(and_more({"--no-config"}, sky)).out == ask(sky).out);
  }
  {
    const Settings settings("", {{"SKERRY_FORMAT", "jsn"}});
    const auto said = with_settings(sky);
    CHECK(said.err.find("skerry: SKERRY_FORMAT: found format = 'jsn'; expected text, json") == 0);
  }
  const Settings settings("", {{"SKERRY_R12", "many"}});
  CHECK(with_settings(sky).err.find("skerry: SKERRY_R12: found r12 = 'many'; expected ") == 0);
  const Settings flag("", {{"SKERRY_ASCII", "perhaps"}});
  CHECK(with_settings(sky).err.find(
            "skerry: SKERRY_ASCII: found ascii = 'perhaps'; expected true or false") == 0);
}

TEST_CASE("the file can be left out, doctor says what is in force, and a test never sees one", "[cli]") {
  const Settings settings("format = \"json\"\n[path]\nmode = \"ssb\"\n",
                          {{"SKERRY_POWER_W", "5"}, {"SKERRY_FROMAT", "csv"}});
  CHECK(form(with_settings(and_more({"--no-config"}, sky))) == "text");
  CHECK(form(ask(sky)) == "text");
  const auto told = with_settings({"doctor"}).out;
  for (const char* part : {"config.toml (2 in force)", "format = json", "[path]", "mode = ssb",
                           "SKERRY_POWER_W", "--power-w 5", "SKERRY_FROMAT", "no option is called so"}) {
    CAPTURE(told, part);
    CHECK(told.find(part) != std::string::npos);
  }
  CHECK(ask({"doctor"}).out.find("config.toml") == std::string::npos);
}

TEST_CASE("an option that must be given may be given there", "[cli][edge]") {
  const std::vector<std::string> horizon{"horizon", "-19.70,63.43"};
  CHECK(ask(horizon).err.find("--terrain") != std::string::npos);
  const Settings settings("[horizon]\nterrain = \"no-such-folder\"\n");
  const auto said = with_settings(horizon);
  CHECK(said.code == 2);
  CHECK(said.err.find("no-such-folder") != std::string::npos);
}
