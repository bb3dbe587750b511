// The packing advice as tables: its hours, and the packing list.

#include "common.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"
#include "things.hpp"

namespace skerry::forms {

namespace {

struct Ends {
  std::string head, line;
};
/// A column more where measured or learned values are in use, so that no number goes without its label.
Ends ends_of(const kit::Trip& trip, const advice::Advice& a) {
  std::string note;
  for (const auto& caution : a.cautions) {
    const auto topic = words::topic_of(caution);
    if (topic == words::Topic::measured || topic == words::Topic::learned)
      note += (note.empty() ? "" : "; ") + words::caution_text(trip, a, caution);
  }
  if (note.empty()) return {"\n", "\n"};
  return {",in_use\n", "," + csv_field(note) + "\n"};
}

const advice::BagLoad* bag_of(const advice::Advice& a, int thing) {
  for (const auto& load : a.bags) {
    if (std::find(load.things.begin(), load.things.end(), thing) != load.things.end()) return &load;
  }
  return nullptr;
}

}  // namespace

std::string pack_csv(const kit::Trip& trip, const advice::Advice& a) {
  std::string out =
      "site,region,utc_hour,band,way,days_in_ten,days_in_ten_there,days_in_ten_back,snr_there_db,snr_back_db,elevation_deg,mode";
  const auto ends = ends_of(trip, a);
  out += ends.head;
  for (std::size_t site = 0; site < trip.sites.size(); ++site) {
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      for (int h = 0; h < 24; ++h) {
        for (std::size_t b = 0; b < trip.bands.size(); ++b) {
          const auto& s = a.openings.at(static_cast<int>(site), static_cast<int>(t), h, static_cast<int>(b));
          out += fmt::format("{},{},{},{},", csv_field(trip.sites[site].id),
                             csv_field(trip.targets[t].region.id), h, trip.bands[b].id);
          out += s.open() ? fmt::format("{},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.1f},{}", way_key(s.way),
                                        s.days_both, s.days_there, s.days_back, plus_zero(s.snr_there_db, 2),
                                        plus_zero(s.snr_back_db, 2), plus_zero(s.elevation_deg, 1),
                                        id_at(trip.modes, s.by->mode))
                          : std::string(",0.00,0.00,0.00,,,,");
          out += ends.line;
        }
      }
    }
  }
  return out;
}

std::string packing_list_csv(const kit::Trip& trip, const advice::Advice& a) {
  const auto ends = ends_of(trip, a);
  std::string out = fmt::format(
      "id,name,kind,decision,always,mass_g,{},bag,packed,place,approval,reach,reach_per_kg,reason{}",
      size_heads, ends.head);
  for (const bool carry : {true, false}) {
    for (const auto& item : a.items) {
      if (item.carry != carry) continue;
      const auto& thing = nth(a.inventory.things, item.thing);
      const auto* load = carry ? bag_of(a, item.thing) : nullptr;
      out += fmt::format("{},{},{},{},{},{},{},", csv_field(thing.id), csv_field(thing.name),
                         kind_key(thing.kind),
                         carry            ? "carry"
                         : thing.excluded ? "cannot come"
                                          : "leave",
                         thing.always, fixed(thing.mass_g, 1), size_fields(item_of(trip, thing)));
      out +=
          fmt::format("{},{},{},{},{},{},{}", load != nullptr ? csv_field(id_at(trip.bags, load->bag)) : "",
                      load != nullptr ? packed_key(load->packed) : "", place_key(thing.air.place),
                      thing.air.approval, thing.excluded ? "" : fixed(item.reach, 5),
                      fixed(item.reach_per_kg, 5), csv_field(words::item_reason(trip, a, item)));
      out += ends.line;
    }
  }
  return out;
}

}  // namespace skerry::forms
