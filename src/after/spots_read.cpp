// A table of reception reports, record by record.
#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <unordered_map>

#include "skerry/after/spots.hpp"
#include "skerry/core/csv.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "table_time.hpp"

namespace skerry::after {

namespace {

constexpr const char* time_accepted = "a UTC time as 2027-02-14T14:30:00Z";

bool digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

class SpotReader {
 public:
  SpotReader(const CsvHead& table, const std::string& file) : file_(file) {
    time_ = need(table, {"time_utc", "time"}, "time_utc");
    mhz_ = need(table, {"mhz", "frequency_mhz"}, "mhz");
    tx_ = need(table, {"tx", "tx_locator"}, "tx");
    rx_ = need(table, {"rx", "rx_locator"}, "rx");
    watts_ = table.column({"power_w"});
    dbm_ = table.column({"power_dbm"});
    snr_ = need(table, {"snr_db", "snr"}, "snr_db");
    if (!watts_ && !dbm_) complain("power_w (or power_dbm)");
    width_ = table.header.size();
  }
  [[nodiscard]] std::vector<Error>& header_errors() { return errors_; }

  Result<Spots::Spot> read(const CsvRow& row, Spots& into) {
    const Where where{file_, row.line, 1};
    if (row.cells.size() != width_)
      return fail(where, fmt::format("{} cells", row.cells.size()),
                  fmt::format("{} as in the header", width_));
    Spots::Spot spot;
    const auto time = parse_utc(cell(row, time_), where);
    if (!time) return tl::unexpected(time.error());
    spot.time = *time;
    const auto year = int{std::chrono::year_month_day{std::chrono::floor<std::chrono::days>(*time)}.year()};
    if (year < first_year || year > last_year)
      return fail(where, fmt::format("the year {}", year), fmt::format("{} to {}", first_year, last_year));
    const auto mhz = to_number(cell(row, mhz_));
    if (!mhz || *mhz < 1.6 || *mhz > 54)
      return fail(where, "mhz '" + one_line(cell(row, mhz_)) + "'", "a frequency from 1.6 to 54 MHz");
    spot.mhz = *mhz;
    auto rx = station("rx", cell(row, rx_), where, into);
    if (!rx) return tl::unexpected(std::move(rx.error()));
    spot.rx = *rx;
    const auto snr = cell(row, snr_);
    if (!snr.empty()) {
      spot.snr_db = to_number(snr);
      if (!spot.snr_db || std::abs(*spot.snr_db) > 120)
        return fail(where, "snr_db '" + one_line(snr) + "'", "a ratio in dB, -120 to 120");
    }
    const auto sender = cell(row, tx_);
    if (sender.empty()) {
      if (spot.snr_db) return fail(where, "snr_db without tx", "both, or neither where nobody was heard");
      return spot;
    }
    auto tx = station("tx", sender, where, into);
    if (!tx) return tl::unexpected(std::move(tx.error()));
    spot.tx = *tx;
    const bool by_watts = !cell(row, watts_).empty();
    const auto typed = cell(row, by_watts ? watts_ : dbm_);
    const auto power = to_number(typed);
    const double watts = power ? (by_watts ? *power : std::pow(10.0, (*power - 30) / 10)) : 0;
    if (!(watts >= 1e-6 && watts <= 1e6))
      return fail(where, "power '" + one_line(typed) + "'",
                  "power_w from 1e-6 to 1e6, or power_dbm from -30 to 90");
    spot.power_w = watts;
    if (spot.tx == spot.rx) return fail(where, "tx and rx at one place", "two places");
    return spot;
  }

 private:
  using Column = std::optional<std::size_t>;
  void complain(std::string_view name) {
    Error error;
    error.where = {file_, 1, 1};
    error.found = fmt::format("no column {}", name);
    error.accepted = "time_utc, mhz, tx, rx, power_w (or power_dbm), snr_db";
    errors_.push_back(std::move(error));
  }
  Column need(const CsvHead& table, std::initializer_list<std::string_view> names, std::string_view name) {
    const auto at = table.column(names);
    if (!at) complain(name);
    return at;
  }
  /// Empty where the table has no such column.
  static std::string_view cell(const CsvRow& row, Column column) {
    return column ? std::string_view(nth(row.cells, *column)) : std::string_view{};
  }
  /// Many tables have call signs there: whom they name is not repeated.
  Result<int> station(const char* column, std::string_view text, const Where& where, Spots& into) {
    const auto name = lower(text);
    const auto known = known_.find(name);
    if (known != known_.end()) return known->second;
    auto place = geodesy::parse_place(text, where);
    if (!place)
      return fail(where, fmt::format("{} that is no place", column), std::move(place.error().accepted),
                  "the place, not the name of the station");
    const int index = static_cast<int>(into.stations.size());
    into.stations.push_back(*place);
    known_.emplace(name, index);
    return index;
  }

  const std::string& file_;
  std::vector<Error> errors_;
  std::unordered_map<std::string, int> known_;
  Column time_, mhz_, tx_, rx_, watts_, dbm_, snr_;
  std::size_t width_ = 0;
};

}  // namespace

Result<UtcTime> parse_utc(std::string_view text, const Where& where) {
  const auto wrong = [&] { return fail(where, "time '" + one_line(text) + "'", time_accepted); };
  if (digits(text) && text.size() >= 9 && text.size() <= 10) {
    const UtcTime out{std::chrono::seconds{static_cast<long long>(*to_number(text))}};
    return out;
  }
  if (text.size() < 16 || (text[10] != 'T' && text[10] != ' ') || text[13] != ':') return wrong();
  const auto day = parse_day(text.substr(0, 10), where);
  if (!day) return tl::unexpected(day.error());
  auto clock = text.substr(11);
  if (clock.back() == 'Z' || clock.back() == 'z') clock.remove_suffix(1);
  int seconds = 0;
  if (!digits(clock.substr(0, 2)) || clock.size() < 5 || !digits(clock.substr(3, 2))) return wrong();
  const int hours = static_cast<int>(*to_number(clock.substr(0, 2)));
  const int minutes = static_cast<int>(*to_number(clock.substr(3, 2)));
  if (clock.size() > 5) {
    const auto rest = clock.substr(6);
    const auto value = clock[5] == ':' ? to_number(rest) : std::nullopt;
    if (!value || *value < 0 || *value >= 61 || rest.size() < 2) return wrong();
    seconds = static_cast<int>(*value);
  }
  if (hours > 23 || minutes > 59) return wrong();
  // cppcheck-suppress ignoredReturnValue ; it is used
  return start_of(*day) + std::chrono::hours{hours} + std::chrono::minutes{minutes} +
         std::chrono::seconds{seconds};
}

Checked<Spots> read_spots(std::string_view text, const std::string& file) {
  auto table = CsvReader::open(text, file);
  if (!table) return tl::unexpected(std::vector<Error>{table.error()});
  SpotReader reader(table->head(), file);
  if (!reader.header_errors().empty()) return tl::unexpected(std::move(reader.header_errors()));
  Spots out;
  for (CsvRow row;;) {
    const auto more = table->next(row);
    if (!more) return tl::unexpected(std::vector<Error>{more.error()});
    if (!*more) break;
    auto spot = reader.read(row, out);
    if (spot) {
      out.spots.push_back(*spot);
    } else {
      out.left_out.push_back(std::move(spot.error()));
    }
  }
  if (!out.spots.empty()) return out;
  if (!out.left_out.empty()) return tl::unexpected(out.left_out.first(10));
  return tl::unexpected(std::vector<Error>{{{file}, "no record", "at least one spot below the header", {}}});
}

}  // namespace skerry::after
