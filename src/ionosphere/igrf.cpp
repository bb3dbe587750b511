#include "igrf.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cassert>
#include <cstdint>
#include <string_view>
#include <vector>

#include "skerry/core/embedded.hpp"

namespace skerry::ionosphere::detail {

namespace {

// Source: IGRF (Alken et al. 2021): reference radius.
constexpr double reference_radius_km = 6371.2;
// Layout of data/igrf/igrf.bin, see its SOURCE.md.
constexpr int first_epoch = 1900;
constexpr int epoch_step = 5;
constexpr int epochs = 27;
[[maybe_unused]] constexpr int numbers_per_epoch = field_degree * (field_degree + 2);

struct Set {
  std::array<double, field_terms> g{}, h{};
};

constexpr std::size_t term(int n, int m) {  // place of (n, m) in the order of use
  int at = 0;
  for (int i = 0; i < m; ++i) at += field_degree + 1 - std::max(i, 1);
  return static_cast<std::size_t>(at + n - std::max(m, 1));
}
static_assert(term(field_degree, field_degree) == field_terms - 1);

std::vector<Set> decode() {
  const std::string_view bytes = embedded("igrf/igrf.bin");
  assert(bytes.size() == 4UL * epochs * numbers_per_epoch);
  std::size_t at = 0;
  const auto next = [&] {
    std::uint32_t word = 0;
    for (std::size_t b = 0; b < 4; ++b) {
      word |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + b])) << (8 * b);
    }
    at += 4;
    return static_cast<double>(static_cast<std::int32_t>(word)) / 100.0;  // stored in hundredths of a nT
  };
  std::vector<Set> out(epochs);
  for (Set& set : out) {
    for (int n = 1; n <= field_degree; ++n) {
      for (int m = 0; m <= n; ++m) {
        set.g[term(n, m)] = next();
        if (m > 0) set.h[term(n, m)] = next();
      }
    }
  }
  return out;
}

// Constants of the recursion over n at fixed m. Source: Langel, "The Main Field", in Geomagnetism vol. 1
// (1987), and any text on Schmidt semi-normalised functions (from memory): for Q = P/sin(colatitude), or P
// itself if m = 0,
//   Q(n,m) = [(2n-1) cos * Q(n-1,m) - sqrt((n-1)^2 - m^2) * Q(n-2,m)] / sqrt(n^2 - m^2)
struct Step {
  double up1 = 0, up2 = 0;  // factors of Q(n-1), Q(n-2)
  double root = 0;          // sqrt(n^2 - m^2)
};
const std::array<Step, field_terms>& steps() {
  static const std::array<Step, field_terms> table = [] {
    std::array<Step, field_terms> out{};
    for (int m = 0; m <= field_degree; ++m) {
      for (int n = std::max(m, 1); n <= field_degree; ++n) {
        Step& s = out[term(n, m)];
        s.root = std::sqrt(static_cast<double>(n * n - m * m));
        if (n > m) {
          s.up1 = (2 * n - 1) / s.root;
          s.up2 = std::sqrt(std::max(0.0, static_cast<double>((n - 1) * (n - 1) - m * m))) / s.root;
        }
      }
    }
    return out;
  }();
  return table;
}

// dP(n,0)/d(colatitude) = -sqrt(n (n+1) / 2) P(n,1). Source: as above.
const std::array<double, field_degree>& zonal_slopes() {
  static const std::array<double, field_degree> table = [] {
    std::array<double, field_degree> out{};
    for (int n = 1; n <= field_degree; ++n)
      out[static_cast<std::size_t>(n - 1)] = -std::sqrt(n * (n + 1) / 2.0);
    return out;
  }();
  return table;
}

}  // namespace

const FieldModel& field_model(double epoch) {
  assert(epoch >= first_epoch && epoch <= first_epoch + epoch_step * (epochs - 1));
  thread_local FieldModel model;
  if (model.epoch == epoch) return model;
  static const std::vector<Set> sets = decode();
  const double position = std::clamp((epoch - first_epoch) / epoch_step, 0.0, epochs - 1.0);
  const auto before = std::min(static_cast<std::size_t>(position), static_cast<std::size_t>(epochs - 2));
  const double share = position - static_cast<double>(before);
  const Set& a = sets[before];
  const Set& b = sets[before + 1];
  for (std::size_t i = 0; i < field_terms; ++i) {
    model.g_nt[i] = a.g[i] + share * (b.g[i] - a.g[i]);
    model.h_nt[i] = a.h[i] + share * (b.h[i] - a.h[i]);
  }
  model.epoch = epoch;
  return model;
}

template <int Heights>
FieldAtHeights<Heights>::FieldAtHeights(const FieldModel& model,
                                        const std::array<double, Heights>& heights_km) {
  for (std::size_t k = 0; k < Heights; ++k) {
    const double ratio = reference_radius_km / (reference_radius_km + heights_km[k]);
    std::array<double, field_degree + 1> power{};  // (a/r)^(n+2)
    power[0] = ratio * ratio;
    for (std::size_t n = 1; n <= field_degree; ++n) power[n] = power[n - 1] * ratio;
    std::size_t i = 0;
    for (int m = 0; m <= field_degree; ++m) {
      for (int n = std::max(m, 1); n <= field_degree; ++n, ++i) {
        g[i][k] = model.g_nt[i] * power[static_cast<std::size_t>(n)];
        h[i][k] = model.h_nt[i] * power[static_cast<std::size_t>(n)];
      }
    }
  }
}

// Source: IGRF definition: north, east and down parts of -grad V, with
//   north = sum (g cos m lon + h sin m lon) dP/dtheta (a/r)^(n+2)
//   east  = sum m (g sin m lon - h cos m lon) P / sin theta (a/r)^(n+2)
//   down  = -sum (n+1) (g cos m lon + h sin m lon) P (a/r)^(n+2),    theta = colatitude.
template <int Lanes, int Heights>
void evaluate(const FieldAtHeights<Heights>& model, const double* sin_lat, const double* cos_lat,
              const double* sin_lon, const double* cos_lon, Field (*out)[Heights]) {
  using Lane = Eigen::Array<double, Lanes, 1>;
  const Lane ct = Eigen::Map<const Lane>(sin_lat);  // cosine of colatitude
  const Lane st = Eigen::Map<const Lane>(cos_lat);
  const Lane cl = Eigen::Map<const Lane>(cos_lon);
  const Lane sl = Eigen::Map<const Lane>(sin_lon);
  const std::array<Step, field_terms>& step = steps();

  std::array<Lane, Heights> north, east, down;
  for (std::size_t k = 0; k < Heights; ++k) north[k] = east[k] = down[k] = Lane::Zero();

  std::size_t i = 0;
  {
    Lane p1 = Lane::Ones();  // P(n-1, 0), starting with P(0,0)
    Lane p2 = Lane::Zero();
    for (int n = 1; n <= field_degree; ++n, ++i) {
      const Lane p = step[i].up1 * ct * p1 - step[i].up2 * p2;
      p2 = p1;
      p1 = p;
      for (std::size_t k = 0; k < Heights; ++k) down[k] -= ((n + 1) * model.g[i][k]) * p;
    }
  }

  Lane cm = cl;  // cos, sin of m * longitude
  Lane sm = sl;
  Lane diagonal = Lane::Ones();  // Q(m, m)
  for (int m = 1; m <= field_degree; ++m) {
    if (m > 1) {
      diagonal *= std::sqrt((2 * m - 1) / (2.0 * m)) * st;
      const Lane c = cm * cl - sm * sl;
      sm = sm * cl + cm * sl;
      cm = c;
    }
    Lane q1 = Lane::Zero();  // Q(n-1, m)
    Lane q2 = Lane::Zero();
    std::array<Lane, Heights> slope_g, slope_h, flat_g, flat_h, deep_g, deep_h;
    for (std::size_t k = 0; k < Heights; ++k) {
      slope_g[k] = slope_h[k] = flat_g[k] = flat_h[k] = deep_g[k] = deep_h[k] = Lane::Zero();
    }
    for (int n = m; n <= field_degree; ++n, ++i) {
      const Lane q = n == m ? diagonal : Lane(step[i].up1 * ct * q1 - step[i].up2 * q2);
      const Lane slope = static_cast<double>(n) * ct * q - step[i].root * q1;  // dP/dtheta
      const Lane deep = (n + 1.0) * q;
      for (std::size_t k = 0; k < Heights; ++k) {
        slope_g[k] += model.g[i][k] * slope;
        slope_h[k] += model.h[i][k] * slope;
        flat_g[k] += model.g[i][k] * q;
        flat_h[k] += model.h[i][k] * q;
        deep_g[k] += model.g[i][k] * deep;
        deep_h[k] += model.h[i][k] * deep;
      }
      if (m == 1) {
        const auto zonal = static_cast<std::size_t>(n - 1);  // term (n, 0)
        for (std::size_t k = 0; k < Heights; ++k) {
          north[k] += (zonal_slopes()[zonal] * model.g[zonal][k]) * st * q;
        }
      }
      q2 = q1;
      q1 = q;
    }
    for (std::size_t k = 0; k < Heights; ++k) {
      north[k] += slope_g[k] * cm + slope_h[k] * sm;
      east[k] += static_cast<double>(m) * (flat_g[k] * sm - flat_h[k] * cm);
      down[k] -= st * (deep_g[k] * cm + deep_h[k] * sm);
    }
  }
  for (int lane = 0; lane < Lanes; ++lane) {
    for (std::size_t k = 0; k < Heights; ++k) out[lane][k] = {north[k][lane], east[k][lane], down[k][lane]};
  }
}

template struct FieldAtHeights<1>;
template struct FieldAtHeights<2>;
template void evaluate<1, 1>(const FieldAtHeights<1>&, const double*, const double*, const double*,
                             const double*, Field (*)[1]);
template void evaluate<4, 2>(const FieldAtHeights<2>&, const double*, const double*, const double*,
                             const double*, Field (*)[2]);

}  // namespace skerry::ionosphere::detail
