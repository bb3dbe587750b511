// ITU Regions: three lines on the globe, and the states that keep to one Region across a line.
#include <algorithm>
#include <array>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/ring.hpp>
#include <span>
#include <vector>

#include "skerry/geodesy/path.hpp"
#include "skerry/geodesy/region.hpp"
#include "vec.hpp"

namespace skerry::geodesy {

namespace {

namespace bg = boost::geometry;
using Point = bg::model::d2::point_xy<double>;
using Ring = bg::model::ring<Point, true, false>;

/// Latitude of the Tropic of Cancer. Source: obliquity of the ecliptic 23 deg 26 min (of date; moves 0.5" a
/// year).
constexpr double tropic_deg = 23.43;

/// Corners from north to south; between two of them the line is a great circle, or a meridian or parallel
/// when longitudes or latitudes are equal. Line C runs along 10 N from 170 W to 120 W: two corners of one
/// latitude. Source: Radio Regulations, Nos. 5.6 to 5.9, from memory of the text.
struct Corner {
  double lat_deg;
  double lon_deg;
};
constexpr std::array<Corner, 4> line_a = {{{90, 40}, {40, 40}, {tropic_deg, 60}, {-90, 60}}};
constexpr std::array<Corner, 5> line_b = {{{90, -10}, {72, -10}, {40, -50}, {-10, -20}, {-90, -20}}};
/// The Bering Strait boundary stands at 168 deg 58.5 min W.
constexpr std::array<Corner, 6> line_c = {
    {{90, -168.975}, {65.5, -168.975}, {50, 165}, {10, -170}, {10, -120}, {-90, -120}}};

/// Points along the line, closely set, by falling latitude, longitudes unwrapped.
std::vector<Corner> drawn(std::span<const Corner> corners) {
  // Judgement: 400 steps a side, at most 25 km each; the chord departs from the arc by under 0.02 km.
  constexpr int steps = 400;
  std::vector<Corner> out;
  double last = corners.front().lon_deg;
  const auto put = [&](double lat, double lon) {
    lon = last + wrap_180(lon - last);
    last = lon;
    out.push_back({lat, lon});
  };
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    const Corner& a = corners[i];
    const Corner& b = corners[i + 1];
    const bool plain = a.lon_deg == b.lon_deg || a.lat_deg == b.lat_deg;
    const Path arc = make_path({a.lat_deg, a.lon_deg}, {b.lat_deg, b.lon_deg}, Way::short_way);
    for (int k = i == 0 ? 0 : 1; k <= steps; ++k) {
      const double share = static_cast<double>(k) / steps;
      if (plain) {
        put(a.lat_deg + share * (b.lat_deg - a.lat_deg), a.lon_deg + share * (b.lon_deg - a.lon_deg));
      } else {
        const GeoPoint p = point_at(arc, share);
        put(p.lat_deg, p.lon_deg);
      }
    }
  }
  return out;
}

double longitude_at(const std::vector<Corner>& line, double lat_deg) {
  const auto below =
      std::partition_point(line.begin(), line.end(), [&](const Corner& c) { return c.lat_deg > lat_deg; });
  if (below == line.begin()) return line.front().lon_deg;
  if (below == line.end()) return line.back().lon_deg;
  const Corner& a = *(below - 1);
  const Corner& b = *below;
  return a.lon_deg + (b.lon_deg - a.lon_deg) * (a.lat_deg - lat_deg) / (a.lat_deg - b.lat_deg);
}

Ring ring_of(std::initializer_list<Corner> corners) {
  Ring out;
  for (const Corner& c : corners) out.emplace_back(c.lon_deg, c.lat_deg);
  bg::correct(out);
  return out;
}

/// Lands wholly in Region 1 although east of line A: Turkey, the Caucasus states, the five of Central Asia,
/// Mongolia, Russia and what lies north of it. Judgement: drawn by hand, borders good to about 0.3 degrees,
/// at sea half way to the neighbour; it only moves places between lines A and C from Region 3 to Region 1.
const Ring& eastern_region_1() {
  static const Ring ring = ring_of(
      {{90, 35},        {37.1, 35},      {37.1, 42},     {37.15, 44.75}, {38.3, 44.4},    {39, 44.3},
       {39.7, 44.6},    {39, 45.5},      {38.87, 46.1},  {39.2, 47},     {39.68, 47.8},   {39.35, 48.3},
       {38.85, 48.05},  {38.43, 48.85},  {37.9, 51},     {37.37, 53.9},  {37.45, 54.8},   {38.05, 55.6},
       {38.22, 57.3},   {37.68, 58.25},  {37.5, 59.3},   {36.62, 60.3},  {36.5, 61.1},    {35.4, 61.15},
       {35.35, 62.3},   {35.85, 63.2},   {36.1, 64},     {37.1, 64.7},   {37.5, 65.7},    {37.35, 66.5},
       {37.17, 67.3},   {37.2, 67.8},    {37.07, 68.3},  {37.2, 69.4},   {37.9, 70.2},    {38.45, 70.9},
       {38.3, 71.3},    {37.5, 71.4},    {36.7, 71.6},   {37, 72.7},     {37.4, 74},      {37.3, 74.9},
       {38.5, 74.9},    {39.4, 73.7},    {40.6, 75.5},   {40.4, 76.5},   {41.3, 78.3},    {42.1, 80.2},
       {43.2, 80.8},    {44.8, 80.35},   {45.2, 82.5},   {45.5, 82.3},   {47.2, 83},      {47.1, 85.5},
       {48.4, 85.8},    {49.1, 87.3},    {48.7, 87.8},   {46.9, 90.9},   {45.3, 91},      {44.3, 95.4},
       {42.75, 96.4},   {42.6, 99.5},    {42.5, 101.8},  {41.6, 105},    {42.4, 107.5},   {42.6, 110},
       {43.75, 111.9},  {44.7, 113.6},   {45.7, 116},    {46.7, 119.7},  {47.9, 118.5},   {47.8, 116.2},
       {48.1, 115.5},   {49.88, 116.7},  {49.52, 117.8}, {50.2, 119.3},  {52.4, 120.7},   {52.7, 120.1},
       {53.35, 121.5},  {53.55, 123.6},  {53.05, 125.5}, {51.3, 126.9},  {50.28, 127.46}, {50.255, 127.53},
       {49.8, 127.55},  {49.4, 129.5},   {48.9, 130.7},  {47.7, 131},    {47.75, 132.5},  {48.3, 134.75},
       {47.4, 134.3},   {45.1, 133.1},   {45.3, 131.9},  {44.8, 131.1},  {43.5, 131.2},   {42.42, 130.6},
       {42.28, 130.72}, {41.9, 132},     {43.3, 137},    {45.75, 140},   {45.75, 141.6},  {44.8, 144.6},
       {44.25, 145.4},  {43.75, 145.35}, {43.4, 145.85}, {43, 146.6},    {43.5, 149.5},   {45.5, 153.5},
       {49, 157},       {50.5, 159.5},   {53, 163},      {54, 168.5},    {54, 192},       {90, 192}});
  return ring;
}

/// Iran is wholly in Region 3. Judgement: drawn by hand as above; in the Gulf along the middle.
const Ring& iran() {
  static const Ring ring =
      ring_of({{38.43, 48.85}, {38.85, 48.05}, {39.35, 48.3}, {39.68, 47.8},  {39.2, 47},     {38.87, 46.1},
               {39, 45.5},     {39.7, 44.6},   {39, 44.3},    {38.3, 44.4},   {37.15, 44.75}, {36.6, 45},
               {36, 45.4},     {35.7, 46.1},   {35.1, 45.9},  {34.5, 45.6},   {33.95, 45.5},  {33, 46.1},
               {32.45, 47.3},  {31.7, 47.85},  {31, 47.7},    {30.45, 48.03}, {29.9, 48.55},  {28.6, 49.6},
               {27.7, 50.7},   {26.7, 52.2},   {25.7, 54.3},  {26, 55.2},     {26.5, 56.1},   {26.6, 56.6},
               {25.9, 57},     {25.3, 57.9},   {24.8, 60},    {25, 61.65},    {36.5, 61.1},   {36.62, 60.3},
               {37.5, 59.3},   {37.68, 58.25}, {38.22, 57.3}, {38.05, 55.6},  {37.45, 54.8},  {37.37, 53.9},
               {37.9, 51}});
  return ring;
}

bool inside(const Ring& ring, double lat_deg, double lon_deg) {
  return bg::covered_by(Point(lon_deg, lat_deg), ring);
}

}  // namespace

int itu_region_number(GeoPoint p) {
  static const std::vector<Corner> a = drawn(line_a);
  static const std::vector<Corner> b = drawn(line_b);
  static const std::vector<Corner> c = drawn(line_c);
  // Eastward from line A: Region 3 as far as line C, Region 2 as far as line B, then Region 1.
  const double from_a = longitude_at(a, p.lat_deg);
  const double east_of_a = wrap_360(p.lon_deg - from_a);
  const double to_c = wrap_360(longitude_at(c, p.lat_deg) - from_a);
  const double to_b = wrap_360(longitude_at(b, p.lat_deg) - from_a);
  if (east_of_a < to_c) {
    const double lon_deg = p.lon_deg < 0 ? p.lon_deg + 360 : p.lon_deg;
    return inside(eastern_region_1(), p.lat_deg, lon_deg) ? 1 : 3;
  }
  if (east_of_a < to_b) return 2;
  return inside(iran(), p.lat_deg, p.lon_deg) ? 3 : 1;
}

ItuRegion itu_region(GeoPoint where) {
  ItuRegion out;
  out.region = itu_region_number(where);
  // Look around on two rings instead of measuring to every line: this also sees the borders of the states
  // that keep to one Region. Judgement: 24 bearings, so a corner narrower than 50 km can be missed.
  constexpr int bearings = 24;
  for (const double reach_km : {100.0, 200.0}) {
    for (int i = 0; i < bearings && !out.near_line; ++i) {
      const int there = itu_region_number(destination(where, i * 360.0 / bearings, reach_km));
      if (there != out.region) {
        out.near_line = true;
        out.other = there;
      }
    }
  }
  return out;
}

}  // namespace skerry::geodesy
