#include "skerry/forms/csv.hpp"

#include <fmt/format.h>

#include "skerry/core/decimal.hpp"
#include "skerry/core/text.hpp"
#include "skerry/ionosphere/measured.hpp"

namespace skerry::forms {

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
                             m.layer == circuit::Layer::e ? "E" : "F2", m.hops, plus_zero(m.elevation_deg, 2),
                             plus_zero(b.there.snr_db, 2), q.mode.required_snr_db,
                             plus_zero(b.there.margin_db, 2), b.there.days_in_ten,
                             plus_zero(b.back.snr_db, 2), b.back.days_in_ten, b.both_days_in_ten);
        } else {
          out += fmt::format(",,,,{:.2f},,0.00,,0.00,{:.2f}", q.mode.required_snr_db, b.both_days_in_ten);
        }
        out += end;
      }
    }
  }
  return out;
}

}  // namespace skerry::forms
