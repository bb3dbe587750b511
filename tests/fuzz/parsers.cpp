// Targets that read one file or one word.
#include <cmath>
#include <string>

#include "promises.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/time.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/ionosphere/forecast_table.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/noise/noise.hpp"
#include "skerry/sun/localtime.hpp"
#include "targets.hpp"

namespace skerry::fuzz {

namespace {

/// What a trip may name: two regions, one of them broken, and a forecast.
Result<std::string> few_files(const std::string& name, const Where& where) {
  if (name == "region.geojson")
    return R"({"type":"Polygon","coordinates":[[[0,50],[2,50],[2,52],[0,52],[0,50]]]})";
  if (name == "broken.geojson") return R"({"type":"Polygon","coordinates":[[[0,50],[2,50],[2,95]]]})";
  if (name == "forecast.json") return R"([{"time-tag":"2027-02","predicted_ssn":81.2}])";
  return fail(where, "'" + name + "': no such file", "a file that can be read");
}

void check_place(GeoPoint p) {
  promise(std::abs(p.lat_deg) <= 90 && p.lon_deg > -180.000001 && p.lon_deg <= 180,
          "a place is on the Earth");
}

void check_trip(const kit::Trip& t) {
  promise(!t.sites.empty() && !t.sessions.empty() && !t.targets.empty() && !t.bands.empty(),
          "a trip that was read has somewhere, sometime, somebody and a band");
  promise(t.mass_limit_g >= 100 && t.mass_limit_g <= 200000, "the mass limit is within its bounds");
  promise(t.first_day.ok() && t.last_day.ok() && t.first_day <= t.last_day, "the days are in order");
  for (const auto& site : t.sites) {
    check_place(site.at);
    for (const double azimuth : {0.0, 90.0, 359.9}) {
      const double e = site.horizon.towards(azimuth).deg;
      promise(e >= -5 && e <= 85, "a skyline stays between its points");
    }
  }
  for (const auto& target : t.targets) {
    promise(!target.people.empty(), "a region has people");
    double sum = 0;
    for (const auto& p : target.people) {
      check_place(p.where);
      sum += p.weight;
    }
    promise(std::abs(sum - 1) < 1e-9, "the shares of a region's people sum to 1");
  }
}

}  // namespace

void trip(std::string_view bytes) {
  const auto read = files::read_trip(bytes, "trip.toml", few_files);
  if (read) {
    check_trip(*read);
  } else {
    check_errors(read.error(), "trip.toml", true);
  }
}

void horizon(std::string_view bytes) {
  std::string text =
      "[trip]\nname=\"x\"\nfirst_day=2027-02-13\nlast_day=2027-02-13\nmass_limit_kg=4\nr12=80\n";
  text += "[[region]]\nat=\"50,0\"\n[licence]\nbands=[\"20m\"]\nmodes=[\"cw\"]\n";
  text += "[[rig]]\nid=\"r\"\nmass_g=500\npower_w=5\nreceive_a=0.1\ntransmit_a=1\n";
  text += "[[antenna]]\nid=\"a\"\nmass_g=100\nkind=\"dipole\"\nbands=[\"20m\"]\n";
  text += "[[battery]]\nid=\"b\"\nmass_g=400\nvolts=12\namp_hours=3\nchemistry=\"lifepo4\"\n";
  text += "[[bag]]\nid=\"c\"\ninner_cm=[50,40,20]\nmass_limit_kg=8\n[[site]]\nat=\"0,0\"\nhorizon_deg = ";
  trip(text + std::string(bytes) + "\n");
}

void region(std::string_view bytes) {
  const auto read = geodesy::parse_region_geojson(bytes, {"region.geojson"});
  if (!read) return check_errors({read.error()}, "region.geojson", false);
  promise(!read->rings.empty() && !read->id.empty() && !read->name.empty(),
          "a region has a shape and a name");
  for (const int count : {1, 3}) {
    double sum = 0;
    for (const auto& p : geodesy::sample_people(*read, count)) {
      check_place(p.where);
      sum += p.weight;
    }
    promise(std::abs(sum - 1) < 1e-9, "the shares of a region's people sum to 1");
  }
  promise(geodesy::contains(*read, read->rings.front().front()), "the outline belongs to the region");
}

void forecast(std::string_view bytes) {
  const auto read = ionosphere::forecast_from_file(bytes, std::chrono::year{2027} / 2, {"forecast.json"});
  if (!read) return check_errors({read.error()}, "forecast.json", false);
  promise(read->low_r12 >= 0 && read->low_r12 <= read->r12 && read->r12 <= read->high_r12 &&
              read->high_r12 < 1000,
          "a forecast's numbers are in order");
}

void places(std::string_view bytes) {
  const Where where{"--at"};
  if (const auto p = geodesy::parse_place(bytes, where)) {
    check_place(*p);
    const auto again = geodesy::parse_place(geodesy::to_text(*p, 9), where);
    promise(again && std::abs(again->lat_deg - p->lat_deg) < 1e-8, "a place that is shown can be read again");
    const auto locator = geodesy::parse_locator(geodesy::to_locator(*p, 10), where);
    promise(locator && std::abs(locator->lat_deg - p->lat_deg) < 1e-3, "a locator is near its place");
  } else {
    check_errors({p.error()}, "--at", false);
  }
  if (const auto p = geodesy::parse_locator(bytes, where)) check_place(*p);
  const auto named = geodesy::find_whole_name(bytes);
  if (named.taken) check_place(named.taken->at);
  for (const char c : geodesy::folded_name(bytes))
    promise((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == ' ' || c == '?',
            "a folded name is plain");
  if (const auto day = parse_day(bytes, where)) {
    promise(day->ok() && to_iso(*day) == bytes, "a day is shown as it was written");
  } else {
    check_errors({day.error()}, "--at", false);
  }
  if (const auto month = parse_month(bytes, where))
    promise(to_iso(*month) == bytes, "a month is shown as it was written");
  if (const auto number = to_number(bytes)) promise(std::isfinite(*number), "a number is finite");
  if (const auto zone = sun::Zone::find(bytes, where)) {
    for (const int minute : {0, 150, 1440}) {
      const auto utc = zone->to_utc(std::chrono::year{2027} / 3 / 28, minute);
      promise(std::abs(zone->offset_s(utc)) <= 15 * 3600, "an offset is under 15 hours");
    }
    promise(!zone->local_text(start_of(std::chrono::year{2050} / 12 / 31)).empty(), "a zone tells the time");
  } else {
    check_errors({zone.error()}, "--at", false);
  }
  for (int itu = 1; itu <= 3; ++itu) {
    const auto band = noise::find_band(bytes, itu, where);
    if (band)
      promise(band->low_mhz <= band->mhz && band->mhz <= band->high_mhz, "a band holds its frequency");
    if (!band) check_errors({band.error()}, "--at", false);
  }
  if (const auto mode = noise::find_mode(bytes, where); !mode) check_errors({mode.error()}, "--at", false);
  if (const auto e = noise::parse_environment(bytes, where); !e) check_errors({e.error()}, "--at", false);
  (void)geodesy::preset_region(bytes, where);
  promise(one_line(bytes).size() <= 63 + 3, "a shown word is short");
}

}  // namespace skerry::fuzz
