// How active the Sun will be, and in which index it is said.
// Layer: ionosphere. Sees core.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"
#include "skerry/ionosphere/r12.hpp"

namespace skerry::ionosphere {

/// Smoothed indices. R12 is the old (version 1) scale on which the maps are built; version 2 numbers x 0.7.
/// 63.7 + 0.728 R + 8.9e-4 R^2 (ITU-R P.371, from memory); r12 >= 0.
[[nodiscard]] double f107_from_r12(double r12);
/// Its inverse; 0 below flux 63.7, and no more than R12 allows.
[[nodiscard]] R12 r12_from_f107(double f107);
/// 0.7 x, the ratio fixed when version 2 was introduced in July 2015 (common practice). The series as printed
/// in earlier decades stood at other ratios, 0.80 in 1988 (measured, see data/activity/SOURCE.md).
/// No more than R12 allows.
[[nodiscard]] R12 r12_from_ssn_v2(double ssn_v2);

/// The index that the maps of foF2 want where only R12 is known: at a quiet Sun foF2 lies lower than sunspots say, so
/// that ITU-R P.371 asks for the index IG12, taken from foF2 itself, and leaves R12 to M(3000)F2 (from memory).
///   r12      0..300
///   returns  r12 - 9 up to 30, r12 from 90 on, straight between; it may be negative, as IG12 is at a minimum
///   source   Measured: July 2017, R12 15, IG12 5.6. Held against reception in that month, receiver by receiver:
///            docs/scoring.md. Judgement: where the difference ends
[[nodiscard]] double fof2_index(R12 r12);

/// The indices in which people tell it.
enum class Index : std::uint8_t { r12, ssn_v2, f107 };

/// Where a number for the Sun's activity comes from.
struct ActivitySource {
  enum class Kind : std::uint8_t {
    told,           ///< by whoever asks: `value` of `index`
    observed,       ///< and smoothed over 13 months, in the file `made`
    forecast,       ///< built in, of `made`
    file,           ///< the forecast in the file `made`; empty: without a name
    mean_of_cycles  ///< no forecast reaches `month`
  };
  Kind kind = Kind::told;
  Index index = Index::r12;
  double value = 0;
  std::string made{};  ///< a date or a file's name
  Month month{};
};

struct Activity {
  R12 r12;
  R12 low_r12, high_r12;  ///< about one standard deviation either way; 0 <= low <= r12 <= high
  ActivitySource source;
  int months_ahead = 0;  ///< of the last month observed when it was made; 0: observed, or unknown
};

/// A number as somebody tells it, within the bounds of its index.
///   accuracy  still that of a forecast one year ahead: 5 + 15 % of R12 either way. Judgement
[[nodiscard]] Activity told_activity(Index index, double value);

/// The built-in smoothed sunspot number of a month, from data/activity/: observed from April 1958, then
/// predicted to December 2040. Outside its months: the mean of five cycles, with its spread, and `source`
/// says so.
///   accuracy  one year ahead some 10 + 15 %, four years ahead 10 + 40 % (a judgement, see
///             data/activity/SOURCE.md)
[[nodiscard]] Activity forecast(Month month);

}  // namespace skerry::ionosphere
