// What README.md and docs/ show is what the program says: every "$ skerry ..." in a block is run, and the
// lines below it must come in that order; every `skerry ...` in the text must name a command and options that
// exist.
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <regex>

#include "ask.hpp"
#include "check.hpp"

namespace fs = std::filesystem;

namespace {

const fs::path source = SKERRY_SOURCE_DIR;

std::vector<fs::path> papers() {
  std::vector<fs::path> out{source / "README.md"};
  for (const auto& entry : fs::directory_iterator(source / "docs")) {
    if (entry.path().extension() == ".md") out.push_back(entry.path());
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::vector<std::string> lines_of(std::istream& in) {
  std::vector<std::string> out;
  for (std::string line; std::getline(in, line);) {
    while (!line.empty() && (line.back() == ' ' || line.back() == '\r')) line.pop_back();
    out.push_back(line);
  }
  return out;
}

/// Words as a shell splits them; quotes of both kinds, no other magic.
std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> out;
  std::string word;
  bool in_word = false;
  char quote = 0;
  for (const char c : line) {
    if (quote != 0) {
      if (c == quote) {
        quote = 0;
      } else {
        word += c;
      }
    } else if (c == '\'' || c == '"') {
      quote = c;
      in_word = true;
    } else if (c == ' ') {
      if (in_word) out.push_back(word);
      word.clear();
      in_word = false;
    } else {
      word += c;
      in_word = true;
    }
  }
  if (in_word) out.push_back(word);
  return out;
}

struct Excerpt {
  std::string where, command;
  std::vector<std::string> shown;
};

std::vector<Excerpt> excerpts(const fs::path& paper) {
  std::ifstream in(paper);
  const auto lines = lines_of(in);
  std::vector<Excerpt> out;
  bool in_block = false;
  bool after_command = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const auto& line = lines[i];
    if (line.rfind("```", 0) == 0) {
      in_block = !in_block;
      after_command = false;
    } else if (in_block && line.rfind("$ skerry ", 0) == 0) {
      out.push_back({paper.filename().string() + ":" + std::to_string(i + 1), line.substr(9), {}});
      after_command = true;
    } else if (in_block && after_command && !line.empty() && line != "...") {
      out.back().shown.push_back(line);
    }
  }
  return out;
}

/// A folder of its own with the examples in it, left again at the end.
struct Folder {
  fs::path before = fs::current_path(), here;
  Folder() {
    here = fs::temp_directory_path() / ("skerry-docs-" + std::to_string(::getpid()));
    fs::remove_all(here);
    fs::create_directories(here);
    fs::create_directory_symlink(source / "examples", here / "examples");
    fs::current_path(here);
  }
  ~Folder() {
    fs::current_path(before);
    fs::remove_all(here);
  }
};

}  // namespace

TEST_CASE("what README and docs show is what the program says", "[cli][property]") {
  const Folder folder;
  std::size_t run = 0;
  for (const auto& paper : papers()) {
    for (const auto& excerpt : excerpts(paper)) {
      const auto said = ask(words_of(excerpt.command));
      INFO(excerpt.where << ": skerry " << excerpt.command << "\n" << said.err);
      CHECK(said.code == 0);
      ++run;
      std::istringstream text(said.out);
      const auto lines = lines_of(text);
      std::size_t next = 0;
      for (std::string wanted : excerpt.shown) {
        const bool begins = wanted.size() > 4 && wanted.compare(wanted.size() - 4, 4, " ...") == 0;
        if (begins) wanted.resize(wanted.size() - 4);
        std::size_t at = next;
        while (at < lines.size() && !(begins ? lines[at].rfind(wanted, 0) == 0 : lines[at] == wanted)) ++at;
        INFO("not said, or not in this order: " << wanted);
        CHECK(at < lines.size());
        if (at < lines.size()) next = at + 1;
      }
    }
  }
  CHECK(run >= 6);
}

TEST_CASE("commands and options named in README and docs exist", "[cli][property]") {
  const std::regex inline_command("`skerry ([a-z0-9]+)([^`]*)`");
  const std::regex option("(^| |\\|)(--[a-z0-9-]+)");
  std::size_t seen = 0;
  for (const auto& paper : papers()) {
    std::ifstream in(paper);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    for (std::sregex_iterator m(text.begin(), text.end(), inline_command), end; m != end; ++m) {
      // "kit add" and its like have a help of their own.
      const std::string after = (*m)[2];
      const auto words = words_of(after);
      auto help = ask({(*m)[1], "--help"});
      if (!words.empty() && help.out.find("\n  " + words[0] + " ") != std::string::npos)
        help = ask({(*m)[1], words[0], "--help"});
      INFO(paper.filename().string() << ": " << m->str());
      REQUIRE(help.code == 0);
      ++seen;
      for (std::sregex_iterator o(after.begin(), after.end(), option); o != end; ++o) {
        const std::string name = (*o)[2];
        INFO(name);
        CHECK((help.out.find(name + " ") != std::string::npos ||
               help.out.find(name + "\n") != std::string::npos ||
               help.out.find(name + ",") != std::string::npos));
      }
    }
  }
  CHECK(seen > 15);
}
