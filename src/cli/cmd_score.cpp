// `skerry score`: forecasts against reception reports, maps against ionosondes.

#include <fmt/format.h>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/score.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/os/files.hpp"
#include "stations.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string spots, hours, sondes, r12, maps = "ccir", mode = "wspr", threshold, tx_gain, rx_gain,
                                         noise = "residential", noise_figure = "15", most_silent = "2000000",
                                         least_days = "5", take_off = "mirror";
};

constexpr std::size_t most_bytes = 512U << 20U;

engine::ScoreAsk ask_of(const Options& o) {
  engine::ScoreAsk ask;
  if (!o.r12.empty()) ask.r12 = number_of(o.r12, files::field("trip", "r12"));
  if (o.maps == "ursi") ask.maps = ionosphere::MapSet::ursi;
  if (!o.sondes.empty()) {
    ask.table = engine::ScoreAsk::Table::ionosonde;
    ask.file = o.sondes;
    return ask;
  }
  if (!o.hours.empty()) ask.table = engine::ScoreAsk::Table::hours;
  ask.file = o.hours.empty() ? o.spots : o.hours;
  ask.mode = must(noise::find_mode(o.mode, {"--mode"}));
  if (!o.threshold.empty())
    ask.mode.threshold_snr_db = number_of(o.threshold, "--threshold-db", -60, 60, "a ratio in dB");
  if (!o.tx_gain.empty()) ask.tx_gain_dbi = number_of(o.tx_gain, "--tx-gain-dbi", -40, 30, "a gain in dBi");
  if (!o.rx_gain.empty()) ask.rx_gain_dbi = number_of(o.rx_gain, "--rx-gain-dbi", -40, 30, "a gain in dBi");
  if (o.take_off == "traced") ask.take_off = circuit::TakeOff::traced;
  ask.rx_noise = must(noise::parse_environment(o.noise, {"--rx-noise"}));
  ask.noise_figure_db = number_of(o.noise_figure, files::field("question", "noise_figure_db"));
  ask.most_silent =
      static_cast<std::size_t>(number_of(o.most_silent, "--most-silent", 1000, 1e8, "a number of cases"));
  if (!o.hours.empty()) ask.least_days = number_of(o.least_days, "--least-days", 1, 31, "a number of days");
  return ask;
}

void run_score(const Options& o, World& world) {
  const auto given = (o.spots.empty() ? 0 : 1) + (o.hours.empty() ? 0 : 1) + (o.sondes.empty() ? 0 : 1);
  if (given != 1)
    refuse({"SPOTS"}, given == 0 ? "nothing" : "more than one table",
           "a table of spots, or --hours FILE, or --ionosonde FILE");
  const auto format = format_of(o.common);
  const auto ask = ask_of(o);
  const auto text = must(os::read_file(ask.file, most_bytes, {o.sondes.empty() ? "" : "--ionosonde"}));
  auto scored = engine::score(text, ask, format, style_of(world, o.common));
  // The one mistake that is no record's names a key.
  if (!scored && scored.error().front().where.file == "least_days")
    scored.error().front() = by_option(scored.error().front());
  const auto out = must(std::move(scored));
  warn(out.left_out, world);
  write(out.text, o.common, world);
}

}  // namespace

Command add_score(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub =
      app.add_subcommand("score", "how good the forecasts were, against reports or ionosondes you have");
  sub->add_option("SPOTS", o.spots, "reception reports, CSV: time_utc,mhz,tx,rx,power_w,snr_db")
      ->type_name("SPOTS");
  sub->add_option("--hours", o.hours,
                  "a month's hours, CSV: month,utc_hour,mhz,tx,rx,power_w,days_active,days_heard")
      ->type_name("FILE");
  sub->add_option("--ionosonde", o.sondes,
                  "monthly medians, CSV: station,place,month,utc_hour,fof2_mhz,m3000f2")
      ->type_name("FILE");
  const auto add = [&](const char* name, std::string& value, const std::string& help, const char* type) {
    auto* option = sub->add_option(name, value, help)->type_name(type);
    if (!value.empty()) option->default_str(value);
    return option;
  };
  add("--r12", o.r12, "smoothed sunspot number of all months; without it: the built-in numbers", "N");
  takes(add("--maps", o.maps, "foF2 maps: ccir or ursi", "SET"), {"ccir", "ursi"});
  offer_modes(
      add("--mode", o.mode, "mode of the reports: its threshold decides what counts as heard", "MODE"));
  add("--threshold-db", o.threshold, "another threshold, in the mode's reference bandwidth (2500 Hz)", "DB");
  add("--tx-gain-dbi", o.tx_gain,
      "gain of all senders' antennas at all angles; without it usual home antennas", "DBI");
  add("--rx-gain-dbi", o.rx_gain, "gain of all receivers' antennas, likewise", "DBI");
  offer_noise(add("--rx-noise", o.noise, "man-made noise at the receivers: city, residential, rural, quiet",
                  "CLASS"));
  add("--noise-figure-db", o.noise_figure, "of the receivers", "DB");
  add("--most-silent", o.most_silent, "silent cases computed; above it every k-th counts k times", "N");
  add("--least-days", o.least_days, "of --hours: rows with fewer active days are passed over", "N");
  takes(add("--takeoff", o.take_off, "angles of the antennas' gains: mirror, or traced (minutes)", "WORD"),
        {"mirror", "traced"});
  add_format(*sub, o.common);
  sub->footer(
      "A silent case counts only where the receiver reported anything on that band within that hour, and the "
      "sender\n"
      "was reported by anybody. The method and the tables are described in docs/scoring.md.\n"
      "Example: skerry score examples/score/spots.csv --mode wspr");
  return {sub, [options](World& world) { run_score(*options, world); }};
}

}  // namespace skerry::cli
