#include "skerry/sun/nearest_zone.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "skerry/core/table.hpp"
#include "skerry/geodesy/path.hpp"
#include "zone_lookup.hpp"

namespace skerry::sun {

namespace {

/// Judgement: the widest that legal time strays from the Sun's is about 3 h (far west of China; from memory).
constexpr double most_stray_h = 3.5;

struct Place {
  std::string name;
  GeoPoint where;
};

const std::vector<Place>& principal_places() {
  static const std::vector<Place> read = [] {
    std::vector<Place> out;
    for (const auto& row : table_rows("zones/zones.toml", "zone")) {
      const auto& at = row.numbers("at");
      out.push_back({row.text("name"), GeoPoint::at_deg(at.at(0), at.at(1))});
    }
    return out;
  }();
  return read;
}

bool is_offset(const Zone& zone) {
  return zone.name() == "UTC" || parse_offset_s(zone.name()).has_value();
}

bool same_clock(const Zone& a, const Zone& b, UtcTime from, UtcTime to) {
  for (UtcTime t = from; t < to; t += std::chrono::hours{6}) {
    if (a.offset_s(t) != b.offset_s(t)) return false;
  }
  return a.offset_s(to) == b.offset_s(to);
}

/// Hours between the clock and the mean Sun, -12..12.
double stray_h(const Zone& zone, GeoPoint at, UtcTime when) {
  return std::remainder(zone.offset_s(when) / 3600.0 - at.lon_deg / 15.0, 24.0);
}

}  // namespace

std::vector<NearZone> nearest_zones(GeoPoint at, std::size_t most) {
  std::vector<NearZone> out;
  for (const auto& place : principal_places())
    out.push_back({place.name, geodesy::distance_km(at, place.where)});
  std::sort(out.begin(), out.end(), [](const NearZone& a, const NearZone& b) {
    return a.distance_km != b.distance_km ? a.distance_km < b.distance_km : a.name < b.name;
  });
  out.resize(std::min(out.size(), most));
  return out;
}

std::string likely_zone(GeoPoint at) {
  const auto near = nearest_zones(at, 1);
  return !near.empty() && near[0].distance_km <= zone_reach_km ? near[0].name : std::string();
}

std::optional<ZoneDoubt> zone_doubt(const Zone& zone, GeoPoint at, UtcTime from, UtcTime to) {
  ZoneDoubt out;
  out.stray_h = stray_h(zone, at, from);
  if (std::abs(out.stray_h) > most_stray_h) return out;
  if (!is_offset(zone)) return std::nullopt;
  out.why = ZoneDoubt::Why::only_an_offset;
  out.nearest = nearest_zones(at, 1).front();
  const auto legal = Zone::find(out.nearest.name, {});
  if (out.nearest.distance_km > zone_reach_km || !legal) return out;
  if (same_clock(zone, *legal, from, to)) return std::nullopt;
  out.legal_s = legal->offset_s(from);
  return out;
}

}  // namespace skerry::sun
