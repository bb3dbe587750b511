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
    for (int site = 0; site < static_cast<int>(trip_.sites.size()); ++site) {
      for (const int rig : rigs) {
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

  std::vector<int> useful_rigs() {
    std::vector<int> out;
    for (int r = 0; r < static_cast<int>(trip_.rigs.size()); ++r) {
      const auto& rig = nth(trip_.rigs, r);
      const bool band = rig.bands.empty() || std::any_of(trip_.bands.begin(), trip_.bands.end(),
                                                         [&](const auto& b) { return has(rig.bands, b.id); });
      const bool mode = rig.modes.empty() || std::any_of(trip_.modes.begin(), trip_.modes.end(),
                                                         [&](const auto& m) { return has(rig.modes, m.id); });
      if (!band) refuse({Why::no_licensed_band, -1, -1, -1, r});
      if (!mode) refuse({Why::no_wanted_mode, -1, -1, -1, r});
      if (band && mode) out.push_back(r);
    }
    return out;
  }

  [[nodiscard]] bool on_site(int support, int site) const {
    if (support < 0) return true;
    const auto& s = nth(trip_.supports, support);
    return !s.at_site || s.sites.empty() || has(s.sites, nth(trip_.sites, site).id);
  }

  [[nodiscard]] std::vector<int> rig_bands(const std::vector<int>& bands, const Rig& rig) const {
    std::vector<int> out;
    for (const int b : bands) {
      if (rig.bands.empty() || has(rig.bands, nth(trip_.bands, b).id)) out.push_back(b);
    }
    return out;
  }

  /// The cables that reach the feed point; {-1} where none is needed; empty where none reaches.
  [[nodiscard]] static double cable_m(const Standing& way) {
    return std::max(way.feed_height_m + cable_slack_m, way.shield_m);
  }
  [[nodiscard]] std::vector<int> cables_for(const Standing& way) const {
    if (!way.wants_cable) return {-1};
    std::vector<int> out;
    for (int c = 0; c < static_cast<int>(trip_.cables.size()); ++c) {
      if (nth(trip_.cables, c).length_m >= cable_m(way)) out.push_back(c);
    }
    return out;
  }

  void combine(int site, int rig_index, const Standing& way) {
    const auto& rig = nth(trip_.rigs, rig_index);
    const auto plain = rig_bands(way.plain, rig);
    const auto tuned = rig_bands(way.tuned, rig);
    if (plain.empty() && tuned.empty()) {
      refuse({Why::no_common_band, way.antenna, -1, -1, rig_index});
      return;
    }
    const auto cables = cables_for(way);
    if (cables.empty()) {
      const bool by_shield = cable_m(way) > way.feed_height_m + cable_slack_m;
      Impossible that{Why::no_cable, way.antenna, way.support, way.far_support};
      if (!trip_.cables.empty()) {
        that.why = by_shield ? Why::short_counterpoise : Why::short_cable;
        that.a = by_shield ? cable_m(way) : way.feed_height_m;
        that.b = cable_m(way);
      }
      refuse(that);
      return;
    }
    std::vector<int> tuners;
    if (rig.tuner) {
      tuners = {-1};
    } else {
      for (int t = 0; t < static_cast<int>(trip_.tuners.size()); ++t) tuners.push_back(t);
    }
    if (plain.empty() && tuners.empty()) {
      refuse({Why::no_tuner, way.antenna, -1, -1, rig_index});
    }
    for (const int cable : cables) {
      Setup s;
      s.site = site;
      s.rig = rig_index;
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
      for (const int tuner : tuners) {
        s.tuner = tuner;
        add(s);
      }
    }
  }

  void add(Setup s) {
    const auto& antenna = nth(trip_.antennas, s.antenna);
    std::set<std::string> needs;
    std::vector<std::string> open = {nth(trip_.rigs, s.rig).item.id, antenna.item.id};
    if (s.support >= 0) open.push_back(nth(trip_.supports, s.support).item.id);
    if (s.far_support >= 0) open.push_back(nth(trip_.supports, s.far_support).item.id);
    if (s.cable >= 0) open.push_back(nth(trip_.cables, s.cable).item.id);
    if (s.tuner >= 0) open.push_back(nth(trip_.tuners, s.tuner).item.id);
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

Setups derive_setups(const Trip& trip) {
  return Deriver(trip).run();
}

}  // namespace skerry::kit
