// Which things can stand in for each other.
#include <algorithm>
#include <tuple>

#include "skerry/advice/inventory.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

void forget_name(kit::Item& item) {
  item.id.clear();
  item.name.clear();
  item.line = 0;
  item.library = false;
  item.count = 1;
}

// All members, so that a further one does not compile before it is compared.
auto all_of(const antenna::Design& d) {
  const auto& [id, kind, shapes, bands, wire, counterpoise, linked, cable_counterpoise, coil_at, hat, spacing,
               radials, radial, radial_height, radial_end, trim, radius, insulated, ratio, loss, coil_q,
               ground_loss, needs_tuner] = d;
  return std::tie(kind, shapes, bands, wire, counterpoise, linked, cable_counterpoise, coil_at, hat, spacing,
                  radials, radial, radial_height, radial_end, trim, radius, insulated, ratio, loss, coil_q,
                  ground_loss, needs_tuner);
}

/// But for name and place in the file. Wires drawn one by one are never taken for equal.
bool same(const kit::Antenna& a, const kit::Antenna& b) {
  const auto& [item, design, supports, wires, bands, needs, self_standing, setup_minutes] = a;
  kit::Item mine = item, other = b.item;
  forget_name(mine);
  forget_name(other);
  return mine == other && all_of(design) == all_of(b.design) && !wires && !b.wires &&
         supports == b.supports && bands == b.bands && needs == b.needs && self_standing == b.self_standing &&
         setup_minutes == b.setup_minutes;
}

template <class T>
bool same(T a, T b) {
  if constexpr (std::is_same_v<T, kit::Item>) {
    forget_name(a);
    forget_name(b);
  } else {
    forget_name(a.item);
    forget_name(b.item);
  }
  return a == b;
}

bool alike(const kit::Trip& trip, const Thing& a, const Thing& b) {
  if (a.kind != b.kind) return false;
  const auto both = [&](const auto& list) { return same(nth(list, a.index), nth(list, b.index)); };
  switch (a.kind) {
    case ThingKind::rig:
      return both(trip.rigs);
    case ThingKind::antenna:
      return both(trip.antennas);
    case ThingKind::support:
      return both(trip.supports);
    case ThingKind::cable:
      return both(trip.cables);
    case ThingKind::tuner:
      return both(trip.tuners);
    case ThingKind::battery:
      return both(trip.batteries);
    case ThingKind::item:
      break;
  }
  return both(trip.items);
}

/// Every list of ids that holds one of them holds the other.
bool named_alike(const kit::Trip& trip, const std::string& a, const std::string& b) {
  const auto holds = [](const std::vector<std::string>& ids, const std::string& id) {
    return std::find(ids.begin(), ids.end(), id) != ids.end();
  };
  // A thing that must come along is needed by itself, and another does not do.
  const auto needed = [&](const std::vector<std::string>& needs) {
    return holds(needs, a) != holds(needs, b);
  };
  return std::none_of(trip.antennas.begin(), trip.antennas.end(),
                      [&](const kit::Antenna& x) {
                        return needed(x.needs) || holds(x.supports, a) != holds(x.supports, b);
                      }) &&
         std::none_of(trip.supports.begin(), trip.supports.end(),
                      [&](const kit::Support& x) { return needed(x.needs); });
}

}  // namespace

std::vector<std::optional<int>> kinds_of(const kit::Trip& trip, const Inventory& inventory) {
  const auto& things = inventory.things;
  std::vector<std::optional<int>> out(things.size());
  int kinds = 0;
  for (std::size_t i = 0; i < things.size(); ++i) {
    if (out[i]) continue;
    for (std::size_t j = i + 1; j < things.size(); ++j) {
      // Mass first: most pairs differ there.
      if (out[j] || things[i].mass_g != things[j].mass_g || !alike(trip, things[i], things[j]) ||
          !named_alike(trip, things[i].id, things[j].id))
        continue;
      out[i] = out[j] = kinds;
    }
    if (out[i]) ++kinds;
  }
  return out;
}

}  // namespace skerry::advice
