#include "skerry/antenna/ground.hpp"

#include <fmt/format.h>

#include <cassert>
#include <cmath>
#include <map>

#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Source: SI 2019 (CODATA 2018), electric constant in F/m.
constexpr double eps0_f_per_m = 8.8541878128e-12;

struct Presets {
  std::vector<Ground> grounds;
  std::map<std::string, std::size_t> by_word;
  std::vector<std::string> words;
};

Presets load() {
  Presets out;
  const auto add = [&out](Ground ground, const std::vector<std::string>& aliases) {
    const std::size_t index = out.grounds.size();
    out.by_word[ground.name] = index;
    out.words.push_back(ground.name);
    for (const std::string& alias : aliases) {
      out.by_word[alias] = index;
      out.words.push_back(alias);
    }
    out.grounds.push_back(std::move(ground));
  };
  for (const TableRow& row : table_rows("ground/ground.toml", "ground")) {
    add({GroundKind::real, row.number("eps_r"), row.number("sigma_s_per_m"), row.text("name")},
        row.texts_or_empty("aliases"));
  }
  add({GroundKind::perfect, 1, 1e30, "perfect"}, {});
  add({GroundKind::free_space, 1, 0, "free"}, {"free-space", "none"});
  return out;
}

const Presets& presets() {
  static const Presets all = load();
  return all;
}

}  // namespace

const Ground& sea() {
  static const Ground& known = presets().grounds[presets().by_word.at("sea")];
  return known;
}
const Ground& average_land() {
  static const Ground& known = presets().grounds[presets().by_word.at("average")];
  return known;
}

Result<Ground> find_ground(std::string_view name, const Where& where) {
  const Presets& all = presets();
  if (const auto it = all.by_word.find(lower(trim(name))); it != all.by_word.end())
    return all.grounds[it->second];
  std::string names;
  for (const Ground& ground : all.grounds) names += (names.empty() ? "" : ", ") + ground.name;
  return fail(where, fmt::format("ground '{}'", one_line(name)), "one of " + names,
              did_you_mean(name, all.words));
}

std::complex<double> complex_permittivity(const Ground& ground, double mhz) {
  assert(mhz > 0);
  return {ground.eps_r, -ground.sigma_s_per_m / (2.0 * std::numbers::pi * mhz * 1e6 * eps0_f_per_m)};
}

Fresnel fresnel(const Ground& ground, double elevation_deg, double mhz) {
  if (ground.kind == GroundKind::perfect) return {1.0, -1.0};
  if (ground.kind == GroundKind::free_space) return {0.0, 0.0};
  const double s = sin_deg(elevation_deg);
  const double c = cos_deg(elevation_deg);
  const std::complex<double> eps = complex_permittivity(ground, mhz);
  const std::complex<double> q = std::sqrt(eps - c * c);  // the principal root has a positive real part
  return {(eps * s - q) / (eps * s + q), (s - q) / (s + q)};
}

double reflection_loss_db(const Ground& ground, double elevation_deg, double mhz) {
  const Fresnel r = fresnel(ground, elevation_deg, mhz);
  const double power = 0.5 * (std::norm(r.vertical) + std::norm(r.horizontal));
  return power > 1e-30 ? std::max(0.0, -to_db(power)) : 300.0;
}

}  // namespace skerry::antenna
