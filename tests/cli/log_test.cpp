// `skerry log`, `skerry score` and `--fof2` as they are asked and answered.
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "ask.hpp"
#include "check.hpp"
#include "folder.hpp"

namespace {

const std::string trip = SKERRY_SOURCE_DIR "/examples/rodrigues.toml";
const std::string log_file = SKERRY_SOURCE_DIR "/examples/log/rodrigues.adi";
const std::string on_air = SKERRY_SOURCE_DIR "/examples/log/on_air.csv";
const std::string spots = SKERRY_SOURCE_DIR "/examples/score/spots.csv";
const std::string sondes = SKERRY_SOURCE_DIR "/examples/score/ionosondes.csv";

using skerry::test::Folder;
using skerry::test::read;

}  // namespace

TEST_CASE("log speaks skerry.log/1, and its parts add up", "[cli][property]") {
  const auto said = ask({"log", trip, log_file, "--on-air", on_air, "-f", "json"});
  CHECK(said.err.empty());
  REQUIRE(said.code == 0);
  const auto j = said.json();
  CHECK(j["schema"] == "skerry.log/1");
  const auto total = j["contacts_in_log"].get<int>();
  CHECK(j["contacts"].size() == static_cast<std::size_t>(total - j["outside_days"].get<int>()));
  for (const char* key : {"bands", "hours", "regions"}) {
    int contacts = 0, openings = 0;
    for (const auto& row : j[key]) {
      contacts += row["contacts"].get<int>();
      openings += row["openings"].get<int>();
      CHECK(row["used"].get<int>() + row["missed"].get<int>() <= row["openings"].get<int>());
    }
    CHECK(contacts == total);
    CHECK(openings > 20);
  }
  CHECK(j["on_air_told"] == true);
  CHECK(j["findings"]["erp_db"]["low"].get<double>() < j["findings"]["erp_db"]["high"].get<double>());
  double sum = 0;
  for (const auto& step : j["findings"]["far_noise"]) sum += step["probability"].get<double>();
  CHECK(sum == Approx(1).margin(0.001));
}

TEST_CASE("a log that teaches nothing is not made into a file of assumptions", "[cli][edge]") {
  const Folder folder("log");
  const auto write = [&](const char* name, const std::string& text) {
    std::ofstream(folder.file(name)) << text;
    return folder.file(name);
  };
  const auto record = [](const char* call, const char* day, const char* more) {
    return std::string("<CALL:6>") + call + "<QSO_DATE:8>" + day + "<TIME_ON:4>0700<BAND:3>20m<MODE:3>FT8" +
           more + "<EOR>\n";
  };
  for (const auto& [name, text] :
       {std::pair<const char*, std::string>{
            "other.adi", record("QQ1AAA", "20200101", "<GRIDSQUARE:4>JO01<RST_RCVD:3>-05")},
        {"first.adi", record("QQ1AAA", "20270214", "")}}) {
    const auto said = ask({"log", trip, write(name, text), "--learn", folder.file("learned.toml")});
    CAPTURE(name, said.err);
    CHECK(said.code == 1);
    CHECK(said.out.empty());
    CHECK(said.err.find("no contact to learn from, of 1 in the log") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(folder.file("learned.toml")));
  }
}

TEST_CASE("antennas and modes that the trip does not know are said with the answer", "[cli][edge]") {
  const Folder folder("log");
  std::string text;
  for (const char* call : {"QQ1AAA", "QQ1AAB", "QQ1AAC"})
    text += std::string("<CALL:6>") + call +
            "<QSO_DATE:8>20270214<TIME_ON:4>0700<BAND:3>20m<MODE:5>SMOKE"
            "<MY_ANTENNA:10>random-13m<GRIDSQUARE:4>JO01<EOR>\n";
  std::ofstream(folder.file("l.adi")) << text;
  const auto said = ask({"log", trip, folder.file("l.adi"), "-f", "json"});
  REQUIRE(said.code == 0);
  CAPTURE(said.err);
  const auto answer = said.json();
  for (const char* part : {"MY_ANTENNA 'random-13m', which the trip does not have, in 3 records",
                           "did you mean 'random-12m'?", "MODE 'SMOKE', in 3 records"}) {
    CAPTURE(part);
    CHECK(said.err.find(part) != std::string::npos);
    std::string told;
    for (const auto& warning : answer["warnings"]) told += warning.get<std::string>() + "\n";
    CHECK(told.find(part) != std::string::npos);
  }
  CHECK(std::count(said.err.begin(), said.err.end(), '\n') == 2);
}

TEST_CASE("call signs stay in the log unless asked for", "[cli][property]") {
  for (const char* format : {"text", "json", "csv"}) {
    CAPTURE(format);
    const auto said = ask({"log", trip, log_file, "-f", format});
    REQUIRE(said.code == 0);
    // All of the example's begin so: no series of call signs does.
    CHECK(said.out.find("QQ") == std::string::npos);
  }
  CHECK(ask({"log", trip, log_file, "-f", "csv", "--show-calls"}).out.find("QQ") != std::string::npos);
}

TEST_CASE("what a log teaches goes into a file, is used where a trip names it, and is then said",
          "[cli][property]") {
  const Folder folder("log");
  const auto overlay = folder.file("learned.toml");
  auto said = ask({"log", trip, log_file, "--learn", overlay});
  REQUIRE(said.code == 0);
  CHECK(said.err.find("only with learned = ") != std::string::npos);
  CHECK(read(overlay).find("QQ") == std::string::npos);
  // Never over what is there.
  CHECK(ask({"log", trip, log_file, "--learn", overlay}).code == 1);

  auto text = read(trip);
  const std::string head = "mass_limit_kg = 4.2\n";
  text.insert(text.find(head) + head.size(), "learned = \"learned.toml\"\n");
  std::ofstream(folder.file("trip.toml")) << text;
  const auto pack = ask({"pack", folder.file("trip.toml")});
  REQUIRE(pack.code == 0);
  CHECK(pack.out.find("learned from") != std::string::npos);
  CHECK(ask({"pack", folder.file("trip.toml"), "-f", "json"}).out.find("\"topic\": \"learned\"") !=
        std::string::npos);
  CHECK(ask({"pack", trip}).out.find("learned from") == std::string::npos);
}

TEST_CASE("broken records are warned of with their place, and the run goes on", "[cli][edge]") {
  const Folder folder("log");
  const auto file = folder.file("l.adi");
  std::ofstream(file) << read(log_file) << "<CALL:99>QQ1AAA<EOR>\n<CALL:6>QQ1AAA<QSO_DATE:8>20271399<EOR>\n";
  const auto said = ask({"log", trip, file, "-f", "csv"});
  CHECK(said.code == 0);
  CHECK(said.err.find("warning: " + file + ":") != std::string::npos);
  CHECK(ask({"log", trip, trip}).code == 2);
  CHECK(ask({"log", trip, folder.file("none.adi")}).code == 2);
  const auto wrong = ask({"log", trip, log_file, "--carried", "rig-10v"});
  CHECK(wrong.code == 2);
  CHECK(wrong.err.find("did you mean 'rig-10w'") != std::string::npos);
  CHECK(ask({"log", trip, log_file, "--used", "rig-10w,,"}).code == 2);
}

TEST_CASE("score speaks skerry.score/1 and skerry.sondes/1", "[cli][known]") {
  const auto said = ask({"score", spots, "-f", "json"});
  CHECK(said.err.empty());
  REQUIRE(said.code == 0);
  const auto j = said.json();
  CHECK(j["schema"] == "skerry.score/1");
  CHECK(j["bands"].size() == 3);
  const auto& all = j["all"];
  CHECK(all["reliability"].get<double>() - all["resolution"].get<double>() +
            all["uncertainty"].get<double>() + all["within_bins"].get<double>() ==
        Approx(all["brier"].get<double>()).margin(5e-6));
  CHECK(all["bins"].size() == 10);
  CHECK(ask({"score", spots}).out.find("RELIABILITY") != std::string::npos);
  CHECK(ask({"score", spots, "-f", "csv"}).out.rfind("band,heard,silent", 0) == 0);

  const auto maps = ask({"score", "--ionosonde", sondes, "-f", "json"});
  REQUIRE(maps.code == 0);
  CHECK(maps.json()["schema"] == "skerry.sondes/1");
  CHECK(maps.json()["fof2"]["by_hour"].size() == 24);
  CHECK(ask({"score", "--ionosonde", sondes}).out.find("middle latitudes") != std::string::npos);

  const Folder folder("score");
  const auto hours = folder.file("hours.csv");
  std::ofstream(hours) << "month,utc_hour,mhz,tx,rx,power_w,days_active,days_heard\n"
                          "2017-07,9,14.1,\"60.2,24.8\",JO62,100,20,8\n2017-07,10,21.1,JO62,PM95,100,6,0\n";
  const auto month = ask({"score", "--hours", hours, "--mode", "cw", "-f", "json"});
  REQUIRE(month.code == 0);
  CHECK(month.json()["schema"] == "skerry.score/1");
  CHECK(month.json()["bands"][0]["heard"] == 8);
  CHECK(month.json()["classes"].size() == 2);
  CHECK(ask({"score", "--hours", hours}).out.find("RELIABILITY, 15m") != std::string::npos);
  CHECK(ask({"score", "--hours", hours, "--least-days", "21"}).code == 2);
  CHECK(ask({"score", "--hours", hours, spots}).code == 2);

  CHECK(ask({"score"}).code == 2);
  CHECK(ask({"score", spots, "--ionosonde", sondes}).code == 2);
  CHECK(ask({"score", spots, "--mode", "wsprr"}).err.find("did you mean") != std::string::npos);
  CHECK(ask({"score", trip}).code == 2);
}

TEST_CASE("a measured foF2 changes the answer and is said in every form of it", "[cli][property]") {
  const std::vector<std::string> question{"path",  "MH10", "JN45",    "--month", "2027-02",
                                          "--r12", "60",   "--bands", "20m"};
  const auto with = [](std::vector<std::string> args, const std::vector<std::string>& more) {
    args.insert(args.end(), more.begin(), more.end());
    return args;
  };
  const std::vector<std::string> reading{"--fof2", "6.2@-20.1,57.5@14:30"};
  const std::string label = "foF2 6.20 MHz measured at 20.1 S 57.5 E, 14:30 UTC";
  const auto bare = ask(with(question, {"-f", "json"}));
  const auto said = ask(with(with(question, reading), {"-f", "json"}));
  REQUIRE(said.code == 0);
  CHECK(said.json()["ways"] != bare.json()["ways"]);
  for (const auto& args : {with(question, reading), with(with(question, reading), {"-f", "json"}),
                           with(with(question, reading), {"-f", "csv"}),
                           with({"ionosphere", "LG89", "--month", "2027-02"}, reading),
                           with({"ionosphere", "LG89", "--month", "2027-02", "-f", "json"}, reading),
                           with({"ionosphere", "LG89", "--month", "2027-02", "-f", "csv"}, reading),
                           with({"pack", trip}, reading), with({"pack", trip, "-f", "json"}, reading),
                           with({"pack", trip, "-f", "csv"}, reading), with({"report", trip}, reading)}) {
    CAPTURE(args);
    const auto answer = ask(args);
    CHECK(answer.code == 0);
    std::string flat = answer.out;  // lines are broken in texts
    for (std::size_t at = 0; (at = flat.find("\n  ", at)) != std::string::npos;) flat.replace(at, 3, " ");
    CHECK(flat.find(label) != std::string::npos);
  }
  const auto line =
      ask({"batch"},
          R"({"from":"MH10","to":"JN45","month":"2027-02","bands":["20m"],"fof2":["6.2@-20.1,57.5@14:30"]})"
          "\n");
  CHECK(line.out.find(label) != std::string::npos);
  CHECK(ask(with(question, {"--fof2", "6.2@-20.1,57.5"})).code == 2);
  CHECK(ask(with(question, {"--fof2", "62@-20.1,57.5@14:30"})).code == 2);
}
