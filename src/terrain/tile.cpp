#include "skerry/terrain/tile.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"

namespace skerry::terrain {

namespace {

/// Source: WGS84, a degree of latitude at the equator, its shortest.
constexpr double km_per_degree = 110.57;

/// "N19", "E063": the sign letter, then digits.
std::optional<double> signed_degrees(std::string_view text, char plus, char minus, double most) {
  const auto upper = [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; };
  const char sign = upper(text[0]);
  if (sign != plus && sign != minus) return std::nullopt;
  double value = 0;
  for (const char c : text.substr(1)) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  if (value > most) return std::nullopt;
  return sign == minus ? -value : value;
}

}  // namespace

Box box_about(GeoPoint at, double km) {
  const double lat = km / km_per_degree;
  Box out;
  out.south_deg = std::max(-90.0, at.lat_deg - lat);
  out.north_deg = std::min(90.0, at.lat_deg + lat);
  const double narrowest = std::min(cos_deg(out.south_deg), cos_deg(out.north_deg));
  const double lon = narrowest > 0 ? std::min(180.0, lat / narrowest) : 180;
  out.west_deg = at.lon_deg - lon;
  out.east_deg = at.lon_deg + lon;
  return out;
}

double turns_into(const Box& box, double west_deg, double east_deg) {
  const double middle = 0.5 * (box.west_deg + box.east_deg);
  return 360 * std::round((middle - 0.5 * (west_deg + east_deg)) / 360);
}

Cut cut_out(const Tile& tile, const Box& box) {
  Cut out;
  const auto bound = [](double x, int most) { return static_cast<int>(std::clamp(x, -1.0, most + 1.0)); };
  const int top = bound(std::floor((tile.north_deg - box.north_deg) / tile.lat_step_deg) - 1, tile.rows);
  const int low = bound(std::ceil((tile.north_deg - box.south_deg) / tile.lat_step_deg) + 1, tile.rows);
  const int left = bound(std::floor((box.west_deg - tile.west_deg) / tile.lon_step_deg) - 1, tile.columns);
  const int right = bound(std::ceil((box.east_deg - tile.west_deg) / tile.lon_step_deg) + 1, tile.columns);
  out.first_row = std::max(0, top);
  out.first_column = std::max(0, left);
  out.rows = std::min(tile.rows - 1, low) - out.first_row + 1;
  out.columns = std::min(tile.columns - 1, right) - out.first_column + 1;
  return out;
}

Tile cropped(const Tile& whole, const Cut& cut) {
  Tile out;
  out.lat_step_deg = whole.lat_step_deg;
  out.lon_step_deg = whole.lon_step_deg;
  out.north_deg = whole.north_deg - cut.first_row * whole.lat_step_deg;
  out.west_deg = whole.west_deg + cut.first_column * whole.lon_step_deg;
  out.rows = std::max(0, cut.rows);
  out.columns = std::max(0, cut.columns);
  return out;
}

std::optional<GeoPoint> hgt_corner(std::string_view name) {
  name = name.substr(name.find_last_of('/') + 1);
  constexpr std::size_t corner = 7;  // N19E063
  if (name.size() < corner + 4) return std::nullopt;
  const auto ending = name.substr(name.size() - 4);
  if (ending != ".hgt" && ending != ".HGT") return std::nullopt;
  const auto lat = signed_degrees(name.substr(0, 3), 'N', 'S', 90);
  const auto lon = signed_degrees(name.substr(3, 4), 'E', 'W', 180);
  if (!lat || !lon || *lat > 89) return std::nullopt;
  return GeoPoint{*lat, *lon};
}

bool overlaps(GeoPoint corner, const Box& box) {
  const double west = corner.lon_deg + turns_into(box, corner.lon_deg, corner.lon_deg + 1);
  return corner.lat_deg <= box.north_deg && corner.lat_deg + 1 >= box.south_deg && west <= box.east_deg &&
         west + 1 >= box.west_deg;
}

Result<Tile> decode_hgt(std::string_view bytes, const std::string& name, const Box& box) {
  const auto corner = hgt_corner(name);
  if (!corner) {
    return fail({one_line(name)}, "a name that tells no corner",
                "the square degree's south-west corner, as N19E063.hgt or S20W001.hgt");
  }
  int side = 0;
  for (const int one : {1201, 3601}) {
    if (bytes.size() == 2UL * static_cast<std::size_t>(one) * static_cast<std::size_t>(one)) side = one;
  }
  if (side == 0) {
    return fail({one_line(name)}, fmt::format("{} bytes", bytes.size()),
                "2884802 (3 arc-seconds) or 25934402 (1 arc-second), as an HGT file has",
                "copy it again: it may have been cut short, or still be packed");
  }
  Tile whole;
  whole.rows = whole.columns = side;
  whole.lat_step_deg = whole.lon_step_deg = 1.0 / (side - 1);
  whole.north_deg = corner->lat_deg + 1;
  whole.west_deg = corner->lon_deg + turns_into(box, corner->lon_deg, corner->lon_deg + 1);
  const Cut cut = cut_out(whole, box);
  Tile out = cropped(whole, cut);
  if (cut.empty()) return out;
  out.height_m.reserve(static_cast<std::size_t>(cut.rows) * static_cast<std::size_t>(cut.columns));
  for (int r = 0; r < cut.rows; ++r) {
    auto at = 2 * (static_cast<std::size_t>(cut.first_row + r) * static_cast<std::size_t>(side) +
                   static_cast<std::size_t>(cut.first_column));
    for (int c = 0; c < cut.columns; ++c, at += 2) {
      const auto high = static_cast<unsigned char>(bytes[at]),
                 low = static_cast<unsigned char>(bytes[at + 1]);
      const auto value = static_cast<std::int16_t>(static_cast<std::uint16_t>(high << 8U | low));
      out.height_m.push_back(is_void(value) ? std::numeric_limits<float>::quiet_NaN()
                                            : static_cast<float>(value));
    }
  }
  return out;
}

}  // namespace skerry::terrain
