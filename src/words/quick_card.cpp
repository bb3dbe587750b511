// One path on some fifteen short lines.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "skerry/circuit/day_parts.hpp"
#include "skerry/words/card.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/place.hpp"

namespace skerry::words {

namespace {

/// Judgement: a phone held upright shows some 40 characters without making them too small.
constexpr std::size_t columns = 44;

struct Best {
  double days = 0;
  int hour = 0;
};

Best best_of(const circuit::WayAnswer& way, std::size_t frequency) {
  Best out;
  for (std::size_t h = 0; h < way.hours.size(); ++h) {
    const double days = way.hours[h].bands[frequency].days_in_ten;
    if (days > out.days) out = {days, static_cast<int>(h)};
  }
  return out;
}

std::string name_of(const circuit::PathQuestion::Frequency& f) {
  return f.band.empty() ? fmt::format("{:g} MHz", f.mhz) : f.band;
}

/// "3-5", "4", "up to 2" from under half a day
std::string days_span(double least, double most) {
  const auto low = days_sign(true, least), high = days_sign(true, most);
  return low == high ? low : low == "-" ? "up to " + high : low + "-" + high;
}

/// What to use in each part of the day, and what else.
std::string parts_text(const circuit::WayAnswer& way, const circuit::PathQuestion& q) {
  const auto parts = circuit::day_parts(way);
  std::string out = fmt::format("{:<12}{:<10}{}\n", "UTC", "use", "else  (days in ten)");
  for (const auto& p : parts) {
    const auto when =
        p.end_h - p.start_h >= 24 ? std::string("all day") : clock_of(p.start_h) + "-" + clock_of(p.end_h);
    if (!p.primary) {
      out += fmt::format("{:<12}nothing\n", when);
      continue;
    }
    const auto use = fmt::format("{} ({})", name_of(q.frequencies[*p.primary]),
                                 days_span(p.primary_least, p.primary_most));
    const auto other = p.fallback ? fmt::format("{} ({})", name_of(q.frequencies[*p.fallback]),
                                                days_span(p.fallback_least, p.fallback_most))
                                  : std::string("nothing else");
    out += wrapped(fmt::format("{:<11} {:<9} {}", when, use, other), columns, "", "  ");
  }
  return out;
}

/// Bands that the ground wave alone carries on the wanted days.
std::string ground_text(const circuit::WayAnswer& way, const circuit::PathQuestion& q) {
  std::string list;
  for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
    if (!way.ground_openings[f].empty()) list += (list.empty() ? "" : " ") + name_of(q.frequencies[f]);
  }
  return list.empty() ? list
                      : wrapped("along the ground " + list + ": only with low verticals at both ends",
                                columns, "", "  ");
}

}  // namespace

std::string quick_card_text(const circuit::PathAnswer& answer) {
  const auto& q = answer.question;
  const auto& way = answer.ways.front();
  std::string out = fmt::format("{} to {}\n", geodesy::to_text(q.from.at, 1), geodesy::to_text(q.to.at, 1));
  out += fmt::format("{:.0f} deg {:.0f} km, {} R12 {:.0f}\n", way.path.bearing_deg, way.path.distance_km,
                     to_iso(q.climate.day), q.climate.r12);
  out += wrapped(fmt::format("{} {:g} W {}, there {:g} W {}", q.mode.name, q.from.power_w,
                             antenna_text(q.from.gain_dbi), q.to.power_w, antenna_text(q.to.gain_dbi)),
                 columns, "", "  ");
  const UtcTime noon = start_of(q.climate.day) + std::chrono::hours{12};
  out += wrapped(fmt::format("clocks: here {}, there {}", clock_words(answer.from_clock, noon),
                             clock_words(answer.to_clock, noon)),
                 columns, "", "  ");
  out += parts_text(way, q);
  out += fmt::format("UTC with {:g}+ days in ten both ways:\n", q.want_days_in_ten);
  std::string weak, closed;
  for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
    const auto name = name_of(q.frequencies[f]);
    const auto best = best_of(way, f);
    if (!way.openings[f].empty()) {
      std::string line;
      for (const auto& o : way.openings[f]) line += (line.empty() ? name + " " : ", ") + opening_text(o, "-");
      out += wrapped(fmt::format("{}; best {:02} ({:.0f})", line, best.hour, best.days), columns, "", "  ");
    } else if (best.days >= circuit::least_open_days_told) {
      weak += fmt::format("{}{} {:02} ({:.0f})", weak.empty() ? "" : ", ", name, best.hour, best.days);
    } else {
      closed += (closed.empty() ? "" : " ") + name;
    }
  }
  if (!weak.empty()) out += wrapped("fewer days, best at: " + weak, columns, "", "  ");
  if (!closed.empty()) out += wrapped("closed: " + closed, columns, "", "  ");
  out += ground_text(way, q);
  if (const auto cautions = caution_texts(answer); !cautions.empty())
    out += wrapped(cautions.front(), columns, "", "  ");
  return to_ascii(out + "Medians: single days differ.\n");
}

}  // namespace skerry::words
