#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "readers.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/core/text.hpp"
#include "skerry/kit/rules.hpp"

namespace skerry::files {

namespace {

// What a traveller's thing can be: wide enough for anything carried by hand, narrow enough to catch a wrong
// unit. Judgement.
constexpr Bounds mass_bounds{0.1, 60000, "g"};
constexpr Bounds side_bounds{0.1, 300, "cm"};
/// Sets of bags are words of 64 bits where they are shared out.
constexpr std::size_t most_bags = 64;
constexpr Bounds minutes_bounds{0, 240, "minutes"};

void read_size(Cursor& c, Item& item) {
  item.size_cm =
      c.numbers<3>("size_cm", {side_bounds, side_bounds, side_bounds}, "[20, 15, 5] (length, width, height)");
  item.tube_cm = c.numbers<2>("tube_cm", {Bounds{1, 400, "cm of length"}, Bounds{0.1, 60, "cm of diameter"}},
                              "[67, 4.7] (length, diameter)");
  if (c.has("size_cm") && c.has("tube_cm")) {
    c.report("tube_cm", "size_cm and tube_cm together",
             "only one: tube_cm for a long rigid thing, size_cm for a box");
  }
}

void read_rig(Cursor& c, Rig& rig, Reading& reading) {
  read_item(c, rig.item, reading, "rig");
  c.number_into(rig.power_w, "power_w", {0.1, 1500, "W"}, Need::required);
  c.number_into(rig.receive_a, "receive_a", {0.005, 10, "A"}, Need::required);
  c.number_into(rig.transmit_a, "transmit_a", {0.05, 60, "A, key down"}, Need::required);
  c.number_into(rig.volts, "volts", {3, 60, "V"});
  if (c.has("transmit_a") && c.has("receive_a") && rig.transmit_a <= rig.receive_a) {
    c.refuse("transmit_a", fmt::format("more than receive_a, {:g} A", rig.receive_a),
             "current with the key down, in ampere");
  } else if (c.has("transmit_a") && c.has("power_w") && rig.power_w > rig.volts * rig.transmit_a) {
    c.refuse("transmit_a",
             fmt::format("at least {:.2g} A: {:g} W cannot come out of less at {:g} V",
                         rig.power_w / rig.volts, rig.power_w, rig.volts),
             "small sets take two to three times that");
  }
  rig.bands = read_bands(c, "bands", reading);
  rig.modes = read_modes(c, "modes");
  c.flag_into(rig.tuner, "tuner");
  c.number_into(rig.noise_figure_db, "noise_figure_db", {0, 60, "dB"});
  c.finish();
}

/// at_site = true, or the ids of the sites that have the thing.
void read_at_site(Cursor& c, Support& support, Reading& reading) {
  if (!c.has("at_site")) {
    c.known("at_site");
    return;
  }
  if (c.is_flag("at_site")) {
    c.flag_into(support.at_site, "at_site");
    return;
  }
  std::vector<std::string> known;
  for (const auto& site : reading.trip.sites) known.push_back(site.id);
  for (const auto& word : c.words("at_site", "true, or [\"summit\"]")) {
    if (reading.sites_known && reading.site_ids.count(word.text) == 0) {
      reading.mistakes.add(word.at, fmt::format("'{}' in at_site of {}", one_line(word.text), c.title()),
                           fmt::format("the id of a [[site]]: {}", fmt::join(known, ", ")),
                           did_you_mean(word.text, known));
    }
    support.sites.push_back(word.text);
  }
  support.at_site = true;
}

void read_support(Cursor& c, Support& support, Reading& reading) {
  read_at_site(c, support, reading);
  const bool mass_needed = reading.mass_needed;
  reading.mass_needed = mass_needed && !support.at_site;
  read_item(c, support.item, reading, "support");
  reading.mass_needed = mass_needed;
  if (support.at_site && (c.has("mass_g") || c.has("tube_cm") || c.has("size_cm"))) {
    c.report(c.has("mass_g") ? "mass_g" : (c.has("tube_cm") ? "tube_cm" : "size_cm"),
             fmt::format("mass or size of {}, which is found at the site", c.title()),
             "neither: it is not carried");
  }
  reading.support_ids.push_back(support.item.id);
  c.number_into(support.height_m, "height_m", {0.3, 40, "m"}, Need::required);
  if (const auto usable = c.number("usable_m", {0.2, 40, "m"})) {
    support.usable_m = *usable;
    if (c.has("height_m") && *usable > support.height_m)
      c.refuse("usable_m", fmt::format("at most height_m, {:g} m", support.height_m));
  }
  c.flag_into(support.conductive, "conductive");
  c.flag_into(support.needs_guys, "needs_guys");
  const auto needs = c.words("needs", "[\"guys\", \"pegs\"]");
  reading.refer(needs, "needs of " + c.title());
  support.needs = texts_of(needs);
  c.number_into(support.setup_minutes, "setup_minutes", minutes_bounds);
  c.finish();
}

void read_cable(Cursor& c, Cable& cable, Reading& reading) {
  const bool mass_needed = reading.mass_needed;
  reading.mass_needed = false;
  read_item(c, cable.item, reading, "cable");
  reading.mass_needed = mass_needed;
  const antenna::Cable* known = nullptr;
  if (const auto type = c.text("type", "rg316", Need::required)) {
    const auto found = antenna::find_cable(*type, c.where("type"));
    if (found) {
      known = *found;
      cable.type = known->id;
    } else {
      c.pass_on("type", found.error());
    }
  }
  c.number_into(cable.length_m, "length_m", {0.2, 200, "m"}, Need::required);
  if (!c.has("mass_g") && known != nullptr) {
    // Two plugs of about 12 g each beside the cable. Judgement.
    constexpr double plugs_g = 24;
    cable.item.mass_g = std::round(known->mass_g_per_m * cable.length_m + plugs_g);
  }
  if (!c.has("name") && known != nullptr)
    cable.item.name = fmt::format("{:g} m of {}", cable.length_m, known->id);
  c.finish();
}

void read_tuner(Cursor& c, Tuner& tuner, Reading& reading) {
  read_item(c, tuner.item, reading, "tuner");
  c.number_into(tuner.max_swr, "max_swr", {1.5, 100, "(standing-wave ratio)"});
  c.number_into(tuner.loss_db, "loss_db", {0, 6, "dB"});
  c.finish();
}

void read_battery(Cursor& c, Battery& battery, Reading& reading) {
  read_item(c, battery.item, reading, "battery");
  c.number_into(battery.volts, "volts", {1, 60, "V (nominal, as printed on the pack)"}, Need::required);
  c.number_into(battery.amp_hours, "amp_hours", {0.05, 400, "Ah"}, Need::required);
  if (const auto chemistry = c.word("chemistry", {"lifepo4", "li-ion", "lead-acid", "nimh"}, Need::required))
    battery.chemistry = *chemistry;
  c.flag_into(battery.spare, "spare");
  c.flag_into(battery.usb_outlet, "usb_outlet");
  c.flag_into(battery.damaged, "damaged");
  // Share of the rated capacity that one gets out. Common practice: lead-acid 50 to 60 %, lithium-ion and
  // NiMH with a reserve for age and cold, LiFePO4 90 %.
  battery.usable = battery.chemistry == "lifepo4" ? 0.9 : (battery.chemistry == "lead-acid" ? 0.55 : 0.8);
  c.number_into(battery.usable, "usable", {0.1, 1, "(share of the rated capacity)"});
  // Judgement: the best packs of 2026 hold 250 Wh/kg; above 400 a unit is wrong (facts of the trade: 85 to
  // 200).
  if (c.has("mass_g") && battery.item.mass_g > 0 && battery.watt_hours() / battery.item.mass_g > 0.4) {
    c.report("amp_hours",
             fmt::format("{:g} Wh in {:g} g for {}", battery.watt_hours(), battery.item.mass_g, c.title()),
             "under 400 Wh per kg", "mass in gram, capacity in ampere-hours (not mAh)");
  }
  c.finish();
}

void read_bag(Cursor& c, Bag& bag, Reading& reading) {
  bag.line = c.line();
  if (const auto id = c.id("id")) {
    bag.id = *id;
    c.rename(fmt::format("[[bag]] '{}'", *id));
    reading.claim(reading.bag_ids, *id, c);
  }
  bag.name = c.text("name", "cabin rucksack").value_or(bag.id);
  constexpr Bounds inner{3, 300, "cm"};
  if (const auto size =
          c.numbers<3>("inner_cm", {inner, inner, inner}, "[53, 38, 21] (inside)", Need::required))
    bag.inner_cm = *size;
  if (const auto kg = c.number("mass_limit_kg", {0.1, 100, "kg"}, Need::required))
    bag.mass_limit_g = *kg * 1000;
  c.number_into(bag.own_mass_g, "own_mass_g", {0, 20000, "g"});
  if (c.has("mass_limit_kg") && bag.own_mass_g >= bag.mass_limit_g && bag.mass_limit_g > 0) {
    c.report(c.has("own_mass_g") ? "own_mass_g" : "mass_limit_kg",
             fmt::format("own_mass_g = {:g} in {}", bag.own_mass_g, c.title()),
             fmt::format("less than mass_limit_kg, {:g} g", bag.mass_limit_g),
             "the limit is for the bag and what is in it");
  }
  c.number_into(bag.lining_cm, "lining_cm", {0, 10, "cm"});
  if (c.has("inner_cm") && bag.inner_cm[0] > 0 && !clear_sides_cm(bag)) {
    c.report(c.has("lining_cm") ? "lining_cm" : "inner_cm",
             fmt::format("lining_cm = {:g} in {}", bag.lining_cm, c.title()),
             "less than the shortest inner side", "nothing of that side would be left");
  }
  c.flag_into(bag.hold, "hold");
  bag.person = c.text("person", "A").value_or("");
  c.finish();
}

void read_plain_item(Cursor& c, Item& item, Reading& reading) {
  read_item(c, item, reading, "item");
  c.finish();
}

/// Reads all tables of a kind. An inventory without any is reported when it is needed.
template <class T, class Read>
void read_all(Cursor& root, Reading& reading, const char* key, std::vector<T>& out, Read&& read,
              const char* without = nullptr, std::size_t most = 200) {
  if (without != nullptr && !root.has(key) && out.empty() && reading.library.empty())
    root.missing(fmt::format("[[{}]]", key), "at least one", without);
  for (Cursor& c : root.tables(key, most)) {
    T thing;
    read(c, thing, reading);
    out.push_back(std::move(thing));
  }
}

}  // namespace

std::vector<std::string> texts_of(const std::vector<Placed>& words) {
  std::vector<std::string> out;
  for (const auto& word : words) out.push_back(word.text);
  return out;
}

std::vector<std::string> read_bands(Cursor& cursor, std::string_view key, const Reading& reading,
                                    std::vector<double>* mhz) {
  std::vector<std::string> out;
  for (const auto& word : cursor.words(key, "[\"40m\", \"20m\"]")) {
    const auto band = noise::find_band(word.text, reading.itu_region, cursor.mistakes().where(word.at));
    if (!band) {
      cursor.mistakes().add(band.error());
    } else if (std::find(out.begin(), out.end(), band->id) == out.end()) {
      out.push_back(band->id);
      if (mhz != nullptr) mhz->push_back(band->mhz);
    }
  }
  return out;
}

std::vector<std::string> read_modes(Cursor& cursor, std::string_view key) {
  std::vector<std::string> out;
  for (const auto& word : cursor.words(key, "[\"cw\", \"ssb\"]")) {
    const auto mode = noise::find_mode(word.text, cursor.mistakes().where(word.at));
    if (!mode) {
      cursor.mistakes().add(mode.error());
    } else if (std::find(out.begin(), out.end(), mode->id) == out.end()) {
      out.push_back(mode->id);
    }
  }
  return out;
}

void read_item(Cursor& c, Item& item, Reading& reading, const char* kind, std::string id_otherwise) {
  item.line = c.line();
  item.library = !reading.library.empty();
  const auto id = c.id("id", id_otherwise.empty() ? Need::required : Need::optional);
  item.id = id.value_or(id_otherwise);
  if (!item.id.empty()) {
    c.rename(fmt::format("[[{}]] '{}'", kind, item.id));
    reading.claim(reading.inventory, item.id, c);
  }
  item.name = c.text("name", "6 m travel pole").value_or(item.id);
  c.number_into(item.mass_g, "mass_g", mass_bounds, reading.mass_needed ? Need::required : Need::optional);
  read_size(c, item);
  c.flag_into(item.sharp, "sharp");
  c.flag_into(item.blunt, "blunt");
  c.flag_into(item.fuel, "fuel");
  c.number_into(item.liquid_ml, "liquid_ml", {0, 10000, "ml"});
  c.flag_into(item.always, "always");
}

void read_things(Cursor& root, Reading& reading) {
  Trip& trip = reading.trip;
  read_all(root, reading, "rig", trip.rigs, read_rig, "there is nothing to send with");
  read_all(root, reading, "support", trip.supports, read_support);
  read_all(root, reading, "cable", trip.cables, read_cable);
  read_all(root, reading, "tuner", trip.tuners, read_tuner);
  read_all(root, reading, "battery", trip.batteries, read_battery, "there is nothing to feed the rig from");
  read_all(root, reading, "bag", trip.bags, read_bag, "there is nothing to pack into", most_bags);
  read_all(root, reading, "item", trip.items, read_plain_item);
}

}  // namespace skerry::files
