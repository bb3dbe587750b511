#include "skerry/advice/patterns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "hung_wires.hpp"
#include "skerry/advice/inventory.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// Judgement: an antenna within this between azimuths is laid out as the ground allows.
constexpr double turning_db = 0.5;

/// What decides the currents: equal texts, equal solutions.
std::string wires_key(const kit::Site& site, const kit::Setup& setup, int band) {
  const auto& g = site.ground;
  const auto number = [](const auto& support) { return support ? support->value() : -1; };
  std::string key = fmt::format("{} {} {} | {} {} {} {} {} | {}", static_cast<int>(g.kind), g.eps_r,
                                g.sigma_s_per_m, setup.antenna.value(), number(setup.support),
                                number(setup.far_support), static_cast<int>(setup.shape), setup.tuned, band);
  if (site.sea_from_m > 0) {
    key += fmt::format(" | sea {} {} {} {}", site.sea_from_m, site.altitude_m, site.sea_azimuth_from_deg,
                       site.sea_azimuth_to_deg);
  }
  for (const auto& s : site.shore.sectors)
    key += fmt::format(" | shore {} {} {}", s.azimuth_deg, s.from_m, site.altitude_m);
  if (site.slope_deg != 0)
    key += fmt::format(" | slope {} {}", site.slope_deg, site.slope_azimuth_deg.value_or(-1));
  for (const auto& p : site.foreground.points) key += fmt::format(" | fall {} {}", p.azimuth_deg, p.fall_deg);
  return key;
}

/// What then decides a radiator.
std::string line_key(const antenna::FeedLine& line) {
  return fmt::format(" | {} {} {} {} {}", line.cable, line.length_m, line.tuner,
                     line.tuner_loss_db.value_or(-1), line.tuner_max_swr.value_or(-1));
}

struct FeedJob {
  const kit::Setup* setup = nullptr;
  int band = 0;
  int wires = 0;  ///< index of the WireJob
};

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
  for (const auto& t : r.towards) look(t.pattern);
}

antenna::Chain chain_of(const kit::Trip& trip, const FeedJob& job) {
  return antenna::chain_for(kit::design_for(trip, *job.setup), nth(trip.bands, job.band).mhz,
                            kit::line_for(trip, *job.setup));
}

Radiator feed(const kit::Trip& trip, const FeedJob& job, const Hung& hung) {
  const antenna::Radiated& radiated = *hung.radiated;
  const auto chain = chain_of(trip, job);
  Radiator out;
  out.pattern = antenna::pattern_of(radiated, chain);
  auto& notes = out.pattern.notes;
  notes.insert(notes.begin(), hung.notes.begin(), hung.notes.end());
  for (std::size_t i = 0; i < hung.towards.size(); ++i) {
    const auto& t = hung.towards[i];
    out.towards.push_back(
        {t.sea_from_m, t.fall_deg, antenna::pattern_of(radiated, chain, radiated.beyond[i])});
  }
  summarise(out);
  return out;
}

/// Why the rig or its tuner cannot drive this, if it cannot.
std::optional<Unfit> unfit(const antenna::Matching& matching, bool tuner) {
  if (matching.match == antenna::Match::direct) return std::nullopt;
  if (matching.match == antenna::Match::with_tuner && tuner) return std::nullopt;
  return matching.why;
}

/// The mode that counts most of those that the rig has and the band allows; ties go to the better wished.
std::optional<Id<noise::Mode>> leading_mode(const kit::Trip& trip, const std::vector<double>& shares,
                                            const kit::Rig& rig, const noise::Band& band) {
  std::optional<Id<noise::Mode>> best;
  double most = -1;
  if (!rig_has_band(rig, band)) return best;
  for (const auto m : ids_of(trip.modes)) {
    const auto& mode = nth(trip.modes, m);
    if (!rig_has_mode(rig, mode) || !mode_on_band(mode, band)) continue;
    if (nth(shares, m.value()) <= most) continue;
    best = m;
    most = nth(shares, m.value());
  }
  return best;
}

}  // namespace

std::optional<double> mast_cost_db(const kit::Trip& trip, const kit::Setup& setup, int band,
                                   const PatternBook& book) {
  const auto& on = nth(trip.bands, band);
  const auto& ground = trip.at(setup.site).ground;
  const auto design = kit::design_for(trip, setup);
  const auto raised = kit::raise_for(trip, setup, on.mhz);
  if (!raised || raised->mast_wire <= 0) return std::nullopt;
  auto with = solve_wires(trip, {&setup, band}, *book.solved);
  const auto bare = antenna::radiate(antenna::without_mast(design, kit::support_for(trip, setup), *raised,
                                                           ground, on.mhz, remembering(*book.solved)),
                                     ground, on.mhz, design.coil_q);
  if (!with || !bare) return std::nullopt;
  find_fields(trip.at(setup.site), *with, *book.solved);
  const auto chain = antenna::chain_for(design, on.mhz, kit::line_for(trip, setup));
  // Judgement: 20 degrees stands for the angles that matter.
  return antenna::pattern_of(*bare, chain).mean_dbi(20) -
         antenna::pattern_of(*with->radiated, chain).mean_dbi(20);
}

bool is_voice(const noise::Mode& mode) {
  return mode.id == "ssb" || mode.id == "am" || mode.id == "fm" || mode.id == "digital-voice";
}

bool mode_on_band(const noise::Mode& mode, const noise::Band& band) {
  return !(is_voice(mode) && band.id == "30m");
}

bool rig_has_band(const kit::Rig& rig, const noise::Band& band) {
  return rig.bands.empty() || std::find(rig.bands.begin(), rig.bands.end(), band.id) != rig.bands.end();
}

bool rig_has_mode(const kit::Rig& rig, const noise::Mode& mode) {
  return rig.modes.empty() || std::find(rig.modes.begin(), rig.modes.end(), mode.id) != rig.modes.end();
}

const antenna::Pattern& Radiator::at_bearing(const kit::Site& site, double bearing_deg) const {
  if (towards.empty()) return pattern;
  // Between two whole degrees, for which there are patterns, a slope may take any value: then the nearer one's holds.
  for (const double bearing : {bearing_deg, std::round(bearing_deg)}) {
    const double sea_from_m = site.sea_towards_m(bearing);
    const int fall = fall_towards_deg(site, bearing);
    for (const auto& t : towards) {
      if (t.sea_from_m == sea_from_m && t.fall_deg == fall) return t.pattern;
    }
    if (sea_from_m == 0 && fall == 0) break;
  }
  return pattern;
}

PatternBook pattern_book(const kit::Trip& trip, std::span<const kit::Setup> setups,
                         const PatternBook* before) {
  PatternBook out;
  out.solved = before != nullptr ? before->solved : std::make_shared<SolvedWires>();
  out.setups.resize(setups.size());
  const auto shares = counted_shares(trip);
  std::map<std::string, int> known_wires, known_feeds;
  std::vector<WireJob> wires;
  std::vector<FeedJob> feeds;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    const auto& setup = setups[s];
    const auto& site = trip.at(setup.site);
    const auto& rig = trip.at(setup.rig);
    const auto line = kit::line_for(trip, setup);
    for (const int b : setup.bands) {
      const auto mode = leading_mode(trip, shares, rig, nth(trip.bands, b));
      if (!mode) continue;
      const std::string key = wires_key(site, setup, b);
      const auto [wire, new_wire] = known_wires.try_emplace(key, static_cast<int>(wires.size()));
      if (new_wire) wires.push_back({&setup, b});
      const auto [where, fresh] =
          known_feeds.try_emplace(key + line_key(line), static_cast<int>(feeds.size()));
      if (fresh) feeds.push_back({&setup, b, wire->second});
      SetupBand use;
      use.band = b;
      use.radiator = where->second;
      use.mode = *mode;
      out.setups[s].push_back(use);
    }
  }
  prepare_grounds(trip, wires);
  std::vector<std::optional<tl::expected<Hung, Unfit>>> solved(wires.size());
  parallel_for(wires.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) solved[j] = solve_wires(trip, wires[j], *out.solved);
  });
  // What no rig can drive radiates nowhere: only the others' far fields are computed.
  std::vector<std::optional<Unfit>> why(feeds.size());
  std::vector<char> wanted(wires.size(), 0);
  for (std::size_t j = 0; j < feeds.size(); ++j) {
    const auto wire = static_cast<std::size_t>(feeds[j].wires);
    const auto& one = *solved[wire];
    if (!one) {
      why[j] = one.error();
      continue;
    }
    why[j] = unfit(antenna::matching_of(*one->currents, chain_of(trip, feeds[j])), feeds[j].setup->tuned);
    if (!why[j]) wanted[wire] = 1;
  }
  std::vector<std::optional<Unfit>> doubt(wires.size());
  parallel_for(wires.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      if (wanted[j] == 0) continue;
      doubt[j] = mast_doubt(trip, wires[j], **solved[j], *out.solved);
      if (doubt[j]) wanted[j] = 0;
    }
  });
  for (std::size_t j = 0; j < feeds.size(); ++j) {
    if (!why[j]) why[j] = nth(doubt, feeds[j].wires);
  }
  parallel_for(wires.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      if (wanted[j] == 0) continue;
      find_fields(trip.at(wires[j].setup->site), **solved[j], *out.solved);
    }
  });
  std::vector<std::optional<Radiator>> done(feeds.size());
  parallel_for(feeds.size(), 4, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      if (!why[j]) done[j] = feed(trip, feeds[j], **nth(solved, feeds[j].wires));
    }
  });
  std::vector<int> place(feeds.size(), -1);
  for (std::size_t j = 0; j < feeds.size(); ++j) {
    if (!done[j]) continue;
    place[j] = static_cast<int>(out.radiators.size());
    out.radiators.push_back(std::move(*done[j]));
  }
  for (std::size_t s = 0; s < setups.size(); ++s) {
    auto& uses = out.setups[s];
    for (const auto& u : uses) {
      const auto& reason = nth(why, u.radiator);
      if (reason) out.refused.push_back({static_cast<int>(s), u.band, *reason});
    }
    std::erase_if(uses, [&](const SetupBand& u) { return nth(place, u.radiator) < 0; });
    const double rig_w = trip.at(setups[s].rig).power_w;
    for (auto& use : uses) {
      use.radiator = nth(place, use.radiator);
      use.power_w = std::min(rig_w, trip.licence_power_w);
      const auto& band = nth(trip.bands, use.band);
      if (band.eirp_limit_w) {
        const double gain = from_db(nth(out.radiators, use.radiator).strongest_dbi);
        use.power_w = std::min(use.power_w, *band.eirp_limit_w / gain);
      }
      use.power_limited = use.power_w < rig_w;
    }
  }
  return out;
}

}  // namespace skerry::advice
