#include "skerry/rays/ray.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::rays {

namespace {

constexpr double earth_km = earth_radius_km;
constexpr double base_radius_km = earth_km + base_km;

// Judgement: steps of group path, km: in the thin E layer, and above it, where a layer is thick enough. A twenty-fourth of them
// changed the landings of 400 rays through a tilted layer by 0.0005 km in the median and by 0.034 km at most.
constexpr double step_in_e_km = 6, step_km = 12, step_of_half = 0.15;
/// Judgement: a ray that crosses a border at once gets this share of a step before the border is looked for again.
constexpr double least_share = 0.02, on_border_km = 2e-6;
/// Judgement: a signal that has been under way for so long within one hop is caught between the layers.
constexpr double most_group_km = 20000;

/// Where a ray is and where it is headed. up: n sin(elevation); turn: n r cos(elevation), which layers that are alike
/// everywhere keep (Bouguer).
struct State {
  double r, at_km, up, turn;
};
State operator+(const State& a, const State& b) {
  return {a.r + b.r, a.at_km + b.at_km, a.up + b.up, a.turn + b.turn};
}
State operator*(double k, const State& s) {
  return {k * s.r, k * s.at_km, k * s.up, k * s.turn};
}

/// Haselgrove's equations for n^2 = 1 - (plasma frequency / f)^2, per km of group path.
struct Law {
  const Slice& slice;
  double per_f2;  ///< 1/f^2
  State operator()(Slice::Part part, const State& s) const {
    const auto d = slice.density(part, s.r, s.at_km);
    return {s.up, earth_km * s.turn / (s.r * s.r),
            s.turn * s.turn / (s.r * s.r * s.r) - 0.5 * d.per_km_up * per_f2,
            -0.5 * d.per_km_along * per_f2 * earth_km};
  }
  [[nodiscard]] State step(Slice::Part part, const State& s, double km) const {
    const auto a = (*this)(part, s);
    const auto b = (*this)(part, s + 0.5 * km * a);
    const auto c = (*this)(part, s + 0.5 * km * b);
    const auto d = (*this)(part, s + km * c);
    return s + (km / 6) * (a + 2.0 * b + 2.0 * c + d);
  }
};

Slice::Part next(Slice::Part part, int by) {
  return static_cast<Slice::Part>(static_cast<int>(part) + by);
}

/// One hop on its way.
class Flight {
 public:
  Flight(const Slice& slice, double mhz, double far_km, Ray& ray, std::vector<RayPoint>* drawn)
      : law_{slice, 1 / (mhz * mhz)},
        f_step_km_(std::min(step_km, step_of_half * slice.at(ray.ground_km).half_km)),
        far_km_(far_km),
        ray_(ray),
        drawn_(drawn) {}

  void run() {
    const double start_deg = ray_.hops == 0 ? ray_.elevation_deg : ray_.arrival_deg;
    apex_km_ = 0;
    group_start_km_ = ray_.group_km;
    ++ray_.hops;
    rise(start_deg);
    while (true) {
      if (part_ == Slice::Part::below) {
        if (s_.turn <= earth_km) return land();
        pass_under();
      } else if (part_ == Slice::Part::above) {
        return escape();
      } else {
        advance();
      }
      if (s_.at_km > far_km_ || ray_.group_km - group_start_km_ > most_group_km) return end(Ending::far);
    }
  }

 private:
  /// From the ground to where the layers begin: a straight line.
  void rise(double elevation_deg) {
    const double c = earth_km * cos_deg(elevation_deg);
    const double there = std::acos(c / base_radius_km);
    s_ = {base_radius_km, ray_.ground_km + earth_km * (there - elevation_deg * rad_per_deg), std::sin(there),
          c};
    ray_.group_km += base_radius_km * std::sin(there) - earth_km * sin_deg(elevation_deg);
    part_ = Slice::Part::e;
    draw_straight(c, elevation_deg * rad_per_deg, there, ray_.ground_km);
  }
  void land() {
    const double there = std::acos(std::min(1.0, s_.turn / base_radius_km));
    const double here = std::acos(std::min(1.0, s_.turn / earth_km));
    ray_.group_km += base_radius_km * std::sin(there) - earth_km * std::sin(here);
    draw_straight(s_.turn, -there, -here, s_.at_km);
    ray_.ground_km = s_.at_km + earth_km * (there - here);
    ray_.arrival_deg = here * deg_per_rad;
    if (apex_km_ <= e_peak_km) ++ray_.e_hops;
    end(Ending::landed);
  }
  /// Down through the base, past the Earth without touching it, and up again.
  void pass_under() {
    const double half = std::acos(std::min(1.0, s_.turn / base_radius_km));
    draw_straight(s_.turn, -half, half, s_.at_km);
    s_.at_km += 2 * earth_km * half;
    s_.up = std::sin(half);
    s_.r = base_radius_km;
    ray_.group_km += 2 * base_radius_km * std::sin(half);
    part_ = Slice::Part::e;
  }
  void escape() {
    if (drawn_ != nullptr) {
      // Judgement: straight on, high enough for any picture.
      constexpr double beyond_km = 600;
      const double c = s_.turn;
      const double r = std::max(s_.r, earth_km + beyond_km);
      draw({s_.at_km + earth_km * (std::acos(std::min(1.0, c / r)) - std::acos(std::min(1.0, c / s_.r))),
            r - earth_km});
    }
    end(Ending::escaped);
  }
  void end(Ending ending) {
    ray_.ending = ending;
    ray_.apex_km = std::max(ray_.apex_km, apex_km_);
    if (ray_.hops == 1) {
      ray_.first_apex_km = apex_km_;
      ray_.first_apex_at_km = apex_at_km_;
    }
  }

  /// How far within its part a state is, km: over the floor or under the next, whichever is less; < 0 outside.
  [[nodiscard]] double within(const State& s, int& side) const {
    const double up = s.r - earth_km;
    const double over = up - law_.slice.floor_km(part_, s.at_km);
    const double under = law_.slice.floor_km(next(part_, 1), s.at_km) - up;
    side = over < under ? -1 : 1;
    return std::min(over, under);
  }

  /// A step, or as much of it as ends at the border of the part.
  void advance() {
    double km = part_ == Slice::Part::e ? step_in_e_km : f_step_km_;
    State to = law_.step(part_, s_, km);
    int side = 0;
    double out = within(to, side);
    if (out < 0) {
      // False position with Illinois' rule between a length that stays inside and one that does not.
      int other = 0;
      double low = 0, high = km, low_in = within(s_, other), high_out = out;
      // From a border, into the part and out of it again within the step, if at all.
      for (double probe = km / 2; low_in < on_border_km && probe > least_share * km; probe /= 2) {
        const double in = within(law_.step(part_, s_, probe), other);
        if (in > on_border_km) {
          low = probe;
          low_in = in;
        } else {
          high = probe;
          high_out = std::min(in, 0.0);
          side = other;
        }
      }
      if (low_in < on_border_km) {
        km *= least_share;
      } else {
        for (int i = 0; i < 30; ++i) {
          km = low + (high - low) * low_in / (low_in - high_out);
          const double in = within(law_.step(part_, s_, km), other);
          if (std::abs(in) < on_border_km / 2) break;
          if (in > 0) {
            low = km;
            low_in = in;
            high_out /= 2;
          } else {
            high = km;
            high_out = in;
            side = other;
            low_in /= 2;
          }
        }
      }
      to = law_.step(part_, s_, km);
    }
    if (s_.up > 0 && to.up <= 0) {
      ++ray_.turns;
      note_apex(to, km);
    }
    s_ = to;
    ray_.group_km += km;
    if (out < 0) part_ = next(part_, side);
    draw();
  }

  /// The highest point of a step over which the ray has turned down; by the change of `up`, which is nearly even.
  void note_apex(const State& to, double km) {
    const double share = s_.up / (s_.up - to.up);
    const double top_km = s_.r + 0.5 * s_.up * share * km - earth_km;
    if (top_km <= apex_km_) return;
    apex_km_ = top_km;
    apex_at_km_ = s_.at_km + share * (to.at_km - s_.at_km);
  }
  /// A straight line, which is none where the Earth is drawn flat: from one elevation to another, radians; c is its
  /// least distance from the Earth's centre.
  void draw_straight(double c, double from, double to, double start_km) {
    constexpr int pieces = 4;
    for (int i = 0; i <= pieces && drawn_ != nullptr; ++i) {
      const double turned = (to - from) * i / pieces;
      draw({start_km + earth_km * turned, std::max(0.0, c / std::cos(from + turned) - earth_km)});
    }
  }
  void draw() { draw({s_.at_km, s_.r - earth_km}); }
  void draw(RayPoint point) {
    if (drawn_ != nullptr) drawn_->push_back(point);
  }

  Law law_;
  double f_step_km_, far_km_;
  Ray& ray_;
  std::vector<RayPoint>* drawn_;
  State s_{};
  Slice::Part part_ = Slice::Part::below;
  double apex_km_ = 0, apex_at_km_ = 0, group_start_km_ = 0;
};

}  // namespace

void hop(const Slice& slice, double mhz, double far_km, Ray& ray, std::vector<RayPoint>* drawn) {
  assert(ray.ending == Ending::landed && mhz > 0);
  Flight(slice, mhz, far_km, ray, drawn).run();
}

Ray trace(const Slice& slice, double mhz, double elevation_deg, int hops, double far_km,
          std::vector<RayPoint>* drawn) {
  Ray out;
  out.elevation_deg = elevation_deg;
  for (int i = 0; i < hops && out.ending == Ending::landed; ++i) hop(slice, mhz, far_km, out, drawn);
  return out;
}

}  // namespace skerry::rays
