#include "skerry/forms/path_columns.hpp"

#include <fmt/compile.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <iterator>
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
  const std::string& id;  ///< as a field of CSV
  [[nodiscard]] const circuit::HourAnswer& at() const { return way.hours[hour]; }
  [[nodiscard]] const circuit::BandAnswer& band() const { return at().bands[frequency]; }
  [[nodiscard]] bool open() const { return band().there.open; }
};

void put_whole(std::string& out, std::size_t value) {
  fmt::format_to(std::back_inserter(out), FMT_COMPILE("{}"), value);
}
void put_two(std::string& out, double value) {
  fmt::format_to(std::back_inserter(out), FMT_COMPILE("{:.2f}"), plus_zero(value, 2));
}
void put_three(std::string& out, double value) {
  fmt::format_to(std::back_inserter(out), FMT_COMPILE("{:.3f}"), value);
}
void put_four(std::string& out, double value) {
  fmt::format_to(std::back_inserter(out), FMT_COMPILE("{:.4f}"), value);
}
/// Nothing where no mode carries.
void put_if_open(std::string& out, const Cell& c, double value) {
  if (c.open()) put_two(out, value);
}

struct Column {
  std::string_view name;
  void (*put)(std::string& out, const Cell&);
};

// Those of path_csv first, in their order.
constexpr std::size_t usual = 16;
constexpr std::array columns{
    Column{"way", [](std::string& out, const Cell& c) { out += way_key(c.way.path.way); }},
    Column{"utc_hour", [](std::string& out, const Cell& c) { put_whole(out, c.hour); }},
    Column{"basic_muf_mhz", [](std::string& out, const Cell& c) { put_three(out, c.at().muf.basic_mhz); }},
    Column{"operational_muf_mhz",
           [](std::string& out, const Cell& c) { put_three(out, c.at().muf.operational_mhz); }},
    Column{"band", [](std::string& out,
                      const Cell& c) { out += csv_field(c.answer.question.frequencies[c.frequency].band); }},
    Column{"mhz", [](std::string& out,
                     const Cell& c) { put_four(out, c.answer.question.frequencies[c.frequency].mhz); }},
    Column{"layer",
           [](std::string& out, const Cell& c) {
             if (c.open()) out += layer_key(c.band().strongest().layer);
           }},
    Column{"hops",
           [](std::string& out, const Cell& c) {
             if (c.open()) out += std::to_string(c.band().strongest().hops);
           }},
    Column{"elevation_deg",
           [](std::string& out, const Cell& c) {
             if (c.open()) put_two(out, c.band().strongest().elevation_deg);
           }},
    Column{"snr_db", [](std::string& out, const Cell& c) { put_if_open(out, c, c.band().there.snr_db); }},
    Column{"required_snr_db",
           [](std::string& out, const Cell& c) { put_two(out, c.answer.question.mode.required_snr_db); }},
    Column{"margin_db",
           [](std::string& out, const Cell& c) { put_if_open(out, c, c.band().there.margin_db); }},
    Column{"days_in_ten",
           [](std::string& out, const Cell& c) { put_two(out, c.open() ? c.band().there.days_in_ten : 0); }},
    Column{"return_snr_db",
           [](std::string& out, const Cell& c) { put_if_open(out, c, c.band().back.snr_db); }},
    Column{"return_days_in_ten",
           [](std::string& out, const Cell& c) { put_two(out, c.open() ? c.band().back.days_in_ten : 0); }},
    Column{"both_days_in_ten",
           [](std::string& out, const Cell& c) { put_two(out, c.band().both_days_in_ten); }},
    Column{"id", [](std::string& out, const Cell& c) { out += c.id; }},
    Column{"month", [](std::string& out,
                       const Cell& c) { out += to_iso(month_of(start_of(c.answer.question.climate.day))); }},
    Column{"r12", [](std::string& out, const Cell& c) { put_two(out, c.answer.question.climate.r12); }},
    Column{"distance_km", [](std::string& out, const Cell& c) { put_two(out, c.way.path.distance_km); }},
    Column{"bearing_deg", [](std::string& out, const Cell& c) { put_two(out, c.way.path.bearing_deg); }},
    Column{"on_edge", [](std::string& out, const Cell& c) { out += c.band().on_edge ? "true" : "false"; }},
};

void put_rows(std::string& out, const circuit::PathAnswer& a, std::span<const std::size_t> which,
              const std::string& id_json, const std::array<bool, 24>& hours, const std::string& end) {
  const std::string id = csv_field(id_json);
  for (const auto& way : a.ways) {
    for (std::size_t h = 0; h < way.hours.size(); ++h) {
      if (!hours[h]) continue;
      for (std::size_t i = 0; i < a.question.frequencies.size(); ++i) {
        const Cell cell{a, way, h, i, id};
        for (std::size_t k = 0; k < which.size(); ++k) {
          if (k > 0) out += ',';
          columns[which[k]].put(out, cell);
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
  const bool edges =
      std::any_of(which_.begin(), which_.end(), [](std::size_t k) { return columns[k].name == "on_edge"; });
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
