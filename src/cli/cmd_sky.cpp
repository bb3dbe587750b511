// `skerry sun` and `skerry ionosphere`.

#include "options.hpp"
#include "places.hpp"
#include "skerry/engine/sky.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/ionosphere/sporadic_e.hpp"

namespace skerry::cli {

namespace {

struct SunOptions {
  Common common;
  std::string at, to, zone, height = "0";
};

void run_sun(const SunOptions& o, World& world) {
  const Format format = format_of(o.common);
  Places places;
  engine::SunAsk ask;
  ask.at = places.read(o.at, "AT");
  ask.named = places.named("AT");
  ask.date = day_of(o.common);
  if (!o.zone.empty()) ask.zone = must(sun::Zone::find(o.zone, {"--zone"}));
  ask.height_m = number_of(o.height, "--height-m", 0, 9000, "a height in metres");
  if (!o.to.empty()) ask.to = places.read(o.to, "TO");
  ask.to_named = places.named("TO");
  const auto a = engine::sun_answer(ask);
  places.ask(world);
  switch (format) {
    case Format::json:
      return write(forms::sun_json(a), o.common, world);
    case Format::csv:
      places.tell(world);
      return write(forms::sun_csv(a), o.common, world);
    case Format::text:
      return write(places.lines() + words::sun_text(a, style_of(world, o.common)), o.common, world);
  }
}

struct SkyOptions {
  Common common;
  std::string at;
};

void run_sky(const SkyOptions& o, World& world) {
  const Format format = format_of(o.common);
  Places places;
  const std::vector<GeoPoint> at{places.read(o.at, "AT")};
  const auto climate = climate_of(o.common);
  const auto sky = ionosphere::sky(at, climate);
  const auto es = ionosphere::sporadic_e(at, climate);
  switch (format) {
    case Format::json:
      return write(forms::sky_json(sky, es, climate, places.named("AT")), o.common, world);
    case Format::csv:
      places.tell(world);
      return write(forms::sky_csv(sky, es, climate), o.common, world);
    case Format::text:
      return write(places.lines() + words::sky_text(sky, es, climate, style_of(world, o.common)), o.common,
                   world);
  }
}

}  // namespace

Command add_sun(CLI::App& app) {
  auto options = std::make_shared<SunOptions>();
  auto& o = *options;
  auto* sub = app.add_subcommand("sun", "sunrise, sunset, twilights and grey-line times");
  sub->add_option("AT", o.at, "place: lat,lon, a locator or a name")->required()->type_name("PLACE");
  sub->add_option("TO", o.to, "far place, for grey-line times of the path")->type_name("PLACE");
  add_when(*sub, o.common);
  sub->add_option("--zone", o.zone, "time zone of the place, as Indian/Mauritius; without it: its legal time")
      ->type_name("ZONE");
  sub->add_option("--height-m", o.height, "height over the sea, lowers the horizon")
      ->type_name("M")
      ->default_str("0");
  add_format(*sub, o.common);
  sub->footer("Example: skerry sun -19.70,63.43 JN45 --date 2027-02-14 --zone Indian/Mauritius");
  return {sub, [options](World& world) { run_sun(*options, world); }};
}

Command add_ionosphere(CLI::App& app) {
  auto options = std::make_shared<SkyOptions>();
  auto& o = *options;
  auto* sub = app.add_subcommand("ionosphere", "critical frequencies over one place, hour by hour");
  sub->add_option("AT", o.at, "place: lat,lon, a locator or a name")->required()->type_name("PLACE");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_measured(*sub, o.common);
  add_format(*sub, o.common);
  sub->footer("Example: skerry ionosphere 'Fair Isle' --month 2026-12 --r12 80");
  return {sub, [options](World& world) { run_sky(*options, world); }};
}

}  // namespace skerry::cli
