#include <fmt/format.h>

#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/rays.hpp"

namespace skerry::words {

namespace {

std::string band_of(const circuit::FanAnswer& a) {
  const auto& f = a.question.frequencies[a.frequency];
  return f.band.empty() ? fmt::format("{:.3f} MHz", f.mhz) : f.band;
}

std::string turned_by(const rays::Ray& ray) {
  if (ray.e_hops == ray.hops) return "E";
  return ray.e_hops == 0 ? "F2" : "E and F2";
}

/// A ray that a tilted layer turns again before it touches the ground.
std::string aloft(const rays::Ray& ray) {
  return ray.turns > ray.hops
             ? fmt::format(", {} times without touching the ground between", ray.turns - ray.hops + 1)
             : "";
}

std::string fan_line(const circuit::FanRay& r) {
  const auto head =
      fmt::format("  {:5.1f} deg  {:6.1f} dBi   ", r.ray.elevation_deg, plus_zero(r.gain_dbi, 1));
  switch (r.ray.ending) {
    case rays::Ending::escaped:
      return head + "through the layers and away\n";
    case rays::Ending::far:
      return head + "further than is traced here\n";
    case rays::Ending::landed:
      break;
  }
  return head + fmt::format("down at {:5.0f} km at {:4.1f} deg, turned at {:3.0f} km by {}{}\n",
                            r.ray.ground_km, plus_zero(r.ray.arrival_deg, 1), r.ray.apex_km, turned_by(r.ray),
                            aloft(r.ray));
}

std::string arriving_line(const circuit::FanAnswer::Arriving& r, bool best) {
  return fmt::format(
      "  {} off {}{}: leaves here at {:.1f} deg ({:+.1f} dBi), there at {:.1f} deg ({:+.1f} dBi), turned at {:.0f} km{}{}{}\n",
      counted(r.ray.hops, "hop"), turned_by(r.ray), r.high ? " (the high ray, weaker)" : "",
      r.ray.elevation_deg, plus_zero(r.gain_dbi, 1), plus_zero(r.ray.arrival_deg, 1), plus_zero(r.far_dbi, 1),
      r.ray.apex_km, aloft(r.ray),
      r.mirror_deg ? fmt::format("; a mirror has {:.1f} deg", plus_zero(*r.mirror_deg, 1)) : "",
      best ? "; likely the strongest" : "");
}

}  // namespace

std::string fan_moment(const circuit::FanAnswer& a) {
  return fmt::format("{} at {:02} UTC, {}", band_of(a), a.hour, to_iso(a.question.climate.day));
}

std::string end_name(GeoPoint where, const std::string& name) {
  return name.empty() ? geodesy::to_text(where, 1) : name;
}

std::string skip_text(const circuit::FanAnswer& a) {
  if (a.skip)
    return fmt::format(
        "No ray comes down nearer than {:.0f} km (the one that leaves at {:.0f} degrees): the skip zone.",
        a.skip->km, a.skip->elevation_deg);
  return a.steepest_lands ? "Rays come down at all distances: no skip zone."
                          : "All rays go through: nothing comes down.";
}

std::string arrival_text(const circuit::FanAnswer& a) {
  if (!a.best) return fmt::format("No ray comes down at {:.0f} km on half of the days.", a.path.distance_km);
  const auto& r = a.arriving[*a.best];
  return fmt::format(
      "At {:.0f} km arrives {} off {}, which leaves here at {:.1f} degrees and there at {:.1f}.",
      a.path.distance_km, counted(r.ray.hops, "hop"), turned_by(r.ray), r.ray.elevation_deg,
      plus_zero(r.ray.arrival_deg, 1));
}

std::string fan_limits() {
  return "Median layers of the month, bent as they are along the way; without magnetic field, absorption, sporadic E and "
         "what lies between F1 and F2.";
}

std::string fan_text(const circuit::FanAnswer& a) {
  std::string out = fmt::format("\nRays of {} ({:.3f} MHz), R12 {:g}; {:.0f} km, out at {:.0f} deg\n",
                                fan_moment(a), a.question.frequencies[a.frequency].mhz,
                                a.question.climate.r12, a.path.distance_km, a.path.bearing_deg);
  out += "  leaves at       gain   one hop\n";
  for (const auto& r : a.fan) out += fan_line(r);
  out += skip_text(a) + "\n";
  if (a.arriving.empty()) {
    out += arrival_text(a) + "\n";
  } else {
    out += fmt::format("At {:.0f} km arrive:\n", a.path.distance_km);
    for (std::size_t i = 0; i < a.arriving.size(); ++i) out += arriving_line(a.arriving[i], a.best == i);
  }
  out +=
      fmt::format("Highest usable frequency of the way: {:.1f} MHz by the circuit method", a.muf.basic_mhz);
  if (a.traced_muf_mhz) out += fmt::format(", {:.1f} MHz of one traced hop", *a.traced_muf_mhz);
  return out + ".\n" + fan_limits() + "\n";
}

}  // namespace skerry::words
