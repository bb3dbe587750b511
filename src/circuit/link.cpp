// Two stations on one path, hour by hour: every contact is summed here.

#include "contact_parts.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

Ledger ledger(const Contact& c, const Direction& d, double sent_dbw, const Noise& noise, const Asked& asked) {
  const Mode& mode = c.strongest();
  Ledger out;
  out.sent_dbw = sent_dbw;
  out.from_dbi = c.level.from_dbi;
  out.to_dbi = c.level.to_dbi;
  out.free_space_db = mode.free_space_db;
  out.d_layer_db = mode.absorption_db;
  out.above_muf_db = mode.above_muf_db;
  if (c.level.best_mode < 0) {
    out.d_layer_db = mode.absorption_db * c.passage.long_lower_share;
    out.above_muf_db = mode.absorption_db * (1 - c.passage.long_lower_share);
  }
  out.bounces_db = mode.ground_db;
  out.screening_db = mode.screening_db;
  out.auroral_db = mode.auroral_db;
  out.skyline_db = mode.skyline_db;
  out.other_db = mode.other_db;
  out.focusing_db = mode.focusing_db;
  out.noise_dbw = noise.dbw_per_hz + asked.bandwidth_db;
  out.needed_db = asked.required_db;
  out.together_db = d.received_dbw - out.received_dbw();
  return out;
}

}  // namespace

struct Link::Data {
  const Circuits& circuits;
  std::size_t index;
  Station from, to;
  Asked asked;
  double from_dbw, to_dbw, spread_db;
  Circuits::Tuned tuned;
  /// Of each frequency.
  std::vector<double> mhz;
  std::vector<Toward> here, there;
  std::vector<Receiving> noise_from, noise_to;  ///< when first asked for
  Passage passage;                              ///< of contacts in short, filled anew
};

Link::Link(const Circuits& circuits, std::size_t index, std::span<const double> mhz, const Station& from,
           const Station& to, const noise::Mode& emission)
    : data_(new Data{circuits,
                     index,
                     from,
                     to,
                     Asked(emission),
                     to_db(from.power_w),
                     to_db(to.power_w),
                     unknown_db(from, to),
                     Circuits::Tuned(circuits, index, mhz),
                     {mhz.begin(), mhz.end()},
                     {},
                     {},
                     {},
                     {},
                     {}}) {
  const auto& path = circuits.path(index);
  data_->here.reserve(mhz.size());
  data_->there.reserve(mhz.size());
  for (const double one : mhz) {
    data_->here.emplace_back(from, path.bearing_deg, one);
    data_->there.emplace_back(to, path.return_bearing_deg, one);
  }
}
Link::Link(Link&&) noexcept = default;
Link& Link::operator=(Link&&) noexcept = default;
Link::~Link() = default;

std::size_t Link::size() const {
  return data_->mhz.size();
}

void Link::begin(int hour) {
  Data& d = *data_;
  d.tuned.begin(hour);
  from_sky_ = d.circuits.from_sky(d.index, hour);
  to_sky_ = d.circuits.to_sky(d.index, hour);
  if (!d.noise_from.empty() || d.mhz.empty()) return;
  const auto& path = d.circuits.path(d.index);
  const auto month = static_cast<unsigned>(d.circuits.climate().day.month());
  d.noise_from.reserve(d.mhz.size());
  d.noise_to.reserve(d.mhz.size());
  for (const double one : d.mhz) {
    d.noise_from.emplace_back(path.from, month, d.from, one);
    d.noise_to.emplace_back(path.to, month, d.to, one);
  }
}

void Link::fill(std::size_t i, Contact& out, const TracedModes* traced) {
  Data& d = *data_;
  d.tuned.fill(i, out.passage);
  out.level = level(out.passage, d.here[i], d.there[i], traced);
  out.noise_from = d.noise_from[i].at(from_sky_);
  out.noise_to = d.noise_to[i].at(to_sky_);
  static_cast<BothWays&>(out) =
      directions(out.passage, out.level.received(d.from_dbw), out.level.received(d.to_dbw), out.noise_from,
                 out.noise_to, d.asked, d.spread_db);
  double best = 0;
  out.es_way.reset();
  for (int k = 0; k < out.passage.es_count; ++k) {
    const double spare_db = nth(out.level.es_dbw, k) + d.from_dbw - out.noise_to.dbw_per_hz -
                            d.asked.bandwidth_db - d.asked.required_db;
    // Judgement: with 20 dB more at the partner's than stated there are odds or there are none.
    const double odds = nth(out.passage.es, k).odds(spare_db + 20);
    if (odds <= best) continue;
    best = odds;
    out.es_way = k;
  }
  if (!out.any()) return;
  out.there_terms = ledger(out, out.there, d.from_dbw, out.noise_to, d.asked);
  out.back_terms = ledger(out, out.back, d.to_dbw, out.noise_from, d.asked);
}

void Link::contacts(int hour, std::span<const Noise> noise_from, std::span<const Noise> noise_to,
                    std::span<BothWays> out) {
  Data& d = *data_;
  Passage& passage = d.passage;
  // Sky and antennas are the same both ways. Level::received_dbw is not linear at its floor and in the blend
  // without modes; there contact() and this differ in signals that nobody hears.
  const double back_db = d.to_dbw - d.from_dbw;
  d.tuned.begin(hour);
  for (std::size_t i = 0; i < d.mhz.size(); ++i) {
    d.tuned.fill(i, passage);
    const auto there = level(passage, d.here[i], d.there[i], nullptr).received(d.from_dbw);
    out[i] = directions(passage, there, there + back_db, noise_from[i], noise_to[i], d.asked, d.spread_db);
  }
}

Contact contact(const Circuits& circuits, std::size_t index, int hour, double mhz, const Station& from,
                const Station& to, const noise::Mode& emission, const TracedModes* traced) {
  Contact out;
  Link link(circuits, index, {&mhz, 1}, from, to, emission);
  link.contacts(
      hour, [&](std::size_t) -> Contact& { return out; }, [&](std::size_t) { return traced; });
  return out;
}

}  // namespace skerry::circuit
