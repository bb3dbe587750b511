#include "skerry/kit/setup.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "skerry/core/nth.hpp"
#include "skerry/kit/standing.hpp"

namespace skerry::kit {

namespace {

using antenna::Shape;

// Judgement: from the feed point down and a step aside.
constexpr double cable_slack_m = 1.0;

bool has(const std::vector<std::string>& list, const std::string& word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

class Deriver {
 public:
  explicit Deriver(const Trip& trip) : trip_(trip) {
    for (const auto& a : trip.antennas) needs_of_[a.item.id] = a.needs;
    for (const auto& s : trip.supports) {
      needs_of_[s.item.id] = s.needs;
      if (s.at_site) at_site_.insert(s.item.id);
    }
  }

  Setups run() {
    auto standings = find_standings(trip_);
    out_.impossible = std::move(standings.impossible);
    const auto rigs = useful_rigs();
    for (const auto site : ids_of(trip_.sites)) {
      for (const auto rig : rigs) {
        for (const auto& way : standings.ways) {
          if (on_site(way.support, site) && on_site(way.far_support, site)) combine(site, rig, way);
        }
      }
    }
    return std::move(out_);
  }

 private:
  using Why = Impossible::Why;

  void refuse(const Impossible& that) {
    auto& said = out_.impossible;
    if (std::find(said.begin(), said.end(), that) == said.end()) said.push_back(that);
  }

  std::vector<Id<Rig>> useful_rigs() {
    std::vector<Id<Rig>> out;
    for (const auto r : ids_of(trip_.rigs)) {
      const auto& rig = trip_.at(r);
      const bool band = rig.bands.empty() || std::any_of(trip_.bands.begin(), trip_.bands.end(),
                                                         [&](const auto& b) { return has(rig.bands, b.id); });
      const bool mode = rig.modes.empty() || std::any_of(trip_.modes.begin(), trip_.modes.end(),
                                                         [&](const auto& m) { return has(rig.modes, m.id); });
      if (!band) refuse({Why::no_licensed_band, {}, {}, {}, r});
      if (!mode) refuse({Why::no_wanted_mode, {}, {}, {}, r});
      if (band && mode) out.push_back(r);
    }
    return out;
  }

  [[nodiscard]] bool on_site(std::optional<Id<Support>> support, Id<Site> site) const {
    if (!support) return true;
    const auto& s = trip_.at(*support);
    return !s.at_site || s.sites.empty() || has(s.sites, trip_.at(site).id);
  }

  [[nodiscard]] std::vector<int> rig_bands(const std::vector<int>& bands, const Rig& rig) const {
    std::vector<int> out;
    for (const int b : bands) {
      if (rig.bands.empty() || has(rig.bands, nth(trip_.bands, b).id)) out.push_back(b);
    }
    return out;
  }

  [[nodiscard]] static double cable_m(const Standing& way) {
    return std::max(way.feed_height_m + cable_slack_m, way.shield_m);
  }
  /// The cables that reach the feed point; one "none" where none is needed; empty where none reaches.
  [[nodiscard]] std::vector<std::optional<Id<Cable>>> cables_for(const Standing& way) const {
    if (!way.wants_cable) return {std::nullopt};
    std::vector<std::optional<Id<Cable>>> out;
    for (const auto c : ids_of(trip_.cables)) {
      if (trip_.at(c).length_m >= cable_m(way)) out.emplace_back(c);
    }
    return out;
  }

  void combine(Id<Site> site, Id<Rig> rig_id, const Standing& way) {
    const auto& rig = trip_.at(rig_id);
    const auto plain = rig_bands(way.plain, rig);
    const auto tuned = rig_bands(way.tuned, rig);
    if (plain.empty() && tuned.empty()) {
      refuse({Why::no_common_band, way.antenna, {}, {}, rig_id});
      return;
    }
    const auto cables = cables_for(way);
    if (cables.empty()) {
      const bool by_shield = cable_m(way) > way.feed_height_m + cable_slack_m;
      Impossible that{Why::no_cable, way.antenna, way.support, way.far_support, {}};
      if (!trip_.cables.empty()) {
        that.why = by_shield ? Why::short_counterpoise : Why::short_cable;
        that.a = by_shield ? cable_m(way) : way.feed_height_m;
        that.b = cable_m(way);
      }
      refuse(that);
      return;
    }
    const auto tuners = tuners_for(trip_, rig);
    if (plain.empty() && tuners.empty()) {
      refuse({Why::no_tuner, way.antenna, {}, {}, rig_id});
    }
    for (const auto cable : cables) {
      Setup s;
      s.site = site;
      s.rig = rig_id;
      s.antenna = way.antenna;
      s.support = way.support;
      s.far_support = way.far_support;
      s.cable = cable;
      s.shape = way.shape;
      s.stance = way.stance;
      if (!plain.empty()) {
        s.bands = plain;
        if (tuners.empty()) s.wants_tuner = tuned;
        add(s);
      }
      if (tuned.empty()) continue;
      s.bands = tuned;
      s.tuned = true;
      for (const auto tuner : tuners) {
        s.tuner = tuner;
        add(s);
      }
    }
  }

  void add(Setup s) {
    std::set<std::string> needs;
    std::vector<std::string> open = {trip_.at(s.rig).item.id, trip_.at(s.antenna).item.id};
    if (s.support) open.push_back(trip_.at(*s.support).item.id);
    if (s.far_support) open.push_back(trip_.at(*s.far_support).item.id);
    if (s.cable) open.push_back(trip_.at(*s.cable).item.id);
    if (s.tuner) open.push_back(trip_.at(*s.tuner).item.id);
    // What is needed may need things itself.
    while (!open.empty()) {
      const std::string id = std::move(open.back());
      open.pop_back();
      if (!needs.insert(id).second) continue;
      if (const auto more = needs_of_.find(id); more != needs_of_.end()) {
        open.insert(open.end(), more->second.begin(), more->second.end());
      }
    }
    for (const auto& id : at_site_) needs.erase(id);
    s.needs.assign(needs.begin(), needs.end());
    out_.possible.push_back(std::move(s));
  }

  const Trip& trip_;
  Setups out_;
  std::map<std::string, std::vector<std::string>> needs_of_;
  std::set<std::string> at_site_;
};

}  // namespace

std::vector<std::optional<Id<Tuner>>> tuners_for(const Trip& trip, const Rig& rig) {
  if (rig.tuner) return {std::nullopt};
  const auto all = ids_of(trip.tuners);
  return {all.begin(), all.end()};
}

Setups derive_setups(const Trip& trip) {
  return Deriver(trip).run();
}

}  // namespace skerry::kit
