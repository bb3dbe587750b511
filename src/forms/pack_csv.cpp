#include <fmt/format.h>

#include "skerry/core/decimal.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::forms {

std::string pack_csv(const kit::Trip& trip, const advice::Advice& a) {
  std::string out =
      "site,region,utc_hour,band,way,days_in_ten,days_in_ten_there,days_in_ten_back,snr_there_db,snr_back_db,"
      "elevation_deg,mode";
  // A column more where measured or learned values are in use, so that no number goes without its label.
  std::string note;
  for (const auto& caution : a.cautions) {
    if (caution.topic == "measured foF2" || caution.topic == "learned")
      note += (note.empty() ? "" : "; ") + caution.text;
  }
  const auto end = note.empty() ? std::string("\n") : "," + csv_field(note) + "\n";
  out += note.empty() ? "\n" : ",in_use\n";
  for (std::size_t site = 0; site < trip.sites.size(); ++site) {
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      for (int h = 0; h < 24; ++h) {
        for (std::size_t b = 0; b < trip.bands.size(); ++b) {
          const auto& s = a.openings.at(static_cast<int>(site), static_cast<int>(t), h, static_cast<int>(b));
          out += fmt::format("{},{},{},{},", csv_field(trip.sites[site].id),
                             csv_field(trip.targets[t].region.id), h, trip.bands[b].id);
          out += s.open ? fmt::format("{},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.1f},{}",
                                      s.way == geodesy::Way::short_way ? "short" : "long", s.days_both,
                                      s.days_there, s.days_back, plus_zero(s.snr_there_db, 2),
                                      plus_zero(s.snr_back_db, 2), plus_zero(s.elevation_deg, 1),
                                      s.mode < 0 ? "" : trip.modes[static_cast<std::size_t>(s.mode)].id)
                        : std::string(",0.00,0.00,0.00,,,,");
          out += end;
        }
      }
    }
  }
  return out;
}

}  // namespace skerry::forms
