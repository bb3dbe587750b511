// Things of which a file has several alike.
#include <fmt/format.h>

#include <algorithm>

#include "readers.hpp"

namespace skerry::files {

namespace {

Item& item_of(Item& item) {
  return item;
}
template <class T>
Item& item_of(T& thing) {
  return thing.item;
}

/// What else goes by the thing's id.
template <class T>
void rename(T& thing, const std::string& id) {
  item_of(thing).id = id;
  if constexpr (std::is_same_v<T, Antenna>) {
    thing.design.id = id;
    if (thing.wires) thing.wires->id = id;
  }
}

template <class T>
void count_out(std::vector<T>& list, const Reading& reading) {
  std::vector<T> out;
  for (T& thing : list) {
    const auto all = reading.alike.find(item_of(thing).id);
    // What came from a library was counted out there.
    if (all == reading.alike.end() || item_of(thing).library != !reading.library.empty()) {
      out.push_back(std::move(thing));
      continue;
    }
    const std::string name = item_of(thing).name;
    for (std::size_t n = 0; n < all->second.size(); ++n) {
      T& one = out.emplace_back(thing);
      rename(one, all->second[n]);
      item_of(one).name = fmt::format("{} ({} of {})", name, n + 1, all->second.size());
    }
  }
  list = std::move(out);
}

void name_all(std::vector<std::string>& ids, const Reading& reading) {
  std::vector<std::string> out;
  const auto add = [&](const std::string& id) {
    if (std::find(out.begin(), out.end(), id) == out.end()) out.push_back(id);
  };
  for (const auto& id : ids) {
    const auto all = reading.alike.find(id);
    add(id);
    if (all == reading.alike.end()) continue;
    for (const auto& other : all->second) add(other);
  }
  ids = std::move(out);
}

}  // namespace

void claim_alike(Cursor& c, const Item& item, Reading& reading) {
  if (item.count <= 1 || item.id.empty()) return;
  auto& all = reading.alike[item.id];
  all = {item.id};
  for (int n = 2; n <= item.count; ++n) {
    const std::string id = fmt::format("{}-{}", item.id, n);
    const auto [it, fresh] = reading.inventory.emplace(id, c.line());
    if (!fresh) {
      c.refuse("count", fmt::format("less than {}: another thing is called '{}'", n, id),
               "count = 3 of 'guy' makes guy, guy-2 and guy-3");
    }
    all.push_back(id);
  }
}

void count_out(Reading& reading) {
  Trip& trip = reading.trip;
  count_out(trip.rigs, reading);
  count_out(trip.antennas, reading);
  count_out(trip.supports, reading);
  count_out(trip.cables, reading);
  count_out(trip.tuners, reading);
  count_out(trip.batteries, reading);
  count_out(trip.items, reading);
  for (auto& antenna : trip.antennas) {
    name_all(antenna.supports, reading);
    name_all(antenna.needs, reading);
  }
  for (auto& support : trip.supports) name_all(support.needs, reading);
}

}  // namespace skerry::files
