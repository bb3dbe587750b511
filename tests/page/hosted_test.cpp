// The folder from which the page is installed, and paths written by steps.
#include "skerry/page/hosted.hpp"

#include <nlohmann/json.hpp>
#include <set>

#include "check.hpp"
#include "svg.hpp"

using namespace skerry;

TEST_CASE("the worker of a hosted page keeps every file of the folder, under a version of their contents",
          "[page][property]") {
  const auto files = page::hosted_files("<p>one</p>");
  REQUIRE(files.back().name == "worker.js");
  const auto& worker = files.back().content;
  std::set<std::string> names;
  for (const auto& file : files) {
    names.insert(file.name);
    CHECK_FALSE(file.content.empty());
    if (file.name != "worker.js") CHECK(worker.find("'" + file.name + "'") != std::string::npos);
  }
  CHECK(worker.find("{{") == std::string::npos);
  // W3C Web Application Manifest: name, start_url and an icon of 192 and of 512 pixels, as browsers ask before they install.
  for (const auto& file : files) {
    if (file.name != "skerry.webmanifest") continue;
    const auto manifest = nlohmann::json::parse(file.content);
    CHECK(manifest.at("start_url") == "./");
    CHECK(manifest.at("display") == "standalone");
    std::set<std::string> sizes;
    for (const auto& icon : manifest.at("icons")) {
      CHECK(names.count(icon.at("src").get<std::string>()) == 1);
      sizes.insert(icon.at("sizes").get<std::string>());
    }
    CHECK(sizes.count("192x192") + sizes.count("512x512") == 2);
  }
  CHECK(page::hosted_files("<p>one</p>").back().content == worker);
  CHECK(page::hosted_files("<p>two</p>").back().content != worker);
}

TEST_CASE("a path by steps leads to the same points", "[svg][known]") {
  // Worked out by hand.
  CHECK(page::short_path("M10.0 20.0L10.5 -3.0L10.5 -3.0H30.0V0.0Z") == "M10 20l.5-23h19.5v3Z");
  CHECK(page::short_path("M-0.4 -12.3L-0.4 0.0ZM1.0 1.0L2.0 0.9") == "M-.4-12.3l0 12.3ZM1 1l1-.1");
  CHECK(page::short_path("M1.0 1.0a5 5 0 1 0 10 0") == "M1.0 1.0a5 5 0 1 0 10 0");
  CHECK(page::short_path("").empty());
}
