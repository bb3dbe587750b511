// A small trip made in code: one island, two regions, a handful of things.
#pragma once

#include <string>

#include "skerry/kit/trip.hpp"

namespace skerry::advice {

inline kit::Item thing(const std::string& id, double mass_g) {
  kit::Item item;
  item.id = id;
  item.name = id;
  item.mass_g = mass_g;
  return item;
}

inline kit::Target place_target(const std::string& name, double lat_deg, double lon_deg, double weight) {
  kit::Target t;
  t.region.id = name;
  t.region.name = name;
  t.people = {{GeoPoint::at_deg(lat_deg, lon_deg), 1.0, name}};
  t.weight = weight;
  return t;
}

inline kit::Battery pack(const std::string& id, double volts, double amp_hours, double mass_g) {
  kit::Battery b;
  b.item = thing(id, mass_g);
  b.volts = volts;
  b.amp_hours = amp_hours;
  b.usable = 0.8;
  return b;
}

inline kit::Antenna wire(const std::string& id, antenna::Kind kind, double mass_g, std::vector<double> mhz) {
  kit::Antenna a;
  a.item = thing(id, mass_g);
  a.design.id = id;
  a.design.kind = kind;
  a.design.bands_mhz = std::move(mhz);
  return a;
}

inline kit::Support mast(const std::string& id, double height_m, double mass_g) {
  kit::Support s;
  s.item = thing(id, mass_g);
  s.height_m = height_m;
  return s;
}

/// Fair Isle to central Europe and eastern North America, three days of March, CW.
inline kit::Trip small_trip() {
  using namespace std::chrono;
  kit::Trip t;
  t.name = "small";
  t.first_day = 2027y / March / 12;
  t.last_day = 2027y / March / 14;
  t.climate.day = 2027y / March / 13;
  t.climate.r12 = ionosphere::R12(70);
  t.low_r12 = ionosphere::R12(50);
  t.high_r12 = ionosphere::R12(95);
  t.want_days_in_ten = 5;
  t.mass_limit_g = 3200;
  kit::Site site;
  site.id = "isle";
  site.name = "isle";
  site.at = GeoPoint::at_deg(59.53, -1.63);
  site.descent_minutes = 0;
  site.ground = *antenna::find_ground("poor", {});
  t.sites = {site};
  kit::Session session;
  session.site = "isle";
  session.start_minute = 8 * 60;
  session.end_minute = 11 * 60 + 30;
  t.sessions = {session};
  t.targets = {place_target("central Europe", 49.5, 11.0, 2),
               place_target("eastern North America", 40.7, -74.0, 1)};
  for (auto& target : t.targets) target.partner.gain_dbi = 2;
  for (const char* band : {"40m", "20m", "15m"}) t.bands.push_back(*noise::find_band(band, 1, {}));
  t.modes = {*noise::find_mode("cw", {})};
  // The plain optimum, with the sessions whole: what these take has its own tests.
  t.tolerance = 0;
  t.count_setup_time = false;
  kit::Rig small, large;
  small.item = thing("rig 5 W", 400);
  small.power_w = 5;
  small.volts = large.volts = 12.8;  // as the packs: what the voltage does has tests of its own
  small.receive_a = 0.15;
  small.transmit_a = 1.0;
  large.item = thing("rig 10 W", 900);
  large.power_w = 10;
  large.receive_a = 0.3;
  large.transmit_a = 2.2;
  t.rigs = {small, large};
  t.antennas = {wire("dipole", antenna::Kind::dipole, 250, {t.bands[1].mhz}),
                wire("vertical", antenna::Kind::vertical_quarter, 150, {t.bands[1].mhz})};
  t.supports = {mast("mast 6 m", 6.5, 600), mast("mast 10 m", 10, 1400)};
  kit::Cable cable;
  cable.item = thing("cable", 150);
  cable.type = "rg174";
  cable.length_m = 10;
  t.cables = {cable};
  t.batteries = {pack("pack 3 Ah", 12.8, 3, 400), pack("pack 6 Ah", 12.8, 6, 760)};
  kit::Item log = thing("log", 100);
  log.always = true;
  t.items = {log};
  return t;
}

}  // namespace skerry::advice
