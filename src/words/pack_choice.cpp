// What the choice trades against what, and how it stands under other conditions.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "pack_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::words::pack {

namespace {

using advice::Advice;

/// Judgement: more lines than this are read by nobody; the JSON has all.
constexpr std::size_t frontier_lines = 8;
constexpr std::size_t most_pairs = 4;

}  // namespace

std::string names(const Advice& a, const std::vector<int>& things) {
  return things.empty() ? "nothing" : names_of(a.inventory, things);
}

namespace {

/// One kit against the recommended one.
std::string against(const Advice& a, const choose::Choice& kit) {
  std::vector<int> comes, goes;
  advice::differences(a.kit.items, kit.items, comes, goes);
  return swap_text(a.inventory, comes, goes);
}

/// The kits that stand for the whole frontier: the largest rises, in order of mass.
std::vector<std::size_t> picked(const std::vector<choose::Choice>& kits) {
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < kits.size(); ++k) order.push_back(k);
  const auto rise = [&](std::size_t k) { return kits[k].reach - (k > 0 ? kits[k - 1].reach : 0.0); };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t x, std::size_t y) { return rise(x) > rise(y); });
  order.resize(std::min(order.size(), frontier_lines));
  if (!kits.empty() && std::find(order.begin(), order.end(), kits.size() - 1) == order.end())
    order.back() = kits.size() - 1;
  std::sort(order.begin(), order.end());
  return order;
}

}  // namespace

std::string heading(const std::string& name) {
  return fmt::format("\n{}\n", name);
}

std::string cut(const std::string& text, std::size_t width) {
  std::string out;
  std::size_t used = 0;
  const auto starts = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; };
  const auto length = static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts));
  const std::size_t keep = length > width ? width - 2 : width;
  for (const char c : text) {
    if (starts(c) && used++ == keep) break;
    out += c;
  }
  if (length > width) return out + "..";
  return out + std::string(width - length, ' ');
}

std::string summary(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::string out;
  if (a.kit.reach <= 0) return out;
  if (a.people_counted) {
    out += wrapped(
        fmt::format(
            "The choice counts each hour by the chance that somebody is there; by what the sky allows alone "
            "the kit reaches {}.",
            percent(a.reach)),
        columns, "", "");
  } else if (trip.listeners.used) {
    out += wrapped(
        fmt::format(
            "That is the sky. Counting each hour by the chance that somebody is awake and listening there, "
            "{} of the likely contacts are within reach.",
            percent(a.reach_with_people)),
        columns, "", "");
  }
  out += wrapped("How firm: " + firm_text(trip, a) + ".", columns, "", "");
  for (const auto& s : a.robustness.scenarios) {
    if (s.kind == advice::Scenario::Kind::no_sporadic_e && a.kit.reach - s.kit >= 0.005)
      out += wrapped(fmt::format("Of the {}, {} rest on sporadic E.", percent(a.kit.reach),
                                 percent(a.kit.reach - s.kit)),
                     columns, "", "");
  }
  out += pack::other_modes(trip, a, columns);
  const auto& p = a.practice;
  if (a.kit.reach - p.reach < 0.005) return out;
  double most = 0;
  for (const double m : p.setup_minutes) most = std::max(most, m);
  std::string how = fmt::format(
      "One after the other, {} takes up to {:.0f} minutes of each session: {} then",
      p.raised.size() == 1 ? "putting up the one antenna worth it" : "putting up what is worth it", most,
      percent(p.reach));
  if (p.bands_per_hour > 0)
    how += fmt::format(", and {} {} an hour", p.bands_per_hour,
                       p.bands_per_hour == 1 ? "band is visited" : "bands are visited");
  out += wrapped(how + ".", columns, "", "");
  return out;
}

std::string bags(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  if (a.packed == advice::Packed::not_found) {
    return heading("BAGS") +
           wrapped(
               "No way was found to share the kit out among the bags so that each keeps its "
               "limit; that there is none is not proved. Try it at home.",
               columns, "  ", "  ");
  }
  if (a.bags.empty()) return {};
  std::string out = heading("BAGS");
  for (const auto& load : a.bags) {
    if (load.things.empty()) continue;
    const auto& bag = nth(trip.bags, load.bag);
    std::string text =
        fmt::format("{} ({}): {}", bag.name, bag.hold ? "hold" : "cabin", names(a, load.things));
    if (load.limit_g > 0)
      text += fmt::format(": {} of {} with the bag", mass(load.mass_g), mass(load.limit_g));
    out += wrapped(text, columns, "  ", "    ");
    for (const auto& note : bag_notes(trip, a.inventory, load))
      out += wrapped(note, columns, "    - ", "      ");
  }
  return out;
}

std::string power(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  if (a.power.empty()) return {};
  std::string out = heading("POWER");
  if (const auto charged = charging_text(trip); !charged.empty())
    out += wrapped(charged, columns, "  ", "  ");
  for (const auto& p : a.power) {
    const auto& rig = nth(trip.rigs, p.rig).item.name;
    out += wrapped(fmt::format("{}: {}", rig, power_why(trip, p)), columns, "  ", "    ");
    for (const auto& note : power_notes(trip, p)) out += wrapped(note, columns, "    - ", "      ");
    const auto& whole = nth(a.inventory.power, p.rig.value());
    std::vector<std::string> others;
    for (const auto& feed : whole.feeds) {
      if (std::binary_search(p.batteries.begin(), p.batteries.end(), feed.battery)) continue;
      const auto& pack = nth(trip.batteries, feed.battery).item;
      others.push_back(fmt::format("{} ({}) {:.1f} h", pack.name, mass(pack.mass_g), feed.hours));
    }
    if (others.empty()) continue;
    out += wrapped(fmt::format("other packs: {}", fmt::join(others, "; ")), columns, "    ", "    ");
  }
  return out;
}

std::string trade_off(const Advice& a, std::size_t columns) {
  const auto& kits = a.frontier.kits;
  if (kits.size() < 2) return {};
  std::string out = heading(fmt::format("WHAT EACH GRAM BRINGS ({} kits that no other beats{})", kits.size(),
                                        a.frontier.complete ? "" : "; more exist"));
  const choose::Choice* before = nullptr;
  for (const std::size_t k : picked(kits)) {
    const auto& kit = kits[k];
    std::vector<int> comes, goes;
    if (before != nullptr) advice::differences(before->items, kit.items, comes, goes);
    const auto start = fmt::format("  {:>8}  {:>5}  ", mass(kit.mass_g), percent(kit.reach));
    const auto step = before == nullptr ? names(a, kit.items)
                                        : fmt::format("+ {}{}: {}", names(a, comes),
                                                      goes.empty() ? "" : ", less " + names(a, goes),
                                                      percent(kit.reach - before->reach));
    out += wrapped(step, columns, start, std::string(start.size(), ' '));
    before = &kit;
  }
  std::string beyond;
  for (const auto& more : a.more)
    beyond += fmt::format("{}+{:.0f} g {}", beyond.empty() ? "" : ", ", more.added_g, percent(more.reach));
  if (!beyond.empty()) out += wrapped("with a higher limit: " + beyond, columns, "  ", "    ");
  return out;
}

std::string modes(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  if (a.modes.size() < 2) return {};
  std::string out = heading("MODE BY MODE");
  for (const auto& m : a.modes) {
    const auto& name = nth(trip.modes, m.mode).name;
    auto line = fmt::format("{}: {} with this kit", name, percent(m.reach));
    if (m.share > 0 && m.share < 1) line += fmt::format(" ({:.0f} % of what counts)", 100 * m.share);
    if (m.share < 1)
      line += m.comes.empty() && m.goes.empty()
                  ? "; if it decided, the same kit"
                  : fmt::format("; if it decided: {} ({}, {})", swap_text(a.inventory, m.comes, m.goes),
                                percent(m.best.reach), mass(m.best.mass_g));
    out += wrapped(line, columns, "  - ", "    ");
  }
  return out;
}

std::string other_modes(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::vector<std::string> others;
  for (const auto& m : a.modes) {
    if (m.share < 1) others.push_back(fmt::format("{} {}", nth(trip.modes, m.mode).name, percent(m.reach)));
  }
  return others.empty() ? std::string()
                        : wrapped(fmt::format("The same kit: {}.", fmt::join(others, ", ")), columns, "", "");
}

std::string other_kits(const Advice& a, std::size_t columns) {
  std::string body;
  const auto line = [&](const std::string& name, const choose::Choice& kit) {
    body +=
        wrapped(fmt::format("{}: {} for {}; {}", name, percent(kit.reach), mass(kit.mass_g), against(a, kit)),
                columns, "  - ", "    ");
  };
  if (a.single_setup) line("one antenna only", a.single);
  for (const auto& v : a.variants) line(variant_name(v.restriction), v.kit);
  return body.empty() ? std::string() : heading("OTHER KITS") + body;
}

std::string scenarios(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  const auto& r = a.robustness;
  if (r.scenarios.empty()) return {};
  const auto same = [](const advice::Scenario& s) { return std::abs(s.kit - s.best) < 0.005; };
  if (std::all_of(r.scenarios.begin(), r.scenarios.end(), same)) {
    return heading("IF THINGS ARE OTHERWISE") +
           wrapped("In every case asked no kit does better than this one by half a percent.", columns, "  ",
                   "  ");
  }
  std::string out = heading("IF THINGS ARE OTHERWISE");
  const bool rival = a.firmness.runner_up.has_value();
  out += fmt::format("  {}  this kit  the best then{}\n", cut("", 52), rival ? "  its rival" : "");
  for (const auto& s : r.scenarios)
    out += fmt::format("  {}  {:>8}  {:>13}{}\n", cut(scenario_name(trip, s), 52), percent(s.kit),
                       percent(s.best), rival ? fmt::format("  {:>9}", percent(s.runner_up)) : "");
  if (r.differs) {
    out += wrapped(
        fmt::format("More robust: {} at worst instead of {}, for {}, {} as expected: {}.", percent(r.worst),
                    percent(r.worst_of_chosen), mass(r.kit.mass_g), percent(r.kit.reach), against(a, r.kit)),
        columns, "  ", "  ");
  }
  return out;
}

std::string band_pairs(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  if (a.pairs.empty()) return {};
  std::string out = heading("TWO STATIONS AT ONE SITE");
  std::vector<std::string> good, harmonic, close;
  for (const auto& p : a.pairs) {
    const auto& low = nth(trip.bands, p.a).id;
    const auto& high = nth(trip.bands, p.b).id;
    if (p.together()) {
      if (good.size() < most_pairs)
        good.push_back(fmt::format("{} with {} ({})", low, high, percent(p.reach)));
    } else {
      (p.harmonic > 0 ? harmonic : close).push_back(low + " with " + high);
    }
  }
  out += wrapped(good.empty() ? "no two bands of this kit go well together"
                              : fmt::format("go together: {}", fmt::join(good, ", ")),
                 columns, "  ", "    ");
  if (!harmonic.empty())
    out += wrapped(fmt::format("a harmonic of one falls into the other: {}", fmt::join(harmonic, ", ")),
                   columns, "  ", "    ");
  if (!close.empty())
    out +=
        wrapped(fmt::format("too near without filters: {}", fmt::join(close, ", ")), columns, "  ", "    ");
  return out;
}

}  // namespace skerry::words::pack

namespace skerry::words {

std::string what_if_text(const advice::Advice& a, const advice::WhatIf& w, std::size_t columns) {
  const auto points = [](double share) { return (share < 0 ? "-" : "+") + percent(std::abs(share)); };
  std::string out;
  if (w.kit.over_limit) {
    out += wrapped(fmt::format("What must come then weighs {} or does not go into the bags: the limit is {}.",
                               mass(w.kit.mass_g), mass(a.limit_g)),
                   columns, "", "");
  } else {
    out += wrapped(
        fmt::format(
            "The best kit then reaches {} instead of {} ({}) and weighs {} instead of {}.{}",
            percent(w.kit.reach), percent(a.kit.reach), points(w.reach), mass(w.kit.mass_g),
            mass(a.kit.mass_g),
            w.kit.proved ? "" : fmt::format(" Best found; at most {} is possible.", percent(w.kit.bound))),
        columns, "", "");
    out += wrapped("Comes: " + pack::names(a, w.comes) + ".", columns, "  ", "    ");
    out += wrapped("Goes: " + pack::names(a, w.goes) + ".", columns, "  ", "    ");
  }
  out += wrapped(
      fmt::format("With nothing else changed: {} for {}{}.", percent(w.as_it_stands_reach),
                  mass(w.as_it_stands_mass_g),
                  w.as_it_stands_fits ? "" : ", which is over the limit or does not go into the bags"),
      columns, "", "");
  return out;
}

}  // namespace skerry::words
