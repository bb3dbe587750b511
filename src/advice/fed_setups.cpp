// What each rig sends on the packs that it may be fed from.
#include <algorithm>
#include <functional>
#include <set>

#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

void limit_power(std::vector<SetupBand>& uses, const kit::Rig& rig, double power_w) {
  for (auto& use : uses) {
    const double allowed_w = use.power_limited ? use.power_w : rig.power_w;
    use.power_w = std::min(allowed_w, power_w);
    use.power_limited = use.power_w < power_w;
  }
}

}  // namespace

void limit_to_feeds(const kit::Trip& trip, const kit::Setups& setups, PatternBook& book) {
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    if (setup.power_w) limit_power(book.setups[s], trip.at(setup.rig), *setup.power_w);
  }
}

void feed_setups(const kit::Trip& trip, const Inventory& inventory, kit::Setups& setups, PatternBook& book) {
  const std::size_t given = setups.possible.size();
  for (std::size_t s = 0; s < given; ++s) {
    const auto rig = setups.possible[s].rig;
    const auto uses = book.setups[s];
    std::set<double, std::greater<>> outputs;
    for (const auto& feed : nth(inventory.power, rig.value()).feeds) outputs.insert(feed.power_w);
    for (const double power_w : outputs) {
      std::size_t at = s;
      if (power_w < *outputs.begin()) {
        at = setups.possible.size();
        setups.possible.push_back(kit::Setup(setups.possible[s]));
        book.setups.push_back(uses);
      }
      setups.possible[at].power_w = power_w;
    }
  }
  limit_to_feeds(trip, setups, book);
}

}  // namespace skerry::advice
