// The contact: for a prepared way, an hour, a frequency, two stations and an emission, how strong each end
// is heard, above what noise, on how many days in ten, and every decibel of that sum. Nothing outside this
// room adds up a contact by itself.
// Layer: circuit. Sees everything above it.
//
// From the sky upwards: Circuits::passage (modes and losses), level (antennas), direction (power, noise,
// emission, days), contact (all of it). What is asked for by the thousand takes the steps it needs and keeps
// the others' results: a passage serves all stations, a level all powers, a noise all ways.
#pragma once

#include <array>
#include <limits>
#include <memory>
#include <optional>
#include <span>

#include "skerry/antenna/pattern.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/noise/noise.hpp"

namespace skerry::circuit {

/// One station as the contact sees it, at one frequency.
struct Station {
  double power_w = 10;                        ///< at the rig's output, key down (PEP for voice)
  const antenna::Pattern* pattern = nullptr;  ///< gain with all losses; null: isotropic with gain_dbi
  double gain_dbi = 0;                        ///< used when pattern is null and home is false
  bool home = false;                          ///< a HomeAntenna, used when pattern is null
  double layout_azimuth_deg = 0;              ///< the pattern is turned clockwise by this much
  double efficiency_db = 0;                   ///< <= 0; losses that weaken outside noise as well as signals
  /// Standard deviation of what is not known of it: its antenna, its place, its power. 0: as stated.
  double spread_db = 0;
  double receiver_noise_figure_db = 15;  ///< Judgement: small HF sets without preamplifier
  noise::Environment environment = noise::Environment::residential;
  double land_share = 1;         ///< land_share() of its place
  double man_made_above_db = 0;  ///< noise over what its class says
};

/// The antenna of a far station of which nothing is told: gain by elevation, the same all round.
class HomeAntenna {
 public:
  /// mhz  1.6..54; under and over the bands that were solved the nearest holds
  explicit HomeAntenna(double mhz);
  /// dBi; elevation 0..90 degrees; under 1 degree as at 1.
  [[nodiscard]] double gain_dbi(double elevation_deg) const;
  [[nodiscard]] double most_dbi() const;  ///< no elevation gives more

 private:
  std::array<double, 15> gain_dbi_{};
};

/// A far station told by power and noise class only: HomeAntenna, home_feed_db of cable and match (Judgement),
/// home_noise_db over its class (Judgement: newer surveys). Its spread: P.372's from place to place of its class, and
/// the rest (antenna, power, receiver), so that residential receivers come to the partner_spread_db that was
/// measured. Spreads Measured, July 2017, docs/scoring.md.
[[nodiscard]] Station unknown_station(double power_w, noise::Environment environment, GeoPoint where);
inline constexpr double home_feed_db = 2, home_noise_db = 5, partner_spread_db = 11, sender_spread_db = 8,
                        partner_rest_db = 9.35;

/// How much of the surroundings within 300 km is land, 0 (open sea) to 1 (half of it or more: distant
/// thunderstorms over land are heard in full). Judgement: of 32 places on rings of 150 and 300 km.
[[nodiscard]] double land_share(GeoPoint where);

/// Level of a way that nothing takes.
inline constexpr double closed_dbw = -std::numeric_limits<double>::infinity();

/// What arrives, dBW.
struct Received {
  double dbw = closed_dbw;  ///< monthly median by the regular layers
  /// By each of Passage::es, the loss in that layer not yet taken: how high foEs stands decides on it.
  std::array<double, es_rays> es_dbw{closed_dbw, closed_dbw};
  [[nodiscard]] Received operator+(double db) const { return {dbw + db, {es_dbw[0] + db, es_dbw[1] + db}}; }
};

/// What one watt becomes on its way, whichever end sends it: sky and antennas are the same in both
/// directions. Neither power nor noise.
struct Level {
  bool any = false;       ///< some mode gets past the skyline; the rest has no meaning unless any
  double modes_dbw = 0;   ///< all modes together, for 1 W; minus infinity: none
  double long_dbw = 0;    ///< by the long-path method, for 1 W
  double long_share = 0;  ///< as Passage::long_share
  int best_mode = -1;     ///< the strongest, an index into Passage::modes; -1: the long-path method
  /// Gains at path.from and path.to towards the strongest mode; by the long-path method the best of its low
  /// angles.
  double from_dbi = 0, to_dbi = 0;
  double best_elevation_deg = 0;
  std::array<double, max_modes> mode_dbw{};  ///< mode by mode, for 1 W

  /// By each of Passage::es, for 1 W, that layer's own loss not yet taken.
  std::array<double, es_rays> es_dbw{closed_dbw, closed_dbw};

  /// Monthly median power at the receiver's terminals, dBW, by the regular layers. The blend of the two
  /// methods is not linear in the power sent.
  [[nodiscard]] double received_dbw(double sent_dbw) const;
  [[nodiscard]] Received received(double sent_dbw) const;
};
/// A mode's angles at path.from and path.to as a ray traced through the layers has them, degrees.
struct TracedMode {
  Layer layer = Layer::f2;
  int hops = 0;
  double from_deg = 0, to_deg = 0;
};
/// Those of a passage of which a ray was found (circuit/traced.hpp).
struct TracedModes {
  std::array<TracedMode, max_modes> modes;
  int count = 0;
  [[nodiscard]] const TracedMode* find(const Mode& mode) const;  ///< null: none
};

/// from, to: the stations at the ends of the path. traced: their antennas' gains are taken at its angles, where it has
/// them. Allocates nothing.
[[nodiscard]] Level level(const Passage& passage, const geodesy::Path& path, const Station& from,
                          const Station& to, const TracedModes* traced = nullptr);

/// Noise power at the receiver's terminals in 1 Hz, dBW, with its deciles, from outside and from the receiver
/// itself.
struct Noise {
  noise::Sources sources;
  double dbw_per_hz = -204;
  double upper_db = 0, lower_db = 0;
};
[[nodiscard]] Noise noise_at(const Circuits::EndSky& sky, GeoPoint where, unsigned month,
                             const Station& receiver, double mhz);
/// noise_at() of one place, month, station and frequency, for many hours: what no hour changes is worked out once.
class Receiving {
 public:
  Receiving(GeoPoint where, unsigned month, const Station& receiver, double mhz);
  [[nodiscard]] Noise at(const Circuits::EndSky& sky) const;

 private:
  noise::Listening outside_;
  double efficiency_, own_;
};

/// One direction: what the receiver gets.
struct Direction {
  bool any = false;   ///< some mode arrives, however weak: received_dbw to margin_db are numbers
  bool open = false;  ///< a layer carries the band on some days, or the days below round to one at least
  double received_dbw = 0;                    ///< monthly median, by the regular layers
  double snr_db = 0;                          ///< median, in the emission's reference bandwidth
  double margin_db = 0;                       ///< snr - required
  double snr_upper_db = 0, snr_lower_db = 0;  ///< decile distances of the signal-to-noise ratio
  /// Days of the month in ten, by any layer, over all stations that the unknown one may be: the mean of the
  /// basic circuit reliability (P.533 section 10, P.842) over spread_db.
  double days_in_ten = 0;
  double days_as_assumed = 0;  ///< the same for stations just as stated
  double es_days = 0;          ///< by sporadic E alone
};
/// noise: at the receiver. A received power of minus infinity is a closed path.
///   spread_db  of stations and method together (unknown_db), 0..40
[[nodiscard]] Direction direction(const Passage& passage, const Received& received, const Noise& noise,
                                  const noise::Mode& emission, double spread_db);
/// Its days_in_ten alone, for asking many; where they are fewer than `least`, that or 0.
[[nodiscard]] double days_in_ten(const Passage& passage, const Received& received, const Noise& noise,
                                 const noise::Mode& emission, double spread_db, double least = 0);
/// Standard deviation of the margin from one pair of stations to the next, dB: theirs and the method's own.
[[nodiscard]] double unknown_db(const Station& a, const Station& b);
/// A received power under which direction() calls fewer than `days` in ten, less what the emission asks for
/// (its required ratio and bandwidth): for skipping what is hopeless; up to 0.5 dB under the true edge, and
/// further where sporadic E may help. days 0..10.
[[nodiscard]] double least_dbw(const Passage& passage, const Noise& noise, double days, double spread_db);

/// Basic circuit reliability, 0..1, of a margin (dB) with the ratio's upper and lower decile distances.
[[nodiscard]] double reliability(double margin_db, double upper_db, double lower_db);
/// Its mean over margins that are normal about margin_db with a standard deviation of spread_db, 0..1.
[[nodiscard]] double reliability(double margin_db, double upper_db, double lower_db, double spread_db);

/// Works both ways on as many days as the worse direction: the same ionosphere carries both, so the days
/// coincide (fully correlated; independent days would give the product). Judgement.
[[nodiscard]] inline double both_ways(double there_days, double back_days) {
  return there_days < back_days ? there_days : back_days;
}

/// Both directions: `there` from path.from to path.to.
struct BothWays {
  Direction there, back;
  double days_in_ten = 0;  ///< both_ways of the two
  double days_as_assumed = 0;
  [[nodiscard]] bool open() const { return there.open; }
  [[nodiscard]] double es_days() const { return both_ways(there.es_days, back.es_days); }
  /// Without sporadic E it would be less than half of it. Judgement.
  [[nodiscard]] bool by_es() const { return open() && es_days() > days_in_ten / 2; }
};
/// there is received at path.to, back at path.from; minus infinity where closed.
[[nodiscard]] BothWays directions(const Passage& passage, const Received& there, const Received& back,
                                  const Noise& noise_from, const Noise& noise_to, const noise::Mode& emission,
                                  double spread_db);

/// The decibel sum of one direction: sent + gains - losses + together = received; received - noise = S/N;
/// S/N - needed = margin.
struct Ledger {
  double sent_dbw = 0, from_dbi = 0, to_dbi = 0;  ///< gains at the path's ends, whichever sends
  /// Losses of the strongest mode. The long-path method gives one loss for both of its limit frequencies: it
  /// is split in the proportion of its own two terms, the lower limit's share to the D layer, the upper's to
  /// above_muf_db.
  double free_space_db = 0, d_layer_db = 0, above_muf_db = 0, bounces_db = 0, screening_db = 0,
         auroral_db = 0, skyline_db = 0, other_db = 0;
  double focusing_db = 0;  ///< towards the antipode; a negative loss
  double together_db = 0;  ///< what the other modes, or the blend of the two methods, add to the strongest
  double noise_dbw = 0;    ///< in the emission's bandwidth
  double needed_db = 0;    ///< the emission's required ratio
  [[nodiscard]] double losses_db() const {
    return free_space_db + d_layer_db + above_muf_db + bounces_db + screening_db + auroral_db + skyline_db +
           other_db + focusing_db;
  }
  [[nodiscard]] double received_dbw() const {
    return sent_dbw + from_dbi + to_dbi - losses_db() + together_db;
  }
  [[nodiscard]] double margin_db() const { return received_dbw() - noise_dbw - needed_db; }
};

/// All of it.
struct Contact : BothWays {
  Passage passage;
  Level level;
  Noise noise_from, noise_to;      ///< at path.from and path.to
  std::optional<int> es_way;       ///< the better of Passage::es, where it has odds at all
  Ledger there_terms, back_terms;  ///< of the two directions; only when any
  [[nodiscard]] bool any() const { return level.any; }
  /// The mode of the ledgers: the strongest, or the nominal one of the long-path method. Only when any.
  [[nodiscard]] const Mode& strongest() const {
    return level.best_mode < 0 ? passage.long_mode : passage.modes[static_cast<std::size_t>(level.best_mode)];
  }
  [[nodiscard]] bool long_method() const { return any() && level.best_mode < 0; }
};

/// Two stations on one path at some frequencies, asked hour by hour: what no hour changes is worked out once. Once it is
/// made, asking allocates nothing. For one thread; not longer than its Circuits, nor than the stations' patterns.
class Link {
 public:
  /// mhz 1.6..30
  Link(const Circuits& circuits, std::size_t index, std::span<const double> mhz, const Station& from,
       const Station& to, const noise::Mode& emission);
  Link(Link&&) noexcept;
  Link& operator=(Link&&) noexcept;
  ~Link();
  /// hour 0..23 UTC; `at(i)` is the Contact to fill for the i-th frequency, `traced(i)` as in level().
  ///   accuracy  the ledgers sum to the margins within rounding (tests/circuit/contact_test.cpp)
  template <class At, class Traced>
  void contacts(int hour, At&& at, Traced&& traced) {
    begin(hour);
    for (std::size_t i = 0; i < size(); ++i) fill(i, at(i), traced(i));
  }
  /// The same in short, noises being known: `there` to the last bit; `back` is the way there at the other end's power,
  /// so that hopeless signals at Level's floor differ.
  void contacts(int hour, std::span<const Noise> noise_from, std::span<const Noise> noise_to,
                std::span<BothWays> out);
  [[nodiscard]] std::size_t size() const;  ///< frequencies

 private:
  struct Data;
  std::unique_ptr<Data> data_;
  Circuits::EndSky from_sky_, to_sky_;  ///< at the hour
  void begin(int hour);
  void fill(std::size_t i, Contact& out, const TracedModes* traced);
};

/// One hour and frequency of it.
[[nodiscard]] Contact contact(const Circuits& circuits, std::size_t index, int hour, double mhz,
                              const Station& from, const Station& to, const noise::Mode& emission,
                              const TracedModes* traced = nullptr);

/// Farthest path whose ground wave is computed, km.
inline constexpr double ground_wave_limit_km = 400;

/// Along the ground between two stations without a pattern: both ends count as verticals low down whose gain
/// along perfect ground is the stated gain_dbi. The strength is the same on all days: only the noise varies.
struct GroundWave {
  Direction there, back;
  double days_in_ten = 0;  ///< both ways
};
/// Power lost along the ground, dB, gains of both ends taken off; nullopt beyond ground_wave_limit_km.
[[nodiscard]] std::optional<double> ground_loss_db(const geodesy::Path& path, const Station& from,
                                                   const Station& to, double mhz);
/// `loss_db` from ground_loss_db; noise at the two ends.
[[nodiscard]] GroundWave ground_wave(double loss_db, const Station& from, const Station& to,
                                     const Noise& noise_from, const Noise& noise_to,
                                     const noise::Mode& emission);

}  // namespace skerry::circuit
