// A worksheet with blanks, and the key to it.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "skerry/report/explain.hpp"
#include "skerry/report/pack.hpp"

namespace skerry::report {

namespace {

using advice::BandExplanation;
using advice::Shift;
using advice::Verdict;

bool open(const BandExplanation& e) {
  return e.verdict == Verdict::works || e.verdict == Verdict::sometimes || e.verdict == Verdict::too_weak;
}

std::string or_dash(bool there, double value, const char* unit) {
  return there ? fmt::format("{:.0f} {}", value, unit) : std::string("-");
}

std::string sun(const BandExplanation& e) {
  return e.weakest ? fmt::format("{:+.0f} deg", e.weakest->sun_up_deg) : std::string("-");
}

std::string table_head() {
  return fmt::format("     {:<11}{:>10}{:>13}{:>11}{:>10}{:>11}{:>9}\n", "", "Sun there", "carries to",
                     "D layer", "angle", "antenna", "days/10");
}

std::string key_row(const LessonRow& row) {
  const auto& e = row.answer;
  return fmt::format("     {:<11}{:>10}{:>9.1f} MHz{:>11}{:>10}{:>11}{:>9}\n", row.label, sun(e), e.limit_mhz,
                     or_dash(open(e), e.d_layer_db, "dB"), or_dash(open(e), e.angle_deg, "deg"),
                     open(e) ? fmt::format("{:+.1f} dBi", e.gain_dbi) : std::string("-"),
                     open(e) ? fmt::format("{:.0f}", e.days) : std::string("closed"));
}

std::string term_text(const Shift& shift) {
  const char* way = shift.db > 0 ? "less" : "more";
  switch (shift.term) {
    case Shift::Term::none:
      return "nothing moves by more than half a decibel";
    case Shift::Term::opens:
      return "the layer carries the band now: it opens";
    case Shift::Term::closes:
      return "the layer no longer carries the band: it closes";
    case Shift::Term::d_layer:
      return fmt::format("the D layer takes {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::above_muf:
      return fmt::format("the layer's limit costs {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::noise:
      return fmt::format("the noise to beat is {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::own_gain:
      return fmt::format("the antenna gives {:.0f} dB {}", std::abs(shift.db),
                         shift.db > 0 ? "more" : "less");
    case Shift::Term::bounces:
      return fmt::format("bounces off the ground cost {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::distance:
      return fmt::format("the ray's length costs {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::together:
      break;
  }
  return fmt::format("other modes add {:.0f} dB {}", std::abs(shift.db), shift.db > 0 ? "more" : "less");
}

}  // namespace

std::string teach_text(const Worksheet& sheet, const Style& style) {
  const auto columns = static_cast<std::size_t>(std::min(style.columns, 120));
  Glossary glossary;
  std::string out = fmt::format("Worksheet: {} to {}\n", sheet.from_name, sheet.to_name);
  if (!style.unicode) out = to_ascii(out);
  out += wrapped(style.unicode ? sheet.base : to_ascii(sheet.base), columns,
                 "Always the same, unless the lesson changes it: ", "  ");
  out += wrapped(
      "In each lesson exactly one thing changes. Guess the blanks first; then look at the key at the end.",
      columns, "", "  ");
  std::string words = sheet.base + " D layer MUF take-off angle dBi days in ten";
  for (const auto* word : glossary.first_used(words))
    out += wrapped(word->name + ": " + word->gloss, columns, "  | ", "  | ");
  for (std::size_t i = 0; i < sheet.lessons.size(); ++i) {
    const auto& lesson = sheet.lessons[i];
    out += fmt::format("\nLesson {}: only {} changes\n", i + 1, lesson.thing);
    out += wrapped(lesson.question, columns, "  ", "  ");
    out += table_head();
    for (std::size_t r = 0; r < lesson.rows.size(); ++r) {
      const auto& row = lesson.rows[r];
      if (r == lesson.base) {
        out += key_row(row);
      } else {
        out += fmt::format("     {:<11}{:>10}{:>9} MHz{:>8} dB{:>6} deg{:>7} dBi{:>9}\n", row.label,
                           sun(row.answer), "____", "____", "___", "____", "____");
      }
    }
    out += "     Which row is best? ________________  What made it so? ________________\n";
  }
  out += "\n--- fold here ---\n\nKey\n";
  for (std::size_t i = 0; i < sheet.lessons.size(); ++i) {
    const auto& lesson = sheet.lessons[i];
    out += fmt::format("\nLesson {}: only {} changes\n", i + 1, lesson.thing);
    out += table_head();
    for (const auto& row : lesson.rows) out += key_row(row);
    const auto best =
        std::max_element(lesson.rows.begin(), lesson.rows.end(),
                         [](const auto& a, const auto& b) { return a.answer.days < b.answer.days; });
    out += best->answer.days < 0.5 ? std::string("     best: none of them\n")
                                   : fmt::format("     best: {}\n", best->label);
    for (std::size_t r = 0; r < lesson.rows.size(); ++r) {
      if (r == lesson.base) continue;
      const auto shift = advice::shift_between(lesson.rows[lesson.base].answer, lesson.rows[r].answer);
      out += wrapped(fmt::format("{} instead of {}: {}.", lesson.rows[r].label,
                                 lesson.rows[lesson.base].label, term_text(shift)),
                     columns, "     ", "       ");
    }
  }
  out += "\n";
  out += wrapped(
      "Sun there: its height over the weakest reflection point. Carries to: the highest frequency the path "
      "takes at that hour. Antenna: its "
      "gain at that angle. Monthly medians.",
      columns, "", "  ");
  return out;
}

}  // namespace skerry::report
