// Is there land or sea, and where do lines of coast run.
// Layer: geodesy. Sees core only.
#pragma once

#include <span>
#include <vector>

#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

/// True on land (Natural Earth 1:50 000 000; islands under a few km and ice shelves are sea in it, lakes are
/// land). Edges are straight in latitude and longitude, coordinates good to 0.001 degrees; a place on a coast
/// counts as land. Polygons clipped to tiles under an R-tree; thread-safe; the first call builds the tree
/// (1.5 ms), others take 0.1 us. Source: data/land/SOURCE.md. A small island site must carry its own ground
/// note and never be asked here.
[[nodiscard]] bool is_land(GeoPoint where);

/// How much of the ground about a place is land, 0..1: is_land at the four corners of its half degree of latitude
/// and longitude (up to 55 km apart), straight lines between, so that it never jumps. Thread-safe; a corner that
/// was asked before takes 1 ns.
[[nodiscard]] double land_about(GeoPoint where);

/// Outlines for drawing, at 1:110 000 000: rings of points, closed (first = last), split at +-180 degrees:
/// shapes to be filled. Seams run exactly along longitude 180 and -180 (so here, and only here, a longitude
/// may be -180) and latitude -90: a pen should leave out steps whose two ends both lie on one of these. Holes
/// (the Caspian Sea) turn the other way round.
[[nodiscard]] std::vector<std::vector<GeoPoint>> coastline();

}  // namespace skerry::geodesy
