// A fan of rays: skerry.rays/1.

#include "json_writer.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

namespace {

void write_end(Writer& w, const char* name, GeoPoint where, const std::string& named) {
  w.object(name, [&] {
    w.number("lat_deg", where.lat_deg, 6);
    w.number("lon_deg", where.lon_deg, 6);
    w.text("locator", geodesy::to_locator(where));
    if (!named.empty()) w.text("name", named);
  });
}

const char* ending(rays::Ending e) {
  static constexpr std::array names{"lands", "escapes", "goes on"};
  return nth(names, e);
}

const char* layer(const rays::Ray& ray) {
  return ray.e_hops == ray.hops ? "E" : ray.e_hops == 0 ? "F2" : "both";
}

}  // namespace

std::string rays_json(const circuit::FanAnswer& a) {
  const auto& f = a.question.frequencies[a.frequency];
  std::string out;
  Writer w(out, true);
  w.open('{');
  w.text("schema", "skerry.rays/1");
  write_end(w, "from", a.path.from, a.from_name);
  write_end(w, "to", a.path.to, a.to_name);
  w.text("way", a.path.way == geodesy::Way::short_way ? "short" : "long");
  w.number("distance_km", a.path.distance_km, 1);
  w.number("bearing_deg", a.path.bearing_deg, 1);
  w.text("day", to_iso(a.question.climate.day));
  w.number("r12", a.question.climate.r12, 2);
  w.integer("utc_hour", static_cast<long long>(a.hour));
  w.text_or_null("band", f.band);
  w.number("mhz", f.mhz, 4);
  w.list("fan", a.fan, [&](const circuit::FanRay& r) {
    const bool lands = r.ray.ending == rays::Ending::landed;
    w.open('{');
    w.number("elevation_deg", r.ray.elevation_deg, 2);
    w.number("gain_dbi", r.gain_dbi, 1);
    w.text("ending", ending(r.ray.ending));
    w.number_or_null("ground_km", lands, r.ray.ground_km, 1);
    w.number_or_null("arrival_deg", lands, r.ray.arrival_deg, 2);
    w.number_or_null("apex_km", lands, r.ray.apex_km, 1);
    w.number_or_null("group_km", lands, r.ray.group_km, 1);
    lands ? w.text("layer", layer(r.ray)) : w.key("layer").null();
    w.close('}');
  });
  w.number_or_null("skip_km", a.skip.has_value() || a.steepest_lands, a.skip ? a.skip->km : 0, 1);
  w.list("arriving", a.arriving, [&](const circuit::FanAnswer::Arriving& r) {
    w.open('{');
    w.integer("hops", r.ray.hops);
    w.text("layer", layer(r.ray));
    w.boolean("high_ray", r.high);
    w.number("from_deg", r.ray.elevation_deg, 2);
    w.number("to_deg", r.ray.arrival_deg, 2);
    w.number("from_dbi", r.gain_dbi, 1);
    w.number("to_dbi", r.far_dbi, 1);
    w.number_or_null("mirror_deg", r.mirror_deg.has_value(), r.mirror_deg.value_or(0), 2);
    w.number("apex_km", r.ray.apex_km, 1);
    w.number("group_km", r.ray.group_km, 1);
    w.boolean("strongest", a.best && &r == &a.arriving[*a.best]);
    w.close('}');
  });
  w.number("basic_muf_mhz", a.muf.basic_mhz, 3);
  w.number_or_null("traced_muf_mhz", a.traced_muf_mhz.has_value(), a.traced_muf_mhz.value_or(0), 2);
  w.close('}');
  return out + '\n';
}

}  // namespace skerry::forms
