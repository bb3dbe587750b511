#include "skerry/after/ionosonde.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "skerry/core/csv.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "skerry/ionosphere/field.hpp"
#include "skerry/ionosphere/sky.hpp"

namespace skerry::after {

namespace {

struct Columns {
  std::optional<std::size_t> station, place, lat, lon, month, hour, fof2, m3;
  std::size_t width = 0;
};

std::string_view cell(const CsvRow& row, std::optional<std::size_t> column) {
  return column ? std::string_view(nth(row.cells, *column)) : std::string_view{};
}

Result<SondeMedian> read_row(const CsvRow& row, const Columns& c, const std::string& file,
                             std::map<std::string, int>& known, SondeTable& into) {
  const Where where{file, row.line, 1};
  if (row.cells.size() != c.width)
    return fail(where, fmt::format("{} cells", row.cells.size()),
                fmt::format("{} as in the header", c.width));
  SondeMedian out;
  const auto month = parse_month(cell(row, c.month), where);
  if (!month) return tl::unexpected(month.error());
  out.month = *month;
  const auto hour = to_number(cell(row, c.hour));
  if (!hour || *hour < 0 || *hour > 23 || *hour != std::floor(*hour))
    return fail(where, "utc_hour '" + one_line(cell(row, c.hour)) + "'", "a whole hour from 0 to 23");
  out.utc_hour = static_cast<int>(*hour);
  const auto fof2 = to_number(cell(row, c.fof2));
  if (!fof2 || *fof2 < 0.5 || *fof2 > 30)
    return fail(where, "fof2_mhz '" + one_line(cell(row, c.fof2)) + "'", "0.5 to 30 MHz");
  out.fof2_mhz = *fof2;
  if (const auto text = cell(row, c.m3); !text.empty()) {
    out.m3000f2 = to_number(text);
    if (!out.m3000f2 || *out.m3000f2 < 1.5 || *out.m3000f2 > 5)
      return fail(where, "m3000f2 '" + one_line(text) + "'", "1.5 to 5");
  }
  const std::string place =
      c.place ? std::string(cell(row, c.place)) : fmt::format("{},{}", cell(row, c.lat), cell(row, c.lon));
  const std::string name(cell(row, c.station));
  const auto [at, fresh] = known.try_emplace(name + "\n" + place, static_cast<int>(into.stations.size()));
  if (fresh) {
    auto where_it_is = geodesy::parse_place(place, where);
    if (!where_it_is) {
      known.erase(at);
      return tl::unexpected(std::move(where_it_is.error()));
    }
    into.stations.push_back({name.empty() ? place : name, *where_it_is});
  }
  out.station = at->second;
  return out;
}

struct Difference {
  double map = 0, measured = 0;
};

/// Sums that become a SondeError.
struct Sums {
  std::size_t count = 0;
  double difference = 0, square = 0, percent = 0, percent_square = 0;
  void add(const Difference& d) {
    const double off = d.map - d.measured;
    const double relative = 100 * off / d.measured;
    ++count;
    difference += off;
    square += off * off;
    percent += relative;
    percent_square += relative * relative;
  }
  [[nodiscard]] SondeError of(SondeGroup group) const {
    const auto n = static_cast<double>(std::max<std::size_t>(1, count));
    return {std::move(group),      count,       difference / n,
            std::sqrt(square / n), percent / n, std::sqrt(percent_square / n)};
  }
};

Season season_of(Month month, double lat_deg) {
  const unsigned m = unsigned(month.month());
  const bool northern_winter = m >= 11 || m <= 2;
  const bool northern_summer = m >= 5 && m <= 8;
  if (!northern_winter && !northern_summer) return Season::equinox;
  return northern_winter == (lat_deg >= 0) ? Season::winter : Season::summer;
}

class Score {
 public:
  void add(const SondeTable::Station& station, int index, const SondeMedian& median, const Difference& d) {
    all_.add(d);
    const double local = wrap_24(median.utc_hour + station.at.lon_deg / 15);
    hours_[static_cast<int>(std::lround(local)) % 24].add(d);
    const double lat = std::abs(ionosphere::geomagnetic_lat_deg(station.at));
    latitudes_[lat < 20 ? Latitudes::low : lat < 60 ? Latitudes::middle : Latitudes::high].add(d);
    seasons_[season_of(median.month, station.at.lat_deg)].add(d);
    stations_[index].add(d);
  }
  [[nodiscard]] SondeScore of(SondeScore::Quantity quantity, const SondeTable& table) const {
    SondeScore out;
    out.quantity = quantity;
    out.all = all_.of({});
    for (const auto& [hour, sums] : hours_) out.by_hour.push_back(sums.of(LocalHour{hour}));
    for (const auto& [k, sums] : latitudes_) out.by_latitude.push_back(sums.of(k));
    for (const auto& [k, sums] : seasons_) out.by_season.push_back(sums.of(k));
    for (const auto& [k, sums] : stations_) out.by_station.push_back(sums.of(nth(table.stations, k).name));
    return out;
  }
  [[nodiscard]] bool empty() const { return all_.count == 0; }

 private:
  Sums all_;
  std::map<int, Sums> hours_, stations_;
  std::map<Latitudes, Sums> latitudes_;
  std::map<Season, Sums> seasons_;
};

}  // namespace

Checked<SondeTable> read_sondes(std::string_view text, const std::string& file) {
  auto table = CsvReader::open(text, file);
  if (!table) return tl::unexpected(std::vector<Error>{table.error()});
  const auto& head = table->head();
  Columns c;
  c.width = head.header.size();
  c.station = head.column({"station"});
  c.place = head.column({"place", "locator"});
  c.lat = head.column({"lat_deg", "lat"});
  c.lon = head.column({"lon_deg", "lon"});
  c.month = head.column({"month"});
  c.hour = head.column({"utc_hour", "hour"});
  c.fof2 = head.column({"fof2_mhz", "fof2"});
  c.m3 = head.column({"m3000f2"});
  std::vector<Error> errors;
  const auto need = [&](bool there, const char* name) {
    if (!there)
      errors.push_back(
          {{file, 1, 1},
           fmt::format("no column {}", name),
           "place (or lat_deg and lon_deg), month, utc_hour, fof2_mhz; station and m3000f2 if known",
           {}});
  };
  need(c.place || (c.lat && c.lon), "place (or lat_deg and lon_deg)");
  need(c.month.has_value(), "month");
  need(c.hour.has_value(), "utc_hour");
  need(c.fof2.has_value(), "fof2_mhz");
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  SondeTable out;
  std::map<std::string, int> known;
  for (CsvRow row;;) {
    const auto more = table->next(row);
    if (!more) return tl::unexpected(std::vector<Error>{more.error()});
    if (!*more) break;
    auto median = read_row(row, c, file, known, out);
    if (median) {
      out.medians.push_back(*median);
    } else {
      out.left_out.push_back(std::move(median.error()));
    }
  }
  if (!out.medians.empty()) return out;
  if (!out.left_out.empty()) return tl::unexpected(out.left_out.first(10));
  return tl::unexpected(
      std::vector<Error>{{{file}, "no record", "at least one median below the header", {}}});
}

SondeScores score_sondes(const SondeTable& table, const std::function<ionosphere::R12(Month)>& r12,
                         ionosphere::MapSet maps) {
  std::vector<GeoPoint> places;
  for (const auto& s : table.stations) places.push_back(s.at);
  std::map<Month, ionosphere::Sky> skies;
  Score fof2, m3;
  for (const auto& median : table.medians) {
    auto at = skies.find(median.month);
    if (at == skies.end()) {
      ionosphere::Climate climate;
      climate.day = middle_of(median.month);
      climate.r12 = r12 ? r12(median.month) : ionosphere::forecast(median.month).r12;
      climate.maps = maps;
      at = skies.emplace(median.month, ionosphere::sky(places, climate)).first;
    }
    const auto& station = nth(table.stations, median.station);
    fof2.add(station, median.station, median,
             {at->second.fof2_mhz(median.station, median.utc_hour), median.fof2_mhz});
    if (median.m3000f2)
      m3.add(station, median.station, median,
             {at->second.m3000f2(median.station, median.utc_hour), *median.m3000f2});
  }
  SondeScores out;
  out.fof2 = fof2.of(SondeScore::Quantity::fof2, table);
  if (!m3.empty()) out.m3000f2 = m3.of(SondeScore::Quantity::m3000f2, table);
  return out;
}

}  // namespace skerry::after
