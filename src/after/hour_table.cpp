#include "skerry/after/hour_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <tuple>
#include <unordered_map>

#include "skerry/core/csv.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "spots_parts.hpp"

namespace skerry::after {

namespace {

class RowReader {
 public:
  RowReader(const CsvHead& table, const std::string& file) : file_(file), width_(table.header.size()) {
    for (std::size_t i = 0; i < names.size(); ++i) {
      if (const auto column = table.column({names[i]})) {
        at_[i] = *column;
        continue;
      }
      Error error;
      error.where = {file_, 1, 1};
      error.found = fmt::format("no column {}", names[i]);
      error.accepted = "month, utc_hour, mhz, tx, rx, power_w, days_active, days_heard";
      errors_.push_back(std::move(error));
    }
  }
  [[nodiscard]] std::vector<Error>& header_errors() { return errors_; }

  Result<HourTable::Row> read(const CsvRow& row, HourTable& into) {
    const Where where{file_, row.line, 1};
    if (row.cells.size() != width_)
      return fail(where, fmt::format("{} cells", row.cells.size()),
                  fmt::format("{} as in the header", width_));
    HourTable::Row out;
    const auto month = parse_month(cell(row, 0), where);
    if (!month) return tl::unexpected(month.error());
    out.month = *month;
    double hour = 0;
    const auto number = [&](std::size_t column, double least, double most, double& to) {
      const auto value = to_number(cell(row, column));
      if (!value || !(*value >= least && *value <= most)) return false;
      to = *value;
      return true;
    };
    const auto wrong = [&](std::size_t column, const char* accepted) {
      return fail(where, fmt::format("{} '{}'", names[column], one_line(cell(row, column))), accepted);
    };
    if (!number(1, 0, 23, hour) || hour != std::floor(hour)) return wrong(1, "a whole hour from 0 to 23");
    out.utc_hour = static_cast<int>(hour);
    if (!number(2, 1.6, 54, out.mhz)) return wrong(2, "a frequency from 1.6 to 54 MHz");
    if (!number(5, 1e-6, 1e6, out.power_w)) return wrong(5, "power_w from 1e-6 to 1e6");
    if (!number(6, 0, 31, out.days_active)) return wrong(6, "a number of days, 0 to 31");
    if (!number(7, 0, out.days_active, out.days_heard)) return wrong(7, "not more days than were active");
    for (const auto& [column, station] : {std::pair<std::size_t, int*>{3, &out.tx}, {4, &out.rx}}) {
      auto index = station_of(cell(row, column), where, into);
      if (!index) return tl::unexpected(std::move(index.error()));
      *station = *index;
    }
    if (out.tx == out.rx) return fail(where, "tx and rx at one place", "two places");
    return out;
  }

 private:
  static constexpr std::array<const char*, 8> names{"month", "utc_hour", "mhz",         "tx",
                                                    "rx",    "power_w",  "days_active", "days_heard"};
  [[nodiscard]] std::string_view cell(const CsvRow& row, std::size_t column) const {
    return nth(row.cells, at_[column]);
  }
  Result<int> station_of(std::string_view text, const Where& where, HourTable& into) {
    const auto name = lower(text);
    const auto known = known_.find(name);
    if (known != known_.end()) return known->second;
    auto place = geodesy::parse_place(text, where);
    if (!place) return tl::unexpected(std::move(place.error()));
    const int index = static_cast<int>(into.stations.size());
    into.stations.push_back(*place);
    known_.emplace(name, index);
    return index;
  }

  const std::string& file_;
  std::size_t width_;
  std::array<std::size_t, names.size()> at_{};
  std::vector<Error> errors_;
  std::unordered_map<std::string, int> known_;
};

// Judgement: lengths at which another kind of path begins: one hop by sporadic E, one hop by F2, two, three, many.
constexpr std::array class_edges_km{0.0, 2500.0, 4000.0, 7000.0, 12000.0, 50000.0};

// Judgement: fewer hours, or a way that is hardly ever heard, say nothing of when it opens.
constexpr std::size_t least_hours = 12;
constexpr double least_heard_share = 0.1;

/// One hour of one way: heard and active days, and the forecast.
struct Told {
  double heard = 0, active = 0, forecast = 0;
};
using Way = std::tuple<int, int, int, int>;  // month, sender, receiver, band

std::optional<HourRanks> hour_ranks(std::span<const Case* const> cases) {
  std::map<Way, std::map<int, Told>> ways;
  for (const auto* c : cases) {
    auto& told = ways[{c->month, c->tx, c->rx, c->band}][c->hour];
    told.active += c->weight;
    told.heard += c->heard ? c->weight : 0;
    told.forecast = c->probability;
  }
  HourRanks out;
  for (const auto& [way, hours] : ways) {
    std::vector<double> forecast, heard;
    double days = 0, days_heard = 0;
    for (const auto& [hour, told] : hours) {
      forecast.push_back(told.forecast);
      heard.push_back(told.heard / told.active);
      days += told.active;
      days_heard += told.heard;
    }
    const auto [least, most] = std::minmax_element(heard.begin(), heard.end());
    if (hours.size() < least_hours || days_heard < least_heard_share * days || *least == *most) continue;
    ++out.ways;
    out.mean += rank_correlation(forecast, heard).value_or(0);
  }
  if (out.ways == 0) return std::nullopt;
  out.mean /= static_cast<double>(out.ways);
  return out;
}

std::vector<const Case*> chosen(const std::vector<Case>& cases, const auto& which) {
  std::vector<const Case*> out;
  for (const auto& c : cases) {
    if (which(c)) out.push_back(&c);
  }
  return out;
}

}  // namespace

Checked<HourTable> read_hour_table(std::string_view text, const std::string& file) {
  auto table = CsvReader::open(text, file);
  if (!table) return tl::unexpected(std::vector<Error>{table.error()});
  RowReader reader(table->head(), file);
  if (!reader.header_errors().empty()) return tl::unexpected(std::move(reader.header_errors()));
  HourTable out;
  for (CsvRow row;;) {
    const auto more = table->next(row);
    if (!more) return tl::unexpected(std::vector<Error>{more.error()});
    if (!*more) break;
    auto read = reader.read(row, out);
    if (!read) {
      out.left_out.push_back(std::move(read.error()));
    } else if (read->days_active > 0) {
      out.rows.push_back(*read);
    }
  }
  if (!out.rows.empty()) return out;
  if (!out.left_out.empty()) return tl::unexpected(out.left_out.first(10));
  return tl::unexpected(
      std::vector<Error>{{{file}, "no record", "at least one row with an active day below the header", {}}});
}

SpotScores score_hours(const HourTable& table, const SpotQuestion& question, double least_days) {
  std::vector<BandKey> bands;
  std::vector<Month> months;
  std::vector<Case> cases;
  SpotScores out;
  std::set<int> stations;
  std::map<std::string, int> known_bands;
  std::map<Month, int> known_months;
  for (const auto& row : table.rows) known_months.emplace(row.month, 0);
  for (auto& [month, index] : known_months) {
    index = static_cast<int>(months.size());
    months.push_back(month);
  }
  for (const auto& row : table.rows) {
    if (row.days_active < least_days) continue;
    const auto key = band_key(row.mhz);
    const auto [band, fresh] = known_bands.try_emplace(key.name, static_cast<int>(bands.size()));
    if (fresh) bands.push_back(key);
    Case c;
    c.tx = row.tx;
    c.rx = row.rx;
    c.band = band->second;
    c.month = known_months.at(row.month);
    c.hour = row.utc_hour;
    c.power_w = row.power_w;
    c.snr_db = std::nan("");
    for (const bool heard : {true, false}) {
      c.heard = heard;
      c.weight = heard ? row.days_heard : row.days_active - row.days_heard;
      if (c.weight > 0) cases.push_back(c);
    }
    stations.insert({row.tx, row.rx});
    ++out.spots;
  }
  out.stations = stations.size();
  if (cases.empty()) return out;
  out.first = start_of(months.front() / 1);
  out.last = start_of(Day(months.back() / std::chrono::last));
  out.paths = forecast(table.stations, question, bands, months, cases);
  score_bands(bands, cases, out);

  const auto of_band = [&](const std::string& name) {
    return [band = known_bands.at(name)](const Case& c) { return c.band == band; };
  };
  for (auto& score : out.bands) {
    score.hours = hour_ranks(chosen(cases, of_band(score.band)));
    for (std::size_t i = 0; i + 1 < class_edges_km.size(); ++i) {
      const double from_km = class_edges_km[i];
      const double to_km = class_edges_km[i + 1];
      const auto mine = chosen(
          cases, [&](const Case& c) { return of_band(score.band)(c) && c.km >= from_km && c.km < to_km; });
      if (mine.empty()) continue;
      auto& added = out.classes.emplace_back(SpotScores::Class{from_km, to_km, score_of(score.band, mine)});
      added.score.hours = hour_ranks(mine);
    }
  }
  out.all.hours = hour_ranks(chosen(cases, [](const Case&) { return true; }));
  return out;
}

}  // namespace skerry::after
