#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/words/horizon.hpp"
#include "skerry/words/place.hpp"

namespace skerry::words {

namespace {

/// Judgement: degrees to a column of the drawing, and to a row of the table: a screen of 80 columns and 36 lines.
constexpr std::size_t drawn_deg = 5, listed_deg = 10;
constexpr int drawn_rows = 8;

std::size_t index_of(const HorizonAnswer& a, double azimuth_deg) {
  const auto count = a.around.skyline.size();
  return static_cast<std::size_t>(std::lround(azimuth_deg / 360 * static_cast<double>(count))) % count;
}

/// "1.3", "12": no more digits than anybody paces out.
std::string km_text(double km) {
  return fmt::format("{:.{}f}", km, km < 10 ? 1 : 0);
}

/// What a column shows: the highest of its azimuths.
double highest_deg(const HorizonAnswer& a, std::size_t azimuth_deg) {
  double most = -90;
  for (std::size_t d = 0; d < drawn_deg; ++d)
    most = std::max(most, a.around.skyline[index_of(a, static_cast<double>(azimuth_deg + d))].deg);
  return most;
}

/// The panorama in letters: ground as '#', what leaves as digits of the regions' list.
std::string drawn(const HorizonAnswer& a) {
  double most = 2;
  for (const auto& s : a.around.skyline) most = std::max(most, s.deg);
  for (const auto& m : a.marks) {
    if (m.leaves) most = std::max(most, std::min(m.leaves->usual_deg, 30.0));
  }
  int step = 1;
  while (step * drawn_rows < most) ++step;
  std::string out;
  for (int row = drawn_rows; row >= 1; --row) {
    const double low = step * (row - 1);
    std::string line;
    for (std::size_t azimuth = 0; azimuth < 360; azimuth += drawn_deg)
      line += highest_deg(a, azimuth) > low + 0.5 * step ? '#' : ' ';
    for (std::size_t i = 0; i < std::min<std::size_t>(9, a.marks.size()); ++i) {
      const auto& m = a.marks[i];
      if (!m.leaves || m.leaves->usual_deg < low || m.leaves->usual_deg >= low + step) continue;
      line[static_cast<std::size_t>(m.bearing_deg) / drawn_deg % line.size()] = static_cast<char>('1' + i);
    }
    while (!line.empty() && line.back() == ' ') line.pop_back();
    out += fmt::format("{:>4} |{}\n", step * row, line);
  }
  std::string foot(72, '-');
  out += "   0 +" + foot + "\n      N        45       E        135      S        225      W        315\n";
  return out;
}

std::string table(const HorizonAnswer& a) {
  std::string out = "azimuth  skyline  km away  ground falls  sea from\n";
  for (std::size_t azimuth = 0; azimuth < 360; azimuth += listed_deg) {
    const auto i = index_of(a, static_cast<double>(azimuth));
    const auto& sky = a.around.skyline[i];
    const auto& shore = a.around.shore[i];
    out += fmt::format("{:>7}  {:>7.1f}  {:>7}  {:>12.0f}  {:>8}\n", azimuth, plus_zero(sky.deg, 1),
                       km_text(sky.km), plus_zero(a.around.fall_deg[i], 0),
                       shore ? fmt::format("{:.0f} m", shore->from_m) : "-");
  }
  return out;
}

}  // namespace

std::string mark_text(const HorizonAnswer::Mark& m) {
  std::string out = fmt::format("{} ({:.0f} degrees, {:.0f} km)", m.region, m.bearing_deg, m.distance_km);
  if (!m.leaves) {
    out += " does not open";
  } else {
    out += fmt::format(" leaves at {:.0f} degrees ({:.0f} to {:.0f}, mostly {})", m.leaves->usual_deg,
                       m.leaves->lowest_deg, m.leaves->highest_deg, m.leaves->usual_band);
    if (m.leaves->best_days_in_ten < m.want_days_in_ten)
      out += fmt::format(", on {:.1f} days in ten at best", m.leaves->best_days_in_ten);
  }
  if (m.skyline.deg <= 0) return out + ", nothing stands above the level";
  return out + fmt::format(", the ridge stands at {:.1f}, {} km away", m.skyline.deg, km_text(m.skyline.km));
}

std::string horizon_text(const HorizonAnswer& a, const Style& style) {
  std::string out =
      fmt::format("Around {}: ground {:.0f} m above the sea, seen from {:g} m above it, {:g} km far.\n",
                  geodesy::to_text(a.at), a.around.ground_m, a.view.eye_m, a.view.reach_km);
  out += fmt::format("Elevation files: {}; a height every {:.0f} m.\n", fmt::join(a.files, ", "), a.cell_m);
  if (a.missing_share >= 0.005) {
    out += fmt::format("{:.0f} % of the square around it is in no file and taken as sea{}.\n",
                       100 * a.missing_share,
                       a.absent.empty() ? std::string() : fmt::format(": {}", fmt::join(a.absent, ", ")));
  }
  if (a.void_share > 0)
    out += fmt::format("{:.2g} % of it are voids in the files, taken as sea.\n", 100 * a.void_share);
  out += "\n" + drawn(a) + "\n";
  for (std::size_t i = 0; i < a.marks.size(); ++i)
    out += fmt::format("{}  {}\n", i + 1, mark_text(a.marks[i]));
  if (!a.marks.empty()) out += "\n";
  out += table(a);
  out += "\nFor the trip file (the skyline in few points, within 0.3 degrees):\n";
  for (const auto& row : a.rows) out += row + "\n";
  out +=
      "\nThe files know no trees, houses or small cliffs, and shave summits: look at the place before you trust a "
      "degree.\n";
  return on_screen(out, style);
}

std::vector<std::string> terrain_notes(const kit::Site& site) {
  std::vector<std::string> out;
  if (!site.from_files) return out;
  const auto& from = *site.from_files;
  // Judgement: as far as files of 30 m and a map may differ on a summit.
  constexpr double apart_m = 30;
  if (from.altitude_told && std::abs(site.altitude_m - from.found.altitude_m) > apart_m) {
    out.push_back(fmt::format(
        "altitude_m = {:g} is told and holds, while the elevation files have {:g} m there: is the "
        "position right?",
        site.altitude_m, from.found.altitude_m));
  }
  std::vector<std::string> told;
  if (from.horizon_told) told.emplace_back("the skyline");
  if (from.foreground_told) told.emplace_back("the slope");
  if (from.shore_told) told.emplace_back("the sea");
  if (!told.empty())
    out.push_back(fmt::format("{} told in the trip file holds, not that of the elevation files",
                              fmt::join(told, " and ")));
  return out;
}

}  // namespace skerry::words
