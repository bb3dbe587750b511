// `skerry explain`: plain words, and worksheets.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <memory>

#include "explain_sheet.hpp"
#include "options.hpp"
#include "skerry/advice/explain.hpp"
#include "skerry/core/text.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "skerry/report/explain.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::vector<std::string> what;
  std::string bands, hour, mode = "cw", power = "10", to_power = "100", gain_from = "0", gain_to = "0";
  std::string noise_from = "quiet", noise_to = "residential", region, site;
  bool teach = false;
};

std::optional<int> hour_of(const Options& o) {
  if (o.hour.empty()) return std::nullopt;
  const double hour = number_of(o.hour, "--hour", 0, 23, "a whole UTC hour");
  if (hour != std::floor(hour)) refuse({"--hour"}, "'" + o.hour + "'", "a whole UTC hour from 0 to 23");
  return static_cast<int>(hour);
}

/// The bands asked for, or all below 30 MHz.
std::vector<noise::Band> bands_of(const Options& o, GeoPoint from) {
  const int region = geodesy::itu_region(from).region;
  std::vector<noise::Band> out;
  if (!o.bands.empty()) {
    for (const auto& part : split_list(o.bands, "--bands"))
      out.push_back(must(noise::find_band(part, region, {"--bands"})));
    return out;
  }
  for (const auto& band : noise::bands(region)) {
    if (band.low_mhz < 30) out.push_back(band);
  }
  return out;
}

advice::ExplainQuestion two_places(const Options& o) {
  advice::ExplainQuestion q;
  q.from = must(geodesy::parse_place(o.what[0], {"FROM"}));
  q.to = must(geodesy::parse_place(o.what[1], {"TO"}));
  q.climate = climate_of(o.common);
  advice::ExplainBand one;
  one.mode = must(noise::find_mode(o.mode, {"--mode"}));
  one.utc_hour = hour_of(o);
  one.own.power_w = number_of(o.power, "--power-w", 0.001, 2000, "a power in watts");
  one.partner.power_w = number_of(o.to_power, "--to-power-w", 0.001, 2000, "a power in watts");
  one.own.gain_dbi = number_of(o.gain_from, "--gain-from-dbi", -40, 30, "a gain in dBi");
  one.partner.gain_dbi = number_of(o.gain_to, "--gain-to-dbi", -40, 30, "a gain in dBi");
  one.own.environment = must(noise::parse_environment(o.noise_from, {"--noise-from"}));
  one.partner.environment = must(noise::parse_environment(o.noise_to, {"--noise-to"}));
  one.own.near_land = advice::near_land(q.from);
  one.partner.near_land = advice::near_land(q.to);
  for (const auto& band : bands_of(o, q.from)) {
    one.band = band.id;
    one.mhz = band.mhz;
    q.bands.push_back(one);
  }
  return q;
}

/// A region's worth of plain words for a trip.
std::string explain_region(const Options& o, const kit::Trip& trip, const advice::Advice& advice, int site,
                           int target, const report::Style& style) {
  auto q = advice::question_of(trip, advice, site, target, hour_of(o));
  if (!o.bands.empty()) {
    std::vector<advice::ExplainBand> kept;
    for (const auto& band : bands_of(o, q.from)) {
      const auto found =
          std::find_if(q.bands.begin(), q.bands.end(), [&](const auto& b) { return b.band == band.id; });
      if (found == q.bands.end()) refuse({"--bands"}, "'" + band.id + "'", "a band of the trip's licence");
      kept.push_back(*found);
    }
    q.bands = std::move(kept);
  }
  return report::explain_text(explain_sheet(trip, q, site, target, hour_of(o)), style);
}

std::string explain_trip(const Options& o, const World& world) {
  const auto trip = read_trip_file(o.what.front());
  if (!o.hour.empty()) (void)hour_of(o);
  std::vector<int> targets;
  if (o.region == "all") {
    for (std::size_t t = 0; t < trip.targets.size(); ++t) targets.push_back(static_cast<int>(t));
  } else {
    std::vector<std::string> known;
    int heaviest = 0;
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      known.push_back(trip.targets[t].region.id);
      if (trip.targets[t].weight > trip.targets[static_cast<std::size_t>(heaviest)].weight)
        heaviest = static_cast<int>(t);
      if (trip.targets[t].region.id == o.region) targets.push_back(static_cast<int>(t));
    }
    if (o.region.empty() && !trip.targets.empty()) targets.push_back(heaviest);
    if (targets.empty()) {
      refuse({"--region"}, "'" + o.region + "'", fmt::format("all, or one of {}", fmt::join(known, ", ")),
             did_you_mean(o.region, known));
    }
  }
  int site = 0;
  if (!o.site.empty()) {
    std::vector<std::string> known;
    for (const auto& s : trip.sites) known.push_back(s.id);
    const auto found = std::find(known.begin(), known.end(), o.site);
    if (found == known.end())
      refuse({"--site"}, "'" + o.site + "'", fmt::format("one of {}", fmt::join(known, ", ")),
             did_you_mean(o.site, known));
    site = static_cast<int>(found - known.begin());
  }
  const auto advice = advice::advise(trip);
  std::string out;
  for (const int target : targets) {
    if (!out.empty()) out += "\n\n";
    out += explain_region(o, trip, advice, site, target, style_of(world, o.common));
  }
  if (o.region.empty() && trip.targets.size() > 1) {
    std::vector<std::string> others;
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      if (static_cast<int>(t) != targets.front()) others.push_back(trip.targets[t].region.id);
    }
    out += fmt::format("Other regions: --region {}, or --region all.\n", others.front());
  }
  return out;
}

/// The worksheet: a dipole of 10 W at 6 m, one band, and one thing changed at a time.
class Teacher {
 public:
  explicit Teacher(const Options& o) : options_(o), base_(two_places(o)) {
    if (!o.bands.empty()) {
      if (base_.bands.size() != 1) refuse({"--bands"}, "'" + o.bands + "'", "one band for a worksheet");
    } else {
      const auto found =
          std::find_if(base_.bands.begin(), base_.bands.end(), [](const auto& b) { return b.band == "20m"; });
      base_.bands = {found == base_.bands.end() ? base_.bands.front() : *found};
    }
  }

  report::Worksheet sheet() {
    report::Worksheet out;
    out.from_name = trim(options_.what[0]);
    out.to_name = trim(options_.what[1]);
    const auto first = ask(base_, base_height_m);
    hour_ = first.utc_hour;
    const Month month{base_.climate.day.year() / base_.climate.day.month()};
    out.base = fmt::format(
        "{} with {:g} W in {}, a dipole {:g} m up turned to the far end, {:02} UTC, {}, R12 {:.0f}, {:g} W "
        "with {:+g} dBi there.",
        base_.bands.front().band, base_.bands.front().own.power_w, base_.bands.front().mode.name,
        base_height_m, hour_, to_iso(month), base_.climate.r12, base_.bands.front().partner.power_w,
        base_.bands.front().partner.gain_dbi);
    out.lessons = {hours(), months(month), activity(), heights()};
    return out;
  }

 private:
  static constexpr double base_height_m = 6;

  advice::BandExplanation ask(advice::ExplainQuestion q, double height_m) const {
    const auto pattern = advice::lesson_dipole(height_m, q.bands.front().mhz);
    auto& band = q.bands.front();
    band.own.pattern = &pattern;
    band.own.layout_azimuth_deg = geodesy::make_path(q.from, q.to, geodesy::Way::short_way).bearing_deg;
    band.own.efficiency_db = std::min(0.0, pattern.system_efficiency_db);
    band.antenna = fmt::format("dipole at {:g} m", height_m);
    return advice::explain(q).front();
  }
  [[nodiscard]] advice::ExplainQuestion at_hour(int hour) const {
    auto q = base_;
    q.bands.front().utc_hour = hour;
    return q;
  }
  report::Lesson hours() const {
    report::Lesson lesson{"the hour",
                          "Where does the Sun stand over the weakest reflection point? Is there a D layer, "
                          "and how strong is the layer above it?",
                          0,
                          {}};
    for (int step = 0; step < 24; step += 6) {
      const int hour = (hour_ + step) % 24;
      lesson.rows.push_back({fmt::format("{:02} UTC", hour), ask(at_hour(hour), base_height_m)});
    }
    return lesson;
  }
  report::Lesson months(Month month) const {
    report::Lesson lesson{
        "the month",
        "The same hour in other seasons: which months have the longer day at the weakest point?",
        0,
        {}};
    for (int step = 0; step < 12; step += 3) {
      const Month then = month + std::chrono::months(step);
      auto q = at_hour(hour_);
      // The year stays: only the season changes, not the calendar's century limits.
      q.climate.day = middle_of(Month{month.year() / then.month()});
      lesson.rows.push_back({to_iso(Month{month.year() / then.month()}), ask(q, base_height_m)});
    }
    return lesson;
  }
  report::Lesson activity() const {
    report::Lesson lesson{
        "the Sun's activity",
        "More sunspots make the layer stronger, and the D layer too: which of the two wins on this band?",
        0,
        {}};
    std::vector<double> levels{base_.climate.r12};
    for (const double r12 : {5.0, 60.0, 140.0}) {
      if (std::abs(r12 - base_.climate.r12) > 15) levels.push_back(r12);
    }
    for (const double r12 : levels) {
      auto q = at_hour(hour_);
      q.climate.r12 = r12;
      lesson.rows.push_back({fmt::format("R12 {:.0f}", r12), ask(q, base_height_m)});
    }
    return lesson;
  }
  report::Lesson heights() const {
    const double wavelength_m = 299.792458 / base_.bands.front().mhz;
    report::Lesson lesson{"the height of the wire",
                          fmt::format("One wavelength is {:.0f} m here. A low wire sends its power up, a "
                                      "high one towards the horizon: which does the angle ask for?",
                                      wavelength_m),
                          1,
                          {}};
    for (const double height_m : {3.0, base_height_m, 10.0, 15.0}) {
      lesson.rows.push_back({fmt::format("{:g} m up", height_m), ask(at_hour(hour_), height_m)});
    }
    return lesson;
  }

  const Options& options_;
  advice::ExplainQuestion base_;
  int hour_ = 0;
};

void run_explain(const Options& o, World& world) {
  if (format_of(o.common) != Format::text) {
    refuse({"--format"}, "'" + o.common.format + "'",
           "text; numbers come from 'skerry path -f json' and 'skerry pack -f json'");
  }
  if (o.teach && o.what.size() != 2)
    refuse({"--teach"}, "a trip", "two places: skerry explain FROM TO --teach");
  if (o.what.size() == 1) return write(explain_trip(o, world), o.common, world);
  if (!o.region.empty() || !o.site.empty())
    refuse({o.region.empty() ? "--site" : "--region"}, "two places", "a trip, which has regions and sites");
  if (o.teach)
    return write(report::teach_text(Teacher(o).sheet(), style_of(world, o.common)), o.common, world);
  const auto q = two_places(o);
  report::ExplainSheet sheet;
  sheet.from_name = trim(o.what[0]);
  sheet.to_name = trim(o.what[1]);
  sheet.from_zone = sun::Zone::nominal(q.from.lon_deg);
  sheet.to_zone = sun::Zone::nominal(q.to.lon_deg);
  sheet.climate = q.climate;
  sheet.want_days_in_ten = q.want_days_in_ten;
  const auto& band = q.bands.front();
  sheet.hours_note =
      fmt::format("{} W in {} to {} W, antennas of {:+g} and {:+g} dBi; {}.", band.own.power_w,
                  band.mode.name, band.partner.power_w, band.own.gain_dbi, band.partner.gain_dbi,
                  o.hour.empty() ? std::string("each band at its best hour")
                                 : fmt::format("all at {:02} UTC", *hour_of(o)));
  sheet.bands = advice::explain(q);
  write(report::explain_text(sheet, style_of(world, o.common)), o.common, world);
}

}  // namespace

report::ExplainSheet explain_sheet(const kit::Trip& trip, const advice::ExplainQuestion& q, int site,
                                   int target, std::optional<int> utc_hour) {
  const auto& here = trip.sites[static_cast<std::size_t>(site)];
  const auto& there = trip.targets[static_cast<std::size_t>(target)];
  report::ExplainSheet sheet;
  sheet.from_name = here.name;
  sheet.to_name = there.region.name;
  if (there.people.front().name != there.region.name && !there.people.front().name.empty())
    sheet.to_name += " (" + there.people.front().name + ")";
  sheet.from_zone = here.zone;
  sheet.to_zone = sun::Zone::nominal(q.to.lon_deg);
  sheet.climate = q.climate;
  sheet.want_days_in_ten = q.want_days_in_ten;
  sheet.hours_note = utc_hour ? fmt::format("With the packed kit, at {:02} UTC.", *utc_hour)
                              : "With the packed kit, each band at its best hour while you are on the air.";
  sheet.bands = advice::explain(q);
  return sheet;
}

Command add_explain(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub =
      app.add_subcommand("explain", "each band's verdict in plain words: what causes it, the heaviest first");
  sub->add_option("WHAT", o.what, "a trip file, or two places")
      ->required()
      ->expected(1, 2)
      ->type_name("TRIP | FROM TO");
  sub->add_option("--bands", o.bands, "bands, as 40m,20m; without it all")->type_name("LIST");
  sub->add_option("--hour", o.hour, "this UTC hour; without it each band's best")->type_name("HOUR");
  sub->add_option("--region", o.region, "trip: this region, or all; without it the one that weighs most")
      ->type_name("ID");
  sub->add_option("--site", o.site, "trip: from this site; without it the first")->type_name("ID");
  sub->add_flag("--teach", o.teach,
                "two places: a worksheet with blanks and its key, one thing changed at a time");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  sub->add_option("--mode", o.mode, "two places: mode of emission")->type_name("MODE")->default_str("cw");
  sub->add_option("--power-w", o.power, "two places: your power")->type_name("W")->default_str("10");
  sub->add_option("--to-power-w", o.to_power, "two places: their power")->type_name("W")->default_str("100");
  sub->add_option("--gain-from-dbi", o.gain_from, "two places: your antenna's gain at all angles")
      ->type_name("DBI")
      ->default_str("0");
  sub->add_option("--gain-to-dbi", o.gain_to, "two places: their antenna's gain")
      ->type_name("DBI")
      ->default_str("0");
  sub->add_option("--noise-from", o.noise_from,
                  "two places: man-made noise at yours: city, residential, rural, quiet")
      ->type_name("CLASS")
      ->default_str("quiet");
  sub->add_option("--noise-to", o.noise_to, "two places: man-made noise at theirs")
      ->type_name("CLASS")
      ->default_str("residential");
  add_format(*sub, o.common);
  sub->footer("Example: skerry explain -19.70,63.43 JN45 --month 2027-02 --bands 40m,20m,10m");
  return {sub, [options](World& world) { run_explain(*options, world); }};
}

}  // namespace skerry::cli
