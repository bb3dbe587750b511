// What the pictures of a report show, gathered: the sun by the hour, ways, the ledger of every cell, skip
// zones. Layer: advice. Sees everything above it. Plain values; report only draws them.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "skerry/advice/advise.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/sun/localtime.hpp"

namespace skerry::advice {

/// The strongest mode of one region, hour and band under the packed kit; the same choice of setup, way and
/// person as Advice::openings.
struct PictureCell {
  std::optional<ServedBy> by;       ///< none: closed
  double es_days = 0;               ///< by sporadic E alone, both ways, in ten
  bool no_setup = false;            ///< nothing in the kit works this band at this site
  bool long_method = false;         ///< by the long-path method: no single mode is the strongest
  circuit::Mode strongest;          ///< or the long-path method's nominal one
  std::optional<circuit::Mode> es;  ///< the way by sporadic E, where that carries most of the days
  geodesy::Way way = geodesy::Way::short_way;
  double distance_km = 0, bearing_deg = 0;
  circuit::Direction there, back;
  /// Both told along the same mode, so that both directions explain one picture.
  circuit::Ledger there_terms, back_terms;
  double days_both = 0;
  /// Nearest place, along the way, that the sky serves at this hour and band on the days on which ray() is
  /// carried (on half of the days where that is more, or nothing is open), km; never beyond where ray() first
  /// comes down; 0: everywhere from the site on; none: nowhere up to 4000 km. Steps of skip_step_km.
  std::optional<double> skip_km;
  [[nodiscard]] bool open() const { return by.has_value(); }
  /// What is drawn.
  [[nodiscard]] const circuit::Mode& ray() const { return es ? *es : strongest; }
};
/// Judgement: finer than the line it is drawn with.
inline constexpr double skip_step_km = 100;

/// One region seen from one site.
struct PictureWay {
  int site = 0, target = 0;
  int person = 0;  ///< the largest group of people
  geodesy::Path path;
  sun::Zone far_zone = sun::Zone::utc();            ///< clock_of the region
  std::array<double, 24> far_sun_deg{};             ///< elevation of the Sun at the far end
  std::array<double, 24> muf_mhz{}, optimum_mhz{};  ///< of the short way
  std::vector<PictureCell> cells;                   ///< [hour][band], 24 x Trip::bands
};

struct PictureSite {
  int site = 0;
  std::array<double, 24> sun_deg{};    ///< elevation of the Sun, by UTC hour
  std::array<double, 24> minutes{};    ///< of sessions around each UTC hour, all days together
  std::array<int, 24> local_minute{};  ///< of the day, by UTC hour
  int map = 0;                         ///< index into Picture::maps
};

/// A map is drawn around a site; sites nearer than near_km share one.
struct PictureMap {
  int site = 0;
  bool antipode_on_land = false;
};
inline constexpr double map_near_km = 100;  ///< Judgement: a few pixels on a world map

/// Night at one UTC hour.
struct PictureNight {
  GeoPoint subsolar;
  std::vector<GeoPoint>
      edge;  ///< closed ring once round, first not repeated; the night is where the antisolar point is
};

/// Gain against elevation of one setup on one band.
struct PicturePattern {
  int setup = 0, band = 0;
  std::array<double, 91> best_dbi{}, mean_dbi{};  ///< over all bearings, at 0, 1, ... 90 degrees
  std::array<double, 91> towards_sea_dbi{};       ///< best, over the sea; equal to best_dbi without sea
  bool has_sea = false;
  std::array<double, 18>
      needed{};  ///< share of the open cells of this setup and band, by 5 degrees of elevation
};

struct Picture {
  Day day{};  ///< for which the Sun is drawn: the middle of the trip
  std::vector<PictureSite> sites;
  std::vector<PictureMap> maps;
  std::vector<PictureWay> ways;  ///< [site][target]
  std::array<PictureNight, 24> nights;
  std::vector<PicturePattern> patterns;
  std::vector<std::vector<GeoPoint>> coast;
  choose::Frontier frontier;  ///< of the advice
};

/// Recomputes the sky of the trip's paths (one Circuits call) and follows Advice::openings cell by cell.
///   advice    of the same trip, with openings
///   accuracy  the same numbers as Advice::openings (tests/advice/picture_test.cpp: 1e-9 days); the ledger's
///             lines sum to the received power, `together_db` being what other modes add
///   cost      under a second for the examples (most of it the skip zones)
[[nodiscard]] Picture make_picture(const kit::Trip& trip, const Advice& advice);

}  // namespace skerry::advice
