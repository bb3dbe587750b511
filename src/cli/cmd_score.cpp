// `skerry score`: forecasts against reception reports, maps against ionosondes.

#include <fmt/format.h>

#include "options.hpp"
#include "skerry/after/hour_table.hpp"
#include "skerry/after/ionosonde.hpp"
#include "skerry/after/spots.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/files.hpp"
#include "skerry/words/score.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string spots, hours, sondes, r12, maps = "ccir", mode = "wspr", threshold, tx_gain, rx_gain,
                                         noise = "residential", noise_figure = "15", most_silent = "2000000",
                                         least_days = "5";
};

std::function<ionosphere::R12(Month)> activity_of(const Options& o, std::string& words) {
  if (o.r12.empty()) {
    words = "built-in solar activity by month";
    return {};
  }
  const ionosphere::R12 r12(number_of(o.r12, files::field("trip", "r12")));
  words = fmt::format("R12 {:g}", r12);
  return [r12](Month) { return r12; };
}

ionosphere::MapSet maps_of(const Options& o) {
  if (o.maps == "ursi") return ionosphere::MapSet::ursi;
  if (o.maps != "ccir") refuse({"--maps"}, "'" + one_line(o.maps) + "'", "ccir or ursi");
  return ionosphere::MapSet::ccir;
}

constexpr std::size_t most_bytes = 512U << 20U;

void score_sondes(const Options& o, World& world) {
  const Format format = format_of(o.common);
  words::ScoreShown shown;
  shown.file = o.sondes;
  const auto r12 = activity_of(o, shown.activity);
  const auto maps = maps_of(o);
  const auto table =
      must(after::read_sondes(must(os::read_file(o.sondes, most_bytes, {"--ionosonde"})), o.sondes));
  warn(table.left_out, world);
  shown.left_out = table.left_out.size();
  const auto scores = after::score_sondes(table, r12, maps);
  switch (format) {
    case Format::json:
      return write(forms::sondes_json(scores, shown), o.common, world);
    case Format::csv:
      return write(forms::sondes_csv(scores), o.common, world);
    case Format::text:
      return write(words::sondes_text(scores, shown, style_of(world, o.common)), o.common, world);
  }
}

after::SpotQuestion question_of(const Options& o, words::ScoreShown& shown) {
  after::SpotQuestion q;
  q.r12 = activity_of(o, shown.activity);
  q.maps = maps_of(o);
  q.mode = must(noise::find_mode(o.mode, {"--mode"}));
  if (!o.threshold.empty())
    q.mode.threshold_snr_db = number_of(o.threshold, "--threshold-db", -60, 60, "a ratio in dB");
  if (!o.tx_gain.empty()) q.tx_gain_dbi = number_of(o.tx_gain, "--tx-gain-dbi", -40, 30, "a gain in dBi");
  if (!o.rx_gain.empty()) q.rx_gain_dbi = number_of(o.rx_gain, "--rx-gain-dbi", -40, 30, "a gain in dBi");
  q.rx_noise = must(noise::parse_environment(o.noise, {"--rx-noise"}));
  q.noise_figure_db = number_of(o.noise_figure, files::field("question", "noise_figure_db"));
  q.most_silent =
      static_cast<std::size_t>(number_of(o.most_silent, "--most-silent", 1000, 1e8, "a number of cases"));
  shown.mode = q.mode.id;
  shown.threshold_db = q.mode.threshold_snr_db;
  shown.bandwidth_hz = q.mode.bandwidth_hz;
  return q;
}

/// Reads a table, leaves out what cannot be read, and tells how many.
template <class Table>
Table table_of(Checked<Table> (*read)(std::string_view, const std::string&), const std::string& file,
               words::ScoreShown& shown, World& world) {
  shown.file = file;
  auto table = must(read(must(os::read_file(file, most_bytes, {})), file));
  warn(table.left_out, world);
  shown.left_out = table.left_out.size();
  return table;
}

void show(const after::SpotScores& scores, const words::ScoreShown& shown, const Options& o, World& world,
          std::string (*text)(const after::SpotScores&, const words::ScoreShown&, const words::Style&)) {
  switch (format_of(o.common)) {
    case Format::json:
      return write(forms::score_json(scores, shown), o.common, world);
    case Format::csv:
      return write(forms::score_csv(scores), o.common, world);
    case Format::text:
      return write(text(scores, shown, style_of(world, o.common)), o.common, world);
  }
}

void run_score(const Options& o, World& world) {
  const auto given = (o.spots.empty() ? 0 : 1) + (o.hours.empty() ? 0 : 1) + (o.sondes.empty() ? 0 : 1);
  if (given != 1)
    refuse({"SPOTS"}, given == 0 ? "nothing" : "more than one table",
           "a table of spots, or --hours FILE, or --ionosonde FILE");
  if (!o.sondes.empty()) return score_sondes(o, world);
  static_cast<void>(format_of(o.common));  // a wrong one is told before anything is read
  words::ScoreShown shown;
  const auto q = question_of(o, shown);
  if (!o.spots.empty())
    return show(after::score_spots(table_of(after::read_spots, o.spots, shown, world), q), shown, o, world,
                words::score_text);
  const double least_days = number_of(o.least_days, "--least-days", 1, 31, "a number of days");
  const auto scores =
      after::score_hours(table_of(after::read_hour_table, o.hours, shown, world), q, least_days);
  if (scores.spots == 0)
    refuse({"--least-days"}, fmt::format("no row with {:g} active days", least_days), "fewer days");
  show(scores, shown, o, world, words::hours_text);
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
  };
  add("--r12", o.r12, "smoothed sunspot number of all months; without it: the built-in numbers", "N");
  add("--maps", o.maps, "foF2 maps: ccir or ursi", "SET");
  add("--mode", o.mode, "mode of the reports: its threshold decides what counts as heard", "MODE");
  add("--threshold-db", o.threshold, "another threshold, in the mode's reference bandwidth (2500 Hz)", "DB");
  add("--tx-gain-dbi", o.tx_gain,
      "gain of all senders' antennas at all angles; without it usual home antennas", "DBI");
  add("--rx-gain-dbi", o.rx_gain, "gain of all receivers' antennas, likewise", "DBI");
  add("--rx-noise", o.noise, "man-made noise at the receivers: city, residential, rural, quiet", "CLASS");
  add("--noise-figure-db", o.noise_figure, "of the receivers", "DB");
  add("--most-silent", o.most_silent, "silent cases computed; above it every k-th counts k times", "N");
  add("--least-days", o.least_days, "of --hours: rows with fewer active days are passed over", "N");
  add_format(*sub, o.common);
  sub->footer(
      "A silent case counts only where the receiver reported anything on that band within that hour, and the "
      "sender\n"
      "was reported by anybody. The method and the tables are described in docs/scoring.md.\n"
      "Example: skerry score examples/score/spots.csv --mode wspr");
  return {sub, [options](World& world) { run_score(*options, world); }};
}

}  // namespace skerry::cli
