#include "skerry/noise/noise.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "tables.hpp"

namespace skerry::noise {

namespace {

// Source: a normal distribution has its deciles 1.2816 standard deviations from the median; ITU-R P.372
// prints 1.282.
constexpr double decile = 1.282;
// Source: dB to natural logarithm, 10/ln 10.
constexpr double c_db = 10.0 / std::numbers::ln10;
// Source: ITU-R P.372, section on the combination of noise sources (from memory): upper decile distance taken
// into the sum.
constexpr double most_upper_db = 12.0;
constexpr double fof2_breadth = 0.1;

Level level(const Law& law, double log_f) {
  return {law.c - law.d * log_f, law.du, law.dl};
}

/// One term of the sums below: 10^(Fam/10), and for each half of the distribution exp(s^2/2) and exp(s^2) -
/// 1, where s is the standard deviation over c.
struct Term {
  double median = 0;
  double upper_mean = 1, upper_spread = 0;
  double lower_mean = 1, lower_spread = 0;
};

Term term(const Level& source) {
  const auto half = [](double decile_db, double& mean, double& spread) {
    const double s = decile_db / (decile * c_db);
    mean = std::exp(0.5 * s * s);
    spread = mean * mean - 1.0;
  };
  Term out;
  out.median = std::exp(source.fam_db / c_db);
  half(std::clamp(source.upper_db, 0.0, most_upper_db), out.upper_mean, out.upper_spread);
  half(std::max(source.lower_db, 0.0), out.lower_mean, out.lower_spread);
  return out;
}

/// Source: ITU-R P.372, combination of independent noise sources that are normal in dB (from memory):
/// alpha = sum of means, beta = sum of variances of the powers; sigma_T = c sqrt(ln(1 + beta/alpha^2)),
/// Fam_T = c (ln alpha - sigma_T^2/(2 c^2)). Run with the upper and with the lower deviations; the median of
/// the upper run.
Level sum(const Term* terms, std::size_t count) {
  assert(count > 0);
  double upper_alpha = 0;
  double upper_beta = 0;
  double lower_alpha = 0;
  double lower_beta = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const Term& t = terms[i];
    const double up = t.median * t.upper_mean;
    const double low = t.median * t.lower_mean;
    upper_alpha += up;
    upper_beta += up * up * t.upper_spread;
    lower_alpha += low;
    lower_beta += low * low * t.lower_spread;
  }
  const double upper_var = std::log1p(upper_beta / (upper_alpha * upper_alpha));  // sigma_T^2/c^2
  const double lower_var = std::log1p(lower_beta / (lower_alpha * lower_alpha));
  // cppcheck-suppress invalidFunctionArg ; there is at least one term
  return {c_db * (std::log(upper_alpha) - 0.5 * upper_var), decile * c_db * std::sqrt(upper_var),
          decile * c_db * std::sqrt(lower_var)};
}

/// The spread factors of sources whose deciles never change, worked out once.
struct FixedTerms {
  std::array<Term, 4> man_made;
  Term galactic;
  Term atmospheric;
};
const FixedTerms& fixed_terms() {
  static const FixedTerms kept = [] {
    const Tables& t = tables();
    FixedTerms out;
    for (std::size_t i = 0; i < 4; ++i) out.man_made[i] = term(level(t.man_made[i], 0.0));
    out.galactic = term(level(t.galactic, 0.0));
    out.atmospheric = term({0.0, t.atmospheric_du, t.atmospheric_dl});
    return out;
  }();
  return kept;
}
/// 0 winter, 1 equinox, 2 summer, on one side of the equator.
std::size_t season_of(bool north, unsigned month) {
  const unsigned local = north ? month : (month + 5) % 12 + 1;
  if (local >= 6 && local <= 8) return 2;
  return local == 12 || local <= 2 ? 0 : 1;
}

/// Median at 1 MHz at the table's local times, by latitude, season and surface.
std::array<double, Tables::blocks> levels_at_1_mhz(const Tables& t, const Conditions& at) {
  // Judgement: within 10 degrees of the equator the two sides' seasons pass into each other.
  const double north = std::clamp(0.5 + at.lat_deg / 20, 0.0, 1.0);
  const double x = std::clamp((std::abs(at.lat_deg) - 10.0) / 20.0, 0.0, 3.0);
  const auto i = std::min<std::size_t>(static_cast<std::size_t>(x), Tables::bands - 2);
  const double wx = x - static_cast<double>(i);
  std::array<double, Tables::blocks> out{};
  for (std::size_t k = 0; k < out.size(); ++k) {
    const auto in_season = [&](std::size_t surface, bool northern) {
      const std::size_t season = season_of(northern, at.month);
      return (1 - wx) * t.level_db[surface][i][season][k] + wx * t.level_db[surface][i + 1][season][k];
    };
    const auto over = [&](std::size_t surface) {
      if (north >= 1 || north <= 0) return in_season(surface, north >= 1);
      return std::lerp(in_season(surface, false), in_season(surface, true), north);
    };
    out[k] = std::lerp(over(0), over(1), std::clamp(at.land_share, 0.0, 1.0));
  }
  return out;
}

[[maybe_unused]] bool good_frequency(double f_mhz) {
  return f_mhz >= 1.6 && f_mhz <= 60.0;
}

}  // namespace

Result<Environment> parse_environment(std::string_view name, const Where& where) {
  std::string word = lower(trim(name));
  std::replace(word.begin(), word.end(), ' ', '-');
  std::replace(word.begin(), word.end(), '_', '-');
  if (word == "city" || word == "business") return Environment::city;
  if (word == "residential") return Environment::residential;
  if (word == "rural") return Environment::rural;
  if (word == "quiet" || word == "quiet-rural") return Environment::quiet;
  static const std::array<std::string, 4> names{"city", "residential", "rural", "quiet"};
  return fail(where, "noise environment '" + one_line(name) + "'", "city, residential, rural or quiet",
              did_you_mean(word, names));
}

std::string to_text(Environment environment) {
  switch (environment) {
    case Environment::city:
      return "city";
    case Environment::residential:
      return "residential";
    case Environment::rural:
      return "rural";
    case Environment::quiet:
      return "quiet";
  }
  assert(false);
  return {};
}

Environment noisier(Environment environment) {
  return environment == Environment::city ? Environment::city
                                          : static_cast<Environment>(static_cast<int>(environment) - 1);
}

Level man_made(Environment environment, double f_mhz) {
  assert(good_frequency(f_mhz));
  return level(tables().man_made[static_cast<std::size_t>(environment)], std::log10(f_mhz));
}

double location_deviation_db(Environment environment) {
  return nth(tables().location_db, environment);
}

Level galactic(double f_mhz) {
  assert(good_frequency(f_mhz));
  return level(tables().galactic, std::log10(f_mhz));
}

Listening::Listening(const Conditions& conditions, double f_mhz)
    : f_mhz_(f_mhz),
      log_f_(std::log10(f_mhz)),
      environment_(static_cast<std::size_t>(conditions.environment)) {
  assert(good_frequency(f_mhz) && conditions.month >= 1 && conditions.month <= 12);
  const Tables& t = tables();
  man_made_ = level(t.man_made[environment_], log_f_);
  man_made_.fam_db += conditions.man_made_above_db;
  man_made_ratio_ = std::exp(man_made_.fam_db / c_db);
  galactic_ = level(t.galactic, log_f_);
  galactic_ratio_ = std::exp(galactic_.fam_db / c_db);
  at_1_mhz_db_ = levels_at_1_mhz(t, conditions);
  // By day: straight between the points of the table, each straight in the level at 1 MHz.
  std::size_t i = 0;
  while (i + 2 < t.day.size() && log_f_ > t.day[i + 1].log_f) ++i;
  const auto& p = t.day[i];
  const auto& q = t.day[i + 1];
  const double share = (log_f_ - p.log_f) / (q.log_f - p.log_f);
  day_base_db_ = p.base + (q.base - p.base) * share;
  day_slope_ = p.slope + (q.slope - p.slope) * share;
  night_less_db_ = log_f_ * (t.night_first + t.night_second * log_f_) +
                   t.night_cut * std::max(0.0, log_f_ - t.log_night_cut_mhz);
}

Sources Listening::at(double solar_hour, double zenith_deg, double fof2_mhz) const {
  const Tables& t = tables();
  const FixedTerms& fixed = fixed_terms();
  const double y = wrap_24(solar_hour - 2.0) / 4.0;
  const auto k = static_cast<std::size_t>(y) % Tables::blocks;
  const double z_db = std::lerp(at_1_mhz_db_[k], at_1_mhz_db_[(k + 1) % Tables::blocks], y - std::floor(y));
  const double by_day =
      std::clamp((t.night_zenith_deg - zenith_deg) / (t.night_zenith_deg - t.day_zenith_deg), 0.0, 1.0);
  Sources out;
  out.man_made = man_made_;
  out.atmospheric = {std::lerp(z_db - night_less_db_, day_base_db_ + day_slope_ * (z_db - 30.0), by_day),
                     t.atmospheric_du, t.atmospheric_dl};
  const auto with_ratio = [](Term of, double ratio) {
    of.median = ratio;
    return of;
  };
  std::array<Term, 3> terms{with_ratio(fixed.man_made[environment_], man_made_ratio_),
                            with_ratio(fixed.atmospheric, std::exp(out.atmospheric.fam_db / c_db)), Term{}};
  std::size_t count = 2;
  // Judgement: foF2 is not known to better than a tenth; what comes through grows from none to all over that.
  const double through = std::clamp((f_mhz_ / fof2_mhz - 1) / fof2_breadth, 0.0, 1.0);
  if (through > 0) {
    out.galactic = galactic_;
    if (through < 1) out.galactic->fam_db += to_db(through);
    terms[count++] = with_ratio(fixed.galactic, galactic_ratio_ * through);
  }
  out.total = sum(terms.data(), count);
  return out;
}

Level atmospheric(const Conditions& conditions, double f_mhz) {
  return noise(conditions, f_mhz).atmospheric;
}

Sources noise(const Conditions& conditions, double f_mhz) {
  return Listening(conditions, f_mhz).at(conditions.solar_hour, conditions.zenith_deg, conditions.fof2_mhz);
}

Level combine(const Level* sources, std::size_t count) {
  assert(count >= 1);
  // Judgement: more than a handful of sources at one receiver never occurs; no heap for them.
  constexpr std::size_t most = 16;
  assert(count <= most);
  std::array<Term, most> terms{};
  for (std::size_t i = 0; i < count; ++i) terms[i] = term(sources[i]);
  return sum(terms.data(), count);
}

Level combine(std::initializer_list<Level> sources) {
  return combine(sources.begin(), sources.size());
}

double noise_dbw(double fam_db, double bandwidth_hz) {
  assert(bandwidth_hz > 0);
  // Source: ITU-R P.372 rounds 10 log10(k 290 K) = -203.98 dB(W/Hz) to -204.
  return fam_db + to_db(bandwidth_hz) - 204.0;
}

}  // namespace skerry::noise
