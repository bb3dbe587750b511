#include "skerry/forms/geojson.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "common.hpp"

namespace skerry::forms {

namespace {

Json position(GeoPoint p) {
  return Json::array({rounded(p.lon_deg, 5), rounded(p.lat_deg, 5)});
}

Json line_geometry(const std::vector<GeoPoint>& line) {
  const auto parts = cut_at_antimeridian(line);
  Json lines = Json::array();
  for (const auto& part : parts) {
    Json positions = list(part, [&](const auto& p) { return position(p); });
    lines.push_back(std::move(positions));
  }
  if (lines.size() == 1) return {{"type", "LineString"}, {"coordinates", std::move(lines.front())}};
  return {{"type", "MultiLineString"}, {"coordinates", std::move(lines)}};
}

Json feature(Json geometry, Json properties) {
  return {{"type", "Feature"}, {"geometry", std::move(geometry)}, {"properties", std::move(properties)}};
}

Json point_feature(GeoPoint where, Json properties) {
  return feature({{"type", "Point"}, {"coordinates", position(where)}}, std::move(properties));
}

const char* way_text(geodesy::Way way) {
  return way_key(way);
}

Json band_or_null(const circuit::BandExplanation& e) {
  return or_null(e.band);
}

}  // namespace

std::vector<std::vector<GeoPoint>> cut_at_antimeridian(const std::vector<GeoPoint>& line) {
  std::vector<std::vector<GeoPoint>> out;
  if (line.empty()) return out;
  out.push_back({line.front()});
  for (std::size_t i = 1; i < line.size(); ++i) {
    const GeoPoint a = line[i - 1];
    const GeoPoint b = line[i];
    const double step = b.lon_deg - a.lon_deg;
    if (std::abs(step) > 180) {
      // Going east (+180 comes) when the longitude jumps down.
      const double side = step < 0 ? 180 : -180;
      const double whole = step < 0 ? step + 360 : step - 360;
      const double share = whole == 0 ? 0 : (side - a.lon_deg) / whole;
      const double lat = a.lat_deg + share * (b.lat_deg - a.lat_deg);
      if (a.lon_deg != side) out.back().push_back({lat, side});
      if (out.back().size() < 2) out.pop_back();
      out.push_back({});
      if (b.lon_deg != -side) out.back().push_back({lat, -side});
    }
    out.back().push_back(b);
  }
  if (out.size() > 1 && out.back().size() < 2) out.pop_back();
  return out;
}

std::string tracks_geojson(const GeoSheet& sheet) {
  Json features = Json::array();
  std::set<std::string> named;
  for (const auto& track : sheet.tracks) {
    for (const auto& [name, where] :
         {std::pair{track.from_name, track.path.from}, std::pair{track.to_name, track.path.to}}) {
      if (!named.insert(name + "|" + geodesy::to_text(where, 6)).second) continue;
      features.push_back(
          point_feature(where, {{"kind", "end"}, {"name", name}, {"locator", geodesy::to_locator(where)}}));
    }
  }
  for (const auto& track : sheet.tracks) {
    Json properties = {{"kind", "path"},
                       {"from", track.from_name},
                       {"to", track.to_name},
                       {"way", way_text(track.path.way)},
                       {"distance_km", rounded(track.path.distance_km, 1)},
                       {"bearing_deg", rounded(track.path.bearing_deg, 1)},
                       {"return_bearing_deg", rounded(track.path.return_bearing_deg, 1)}};
    if (track.answer) {
      properties["utc"] = to_iso(sheet.when);
      properties["band"] = band_or_null(*track.answer);
      properties["mhz"] = rounded(track.answer->mhz, 4);
      properties["days_in_ten"] = rounded(track.answer->days, 2);
      properties["limit_mhz"] = rounded(track.answer->muf.limit_mhz, 2);
    }
    features.push_back(feature(line_geometry(track.line), std::move(properties)));
    for (const auto& r : track.reflections) {
      const auto& e = *track.answer;
      features.push_back(point_feature(r.where, {{"kind", "reflection"},
                                                 {"from", track.from_name},
                                                 {"to", track.to_name},
                                                 {"way", way_text(track.path.way)},
                                                 {"utc", to_iso(sheet.when)},
                                                 {"band", band_or_null(e)},
                                                 {"mhz", rounded(e.mhz, 4)},
                                                 {"hop", r.hop},
                                                 {"hops", e.mode.hops},
                                                 {"layer", layer_key(e.mode.layer)},
                                                 {"height_km", rounded(e.mode.reflection_height_km, 0)},
                                                 {"elevation_deg", rounded(e.mode.elevation_deg, 1)},
                                                 {"nominal", e.long_method}}));
    }
  }
  if (!sheet.terminator.empty()) {
    auto closed = sheet.terminator;
    closed.push_back(closed.front());
    features.push_back(feature(line_geometry(closed), {{"kind", "terminator"}, {"utc", to_iso(sheet.when)}}));
  }
  return dump(Json{{"type", "FeatureCollection"}, {"features", std::move(features)}});
}

}  // namespace skerry::forms
