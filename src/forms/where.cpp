#include "skerry/forms/where.hpp"

#include "common.hpp"

namespace skerry::forms {

namespace {

using advice::Danger;
using Kind = geodesy::Spot::Kind;

const char* kind_key(Kind kind) {
  static constexpr std::array keys{"planned", "listed", "summit", "shore", "between"};
  return nth(keys, kind);
}

const char* danger_key(Danger danger) {
  static constexpr std::array keys{"cliff", "surf", "tide", "lightning", "dark", "no way"};
  return nth(keys, danger);
}

Json spot_json(const kit::Trip& trip, const advice::Elsewhere& a, const advice::Valued& v) {
  Json out = {{"kind", kind_key(v.place.spot.kind)},
              {"name", or_null(v.place.spot.name)},
              {"lat_deg", rounded(v.place.spot.at.lat_deg, 5)},
              {"lon_deg", rounded(v.place.spot.at.lon_deg, 5)},
              {"altitude_m", rounded(v.place.lie.altitude_m, 1)},
              {"faces_deg", or_null(v.place.spot.faces_deg, 0)},
              {"there_minutes", or_null(v.place.spot.out_minutes, 1)},
              {"back_minutes", or_null(v.place.spot.back_minutes, 1)},
              {"climb_m", rounded(v.place.spot.climb_m, 0)},
              {"reach", rounded(v.reach, 4)},
              {"mass_g", rounded(v.mass_g, 1)},
              {"proved", v.proved},
              {"things", list(v.items, [&](int i) -> Json { return nth(a.inventory.things, i).id; })}};
  Json regions = Json::array();
  for (std::size_t t = 0; t < v.facing.size(); ++t) {
    const auto& f = v.facing[t];
    regions.push_back({{"region", id_at(trip.targets, t)},
                       {"reach", rounded(f.reach, 4)},
                       {"bearing_deg", rounded(f.bearing_deg, 1)},
                       {"sea_from_m", or_null(f.sea_m, 0)},
                       {"skyline_deg", rounded(f.skyline.deg, 2)},
                       {"skyline_km", rounded(f.skyline.km, 2)}});
  }
  out["regions"] = std::move(regions);
  out["dangers"] = list(v.dangers, [](Danger d) -> Json { return danger_key(d); });
  out["dark_days"] = v.dark_days;
  return out;
}

}  // namespace

std::string where_json(const kit::Trip& trip, const advice::Elsewhere& a) {
  Json out = {{"schema", "skerry.where/1"},
              {"trip", trip.name},
              {"site", trip.at(a.site).id},
              {"mass_limit_g", rounded(trip.mass_limit_g, 1)}};
  out["places"] = list(a.places, [&](const advice::Valued& v) { return spot_json(trip, a, v); });
  out["climb"] = nullptr;
  if (a.climb) {
    const auto& c = *a.climb;
    out["climb"] = {{"summit", c.summit + 1},
                    {"shore", c.shore + 1},
                    {"more", rounded(c.more, 4)},
                    {"minutes", or_null(c.minutes, 1)},
                    {"more_per_minute", or_null(c.per_minute, 6)}};
  }
  return dump(out);
}

}  // namespace skerry::forms
