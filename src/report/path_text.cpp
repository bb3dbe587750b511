#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "skerry/core/text.hpp"
#include "skerry/ionosphere/measured.hpp"
#include "skerry/report/csv.hpp"
#include "skerry/report/explain.hpp"
#include "skerry/report/pack.hpp"
#include "skerry/report/text.hpp"
#include "strip_text.hpp"

namespace skerry::report {

std::string days_sign(bool open, double days_in_ten) {
  if (!open) return ".";
  // From two decimals, as the machine-readable answers carry it, halves up: all who show it agree.
  const double days = std::round(100 * days_in_ten) / 100;
  if (days < 0.5) return "-";
  return fmt::format("{:.0f}", std::floor(days + 0.5));
}

namespace {

std::string band_name(const advice::PathQuestion::Frequency& f) {
  return f.band.empty() ? fmt::format("{:.3f}", f.mhz) : f.band;
}

std::string way_heading(const geodesy::Path& path) {
  return fmt::format("{} way: {:.0f} km, go out at {:.0f} deg, they beam at {:.0f} deg",
                     path.way == geodesy::Way::short_way ? "Short" : "Long", path.distance_km,
                     path.bearing_deg, path.return_bearing_deg);
}

/// `width` characters on the screen.
std::string cell_text(const advice::BandAnswer& b, bool spread, const Style& style, std::size_t width) {
  const bool open = b.there.open || b.ground_there.days_in_ten >= 0.5;
  const auto cell = [&](const std::string& sign) {
    return strip_cell(open, b.both_days_in_ten, style, width, sign);
  };
  if (!open && b.skip_zone) return cell("skip");
  if (!spread || (b.most_days < 0.5 && !open))
    return cell(b.on_edge ? days_sign(open, b.both_days_in_ten) + "~" : std::string());
  const auto low = days_sign(true, b.least_days);
  const auto high = days_sign(true, b.most_days);
  return cell(low == high ? low : low + ".." + high);
}

std::string clock(double hours) {
  const int minutes = static_cast<int>(hours * 60 + 0.5) % (24 * 60);
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

std::string openings_text(const advice::WayAnswer& way, const advice::PathQuestion& q) {
  std::string out;
  for (std::size_t i = 0; i < q.frequencies.size(); ++i) {
    if (way.openings[i].empty()) continue;
    out += fmt::format("  {:>7}: ", band_name(q.frequencies[i]));
    bool first = true;
    for (const auto& o : way.openings[i]) {
      if (!first) out += "; ";
      first = false;
      out += o.all_day ? fmt::format("all day, best {} ({:.0f})", clock(o.peak_h), o.peak_value)
                       : fmt::format("{} to {}, best {} ({:.0f})", clock(o.start_h), clock(o.end_h),
                                     clock(o.peak_h), o.peak_value);
    }
    out += "\n";
  }
  if (out.empty()) return fmt::format("\nNo opening reaches {:g} days in ten.\n", q.want_days_in_ten);
  return fmt::format("\nOpenings at {:g} days in ten or better, UTC\n", q.want_days_in_ten) + out;
}

/// The hour and band with the most days, as a sentence; empty when nothing opens.
std::string best_sentence(const advice::WayAnswer& way, const advice::PathQuestion& q) {
  const advice::BandAnswer* best = nullptr;
  std::size_t best_hour = 0, best_band = 0;
  for (std::size_t h = 0; h < way.hours.size(); ++h) {
    for (std::size_t i = 0; i < way.hours[h].bands.size(); ++i) {
      const auto& b = way.hours[h].bands[i];
      if (b.there.open && (best == nullptr || b.both_days_in_ten > best->both_days_in_ten)) {
        best = &b;
        best_hour = h;
        best_band = i;
      }
    }
  }
  if (best == nullptr || best->both_days_in_ten < 0.5) return "Nothing carries this path on these bands.\n";
  std::string how;
  if (best->there_strength.best_mode >= 0) {
    const auto& m = best->cell.modes[static_cast<std::size_t>(best->there_strength.best_mode)];
    how = fmt::format("{} hop{} off the {} layer, leaving at {:.0f} deg", m.hops, m.hops == 1 ? "" : "s",
                      m.layer == circuit::Layer::e ? "E" : "F2", m.elevation_deg);
  } else {
    how = fmt::format("about {} hops, leaving low, under 8 deg", best->cell.long_mode.hops);
  }
  return fmt::format("Best: {} at {:02} UTC, both ways on {:.0f} days in ten; {}.\n",
                     band_name(q.frequencies[best_band]), best_hour, best->both_days_in_ten, how);
}

/// The best bearing of each frequency, over the hours: one line a frequency.
std::string antipodal_text(const advice::PathAnswer& a) {
  std::string out = "\nNear the antipode every way leads there; the best of 24 bearings:\n";
  for (std::size_t i = 0; i < a.question.frequencies.size(); ++i) {
    const advice::AntipodalBearing* best = nullptr;
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

}  // namespace

std::string path_text(const advice::PathAnswer& a, const Style& style) {
  const auto& q = a.question;
  std::string out =
      fmt::format("From {} ({}) to {} ({})\n", geodesy::to_text(q.from.at), geodesy::to_locator(q.from.at),
                  geodesy::to_text(q.to.at), geodesy::to_locator(q.to.at));
  out += fmt::format("{}, R12 {:.0f}; {} with {:g} W and {:g} dBi here, {:g} W and {:g} dBi there\n",
                     to_iso(Month{q.climate.day.year() / q.climate.day.month()}), q.climate.r12, q.mode.name,
                     q.from.power_w, q.from.gain_dbi, q.to.power_w, q.to.gain_dbi);
  if (const auto note = ionosphere::measured_note(q.climate); !note.empty())
    out += wrapped(note, static_cast<std::size_t>(std::min(style.columns, 100)), "", "  ");
  for (const auto& way : a.ways) {
    out += "\n" + way_heading(way.path) + "\n" + best_sentence(way, q) + "\n";
    out +=
        fmt::format("Days in ten on which a contact works both ways ('{}' closed, '-' under half a day{})\n",
                    style.unicode ? "·" : ".",
                    q.spread ? fmt::format("; least..most of {} published variants", a.variants) : "");
    // Seven characters a band where they fit; on a narrow screen six, which hold "10..10" too.
    const bool fits = 12 + 7 * q.frequencies.size() <= static_cast<std::size_t>(style.columns);
    const std::size_t width = fits ? 7 : 6;
    out += "  UTC   MUF ";
    for (const auto& f : q.frequencies) out += fmt::format("{:>{}}", band_name(f), width);
    out += "\n";
    bool any_edge = false;
    for (std::size_t h = 0; h < way.hours.size(); ++h) {
      for (const auto& b : way.hours[h].bands) any_edge = any_edge || b.on_edge;
      out += fmt::format("   {:02}  {:4.1f} ", h, way.hours[h].muf.basic_mhz);
      for (const auto& b : way.hours[h].bands) out += cell_text(b, q.spread, style, width);
      out += "\n";
    }
    if (any_edge)
      out += "  (~ stands on a step of the method: a hair's breadth of frequency or activity decides)\n";
    out += openings_text(way, q);
    for (const auto& warning : way.warnings) out += "  ! " + warning.text + "\n";
  }
  if (!a.antipodal.empty()) out += antipodal_text(a);
  if (!a.cautions.empty()) {
    out += "\nMind:\n";
    for (const auto& caution : a.cautions) out += "  - " + caution + "\n";
  }
  out += fmt::format("\nMonthly medians after ITU-R P.533; {}.\nNot modelled: sporadic E, storms, flares.\n",
                     noise::atmospheric_note);
  return fitted(style.ascii ? to_ascii(out) : out, static_cast<std::size_t>(style.columns));
}

std::string csv_field(std::string_view text) {
  const bool formula = !text.empty() &&
                       std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos &&
                       !to_number(text);
  if (!formula && text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
  std::string out = formula ? "\"'" : "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string path_csv(const advice::PathAnswer& a) {
  std::string out =
      "way,utc_hour,basic_muf_mhz,operational_muf_mhz,band,mhz,layer,hops,elevation_deg,snr_db,required_snr_"
      "db,margin_db,"
      "days_in_ten,return_snr_db,return_days_in_ten,both_days_in_ten";
  const auto& q = a.question;
  // A column more where readings are in use, so that no number goes without its label.
  const auto note = ionosphere::measured_note(q.climate);
  const auto end = note.empty() ? std::string("\n") : "," + csv_field(note) + "\n";
  out += note.empty() ? "\n" : ",measured_fof2\n";
  for (const auto& way : a.ways) {
    for (std::size_t h = 0; h < way.hours.size(); ++h) {
      const auto& hour = way.hours[h];
      for (std::size_t i = 0; i < hour.bands.size(); ++i) {
        const auto& b = hour.bands[i];
        out += fmt::format("{},{},{:.3f},{:.3f},{},{:.4f},",
                           way.path.way == geodesy::Way::short_way ? "short" : "long", h, hour.muf.basic_mhz,
                           hour.muf.operational_mhz, csv_field(q.frequencies[i].band), q.frequencies[i].mhz);
        if (b.there.open) {
          const auto& m = b.there_strength.best_mode >= 0
                              ? b.cell.modes[static_cast<std::size_t>(b.there_strength.best_mode)]
                              : b.cell.long_mode;
          out += fmt::format("{},{},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f}",
                             m.layer == circuit::Layer::e ? "E" : "F2", m.hops, m.elevation_deg,
                             b.there.snr_db, q.mode.required_snr_db, b.there.margin_db, b.there.days_in_ten,
                             b.back.snr_db, b.back.days_in_ten, b.both_days_in_ten);
        } else {
          out += fmt::format(",,,,{:.2f},,0.00,,0.00,0.00", q.mode.required_snr_db);
        }
        out += end;
      }
    }
  }
  return out;
}

}  // namespace skerry::report
