// Causes put into plain words, and worksheets made of them.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/circuit/explain.hpp"
#include "skerry/sun/localtime.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

/// What the words need beside the numbers.
struct ExplainSheet {
  std::string from_name, to_name;  ///< as the user wrote them
  sun::Zone from_zone = sun::Zone::utc(), to_zone = sun::Zone::utc();
  ionosphere::Climate climate;
  double want_days_in_ten = 5;
  double distance_km = 0;     ///< by the short way
  std::string activity_note;  ///< how far the solar activity may be off; may be empty
  std::string hours_note;     ///< which hours were looked at: "while you are on the air", ...
  std::vector<circuit::BandExplanation> bands;
};

/// Each band's verdict and its chain of causes, heaviest first; a gloss follows each technical word's first
/// use.
[[nodiscard]] std::string explain_text(const ExplainSheet& sheet, const Style& style);
/// The verdict and its causes of one band as sentences, without glosses or wrapping: for other outputs.
[[nodiscard]] std::vector<std::string> explain_sentences(const ExplainSheet& sheet,
                                                         const circuit::BandExplanation& band);

/// Hands out each technical word's gloss the first time it is used. Source: data/words/glossary.toml.
class Glossary {
 public:
  Glossary();
  struct Word {
    std::string id, name, gloss;
    std::vector<std::string> forms;
    bool told = false;
  };
  /// Words in `text` not yet told, in the glossary's order; words of those glosses come after them. Whole
  /// words only.
  [[nodiscard]] std::vector<const Word*> first_used(std::string_view text);

 private:
  std::vector<Word> words_;
};

/// One thing changed: what it was changed to, and the answer then.
struct LessonRow {
  std::string label;  ///< "06 UTC", "July", "R12 10", "wire at 3 m"
  circuit::BandExplanation answer;
};
struct Lesson {
  std::string thing;     ///< "the hour"
  std::string question;  ///< what to think about first
  std::size_t base = 0;  ///< index of the row that the other lessons share
  std::vector<LessonRow> rows;
};
struct Worksheet {
  std::string from_name, to_name, base;  ///< base: what stays the same, in words
  std::string activity_note;             ///< as in ExplainSheet
  std::string mended;                    ///< what was raised until the base case worked; may be empty
  std::vector<Lesson> lessons;
};
/// A worksheet with blanks, then the answer key with the term that moved most.
[[nodiscard]] std::string teach_text(const Worksheet& sheet, const Style& style);

}  // namespace skerry::words
