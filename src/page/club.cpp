#include "skerry/page/club.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>
#include <vector>

#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/captions.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/style.hpp"

namespace skerry::page {

namespace {

std::string text(double x, double y, const char* anchor, const std::string& said,
                 const std::string& more = "") {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}>{}</text>\n", x, y, anchor, more,
                     markup(said));
}

constexpr double edge = 24, line_height = 19;

/// Lines of letters 14 units high that fit between the edges.
std::vector<std::string> lines_of(const std::vector<std::string>& paragraphs, double width) {
  constexpr double letter = 8.2;  // Judgement: common fonts, on average
  std::vector<std::string> out;
  for (const auto& paragraph : paragraphs) {
    std::istringstream in(
        words::wrapped(plain(paragraph), static_cast<std::size_t>((width - 2 * edge) / letter), "", ""));
    for (std::string line; std::getline(in, line);) out.push_back(line);
  }
  return out;
}

std::string lines_at(double y, const std::vector<std::string>& lines) {
  std::string out;
  for (std::size_t i = 0; i < lines.size(); ++i)
    out += text(edge, y + line_height * static_cast<double>(i), "start", lines[i]);
  return out;
}

/// White paper with a title, lines below it, a drawing and a key. `inner` begins at 0 and is `tall`.
std::string sheet(double width, double tall, const std::string& title, const std::vector<std::string>& below,
                  const std::string& inner, const std::string& key) {
  const auto heads = lines_of(below, width), keys = lines_of({key}, width);
  const double top = 62 + line_height * static_cast<double>(heads.size());
  const double height = top + tall + line_height * static_cast<double>(keys.size()) + edge;
  return fmt::format(
             "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
             "viewBox=\"0 0 {0:g} {1:g}\" width=\"{0:g}\" height=\"{1:g}\" font-family=\"sans-serif\" "
             "font-size=\"14\">\n<title>{2}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
             width, height, markup(title)) +
         text(edge, 36, "start", title, " font-size=\"20\" font-weight=\"bold\"") + lines_at(58, heads) +
         fmt::format("<g transform=\"translate(0 {:g})\">\n{}</g>\n", top, inner) +
         lines_at(top + tall + 8, keys) + "</svg>\n";
}

// The hop table's plot, in units of the picture.
constexpr double left = 70, right = 740, top = 0, bottom = 340, most_km = 4000;
double x_of(double km) {
  return left + km / most_km * (right - left);
}
double y_of(double deg) {
  return bottom - deg / 90 * (bottom - top);
}

/// Full line for the F2 layer, dashes for E; dots where the table has a row.
std::string curve(const circuit::HopTable& table, const circuit::HopMirror& mirror, bool e) {
  std::string line, dots;
  constexpr double step_km = 20;  // finer than the line is wide
  for (double km = step_km; km < mirror.longest_km; km += step_km) {
    if (const auto deg = circuit::hop_angle_deg(km, 1, mirror.height_km))
      line += fmt::format("{}{:.1f} {:.1f}", line.empty() ? 'M' : 'L', x_of(km), y_of(*deg));
  }
  line += fmt::format("L{:.1f} {:.1f}", x_of(mirror.longest_km), y_of(0));
  for (const auto& row : table.rows) {
    const auto& deg = e ? row.e_deg : row.f2_deg;
    if (deg)
      dots += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"4\" fill=\"{}\" stroke=\"#000\"/>\n",
                          x_of(row.distance_km), y_of(*deg), e ? "#fff" : "#000");
  }
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"2\"{}/>\n", line,
                     e ? " stroke-dasharray=\"6 4\"" : "") +
         dots;
}

}  // namespace

std::string hop_table_svg(const circuit::HopTable& table) {
  std::string out;
  for (int deg = 0; deg <= 90; deg += 10) {
    out +=
        fmt::format("<path d=\"M{0:g} {2:.1f}L{1:g} {2:.1f}\" stroke=\"#bbb\"/>\n", left, right, y_of(deg));
    out += text(left - 8, y_of(deg) + 5, "end", fmt::format("{}", deg));
  }
  for (int km = 0; km <= 4000; km += 500) {
    out += fmt::format("<path d=\"M{0:.1f} {1:g}L{0:.1f} {2:g}\" stroke=\"#bbb\"/>\n", x_of(km), top, bottom);
    out += text(x_of(km), bottom + 20, "middle", fmt::format("{}", km));
  }
  out += curve(table, table.f2, false) + curve(table, table.e, true);
  out += text((left + right) / 2, bottom + 44, "middle", caption::hop_table_axis);
  return sheet(780, bottom + 72, caption::hop_table_title, {caption::hop_table_below}, out,
               fmt::format(caption::hop_table_key, table.f2.height_km, table.f2.longest_km, table.e.height_km,
                           table.e.longest_km));
}

std::string contrast_svg(const words::Contrast& c) {
  constexpr double name_width = 190, cell_width = 30, cell_height = 24, head = 24;
  const auto& q = c.before.question;
  const int columns = c.hours ? 1 : 24;
  std::string out;
  for (int h = 0; h < columns && !c.hours; ++h)
    out += text(name_width + (h + 0.5) * cell_width, head - 8, "middle", fmt::format("{:02}", h));
  if (!c.hours) out += text(24, head - 8, "start", caption::utc);
  double y = head;
  for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
    const auto band =
        q.frequencies[f].band.empty() ? fmt::format("{:g} MHz", q.frequencies[f].mhz) : q.frequencies[f].band;
    for (const bool after : {false, true}) {
      if (!after) out += text(24, y + 17, "start", band, " font-weight=\"bold\"");
      out += text(name_width - 10, y + 17, "end", words::contrast_label(c, after));
      for (int h = 0; h < columns; ++h) {
        const int at = c.hours ? nth(*c.hours, after ? 1 : 0) : h;
        const auto& b = nth((after ? c.after : c.before).ways.front().hours, at).bands[f];
        const int days = words::days_class(b.days_in_ten);
        const double x = name_width + h * cell_width;
        const bool filled = b.open() && days > 0;
        if (filled)
          out += fmt::format("<rect x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\" fill=\"{}\"/>\n",
                             x + 1, y + 1, cell_width - 2, cell_height - 2, words::days_colour(days));
        out += text(x + cell_width / 2, y + 17, "middle", words::days_sign(b.open(), b.days_in_ten),
                    filled && words::light_letters(days) ? " fill=\"#fff\"" : "");
      }
      y += cell_height;
    }
    y += 8;
  }
  const double width = std::max(900.0, name_width + columns * cell_width + edge);
  return sheet(width, y + 12, fmt::format(caption::strip_title, c.from_name, c.to_name),
               {words::contrast_heading(c), words::contrast_base(c)}, out, caption::contrast_key);
}

}  // namespace skerry::page
