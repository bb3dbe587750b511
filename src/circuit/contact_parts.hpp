// The sum of a contact in pieces that many hours or frequencies share.
// Layer: circuit (internal).
#pragma once

#include <optional>

#include "skerry/circuit/contact.hpp"
#include "skerry/core/units.hpp"

namespace skerry::circuit {

/// A station's gain toward one bearing.
class Toward {
 public:
  Toward(const Station& station, double bearing_deg, double mhz) : even_dbi_(station.gain_dbi) {
    if (station.pattern != nullptr) {
      cut_ = station.pattern->cut(bearing_deg - station.layout_azimuth_deg);
    } else if (station.home) {
      home_.emplace(mhz);
    }
  }
  [[nodiscard]] double gain_dbi(double elevation_deg) const {
    if (cut_.left != nullptr) return cut_.at_dbi(elevation_deg);
    return home_ ? home_->gain_dbi(elevation_deg) - home_feed_db : even_dbi_;
  }
  [[nodiscard]] double low_gain_dbi() const {
    if (cut_.left != nullptr) return cut_.low_angle_dbi();
    return gain_dbi(antenna::Pattern::low_angle_deg);
  }
  /// Both are home antennas: on one frequency they have the same gains.
  [[nodiscard]] bool as(const Toward& other) const { return home_ && other.home_; }

 private:
  double even_dbi_;
  std::optional<HomeAntenna> home_;
  antenna::Pattern::Cut cut_;
};

/// What an emission asks for.
struct Asked {
  double bandwidth_db, required_db;
  explicit Asked(const noise::Mode& emission)
      : bandwidth_db(to_db(emission.bandwidth_hz)), required_db(emission.required_snr_db) {}
};

[[nodiscard]] Level level(const Passage& passage, const Toward& here, const Toward& there,
                          const TracedModes* traced);
[[nodiscard]] BothWays directions(const Passage& passage, const Received& there, const Received& back,
                                  const Noise& noise_from, const Noise& noise_to, const Asked& asked,
                                  double spread_db);

}  // namespace skerry::circuit
