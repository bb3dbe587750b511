// `skerry kit add`, `list`, `export`, and a trip that takes its things from a library.
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

namespace {

using skerry::test::Folder;
using skerry::test::read;

}  // namespace

TEST_CASE("a thing typed once in feet and ounces is in every trip that names the library",
          "[cli][property]") {
  const Folder folder("library");
  const auto library = folder.file("my_kit.toml");
  auto said = ask({"kit", "add", "antenna", "--name", "33 ft wire", "--mass", "5 oz", "--length", "33 ft",
                   "--set", "kind=end-fed-random", "--set", "counterpoise_m=16 ft", "--library", library});
  CHECK(said.err.empty());
  REQUIRE(said.code == 0);
  CHECK(said.out.find("wire_m = 10.0584") != std::string::npos);
  // By hand in between: stays as it is.
  std::ofstream(library, std::ios::app) << "\n# bought in May\n[[item]]\nid = \"torch\"\nmass_g = 90\n";
  const auto before = read(library);
  said = ask({"kit", "add", "item", "--name", "long rope", "--mass", "1 lb 3 oz", "--size", "8 x 6 x 2 in",
              "--library", library});
  REQUIRE(said.code == 0);
  CHECK(read(library).rfind(before, 0) == 0);

  const auto list = ask({"kit", "list", "--library", library, "-f", "json"}).json();
  CHECK(list["schema"] == "skerry.library/1");
  REQUIRE(list["things"].size() == 3);
  CHECK(list["things"][0]["id"] == "33-ft-wire");
  // Source: 1 lb 3 oz = 19/16 of 453.59237 g.
  CHECK(list["things"][2]["mass_g"].get<double>() == Approx(538.6409).margin(0.0001));
  CHECK(ask({"kit", "list", "--library", library}).out.find("long rope") != std::string::npos);
  CHECK(ask({"kit", "list", "--library", library, "-f", "csv"})
            .out.find("item,long-rope,long rope,538.641,20.32") != std::string::npos);
  CHECK(ask({"kit", "export", "torch", "--library", library}).out.find("# bought in May\n[[item]]") !=
        std::string::npos);

  auto trip = read(SKERRY_SOURCE_DIR "/examples/rodrigues.toml");
  const std::string head = "mass_limit_kg = 4.2\n";
  trip.insert(trip.find(head) + head.size(), "library = \"my_kit.toml\"\n");
  std::ofstream(folder.file("trip.toml")) << trip;
  const auto sheet = ask({"kit", folder.file("trip.toml"), "-f", "json"});
  REQUIRE(sheet.code == 0);
  CHECK(sheet.out.find("33-ft-wire") != std::string::npos);
  CHECK(sheet.out.find("long rope") != std::string::npos);
}

TEST_CASE("without --library the folder of settings is used, and a trip may name it", "[cli][edge]") {
  const Folder folder("library");
  const char* old = std::getenv("XDG_CONFIG_HOME");
  const std::string kept = old != nullptr ? old : "";
  ::setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1);
  CHECK(ask({"kit", "list"}).code == 2);  // there is none yet
  CHECK(ask({"kit", "add", "item", "--name", "whistle", "--mass", "20"}).code == 0);
  CHECK(std::filesystem::exists(folder.path / "skerry" / "kit.toml"));
  auto trip = read(SKERRY_SOURCE_DIR "/examples/rodrigues.toml");
  const std::string head = "mass_limit_kg = 4.2\n";
  const auto with = [&](const std::string& line) {
    auto text = trip;
    text.insert(text.find(head) + head.size(), line + "\n");
    std::ofstream(folder.file("trip.toml")) << text;
    return ask({"kit", folder.file("trip.toml")});
  };
  CHECK(with("library = \"config:kit.toml\"").out.find("whistle") != std::string::npos);
  CHECK(with("library = \"config:../x.toml\"").code == 2);
  CHECK(with("library = \"../kit.toml\"").code == 2);
  if (old != nullptr) {
    ::setenv("XDG_CONFIG_HOME", kept.c_str(), 1);
  } else {
    ::unsetenv("XDG_CONFIG_HOME");
  }
}

TEST_CASE("mistakes at the library's commands are one line each and change nothing", "[cli][edge]") {
  const Folder folder("library");
  const auto library = folder.file("k.toml");
  const auto refused = [&](std::vector<std::string> args, const std::string& part) {
    args.insert(args.end(), {"--library", library});
    const auto said = ask(args);
    CAPTURE(said.err);
    CHECK(said.code == 2);
    CHECK(is_one_line(said.err));
    CHECK(said.err.find(part) != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(library));
  };
  refused({"kit", "add", "item", "--name", "x", "--mass", "3 stone"}, "--mass: found '3 stone'");
  refused({"kit", "add", "itme", "--name", "x"}, "did you mean 'item'");
  refused({"kit", "add", "item", "--mass", "3"}, "--name");
  refused({"kit", "add", "item", "--name", "x"}, "new entry");
  refused({"kit", "add", "item", "--name", "x", "--mass", "3", "--length", "3 m"}, "--length");
  refused({"kit", "add", "item", "--name", "x", "--mass", "3", "--set", "nothing"}, "--set");
  refused({"kit", "add", "item", "--name", "x", "--mass", "3", "--size", "1x1x1", "--tube", "9x1"}, "--tube");
  refused({"kit", "list"}, "No such file");
  CHECK(ask({"kit"}).code == 2);
  CHECK(ask({"kit", "add"}).code == 2);
  CHECK(ask({"kit", "add", "--help"}).out.find("Example:") != std::string::npos);
  CHECK(ask({"kit", "list", "--help"}).out.find("Example:") != std::string::npos);
  CHECK(ask({"kit", "export", "--help"}).out.find("Example:") != std::string::npos);
}
