#include "maps.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <vector>

#include "skerry/core/embedded.hpp"
#include "skerry/core/units.hpp"

namespace skerry::ionosphere::detail {

namespace {

// Source: ITU-R P.1239 section 2: the highest power of sin(modip) for each harmonic of longitude.
constexpr std::array fof2_powers{11, 11, 8, 4, 1, 0, 0, 0, 0};
constexpr std::array m3000_powers{6, 7, 5, 2, 1, 0, 0};

// Source: data/foes/SOURCE.md: the same for the deciles of foEs; the numbers of their time coefficients.
constexpr std::array foes_lower_powers{10, 12, 6, 0, 0};
constexpr std::array foes_median_powers{10, 12, 6, 2, 0, 0};
constexpr std::array foes_upper_powers{10, 11, 5, 2, 0};
constexpr int foes_decile_functions = 55;
constexpr int foes_decile_times = 5;
constexpr int foes_median_times = 7;
// Source: Leftin, Ostrow and Preston 1968 (from memory): the R12 of the two sets of maps.
constexpr double foes_low_r12 = 10.0;
constexpr double foes_high_r12 = 180.0;

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
static_assert(count_functions(foes_lower_powers) == foes_decile_functions);
static_assert(count_functions(foes_median_powers) == foes_functions);
static_assert(count_functions(foes_upper_powers) == foes_decile_functions);

// For each function of a map, its number among the functions of a larger map that has all of them.
template <int Functions, std::size_t N, std::size_t M>
constexpr std::array<int, Functions> rows_among(const std::array<int, N>& powers,
                                                const std::array<int, M>& all) {
  std::array<int, Functions> rows{};
  int k = 0;
  int start = 0;  // of this harmonic in the larger map
  for (std::size_t n = 0; n < N; ++n) {
    const int pair = n == 0 ? 1 : 2;
    for (int i = 0; i < pair * (powers[n] + 1); ++i) rows[static_cast<std::size_t>(k++)] = start + i;
    start += pair * (all[n] + 1);
  }
  return rows;
}
constexpr auto m3000_rows = rows_among<m3000_functions>(m3000_powers, fof2_powers);
constexpr auto foes_lower_rows = rows_among<foes_decile_functions>(foes_lower_powers, foes_median_powers);
constexpr auto foes_median_rows = rows_among<foes_functions>(foes_median_powers, foes_median_powers);
constexpr auto foes_upper_rows = rows_among<foes_decile_functions>(foes_upper_powers, foes_median_powers);

constexpr std::size_t fof2_numbers = 2UL * fof2_functions * fof2_times;
constexpr std::size_t m3000_numbers = 2UL * m3000_functions * m3000_times;
constexpr std::size_t foes_decile_numbers = 2UL * foes_decile_functions * foes_decile_times;
constexpr std::size_t foes_median_numbers = 2UL * foes_functions * foes_median_times;
constexpr std::size_t foes_numbers = 2 * foes_decile_numbers + foes_median_numbers;

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
    std::memcpy(&out[i], &word, sizeof word);
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
const std::vector<float>& foes() {
  static const std::vector<float> numbers = decode("foes/foes.bin", 12 * foes_numbers);
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

// Blend of the sets for low and high activity, which follow each other, times the functions of time.
template <int Functions, int Count>
Eigen::Matrix<double, Functions, hours, Eigen::RowMajor> at_hours(const float* numbers, double high_share) {
  using Table = Eigen::Matrix<float, Functions, Count, Eigen::RowMajor>;
  const Eigen::Map<const Table> low(numbers);
  const Eigen::Map<const Table> high(numbers + Functions * Count);
  const Eigen::Matrix<double, Functions, Count, Eigen::RowMajor> blend =
      low.template cast<double>() * (1.0 - high_share) + high.template cast<double>() * high_share;
  return blend * times().topRows<Count>();
}

template <std::size_t N>
void functions_of_place(const std::array<int, N>& powers, double sin_modip, double cos_lat, double cos_lon,
                        double sin_lon, double* functions) {
  constexpr std::size_t most = std::max(fof2_powers[0], foes_median_powers[1]) + 1;
  std::array<double, most> power{};
  power[0] = 1.0;
  for (std::size_t i = 1; i < power.size(); ++i) power[i] = power[i - 1] * sin_modip;
  double* next = std::copy(power.begin(), power.begin() + powers[0] + 1, functions);
  double c = 1.0;  // cos^n(latitude) * cos(n * longitude), and with the sine: one complex power
  double s = 0.0;
  for (std::size_t n = 1; n < N; ++n) {
    const double c_next = cos_lat * (c * cos_lon - s * sin_lon);
    s = cos_lat * (s * cos_lon + c * sin_lon);
    c = c_next;
    for (int i = 0; i <= powers[n]; ++i) {
      *next++ = power[static_cast<std::size_t>(i)] * c;
      *next++ = power[static_cast<std::size_t>(i)] * s;
    }
  }
}

}  // namespace

HourCoefficients hour_coefficients(unsigned month, double fof2_index, double m3000_index, MapSet maps) {
  assert(month >= 1 && month <= 12);
  const auto high_share = [](double index) { return std::min(index, saturation_r12) / 100.0; };
  const float* const ccir_month = ccir().data() + (month - 1) * (fof2_numbers + m3000_numbers);
  const float* const fof2_month =
      maps == MapSet::ursi ? ursi().data() + (month - 1) * fof2_numbers : ccir_month;

  // Source: ITU-R P.1239 section 3.1: linear in R12 through the sets for 0 and 100.
  HourCoefficients out = HourCoefficients::Zero();
  out.leftCols<hours>() = at_hours<fof2_functions, fof2_times>(fof2_month, high_share(fof2_index));
  const auto m3000 =
      at_hours<m3000_functions, m3000_times>(ccir_month + fof2_numbers, high_share(m3000_index));
  for (int k = 0; k < m3000_functions; ++k) {
    out.row(m3000_rows[static_cast<std::size_t>(k)]).rightCols<hours>() = m3000.row(k);
  }
  return out;
}

void place_functions(double sin_modip, double cos_lat, double cos_lon, double sin_lon, double* functions) {
  functions_of_place(fof2_powers, sin_modip, cos_lat, cos_lon, sin_lon, functions);
}

FoesCoefficients foes_coefficients(unsigned month, double r12) {
  assert(month >= 1 && month <= 12 && r12 >= 0.0);
  // Source: as the maps' package: linear in R12 through both sets, beyond the lower one too. Judgement: not
  // beyond the upper one, which stands for the strongest cycle measured.
  const double share = (std::min(r12, foes_high_r12) - foes_low_r12) / (foes_high_r12 - foes_low_r12);
  const float* const lower = foes().data() + (month - 1) * foes_numbers;
  const float* const median = lower + foes_decile_numbers;
  const float* const upper = median + foes_median_numbers;
  FoesCoefficients out = FoesCoefficients::Zero();
  const auto place = [&](const auto& map, const auto& rows, int column) {
    for (std::size_t k = 0; k < rows.size(); ++k) {
      out.row(rows[k]).template segment<hours>(column) = map.row(static_cast<Eigen::Index>(k));
    }
  };
  place(at_hours<foes_decile_functions, foes_decile_times>(lower, share), foes_lower_rows, 0);
  place(at_hours<foes_functions, foes_median_times>(median, share), foes_median_rows, hours);
  place(at_hours<foes_decile_functions, foes_decile_times>(upper, share), foes_upper_rows, 2 * hours);
  return out;
}

void foes_place_functions(double sin_modip, double cos_lat, double cos_lon, double sin_lon,
                          double* functions) {
  functions_of_place(foes_median_powers, sin_modip, cos_lat, cos_lon, sin_lon, functions);
}

}  // namespace skerry::ionosphere::detail
