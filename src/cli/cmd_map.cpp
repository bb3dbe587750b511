#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <optional>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/sky.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/forms/map.hpp"
#include "skerry/geodesy/land.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/progress.hpp"
#include "skerry/page/map.hpp"
#include "skerry/relief/raster.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/position.hpp"
#include "skerry/words/map.hpp"
#include "stations.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  StationOptions stations;
  std::string at, hours = "all", grid = "2", way = "short", want = "5";
};

enum class Kind { text, json, csv, geojson, svg, tif };
const std::vector<std::string> kinds{"text", "json", "csv", "geojson", "svg", "tif"};

std::vector<int> hours_of(const std::string& text) {
  std::vector<int> out;
  if (text == "all") {
    for (int h = 0; h < 24; ++h) out.push_back(h);
    return out;
  }
  for (const auto& part : split_list(text, "--hours")) {
    const double hour = number_of(part, "--hours", 0, 23, "a whole UTC hour");
    if (hour != std::floor(hour))
      refuse({"--hours"}, "'" + part + "'", "whole UTC hours from 0 to 23, or all");
    if (std::find(out.begin(), out.end(), static_cast<int>(hour)) != out.end()) {
      refuse({"--hours"}, "'" + part + "' twice", "each hour once");
    }
    out.push_back(static_cast<int>(hour));
  }
  return out;
}

circuit::CoverageQuestion question_of(const Options& o, Places& places) {
  circuit::CoverageQuestion q;
  const auto stations = stations_of(o.stations);
  q.from = stations.from;
  q.to = stations.to;
  q.mode = stations.mode;
  q.settings = stations.settings;
  q.from.at = places.read(o.at, "AT");
  q.climate = climate_of(o.common);
  q.frequencies = must_by_options(engine::distinct(frequencies_of(o.stations, q.from.at, {"20m"})));
  q.hours = hours_of(o.hours);
  q.grid.step_deg = number_of(o.grid, "--grid", 0.5, 30, "a step in degrees");
  if (!q.grid.fits()) refuse({"--grid"}, "'" + o.grid + "'", "a step that divides 180, as 1, 2, 2.5, 3, 5");
  if (o.way == "best") {
    q.way = circuit::WayChoice::best;
  } else if (o.way == "long") {
    q.way = circuit::WayChoice::long_way;
  }
  return q;
}

void tell(World& world, const circuit::CoverageQuestion& q, const circuit::CoveragePart& part) {
  if (world.progress == nullptr) return;
  world.progress->share(static_cast<double>(part.first_cell + part.cells) /
                        static_cast<double>(q.grid.cells()));
}

template <class T>
T done(Result<T> result) {
  if (!result) give_up(result.error());
  return std::move(*result);
}

/// An answer too large to keep: written piece by piece, to the screen or to a file that appears whole or not at all.
class Stream {
 public:
  /// Opens --output if given. Stops (see Stop) when it cannot be written.
  Stream(const Common& common, World& world) : world_(world) {
    if (!common.output.empty()) file_.emplace(done(os::OutFile::open(common.output)));
  }
  /// False when the reader has gone away: nothing more is wanted. Stops when a file cannot be written.
  bool put(const std::string& text) {
    if (file_) return done(file_->put(text));
    // Two writers on one screen would mix their lines.
    if (world_.out_is_terminal && world_.progress != nullptr) world_.progress->end();
    world_.out << text;
    return !world_.flush || world_.flush();
  }
  /// The file takes its name. Without it, the file never appears.
  void finish() {
    if (file_) done(file_->finish());
  }

 private:
  World& world_;
  std::optional<os::OutFile> file_;
};

/// Head, parts and tail straight to the output, as they come.
template <class Part>
void stream(const circuit::CoverageQuestion& q, const Common& common, World& world, const std::string& head,
            const Part& part, const std::string& tail) {
  Stream out(common, world);
  if (!out.put(head)) return;
  if (!circuit::coverage(q, [&](const circuit::CoveragePart& cells) {
        tell(world, q, cells);
        return out.put(part(q, cells));
      }))
    return;
  if (!out.put(tail)) return;
  out.finish();
}

// Judgement: beyond this nobody looks at them, and the file grows past 10 MB.
constexpr std::size_t most_panels = 48;

void picture(const circuit::CoverageQuestion& q, const Options& o, World& world) {
  const std::size_t panels = q.hours.size() * q.frequencies.size();
  if (panels > most_panels) {
    refuse({"--hours"}, fmt::format("{} worlds in one picture", panels),
           fmt::format("at most {}: fewer --hours or --bands", most_panels));
  }
  page::MapSheet sheet;
  sheet.question = q;
  sheet.site_name = one_line(o.at);
  sheet.coast = geodesy::coastline();
  const UtcTime midnight = start_of(q.climate.day);
  for (const int hour : q.hours) {
    const UtcTime when = midnight + std::chrono::hours(hour);
    sheet.nights.push_back({sun::terminator(when, 0, 180), sun::position(when).declination_deg < 0});
  }
  const std::size_t cells = q.grid.cells();
  sheet.classes.resize(panels * cells);
  const bool whole = circuit::coverage(q, [&](const circuit::CoveragePart& part) {
    tell(world, q, part);
    for (std::size_t c = 0; c < part.cells; ++c) {
      for (std::size_t p = 0; p < panels; ++p) {
        sheet.classes[p * cells + part.first_cell + c] = page::days_class(part.values[c * panels + p]);
      }
    }
    return true;
  });
  if (whole) write(page::map_svg(sheet), o.common, world);
}

/// A band for each frequency and hour: days in ten both ways, to a tenth; none where nothing propagates.
void grid_file(const circuit::CoverageQuestion& q, const Options& o, World& world) {
  if (o.common.output.empty())
    refuse({"--format"}, "a picture of bytes for the screen", "a file: -o map.tif");
  const std::size_t bands = q.hours.size() * q.frequencies.size();
  relief::Raster raster{q.grid.columns(), q.grid.rows(), -180, 90, q.grid.step_deg, {}};
  for (const int hour : q.hours) {
    for (const auto& frequency : q.frequencies)
      raster.bands.push_back(fmt::format("{} {:02} UTC", words::frequency_name(frequency), hour));
  }
  auto writer = done(relief::RasterWriter::open(raster));
  std::vector<float> row;
  const std::size_t whole_row = bands * static_cast<std::size_t>(q.grid.columns());
  row.reserve(whole_row);
  const bool whole = circuit::coverage(q, [&](const circuit::CoveragePart& part) {
    tell(world, q, part);
    for (const auto& value : part.values) {
      row.push_back(value.open ? std::round(value.both_days_in_ten() * 10) / 10
                               : std::numeric_limits<float>::quiet_NaN());
      if (row.size() < whole_row) continue;
      done(writer.put(row));
      row.clear();
    }
    return true;
  });
  if (!whole) return;
  const auto bytes = done(writer.finish());
  os::check_memory();
  done(os::write_file(o.common.output, bytes));
}

void run_map(const Options& o, World& world) {
  const auto kind = static_cast<Kind>(form_of(o.common, kinds));
  Places places;
  const auto q = question_of(o, places);
  places.ask(world);
  if (kind != Kind::text && kind != Kind::json) places.tell(world);
  const double want = number_of(o.want, files::field("question", "want_days"));
  switch (kind) {
    case Kind::csv:
      return stream(q, o.common, world, forms::map_csv_head(), forms::map_csv, "");
    case Kind::geojson:
      return stream(q, o.common, world, forms::map_geojson_head(q), forms::map_geojson,
                    forms::map_geojson_tail());
    case Kind::svg:
      return picture(q, o, world);
    case Kind::tif:
      return grid_file(q, o, world);
    case Kind::text:
    case Kind::json:
      break;
  }
  circuit::CoverageShare share(q, want);
  const bool whole = circuit::coverage(q, [&](const circuit::CoveragePart& part) {
    tell(world, q, part);
    share.add(part);
    return true;
  });
  if (!whole) return;
  write(kind == Kind::json ? forms::map_json(q, share, want, places.named("AT"))
                           : places.lines() + words::map_text(q, share, want),
        o.common, world);
}

}  // namespace

Command add_map(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto* sub = app.add_subcommand("map", "where in the world a station would be heard, hour by hour");
  auto& o = *options;
  sub->add_option("AT", o.at, "your place: lat,lon, a locator or a name")->required()->type_name("PLACE");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  add_stations(*sub, o.stations, "20m");
  sub->add_option("--hours", o.hours, "whole UTC hours, as 0,6,12,18, or all")
      ->type_name("LIST")
      ->default_str("all");
  sub->add_option("--grid", o.grid, "step of the grid in degrees; divides 180")
      ->type_name("DEG")
      ->default_str("2");
  takes(sub->add_option("--way", o.way, "short, long or best way round the Earth")
            ->type_name("WAY")
            ->default_str("short"),
        {"short", "long", "best"});
  sub->add_option("--want-days", o.want, "days in ten that the text and JSON summaries count")
      ->type_name("N")
      ->default_str("5");
  add_named_format(*sub, o.common, kinds);
  sub->footer("Example: skerry map -19.70,63.43 --month 2027-02 --bands 20m --hours 0,6,12,18 -o world.svg");
  return {sub, [options](World& world) { run_map(*options, world); }};
}

}  // namespace skerry::cli
