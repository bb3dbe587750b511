#include "skerry/antenna/lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Judgement: beyond this a ratio says nothing more, and it prints in three digits.
constexpr double largest_swr_shown = 999.0;

struct Transformer {
  double ratio;
  std::vector<double> mhz, loss_db;
};

const std::vector<Transformer>& transformers() {
  static const std::vector<Transformer> all = [] {
    std::vector<Transformer> out;
    for (const TableRow& row : table_rows("lines/transformers.toml", "transformer")) {
      out.push_back({row.number("ratio"), row.numbers("mhz"), row.numbers("loss_db")});
    }
    return out;
  }();
  return all;
}

const TableRow& tuner() {
  static const TableRow row = table_rows("lines/tuners.toml", "tuner").front();
  return row;
}

/// Linear in log x between points, level outside them.
double along(const std::vector<double>& xs, const std::vector<double>& ys, double x) {
  assert(xs.size() == ys.size() && !xs.empty());
  if (x <= xs.front()) return ys.front();
  for (std::size_t i = 1; i < xs.size(); ++i) {
    if (x <= xs[i]) {
      const double share = std::log(x / xs[i - 1]) / std::log(xs[i] / xs[i - 1]);
      return ys[i - 1] + share * (ys[i] - ys[i - 1]);
    }
  }
  return ys.back();
}

std::string bare(std::string_view word) {
  std::string out;
  for (const char c : lower(trim(word))) {
    if (c != ' ' && c != '-' && c != '_' && c != '/') out += c;
  }
  return out;
}

}  // namespace

const std::vector<Cable>& cables() {
  static const std::vector<Cable> all = [] {
    std::vector<Cable> out;
    for (const TableRow& row : table_rows("lines/cables.toml", "cable")) {
      out.push_back({row.text("id"), row.text("name"), row.number("z0_ohm"), row.number("velocity"),
                     row.number("k0"), row.number("k1"), row.number("k2"), row.number("mass_g_per_m"),
                     row.number("outer_mm")});
    }
    return out;
  }();
  return all;
}

Result<const Cable*> find_cable(std::string_view id, const Where& where) {
  const std::string wanted = bare(id);
  std::vector<std::string> ids;
  std::string names;
  for (const Cable& cable : cables()) {
    if (bare(cable.id) == wanted) return &cable;
    ids.push_back(cable.id);
    names += (names.empty() ? "" : ", ") + cable.id;
  }
  return fail(where, fmt::format("cable '{}'", one_line(id)), "one of " + names, did_you_mean(wanted, ids));
}

const Cable& known_cable(std::string_view id) {
  const auto cable = find_cable(id, {});
  if (!cable) our_bug(cable.error().to_line());
  return **cable;
}

double matched_loss_db(const Cable& cable, double mhz, double length_m) {
  assert(mhz > 0 && length_m >= 0);
  return (cable.k0 + cable.k1 * std::sqrt(mhz) + cable.k2 * mhz) * length_m / 100.0;
}

double reflection_of(std::complex<double> load_ohm, double reference_ohm) {
  const double rho = std::abs((load_ohm - reference_ohm) / (load_ohm + reference_ohm));
  return std::min(rho, 1.0);
}

double swr_from_reflection(double rho) {
  return rho >= 1.0 ? largest_swr_shown : std::min(largest_swr_shown, (1.0 + rho) / (1.0 - rho));
}

double swr_of(std::complex<double> load_ohm, double reference_ohm) {
  return swr_from_reflection(reflection_of(load_ohm, reference_ohm));
}

LineInput through_line(const Cable& cable, double mhz, double length_m, std::complex<double> load_ohm) {
  assert(load_ohm.real() > 0);
  const double nepers = matched_loss_db(cable, mhz, length_m) / (20.0 / std::log(10.0));
  const double wave_m = light_km_per_s / 1000.0 / mhz * cable.velocity;
  const std::complex<double> gl(nepers, 2.0 * std::numbers::pi * length_m / wave_m);
  // V(0) = V cosh + I z0 sinh, I(0) = I cosh + V/z0 sinh, from 1 V at the load.
  const std::complex<double> load_current = 1.0 / load_ohm;
  const std::complex<double> v = std::cosh(gl) + load_current * cable.z0_ohm * std::sinh(gl);
  const std::complex<double> i = load_current * std::cosh(gl) + std::sinh(gl) / cable.z0_ohm;
  const double power_in = (v * std::conj(i)).real();
  const double power_out = load_current.real();
  return {v / i, std::max(0.0, to_db(power_in / power_out))};
}

double transformer_loss_db(double ratio, double mhz, double at_14_mhz_db) {
  assert(ratio > 0 && mhz > 0);
  if (std::abs(ratio - 1.0) < 0.05) return std::max(0.0, at_14_mhz_db);
  const Transformer* best = &transformers().front();
  const double wanted = std::abs(std::log(ratio));  // 1:49 and 49:1 are one part
  for (const Transformer& one : transformers()) {
    if (std::abs(std::log(one.ratio) - wanted) < std::abs(std::log(best->ratio) - wanted)) best = &one;
  }
  const double usual = along(best->mhz, best->loss_db, mhz);
  if (at_14_mhz_db <= 0) return usual;
  return at_14_mhz_db * usual / along(best->mhz, best->loss_db, 14.0);
}

double tuner_loss_db(std::complex<double> load_ohm) {
  const TableRow& row = tuner();
  return along(row.numbers("swr"), row.numbers(load_ohm.real() < 50.0 ? "low_db" : "high_db"),
               swr_of(load_ohm));
}

double tuner_largest_swr() {
  return tuner().number("largest_swr");
}

}  // namespace skerry::antenna
