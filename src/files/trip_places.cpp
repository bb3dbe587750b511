#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "readers.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/apart.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::files {

namespace {

void read_ground(Cursor& c, Site& site) {
  site.ground = antenna::Ground{};
  // A name, or a table of the two constants.
  if (const auto name = c.word_or_table("ground")) {
    const auto ground = antenna::find_ground(*name, c.where("ground"));
    if (ground) {
      site.ground = *ground;
    } else {
      c.pass_on("ground", ground.error());
    }
    return;
  }
  auto table = c.table("ground");
  if (!table) return;
  site.ground.name = "as given";
  table->fill(site.ground);
  table->finish();
}

/// Points round the circle, each azimuth once.
template <class Point, class Make>
std::vector<Point> points_round(Cursor& c, std::string_view key, Make&& make) {
  std::vector<Point> points;
  for (const auto& row : c.number_rows(key)) points.push_back(make(row));
  std::sort(points.begin(), points.end(),
            [](const Point& a, const Point& b) { return a.azimuth_deg < b.azimuth_deg; });
  const auto twice = std::adjacent_find(points.begin(), points.end(), [](const Point& a, const Point& b) {
    return a.azimuth_deg == b.azimuth_deg;
  });
  if (twice != points.end())
    c.report(key, fmt::format("azimuth {:g} twice in {}", twice->azimuth_deg, key),
             "each azimuth once (360 is 0)");
  return points;
}

using Row = std::vector<double>;

/// What the site tells itself, and what its elevation files may tell.
void read_lie(Cursor& c, geodesy::Horizon& horizon, geodesy::Foreground& foreground, geodesy::Shore& shore) {
  horizon.points = points_round<geodesy::Horizon::Point>(c, "horizon_deg", [](const Row& row) {
    return geodesy::Horizon::Point{wrap_360(row[0]),
                                   {row[1], row.size() > 2 ? row[2] : geodesy::usual_skyline_km}};
  });
  foreground.points = points_round<geodesy::Foreground::Point>(c, "foreground_deg", [](const Row& row) {
    return geodesy::Foreground::Point{wrap_360(row[0]), row[1]};
  });
  shore.sectors = points_round<geodesy::Shore::Sector>(c, "shore_m", [](const Row& row) {
    return geodesy::Shore::Sector{wrap_360(row[0]), row[1]};
  });
}

void read_sea(Cursor& c, Site& site) {
  c.only_one("sea_from_m", "shore_m");
  const auto between = c.numbers<2>("sea_between_deg");
  if (!between) return;
  if (!c.has("sea_from_m"))
    c.missing("sea_from_m", "sea_between_deg says in which directions, sea_from_m from what distance");
  if ((*between)[0] == (*between)[1]) {
    c.refuse("sea_between_deg", "two different azimuths", "all round: [0, 360]");
    return;
  }
  site.sea_azimuth_from_deg = (*between)[0];
  site.sea_azimuth_to_deg = (*between)[1];
}

void read_slope(Cursor& c, Site& site) {
  site.near_land = c.flag("near_land");
  if (const auto azimuth = c.number("slope_azimuth_deg")) {
    site.slope_azimuth_deg = wrap_360(*azimuth);
    if (!c.has("slope_deg")) c.missing("slope_deg", "slope_azimuth_deg says towards where the ground falls");
  }
  c.only_one("slope_deg", "foreground_deg");
}

/// Elevation files by name, or what was read out of them.
void read_terrain(Cursor& c, Site& site, bool placed, const Reading& reading) {
  std::optional<geodesy::Surroundings> found;
  if (const auto name = c.word_or_table("terrain")) {
    if (!placed) return;
    const Where where = c.where("terrain");
    auto read = reading.terrain != nullptr && *reading.terrain
                    ? (*reading.terrain)(*name, site.at, where)
                    : Result<geodesy::Surroundings>(
                          fail(where, fmt::format("'{}'", one_line(*name)),
                               "a trip that names no elevation files: they cannot be read here",
                               "'skerry report' writes what they say into its page"));
    if (!read) return c.pass_on("terrain", read.error());
    found = std::move(*read);
  } else if (auto table = c.table("terrain")) {
    found.emplace();
    table->into(found->altitude_m, "altitude_m");
    read_lie(*table, found->horizon, found->foreground, found->shore);
    table->finish();
  }
  if (!found) return;
  site.take({std::move(*found), c.has("altitude_m"), c.has("horizon_deg"),
             c.has("foreground_deg") || c.has("slope_deg"), c.has("shore_m") || c.has("sea_from_m")});
}

/// A zone that is not of the site's longitude: a sign was lost, or latitude and longitude were swapped.
void check_zone(Cursor& c, const Site& site, Day first_day) {
  const auto wrong = sun::misplaced(site.zone, site.at, start_of(first_day));
  if (!wrong) return;
  const auto east_or_west = [](GeoPoint at) {
    return fmt::format("{:.2f} {}", std::abs(at.lon_deg), at.lon_deg < 0 ? 'W' : 'E');
  };
  std::string mend = "put the zone of the site, or mend its position";
  if (wrong->meant) {
    mend = fmt::format("did you mean {}?", wrong->only_longitude ? east_or_west(*wrong->meant)
                                                                 : geodesy::to_text(*wrong->meant, 2));
  }
  c.report("at",
           fmt::format("{}, which lies {}, while the zone is {}", east_or_west(site.at), wrong->lies,
                       site.zone.name()),
           "a site and a zone that belong together", mend);
}

void read_site(Cursor& c, Site& site, std::size_t index, Reading& reading) {
  site.line = c.line();
  site.id = c.id("id").value_or(index == 0 ? "site" : fmt::format("site-{}", index + 1));
  c.rename(fmt::format("[[site]] '{}'", site.id));
  reading.claim(reading.site_ids, site.id, c);
  site.name = c.text("name").value_or(site.id);
  const bool placed = c.parse(site.at, "at", geodesy::parse_place);
  c.fill(site);
  if (!site.descent_minutes && c.has("daylight_margin_minutes")) site.descent_minutes = 0;
  read_ground(c, site);
  read_sea(c, site);
  read_slope(c, site);
  c.parse(site.environment, "noise", noise::parse_environment);
  site.zone = sun::legal_zone(site.at);
  if (c.parse(site.zone, "zone", sun::Zone::find) && placed && reading.trip.first_day.ok())
    check_zone(c, site, reading.trip.first_day);
  read_lie(c, site.horizon, site.foreground, site.shore);
  read_terrain(c, site, placed, reading);
  c.finish();
}

/// The shape of the region: from a preset, a file or a single place. Nothing when it was wrong.
std::optional<geodesy::Region> read_shape(Cursor& c, Target& target, Reading& reading, int points) {
  const auto preset = c.text("preset");
  const auto file = c.text("file");
  const auto place = c.text("at");
  const int given = int{c.has("preset")} + int{c.has("file")} + int{c.has("at")};
  if (given == 0) {
    c.missing("preset", "\"western-europe\", or file = \"x.geojson\", or at = \"51.5,0.0\"", {});
    return std::nullopt;
  }
  if (given > 1) {
    c.report(c.has("file") ? "file" : "at", fmt::format("preset, file and at together in {}", c.title()),
             "only one of them");
    return std::nullopt;
  }
  if (preset) {
    auto region = geodesy::preset_region(*preset, c.where("preset"));
    if (!region) {
      c.pass_on("preset", region.error());
      return std::nullopt;
    }
    target.people = geodesy::sample_people(*region, points);
    return *region;
  }
  if (file) {
    const Reading::Named named{*file, c.at("file")};
    const auto text = reading.fetch(named, "file");
    if (!text) return std::nullopt;
    auto region = geodesy::parse_region_geojson(*text, {*file});
    if (!region) {
      reading.pass_on(named, region.error());
      return std::nullopt;
    }
    if (region->id.empty()) region->id = *file;
    target.people = geodesy::sample_people(*region, points);
    return *region;
  }
  GeoPoint at;
  if (!place || !c.parse(at, "at", geodesy::parse_place)) return std::nullopt;
  geodesy::Region region;
  region.id = geodesy::to_locator(at);
  region.name = geodesy::to_text(at, 2);
  target.people = {{at, 1.0, region.name}};
  return region;
}

/// Nobody of a region stands where a site is.
void check_away(Cursor& c, const Target& target, const Trip& trip) {
  const char* key = c.has("at") ? "at" : c.has("file") ? "file" : "preset";
  for (const auto& site : trip.sites) {
    for (const auto& person : target.people) {
      const auto apart =
          geodesy::check_apart(site.at, person.where, c.where(key), fmt::format("[[site]] '{}'", site.id),
                               "a region is where the others are; another number of points stands for it by "
                               "other places");
      if (apart) continue;
      c.pass_on(key, apart.error());
      return;
    }
  }
}

void read_region(Cursor& c, Target& target, Reading& reading) {
  int points =
      3;  // Judgement: three gatherings of people stand for a region of a few million square kilometres
  c.into(points, "points");
  auto region = read_shape(c, target, reading, points);
  const auto id = c.id("id");
  const auto name = c.text("name");
  if (region) {
    target.region = std::move(*region);
    if (id) target.region.id = *id;
    if (name) target.region.name = *name;
    if (name && c.has("at")) target.people.front().name = *name;
    c.rename(fmt::format("[[region]] '{}'", one_line(target.region.id)));
    reading.claim(reading.region_ids, target.region.id, c);
    check_away(c, target, reading.trip);
  }
  c.fill(target);
  if (target.weight == 0) c.refuse("weight", "above 0, at most 1000", "take a region out that is not wanted");
  if (auto partner = c.table("partner")) {
    partner->fill(target.partner);
    target.partner.gain_dbi = partner->number("gain_dbi");
    target.partner.spread_db = partner->number("spread_db");
    partner->parse(target.partner.environment, "noise", noise::parse_environment);
    partner->finish();
  }
  c.finish();
}

}  // namespace

void read_sites(Cursor& root, Reading& reading) {
  if (!root.has("site")) root.missing("[[site]]", "a table with at = \"-19.70,63.43\"", {});
  auto cursors = root.tables("site");
  for (std::size_t i = 0; i < cursors.size(); ++i) {
    Site site;
    read_site(cursors[i], site, i, reading);
    reading.trip.sites.push_back(std::move(site));
  }
  if (!reading.trip.sites.empty())
    reading.itu_region = geodesy::itu_region(reading.trip.sites.front().at).region;
}

void read_regions(Cursor& root, Reading& reading) {
  if (!root.has("region")) root.missing("[[region]]", "a table with preset = \"western-europe\"", {});
  for (Cursor& c : root.tables("region")) {
    if (reading.first_region_line == 0) reading.first_region_line = c.line();
    Target target;
    read_region(c, target, reading);
    reading.trip.targets.push_back(std::move(target));
  }
}

}  // namespace skerry::files
