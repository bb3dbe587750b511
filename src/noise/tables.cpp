#include "tables.hpp"

#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/core/table.hpp"

namespace skerry::noise {

namespace {

/// Place of a word in a list.
template <std::size_t N>
std::size_t place_of(const std::string& word, const std::array<std::string_view, N>& words) {
  for (std::size_t i = 0; i < N; ++i) {
    if (words[i] == word) return i;
  }
  our_bug("unknown word '" + word + "'");
}

Law law_of(const TableRow& row) {
  return {row.number("c"), row.number("d"), row.number("du"), row.number("dl")};
}

void read_levels(Tables& out) {
  constexpr std::array<std::string_view, 2> surfaces{"sea", "land"};
  constexpr std::array<std::string_view, 3> seasons{"winter", "equinox", "summer"};
  std::size_t seen = 0;
  for (const TableRow& row : table_rows("noise/atmospheric.toml", "level")) {
    const double band = row.number("band");
    const auto b = static_cast<std::size_t>((band - 10.0) / 20.0);
    const auto& db = row.numbers("db");
    if (b >= Tables::bands || band != 10.0 + 20.0 * static_cast<double>(b) || db.size() != Tables::blocks) {
      our_bug("a level row of another shape");
    }
    auto& cells =
        out.level_db[place_of(row.text("surface"), surfaces)][b][place_of(row.text("season"), seasons)];
    for (std::size_t k = 0; k < Tables::blocks; ++k) cells[k] = db[k];
    ++seen;
  }
  if (seen != 2 * Tables::bands * 2) our_bug("level rows missing");
  for (auto& surface : out.level_db) {
    for (auto& band : surface) {
      for (std::size_t k = 0; k < Tables::blocks; ++k) band[1][k] = 0.5 * (band[0][k] + band[2][k]);
    }
  }
}

Tables read() {
  Tables out;
  constexpr std::array<std::string_view, 4> environments{"city", "residential", "rural", "quiet"};
  const auto rows = table_rows("noise/man_made.toml", "environment");
  if (rows.size() != environments.size()) our_bug("environments missing");
  for (const TableRow& row : rows) {
    const auto place = place_of(row.text("id"), environments);
    out.man_made[place] = law_of(row);
    out.location_db[place] = row.number("location_deviation");
  }
  out.galactic = law_of(table_rows("noise/man_made.toml", "galactic").at(0));

  read_levels(out);
  const auto points = table_rows("noise/atmospheric.toml", "day_point");
  if (points.size() + 1 != out.day.size()) our_bug("day points missing");
  out.day[0] = {0.0, 30.0, 1.0};
  for (std::size_t i = 0; i < points.size(); ++i) {
    out.day[i + 1] = {std::log10(points[i].number("mhz")), points[i].number("base"),
                      points[i].number("slope")};
  }
  const TableRow law = table_rows("noise/atmospheric.toml", "law").at(0);
  out.night_first = law.number("night_first");
  out.night_second = law.number("night_second");
  out.night_cut = law.number("night_cut");
  out.log_night_cut_mhz = std::log10(law.number("night_cut_mhz"));
  out.day_zenith_deg = law.number("day_zenith_deg");
  out.night_zenith_deg = law.number("night_zenith_deg");
  out.atmospheric_du = law.number("du");
  out.atmospheric_dl = law.number("dl");
  return out;
}

}  // namespace

const Tables& tables() {
  static const Tables kept = read();
  return kept;
}

}  // namespace skerry::noise
