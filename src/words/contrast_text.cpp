#include <fmt/format.h>

#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/words/contrast.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "strip_text.hpp"

namespace skerry::words {

namespace {

using circuit::BandAnswer;

const BandAnswer& cell(const Contrast& c, bool after, std::size_t frequency, int hour) {
  const auto& answer = after ? c.after : c.before;
  const int at = c.hours ? nth(*c.hours, after ? 1 : 0) : hour;
  return nth(answer.ways.front().hours, at).bands[frequency];
}

/// Hours on which the rows are compared: all, or the one pair.
int columns_of(const Contrast& c) {
  return c.hours ? 1 : 24;
}

const char* thing_name(Contrasted thing) {
  static constexpr std::array names{"month", "Sun's activity", "power sent", "antenna here", "hour"};
  return nth(names, thing);
}

std::string band_name(const circuit::PathQuestion::Frequency& f) {
  return f.band.empty() ? fmt::format("{:g} MHz", f.mhz) : f.band;
}

std::string move_text(const Contrast& c, bool gain) {
  const auto move = largest_move(c, gain);
  if (!move) return {};
  const auto& q = c.before.question;
  return fmt::format("{} most: {}{}, from {} to {}", gain ? "Gains" : "Loses",
                     band_name(q.frequencies[move->frequency]),
                     c.hours ? std::string() : fmt::format(" at {:02} UTC", move->utc_hour),
                     whole_days(move->before), whole_days(move->after));
}

}  // namespace

std::string contrast_label(const Contrast& c, bool after) {
  const auto& q = (after ? c.after : c.before).question;
  switch (c.thing) {
    case Contrasted::month:
      return to_iso(month_of(start_of(q.climate.day)));
    case Contrasted::sun:
      return fmt::format("R12 {:.0f}", q.climate.r12);
    case Contrasted::power:
      return fmt::format("{:g} W", q.from.power_w);
    case Contrasted::antenna:
      return antenna_text(q.from.gain_dbi);
    case Contrasted::hour:
      break;
  }
  return fmt::format("{:02} UTC", nth(*c.hours, after ? 1 : 0));
}

std::string contrast_heading(const Contrast& c) {
  return fmt::format("only the {} changes: {} and {}", thing_name(c.thing), contrast_label(c, false),
                     contrast_label(c, true));
}

std::string contrast_base(const Contrast& c) {
  const auto& q = c.before.question;
  const auto& path = c.before.ways.front().path;
  std::string out = fmt::format("{:.0f} km, {:.0f} deg; {}", path.distance_km, path.bearing_deg, q.mode.name);
  if (c.thing != Contrasted::power) out += fmt::format(", {:g} W", q.from.power_w);
  if (c.thing != Contrasted::antenna) out += " with " + antenna_text(q.from.gain_dbi) + " here";
  out += fmt::format(", {:g} W with {} there", q.to.power_w, antenna_text(q.to.gain_dbi));
  if (c.thing != Contrasted::month) out += ", " + to_iso(month_of(start_of(q.climate.day)));
  if (c.thing != Contrasted::sun) out += fmt::format(", R12 {:.0f}", q.climate.r12);
  return out;
}

std::optional<ContrastMove> largest_move(const Contrast& c, bool gain) {
  std::optional<ContrastMove> out;
  double most = 0.5;  // Judgement: what rounds to nothing is not told
  for (std::size_t f = 0; f < c.before.question.frequencies.size(); ++f) {
    for (int h = 0; h < columns_of(c); ++h) {
      const double before = cell(c, false, f, h).days_in_ten, after = cell(c, true, f, h).days_in_ten;
      const double move = gain ? after - before : before - after;
      if (move <= most) continue;
      most = move;
      out = ContrastMove{f, h, before, after};
    }
  }
  return out;
}

std::string contrast_text(const Contrast& c, const Style& style) {
  const auto columns = style.width(100);
  const auto& q = c.before.question;
  std::string out =
      wrapped(fmt::format("{} to {}: {}", c.from_name, c.to_name, contrast_heading(c)), columns, "", "  ");
  out += wrapped("Always the same: " + contrast_base(c) + ".", columns, "", "  ");
  out += fmt::format("Days in ten by the sky, both ways ('{}' closed, '-' under half a day). {}\n",
                     style.unicode ? "·" : ".", c.hours ? "" : span_note);
  const auto row = [&](bool after, std::size_t f) {
    std::string cells;
    for (int h = 0; h < columns_of(c); ++h) {
      const auto& b = cell(c, after, f, h);
      cells += strip_cell(b.open(), b.days_in_ten, style, 3);
    }
    return cells;
  };
  if (c.hours) {
    out += fmt::format("{:>8}  {}  {}\n", "", contrast_label(c, false), contrast_label(c, true));
    for (std::size_t f = 0; f < q.frequencies.size(); ++f)
      out += fmt::format("{:>8}     {}     {}\n", band_name(q.frequencies[f]), row(false, f), row(true, f));
  } else {
    // Eighty columns hold a band, a letter and 24 hours.
    out += fmt::format("  A: {}, B: {}\n", contrast_label(c, false), contrast_label(c, true));
    out += fmt::format("{:>5}  ", "UTC");
    for (int h = 0; h < 24; ++h) out += fmt::format(" {:02}", h);
    out += "\n";
    for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
      out += fmt::format("{:>5} A{}\n", band_name(q.frequencies[f]), row(false, f));
      out += fmt::format("{:>5} B{}\n", "", row(true, f));
    }
  }
  const auto gains = move_text(c, true), losses = move_text(c, false);
  if (gains.empty() && losses.empty()) {
    out += "No band moves by half a day in ten.\n";
  } else {
    out += wrapped(gains + (gains.empty() || losses.empty() ? "" : ". ") + losses + ".", columns, "", "  ");
  }
  return on_screen(out + "Monthly medians: single days differ.\n", style);
}

}  // namespace skerry::words
