// Causes put into plain words, and worksheets made of them.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "skerry/circuit/explain.hpp"
#include "skerry/circuit/hop_table.hpp"
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
  /// Between two places: what both ends have. Without it the packed kit, while one is on the air.
  std::optional<circuit::ExplainBand> stations;
  std::optional<int> utc_hour;  ///< all bands at this hour; none: each at its best
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

/// What a lesson changes: the band by its id, the hour, the month, the Sun's activity, the height of the wire.
struct LessonHour {
  enum class Moment : std::uint8_t { any, sunrise, noon, sunset, midnight };
  Moment moment = Moment::any;
  int utc_hour = 0;
};
struct WireHeight {
  double m = 0;
};
using Changed = std::variant<std::string, LessonHour, Month, ionosphere::R12, WireHeight>;
/// One thing changed: what it was changed to, and the answer then.
struct LessonRow {
  Changed to;
  circuit::BandExplanation answer;
};
/// All rows change the same thing.
struct Lesson {
  std::vector<LessonRow> rows;
  std::size_t base = 0;  ///< index of the row that the other lessons share
};
/// What was raised until the base case worked.
struct Raised {
  double power_w = 0;  ///< the power and the activity that were asked for
  ionosphere::R12 r12;
  std::optional<double> days;  ///< in ten, as asked; none: closed
  bool works = false;          ///< false: nothing helped, and nothing was raised
};
struct Worksheet {
  std::string from_name, to_name;
  sun::Zone from_zone = sun::Zone::utc(), to_zone = sun::Zone::utc();
  circuit::ExplainBand band;  ///< what stays the same, with the four below
  double height_m = 0;        ///< of the dipole
  int utc_hour = 0;
  Month month{};
  ionosphere::R12 r12;
  std::string activity_note;     ///< as in ExplainSheet
  std::optional<Raised> raised;  ///< none: it worked as asked
  std::vector<Lesson> lessons;
  std::optional<geodesy::Town> from_town, to_town;  ///< nearest to the ends
  circuit::HopTable hops;
};
/// "120 km south-east of Milan", "at Milan" within 10 km.
[[nodiscard]] std::string town_text(const geodesy::Town& town);
/// A worksheet with blanks, then the answer key with the term that moved most.
[[nodiscard]] std::string teach_text(const Worksheet& sheet, const Style& style);

}  // namespace skerry::words
