// What elevation files say of a site, as a trip file holds it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cassert>

#include "skerry/files/edit.hpp"
#include "skerry/files/trip_file.hpp"

namespace skerry::files {

namespace {

template <class List, class Row>
void add(std::vector<std::string>& out, const char* key, const List& list, Row&& row) {
  if (list.empty()) return;
  std::vector<std::string> rows;
  for (const auto& one : list) rows.push_back("[" + row(one) + "]");
  out.push_back(fmt::format("{} = [{}]", key, fmt::join(rows, ", ")));
}

}  // namespace

std::vector<std::string> toml_rows(const geodesy::Surroundings& s) {
  std::vector<std::string> out{fmt::format("altitude_m = {:.10g}", s.altitude_m)};
  add(out, "horizon_deg", s.horizon.points, [](const geodesy::Horizon::Point& p) {
    return fmt::format("{:.10g}, {:.10g}, {:.10g}", p.azimuth_deg, p.skyline.deg, p.skyline.km);
  });
  add(out, "foreground_deg", s.foreground.points, [](const geodesy::Foreground::Point& p) {
    return fmt::format("{:.10g}, {:.10g}", p.azimuth_deg, p.fall_deg);
  });
  add(out, "shore_m", s.shore.sectors, [](const geodesy::Shore::Sector& p) {
    return fmt::format("{:.10g}, {:.10g}", p.azimuth_deg, p.from_m);
  });
  return out;
}

std::string to_toml(const geodesy::Surroundings& s) {
  return fmt::format("{{{}}}", fmt::join(toml_rows(s), ", "));
}

std::string with_terrain(std::string text, const kit::Trip& trip) {
  for (const auto& site : trip.sites) {
    if (!site.from_files) continue;
    // It was read from there.
    auto changed = with_key(text, {"site", site.line}, "terrain", to_toml(site.from_files->found));
    assert(changed.has_value());
    if (changed) text = std::move(*changed);
  }
  return text;
}

}  // namespace skerry::files
