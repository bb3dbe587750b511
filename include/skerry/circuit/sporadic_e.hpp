// A way by sporadic E: its rays, what the layer takes from them, and on how many days it is strong enough.
// Layer: circuit. Sees everything above it.
#pragma once

#include <array>
#include <optional>

#include "skerry/ionosphere/sporadic_e.hpp"

namespace skerry::circuit {

/// The rays of one or two equal hops mirrored at 110 km. The geometry belongs to the path; the caller puts in the
/// layer's deciles at the hops' middles, and the share, for each hour.
struct EsRay {
  int hops = 1;              ///< 1 or 2
  double elevation_deg = 0;  ///< 0..90, 0 where the hop reaches beyond the horizon
  double slant_km = 0;       ///< whole path
  double secant = 1;         ///< of the angle of incidence at 110 km
  double end_db = 0;         ///< what each hop loses near and beyond its geometrical end
  double per_square_db = 0;  ///< what each hop loses at f = foEs; the loss grows with (f / foEs)^2
  double share = 1;  ///< 0..1, the odds are multiplied with it: es_latitude_share of each hop's middle
  std::array<ionosphere::Foes, 2> foes{};  ///< at the hops' middles; of one hop the first counts
};

/// A path of so many kilometres in one or two hops by sporadic E.
///   path_km   > 0
///   hops      1 or 2 (asserted)
///   returns   the ray with its share and the deciles left to fill in. Nothing where no margin could pay for it:
///             hops beyond 3000 km (114 dB each), two hops under 1500 km, where one serves better
///   source    Rec. ITU-R P.534 and P.2001 annex G (from memory): loss of one hop, dB,
///             [40 / (1 + d/130 + (d/250)^2) + 0.2 (d/2600)^2] (f/foEs)^2 + exp((d - 1660)/280), d in km;
///             geometry of a sphere of 6371 km. The formulas were drawn from signals at 30 to 100 MHz; 14 to
///             30 MHz: see es_odds
[[nodiscard]] std::optional<EsRay> es_ray(double path_km, int hops);

/// How much of its maps' strength sporadic E has for oblique rays at a geomagnetic latitude: 1 up to 55 degrees,
/// 0.3 from 65 degrees, in between straight. What ionosondes see there at night is the aurora's.
/// Measured: 100 W beacons of July 2017, two hops of 3900 to 4500 km with a middle beyond 57 degrees, 17 to 10 m: heard
/// on a tenth of the days that the same sum without this share gives, 0.3 a hop. Judgement: the corners.
[[nodiscard]] double es_latitude_share(double geomagnetic_lat_deg);

/// The days' foEs at a place and hour: log-normal to either side of its median.
class EsLayer {
 public:
  EsLayer() = default;
  explicit EsLayer(const ionosphere::Foes& foes);
  /// Share of days on which foEs is higher.
  [[nodiscard]] double exceeds(double log_mhz) const;

 private:
  double log_median_ = 0, per_log_below_ = 0, per_log_above_ = 0;
};

/// Days, 0..1, on which foEs is high enough: each hop must mirror (foEs sec i >= f), and what the hops take must not
/// be more than the signal has to spare. A signal is asked about at one hour and frequency and several levels.
///   spare_db  margin over what is needed, all counted (free space, absorption, bounce, antennas, noise) but the
///             layer's own loss
///   returns   never falls with spare_db or with a decile of foEs, never rises with mhz; 0 for spare_db <= 0
///   accuracy  Measured: 17 beacons of 100 W at 11 receivers, July 2017, one hop of 400 to 2300 km; with 0 dBi, a
///             residential noise and 12 dB of spread: said on 25, 19, 10, 4 % of days on 17, 15, 12, 10 m, heard on 24,
///             14, 25, 14 % (the last two: few hours, biased to open ones); AUC .65, .73, .83, .67
///   limits    two hops: both pay from one margin, half each. That is why two hops have 0.12 to 0.2 of the product
///             of each hop's odds with all of the margin (same beacons with 10 dB less, 3900 to 4500 km,
///             17 and 15 m: product 16 %, said 2.5 %, heard 2.7 %). Their days count as independent.
///             Near the magnetic equator the days are too many by daylight (one path of 800 km: two to three
///             times, from few hours). One hop and two of the same path use the same patches: take the better, not
///             the sum; the same holds beside modes of the ordinary E layer, which the maps contain by day
class EsOdds {
 public:
  EsOdds() = default;  ///< none
  /// mhz > 0
  EsOdds(const EsRay& ray, double mhz);
  /// The same in two steps, for a ray that is asked about at many hours: its geometry at a frequency, then the layers
  /// at the hops' middles and the ray's share.
  [[nodiscard]] static EsOdds of_geometry(const EsRay& ray, double mhz);
  [[nodiscard]] EsOdds under(const std::array<EsLayer, 2>& layers, double share) const;
  [[nodiscard]] double operator()(double spare_db) const;
  /// Of a margin that pays for any loss: mirroring alone.
  [[nodiscard]] double most() const { return most_; }

 private:
  std::array<EsLayer, 2> layers_{};
  int hops_ = 0;
  double share_ = 0, end_db_ = 0, loss_db_mhz2_ = 0, least_log_mhz_ = 0;
  double enough_db_ = 0, most_ = 0;  ///< a margin from which on more brings nothing
  [[nodiscard]] double at(double log_mhz) const;
};

/// The same for one level.
[[nodiscard]] double es_odds(const EsRay& ray, double mhz, double spare_db);

/// What the layer takes from a ray over all hops at a foEs (> 0), dB.
[[nodiscard]] double es_loss_db(const EsRay& ray, double mhz, double foes_mhz);

}  // namespace skerry::circuit
