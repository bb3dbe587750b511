#include "skerry/sun/nearest_zone.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <mutex>

#include "skerry/core/table.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/geodesy/land.hpp"
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

Zone legal_zone(GeoPoint at) {
  const auto near = geodesy::nearest_named(at, zone_reach_km, true);
  if (!near || (near->distance_km > sea_reach_km && !geodesy::is_land(at))) return Zone::nominal(at.lon_deg);
  static std::mutex guard;
  static std::map<std::string, std::optional<Zone>, std::less<>> known;
  const std::lock_guard lock(guard);
  auto found = known.find(near->place.zone);
  if (found == known.end()) {
    const auto zone = Zone::find(near->place.zone, {});
    found = known.emplace(near->place.zone, zone ? std::optional(*zone) : std::nullopt).first;
  }
  return found->second ? *found->second : Zone::nominal(at.lon_deg);
}

std::string likely_zone(GeoPoint at) {
  const auto zone = legal_zone(at);
  return zone.nautical() ? std::string() : zone.name();
}

std::optional<ZoneDoubt> zone_doubt(const Zone& zone, GeoPoint at, UtcTime from, UtcTime to) {
  ZoneDoubt out;
  out.stray_h = stray_h(zone, at, from);
  if (std::abs(out.stray_h) > most_stray_h) return out;
  if (!is_offset(zone)) return std::nullopt;
  out.why = ZoneDoubt::Why::only_an_offset;
  const auto near = geodesy::nearest_named(at, zone_reach_km, true);
  out.nearest =
      near ? NearZone{std::string(near->place.zone), near->distance_km} : nearest_zones(at, 1).front();
  const auto legal = Zone::find(out.nearest.name, {});
  if (out.nearest.distance_km > zone_reach_km || !legal) return out;
  if (same_clock(zone, *legal, from, to)) return std::nullopt;
  out.legal_s = legal->offset_s(from);
  return out;
}

std::optional<Misplaced> misplaced(const Zone& zone, GeoPoint at, UtcTime when) {
  constexpr double polar_deg = 80;  // Judgement
  /// Judgement: an hour may be politics, or a trip kept on the clock of home; with another place that has the very
  /// zone it is a lost sign.
  constexpr double differs_h = 1;
  const Zone legal = legal_zone(at);
  if (zone.name() == "UTC" || zone.name() == legal.name() || std::abs(at.lat_deg) > polar_deg)
    return std::nullopt;
  std::vector<GeoPoint> guesses{{at.lat_deg, -at.lon_deg}};
  if (std::abs(at.lon_deg) <= 90) {
    guesses.push_back({at.lon_deg, at.lat_deg});
    guesses.push_back({-at.lon_deg, at.lat_deg});
  }
  guesses.push_back({-at.lat_deg, -at.lon_deg});
  auto guess = std::find_if(guesses.begin(), guesses.end(),
                            [&](GeoPoint g) { return legal_zone(g).name() == zone.name(); });
  const double off_h = std::remainder((zone.offset_s(when) - legal.offset_s(when)) / 3600.0, 24.0);
  /// Judgement: so far from the legal time there, no politics and no summer time explain it.
  constexpr double far_h = 2.5;
  const bool far = std::abs(stray_h(zone, at, when)) > most_stray_h || std::abs(off_h) >= far_h;
  if (!far && (guess == guesses.end() || std::abs(off_h) < differs_h)) return std::nullopt;
  Misplaced out;
  const auto near = geodesy::nearest_named(at, 3 * zone_reach_km);
  out.lies =
      !near || near->place.country.empty() || (near->distance_km > sea_reach_km && !geodesy::is_land(at))
          ? "at sea"
          : "in " + std::string(near->place.country);
  if (guess == guesses.end()) {
    guess = std::find_if(guesses.begin(), guesses.end(),
                         [&](GeoPoint g) { return std::abs(stray_h(zone, g, when)) <= most_stray_h; });
  }
  if (guess == guesses.end()) return out;
  out.meant = *guess;
  out.only_longitude = guess == guesses.begin();
  return out;
}

}  // namespace skerry::sun
