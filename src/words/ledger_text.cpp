// One hour and band taken apart, so that a reader can add it up by hand.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/ledger.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

namespace {

const char* role_text(circuit::PointRole role) {
  static constexpr std::array names{"middle",         "1000 km out",       "1000 km before",
                                    "half a hop out", "half a hop before", "middle of a hop"};
  return nth(names, role);
}

std::string mode_name(const circuit::Mode& m) {
  return fmt::format("{} off {}", counted(m.hops, "hop"), layer_text(m.layer));
}

std::string line(std::string_view name, double db) {
  return fmt::format("      {:<34}{:>8.1f} dB\n", name, plus_zero(db, 1));
}

/// What the skyline takes, where one stands: by its distance, which is theirs where only theirs stands.
std::string skyline_line(const circuit::PathQuestion& q, const circuit::Mode& m) {
  if (m.skyline_db <= 0) return {};
  const auto& edge = q.from.skyline.deg > 0 ? q.from.skyline : q.to.skyline;
  return line(fmt::format("over the skyline {:.1f} km away", edge.km), m.skyline_db);
}

std::string mode_ledger(const circuit::PathQuestion& q, const circuit::Mode& m, double mhz, double sent_dbw,
                        double gain_from, double gain_to) {
  std::string out = fmt::format(
      "    {}: leaves at {:.1f} deg, mirror at {:.0f} km, ray {:.0f} km, MUF {:.1f} MHz\n"
      "      (its limit is above {:.1f} MHz on {:.0f} days in ten; on the others it comes weaker)\n",
      mode_name(m), m.elevation_deg, m.reflection_height_km, m.slant_km, m.basic_muf_mhz, mhz,
      10 * m.support_probability);
  out += line("free space", m.free_space_db);
  out += line("absorption in the D region", m.absorption_db);
  out += line("above its usual limit (the MUF)", m.above_muf_db);
  out += line("bounces off the ground", m.ground_db);
  if (m.screening_db > 0) out += line("through the E layer below", m.screening_db);
  out += line("auroral zone", m.auroral_db);
  out += skyline_line(q, m);
  out += line("what the method adds", m.other_db);
  out += line("= loss", m.loss_db);
  out += fmt::format(
      "      {:.1f} dBW sent {:+.1f} dBi here {:+.1f} dBi there - {:.1f} dB = {:.1f} dBW arriving\n",
      plus_zero(sent_dbw, 1), plus_zero(gain_from, 1), plus_zero(gain_to, 1), m.loss_db,
      sent_dbw + gain_from + gain_to - m.loss_db);
  return out;
}

/// Judgement: a difference in degrees that is worth a line.
constexpr double worth_naming_deg = 2;

/// What the ray's own angles are, where they are not the mirror's.
std::string traced_line(const circuit::PathQuestion& q, double mhz, const circuit::Mode& m,
                        const circuit::TracedMode& ray) {
  const bool in_use = q.take_off == circuit::TakeOff::traced;
  const double most_off =
      std::max({std::abs(ray.from_deg - m.elevation_deg), std::abs(ray.to_deg - m.elevation_deg),
                std::abs(ray.from_deg - ray.to_deg)});
  if (!in_use && most_off < worth_naming_deg) return {};
  const double from_db = gain_dbi(q.from, mhz, ray.from_deg) - gain_dbi(q.from, mhz, m.elevation_deg);
  const double to_db = gain_dbi(q.to, mhz, ray.to_deg) - gain_dbi(q.to, mhz, m.elevation_deg);
  return fmt::format(
      "      traced through the layers it leaves here at {:.1f} deg and there at {:.1f} deg: {:+.1f} dB here, {:+.1f} dB "
      "there{}\n",
      ray.from_deg, ray.to_deg, plus_zero(from_db, 1), plus_zero(to_db, 1),
      in_use ? ", counted" : ", not counted");
}

std::string noise_ledger(const char* where, const circuit::Noise& n) {
  const auto level = [](const noise::Level& l) { return fmt::format("{:.1f} dB", plus_zero(l.fam_db, 1)); };
  return fmt::format(
      "    noise {}: man-made {}, lightning {}, galaxy {}; together {:.1f} dB over kT0 (+{:.1f} -{:.1f}), "
      "with the receiver {:.1f} dBW/Hz\n",
      where, level(n.sources.man_made), level(n.sources.atmospheric),
      n.sources.galactic ? level(*n.sources.galactic) : "shielded by the F layer",
      plus_zero(n.sources.total.fam_db, 1), n.sources.total.upper_db, n.sources.total.lower_db, n.dbw_per_hz);
}

std::string link_ledger(const char* way, const circuit::Noise& n, const circuit::Direction& l,
                        const noise::Mode& mode) {
  const double bandwidth_db = 10 * std::log10(mode.bandwidth_hz);
  return fmt::format(
      "    {}: {:.1f} dBW - ({:.1f} dBW/Hz + {:.1f} dB for {:g} Hz) = S/N {:.1f} dB; {} needs {:.1f}; margin "
      "{:.1f} dB\n      S/N varies by +{:.1f} -{:.1f} dB (deciles): {} for stations just as stated, {} "
      "over all that they may be{}\n",
      way, l.received_dbw, n.dbw_per_hz, bandwidth_db, mode.bandwidth_hz, plus_zero(l.snr_db, 1), mode.name,
      plus_zero(mode.required_snr_db, 1), plus_zero(l.margin_db, 1), l.snr_upper_db, l.snr_lower_db,
      whole_days(l.days_as_assumed), whole_days(l.days_in_ten),
      l.es_days >= 0.5 ? fmt::format(" (by sporadic E alone {})", days_sign(true, l.es_days)) : "");
}

std::string es_line(const circuit::Passage::ByEs& es, double mhz) {
  const auto& foes = es.ray.foes.front();
  return fmt::format(
      "      its layer: foEs {:.1f} MHz on 9 days in ten, {:.1f} on 5, {:.1f} on 1; at the median it takes {:.1f} dB "
      "more\n",
      foes.lower_mhz, foes.median_mhz, foes.upper_mhz, circuit::es_loss_db(es.ray, mhz, foes.median_mhz));
}

}  // namespace

std::string way_ledger(const circuit::PathAnswer& a, const circuit::WayAnswer& way, std::size_t hour,
                       std::size_t frequency) {
  const auto& q = a.question;
  const auto& f = q.frequencies[frequency];
  const auto& h = way.hours[hour];
  const auto& b = h.bands[frequency];
  std::string out = fmt::format("    path MUF {:.1f} MHz, operational {:.1f}, optimum {:.1f}",
                                h.muf.basic_mhz, h.muf.operational_mhz, h.muf.optimum_mhz);
  if (h.muf.long_upper_mhz > 0)
    out += fmt::format("; over 7000 km: limits fL {:.1f} and fM {:.1f}", h.muf.long_lower_mhz,
                       h.muf.long_upper_mhz);
  out +=
      "\n    control point          where                 solar time  Sun up   foF2    foE   M(3000)  dip* "
      "  fH\n";
  for (const auto& p : h.control_points) {
    out += fmt::format(
        "    {:<20}   {:<20}   {:4.1f} h   {:5.1f}   {:5.2f}  {:5.2f}   {:5.2f}   {:5.1f}  {:4.2f}\n",
        role_text(p.role), geodesy::to_text(p.where, 1), p.solar_hour, 90 - p.zenith_deg, p.fof2_mhz,
        p.foe_mhz, p.m3000f2, p.modip_deg, p.gyro300_mhz);
  }
  out += "    (* modified dip, degrees; frequencies in MHz)\n";
  const double sent_dbw = 10 * std::log10(q.from.power_w);
  for (const auto& m : b.passage.in_use()) {
    const auto* ray = b.traced.find(m);
    const bool by_ray = ray != nullptr && q.take_off == circuit::TakeOff::traced;
    out += mode_ledger(q, m, f.mhz, sent_dbw,
                       gain_dbi(q.from, f.mhz, by_ray ? ray->from_deg : b.passage.leaves_deg(m)),
                       gain_dbi(q.to, f.mhz, by_ray ? ray->to_deg : b.passage.arrives_deg(m)));
    if (ray != nullptr) out += traced_line(q, f.mhz, m, *ray);
  }
  for (const auto& es : b.passage.es_in_use()) {
    out += mode_ledger(q, es.mode, f.mhz, sent_dbw, gain_dbi(q.from, f.mhz, b.passage.leaves_deg(es.mode)),
                       gain_dbi(q.to, f.mhz, b.passage.arrives_deg(es.mode)));
    out += es_line(es, f.mhz);
  }
  if (b.passage.count > 1) out += "    the modes' powers add up\n";
  if (b.passage.long_share > 0) {
    const auto& m = b.passage.long_mode;
    out += fmt::format(
        "    long-path method ({:.0f} % of the blend): about {} under a 300 km mirror, ray {:.0f} km\n",
        100 * b.passage.long_share, mode_name(m), m.slant_km);
    out += line("free space", m.free_space_db);
    out += line("between its two limit frequencies", m.absorption_db);
    out += line("focusing towards the antipode", m.focusing_db);
    out += line("residual", m.other_db);
    out += skyline_line(q, m);
    out += line("= loss", m.loss_db);
  }
  if (!b.any()) {
    out += "    shut off: no ray comes over the horizon\n";
  } else if (!b.open()) {
    out += fmt::format("    closed: what is left so far above the MUF ({:.1f} MHz) is too weak\n",
                       h.muf.basic_mhz);
  }
  out += noise_ledger("there", b.noise_to) + noise_ledger("here", b.noise_from);
  if (b.any()) {
    out += link_ledger("I am heard", b.noise_to, b.there, q.mode);
    out += link_ledger("I hear them", b.noise_from, b.back, q.mode);
  }
  if (b.ground_there.open) {
    out += fmt::format(
        "    along the ground, between verticals low down: S/N {:.1f} dB there, {:.1f} dB here; works on "
        "{}{}\n",
        plus_zero(b.ground_there.snr_db, 1), plus_zero(b.ground_back.snr_db, 1),
        whole_days(std::min(b.ground_there.days_in_ten, b.ground_back.days_in_ten)),
        b.skip_zone ? "; skip zone: too far for the ground wave, too near for the sky" : "");
  }
  out += fmt::format("    both ways: {}\n", whole_days(b.both_days_in_ten));
  return out;
}

std::string ledger_text(const circuit::PathAnswer& a, std::size_t hour, std::size_t frequency) {
  std::string out;
  for (const auto& way : a.ways)
    out += fmt::format("\nLedger: {} way, {:02} UTC, {:.3f} MHz\n", way_text(way.path.way), hour,
                       a.question.frequencies[frequency].mhz) +
           way_ledger(a, way, hour, frequency);
  return out;
}

}  // namespace skerry::words
