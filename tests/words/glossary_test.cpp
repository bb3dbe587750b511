#include <set>

#include "check.hpp"
#include "skerry/words/explain.hpp"

using namespace skerry;

TEST_CASE("names become plain ASCII", "[words][known]") {
  CHECK(words::to_ascii("São Tomé, 5°, Öland – ß") == "Sao Tome, 5 deg, Oeland - ss");
  CHECK(words::to_ascii("日本") == "??");
  CHECK(words::to_ascii("\xFF\x80x") == "?x");
}

TEST_CASE("each word is explained once, at its first use, with the words of its gloss", "[words][property]") {
  words::Glossary glossary;
  const auto first = glossary.first_used("The D layer eats 3 dB.");
  std::set<std::string> ids;
  for (const auto* word : first) {
    CHECK(ids.insert(word->id).second);
    // One sentence.
    CHECK(word->gloss.find(". ") == std::string::npos);
    CHECK(word->gloss.back() == '.');
  }
  CHECK(ids.count("d-layer") == 1);
  CHECK(ids.count("db") == 1);
  CHECK(ids.count("dbi") == 0);
  CHECK(glossary.first_used("The D layer again, 5 dB.").empty());
  CHECK(glossary.first_used("dBm and shops are other words").empty());
  CHECK(glossary.first_used("dBi").size() == 1);
}
