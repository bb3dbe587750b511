#include "skerry/forms/drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <string_view>

#include "common.hpp"
#include "skerry/core/markup.hpp"
#include "skerry/core/text.hpp"
#include "skerry/words/where.hpp"

namespace skerry::forms {

namespace {

constexpr const char* head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";

/// Text between tags. Judgement on the length: nobody reads more on a small screen.
std::string escaped(std::string_view text) {
  return xml_text(one_line(text, 500));
}

std::string element(const char* name, std::string_view text) {
  return text.empty() ? std::string{} : fmt::format("<{0}>{1}</{0}>", name, escaped(text));
}

/// Of GPX: 180 degrees themselves do not stand in it.
std::string lat_lon(GeoPoint p) {
  return fmt::format("lat=\"{}\" lon=\"{}\"", fixed(p.lat_deg, 5), fixed(std::min(p.lon_deg, 179.99999), 5));
}
std::string lon_lat(GeoPoint p) {
  return fixed(p.lon_deg, 5) + "," + fixed(p.lat_deg, 5);
}

std::string way_name(const advice::Track& track) {
  return fmt::format("{} - {}, {} way", track.from_name, track.to_name, way_key(track.path.way));
}

std::string facts_of(const advice::Track& track, UtcTime when) {
  auto out = fmt::format("{:.0f} km, bearing {:.0f} there, {:.0f} back", track.path.distance_km,
                         track.path.bearing_deg, track.path.return_bearing_deg);
  if (track.answer)
    out += fmt::format("; {} on {} MHz: {:.1f} days in ten, limit {:.1f} MHz", to_iso(when),
                       fixed(track.answer->mhz, 4), track.answer->days, track.answer->muf.limit_mhz);
  return out;
}

}  // namespace

Drawing drawing_of(const GeoSheet& sheet) {
  Drawing out;
  out.name = "Paths, " + to_iso(sheet.when);
  std::set<std::string> named;
  for (const auto& track : sheet.tracks) {
    for (const auto& [name, where] :
         {std::pair{track.from_name, track.path.from}, std::pair{track.to_name, track.path.to}}) {
      if (named.insert(name + "|" + geodesy::to_text(where, 6)).second)
        out.marks.push_back({where, std::nullopt, name, geodesy::to_locator(where)});
    }
  }
  for (const auto& track : sheet.tracks) {
    out.lines.push_back({track.line, way_name(track), facts_of(track, sheet.when)});
    for (const auto& r : track.reflections) {
      const auto& mode = track.answer->mode;
      out.marks.push_back({r.where, std::nullopt,
                           fmt::format("{} hop {} of {}{}", layer_key(mode.layer), r.hop, mode.hops,
                                       track.answer->long_method ? ", nominal" : ""),
                           fmt::format("{}; {} on {} MHz, {:.0f} km up, elevation {:.1f} deg",
                                       way_name(track), to_iso(sheet.when), fixed(track.answer->mhz, 4),
                                       mode.reflection_height_km, mode.elevation_deg)});
    }
  }
  if (!sheet.terminator.empty()) {
    out.lines.push_back({sheet.terminator, "edge of night", to_iso(sheet.when)});
    out.lines.back().points.push_back(sheet.terminator.front());
  }
  return out;
}

Drawing drawing_of(const kit::Trip& trip, const advice::Elsewhere& answer) {
  static constexpr std::array dangers{"cliff", "surf", "tide", "lightning", "dark", "no way on foot"};
  Drawing out;
  out.name = trip.name;
  for (const auto& v : answer.places) {
    const auto& spot = v.place.spot;
    auto note = fmt::format("value {:.0f} %", 100 * v.reach);
    if (spot.out_minutes)
      note += fmt::format("; {:.0f} min there, {} back", *spot.out_minutes,
                          spot.back_minutes ? fmt::format("{:.0f}", *spot.back_minutes) : "?");
    for (std::size_t t = 0; t < v.facing.size(); ++t)
      note += fmt::format("; {} at {:.0f} deg{}", trip.targets[t].region.name, v.facing[t].bearing_deg,
                          v.facing[t].sea_m ? fmt::format(", sea from {:.0f} m", *v.facing[t].sea_m) : "");
    for (const auto danger : v.dangers) note += fmt::format("; danger: {}", nth(dangers, danger));
    out.marks.push_back({spot.at, v.place.lie.altitude_m,
                         fmt::format("{} {}", out.marks.size() + 1, words::spot_name(spot)), note});
  }
  return out;
}

std::string gpx(const Drawing& d) {
  std::string out = head;
  out += "<gpx version=\"1.1\" creator=\"skerry\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n<metadata>" +
         element("name", d.name) + "</metadata>\n";
  for (const auto& mark : d.marks)
    out += fmt::format("<wpt {}>{}{}{}</wpt>\n", lat_lon(mark.at),
                       mark.height_m ? element("ele", fixed(*mark.height_m, 1)) : "",
                       element("name", mark.name), element("desc", mark.note));
  for (const auto& line : d.lines) {
    out += "<trk>" + element("name", line.name) + element("desc", line.note) + "\n";
    for (const auto& part : cut_at_antimeridian(line.points)) {
      out += "<trkseg>";
      for (const auto& p : part) out += fmt::format("<trkpt {}/>", lat_lon(p));
      out += "</trkseg>\n";
    }
    out += "</trk>\n";
  }
  return out + "</gpx>\n";
}

std::string kml(const Drawing& d) {
  std::string out = head;
  out += "<kml xmlns=\"http://www.opengis.net/kml/2.2\">\n<Document>" + element("name", d.name) + "\n";
  const auto open = [&](const auto& of) {
    out += "<Placemark>" + element("name", of.name) + element("description", of.note);
  };
  for (const auto& mark : d.marks) {
    open(mark);
    out += fmt::format("<Point><coordinates>{}{}</coordinates></Point></Placemark>\n", lon_lat(mark.at),
                       mark.height_m ? "," + fixed(*mark.height_m, 1) : "");
  }
  for (const auto& line : d.lines) {
    open(line);
    const auto parts = cut_at_antimeridian(line.points);
    if (parts.size() > 1) out += "<MultiGeometry>";
    for (const auto& part : parts) {
      out += "<LineString><tessellate>1</tessellate><coordinates>";
      for (const auto& p : part) out += lon_lat(p) + (&p == &part.back() ? "" : " ");
      out += "</coordinates></LineString>";
    }
    if (parts.size() > 1) out += "</MultiGeometry>";
    out += "</Placemark>\n";
  }
  return out + "</Document>\n</kml>\n";
}

}  // namespace skerry::forms
