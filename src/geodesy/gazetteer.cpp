#include "skerry/geodesy/gazetteer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "gazetteer_data.hpp"
#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/land.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::geodesy {

namespace {

/// Judgement: see find_named.
constexpr double sure_people = 100'000, sure_ratio = 10;
/// A degree of latitude; good to half a per cent, and the reach of a search is widened by one.
constexpr double km_per_deg = 111.2, widened = 1.01;

bool fits(const Gazetteer& g, std::size_t i, const std::string& narrowed) {
  const Named place = g.named(i);
  if (!place.state.empty() && lower(place.state) == narrowed) return true;
  if (folded_name(place.country) == narrowed || lower(place.country_code) == narrowed) return true;
  return g.country_has_code(i, narrowed) || (!place.state.empty() && g.state_name(place.state) == narrowed);
}

/// Found by one way of looking: kept as indices, each once.
std::vector<std::size_t> distinct(std::vector<std::size_t> found) {
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

using Ways = std::span<const Gazetteer::How>;

std::vector<std::size_t> look_up(const Gazetteer& g, const std::string& key, const std::string& narrowed,
                                 Ways ways) {
  if (key.empty()) return {};
  std::vector<std::size_t> found;
  for (const auto how : ways) {
    found = distinct(g.search(key, how));
    if (!narrowed.empty()) std::erase_if(found, [&](std::size_t i) { return !fits(g, i, narrowed); });
    if (!found.empty()) break;
  }
  return found;
}

struct Lake {
  std::string name;
  std::vector<double> circles;  ///< latitude, longitude, radius in km, and so on
};

const std::vector<Lake>& lakes() {
  static const std::vector<Lake> read = [] {
    std::vector<Lake> out;
    for (const auto& row : table_rows("places/lakes.toml", "lake"))
      out.push_back({row.text("name"), row.numbers("circles")});
    return out;
  }();
  return read;
}

/// A lake in whose circles the place lies; null where none.
const Lake* lake_at(GeoPoint at) {
  for (const auto& lake : lakes()) {
    for (std::size_t i = 0; i + 2 < lake.circles.size(); i += 3) {
      const auto middle = GeoPoint::at_deg(lake.circles[i], lake.circles[i + 1]);
      if (distance_km(at, middle) <= lake.circles[i + 2]) return &lake;
    }
  }
  return nullptr;
}

bool is_town(const Named& place) {
  return place.kind == Named::Kind::town || place.kind == Named::Kind::airfield;
}

}  // namespace

std::string folded_name(std::string_view text) {
  return Gazetteer::get().folded(text);
}

bool may_be_name(std::string_view text) {
  const auto key = folded_name(trim(text).substr(0, 100));
  int in_a_row = 0;
  for (const char c : key) {
    in_a_row = c >= 'a' && c <= 'z' ? in_a_row + 1 : 0;
    if (in_a_row == 3) return true;
  }
  return !key.empty() && key[0] >= 'a' && key[0] <= 'z';
}

namespace {

NameSearch find(std::string_view text, Ways ways) {
  const auto& g = Gazetteer::get();
  const auto key = g.folded(text);
  auto found = look_up(g, key, {}, ways.first(1));
  const auto comma = text.rfind(',');
  if (comma != std::string_view::npos && found.empty())
    found = look_up(g, g.folded(text.substr(0, comma)), g.folded(text.substr(comma + 1)), ways);
  if (found.empty()) found = look_up(g, key, {}, ways.subspan(1));
  NameSearch out;
  for (const auto i : found) out.others.push_back(g.named(i));
  // Islands and peaks first, as nobody has counted their people; towns by theirs.
  std::stable_sort(out.others.begin(), out.others.end(), [](const Named& a, const Named& b) {
    return is_town(a) != is_town(b) ? is_town(b) : a.people > b.people;
  });
  const bool sure = out.others.size() == 1 ||
                    (out.others.size() > 1 && is_town(out.others[0]) && out.others[0].people >= sure_people &&
                     out.others[0].people >= sure_ratio * out.others[1].people);
  if (sure) {
    out.taken = out.others.front();
    out.others.erase(out.others.begin());
  }
  return out;
}

}  // namespace

NameSearch find_named(std::string_view text) {
  using How = Gazetteer::How;
  return find(text, std::array{How::whole, How::beginning, How::words});
}

NameSearch find_whole_name(std::string_view text) {
  return find(text, std::array{Gazetteer::How::whole});
}

std::string telling_name(const Named& place) {
  for (const auto tail : {place.state, place.country_code}) {
    if (tail.empty()) continue;
    auto text = fmt::format("{}, {}", place.name, tail);
    const auto found = find_whole_name(text);
    if (found.taken && found.others.empty() && found.taken->at == place.at) return text;
  }
  return fmt::format("{:.4f},{:.4f}", place.at.lat_deg, place.at.lon_deg);
}

std::optional<NearNamed> nearest_named(GeoPoint at, double within_km, bool with_zone) {
  const auto& g = Gazetteer::get();
  // Most places have a neighbour near by: a small ring first.
  for (const double ring_km : {25.0, 100.0, within_km}) {
    const double reach_km = std::min(ring_km, within_km);
    const auto found = g.nearest(at, reach_km * widened / km_per_deg, with_zone);
    if (found) {
      const Named place = g.named(*found);
      const double km = distance_km(at, place.at);
      if (km <= reach_km) return NearNamed{place, km};
    }
    if (ring_km >= within_km) break;
  }
  return std::nullopt;
}

std::optional<Water> open_water(GeoPoint at) {
  /// Judgement: farther out than one sees land from a boat; and an island that the map of land does not hold has
  /// a name within that.
  constexpr double sea_km = 60;
  /// Judgement: islands in lakes, towns on their shores.
  constexpr double lake_km = 8;
  constexpr double told_km = 3000;
  Water out;
  if (is_land(at)) {
    const auto* lake = lake_at(at);
    if (lake == nullptr || nearest_named(at, lake_km)) return std::nullopt;
    out.kind = Water::Kind::lake;
    out.lake = lake->name;
    out.nearest = nearest_named(at, told_km);
    return out;
  }
  if (nearest_named(at, sea_km)) return std::nullopt;
  for (double azimuth_deg = 0; azimuth_deg < 360; azimuth_deg += 15) {
    for (const double km : {sea_km / 3, 2 * sea_km / 3, sea_km}) {
      if (is_land(destination(at, azimuth_deg, km))) return std::nullopt;
    }
  }
  out.nearest = nearest_named(at, told_km);
  return out;
}

}  // namespace skerry::geodesy
