#include "maps.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <string_view>
#include <vector>

#include "skerry/core/embedded.hpp"
#include "skerry/core/units.hpp"

namespace skerry::ionosphere::detail {

namespace {

// Source: ITU-R P.1239 section 2: the highest power of sin(modip) for each harmonic of longitude.
constexpr std::array fof2_powers{11, 11, 8, 4, 1, 0, 0, 0, 0};
constexpr std::array m3000_powers{6, 7, 5, 2, 1, 0, 0};

// Source: ITU-R P.1239 section 3 (from memory): the maps saturate; foF2 hardly rises above R12 = 160.
constexpr double saturation_r12 = 160.0;

template <std::size_t N>
constexpr int count_functions(const std::array<int, N>& powers) {
  int count = powers[0] + 1;
  for (std::size_t n = 1; n < N; ++n) count += 2 * (powers[n] + 1);
  return count;
}
static_assert(count_functions(fof2_powers) == fof2_functions);
static_assert(count_functions(m3000_powers) == m3000_functions);

// For each function of M(3000)F2, its number among the functions of foF2.
constexpr std::array<int, m3000_functions> m3000_rows = [] {
  std::array<int, m3000_functions> rows{};
  int k = 0;
  int start = 0;  // of this harmonic among the functions of foF2
  for (std::size_t n = 0; n < m3000_powers.size(); ++n) {
    const int pair = n == 0 ? 1 : 2;
    for (int i = 0; i < pair * (m3000_powers[n] + 1); ++i) rows[static_cast<std::size_t>(k++)] = start + i;
    start += pair * (fof2_powers[n] + 1);
  }
  return rows;
}();

constexpr std::size_t fof2_numbers = 2UL * fof2_functions * fof2_times;
constexpr std::size_t m3000_numbers = 2UL * m3000_functions * m3000_times;

// All numbers of a data file; little-endian float32 whatever the machine.
std::vector<float> decode(std::string_view name, std::size_t count) {
  const std::string_view bytes = embedded(name);
  assert(bytes.size() == 4 * count);
  std::vector<float> out(std::min(count, bytes.size() / 4));
  for (std::size_t i = 0; i < out.size(); ++i) {
    std::uint32_t word = 0;
    for (std::size_t b = 0; b < 4; ++b) {
      word |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[4 * i + b])) << (8 * b);
    }
    out[i] = std::bit_cast<float>(word);
  }
  return out;
}

const std::vector<float>& ccir() {
  static const std::vector<float> numbers = decode("ccir/ccir.bin", 12 * (fof2_numbers + m3000_numbers));
  return numbers;
}
const std::vector<float>& ursi() {
  static const std::vector<float> numbers = decode("ursi/ursi.bin", 12 * fof2_numbers);
  return numbers;
}

// Row j: the j-th function of time at the 24 whole hours. Source: ITU-R P.1239 section 2; sine first, then
// cosine.
using Times = Eigen::Matrix<double, fof2_times, hours, Eigen::RowMajor>;
const Times& times() {
  static const Times table = [] {
    Times t;
    for (int h = 0; h < hours; ++h) {
      const double angle_deg = 15.0 * h - 180.0;
      t(0, h) = 1.0;
      for (int j = 1; 2 * j < fof2_times; ++j) {
        t(2 * j - 1, h) = sin_deg(j * angle_deg);
        t(2 * j, h) = cos_deg(j * angle_deg);
      }
    }
    return t;
  }();
  return table;
}

// Blend of low and high activity. Source: ITU-R P.1239 section 3.1: linear in R12 through the sets for 0 and
// 100.
template <int Functions, int Count>
Eigen::Matrix<double, Functions, Count, Eigen::RowMajor> blend(const float* numbers, double r12) {
  using Table = Eigen::Matrix<float, Functions, Count, Eigen::RowMajor>;
  const Eigen::Map<const Table> low(numbers);
  const Eigen::Map<const Table> high(numbers + Functions * Count);
  return low.template cast<double>() * (1.0 - r12 / 100.0) + high.template cast<double>() * (r12 / 100.0);
}

}  // namespace

HourCoefficients hour_coefficients(unsigned month, double r12, MapSet maps) {
  assert(month >= 1 && month <= 12 && r12 >= 0.0);
  const double r = std::min(r12, saturation_r12);
  const float* const ccir_month = ccir().data() + (month - 1) * (fof2_numbers + m3000_numbers);
  const float* const fof2_month =
      maps == MapSet::ursi ? ursi().data() + (month - 1) * fof2_numbers : ccir_month;

  HourCoefficients out = HourCoefficients::Zero();
  out.leftCols<hours>().noalias() = blend<fof2_functions, fof2_times>(fof2_month, r) * times();
  const Eigen::Matrix<double, m3000_functions, hours, Eigen::RowMajor> m3000 =
      blend<m3000_functions, m3000_times>(ccir_month + fof2_numbers, r) * times().topRows<m3000_times>();
  for (int k = 0; k < m3000_functions; ++k) {
    out.row(m3000_rows[static_cast<std::size_t>(k)]).rightCols<hours>() = m3000.row(k);
  }
  return out;
}

void place_functions(double sin_modip, double cos_lat, double cos_lon, double sin_lon, double* functions) {
  std::array<double, fof2_powers[0] + 1> power{};
  power[0] = 1.0;
  for (std::size_t i = 1; i < power.size(); ++i) power[i] = power[i - 1] * sin_modip;
  double* next = std::copy(power.begin(), power.end(), functions);
  double c = 1.0;  // cos^n(latitude) * cos(n * longitude), and with the sine: one complex power
  double s = 0.0;
  for (std::size_t n = 1; n < fof2_powers.size(); ++n) {
    const double c_next = cos_lat * (c * cos_lon - s * sin_lon);
    s = cos_lat * (s * cos_lon + c * sin_lon);
    c = c_next;
    for (int i = 0; i <= fof2_powers[n]; ++i) {
      *next++ = power[static_cast<std::size_t>(i)] * c;
      *next++ = power[static_cast<std::size_t>(i)] * s;
    }
  }
}

}  // namespace skerry::ionosphere::detail
