#include "hung_wires.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// Judgement: trimming seldom makes a wire longer by more.
constexpr double trimmed_longer = 1.04;

/// Equal texts, equal solutions: the metal, its parts and the ground.
std::string solution_key(const antenna::WireAntenna& a, const antenna::Ground& ground, double mhz) {
  std::string key = fmt::format("{} {} {} {} {} {}", static_cast<int>(ground.kind), ground.eps_r,
                                ground.sigma_s_per_m, mhz, a.feed.wire, a.feed.at);
  for (const auto& w : a.wires) {
    key += fmt::format("|{} {} {} {} {} {} {} {} {}", w.from_m[0], w.from_m[1], w.from_m[2], w.to_m[0],
                       w.to_m[1], w.to_m[2], w.radius_mm, w.conductivity_s_per_m, w.insulated);
  }
  for (const auto& l : a.loads) {
    key += fmt::format("/{} {} {} {} {} {} {}", l.wire, l.at, l.resistance_ohm, l.inductance_uh,
                       l.capacitance_pf, l.coil_q, l.parallel);
  }
  if (a.tuned) key += fmt::format("?{} {} {} {}", a.tuned->wire, a.tuned->at, a.tuned->capacitor, a.tuned->q);
  return key;
}

std::string foreground_key(const std::vector<antenna::Foreground>& further_out) {
  std::string key;
  for (const auto& f : further_out)
    key +=
        fmt::format("~{} {} {} {}", static_cast<int>(f.beyond.kind), f.beyond.eps_r, f.from_m, f.slope_deg);
  return key;
}

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

/// What lies further out in the directions where it is not the site's own level ground.
std::vector<antenna::Foreground> foregrounds(const kit::Site& site, const antenna::WireAntenna& wires,
                                             std::vector<Hung::Toward>& towards) {
  std::vector<antenna::Foreground> out;
  const bool level = site.slope_deg == 0 && site.foreground.points.empty();
  if ((site.sea_from_m <= 0 && site.shore.sectors.empty() && level) ||
      site.ground.kind == antenna::GroundKind::free_space)
    return out;
  const auto sea = antenna::find_ground("sea", {});
  assert(sea.has_value());
  const double height_m = mean_height_m(wires);
  for (int bearing = 0; bearing < 360; ++bearing) {
    const double sea_from_m = site.sea_towards_m(bearing);
    const int fall = fall_towards_deg(site, bearing);
    const auto same = [&](const Hung::Toward& t) { return t.sea_from_m == sea_from_m && t.fall_deg == fall; };
    if ((sea_from_m == 0 && fall == 0) || std::any_of(towards.begin(), towards.end(), same)) continue;
    antenna::Foreground f;
    f.all_round = true;
    f.slope_deg = fall;
    f.beyond = sea_from_m > 0 ? *sea : site.ground;
    f.from_m = sea_from_m * height_m / (height_m + std::max(0.0, site.altitude_m));
    out.push_back(f);
    towards.push_back({sea_from_m, fall});
  }
  return out;
}

/// Solves what is not known yet.
Result<std::shared_ptr<const antenna::Solution>> currents_on(const antenna::WireAntenna& wires,
                                                             const antenna::Ground& ground, double mhz,
                                                             SolvedWires& known) {
  const auto key = solution_key(wires, ground, mhz);
  if (auto there = known.currents.find(key)) return there;
  auto solved = antenna::solve(wires, ground, mhz);
  if (!solved) return tl::unexpected(solved.error());
  return known.currents.keep(key, std::move(*solved));
}

}  // namespace

antenna::Meter remembering(SolvedWires& known) {
  return [&known](const antenna::WireAntenna& wires, const antenna::Ground& ground,
                  double mhz) -> Result<std::complex<double>> {
    auto found = currents_on(wires, ground, mhz, known);
    if (!found) return tl::unexpected(found.error());
    return (*found)->feed_ohm;
  };
}

namespace {

/// The antenna as it stands there, trimmed on that ground where it is cut to a band.
tl::expected<antenna::Raised, Unfit> put_up(const kit::Trip& trip, const kit::Setup& setup,
                                            const noise::Band& band, const antenna::Design& design,
                                            SolvedWires& known) {
  auto raised = kit::raise_for(trip, setup, band.mhz);
  if (!raised) return tl::unexpected(Unfit(antenna::Note{antenna::NoteKind::does_not_stand}));
  if (trip.at(setup.antenna).wires) return *raised;
  const auto& ground = trip.at(setup.site).ground;
  return antenna::trimmed(design, kit::support_for(trip, setup), *raised, ground, band.mhz,
                          remembering(known));
}

}  // namespace

int fall_towards_deg(const kit::Site& site, double bearing_deg) {
  if (!site.foreground.points.empty())
    return static_cast<int>(std::lround(site.foreground.fall_deg(bearing_deg)));
  if (!site.slope_azimuth_deg) return static_cast<int>(std::lround(site.slope_deg));
  const double along = cos_deg(bearing_deg - *site.slope_azimuth_deg);
  return static_cast<int>(std::lround(std::atan(tan_deg(site.slope_deg) * along) * deg_per_rad));
}

tl::expected<Hung, Unfit> solve_wires(const kit::Trip& trip, const WireJob& job, SolvedWires& known) {
  const auto& band = nth(trip.bands, job.band);
  const auto& site = trip.at(job.setup->site);
  const auto design = kit::design_for(trip, *job.setup);
  auto raised = put_up(trip, *job.setup, band, design, known);
  if (!raised) return tl::unexpected(raised.error());
  auto wires = antenna::with_coil_q(raised->antenna, design.coil_q);
  auto currents = currents_on(wires, site.ground, band.mhz, known);
  if (!currents) return tl::unexpected(Unfit(currents.error()));
  Hung out;
  out.currents = std::move(*currents);
  out.further_out = foregrounds(site, wires, out.towards);
  out.key = solution_key(wires, site.ground, band.mhz) + foreground_key(out.further_out);
  out.notes = std::move(raised->notes);
  raised->antenna = std::move(wires);
  out.stands = std::move(*raised);
  return out;
}

std::optional<Unfit> mast_doubt(const kit::Trip& trip, const WireJob& job, const Hung& hung,
                                SolvedWires& known) {
  if (hung.stands.mast_wire <= 0 || !antenna::runs_along_support(hung.stands.shape)) return std::nullopt;
  const double mhz = nth(trip.bands, job.band).mhz;
  const auto& ground = trip.at(job.setup->site).ground;
  const auto chain = antenna::chain_for(kit::design_for(trip, *job.setup), mhz, {});
  const auto key = solution_key(hung.stands.antenna, ground, mhz) +
                   fmt::format(" 1:{} {} {} {}", chain.transformer_ratio, chain.transformer_loss_db,
                               chain.own_match, job.setup->tuned);
  auto sway = known.sways.find(key);
  if (!sway) {
    auto found = antenna::mast_sway(
        hung.stands, ground, chain, job.setup->tuned,
        [&](const antenna::WireAntenna& wires) { return currents_on(wires, ground, mhz, known); });
    if (!found) return std::nullopt;
    sway = known.sways.keep(key, std::move(*found));
  }
  if (const auto why = antenna::unsettled(*sway, job.setup->tuned)) return Unfit(*why);
  return std::nullopt;
}

void find_fields(const kit::Site& site, Hung& hung, SolvedWires& known) {
  hung.radiated = known.fields.find(hung.key);
  if (hung.radiated) return;
  hung.radiated =
      known.fields.keep(hung.key, antenna::radiate(*hung.currents, site.ground, hung.further_out));
}

void prepare_grounds(const kit::Trip& trip, const std::vector<WireJob>& jobs) {
  struct Need {
    const antenna::Ground* ground = nullptr;
    double mhz = 0;
    antenna::Room room;
  };
  std::map<std::tuple<double, double, double>, Need> needs;
  for (const auto& job : jobs) {
    const auto& ground = trip.at(job.setup->site).ground;
    const double mhz = nth(trip.bands, job.band).mhz;
    const auto raised = kit::raise_for(trip, *job.setup, mhz);
    if (!raised) continue;
    auto room = antenna::room_of(raised->antenna);
    room.width_m *= trimmed_longer;
    room.high_m *= trimmed_longer;
    const auto [where, fresh] =
        needs.try_emplace({ground.eps_r, ground.sigma_s_per_m, mhz}, Need{&ground, mhz, room});
    auto& all = where->second.room;
    all.width_m = std::max(all.width_m, room.width_m);
    all.low_m = std::min(all.low_m, room.low_m);
    all.high_m = std::max(all.high_m, room.high_m);
  }
  std::vector<Need> list;
  for (const auto& [key, need] : needs) list.push_back(need);
  parallel_for(list.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k)
      antenna::prepare_ground(*list[k].ground, list[k].mhz, list[k].room);
  });
}

}  // namespace skerry::advice
