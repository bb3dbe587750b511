// Regions from GeoJSON: the presets, and what users draw.
#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <optional>

#include "shape.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/json_scan.hpp"
#include "skerry/core/text.hpp"
#include "skerry/geodesy/region.hpp"

namespace skerry::geodesy {

namespace {

using Json = nlohmann::json;

// Judgement, all four: far above any drawing by hand, low enough to answer in well under a second.
constexpr std::size_t most_bytes = 8U * 1024 * 1024;
constexpr std::size_t most_points = 100'000;
constexpr std::size_t most_polygons = 5'000;
constexpr int most_depth = 64;

constexpr const char* accepted_kinds = "a GeoJSON Feature, FeatureCollection, Polygon or MultiPolygon";

Where at_byte(Where where, std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto line_start = before.rfind('\n');
  where.line = static_cast<int>(std::count(before.begin(), before.end(), '\n')) + 1;
  where.column =
      static_cast<int>(line_start == std::string_view::npos ? before.size() : before.size() - line_start - 1);
  where.column = std::max(where.column, 1);
  return where;
}

/// Collects rings; holds the first mistake.
class Reader {
 public:
  explicit Reader(const Where& where) : where_(where) {}

  Result<Region> read(const Json& root) {
    object(root, "");
    if (error_) return tl::unexpected(*error_);
    if (region_.rings.empty()) {
      stop("no polygon in it", accepted_kinds);
      return tl::unexpected(*error_);
    }
    if (region_.name.empty()) region_.name = "region";
    if (region_.id.empty()) region_.id = slug(region_.name);
    return std::move(region_);
  }

 private:
  static std::string slug(std::string_view name) {
    std::string out;
    for (const char c : lower(name)) {
      const bool keep = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
      if (keep) out += c;
      if (!keep && !out.empty() && out.back() != '-') out += '-';
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out.empty() ? "region" : out;
  }

  void stop(std::string found, std::string accepted, std::string mend = {}) {
    if (!error_) error_ = Error{where_, std::move(found), std::move(accepted), std::move(mend)};
  }

  static std::string text_of(const Json& parent, const char* key) {
    const auto it = parent.find(key);
    return it != parent.end() && it->is_string() ? one_line(trim(it->get_ref<const std::string&>()))
                                                 : std::string();
  }

  void object(const Json& json, const std::string& path) {
    const std::string here = path.empty() ? "the top of the file" : path;
    if (!json.is_object()) return stop(here + " is no object", accepted_kinds);
    const std::string type = text_of(json, "type");
    if (type == "FeatureCollection") {
      const auto features = json.find("features");
      if (features == json.end() || !features->is_array())
        return stop(here + " has no \"features\" array", accepted_kinds);
      std::size_t i = 0;
      for (const Json& feature : *features) object(feature, path + "features[" + std::to_string(i++) + "]");
    } else if (type == "Feature") {
      const auto properties = json.find("properties");
      if (properties != json.end() && properties->is_object()) {
        if (region_.name.empty()) region_.name = text_of(*properties, "name");
        if (region_.id.empty()) region_.id = text_of(*properties, "id");
      }
      const auto geometry = json.find("geometry");
      if (geometry == json.end() || geometry->is_null())
        return stop(here + " has no geometry", accepted_kinds);
      object(*geometry, path + (path.empty() ? "geometry" : ".geometry"));
    } else if (type == "Polygon" || type == "MultiPolygon") {
      const std::string inner = path + (path.empty() ? "coordinates" : ".coordinates");
      const auto coordinates = json.find("coordinates");
      if (coordinates == json.end() || !coordinates->is_array()) {
        return stop(here + " has no \"coordinates\" array", accepted_kinds);
      }
      if (type == "Polygon") return polygon(*coordinates, inner);
      std::size_t i = 0;
      for (const Json& part : *coordinates) polygon(part, inner + "[" + std::to_string(i++) + "]");
    } else {
      stop(type.empty() ? here + " has no \"type\"" : here + " is a \"" + type + "\"", accepted_kinds);
    }
  }

  void polygon(const Json& rings, const std::string& path) {
    if (error_) return;
    if (!rings.is_array() || rings.empty() || !rings.front().is_array()) {
      return stop(path + " holds no ring of points", "a list of rings, each a list of [longitude, latitude]");
    }
    if (region_.rings.size() >= most_polygons) {
      return stop("more than " + std::to_string(most_polygons) + " polygons", "fewer polygons");
    }
    auto outer = ring(rings.front(), path + "[0]");
    if (!outer) return;
    const PlaneRing around = plane(*outer);
    region_.rings.push_back(std::move(*outer));
    for (std::size_t i = 1; i < rings.size(); ++i) {
      const std::string here = path + "[" + std::to_string(i) + "]";
      if (!rings[i].is_array())
        return stop(here + " is no ring of points", "a list of [longitude, latitude]");
      auto hole = ring(rings[i], here);
      if (!hole) return;
      if (!lies_within(plane(*hole), around))
        return stop(here + " reaches out of coordinates[0], which it is a hole of",
                    "a hole inside its outline", "polygons of their own belong into a MultiPolygon");
      region_.holes.push_back({region_.rings.size() - 1, std::move(*hole)});
    }
  }

  static PlaneRing plane(const std::vector<GeoPoint>& points) {
    PlaneRing out = unwrapped(points);
    bg::correct(out);
    return out;
  }
  static bool lies_within(PlaneRing hole, const PlaneRing& around) {
    const double to_first = around.front().x() - hole.front().x();
    for (auto& p : hole) p.x(p.x() + 360 * std::round(to_first / 360) - 360);
    for (int turn = 0; turn < 3; ++turn) {
      if (bg::covered_by(hole, around)) return true;
      for (auto& p : hole) p.x(p.x() + 360);
    }
    return false;
  }

  /// A side from -180 to 180: both are one meridian, and nothing lies between.
  static bool round_the_world(const Json& list) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      if (std::abs(list[(i + 1) % list.size()][0].get<double>() - list[i][0].get<double>()) == 360)
        return true;
    }
    return false;
  }
  void stop_at_full_turn(const std::string& path) {
    stop(path + " goes from -180 to 180 in one side, which is one meridian and no way",
         "sides under 180 degrees of longitude", "put points between them, as every 90 degrees");
  }

  /// What a side could mean that goes half round the world or more: unwrapped() takes the shorter way.
  void check_sides(const Json& list, const std::string& path, bool counterclockwise) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      const double from = list[i][0].get<double>(), to = list[(i + 1) % list.size()][0].get<double>();
      const double side = std::abs(to - from);
      // From 180 to -180 is no way at all.
      if (side < 180 || side == 360) continue;
      // Judgement: under a quarter of the globe over the date line is what such a side is seen for.
      if (side > 270 && counterclockwise) continue;
      return stop(path + " goes from longitude " + one_line(list[i][0].dump(), 24) + " to " +
                      one_line(list[(i + 1) % list.size()][0].dump(), 24) + ", which can be either way round",
                  "sides under 180 degrees of longitude",
                  "put points between them, or cut the polygon at 180 degrees; over that line only "
                  "counterclockwise (RFC 7946)");
    }
  }

  /// The points of a sound ring; else nothing, and the mistake is told.
  std::optional<std::vector<GeoPoint>> ring(const Json& list, const std::string& path) {
    std::vector<GeoPoint> out;
    read_ring(list, path, out);
    return error_ ? std::nullopt : std::optional(std::move(out));
  }

  void read_ring(const Json& list, const std::string& path, std::vector<GeoPoint>& points) {
    points_ += list.size();
    if (points_ > most_points) {
      return stop("more than " + std::to_string(most_points) + " points", "fewer points",
                  "simplify the outline; 0.1 degrees is plenty");
    }
    points.reserve(list.size());
    std::size_t i = 0;
    for (const Json& item : list) {
      const auto p = point(item, path, i++);
      if (!p) return;
      if (points.empty() || points.back() != *p) points.push_back(*p);
    }
    while (points.size() > 1 && points.back() == points.front()) points.pop_back();
    if (points.size() < 3) {
      if (round_the_world(list)) return stop_at_full_turn(path);
      return stop(path + " has " + std::to_string(points.size()) + " different points", "at least 3");
    }
    double turn_deg = 0;
    PlaneRing plane = unwrapped(points, &turn_deg);
    if (std::abs(turn_deg) > 180) {
      return stop(path + " runs round a pole", "a polygon that does not enclose a pole",
                  "cut it into parts, each narrower than 180 degrees of longitude");
    }
    check_sides(list, path, bg::area(plane) < 0);  // of a ring that is clockwise, area is positive
    bg::correct(plane);
    bg::validity_failure_type why = bg::no_failure;
    if (!error_ && !bg::is_valid(plane, why)) {
      if (round_the_world(list)) return stop_at_full_turn(path);
      const bool crosses = why == bg::failure_self_intersections || why == bg::failure_spikes ||
                           why == bg::failure_intersecting_interiors;
      return stop(path + (crosses ? " crosses or touches itself" : " encloses no area"),
                  "a simple outline whose sides meet only at their ends",
                  crosses ? "put the points in order along the outline" : "");
    }
  }

  std::optional<GeoPoint> point(const Json& item, const std::string& path, std::size_t index) {
    const auto here = [&] { return path + "[" + std::to_string(index) + "]"; };
    if (!item.is_array() || item.size() < 2 || !item[0].is_number() || !item[1].is_number()) {
      stop(here() + " is no pair of numbers", "[longitude, latitude] in degrees");
      return std::nullopt;
    }
    const double lon = item[0].get<double>();
    const double lat = item[1].get<double>();
    if (!(std::abs(lat) <= 90)) {
      stop(here() + " has latitude " + one_line(item[1].dump(), 24), "-90 to 90, north positive",
           std::abs(lon) <= 90 && std::abs(lat) <= 180 ? "GeoJSON puts longitude first" : "");
      return std::nullopt;
    }
    if (!(std::abs(lon) <= 180)) {
      stop(here() + " has longitude " + one_line(item[0].dump(), 24), "-180 to 180, east positive",
           std::abs(lon) <= 360 ? "past 180 degrees go on from -180; the polygon may cross that line" : "");
      return std::nullopt;
    }
    return GeoPoint::at_deg(lat, lon);
  }

  Where where_;
  Region region_;
  std::optional<Error> error_;
  std::size_t points_ = 0;
};

Result<Json> parsed(std::string_view text, const Where& where) {
  if (text.size() > most_bytes) {
    return fail(where, std::to_string(text.size()) + " bytes", "at most 8 MB of GeoJSON");
  }
  if (const auto byte = too_deep(text, most_depth)) {
    return fail(at_byte(where, text, *byte + 1),
                "brackets nested more than " + std::to_string(most_depth) + " deep", accepted_kinds);
  }
  try {
    return Json::parse(text.begin(), text.end());
  } catch (const Json::parse_error& e) {
    std::string_view what = e.what();
    const auto colon = what.find(": ");
    if (colon != std::string_view::npos) what.remove_prefix(colon + 2);
    return fail(at_byte(where, text, e.byte), "broken JSON, " + one_line(what, 160), accepted_kinds);
  } catch (const Json::exception& e) {
    return fail(where, "broken JSON, " + one_line(e.what(), 160), accepted_kinds);
  }
}

std::vector<Region> read_presets() {
  std::vector<Region> out;
  const Where where{"regions/presets.geojson"};
  const auto complain = [](const Error& error) {
    std::fprintf(stderr, "skerry: internal error: %s\n", error.to_line().c_str());
    std::abort();
  };
  const auto root = parsed(embedded(where.file), where);
  if (!root) complain(root.error());
  for (const Json& feature : root->at("features")) {
    auto region = Reader(where).read(feature);
    if (!region) complain(region.error());
    out.push_back(std::move(*region));
  }
  std::sort(out.begin(), out.end(), [](const Region& a, const Region& b) { return a.id < b.id; });
  return out;
}

const std::vector<Region>& presets() {
  static const std::vector<Region> read = read_presets();
  return read;
}

}  // namespace

Result<Region> parse_region_geojson(std::string_view text, const Where& where) {
  const auto root = parsed(text, where);
  if (!root) return tl::unexpected(root.error());
  return Reader(where).read(*root);
}

std::vector<std::string> preset_region_ids() {
  std::vector<std::string> out;
  for (const Region& region : presets()) out.push_back(region.id);
  return out;
}

Result<Region> preset_region(std::string_view id, const Where& where) {
  const std::string wanted = lower(trim(id));
  for (const Region& region : presets()) {
    if (region.id == wanted) return region;
  }
  const auto ids = preset_region_ids();
  std::string all;
  for (const auto& one : ids) all += (all.empty() ? "" : ", ") + one;
  return fail(where, "region \"" + one_line(id, 40) + "\"", "one of " + all, did_you_mean(wanted, ids));
}

}  // namespace skerry::geodesy
