// One path under one month's sky, for tests that ask it simple questions.
#pragma once

#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/core/units.hpp"

namespace sky_paths {

using namespace skerry;

inline const GeoPoint london = GeoPoint::at_deg(51.5, -0.1);
inline const GeoPoint new_york = GeoPoint::at_deg(40.7, -74.0);
inline const GeoPoint rome = GeoPoint::at_deg(41.9, 12.5);
inline const GeoPoint madrid = GeoPoint::at_deg(40.4, -3.7);
inline const GeoPoint warsaw = GeoPoint::at_deg(52.2, 21.0);
inline const GeoPoint tromso = GeoPoint::at_deg(69.6, 19.0);
inline const GeoPoint reykjavik = GeoPoint::at_deg(64.1, -21.9);
inline const GeoPoint melbourne = GeoPoint::at_deg(-37.8, 145.0);
inline const GeoPoint cape_town = GeoPoint::at_deg(-33.9, 18.4);
inline const GeoPoint nairobi = GeoPoint::at_deg(-1.3, 36.8);
inline const GeoPoint singapore = GeoPoint::at_deg(1.3, 103.8);
inline const GeoPoint rodrigues = GeoPoint::at_deg(-19.70, 63.43);
inline const GeoPoint honolulu = GeoPoint::at_deg(21.3, -157.9);
inline const GeoPoint tokyo = GeoPoint::at_deg(35.7, 139.7);
inline const GeoPoint chicago = GeoPoint::at_deg(41.9, -87.6);
inline const GeoPoint los_angeles = GeoPoint::at_deg(34.1, -118.2);

/// The method of two limit frequencies beyond 7000 km.
inline circuit::Settings by_limits() {
  circuit::Settings out;
  out.far = circuit::FarMethod::limits;
  return out;
}

class SkyPath {
 public:
  SkyPath(GeoPoint from, GeoPoint to, unsigned month, double r12, geodesy::Way way = geodesy::Way::short_way,
          circuit::Settings settings = {})
      : path_(geodesy::make_path(from, to, way)),
        circuits_(std::span(&path_, 1), climate(month, r12), settings) {}

  [[nodiscard]] double muf(int hour) const { return circuits_.muf(0, hour).basic_mhz; }
  [[nodiscard]] circuit::Passage passage(int hour, double mhz) const {
    return circuits_.passage(0, hour, mhz);
  }
  [[nodiscard]] bool open(int hour, double mhz) const { return passage(hour, mhz).carried; }
  /// Received median power of 1 W between isotropic antennas, dBW; -400 when closed.
  [[nodiscard]] double received_dbw(int hour, double mhz) const {
    const circuit::Station a;
    const auto level = circuit::level(passage(hour, mhz), path_, a, a);
    return level.any ? level.received_dbw(0) : -400;
  }
  /// Absorption of the mode with the least loss, dB.
  [[nodiscard]] double absorption_db(int hour, double mhz) const {
    const auto c = passage(hour, mhz);
    double best = 1e9, out = 1e9;
    for (const auto& m : c.in_use()) {
      if (m.loss_db < best) {
        best = m.loss_db;
        out = m.absorption_db;
      }
    }
    return out;
  }
  [[nodiscard]] const circuit::Circuits& circuits() const { return circuits_; }
  [[nodiscard]] const geodesy::Path& path() const { return path_; }

 private:
  static ionosphere::Climate climate(unsigned month, double r12) {
    ionosphere::Climate c;
    c.day = middle_of(std::chrono::year{2026} / std::chrono::month{month});
    c.r12 = ionosphere::R12(r12);
    return c;
  }
  geodesy::Path path_;
  circuit::Circuits circuits_;
};

}  // namespace sky_paths
