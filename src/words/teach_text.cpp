// A worksheet with blanks, and the key to it.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::words {

namespace {

using circuit::BandExplanation;
using circuit::Shift;
using circuit::Verdict;

bool open(const BandExplanation& e) {
  return e.verdict == Verdict::works || e.verdict == Verdict::sometimes || e.verdict == Verdict::too_weak;
}

std::string or_dash(bool there, double value, const char* unit) {
  return there ? fmt::format("{:.0f} {}", plus_zero(value, 0), unit) : std::string("-");
}

std::string sun(const BandExplanation& e) {
  return e.weakest ? fmt::format("{:+.0f} deg", plus_zero(e.weakest->sun_up_deg, 0)) : std::string("-");
}

std::string table_row(std::string_view label, std::string_view up, std::string_view muf,
                      std::string_view d_layer, std::string_view angle, std::string_view antenna,
                      std::string_view days) {
  return fmt::format("  {:<16}{:>10}{:>12}{:>9}{:>11}{:>11}{:>8}\n", label, up, muf, d_layer, angle, antenna,
                     days);
}

std::string table_head() {
  return table_row("", "Sun there", "carries to", "D layer", "angle", "antenna", "days/10");
}

std::string blank_row(const LessonRow& row) {
  return table_row(row.label, sun(row.answer), "____ MHz", "____ dB", "____ deg", "____ dBi", "____");
}

/// The strongest wave's angle, or the span of those within 1 dB of it.
std::string angle(const BandExplanation& e) {
  if (!open(e)) return "-";
  if (e.long_method) return "< 8 deg";
  const auto low = fmt::format("{:.0f}", e.least_angle_deg), high = fmt::format("{:.0f}", e.most_angle_deg);
  return e.most_angle_deg - e.least_angle_deg < 2 ? fmt::format("{:.0f} deg", e.angle_deg)
                                                  : low + "-" + high + " deg";
}

std::string key_row(const LessonRow& row) {
  const auto& e = row.answer;
  return table_row(row.label, sun(e), fmt::format("{:.1f} MHz", e.muf.basic_mhz),
                   or_dash(open(e), e.d_layer_db, "dB"), angle(e),
                   open(e) ? fmt::format("{:+.1f} dBi", plus_zero(e.gain_dbi, 1)) : std::string("-"),
                   open(e) ? fmt::format("{:.0f}", e.days) : std::string("closed"));
}

/// Where a higher Sun makes a thinner F2 layer by day: why.
/// Source: seasonal ("winter") anomaly of the F2 layer, Rishbeth and Garriott 1969 (from memory).
std::string season_note(const Lesson& lesson) {
  const LessonRow *low = nullptr, *high = nullptr;
  for (const auto& a : lesson.rows) {
    for (const auto& b : lesson.rows) {
      if (!a.answer.weakest || !b.answer.weakest) continue;
      const auto &summer = *a.answer.weakest, &winter = *b.answer.weakest;
      // Judgement: both well into the day; near the equator the seasons have other causes.
      if (std::abs(summer.where.lat_deg) < 25 || summer.sun_up_deg < winter.sun_up_deg + 10 ||
          winter.sun_up_deg < 5 || summer.fof2_mhz > winter.fof2_mhz - 0.3)
        continue;
      if (summer.where.lat_deg != winter.where.lat_deg || summer.where.lon_deg != winter.where.lon_deg)
        continue;
      if (low == nullptr || summer.fof2_mhz - winter.fof2_mhz <
                                low->answer.weakest->fof2_mhz - high->answer.weakest->fof2_mhz) {
        low = &a;
        high = &b;
      }
    }
  }
  if (low == nullptr) return {};
  return fmt::format(
      "Odd: in {} the Sun stands higher over that point than in {}, yet the layer is thinner (foF2 {:.1f} "
      "against {:.1f} MHz). That is the seasonal anomaly of the F2 layer: in summer the warmed upper air "
      "holds more molecules among its atoms, and with them electrons are lost faster than the stronger Sun "
      "makes them.",
      low->label, high->label, low->answer.weakest->fof2_mhz, high->answer.weakest->fof2_mhz);
}

std::string term_text(const Shift& shift, double distance_km) {
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
    case Shift::Term::angle:
      return fmt::format(
          "the strongest wave must now leave at {:.0f} instead of {:.0f} deg, where the antenna gives {:.0f} "
          "dB {}",
          shift.to_angle_deg, shift.from_angle_deg, std::abs(shift.db), shift.db > 0 ? "more" : "less");
    case Shift::Term::bounces:
      return fmt::format("bounces off the ground cost {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::distance:
      return fmt::format("the ray's length costs {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::together:
      break;
  }
  // From 7000 to 9000 km the answer is a blend of the modes with the long-path method.
  if (distance_km > 7000)
    return fmt::format(
        "beside the strongest wave, the method for long paths that is blended in at this distance gives "
        "{:.0f} dB {}",
        std::abs(shift.db), shift.db > 0 ? "more" : "less");
  return fmt::format("the other waves that arrive beside the strongest one bring {:.0f} dB {}",
                     std::abs(shift.db), shift.db > 0 ? "more" : "less");
}

}  // namespace

std::string teach_text(const Worksheet& sheet, const Style& style) {
  const auto columns = style.width(120);
  Glossary glossary;
  std::string out = fmt::format("Worksheet: {} to {}\n", sheet.from_name, sheet.to_name);
  if (!style.unicode) out = to_ascii(out);
  out += wrapped(style.unicode ? sheet.base : to_ascii(sheet.base), columns,
                 "Always the same, unless the lesson changes it: ", "  ");
  if (!sheet.mended.empty()) out += wrapped(sheet.mended, columns, "", "  ");
  if (!sheet.activity_note.empty()) out += wrapped(sheet.activity_note + ".", columns, "", "  ");
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
        out += blank_row(row);
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
      const auto shift = circuit::shift_between(lesson.rows[lesson.base].answer, lesson.rows[r].answer);
      out +=
          wrapped(fmt::format("{} instead of {}: {}.", lesson.rows[r].label, lesson.rows[lesson.base].label,
                              term_text(shift, lesson.rows[r].answer.path.distance_km)),
                  columns, "     ", "       ");
    }
    if (lesson.thing == "the month") {
      if (const auto note = season_note(lesson); !note.empty())
        out += wrapped(note, columns, "     ", "       ");
    }
  }
  out += "\n";
  out += wrapped(
      "Sun there: its height over the weakest reflection point. Carries to: the path's MUF, which half of "
      "the days exceed; above it the wave still comes, weaker. Angle: of the strongest wave, or of all "
      "within 1 dB of it; '< 8 deg': over 9000 km the method knows no single angle and takes the antenna's "
      "largest gain from 0 to 8 deg. Antenna: its gain there. Monthly medians.",
      columns, "", "  ");
  return out;
}

}  // namespace skerry::words
