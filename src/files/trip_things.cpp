#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "readers.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/core/text.hpp"
#include "skerry/kit/rules.hpp"

namespace skerry::files {

namespace {

void read_size(Cursor& c, Item& item) {
  item.size_cm = c.numbers<3>("size_cm");
  item.tube_cm = c.numbers<2>("tube_cm");
  if (c.has("size_cm") && c.has("tube_cm")) {
    c.report("tube_cm", "size_cm and tube_cm together",
             "only one: tube_cm for a long rigid thing, size_cm for a box");
  } else if (item.tube_cm && (*item.tube_cm)[0] < (*item.tube_cm)[1]) {
    c.refuse("tube_cm", "the length first, then the diameter",
             fmt::format("tube_cm = [{:g}, {:g}]?", (*item.tube_cm)[1], (*item.tube_cm)[0]));
  }
}

/// What a kind of thing weighs, gram.
struct Weight {
  std::string_view kind;
  double least = 0, most = 0;
};
/// Judgement: half of the lightest and twice the heaviest that anybody carries to a summit or sends as
/// freight. A mass typed in kilogram lies far below.
constexpr std::array weights{Weight{"rig", 20, 30000},     Weight{"antenna", 4, 30000},
                             Weight{"support", 20, 60000}, Weight{"cable", 4, 30000},
                             Weight{"tuner", 10, 20000},   Weight{"battery", 5, 60000},
                             Weight{"item", 1, 60000}};

void check_mass(Cursor& c, const Item& item, std::string_view kind) {
  const auto at =
      std::find_if(weights.begin(), weights.end(), [&](const Weight& w) { return w.kind == kind; });
  if (at == weights.end() || !c.has("mass_g") || !(item.mass_g > 0)) return;
  if (item.mass_g >= at->least && item.mass_g <= at->most) return;
  c.report("mass_g", fmt::format("mass_g = {:g} for {}", item.mass_g, c.title()),
           fmt::format("{:g} to {:g} g for this kind of thing", at->least, at->most),
           item.mass_g < at->least ? fmt::format("in gram: {:g} kg are {:g}", item.mass_g, 1000 * item.mass_g)
                                   : "in gram");
}

/// The voltages of packs that a rig takes, and what it sends at the least.
void check_supply(Cursor& c, const Rig& rig) {
  if (rig.min_volts && *rig.min_volts > rig.volts)
    c.refuse("min_volts", fmt::format("at most volts, {:g} V", rig.volts),
             "volts is the supply at which power_w and the currents hold");
  if (rig.max_volts && *rig.max_volts < rig.volts)
    c.refuse("max_volts", fmt::format("at least volts, {:g} V", rig.volts),
             "volts is the supply at which power_w and the currents hold");
  if (rig.low_power_w && *rig.low_power_w > rig.power_w)
    c.refuse("low_power_w", fmt::format("at most power_w, {:g} W", rig.power_w),
             "what it sends at min_volts");
}

void read_rig(Cursor& c, Rig& rig, Reading& reading) {
  read_item(c, rig.item, reading, "rig");
  c.fill(rig);
  if (c.has("transmit_a") && c.has("receive_a") && rig.transmit_a <= rig.receive_a) {
    c.refuse("transmit_a", fmt::format("more than receive_a, {:g} A", rig.receive_a),
             "current with the key down, in ampere");
  } else if (c.has("transmit_a") && c.has("power_w") && rig.power_w > rig.volts * rig.transmit_a) {
    c.refuse("transmit_a",
             fmt::format("at least {:.2g} A: {:g} W cannot come out of less at {:g} V",
                         rig.power_w / rig.volts, rig.power_w, rig.volts),
             "small sets take two to three times that");
  }
  rig.switching = c.word("supply") != "linear";
  check_supply(c, rig);
  rig.bands = ids_of(read_bands(c, reading));
  rig.modes = ids_of(read_modes(c));
  c.finish();
}

/// at_site = true, or the ids of the sites that have the thing.
void read_at_site(Cursor& c, Support& support, Reading& reading) {
  if (!c.has("at_site")) return;
  if (c.is_flag("at_site")) {
    support.at_site = *c.flag("at_site");
    return;
  }
  std::vector<std::string> known;
  for (const auto& site : reading.trip.sites) known.push_back(site.id);
  for (const auto& word : c.words("at_site")) {
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
  read_item(c, support.item, reading, "support");
  if (support.at_site && (c.has("mass_g") || c.has("tube_cm") || c.has("size_cm"))) {
    c.report(c.has("mass_g") ? "mass_g" : (c.has("tube_cm") ? "tube_cm" : "size_cm"),
             fmt::format("mass or size of {}, which is found at the site", c.title()),
             "neither: it is not carried");
  }
  reading.support_ids.push_back(support.item.id);
  if (const auto all = reading.alike.find(support.item.id); all != reading.alike.end())
    reading.support_ids.insert(reading.support_ids.end(), all->second.begin() + 1, all->second.end());
  c.fill(support);
  if (support.usable_m > support.height_m && c.has("height_m"))
    c.refuse("usable_m", fmt::format("at most height_m, {:g} m", support.height_m));
  support.needs = read_references(c, "needs", support.item, reading);
  c.finish();
}

void read_cable(Cursor& c, Cable& cable, Reading& reading) {
  read_item(c, cable.item, reading, "cable");
  const antenna::Cable* known = nullptr;
  if (c.parse(known, "type", antenna::find_cable)) cable.type = known->id;
  c.fill(cable);
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
  c.fill(tuner);
  c.finish();
}

void read_battery(Cursor& c, Battery& battery, Reading& reading) {
  read_item(c, battery.item, reading, "battery");
  c.fill(battery);
  battery.chemistry = c.word("chemistry").value_or(battery.chemistry);
  // Share of the rated capacity that one gets out. Common practice: lead-acid 50 to 60 %, lithium-ion and
  // NiMH with a reserve for age and cold, LiFePO4 90 %.
  battery.usable = battery.chemistry == "lifepo4" ? 0.9 : (battery.chemistry == "lead-acid" ? 0.55 : 0.8);
  c.into(battery.usable, "usable");
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
  bag.name = c.text("name").value_or(bag.id);
  bag.inner_cm = c.numbers<3>("inner_cm").value_or(bag.inner_cm);
  c.fill(bag);
  if (c.has("mass_limit_kg") && bag.own_mass_g >= bag.mass_limit_g && bag.mass_limit_g > 0) {
    c.report(c.has("own_mass_g") ? "own_mass_g" : "mass_limit_kg",
             fmt::format("own_mass_g = {:g} in {}", bag.own_mass_g, c.title()),
             fmt::format("less than mass_limit_kg, {:g} g", bag.mass_limit_g),
             "the limit is for the bag and what is in it");
  }
  if (c.has("inner_cm") && bag.inner_cm[0] > 0 && !clear_sides_cm(bag)) {
    c.report(c.has("lining_cm") ? "lining_cm" : "inner_cm",
             fmt::format("lining_cm = {:g} in {}", bag.lining_cm, c.title()),
             "less than the shortest inner side", "nothing of that side would be left");
  }
  bag.person = c.text("person").value_or("");
  c.finish();
}

void read_plain_item(Cursor& c, Item& item, Reading& reading) {
  read_item(c, item, reading, "item");
  c.into(item.solar_w, "solar_watts");
  c.finish();
}

/// Reads all tables of a kind. An inventory without any is reported when it is needed.
template <class T, class Read>
void read_all(Cursor& root, Reading& reading, const char* key, std::vector<T>& out, Read&& read,
              const char* without = nullptr) {
  if (without != nullptr && !root.has(key) && out.empty() && reading.library.empty())
    root.missing(fmt::format("[[{}]]", key), "at least one", without);
  for (Cursor& c : root.tables(key)) {
    T thing;
    read(c, thing, reading);
    out.push_back(std::move(thing));
  }
}

}  // namespace

std::vector<noise::Band> read_bands(Cursor& c, const Reading& reading) {
  std::vector<noise::Band> out;
  const auto find = [&](const std::string& name, const Where& where) {
    return noise::find_band(name, reading.itu_region, where);
  };
  c.parse_each(out, "bands", find, [](const noise::Band& band) { return band.id; });
  return out;
}

std::vector<noise::Mode> read_modes(Cursor& c, std::vector<double>* shares) {
  std::vector<noise::Mode> out;
  c.parse_each(
      out, "modes", mode_named, [](const noise::Mode& mode) { return mode.id; }, shares);
  return out;
}

std::vector<std::string> read_references(Cursor& c, std::string_view key, const Item& of, Reading& reading,
                                         bool support_only) {
  std::vector<std::string> out;
  for (const auto& word : c.words(key)) {
    out.push_back(word.text);
    reading.references.push_back(
        {word, of.id, fmt::format("{} of {}", key, c.title()), support_only, !reading.library.empty()});
  }
  return out;
}

void read_item(Cursor& c, Item& item, Reading& reading, const char* kind, std::string id_otherwise) {
  item.line = c.line();
  item.library = !reading.library.empty();
  item.id = id_otherwise;
  if (id_otherwise.empty() || c.has("id")) item.id = c.id("id").value_or(id_otherwise);
  if (!item.id.empty()) {
    c.rename(fmt::format("[[{}]] '{}'", kind, item.id));
    reading.claim(reading.inventory, item.id, c);
  }
  item.name = c.text("name").value_or(item.id);
  if (reading.mass_needed && c.lacks("mass_g")) c.missing("mass_g");
  c.fill(item);
  claim_alike(c, item, reading);
  check_mass(c, item, kind);
  read_size(c, item);
}

void read_things(Cursor& root, Reading& reading) {
  Trip& trip = reading.trip;
  read_all(root, reading, "rig", trip.rigs, read_rig, "there is nothing to send with");
  read_all(root, reading, "support", trip.supports, read_support);
  read_all(root, reading, "cable", trip.cables, read_cable);
  read_all(root, reading, "tuner", trip.tuners, read_tuner);
  read_all(root, reading, "battery", trip.batteries, read_battery, "there is nothing to feed the rig from");
  read_all(root, reading, "bag", trip.bags, read_bag, "there is nothing to pack into");
  read_all(root, reading, "item", trip.items, read_plain_item);
}

}  // namespace skerry::files
