// The section along a way: what is drawn of it once, by the hour and for each cell.
// Layer: page (internal).
#pragma once

#include <optional>
#include <string>

#include "html_parts.hpp"
#include "skerry/advice/picture.hpp"

namespace skerry::page {

inline constexpr double section_width = 760, section_height = 288;
/// Of the drawing within: both sides, the ground, the top.
inline constexpr double section_edge = 30, section_ground = 268, section_top = 36;

/// Distances and heights to paper: x grows with the distance from the site, y downwards from the top. Heights are
/// stretched; the Earth's curve is taken out, so that a straight ray bends upwards and leaves at its true angle.
struct Frame {
  double km = 1, along = 1, up = 1;  ///< length of the way; units a kilometre
  bool long_way = false;
  GeoPoint from;
  double bearing_deg = 0;
  [[nodiscard]] double x(double at_km) const;
  [[nodiscard]] double y(double up_km) const;
};
/// A name as element content, cut where it has no room.
[[nodiscard]] std::string short_name(const std::string& name);
[[nodiscard]] Frame frame_of(const advice::PictureWay& way, double km, bool long_way);

/// Angle above the horizon of a hop over so much ground, degrees; negative where the Earth is in the way.
[[nodiscard]] double take_off_deg(double hop_km, double mirror_km);

/// The ray as drawn: never below the horizon, and with as many more hops as that takes.
struct DrawnRay {
  int hops = 1;
  double mirror_km = 300, elevation_deg = 0;
  /// As PictureCell::skip_km, never beyond where the first hop comes down as drawn.
  std::optional<double> skip_km;
  bool equal_hops = false;  ///< the method names no single ray, or its own would leave below the horizon
};
/// Of a cell that is open with a hop at least.
[[nodiscard]] DrawnRay drawn_ray(const advice::PictureCell& cell);
/// One hop of it, in relative terms: a ray is frame_start and as many of these as it has hops.
[[nodiscard]] std::string hop_path(const Frame& frame, const DrawnRay& ray, double km);
inline constexpr const char* frame_start = "M30 268";
/// The same picture for a cell whose way has another length.
[[nodiscard]] Frame frame_of_cell(Frame frame, const advice::PictureCell& cell);
/// The antenna's gain against elevation in the picture's own angles.
[[nodiscard]] std::string lobe_path(const Frame& frame, const advice::PicturePattern& pattern);

/// Pieces of the picture: what stays for a way, and what an hour changes.
[[nodiscard]] std::string frame_base(const Frame& frame, const std::string& from, const std::string& to);
[[nodiscard]] std::string frame_hour(const Frame& frame, Day day, int hour);

/// The whole picture of one cell.
[[nodiscard]] std::string section_svg(const kit::Trip& trip, const advice::Picture& picture,
                                      const PageStart& at);
/// The cell in a sentence; not escaped.
[[nodiscard]] std::string cell_text(const kit::Trip& trip, const advice::PictureWay& way,
                                    const advice::PictureCell& cell, std::size_t hour, std::size_t band);

}  // namespace skerry::page
