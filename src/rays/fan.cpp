// Many rays: the fan, its nearest landing, those that come down at a place.

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "skerry/rays/ray.hpp"

namespace skerry::rays {

namespace {

/// Judgement: how near is there, km; a two-hundredth of what the maps know of a place's sky.
constexpr double near_km = 0.5;

/// Where a ray comes down; infinitely far where it does not.
double landing_km(const Ray& ray) {
  return ray.ending == Ending::landed ? ray.ground_km : std::numeric_limits<double>::infinity();
}

/// A fan of several hops: rays by elevation, and what one more is.
class Search {
 public:
  Search(const Slice& slice, double mhz, double far_km) : slice_(slice), mhz_(mhz), far_km_(far_km) {
    for (const double deg : fan_elevations()) {
      Ray ray;
      ray.elevation_deg = deg;
      rays_.push_back(ray);
    }
  }
  /// One hop more for all that have landed; the others stay as they are.
  void next() {
    ++hops_;
    for (auto& ray : rays_) {
      if (ray.ending == Ending::landed) hop(slice_, mhz_, far_km_, ray);
    }
  }
  [[nodiscard]] const std::vector<Ray>& rays() const { return rays_; }
  [[nodiscard]] bool any() const {
    return std::any_of(rays_.begin(), rays_.end(), [](const Ray& r) { return r.ending == Ending::landed; });
  }
  [[nodiscard]] Ray at(double deg) const { return trace(slice_, mhz_, deg, hops_, far_km_); }

  /// The nearest landing between two elevations, where the one in the middle is nearer than either end.
  /// Golden section.
  [[nodiscard]] Ray nearest(double low, double middle, double high) const {
    constexpr double gold = 0.381966;
    Ray best = at(middle);
    for (int i = 0; i < 20 && high - low > 0.002; ++i) {
      const bool right = high - middle > middle - low;
      const double probe = right ? middle + gold * (high - middle) : middle - gold * (middle - low);
      const Ray ray = at(probe);
      if (landing_km(ray) < landing_km(best)) {
        (right ? low : high) = middle;
        middle = probe;
        best = ray;
      } else {
        (right ? high : low) = probe;
      }
    }
    return best;
  }

  /// The ray between two that comes down at `km`; none where the landing jumps past it.
  [[nodiscard]] std::optional<Ray> between(Ray a, Ray b, double km) const {
    for (int i = 0; i < 40; ++i) {
      const double da = landing_km(a) - km, db = landing_km(b) - km;
      if (std::abs(da) < near_km) return a;
      if (std::abs(db) < near_km) return b;
      if (std::abs(b.elevation_deg - a.elevation_deg) < 1e-5) return std::nullopt;
      double share = 0.5;
      // Regula falsi every other time, so that a curve bent one way cannot stall it.
      if (i % 2 == 0 && std::isfinite(da) && std::isfinite(db))
        share = std::clamp(da / (da - db), 0.05, 0.95);
      const Ray middle = at(a.elevation_deg + share * (b.elevation_deg - a.elevation_deg));
      ((landing_km(middle) < km) == (da < 0) ? a : b) = middle;
    }
    return std::nullopt;
  }

 private:
  const Slice& slice_;
  double mhz_, far_km_;
  int hops_ = 0;
  std::vector<Ray> rays_;
};

bool dips(const std::vector<Ray>& rays, std::size_t i) {
  return i > 0 && i + 1 < rays.size() && landing_km(rays[i]) <= landing_km(rays[i - 1]) &&
         landing_km(rays[i]) < landing_km(rays[i + 1]);
}

}  // namespace

const std::vector<double>& fan_elevations() {
  static const std::vector<double> all = [] {
    std::vector<double> out{0.1};
    for (int i = 1; i <= 40; ++i) out.push_back(0.5 * i);
    for (int i = 21; i <= 40; ++i) out.push_back(i);
    for (int i = 42; i <= 88; i += 2) out.push_back(i);
    out.push_back(89.5);
    return out;
  }();
  return all;
}

Fan fan(const Slice& slice, double mhz, double far_km) {
  Search search(slice, mhz, far_km);
  search.next();
  Fan out{search.rays(), std::nullopt};
  const auto& rays = out.rays;
  const auto least = std::min_element(
      rays.begin(), rays.end(), [](const Ray& a, const Ray& b) { return landing_km(a) < landing_km(b); });
  if (!std::isfinite(landing_km(*least)) || least + 1 == rays.end()) return out;
  Ray best = *least;
  if (least != rays.begin())
    best = search.nearest((least - 1)->elevation_deg, least->elevation_deg, (least + 1)->elevation_deg);
  out.skip = {best.ground_km, best.elevation_deg};
  return out;
}

std::vector<Arrival> arrivals(const Slice& slice, double mhz, double km, int hops) {
  assert(km > 0 && hops >= 1);
  // Rays that overshoot by so much still serve as the other side of a bracket. Judgement.
  Search search(slice, mhz, km + 1500);
  std::vector<Arrival> out;
  for (int n = 1; n <= hops; ++n) {
    search.next();
    if (!search.any()) break;
    // The fan with the dips of its landings put in.
    std::vector<Ray> rays;
    for (std::size_t i = 0; i < search.rays().size(); ++i) {
      const auto& ray = search.rays()[i];
      rays.push_back(ray);
      if (!dips(search.rays(), i) || landing_km(ray) < km - near_km) continue;
      const Ray lowest = search.nearest(search.rays()[i - 1].elevation_deg, ray.elevation_deg,
                                        search.rays()[i + 1].elevation_deg);
      if (lowest.elevation_deg == ray.elevation_deg) continue;
      rays.insert(lowest.elevation_deg < ray.elevation_deg ? rays.end() - 1 : rays.end(), lowest);
    }
    for (std::size_t i = 0; i + 1 < rays.size(); ++i) {
      const double a = landing_km(rays[i]), b = landing_km(rays[i + 1]);
      if ((a < km) == (b < km)) continue;
      if (const auto ray = search.between(rays[i], rays[i + 1], km)) out.push_back({*ray, a < km});
    }
  }
  return out;
}

double muf_mhz(const Slice& slice, double km) {
  // To 0.1 %, between what any layer turns and what none does.
  double low = 0.3, high = 80;
  while (high > 1.001 * low) {
    const double middle = std::sqrt(low * high);
    const auto f = fan(slice, middle, km + 1500);
    const bool inside = f.skip ? f.skip->km <= km : f.rays.back().ending == Ending::landed;
    (inside ? low : high) = middle;
  }
  return low;
}

}  // namespace skerry::rays
