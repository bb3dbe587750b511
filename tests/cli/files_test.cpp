// Files that are written: never over what was read, through links, with their permissions, one process after
// the other.
#include "skerry/os/files.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"
#include "process.hpp"
#include "skerry/core/text.hpp"

using skerry::test::Folder;
using skerry::test::read;
using skerry::test::run_child;
using skerry::test::run_program;
namespace fs = std::filesystem;
using namespace std::chrono_literals;

namespace {

const std::string program = SKERRY_BINARY_DIR "/skerry";
const std::string examples = SKERRY_SOURCE_DIR "/examples/";

struct stat status_of(const fs::path& file) {
  struct stat out {};
  REQUIRE(::stat(file.c_str(), &out) == 0);
  return out;
}

}  // namespace

TEST_CASE("of twenty that add to one library at once none loses its thing", "[cli][regression]") {
  const Folder folder("files");
  for (const std::string library : {"k.toml", "link.toml"}) {
    if (library == "link.toml") {
      fs::create_directory(folder.path / "elsewhere");
      fs::create_symlink("elsewhere/kit.toml", folder.path / library);
    }
    const auto said =
        run_program({"/bin/sh", "-c",
                     "for i in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do \"" + program +
                         "\" kit add item --name \"thing $i\" --mass 10 --library \"" + folder.file(library) +
                         "\" & done; wait"});
    CHECK(said.err.empty());
    const auto things =
        ask({"kit", "list", "--library", folder.file(library), "-f", "json"}).json()["things"];
    CHECK(things.size() == 20);
  }
  CHECK(fs::is_symlink(folder.path / "link.toml"));
  CHECK(folder.names() == std::set<std::string>{"elsewhere", "k.toml", "link.toml"});
}

TEST_CASE("who waits for a library says so, and gives up with one line", "[cli][edge]") {
  const Folder folder("files");
  const auto library = folder.file("k.toml");
  const auto add = [&] {
    std::istringstream in;
    std::ostringstream out, err;
    skerry::cli::World world{.in = in, .out = out, .err = err, .flush = {}};
    world.patience = 20ms;
    world.lock_patience = 100ms;
    Said said;
    said.code =
        skerry::cli::run({"kit", "add", "item", "--name", "x", "--mass", "3", "--library", library}, world);
    said.err = err.str();
    return said;
  };
  {
    const auto held = skerry::os::FolderLock::take(library, {1s, 1s}, [] {});
    REQUIRE(held);
    const auto said = add();
    CHECK(said.code == 1);
    CHECK(said.err ==
          "skerry: waiting for another program that is changing " + skerry::one_line(library) +
              "\nskerry: " + library +
              ": found a file that another program has been changing for 0.1 s; expected one that "
              "nobody else is changing; try again when that program has ended\n");
    CHECK(folder.names().empty());
  }
  // A process that ends without a word leaves no lock behind.
  run_child([&]() -> int {
    const auto held = skerry::os::FolderLock::take(library, {1s, 1s}, [] {});
    ::_exit(held ? 0 : 1);
  });
  CHECK(add().code == 0);
  CHECK(folder.names() == std::set<std::string>{"k.toml"});
}

TEST_CASE("a file that is written keeps its permissions, and a link to it stays", "[cli][regression]") {
  const Folder folder("files");
  const auto real = folder.path / "deep" / "real.txt";
  fs::create_directory(folder.path / "deep");
  fs::create_symlink("deep/real.txt", folder.path / "near");
  fs::create_symlink(folder.path / "near", folder.path / "far");
  const auto write = [&](const std::string& name, const std::string& text) {
    const auto written = skerry::os::write_file(folder.file(name), text);
    CAPTURE(written ? "" : written.error().to_line());
    CHECK(written);
  };
  write("far", "one");  // nothing is there yet
  CHECK(read(real) == "one");
  CHECK(fs::is_symlink(folder.path / "far"));
  CHECK(fs::is_symlink(folder.path / "near"));
  for (const mode_t mode : {0600U, 0644U, 0664U, 0755U}) {
    ::chmod(real.c_str(), mode);
    const auto before = status_of(real);
    write("far", "two");
    const auto after = status_of(real);
    CHECK((after.st_mode & 07777U) == mode);
    CHECK(after.st_uid == before.st_uid);
    CHECK(after.st_gid == before.st_gid);
  }
  CHECK(read(real) == "two");
  // Another hard link keeps what was there: a file is never half written, so its name gets a new one.
  fs::create_hard_link(real, folder.path / "other");
  write("near", "three");
  CHECK(read(real) == "three");
  CHECK(read(folder.path / "other") == "two");
  // A link into itself leads nowhere.
  fs::create_symlink("loop", folder.path / "loop");
  CHECK_FALSE(skerry::os::write_file(folder.file("loop"), "x"));
  ::chmod(real.c_str(), 0444);
  if (::access(real.c_str(), W_OK) != 0)  // the administrator may write everywhere
    CHECK_FALSE(skerry::os::write_file(real.string(), "x"));
  CHECK(std::distance(fs::directory_iterator(folder.path / "deep"), {}) == 1);
}

TEST_CASE("no answer takes the place of a file that was read for it, whatever it is called",
          "[cli][regression]") {
  const Folder folder("files");
  const auto place = [&](const std::string& name, const std::string& text) {
    std::ofstream(folder.path / name) << text;
  };
  auto trip = read(examples + "rodrigues.toml");
  const std::string head = "mass_limit_kg = 4.2\n";
  trip.insert(trip.find(head) + head.size(), "library = \"k.toml\"\n");
  place("t.toml", trip);
  REQUIRE(ask({"kit", "add", "item", "--name", "whistle", "--mass", "9", "--library", folder.file("k.toml")})
              .code == 0);
  for (const auto& [name, source] : {std::pair("l.adi", "log/rodrigues.adi"), {"s.csv", "score/spots.csv"}})
    place(name, read(examples + source));
  place("air.csv", "start_utc,end_utc,band\n2027-02-13T02:00:00Z,2027-02-13T03:00:00Z,20m\n");
  place("sondes.csv", "place,month,utc_hour,fof2_mhz\nJN45,2020-02,12,6.0\n");
  place("f.json", "[{\"time-tag\": \"2027-02\", \"predicted_ssn\": 90.0}]");
  place("a.toml", trip);

  struct Case {
    std::vector<std::string> command;
    std::string read;
  };
  std::vector<Case> cases;
  for (const std::string command : {"pack", "kit", "report", "explain", "calendar", "card"}) {
    cases.push_back({{command, folder.file("t.toml")}, "t.toml"});
    cases.push_back({{command, folder.file("t.toml")}, "k.toml"});
  }
  cases.push_back({{"geojson", folder.file("t.toml"), "--hour", "12"}, "k.toml"});
  cases.push_back({{"kit", "list", "--library", folder.file("k.toml")}, "k.toml"});
  cases.push_back({{"kit", "export", "whistle", "--library", folder.file("k.toml")}, "k.toml"});
  const std::vector<std::string> log{"log", folder.file("t.toml"), folder.file("l.adi"), "--on-air",
                                     folder.file("air.csv")};
  for (const char* name : {"t.toml", "k.toml", "l.adi", "air.csv"}) cases.push_back({log, name});
  cases.push_back({{"score", folder.file("s.csv")}, "s.csv"});
  cases.push_back({{"score", "--ionosonde", folder.file("sondes.csv")}, "sondes.csv"});
  cases.push_back(
      {{"path", "MH10", "JN45", "--month", "2027-02", "--forecast", folder.file("f.json")}, "f.json"});
  cases.push_back({{"map", "MH10", "--month", "2027-02", "--grid", "30", "-f", "csv", "--forecast",
                    folder.file("f.json")},
                   "f.json"});
  cases.push_back({{"antenna", folder.file("a.toml"), "--mhz", "14.1"}, "a.toml"});
  for (const auto& [command, name] : cases) {
    const auto before = read(folder.path / name);
    REQUIRE_FALSE(before.empty());
    fs::create_hard_link(folder.path / name, folder.path / "hard");
    fs::create_symlink(name, folder.path / "soft");
    for (const auto& onto : std::vector<std::string>{name, "hard", "soft", "./" + name}) {
      auto args = command;
      args.insert(args.end(), {"-o", folder.file(onto)});
      const auto said = ask(args);
      CAPTURE(command, onto, said.err);
      CHECK(said.code == 1);
      CHECK(said.err.find("found the file that was read; expected another name for the answer") !=
            std::string::npos);
      CHECK(read(folder.path / name) == before);
    }
    fs::remove(folder.path / "hard");
    fs::remove(folder.path / "soft");
  }
  // What is not read may be replaced, and what one command read another may write.
  CHECK(ask({"kit", folder.file("t.toml"), "-o", folder.file("a.toml")}).code == 0);
  CHECK(ask({"sun", "MH10", "--date", "2027-02-14", "-o", folder.file("t.toml")}).code == 0);
}
