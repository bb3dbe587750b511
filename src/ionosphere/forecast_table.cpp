#include "skerry/ionosphere/forecast_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "forecast_parts.hpp"
#include "skerry/core/csv.hpp"
#include "skerry/core/text.hpp"

namespace skerry::ionosphere {

namespace {

// Measured: sum of second differences over sum of numbers, in any two years of the built-in table (smoothed, 1958-2024)
// at most 0.07; of monthly means that scatter by 12 % about it, less than real ones do, at least 0.13.
constexpr double rough_from = 0.1;
// Judgement: what the built-in table takes for a month observed (data/activity/SOURCE.md).
constexpr double observed_spread = 2, observed_share = 0.03;

constexpr const char* expected_columns =
    "the agencies' columns, \"2026 03 2026.204 101.5 17.2 1100\" (year, month, year as a fraction, number, "
    "deviation, observations), their JSON, or month,r12,low_r12,high_r12,kind";

/// The words of a line, parted by blanks, semicolons or commas.
std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> out;
  while (true) {
    const auto from = line.find_first_not_of(" \t\r;,");
    if (from == std::string_view::npos) return out;
    line.remove_prefix(from);
    const auto length = std::min(line.find_first_of(" \t\r;,"), line.size());
    out.push_back(line.substr(0, length));
    line.remove_prefix(length);
  }
}

/// A line of columns: the month counted from year 0, and its numbers.
struct Line {
  int month = 0, line = 0;
  double value = 0;
  std::optional<double> error;  ///< of tables with five columns
};

Result<std::vector<Line>> lines_of(std::string_view text, const std::string& file, bool& predicted) {
  std::vector<Line> out;
  std::size_t columns = 0;
  int number = 0;
  for (std::size_t start = 0; start < text.size();) {
    const auto end = std::min(text.find('\n', start), text.size());
    const auto line = text.substr(start, end - start);
    const auto words = words_of(line);
    const Where where{file, ++number, 1};
    start = end + 1;
    if (words.empty() || words[0].front() == '#') continue;
    std::array<double, 4> first{};
    bool good = words.size() >= first.size();
    for (std::size_t i = 0; good && i < first.size(); ++i) {
      const auto value = to_number(words[i]);
      good = value.has_value();
      first[i] = value.value_or(0);
    }
    const auto [year, month, fraction, value] = first;
    // The year as a fraction tells these columns from any others.
    good = good && year >= 1700 && year <= 2200 && month >= 1 && month <= 12 &&
           std::abs(fraction - (year + (month - 0.5) / 12)) < 0.1 && value <= most_number;
    const auto error = good && words.size() == 5 ? to_number(words[4]) : std::nullopt;
    if (!good || (words.size() == 5 && !error))
      return fail(where, "'" + one_line(line) + "'", expected_columns);
    if (columns == 0) columns = std::min<std::size_t>(words.size(), 6);
    if (std::min<std::size_t>(words.size(), 6) != columns)
      return fail(where, fmt::format("{} columns", words.size()), fmt::format("{} as before", columns));
    out.push_back({12 * static_cast<int>(year) + static_cast<int>(month) - 1, number, value, error});
    if (out.size() > 1 && out.back().month <= out[out.size() - 2].month)
      return fail(where, "a month that is not after the one before", "each month once, in order");
  }
  predicted = columns == 5;
  return out;
}

/// Whether they jump from month to month as means do.
bool rough(const std::vector<Line>& lines) {
  double bends = 0, sum = 0;
  for (std::size_t i = 2; i < lines.size(); ++i) {
    const double a = lines[i - 2].value, b = lines[i - 1].value, c = lines[i].value;
    if (std::min({a, b, c}) < 0) continue;
    bends += std::abs(a - 2 * b + c);
    sum += b;
  }
  return bends > rough_from * sum;
}

/// Over 13 months, the outer two by half; months without all of them are left out.
/// Source: ITU-R P.371 (from memory).
std::vector<Line> smoothed(const std::vector<Line>& means) {
  std::vector<Line> out;
  for (std::size_t i = 6; i + 6 < means.size(); ++i) {
    double sum = 0;
    bool whole = means[i + 6].month - means[i - 6].month == 12;
    for (std::size_t j = i - 6; j <= i + 6; ++j) {
      whole = whole && means[j].value >= 0;
      sum += (j == i - 6 || j == i + 6 ? 0.5 : 1.0) * means[j].value;
    }
    if (whole) out.push_back({means[i].month, means[i].line, sum / 12, std::nullopt});
  }
  return out;
}

Result<ReadTable> read_columns(std::string_view text, const Where& where, const TableAsk& ask) {
  bool predicted = false;
  auto lines = lines_of(text, where.file, predicted);
  if (!lines) return tl::unexpected(lines.error());
  if (ask.by_flux)
    return fail(where, "columns, which have no flux", "the agencies' JSON, for the 10.7 cm flux");
  ReadTable out;
  out.form = predicted ? TableForm::predicted_text : TableForm::smoothed_text;
  if (!predicted && !ask.smoothed.value_or(!rough(*lines))) {
    out.form = TableForm::means_text;
    *lines = smoothed(*lines);
    if (lines->empty())
      return fail(where, "monthly means that no 13 months in a row are of", "at least 13 months in a row",
                  "or say that they are smoothed already");
  }
  for (const auto& line : *lines) {
    if (line.value < 0 || line.month < 12 * first_year || line.month >= 12 * (last_year + 1)) continue;
    Numbers numbers{line.value, std::nullopt, std::nullopt};
    if (line.error && *line.error >= 0) {
      numbers.low = std::max(0.0, line.value - *line.error);
      numbers.high = line.value + *line.error;
    }
    const Month month = std::chrono::year{line.month / 12} / std::chrono::month(1 + line.month % 12);
    const auto kept = keep(out.table, month, numbers, {false, !predicted}, {where.file, line.line, 1});
    if (!kept) return tl::unexpected(kept.error());
  }
  return out;
}

Result<ReadTable> read_own(std::string_view text, const Where& where) {
  const auto csv = parse_csv(text, where.file, most_forecast_bytes);
  if (!csv) return tl::unexpected(csv.error());
  const auto month = csv->column({"month"}), r12 = csv->column({"r12"}), low = csv->column({"low_r12"}),
             high = csv->column({"high_r12"}), kind = csv->column({"kind"});
  if (!month || !r12 || !kind)
    return fail({where.file, 1, 1}, "a table without month, r12 or kind", expected_columns);
  ReadTable out;
  for (const auto& row : csv->rows) {
    const Where at{where.file, row.line, 1};
    if (row.cells.size() != csv->header.size())
      return fail(at, fmt::format("{} columns", row.cells.size()), fmt::format("{}", csv->header.size()));
    const auto when = parse_month(row.cells[*month], at);
    if (!when) return tl::unexpected(when.error());
    std::array<std::optional<double>, 3> numbers;
    const std::array columns{r12, low, high};
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (!columns[i] || (i > 0 && row.cells[*columns[i]].empty())) continue;
      numbers[i] = to_number(row.cells[*columns[i]]);
      if (!numbers[i] || *numbers[i] < 0 || *numbers[i] > R12::most)
        return fail(at, "'" + one_line(row.cells[*columns[i]]) + "'",
                    fmt::format("{} from 0 to {:g}", csv->header[*columns[i]], R12::most));
    }
    const auto& said = row.cells[*kind];
    if (said != "observed" && said != "forecast")
      return fail(at, "kind '" + one_line(said) + "'", "observed or forecast");
    if (numbers[1].value_or(0) > *numbers[0] || numbers[2].value_or(R12::most) < *numbers[0])
      return fail(at, fmt::format("r12 {:g} outside its limits", *numbers[0]), "low_r12 <= r12 <= high_r12");
    ForecastTable::Row line{R12(*numbers[0]), std::nullopt, std::nullopt, said == "observed"};
    if (numbers[1]) line.low_r12 = R12(*numbers[1]);
    if (numbers[2]) line.high_r12 = R12(*numbers[2]);
    if (!out.table.months.emplace(*when, line).second)
      return fail(at, fmt::format("{} twice", to_iso(*when)), "each month once");
  }
  return out;
}

/// The first line that is neither empty nor a comment.
std::string_view first_line(std::string_view text) {
  while (!text.empty()) {
    const auto end = std::min(text.find('\n'), text.size());
    const auto line = trim(text.substr(0, end));
    if (!line.empty() && line.front() != '#') return line;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return {};
}

}  // namespace

std::optional<Month> ForecastTable::last_observed() const {
  const auto found =
      std::find_if(months.rbegin(), months.rend(), [](const auto& m) { return m.second.observed; });
  return found == months.rend() ? std::nullopt : std::optional(found->first);
}

void ForecastTable::take_in(const ForecastTable& other) {
  for (const auto& [month, row] : other.months) {
    const auto [at, fresh] = months.emplace(month, row);
    if (!fresh && (row.observed || !at->second.observed)) at->second = row;
  }
}

Result<bool> keep(ForecastTable& table, Month month, const Numbers& numbers, Meaning meaning,
                  const Where& where) {
  const auto r12 = [&](double value) { return meaning.flux ? r12_from_f107(value) : r12_from_ssn_v2(value); };
  ForecastTable::Row row{r12(numbers.value), std::nullopt, std::nullopt, meaning.observed};
  if (numbers.low) row.low_r12 = r12(*numbers.low);
  if (numbers.high) row.high_r12 = r12(*numbers.high);
  if (!table.months.emplace(month, row).second)
    return fail(where, fmt::format("a second entry for {}", to_iso(month)), "each month once");
  return true;
}

Result<ReadTable> read_table(std::string_view text, const Where& where, const TableAsk& ask) {
  if (text.size() > most_forecast_bytes)
    return fail(where, fmt::format("{} kB", text.size() / 1024),
                fmt::format("at most {} kB", most_forecast_bytes / 1024));
  const auto first = first_line(text);
  const bool json = first.empty() || first.front() == '[' || first.front() == '{';
  auto out = json                                   ? read_json_table(text, where, ask.by_flux)
             : lower(first.substr(0, 5)) == "month" ? read_own(text, where)
                                                    : read_columns(text, where, ask);
  if (out && out->table.months.empty())
    return fail(where, "no month with a number", fmt::format("months of {} to {}", first_year, last_year));
  return out;
}

std::optional<Activity> activity_of(const ForecastTable& table, Month month, std::string made) {
  const auto found = table.months.find(month);
  if (found == table.months.end()) return std::nullopt;
  const auto& row = found->second;
  Activity out;
  out.r12 = row.r12;
  // Judgement: without limits of its own, the file's value is as uncertain as the built-in forecast's for that month.
  const Activity usual = forecast(month);
  const double spread =
      row.observed ? observed_spread + observed_share * row.r12 : 0.5 * (usual.high_r12 - usual.low_r12);
  out.low_r12 = row.low_r12.value_or(row.r12.plus(-spread));
  out.high_r12 = row.high_r12.value_or(row.r12.plus(spread));
  out.source = {.kind = ActivitySource::Kind::file, .made = std::move(made)};
  if (const auto last = table.last_observed(); last && *last < month)
    out.months_ahead = static_cast<int>((month - *last).count());
  return out;
}

Result<Activity> forecast_from_file(std::string_view text, Month month, const Where& where) {
  const auto read = read_table(text, where);
  if (!read) return tl::unexpected(read.error());
  if (auto out = activity_of(read->table, month, where.file)) return std::move(*out);
  const auto& months = read->table.months;
  return fail(where, fmt::format("no entry for {}", to_iso(month)),
              fmt::format("a forecast that covers it; this one has {} months from {} to {}", months.size(),
                          to_iso(months.begin()->first), to_iso(months.rbegin()->first)),
              "leave the file out to use the built-in forecast");
}

Result<Activity> forecast_with(std::string_view text, Month month) {
  if (text.empty()) return forecast(month);
  const auto read = read_table(text, {own_forecast});
  if (!read) {
    Error error = read.error();
    error.mend = "'skerry forecast import' writes it anew; without it the built-in forecast holds";
    return tl::unexpected(std::move(error));
  }
  return activity_of(read->table, month, own_forecast).value_or(forecast(month));
}

std::string to_csv(const ForecastTable& table, std::string_view about) {
  std::string out;
  while (!about.empty()) {
    const auto end = std::min(about.find('\n'), about.size());
    out += fmt::format("# {}\n", about.substr(0, end));
    about.remove_prefix(std::min(end + 1, about.size()));
  }
  out += "month,r12,low_r12,high_r12,kind\n";
  const auto limit = [](const std::optional<R12>& r12) {
    return r12 ? fmt::format("{:.1f}", r12->value()) : std::string{};
  };
  for (const auto& [month, row] : table.months)
    out += fmt::format("{},{:.1f},{},{},{}\n", to_iso(month), row.r12.value(), limit(row.low_r12),
                       limit(row.high_r12), row.observed ? "observed" : "forecast");
  return out;
}

}  // namespace skerry::ionosphere
