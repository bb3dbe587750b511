#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/core/text.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/path.hpp"
#include "skerry/words/place.hpp"
#include "strip_text.hpp"

namespace skerry::words {

namespace {

std::string band_name(const circuit::PathQuestion::Frequency& f) {
  return f.band.empty() ? fmt::format("{:.3f}", f.mhz) : f.band;
}

std::string way_heading(const geodesy::Path& path) {
  return fmt::format("{} way: {:.0f} km, go out at {:.0f} deg, they beam at {:.0f} deg",
                     path.way == geodesy::Way::short_way ? "Short" : "Long", path.distance_km,
                     path.bearing_deg, path.return_bearing_deg);
}

/// Which range of days a cell shows.
enum class Range : std::uint8_t { none, method, with_sun };

/// `width` characters on the screen.
std::string cell_text(const circuit::BandAnswer& b, Range range, const Style& style, std::size_t width) {
  const bool open = b.open() || b.ground_there.days_in_ten >= 0.5;
  const auto cell = [&](const std::string& sign) {
    return strip_cell(open, b.both_days_in_ten, style, width, sign);
  };
  if (!open && b.skip_zone) return cell("skip");
  const std::string ground = b.by_ground ? "g" : b.by_es() ? "e" : "";
  const bool with_sun = range == Range::with_sun;
  const double least = with_sun ? b.least_days : b.method_least_days;
  const double most = with_sun ? b.most_days : b.method_most_days;
  if (range == Range::none || (most < 0.5 && !open)) {
    const std::string edge = b.on_edge ? "~" : "";
    return cell(ground.empty() && edge.empty() ? std::string()
                                               : days_sign(open, b.both_days_in_ten) + ground + edge);
  }
  const auto low = days_sign(true, least);
  const auto high = days_sign(true, most);
  return cell((low == high ? low : low + ".." + high) + ground);
}

bool is_warned(const circuit::WayAnswer& way, std::size_t hour) {
  return std::any_of(way.warnings.begin(), way.warnings.end(),
                     [&](const auto& w) { return w.at_hour[hour]; });
}

/// Whether any hour of the table that the opening touches is under a warning.
bool is_warned(const circuit::WayAnswer& way, const circuit::Opening& o) {
  const auto last = std::lround(o.end_h);
  for (auto h = std::lround(o.start_h); h <= last; ++h) {
    if (is_warned(way, static_cast<std::size_t>(h % 24))) return true;
  }
  return false;
}

/// by_ground: no storm of the ionosphere touches those.
std::string openings_line(const circuit::WayAnswer& way, const std::vector<circuit::Opening>& openings,
                          bool by_ground) {
  std::string out;
  for (const auto& o : openings) {
    out += fmt::format("{}{}{}, best {} ({})", out.empty() ? "" : "; ", opening_text(o),
                       !by_ground && is_warned(way, o) ? "!" : "", clock_of(o.peak_h),
                       days_sign(true, o.peak_value));
  }
  return out;
}

std::string openings_text(const circuit::WayAnswer& way, const circuit::PathQuestion& q) {
  std::string out, ground;
  for (std::size_t i = 0; i < q.frequencies.size(); ++i) {
    const auto line = [&](const std::vector<circuit::Opening>& openings, bool by_ground) {
      return openings.empty() ? std::string()
                              : fmt::format("  {:>7}: {}\n", band_name(q.frequencies[i]),
                                            openings_line(way, openings, by_ground));
    };
    out += line(way.openings[i], false);
    ground += line(way.ground_openings[i], true);
  }
  const bool marked = out.find('!') != std::string::npos;
  out = out.empty() ? fmt::format("\nNo opening by the sky reaches {:g} days in ten.\n", q.want_days_in_ten)
                    : fmt::format("\nOpenings at {:g} days in ten or better, UTC to the quarter of an hour\n",
                                  q.want_days_in_ten) +
                          out;
  if (marked) out += "  (! undisturbed figures, as in the table)\n";
  if (!ground.empty())
    out += "Along the ground, only with vertical antennas low down at both ends\n" + ground;
  return out;
}

/// The hour and band of the sky wave with the most days, as a sentence; where none makes half a day, the one
/// that lacks least.
std::string best_sentence(const circuit::WayAnswer& way, const circuit::PathQuestion& q) {
  const circuit::BandAnswer* best = nullptr;
  std::size_t best_hour = 0, best_band = 0;
  const auto margin_db = [](const circuit::BandAnswer& b) {
    return std::min(b.there.margin_db, b.back.margin_db);
  };
  bool ground = false;
  for (std::size_t h = 0; h < way.hours.size(); ++h) {
    for (std::size_t i = 0; i < way.hours[h].bands.size(); ++i) {
      const auto& b = way.hours[h].bands[i];
      ground = ground || b.by_ground;
      if (!b.open()) continue;
      if (best == nullptr || b.days_in_ten > best->days_in_ten ||
          (b.days_in_ten == best->days_in_ten && margin_db(b) > margin_db(*best))) {
        best = &b;
        best_hour = h;
        best_band = i;
      }
    }
  }
  if (best == nullptr)
    return fmt::format("{}losed: the sky carries none of these bands at any hour.\n",
                       ground ? "By the sky c" : "C");
  const std::string what = fmt::format("{} at {:02} UTC", band_name(q.frequencies[best_band]), best_hour);
  if (best->days_in_ten < 0.5) {
    return fmt::format("Carried{}, but too weak: the best, {}, lacks {:.0f} dB of five days in ten.\n",
                       ground ? " by the sky" : "", what, std::max(0.0, -margin_db(*best)));
  }
  std::string how;
  const auto& m = best->by_es() ? nth(best->passage.es, *best->es_way).mode : best->strongest();
  if (best->by_es() || !best->long_method()) {
    how = fmt::format("{} off the {} layer, leaving at {:.0f} deg", counted(m.hops, "hop"),
                      layer_text(m.layer), m.elevation_deg);
  } else {
    how = fmt::format("about {} hops, leaving low, under 8 deg", m.hops);
  }
  return fmt::format("Best{}: {}, both ways on {:.0f} days in ten; {}.\n", ground ? " by the sky" : "", what,
                     best->days_in_ten, how);
}

/// Which bands the ground wave carries better than the sky, and what it needs; empty where it carries none.
std::string ground_sentence(const circuit::WayAnswer& way, const circuit::PathQuestion& q) {
  std::string list;
  for (std::size_t i = 0; i < q.frequencies.size(); ++i) {
    double least = 10, most = 0;
    bool any = false;
    for (const auto& hour : way.hours) {
      const auto& b = hour.bands[i];
      any = any || b.by_ground;
      const double days = circuit::both_ways(b.ground_there.days_in_ten, b.ground_back.days_in_ten);
      least = std::min(least, days);
      most = std::max(most, days);
    }
    if (!any) continue;
    const auto low = days_sign(true, least), high = days_sign(true, most);
    list += fmt::format("{}{} {}{}", list.empty() ? "" : ", ", band_name(q.frequencies[i]), low,
                        low == high ? "" : " to " + high);
  }
  if (list.empty()) return {};
  return wrapped(
      "Along the ground, marked g: " + list +
          " days in ten. That needs a vertical antenna low down at both ends; a horizontal wire is many dB "
          "down: with one, count only what the sky brings.",
      100, "", "  ");
}

/// What was entered as a disturbance and does nothing to this path.
std::string clear_text(const circuit::WayAnswer& way, const circuit::Disturbance& d) {
  using Cause = circuit::Warning::Cause;
  const auto warned = [&](Cause cause) {
    return std::any_of(way.warnings.begin(), way.warnings.end(),
                       [&](const auto& w) { return w.cause == cause; });
  };
  std::string out;
  if (d.kp > 0 && !warned(Cause::aurora) && !warned(Cause::low_muf))
    out += fmt::format("  Kp {:g}: this path stays clear of the auroral zone.\n", d.kp);
  if (d.protons && !warned(Cause::protons))
    out += "  Solar protons: this path stays clear of the polar cap.\n";
  if (d.flare && !warned(Cause::flare)) out += "  Flare: this path lies in the dark at all hours.\n";
  return out;
}

/// The hours by bands, and the signs that stand in them.
std::string hours_table(const circuit::WayAnswer& way, const circuit::PathAnswer& answer, Range range,
                        const Style& style) {
  const auto& q = answer.question;
  // Seven characters a band where they fit; on a narrow screen six, which hold "10..10" too.
  const bool fits = 12 + 7 * q.frequencies.size() <= style.width();
  const std::size_t width = fits ? 7 : 6;
  // Both clocks beside it where there is room. A clock that is changed that day stands as after the change.
  const UtcTime noon = start_of(q.climate.day) + std::chrono::hours{12};
  const std::array clocks{answer.from_clock.offset_s(noon), answer.to_clock.offset_s(noon)};
  const std::array heads{hours_head("here", clocks[0]), hours_head("there", clocks[1])};
  const bool local =
      12 + heads[0].size() + heads[1].size() + 2 + width * q.frequencies.size() <= style.width();
  std::string out = "  UTC ";
  for (const auto& head : heads) out += local ? head + " " : "";
  out += "  MUF ";
  for (const auto& f : q.frequencies) out += fmt::format("{:>{}}", band_name(f), width);
  out += "\n";
  bool any_edge = false, any_warned = false;
  for (std::size_t h = 0; h < way.hours.size(); ++h) {
    const bool warned = is_warned(way, h);
    any_warned = any_warned || warned;
    for (const auto& b : way.hours[h].bands) any_edge = any_edge || (b.on_edge && range == Range::none);
    out += fmt::format("   {:02}{}", h, warned ? '!' : ' ');
    for (std::size_t end = 0; local && end < 2; ++end)
      out += fmt::format("{:>{}} ", hour_cell(static_cast<int>(h), clocks[end]), heads[end].size());
    out += fmt::format(" {:4.1f} ", way.hours[h].muf.basic_mhz);
    for (const auto& b : way.hours[h].bands) out += cell_text(b, range, style, width);
    out += "\n";
  }
  if (any_edge)
    out += "  (~ stands on a step of the method: a hair's breadth of frequency or activity decides)\n";
  if (any_warned) out += "  (! undisturbed figures: see the warning above the table)\n";
  return out;
}

/// The best bearing of each frequency, over the hours: one line a frequency.
std::string antipodal_text(const circuit::PathAnswer& a) {
  std::string out = "\nNear the antipode every way leads there; the best of 24 bearings:\n";
  for (std::size_t i = 0; i < a.question.frequencies.size(); ++i) {
    const circuit::AntipodalBearing* best = nullptr;
    for (const auto& b : a.antipodal) {
      if (b.frequency == i && (best == nullptr || b.days_in_ten > best->days_in_ten)) best = &b;
    }
    if (best == nullptr) continue;
    out += fmt::format("  {:>7}: {:.0f} deg at {:02} UTC, {:.0f} days in ten\n",
                       band_name(a.question.frequencies[i]), best->bearing_deg, best->utc_hour,
                       best->days_in_ten);
  }
  return out;
}

/// What the days stand for.
std::string unknown_note(const circuit::PathQuestion& q) {
  return q.to.spread_db > 0
             ? fmt::format(
                   "Days are over all partners: antennas, places and noise differ by {:g} dB from one to the next\n",
                   q.to.spread_db)
             : std::string{};
}

}  // namespace

std::string path_text(const circuit::PathAnswer& a, const Style& style) {
  const auto& q = a.question;
  std::string out =
      fmt::format("From {} ({}) to {} ({})\n", geodesy::to_text(q.from.at), geodesy::to_locator(q.from.at),
                  geodesy::to_text(q.to.at), geodesy::to_locator(q.to.at));
  out += fmt::format("{}, R12 {:.0f}; {} with {:g} W and {} here, {:g} W and {} there\n",
                     to_iso(month_of(start_of(q.climate.day))), q.climate.r12, q.mode.name, q.from.power_w,
                     antenna_text(q.from.gain_dbi), q.to.power_w, antenna_text(q.to.gain_dbi));
  const UtcTime noon = start_of(q.climate.day) + std::chrono::hours{12};
  out += fmt::format("Clocks on {}: here {}, there {}\n", to_iso(q.climate.day),
                     clock_words(a.from_clock, noon), clock_words(a.to_clock, noon));
  out += unknown_note(q);
  if (const auto note = measured_note(q.climate); !note.empty())
    out += wrapped(note, style.width(100), "", "  ");
  for (const auto& way : a.ways) {
    out += "\n" + way_heading(way.path) + "\n";
    for (const auto& warning : way.warnings) out += wrapped("! " + warning_text(warning), 100, "", "  ");
    out += clear_text(way, q.disturbance);
    const auto ground = ground_sentence(way, q), sky = best_sentence(way, q);
    out += (way.path.distance_km < circuit::sky_wave_from_km ? ground + sky : sky + ground) + "\n";
    const bool any_es = std::any_of(way.hours.begin(), way.hours.end(), [](const auto& hour) {
      return std::any_of(hour.bands.begin(), hour.bands.end(), [](const auto& b) { return b.by_es(); });
    });
    const std::string signs = fmt::format("'{}' closed, '-' under half a day{}", style.unicode ? "·" : ".",
                                          any_es ? ", 'e' by sporadic E" : "");
    if (q.spread) {
      out += fmt::format(
          "Days in ten on which a contact works both ways ({});\n"
          "least..most of {} published forms of the method, R12 {:.0f}\n",
          signs, a.method_variants, q.climate.r12);
      out += std::string(span_note) + "\n";
      out += hours_table(way, a, Range::method, style);
      out += fmt::format(
          "\nThe same with the Sun 30 sunspots off either way, R12 {:.0f} to {:.0f}: {} answers\n",
          q.climate.r12.plus(-30), q.climate.r12.plus(30), a.variants);
      out += hours_table(way, a, Range::with_sun, style);
    } else {
      out += fmt::format("Days in ten on which a contact works both ways ({})\n", signs);
      out += std::string(span_note) + "\n";
      out += hours_table(way, a, Range::none, style);
    }
    out += openings_text(way, q);
  }
  if (!a.antipodal.empty()) out += antipodal_text(a);
  if (const auto cautions = caution_texts(a); !cautions.empty()) {
    out += "\nMind:\n";
    for (const auto& caution : cautions) out += "  - " + caution + "\n";
  }
  out += fmt::format("\nMonthly medians after ITU-R P.533; {}.\nNot modelled: {}storms, flares.\n",
                     atmospheric_note, q.settings.sporadic_e ? "" : "sporadic E, ");
  return on_screen(out, style);
}

}  // namespace skerry::words
