#include "skerry/forms/map.hpp"

#include <fmt/format.h>

#include "common.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/words/map.hpp"

namespace skerry::forms {

namespace {

/// The cells of a part, written by all cores, in order.
template <class F>
std::string in_order(const circuit::CoveragePart& part, F&& write_cell) {
  constexpr std::size_t grain = 64;  // Judgement: some 100 kB of text a piece
  std::vector<std::string> pieces((part.cells + grain - 1) / grain);
  parallel_for(part.cells, grain, [&](std::size_t begin, std::size_t end) {
    for (std::size_t c = begin; c < end; ++c) write_cell(c, pieces[c / grain]);
  });
  std::size_t size = 0;
  for (const auto& piece : pieces) size += piece.size();
  std::string out;
  out.reserve(size);
  for (const auto& piece : pieces) out += piece;
  return out;
}

}  // namespace

std::string map_csv_head() {
  return "lat_deg,lon_deg,utc_hour,band,mhz,way,snr_db,days_in_ten,return_snr_db,return_days_in_ten,both_days_in_ten\n";
}

std::string map_csv(const circuit::CoverageQuestion& q, const circuit::CoveragePart& part) {
  std::vector<std::string> frequencies;
  for (const auto& f : q.frequencies) {
    std::string text = f.band + ",";
    append_fixed(text, f.mhz, 4);
    frequencies.push_back(std::move(text));
  }
  return in_order(part, [&](std::size_t c, std::string& out) {
    const GeoPoint where = q.grid.centre(part.first_cell + c);
    const auto* value = part.values.data() + c * q.hours.size() * q.frequencies.size();
    for (const int hour : q.hours) {
      for (const auto& frequency : frequencies) {
        const auto& v = *value++;
        append_fixed(out, where.lat_deg, 4);
        out += ',';
        append_fixed(out, where.lon_deg, 4);
        out += ',';
        append_fixed(out, hour, 0);
        out += ',';
        out += frequency;
        out += v.long_way ? ",long," : ",short,";
        if (v.open) append_fixed(out, static_cast<double>(v.snr_db), 1);
        out += ',';
        append_fixed(out, static_cast<double>(v.days_in_ten), 1);
        out += ',';
        if (v.open) append_fixed(out, static_cast<double>(v.return_snr_db), 1);
        out += ',';
        append_fixed(out, static_cast<double>(v.return_days_in_ten), 1);
        out += ',';
        append_fixed(out, static_cast<double>(v.both_days_in_ten()), 1);
        out += '\n';
      }
    }
  });
}

std::string map_geojson_head(const circuit::CoverageQuestion& q) {
  Json hours = q.hours;
  Json site = {
      {"type", "Feature"},
      {"geometry",
       {{"type", "Point"}, {"coordinates", {rounded(q.from.at.lon_deg, 6), rounded(q.from.at.lat_deg, 6)}}}},
      {"properties",
       {{"site", true},
        {"month", to_iso(month_of(start_of(q.climate.day)))},
        {"r12", rounded(q.climate.r12, 2)},
        {"mode", q.mode.id},
        {"power_w", q.from.power_w},
        {"return_power_w", q.to.power_w},
        {"grid_deg", rounded(q.grid.step_deg, 6)},
        {"utc_hours", std::move(hours)}}}};
  return "{\"type\":\"FeatureCollection\",\"features\":[\n" + site.dump();
}

std::string map_geojson(const circuit::CoverageQuestion& q, const circuit::CoveragePart& part) {
  std::vector<std::string> names;
  for (const auto& f : q.frequencies) names.push_back(words::frequency_name(f));
  const std::size_t hours = q.hours.size();
  const std::size_t count = names.size();
  return in_order(part, [&](std::size_t c, std::string& out) {
    const auto* values = part.values.data() + c * hours * count;
    if (std::none_of(values, values + hours * count, [](const auto& v) { return v.open; })) return;
    const GeoPoint where = q.grid.centre(part.first_cell + c);
    out += ",\n{\"type\":\"Feature\",\"geometry\":{\"type\":\"Point\",\"coordinates\":[";
    append_fixed(out, where.lon_deg, 4);
    out += ',';
    append_fixed(out, where.lat_deg, 4);
    out += "]},\"properties\":{";
    bool first = true;
    for (std::size_t f = 0; f < count; ++f) {
      const auto at = [&](std::size_t h) -> const circuit::CoverageValue& { return values[h * count + f]; };
      std::size_t best = 0;
      bool open = false;
      for (std::size_t h = 0; h < hours; ++h) {
        open = open || at(h).open;
        if (at(h).both_days_in_ten() > at(best).both_days_in_ten()) best = h;
      }
      if (!open) continue;
      const auto key = [&](const char* name) {
        if (!first) out += ',';
        first = false;
        out += '"';
        out += name;
        out += names[f];
        out += "\":";
      };
      key("best_days_");
      append_fixed(out, static_cast<double>(at(best).both_days_in_ten()), 1);
      key("best_utc_hour_");
      append_fixed(out, q.hours[best], 0);
      const auto list = [&](const char* name, const auto& write) {
        key(name);
        out += '[';
        for (std::size_t h = 0; h < hours; ++h) {
          if (h > 0) out += ',';
          if (at(h).open) {
            write(at(h));
          } else {
            out += "null";
          }
        }
        out += ']';
      };
      list("days_in_ten_",
           [&](const auto& v) { append_fixed(out, static_cast<double>(v.both_days_in_ten()), 1); });
      list("snr_db_", [&](const auto& v) { append_fixed(out, static_cast<double>(v.snr_db), 0); });
    }
    out += "}}";
  });
}

std::string map_geojson_tail() {
  return "\n]}\n";
}

std::string map_json(const circuit::CoverageQuestion& q, const circuit::CoverageShare& share, double level,
                     const std::optional<geodesy::Named>& named) {
  Json out = {{"schema", "skerry.map/1"},
              {"from", place_json(q.from.at, named)},
              {"month", to_iso(month_of(start_of(q.climate.day)))},
              {"day", to_iso(q.climate.day)},
              {"r12", rounded(q.climate.r12, 2)},
              {"mode", q.mode.id},
              {"power_w", q.from.power_w},
              {"return_power_w", q.to.power_w},
              {"grid_deg", rounded(q.grid.step_deg, 6)},
              {"days_in_ten", rounded(level, 2)},
              {"hours", Json::array()}};
  for (std::size_t h = 0; h < q.hours.size(); ++h) {
    Json bands = Json::array();
    for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
      const auto& frequency = q.frequencies[f];
      bands.push_back({{"band", or_null(frequency.band)},
                       {"mhz", rounded(frequency.mhz, 4)},
                       {"world_share", rounded(share.at(h, f), 4)}});
    }
    out["hours"].push_back({{"utc_hour", q.hours[h]}, {"bands", std::move(bands)}});
  }
  return dump(out);
}

}  // namespace skerry::forms
