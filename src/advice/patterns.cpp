#include "skerry/advice/patterns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <optional>

#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// Judgement: an antenna within this between azimuths is laid out as the ground allows.
constexpr double turning_db = 0.5;

/// What decides a radiator; equal texts, equal patterns.
std::string key_of(const kit::Site& site, const kit::Setup& setup, const antenna::FeedLine& line, int band) {
  const auto& g = site.ground;
  std::string key = fmt::format("{} {} {} | {} {} {} {} | {} {} {} {} | {}", static_cast<int>(g.kind),
                                g.eps_r, g.sigma_s_per_m, setup.antenna, setup.support, setup.far_support,
                                static_cast<int>(setup.shape), line.cable, line.length_m, line.tuner,
                                line.tuner_loss_db, band);
  key += fmt::format(" | {}", setup.tuned);
  if (site.sea_from_m > 0) key += fmt::format(" | {} {}", site.sea_from_m, site.altitude_m);
  return key;
}

struct Job {
  const kit::Setup* setup = nullptr;
  int band = 0;
};

/// Height of the middle of the metal, m.
double mean_height_m(const antenna::WireAntenna& wires) {
  double sum = 0, length = 0;
  for (const auto& w : wires.wires) {
    const double dx = w.to_m[0] - w.from_m[0], dy = w.to_m[1] - w.from_m[1], dz = w.to_m[2] - w.from_m[2];
    const double l = std::sqrt(dx * dx + dy * dy + dz * dz);
    sum += l * 0.5 * (w.from_m[2] + w.to_m[2]);
    length += l;
  }
  return length > 0 ? sum / length : 0;
}

std::size_t azimuths_of(const antenna::Pattern& p) {
  return static_cast<std::size_t>(std::lround(360.0 / p.azimuth_step_deg));
}

void summarise(Radiator& r) {
  const auto look = [&](const antenna::Pattern& p) {
    const std::size_t azimuths = azimuths_of(p);
    for (std::size_t i = 0; i < p.gain_dbi.size(); ++i) {
      if (static_cast<double>(p.gain_dbi[i]) <= r.strongest_dbi) continue;
      r.strongest_dbi = static_cast<double>(p.gain_dbi[i]);
      r.strongest_elevation_deg = static_cast<double>(i / azimuths) * p.elevation_step_deg;
    }
    // Elevations of 5 to 45 degrees are those that matter between regions.
    for (std::size_t e = 5; e <= 45; e += 5) {
      const auto row = p.gain_dbi.begin() + static_cast<std::ptrdiff_t>(e * azimuths);
      const auto [low, high] = std::minmax_element(row, row + static_cast<std::ptrdiff_t>(azimuths));
      r.turns = r.turns || *high - *low > static_cast<float>(turning_db);
      for (std::size_t a = 0; a < azimuths / 2; ++a) {
        const float difference =
            row[static_cast<std::ptrdiff_t>(a)] - row[static_cast<std::ptrdiff_t>(a + azimuths / 2)];
        r.lopsided = r.lopsided || std::abs(difference) > static_cast<float>(turning_db);
      }
    }
  };
  look(r.pattern);
  if (r.has_sea) look(r.towards_sea);
}

void add_sea(Radiator& r, const kit::Site& site, const antenna::WireAntenna& wires,
             const antenna::Chain& chain, double mhz) {
  const auto sea = antenna::find_ground("sea", {});
  assert(sea.has_value());
  r.has_sea = true;
  r.towards_sea = antenna::compute_pattern(wires, *sea, mhz, chain);
  const double shift = r.pattern.system_efficiency_db - r.towards_sea.system_efficiency_db;
  r.sea_elevation_deg =
      std::atan2(std::max(0.0, site.altitude_m) + mean_height_m(wires), site.sea_from_m) * deg_per_rad;
  auto& p = r.towards_sea;
  const std::size_t azimuths = azimuths_of(p);
  for (std::size_t i = 0; i < p.gain_dbi.size(); ++i) {
    const double elevation = static_cast<double>(i / azimuths) * p.elevation_step_deg;
    p.gain_dbi[i] = elevation < r.sea_elevation_deg ? p.gain_dbi[i] + static_cast<float>(std::min(0.0, shift))
                                                    : r.pattern.gain_dbi[i];
  }
  p.radiation_efficiency_db = r.pattern.radiation_efficiency_db;
  p.system_efficiency_db = r.pattern.system_efficiency_db;
  p.feed_ohm = r.pattern.feed_ohm;
  p.swr = r.pattern.swr;
  p.losses = r.pattern.losses;
  p.notes.push_back(fmt::format(
      "towards the sea, below {:.0f} degrees: reflection off sea water beyond {:.0f} m, approximate",
      r.sea_elevation_deg, site.sea_from_m));
}

std::optional<Radiator> compute(const kit::Trip& trip, const Job& job) {
  const auto& band = trip.bands[static_cast<std::size_t>(job.band)];
  const auto& site = trip.sites[static_cast<std::size_t>(job.setup->site)];
  const auto raised = kit::raise_for(trip, *job.setup, band.mhz);
  if (!raised) return std::nullopt;
  const auto chain =
      antenna::chain_for(kit::design_for(trip, *job.setup), band.mhz, kit::line_for(trip, *job.setup));
  Radiator out;
  out.pattern = antenna::compute_pattern(raised->antenna, site.ground, band.mhz, chain);
  out.pattern.notes.insert(out.pattern.notes.begin(), raised->notes.begin(), raised->notes.end());
  if (site.sea_from_m > 0) add_sea(out, site, raised->antenna, chain, band.mhz);
  summarise(out);
  return out;
}

/// The mode that needs the least signal power: required ratio and bandwidth together; ties go to the better
/// wished.
int easiest_mode(const kit::Trip& trip, const kit::Rig& rig, const noise::Band& band) {
  int best = -1;
  double least = 0;
  for (std::size_t m = 0; m < trip.modes.size(); ++m) {
    const auto& mode = trip.modes[m];
    if (!rig_has_mode(rig, mode) || !mode_on_band(mode, band)) continue;
    const double need = mode.required_snr_db + to_db(mode.bandwidth_hz);
    if (best >= 0 && need >= least) continue;
    best = static_cast<int>(m);
    least = need;
  }
  return best;
}

}  // namespace

bool mode_on_band(const noise::Mode& mode, const noise::Band& band) {
  const bool voice = mode.id == "ssb" || mode.id == "am" || mode.id == "fm" || mode.id == "digital-voice";
  return !(voice && band.id == "30m");
}

bool rig_has_band(const kit::Rig& rig, const noise::Band& band) {
  return rig.bands.empty() || std::find(rig.bands.begin(), rig.bands.end(), band.id) != rig.bands.end();
}

bool rig_has_mode(const kit::Rig& rig, const noise::Mode& mode) {
  return rig.modes.empty() || std::find(rig.modes.begin(), rig.modes.end(), mode.id) != rig.modes.end();
}

PatternBook pattern_book(const kit::Trip& trip, std::span<const kit::Setup> setups) {
  PatternBook out;
  out.setups.resize(setups.size());
  std::map<std::string, int> known;
  std::vector<Job> jobs;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    const auto& setup = setups[s];
    const auto& site = trip.sites[static_cast<std::size_t>(setup.site)];
    const auto& rig = trip.rigs[static_cast<std::size_t>(setup.rig)];
    const auto line = kit::line_for(trip, setup);
    for (const int b : setup.bands) {
      const auto& band = trip.bands[static_cast<std::size_t>(b)];
      const int mode = rig_has_band(rig, band) ? easiest_mode(trip, rig, band) : -1;
      if (mode < 0) continue;
      const auto [where, fresh] =
          known.try_emplace(key_of(site, setup, line, b), static_cast<int>(jobs.size()));
      if (fresh) jobs.push_back({&setup, b});
      SetupBand use;
      use.band = b;
      use.radiator = where->second;
      use.mode = mode;
      out.setups[s].push_back(use);
    }
  }
  std::vector<std::optional<Radiator>> done(jobs.size());
  parallel_for(jobs.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) done[j] = compute(trip, jobs[j]);
  });
  std::vector<int> place(jobs.size(), -1);
  for (std::size_t j = 0; j < jobs.size(); ++j) {
    if (!done[j]) continue;
    place[j] = static_cast<int>(out.radiators.size());
    out.radiators.push_back(std::move(*done[j]));
  }
  for (std::size_t s = 0; s < setups.size(); ++s) {
    auto& uses = out.setups[s];
    std::erase_if(uses, [&](const SetupBand& u) { return place[static_cast<std::size_t>(u.radiator)] < 0; });
    const double rig_w = trip.rigs[static_cast<std::size_t>(setups[s].rig)].power_w;
    for (auto& use : uses) {
      use.radiator = place[static_cast<std::size_t>(use.radiator)];
      use.power_w = std::min(rig_w, trip.licence_power_w);
      const auto& band = trip.bands[static_cast<std::size_t>(use.band)];
      if (band.eirp_limit_w) {
        const double gain = from_db(out.radiators[static_cast<std::size_t>(use.radiator)].strongest_dbi);
        use.power_w = std::min(use.power_w, *band.eirp_limit_w / gain);
      }
      use.power_limited = use.power_w < rig_w;
    }
  }
  return out;
}

}  // namespace skerry::advice
