// What happens when on a trip: sessions, the time to leave, and openings of the packed kit. And where paths
// run on a map. Layer: advice. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/advice/advise.hpp"
#include "skerry/circuit/explain.hpp"

namespace skerry::advice {

enum class EventKind : std::uint8_t { session, leave, opening };

struct Event {
  EventKind kind = EventKind::session;
  int site = 0;
  std::optional<Id<kit::Target>> target;  ///< openings
  std::optional<Id<noise::Band>> band;    ///< openings: of Trip::bands
  UtcTime start{}, end{};
  double peak_days = 0;  ///< openings: most days in ten within it
  UtcTime peak{};
  std::optional<Id<kit::Setup>> setup;  ///< openings: of Advice::setups.possible, at the peak
  /// Openings: the first and the last moment that goes by the long way round, and its bearing; none: the short
  /// way does.
  struct LongWay {
    UtcTime from{}, to{};
    double bearing_deg = 0;
  };
  std::optional<LongWay> long_way;
  bool after_daylight = false;  ///< sessions: runs past the time to leave
  std::vector<Event> within;    ///< sessions, after gathered(): the openings that begin in it or go on in it
  /// What it is, whatever its exact times: the same trip asked again gives the same keys, so that a calendar
  /// updates instead of doubling.
  std::string key;
};

/// In order of start, then kind, site, region and band.
///   all_hours   also openings while nobody is on the air
///   openings    where days both ways of the best carried setup (Advice::openings, so ask for them) reach
///               Trip::want_days_in_ten, to the quarter of an hour (circuit::openings); under 10 minutes they
///               are left out
///   leave       15 minutes that end at the turn-back time of each day that has one
[[nodiscard]] std::vector<Event> agenda(const kit::Trip& trip, const Advice& advice, bool all_hours);

/// The same with every opening inside the sessions of its site that it meets, and none by itself.
[[nodiscard]] std::vector<Event> gathered(const std::vector<Event>& events);

/// A path as a map shows it.
struct Track {
  std::string from_name, to_name;
  geodesy::Path path;
  std::vector<GeoPoint> line;  ///< both ends, at most 100 km between points
  struct Reflection {
    GeoPoint where;
    int hop = 1;  ///< from 1
  };
  std::optional<circuit::BandExplanation> answer;  ///< of the hour asked about; its way is `path`
  std::vector<Reflection> reflections;             ///< middles of its hops; none while closed
};
[[nodiscard]] Track track_of(const geodesy::Path& path, std::optional<circuit::BandExplanation> answer);

}  // namespace skerry::advice
