// A worksheet with blanks, and the key to it.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/numbers.hpp"
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

/// "06 UTC", "sunrise 03 UTC", "2027-05", "R12 10", "3 m up".
std::string label(const LessonRow& row) {
  struct Text {
    std::string operator()(const std::string& band) const { return band; }
    std::string operator()(LessonHour at) const {
      static constexpr std::array moments{"", "sunrise ", "noon ", "sunset ", "midnight "};
      return fmt::format("{}{:02} UTC", nth(moments, at.moment), at.utc_hour);
    }
    std::string operator()(Month month) const { return to_iso(month); }
    std::string operator()(ionosphere::R12 r12) const { return fmt::format("R12 {:.0f}", r12); }
    std::string operator()(WireHeight height) const { return fmt::format("{:g} m up", height.m); }
  };
  return std::visit(Text{}, row.to);
}

/// What a lesson changes, and what to think about first.
struct LessonText {
  std::string thing, question;
};
LessonText text_of(const Lesson& lesson, double mhz) {
  struct Text {
    double mhz;
    LessonText operator()(const std::string& /*band*/) const {
      return {"the band",
              "Which of them the layer still bends, and which the D layer eats? The dipole is cut for each "
              "band, so its height in wavelengths changes too."};
    }
    LessonText operator()(LessonHour /*hour*/) const {
      return {
          "the hour",
          "Where does the Sun stand over the weakest reflection point? Is there a D layer, and how strong "
          "is the layer above it?"};
    }
    LessonText operator()(Month /*month*/) const {
      return {"the month",
              "The same hour in other seasons: which months have the longer day at the weakest point?"};
    }
    LessonText operator()(ionosphere::R12 /*r12*/) const {
      return {"the Sun's activity",
              "More sunspots make the layer stronger, and the D layer too: which of the two wins on this "
              "band?"};
    }
    LessonText operator()(WireHeight /*height*/) const {
      return {
          "the height of the wire",
          fmt::format("One wavelength is {:.0f} m here. A low wire sends its power up, a high one towards "
                      "the horizon: which does the angle ask for?",
                      299.792458 / mhz)};
    }
  };
  return std::visit(Text{mhz}, lesson.rows.front().to);
}

std::string base_text(const Worksheet& sheet) {
  const auto& band = sheet.band;
  const UtcTime when = start_of(middle_of(sheet.month)) + std::chrono::hours{sheet.utc_hour};
  return fmt::format(
      "{} with {:g} W in {}, a dipole {:g} m up turned to the far end, {:02} UTC ({} here, {} there), {}, R12 "
      "{:.0f}, {:g} W with {} there.",
      band.band, band.own.power_w, band.mode.name, sheet.height_m, sheet.utc_hour,
      sheet.from_zone.labelled_clock(when), sheet.to_zone.labelled_clock(when), to_iso(sheet.month),
      sheet.r12, band.partner.power_w, antenna_text(band.partner));
}

std::string raised_text(const Raised& raised) {
  const std::string was = raised.days ? fmt::format("{:.0f} of ten days", *raised.days) : "closed";
  if (!raised.works)
    return fmt::format("Neither 400 W nor R12 150 makes this band work ({}): the lesson shows why.", was);
  return fmt::format(
      "As asked, with {:g} W and R12 {:.0f}, the band makes too little for a lesson ({}): power and sunspots "
      "were raised until it works.",
      raised.power_w, raised.r12, was);
}

/// "Hops": the table of one layer height, and what it says of this path.
std::string hops_text(const Worksheet& sheet, double distance_km, std::size_t columns) {
  const auto& hops = sheet.hops;
  std::string out = fmt::format("\nThe hop table: a mirror at {:.0f} km (E) or {:.0f} km (F2)\n",
                                hops.e.height_km, hops.f2.height_km);
  out += wrapped(
      "How far one hop reaches hangs on the angle at which the wave leaves, and on the height of the mirror; "
      "on nothing else.",
      columns, "  ", "  ");
  out += fmt::format("  {:>10}{:>10}{:>10}\n", "one hop", "off E", "off F2");
  const auto angle = [](const std::optional<double>& deg) {
    return deg ? fmt::format("{:.1f} deg", *deg) : std::string("-");
  };
  for (const auto& row : hops.rows)
    out += fmt::format("  {:>7.0f} km{:>10}{:>10}\n", row.distance_km, angle(row.e_deg), angle(row.f2_deg));
  return out + wrapped(fmt::format("Your path has {:.0f} km. How many hops off the F2 layer does it need at "
                                   "least, and at which angle do they leave? ____ hops, ____ deg.  And "
                                   "off the E layer? ____ hops, ____ deg.",
                                   distance_km),
                       columns, "  ", "  ");
}

std::string hops_key(const Worksheet& sheet, double distance_km, std::size_t columns) {
  const auto least = [&](const circuit::HopMirror& mirror) {
    const int hops = std::max(1, static_cast<int>(std::ceil(distance_km / mirror.longest_km - 1e-9)));
    const auto angle = circuit::hop_angle_deg(distance_km, hops, mirror.height_km);
    return fmt::format("{} of {:.0f} km, leaving at {:.1f} deg", counted(hops, "hop"), distance_km / hops,
                       angle.value_or(0));
  };
  return "\nThe hop table\n" +
         wrapped(fmt::format("{:.0f} km: off F2 {}; off E {}. Real layers are higher or "
                             "lower by the hour: see the angles of the lessons.",
                             distance_km, least(sheet.hops.f2), least(sheet.hops.e)),
                 columns, "     ", "       ");
}

/// Where the two ends and the point that decides lie, by towns that a class can find on its map.
std::string places_text(const Worksheet& sheet) {
  std::string out;
  const auto add = [&](const char* what, const std::optional<geodesy::Town>& town) {
    if (town) out += fmt::format("{}{} {}", out.empty() ? "" : "; ", what, town_text(*town));
  };
  add("near end", sheet.from_town);
  add("far end", sheet.to_town);
  const auto& base = sheet.lessons.front().rows[sheet.lessons.front().base].answer;
  if (base.weakest)
    add(base.points > 1 ? "weakest reflection point" : "reflection point", base.weakest->near);
  return out;
}

/// Where the deciding point of a lesson's rows lies, where it moves.
std::string moved_points(const Lesson& lesson) {
  std::vector<std::string> told;
  std::string out;
  for (const auto& row : lesson.rows) {
    if (!row.answer.weakest || !row.answer.weakest->near) continue;
    const auto where = town_text(*row.answer.weakest->near);
    if (std::find(told.begin(), told.end(), where) == told.end()) told.push_back(where);
    out += fmt::format("{}{} {}", out.empty() ? "" : "; ", label(row), where);
  }
  return told.size() < 2 ? std::string() : "weakest point: " + out + ".";
}

std::string blank_row(const LessonRow& row) {
  return table_row(label(row), sun(row.answer), "____ MHz", "____ dB", "____ deg", "____ dBi", "____");
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
  return table_row(label(row), sun(e), fmt::format("{:.1f} MHz", e.muf.basic_mhz),
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
      label(*low), label(*high), low->answer.weakest->fof2_mhz, high->answer.weakest->fof2_mhz);
}

std::string term_text(const Shift& shift, const BandExplanation& after) {
  const char* way = shift.db > 0 ? "less" : "more";
  switch (shift.term) {
    case Shift::Term::none:
      return "nothing moves by more than half a decibel";
    case Shift::Term::opens:
      return "the layer carries the band now: it opens";
    case Shift::Term::closes:
      return fmt::format(
          "the layer no longer carries the band: it takes at most {:.1f} MHz then, and the band closes",
          after.muf.limit_mhz);
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
    case Shift::Term::skyline:
      return fmt::format("bending over the skyline costs {:.0f} dB {}{}", std::abs(shift.db), way,
                         !shift.crossed ? ""
                         : shift.db > 0 ? ": the band opens"
                                        : ": the band closes");
    case Shift::Term::distance:
      return fmt::format("the ray's length costs {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::screening:
      return fmt::format("the E layer, through which the ray must go up to the F2 layer, takes {:.0f} dB {}",
                         std::abs(shift.db), way);
    case Shift::Term::auroral:
      return fmt::format("the auroral zone takes {:.0f} dB {}", std::abs(shift.db), way);
    case Shift::Term::together:
      break;
  }
  // From 7000 to 9000 km the answer is a blend of the modes with the long-path method.
  if (after.path.distance_km > 7000)
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
  const std::string base = base_text(sheet);
  out += wrapped(style.unicode ? base : to_ascii(base), columns,
                 "Always the same, unless the lesson changes it: ", "  ");
  if (const auto places = places_text(sheet); !places.empty())
    out += wrapped(style.unicode ? places : to_ascii(places), columns, "Where: ", "  ");
  if (sheet.raised) out += wrapped(raised_text(*sheet.raised), columns, "", "  ");
  if (!sheet.activity_note.empty()) out += wrapped(sheet.activity_note + ".", columns, "", "  ");
  out += wrapped(
      "In each lesson exactly one thing changes. Guess the blanks first; then look at the key at the end.",
      columns, "", "  ");
  std::string words = base + " D layer MUF take-off angle dBi days in ten";
  for (const auto* word : glossary.first_used(words))
    out += wrapped(word->name + ": " + word->gloss, columns, "  | ", "  | ");
  for (std::size_t i = 0; i < sheet.lessons.size(); ++i) {
    const auto& lesson = sheet.lessons[i];
    const auto text = text_of(lesson, sheet.band.mhz);
    out += fmt::format("\nLesson {}: only {} changes\n", i + 1, text.thing);
    out += wrapped(text.question, columns, "  ", "  ");
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
  const double distance_km = sheet.lessons.front().rows.front().answer.path.distance_km;
  out += hops_text(sheet, distance_km, columns);
  out += "\n--- fold here ---\n\nKey\n";
  for (std::size_t i = 0; i < sheet.lessons.size(); ++i) {
    const auto& lesson = sheet.lessons[i];
    out += fmt::format("\nLesson {}: only {} changes\n", i + 1, text_of(lesson, sheet.band.mhz).thing);
    out += table_head();
    for (const auto& row : lesson.rows) out += key_row(row);
    const auto best =
        std::max_element(lesson.rows.begin(), lesson.rows.end(),
                         [](const auto& a, const auto& b) { return a.answer.days < b.answer.days; });
    out += best->answer.days < 0.5 ? std::string("     best: none of them\n")
                                   : fmt::format("     best: {}\n", label(*best));
    for (std::size_t r = 0; r < lesson.rows.size(); ++r) {
      if (r == lesson.base) continue;
      const auto shift = circuit::shift_between(lesson.rows[lesson.base].answer, lesson.rows[r].answer);
      out += wrapped(fmt::format("{} instead of {}: {}.", label(lesson.rows[r]),
                                 label(lesson.rows[lesson.base]), term_text(shift, lesson.rows[r].answer)),
                     columns, "     ", "       ");
    }
    if (auto points = moved_points(lesson); !points.empty())
      out += wrapped(style.unicode ? points : to_ascii(points), columns, "     ", "       ");
    if (std::holds_alternative<Month>(lesson.rows.front().to)) {
      if (const auto note = season_note(lesson); !note.empty())
        out += wrapped(note, columns, "     ", "       ");
    }
  }
  out += hops_key(sheet, distance_km, columns);
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
