// The modes of a way as rays traced through the layers have them: the angles at both ends, which a mirror makes equal; and
// the fan of rays of one hour and frequency.
// Layer: circuit. Sees everything above it, and rays.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/rays/ray.hpp"

namespace skerry::circuit {

/// Traces one way's modes, hour by hour.
class Tracer {
 public:
  /// horizon: no ray leaves or arrives lower
  Tracer(const geodesy::Path& path, const ionosphere::Climate& climate, Circuits::Horizon horizon = {});
  /// hour 0..23 UTC. Modes of which no ray was found are left out. A mode above its MUF has the angles of a ray just under it.
  /// Several threads may ask.
  ///   limits    a mode by both layers, one hop each, belongs to none; of several rays of one mode the one nearest to the
  ///             mirror's angle counts
  ///   cost      3 ms for each number of hops, and as much again for each mode above its MUF
  [[nodiscard]] TracedModes modes(const Passage& passage, int hour) const;

 private:
  geodesy::Path path_;
  Circuits::Horizon horizon_;
  rays::Along along_;
};

/// Traces the modes of one hour and frequency of an answer, for its ledger. hour 0..23; frequency: an index into the
/// question's.
void trace_modes(PathAnswer& answer, std::size_t hour, std::size_t frequency);

/// A ray and all that is drawn of it.
struct FanRay {
  rays::Ray ray;
  double gain_dbi = 0;  ///< of the antenna at path.from, there where it leaves
  std::vector<rays::RayPoint> line;
};

/// What leaves one end on one frequency, and where it comes down.
struct FanAnswer {
  PathQuestion question;
  std::string from_name, to_name;  ///< set by an asker who has names
  geodesy::Path path;
  std::size_t hour = 0, frequency = 0;
  std::vector<FanRay> fan;         ///< one hop of each elevation that is drawn, rising
  std::optional<rays::Skip> skip;  ///< none: all rays escape, or the steepest comes down
  bool steepest_lands = false;     ///< nothing escapes: no skip zone
  struct Arriving : FanRay {
    bool high = false;
    double far_dbi = 0;  ///< gain of the antenna at path.to, there where it arrives
    std::optional<double>
        mirror_deg;  ///< the angle of the circuit method's mode of that layer and as many hops
  };
  std::vector<Arriving> arriving;  ///< by hops and elevation
  std::optional<std::size_t>
      best;     ///< of `arriving`, the strongest: gains at both ends, less what each hop costs
  HourMuf muf;  ///< of the circuit method
  std::optional<double> traced_muf_mhz;  ///< of one hop; none beyond one_hop_km
  std::array<double, 91> lobe_dbi{};     ///< gain at path.from by whole degrees
  std::vector<rays::RayPoint> f2_peak;   ///< how high the F2 layer's peak is along the way
};

/// Judgement: further than any single hop.
inline constexpr double one_hop_km = 4000;

/// hour 0..23; frequency: an index into the question's. The question's first way. lobe: gain at path.from by whole degrees,
/// instead of the question's.
[[nodiscard]] FanAnswer fan_answer(const PathQuestion& question, std::size_t hour, std::size_t frequency,
                                   const std::optional<std::array<double, 91>>& lobe = {});

}  // namespace skerry::circuit
