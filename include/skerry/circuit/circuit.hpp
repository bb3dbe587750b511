// Which modes carry a path at each hour and frequency, and what each loses on the way: everything that
// depends on neither antennas, nor power, nor noise, computed once. Layer: circuit. Sees everything above it.
// Method: ITU-R P.533-14, section numbers as there (see DEVELOPERS.md for what is from memory).
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "skerry/circuit/settings.hpp"
#include "skerry/circuit/sporadic_e.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/geodesy/skyline.hpp"
#include "skerry/ionosphere/climate.hpp"

namespace skerry::circuit {

enum class Layer : std::uint8_t { e, f2, es };

/// One mode of one hour and frequency. Every loss in dB, positive; loss_db is their sum.
struct Mode {
  Layer layer = Layer::f2;
  int hops = 0;
  double elevation_deg = 0;
  double reflection_height_km = 0;  ///< mirror height
  double slant_km = 0;              ///< whole ray path p'
  double basic_muf_mhz = 0;         ///< of this mode
  double support_probability = 0;   ///< share of days on which the layer carries it, 0..1
  // Terms of the basic transmission loss (P.533 section 5.2.2):
  double free_space_db = 0;  ///< 32.45 + 20 log f + 20 log p'
  double absorption_db = 0;  ///< Li
  double above_muf_db = 0;   ///< Lm
  double ground_db = 0;      ///< Lg
  double screening_db = 0;   ///< the E layer under an F2 ray
  double auroral_db = 0;     ///< Lh
  double skyline_db = 0;     ///< over what stands in front of either end
  double other_db = 0;       ///< Lz, the method's constant, and what fades a mode near the end of its reach
  double focusing_db = 0;    ///< antipodal gain of the long-path method (a negative loss)
  double loss_db = 0;        ///< Lb
};

inline constexpr int max_modes = 9;  ///< 3 E and 6 F2
inline constexpr int es_rays = 2;    ///< one hop, two hops

/// What one hour and frequency offers on one path: its modes, and what the long-path method makes of it.
struct Passage {
  std::array<Mode, max_modes> modes;
  int count = 0;         ///< modes in use
  bool carried = false;  ///< a layer reflects this frequency on some days of the month at least
  /// Long-path method: share 0..1 in the blend (0 up to 7000 km and with FarMethod::hops), and its loss with the
  /// largest antenna gains of 0..8 degrees at both ends: Pr = Pt + Gtl + Grl - long_loss_db.
  double long_share = 0;
  double long_loss_db = 0;
  /// The whole path as equal hops under 300 km, for display; valid when long_share > 0. Its absorption_db is
  /// what the method's two limit frequencies take together, and this the lower one's share of it, 0..1: of
  /// the method's own two terms, (fL+fH)^2/(f+fH)^2 and (f+fH)^2/(fM+fH)^2.
  Mode long_mode;
  double long_lower_share = 0;
  /// Ways by sporadic E: their geometry and regular losses, and the odds of the layer.
  struct ByEs {
    Mode mode;
    EsRay ray;
    EsOdds odds;
  };
  std::array<ByEs, es_rays> es;
  int es_count = 0;
  double mhz = 0;
  /// No ray leaves lower: the skyline's edge at either end, degrees, 0 where none stands there.
  double least_from_deg = 0, least_to_deg = 0;
  double day_upper_db = 0, day_lower_db = 0;  ///< day-to-day deciles of the signal (P.842), > 0

  [[nodiscard]] bool any() const { return count > 0 || long_share > 0; }
  /// Elevation at the path's ends, where a ray under the edge leaves towards the edge.
  [[nodiscard]] double leaves_deg(const Mode& m) const { return std::max(m.elevation_deg, least_from_deg); }
  [[nodiscard]] double arrives_deg(const Mode& m) const { return std::max(m.elevation_deg, least_to_deg); }
  [[nodiscard]] std::span<const ByEs> es_in_use() const {
    return std::span(es).first(static_cast<std::size_t>(es_count));
  }
  [[nodiscard]] std::span<const Mode> in_use() const {
    return std::span(modes).first(static_cast<std::size_t>(count));
  }
};

/// Path-wide frequencies of one hour, MHz.
struct HourMuf {
  double basic_mhz = 0;        ///< greater of lowest-order F2 and E
  double operational_mhz = 0;  ///< P.533 section 3.7
  double optimum_mhz = 0;      ///< optimum working frequency: carried on 90 % of days
  double long_upper_mhz = 0;   ///< fM, 0 unless FarMethod::limits applies
  double long_lower_mhz = 0;   ///< fL, likewise
  double limit_mhz = 0;        ///< highest that the path takes: basic MUF, or fM where that is more
  int lowest_order_f2 = 0;     ///< n0; or the long-path method's number of hops
};

/// A control point and what it is used for.
enum class PointRole : std::uint8_t { middle, from_1000, to_1000, from_half_hop, to_half_hop, hop_middle };

/// Many paths under one sky. Built once, then asked for any hour and frequency from any thread.
class Circuits {
 public:
  /// All paths of one call share the map evaluation (two matrix products). Horizon: what stands in front of
  /// either end, one pair per path, or empty for a free horizon.
  struct Horizon {
    geodesy::Skyline from, to;
  };
  Circuits(std::span<const geodesy::Path> paths, const ionosphere::Climate& climate,
           const Settings& settings = {}, std::span<const Horizon> horizons = {});
  Circuits(Circuits&&) noexcept;
  Circuits& operator=(Circuits&&) noexcept;
  ~Circuits();

  [[nodiscard]] std::size_t size() const;
  [[nodiscard]] const geodesy::Path& path(std::size_t index) const;
  [[nodiscard]] const ionosphere::Climate& climate() const;
  /// hour 0..23 UTC.
  [[nodiscard]] HourMuf muf(std::size_t index, int hour) const;
  /// hour 0..23 UTC, mhz 1.6..30 (the method: 2..30). Pure and thread-safe.
  [[nodiscard]] Passage passage(std::size_t index, int hour, double mhz) const;
  /// One path at some frequencies, asked hour by hour: what no hour changes is worked out once, and what no frequency
  /// changes once an hour. For one thread; not longer than its Circuits.
  class Tuned {
   public:
    Tuned(const Circuits& circuits, std::size_t index, std::span<const double> mhz);
    Tuned(Tuned&&) noexcept;
    Tuned& operator=(Tuned&&) noexcept;
    ~Tuned();
    /// From now on this hour, 0..23 UTC.
    void begin(int hour);
    /// What passage() gives for the i-th frequency. Allocates nothing.
    void fill(std::size_t i, Passage& out);

   private:
    struct Data;
    std::unique_ptr<Data> data_;
  };
  /// Overhead critical frequency and Sun at the two ends (for noise), hour 0..23.
  struct EndSky {
    double fof2_mhz = 0, zenith_deg = 0, solar_hour = 0;
  };
  [[nodiscard]] EndSky from_sky(std::size_t index, int hour) const;
  [[nodiscard]] EndSky to_sky(std::size_t index, int hour) const;

  struct ControlPoint {
    PointRole role;
    GeoPoint where;
    double solar_hour, zenith_deg, fof2_mhz, m3000f2, foe_mhz, modip_deg, gyro300_mhz;
  };
  [[nodiscard]] std::vector<ControlPoint> control_points(std::size_t index, int hour) const;

  struct Data;  ///< opaque

 private:
  std::unique_ptr<Data> data_;
};

}  // namespace skerry::circuit
