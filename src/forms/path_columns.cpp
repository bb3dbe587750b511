#include "skerry/forms/path_columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <span>
#include <string_view>

#include "common.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/words/cautions.hpp"

namespace skerry::forms {

namespace {

/// One line of the table.
struct Cell {
  const circuit::PathAnswer& answer;
  const circuit::WayAnswer& way;
  std::size_t hour, frequency;
  const std::string& id_json;
  [[nodiscard]] const circuit::HourAnswer& at() const { return way.hours[hour]; }
  [[nodiscard]] const circuit::BandAnswer& band() const { return at().bands[frequency]; }
};

std::string two(double value) {
  return fmt::format("{:.2f}", plus_zero(value, 2));
}
/// Empty where no mode carries.
std::string if_open(const Cell& c, double value) {
  return c.band().there.open ? two(value) : std::string{};
}

struct Column {
  std::string_view name;
  std::string (*text)(const Cell&);
};

// Those of path_csv first, in their order.
constexpr std::size_t usual = 16;
constexpr std::array columns{
    Column{"way", [](const Cell& c) -> std::string { return way_key(c.way.path.way); }},
    Column{"utc_hour", [](const Cell& c) { return fmt::format("{}", c.hour); }},
    Column{"basic_muf_mhz", [](const Cell& c) { return fmt::format("{:.3f}", c.at().muf.basic_mhz); }},
    Column{"operational_muf_mhz",
           [](const Cell& c) { return fmt::format("{:.3f}", c.at().muf.operational_mhz); }},
    Column{"band", [](const Cell& c) { return csv_field(c.answer.question.frequencies[c.frequency].band); }},
    Column{
        "mhz",
        [](const Cell& c) { return fmt::format("{:.4f}", c.answer.question.frequencies[c.frequency].mhz); }},
    Column{"layer",
           [](const Cell& c) -> std::string {
             return c.band().there.open ? layer_key(c.band().strongest().layer) : "";
           }},
    Column{"hops",
           [](const Cell& c) {
             return c.band().there.open ? fmt::format("{}", c.band().strongest().hops) : std::string{};
           }},
    Column{"elevation_deg",
           [](const Cell& c) {
             return c.band().there.open ? two(c.band().strongest().elevation_deg) : std::string{};
           }},
    Column{"snr_db", [](const Cell& c) { return if_open(c, c.band().there.snr_db); }},
    Column{"required_snr_db",
           [](const Cell& c) { return fmt::format("{:.2f}", c.answer.question.mode.required_snr_db); }},
    Column{"margin_db", [](const Cell& c) { return if_open(c, c.band().there.margin_db); }},
    Column{"days_in_ten",
           [](const Cell& c) {
             return fmt::format("{:.2f}", c.band().there.open ? c.band().there.days_in_ten : 0);
           }},
    Column{"return_snr_db", [](const Cell& c) { return if_open(c, c.band().back.snr_db); }},
    Column{"return_days_in_ten",
           [](const Cell& c) {
             return fmt::format("{:.2f}", c.band().there.open ? c.band().back.days_in_ten : 0);
           }},
    Column{"both_days_in_ten",
           [](const Cell& c) { return fmt::format("{:.2f}", c.band().both_days_in_ten); }},
    Column{"id", [](const Cell& c) { return csv_field(c.id_json); }},
    Column{"month", [](const Cell& c) { return to_iso(month_of(start_of(c.answer.question.climate.day))); }},
    Column{"r12", [](const Cell& c) { return two(c.answer.question.climate.r12); }},
    Column{"distance_km", [](const Cell& c) { return two(c.way.path.distance_km); }},
    Column{"bearing_deg", [](const Cell& c) { return two(c.way.path.bearing_deg); }},
    Column{"on_edge", [](const Cell& c) -> std::string { return c.band().on_edge ? "true" : "false"; }},
};

void put_rows(std::string& out, const circuit::PathAnswer& a, std::span<const std::size_t> which,
              const std::string& id_json, const std::array<bool, 24>& hours, const std::string& end) {
  for (const auto& way : a.ways) {
    for (std::size_t h = 0; h < way.hours.size(); ++h) {
      if (!hours[h]) continue;
      for (std::size_t i = 0; i < a.question.frequencies.size(); ++i) {
        const Cell cell{a, way, h, i, id_json};
        for (std::size_t k = 0; k < which.size(); ++k) {
          if (k > 0) out += ',';
          out += columns[which[k]].text(cell);
        }
        out += end;
      }
    }
  }
}

std::string heads(std::span<const std::size_t> which) {
  std::string out;
  for (const std::size_t k : which) {
    if (!out.empty()) out += ',';
    out += columns[k].name;
  }
  return out;
}

}  // namespace

std::vector<std::string> path_column_names() {
  std::vector<std::string> out;
  for (const auto& column : columns) out.emplace_back(column.name);
  return out;
}

PathTable::PathTable(const std::vector<std::string>& names) {
  for (const auto& name : names) {
    const auto at =
        std::find_if(columns.begin(), columns.end(), [&](const Column& c) { return c.name == name; });
    assert(at != columns.end());
    which_.push_back(static_cast<std::size_t>(at - columns.begin()));
  }
}

std::string PathTable::head() const {
  return heads(which_) + "\n";
}

circuit::PathQuestion::Wanted PathTable::wanted() const {
  const bool edges = std::any_of(which_.begin(), which_.end(),
                                 [](std::size_t k) { return columns[k].name == "on_edge"; });
  return {edges, false, false};
}

std::string PathTable::rows(const circuit::PathAnswer& answer, const std::string& id_json,
                            const std::array<bool, 24>& hours) const {
  std::string out;
  put_rows(out, answer, which_, id_json, hours, "\n");
  return out;
}

std::string path_csv(const circuit::PathAnswer& a) {
  std::array<std::size_t, usual> which{};
  for (std::size_t k = 0; k < usual; ++k) which[k] = k;
  // A column more where readings are in use, so that no number goes without its label.
  const auto note = words::measured_note(a.question.climate);
  std::string out = heads(which) + (note.empty() ? "\n" : ",measured_fof2\n");
  put_rows(out, a, which, {}, circuit::every_hour, note.empty() ? "\n" : "," + csv_field(note) + "\n");
  return out;
}

}  // namespace skerry::forms
