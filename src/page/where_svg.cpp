// The map of an island: land by height as runs of squares, places as discs.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/page/where.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/where.hpp"

namespace skerry::page {

namespace {

// Sizes in units of the picture, at any zoom. Judgement: readable on a phone and on A4.
constexpr double margin = 40, head = 64, map_side = 720, key_width = 330, disc = 13;
constexpr std::array greys{"#ececec", "#dedede", "#d0d0d0", "#c2c2c2", "#b4b4b4", "#a6a6a6"};

/// What part of the grid is drawn: all the land, with the sea about it.
struct Frame {
  int first_column = 0, first_row = 0, columns = 1, rows = 1;
  double unit = 1;  ///< of the picture, a cell
  [[nodiscard]] double x(double column) const { return margin + (column - first_column) * unit; }
  [[nodiscard]] double y(double row) const { return head + (row - first_row) * unit; }
};

Frame frame_of(const terrain::Island& island) {
  const auto& g = island.grid;
  int west = g.columns, east = 0, north = g.rows, south = 0;
  for (std::size_t cell = 0; cell < g.cells(); ++cell) {
    if (island.land[cell] == 0) continue;
    west = std::min(west, g.column(cell));
    east = std::max(east, g.column(cell));
    north = std::min(north, g.row(cell));
    south = std::max(south, g.row(cell));
  }
  // Judgement: a tenth of it is sea all round.
  const int rim = 2 + std::max(east - west, south - north) / 10;
  Frame out;
  const int side = std::max(east - west, south - north) + 1 + 2 * rim;
  out.first_column = (west + east - side) / 2;
  out.first_row = (north + south - side) / 2;
  out.columns = out.rows = side;
  out.unit = map_side / side;
  return out;
}

int shade_of(double height_m, double highest_m) {
  const double share = highest_m > 0 ? height_m / highest_m : 0;
  return std::clamp(static_cast<int>(share * static_cast<double>(greys.size())), 0,
                    static_cast<int>(greys.size()) - 1);
}

std::string land(const terrain::Island& island, const Frame& frame) {
  const auto& g = island.grid;
  double highest_m = 0;
  for (std::size_t cell = 0; cell < g.cells(); ++cell) {
    if (island.land[cell] != 0) highest_m = std::max(highest_m, static_cast<double>(island.height_m[cell]));
  }
  std::array<std::string, greys.size()> paths;
  const auto class_at = [&](int column, int row) {
    const auto cell = g.index(column, row);
    return island.height_m[cell] > 0 ? shade_of(static_cast<double>(island.height_m[cell]), highest_m) : -1;
  };
  for (int row = std::max(0, frame.first_row); row < std::min(g.rows, frame.first_row + frame.rows); ++row) {
    const int last = std::min(g.columns, frame.first_column + frame.columns);
    for (int from = std::max(0, frame.first_column); from < last;) {
      const int shade = class_at(from, row);
      int to = from + 1;
      while (to < last && class_at(to, row) == shade) ++to;
      if (shade >= 0)
        nth(paths, shade) += fmt::format("M{:.1f} {:.1f}h{:.1f}v{:.1f}h{:.1f}z", frame.x(from), frame.y(row),
                                         (to - from) * frame.unit, frame.unit, (from - to) * frame.unit);
      from = to;
    }
  }
  std::string out;
  for (std::size_t i = 0; i < paths.size(); ++i)
    out += fmt::format("<path fill=\"{0}\" stroke=\"{0}\" stroke-width=\"0.3\" d=\"{1}\"/>\n", greys[i],
                       paths[i]);
  return out;
}

/// Where on the rim a bearing from the middle of the picture leads.
std::string rim_mark(double bearing_deg, const std::string& text) {
  const double s = std::sin(bearing_deg * rad_per_deg), c = std::cos(bearing_deg * rad_per_deg);
  const double out_to = map_side / 2 / std::max(std::abs(s), std::abs(c));
  const double x = margin + map_side / 2 + s * out_to, y = head + map_side / 2 - c * out_to;
  return fmt::format(
      "<path d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\" stroke=\"#000\" stroke-width=\"2\"/>"
      "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\" font-weight=\"bold\">{}</text>\n",
      x - 14 * s, y + 14 * c, x, y, x + 14 * s, y - 14 * c + 5, text);
}

class Classes {
 public:
  explicit Classes(const advice::Elsewhere& a) {
    for (const auto& v : a.places) {
      low_ = std::min(low_, v.reach);
      high_ = std::max(high_, v.reach);
    }
  }
  [[nodiscard]] int of(double reach) const {
    return high_ > low_ ? 1 + static_cast<int>(std::lround(9 * (reach - low_) / (high_ - low_))) : 10;
  }

 private:
  double low_ = 1e9, high_ = 0;
};

std::string place(const terrain::Island& island, const Frame& frame, const advice::Valued& v,
                  std::size_t number, int colour) {
  const auto& g = island.grid;
  const auto cell = g.cell_at(v.place.spot.at);
  if (!cell) return {};
  const double x = frame.x(g.column(*cell) + 0.5), y = frame.y(g.row(*cell) + 0.5);
  const bool here = v.place.spot.kind == geodesy::Spot::Kind::planned;
  return fmt::format(
      "<g><title>{}</title><circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:g}\" fill=\"{}\" stroke=\"#000\" "
      "stroke-width=\"{:g}\"/>"
      "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"middle\" fill=\"{}\">{:.0f}</text>"
      "<text x=\"{:.1f}\" y=\"{:.1f}\" font-size=\"10\">{}</text></g>\n",
      markup(words::spot_name(v.place.spot)), x, y, disc, words::days_colour(colour), here ? 3.0 : 1.0, x,
      y + 4, words::light_letters(colour) ? "#fff" : "#000", 100 * v.reach, x + disc + 2, y + 4, number);
}

std::string scale_bar(const terrain::Island& island, const Frame& frame) {
  const double widest_m = map_side / 4 / frame.unit * island.grid.step_m;
  double m = std::pow(10, std::floor(std::log10(widest_m)));
  for (const double more : {5.0, 2.0}) {
    if (m * more <= widest_m) {
      m *= more;
      break;
    }
  }
  const double y = head + map_side + 24;
  return fmt::format(
      "<path d=\"M{:g} {:g}v6h{:.1f}v-6\" fill=\"none\" stroke=\"#000\"/><text x=\"{:g}\" y=\"{:g}\">{}</text>\n",
      margin, y, m / island.grid.step_m * frame.unit, margin, y + 22,
      m >= 1000 ? fmt::format("{:g} km", m / 1000) : fmt::format("{:g} m", m));
}

std::string key(const kit::Trip& trip, const advice::Elsewhere& a) {
  const double x = margin + map_side + 50;
  double y = head + 8;
  std::string out =
      fmt::format("<g font-size=\"12\">\n<text x=\"{:g}\" y=\"{:g}\" font-weight=\"bold\">{}</text>\n", x, y,
                  words::caption::where_list);
  // Judgement: as many as fit beside the map.
  constexpr std::size_t most = 30;
  for (std::size_t i = 0; i < std::min(most, a.places.size()); ++i) {
    const auto& v = a.places[i];
    y += 20;
    out +=
        fmt::format("<text x=\"{:g}\" y=\"{:g}\">{}: {:.0f} %, {}, {:.0f} m{}</text>\n", x, y, i + 1,
                    100 * v.reach, markup(words::spot_name(v.place.spot)), v.place.lie.altitude_m,
                    v.place.spot.out_minutes ? fmt::format(", {:.0f} min", *v.place.spot.out_minutes) : "");
  }
  y += 14;
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    y += 20;
    out += fmt::format("<text x=\"{:g}\" y=\"{:g}\"><tspan font-weight=\"bold\">{}</tspan> {}</text>\n", x, y,
                       words::target_letter(t), markup(nth(trip.targets, t).region.name));
  }
  return out + "</g>\n";
}

}  // namespace

std::string where_svg(const kit::Trip& trip, const terrain::Island& island, const advice::Elsewhere& a) {
  const auto frame = frame_of(island);
  const Classes classes(a);
  const double width = margin + map_side + 50 + key_width, height = head + map_side + 64;
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0:g}\" height=\"{1:g}\" viewBox=\"0 0 {0:g} {1:g}\" "
      "font-family=\"sans-serif\" font-size=\"12\">\n<title>{2}</title>\n"
      "<rect width=\"{0:g}\" height=\"{1:g}\" fill=\"#fff\"/>\n"
      "<text x=\"{3:g}\" y=\"28\" font-size=\"18\">{2}</text>\n"
      "<rect x=\"{3:g}\" y=\"{4:g}\" width=\"{5:g}\" height=\"{5:g}\" fill=\"none\" stroke=\"#888\"/>\n",
      width, height, filled_in(words::caption::where_title, {markup(trip.name)}), margin, head, map_side);
  out += land(island, frame);
  if (!a.places.empty()) {
    const auto& facing = a.places.front().facing;
    for (std::size_t t = 0; t < facing.size(); ++t)
      out += rim_mark(facing[t].bearing_deg, words::target_letter(t));
  }
  // The best on top.
  for (std::size_t i = a.places.size(); i-- > 0;)
    out += place(island, frame, a.places[i], i + 1, classes.of(a.places[i].reach));
  out += scale_bar(island, frame);
  out += fmt::format("<text x=\"{:g}\" y=\"{:g}\">{}</text>\n", margin + 240, head + map_side + 46,
                     words::caption::where_key);
  out += key(trip, a);
  return out + "</svg>\n";
}

}  // namespace skerry::page
