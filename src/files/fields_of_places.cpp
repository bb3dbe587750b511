// The keys that say where, when, to whom and with which leave.
#include "rows.hpp"

namespace skerry::files {

namespace {

constexpr const char* id_help = "the name by which other tables and answers call it";
constexpr const char* name_help = "what it is called on the page";
constexpr Range degrees{0, 360, "degrees"};

/// Noise classes of ITU-R P.372, quietest first.
Field noise_class() {
  return word("noise", {"quiet", "rural", "residential", "city"}, "noise class", "quiet");
}

/// When somebody is at the other end.
Field by_hour(const char* key, const char* help) {
  return numbers(key, 24, {0, 1, "(share of the hour)"},
                 "24 numbers of 0 to 1, from midnight on, local time at the other end", help);
}

const char* const awake = "chance by local hour that somebody is awake and listening";

Rows<kit::Trip> of_trip() {
  return {
      {text("name", "Rodrigues, February", "what the trip is called")},
      {needed(of_kind(Kind::day, "first_day", "first day, 2027-02-13"))},
      {needed(of_kind(Kind::day, "last_day", "last day, at most 62 days in all"))},
      {called("kilograms",
              needed(number("mass_limit_kg", {0.1, 200, "kg"}, "of everything that is carried for radio"))),
       &kit::Trip::mass_limit_g, 1000},
      {number("want_days_in_ten", {0.5, 9.5, "days in ten"},
              "what the tables call open, and what count = \"days\" counts"),
       &kit::Trip::want_days_in_ten},
      {whole("people", 1, 20, "people", "how many carry"), &kit::Trip::people},
      {whole("bands_per_hour", 0, 12, "bands (0: as many as are open)",
             "how many bands one can look at in an hour"),
       &kit::Trip::bands_per_hour},
      {flag("count_setup_time", "choose with the time it takes to put things up and down (true)"),
       &kit::Trip::count_setup_time},
      {word("count", {"chance", "days"},
            "what an hour is worth: the chance that a contact works, or 1 where it works on want_days_in_ten",
            "chance")},
      {word("charging", {"every-night", "none", "solar"},
            "when packs are charged: at a socket, never, or by panels that come along", "every-night")},
      {number("solar_hours", {0.1, 16, "hours of full sun a day"}, "with charging = \"solar\""),
       &kit::Trip::solar_hours},
      {called("a tolerance in percent",
              number("tolerance_percent", {0, 20, "% of what is wanted"},
                     "kits that differ by less are the same: the lightest of them is recommended")),
       &kit::Trip::tolerance, 0.01},
      {called("a smoothed sunspot number", number("r12", {0, ionosphere::R12::most, "(smoothed, old scale)"},
                                                  "smoothed sunspot number, old scale"))},
      {called("a smoothed sunspot number", number("ssn_v2", {0, 420, "(smoothed, scale of 2015)"},
                                                  "smoothed sunspot number, scale of 2015"))},
      {called("a solar flux", number("f107", {60, 350, "flux units"}, "smoothed 10.7 cm flux"))},
      {text("forecast_file", "predicted-solar-cycle.json", "forecast of solar activity, a file")},
      {word("maps", {"ccir", "ursi"}, "maps of the F2 layer")},
      {called("a year", number("field_epoch", {1900, 2030, "(year of the magnetic field)"},
                               "year of the magnetic field used with the maps"))},
      {text("library", "my_kit.toml", "a file of things you own")},
      {list("library_items", Kind::ids, "[\"pole-6m\", \"rig-5w\"]", "of these only; without it all")},
      {text("learned", "learned.toml", "what 'skerry log --learn' wrote")},
  };
}

Field foreground_rows(const char* help) {
  return with_last({-30, 30, "degrees, falling away from the antenna"},
                   Field{.key = "foreground_deg",
                         .kind = Kind::rows,
                         .help = help,
                         .range = {0, 360, "degrees of azimuth"},
                         .count = 2,
                         .example = "[[0, 12], [120, -5], [240, 8]]"});
}

Field shore_rows(const char* help) {
  return with_last({0, 20000, "m (0: no sea)"}, Field{.key = "shore_m",
                                                      .kind = Kind::rows,
                                                      .help = help,
                                                      .range = {0, 360, "degrees of azimuth"},
                                                      .count = 2,
                                                      .example = "[[90, 300], [200, 0]]"});
}

Field horizon_rows() {
  return with_last(
      {-5, 85, "degrees of elevation"},
      Field{
          .key = "horizon_deg",
          .kind = Kind::rows,
          .help = "azimuth and elevation of the skyline, and how many kilometres away it stands (1)",
          .range = {0, 360, "degrees of azimuth"},
          .further = Range{geodesy::nearest_skyline_km, 200, "km (nearer ground is a slope: foreground_deg)"},
          .count = 2,
          .example = "[[0, 2], [90, 15, 0.6], [180, 1, 12]]"});
}

constexpr Range altitudes{-430, 8850, "m"};

Rows<kit::Site> of_site() {
  return {
      {of_kind(Kind::id, "id", id_help)},
      {text("name", "Mont Limon", name_help)},
      {needed(text("at", "-19.70,63.43", "'-19.70,63.43', '19.70S 63.43E' or a locator"))},
      {number("altitude_m", altitudes, "above the sea"), &kit::Site::altitude_m},
      {Field{
          .key = "terrain",
          .kind = Kind::name_or_table,
          .help =
              "elevation files: altitude, skyline, slopes and shores that are not told here come from them",
          .example = "\"dem\" or {altitude_m = 398, horizon_deg = [[0, 2], [90, 15, 0.6]]}",
          .table = "site.terrain"}},
      {Field{.key = "ground",
             .kind = Kind::name_or_table,
             .help = "a preset, or its constants",
             .example = "\"rock\" or {eps_r = 13, sigma_s_per_m = 0.002}",
             .table = "site.ground"}},
      {noise_class()},
      {flag("near_land", "a large land mass within 300 km (thunderstorm noise), by the map if not told")},
      {text("zone", "Indian/Mauritius",
            "time zone, 'Indian/Mauritius' or '+04:00'; without it that of the nearest place")},
      {called("a distance in metres",
              number("sea_from_m", {0, 20000, "m"}, "from this distance outwards the ground is sea")),
       &kit::Site::sea_from_m},
      {numbers("sea_between_deg", 2, degrees, "[90, 200] (clockwise, from and to)",
               "between these azimuths, clockwise")},
      {shore_rows(
          "or direction by direction: from this azimuth clockwise to the next, where the sea begins")},
      {called("degrees, falling away from the antenna",
              number("slope_deg", {-30, 30, "degrees, falling away from the antenna"},
                     "the ground falls away all round (a summit)")),
       &kit::Site::slope_deg},
      {number("slope_azimuth_deg", degrees, "only towards this azimuth")},
      {foreground_rows("or azimuth by azimuth, over the first 100 m: where it goes, and how much it falls")},
      {horizon_rows()},
      {number("descent_minutes", {0, 1440, "minutes"},
              "back to the road; without it (and daylight_margin_minutes) no time to leave is told"),
       &kit::Site::descent_minutes},
      {number("daylight_margin_minutes", {0, 720, "minutes"}, "kept before sunset"),
       &kit::Site::daylight_margin_minutes},
  };
}

Rows<antenna::Ground> of_ground() {
  return {
      {called("a relative permittivity",
              needed(number("eps_r", {1, 100, "(relative permittivity)"}, "relative permittivity"))),
       &antenna::Ground::eps_r},
      {called("a conductivity in S/m", needed(number("sigma_s_per_m", {0, 10, "S/m"}, "conductivity"))),
       &antenna::Ground::sigma_s_per_m},
  };
}

Rows<kit::Target> of_target() {
  return {
      {text("preset", "western-europe", "one of the built-in regions")},
      {text("file", "my-region.geojson", "a GeoJSON file")},
      {text("at", "51.5,0.0", "one place")},
      {whole("points", 1, 200, "points", "gatherings of people that stand for the region")},
      {of_kind(Kind::id, "id", id_help)},
      {text("name", "Western Europe", name_help)},
      {number("weight", {0, 1000, "(0: not wanted)"}, "how much it is wanted"), &kit::Target::weight},
      {table("partner", "region.partner", "{power_w = 100, noise = \"residential\"}",
             "what they have there")},
  };
}

Rows<kit::Partner> of_partner() {
  return {
      {number("power_w", {0.1, 5000, "W"}, "their power"), &kit::Partner::power_w},
      {number("gain_dbi", {-30, 25, "dBi"},
              "their antenna's gain, at all angles; without it a usual home antenna")},
      {number("spread_db", {0, 40, "dB"}, "from one partner to the next: antenna, place, power")},
      {noise_class()},
  };
}

Rows<kit::People> of_people() {
  return {
      {flag("use", "false: somebody is always there"), &kit::People::used},
      {flag("count", "choose by the likely contacts"), &kit::People::count},
      {by_hour("weekday", awake)},
      {by_hour("weekend", "the same at weekends")},
  };
}

Rows<kit::Learned> of_learned() {
  return {
      {number("erp_db", {-20, 20, "dB"}, "own radiated power against what was told"), &kit::Learned::erp_db},
      {whole("far_noise", -3, 3, "classes noisier", "the far ends' noise"), &kit::Learned::far_noise},
      {whole("contacts", 0, 1000000, "contacts", "how many contacts taught it"), &kit::Learned::contacts},
      {number("contacts_per_hour", {0.1, 1000, "contacts"}, "with all open and everybody listening"),
       &kit::Learned::contacts_per_hour},
      // For people to read, and checked all the same.
      {numbers("erp_db_90", 2, {-40, 40, "dB"}, "[-6.1, -0.4]", "nine times in ten it lies between these")},
      {number("far_noise_probability", {0, 1, "(probability)"}, "how sure the noise is")},
      {of_kind(Kind::day, "made", "when it was made")},
  };
}

}  // namespace

HeadRows head_rows() {
  return {of_trip(), of_site(), of_ground(), of_target(), of_partner(), of_people(), of_learned()};
}

std::vector<Field> head_tables() {
  return {
      needed(table("trip", "trip", "[trip]", "when, how much, under which Sun")),
      needed(tables("site", "site", 20, "where the station stands")),
      tables("session", "session", 100, "when it operates; without any: all hours"),
      needed(tables("region", "region", 60, "who is to be reached")),
      needed(table("licence", "licence", "[licence]", "what may be used")),
      table("people", "people", "[people]", "when somebody is at the other end"),
      tables("mode", "mode", 20, "how much a mode sends, where it is not as usual"),
  };
}

std::vector<Field> session_fields() {
  return {
      of_kind(Kind::id, "site", "id of the site", "summit"),
      needed(of_kind(Kind::clock, "from", "local clock, 05:30")),
      needed(of_kind(Kind::clock, "to", "local clock; before `from`: the next day")),
      of_kind(Kind::days, "days", "only on these days"),
      list("modes", Kind::shares, "[\"cw\", \"ssb\"]",
           "modes of [licence] that count here in place of its own choice; the first decides, or by shares"),
  };
}

std::vector<Field> terrain_fields() {
  return {
      needed(number("altitude_m", altitudes, "above the sea")),
      horizon_rows(),
      foreground_rows("how much the ground falls over the first 100 m"),
      shore_rows("from this azimuth clockwise to the next, where the sea begins"),
  };
}

std::vector<Field> licence_fields() {
  return {
      needed(list("bands", Kind::words, "[\"40m\", \"20m\"]", "bands, as \"40m\" or \"7MHz\"")),
      needed(list("modes", Kind::shares, "[\"cw\", \"ssb\"]",
                  "modes, as \"cw\", \"ssb\", \"ft8\"; the first decides, or all by their shares")),
      number("power_w", {0.1, 5000, "W"}, "most the licence allows"),
  };
}

std::vector<Field> mode_fields() {
  return {
      needed(text("name", "cw", "a mode of [licence]")),
      number("sending", {0.01, 1, "(share of the time)"}, "how much of the time one sends"),
      number("duty", {0.01, 1, "(share of the key-down power)"}, "mean power while sending"),
  };
}

std::vector<Field> learned_people_fields() {
  return {needed(by_hour("weekday", awake)), needed(by_hour("weekend", "the same at weekends"))};
}

std::vector<Field> question_fields() {
  const Range power{0.001, 2000, "W"}, gain{-40, 30, "dBi"};
  return {
      called("a power in watts", number("power_w", power, "your power")),
      called("a power in watts", number("to_power_w", power, "their power")),
      called("a gain in dBi",
             number("gain_from_dbi", gain,
                    "your antenna's gain with its losses, at all angles; without it a usual home antenna")),
      called("a gain in dBi", number("gain_to_dbi", gain, "their antenna's gain, likewise")),
      called("a spread in dB",
             number("spread_to_db", {0, 40, "dB"}, "what is not known of them: antenna, place, power")),
      called("a noise figure in dB", number("noise_figure_db", {0, 40, "dB"}, "of both receivers")),
      called("an elevation in degrees",
             number("skyline_deg", {0, 80, "degrees"},
                    "height of the ground around you in the path's direction; 0: none above you")),
      called("a distance in kilometres", number("skyline_km", {geodesy::nearest_skyline_km, 200, "km"},
                                                "how far away that ground stands")),
      called("days in ten",
             number("want_days", {0.5, 9.9, "days in ten"}, "days in ten that count as an opening")),
      called("a frequency in MHz", number("mhz", {1.6, 54, "MHz"}, "frequencies in MHz, as 7.03,14.06")),
  };
}

}  // namespace skerry::files
