// What the choice trades against what, and how it stands under other conditions.

#include <fmt/format.h>

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

/// "a, b instead of c": one kit against the recommended one.
std::string against(const Advice& a, const choose::Choice& kit) {
  std::vector<int> comes, goes;
  std::set_difference(kit.items.begin(), kit.items.end(), a.kit.items.begin(), a.kit.items.end(),
                      std::back_inserter(comes));
  std::set_difference(a.kit.items.begin(), a.kit.items.end(), kit.items.begin(), kit.items.end(),
                      std::back_inserter(goes));
  if (comes.empty() && goes.empty()) return "the same kit";
  if (comes.empty()) return "without " + names(a, goes);
  if (goes.empty()) return "with " + names(a, comes) + " too";
  return names(a, comes) + " instead of " + names(a, goes);
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
  const auto& p = a.practice;
  double most = 0;
  for (const double m : p.setup_minutes) most = std::max(most, m);
  std::string how = fmt::format("In practice {}: putting up {} takes up to {:.0f} minutes of each session",
                                percent(p.reach),
                                p.raised.size() == 1 ? "the one antenna worth it" : "what is worth it", most);
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
  if (a.inventory.batteries_listed && trip.first_day != trip.last_day)
    out += wrapped("Packs are taken to be charged every night: the hours are those of one day.", columns,
                   "  ", "  ");
  for (const auto& p : a.power) {
    const auto& rig = nth(trip.rigs, p.rig).item.name;
    out += wrapped(fmt::format("{}: {}", rig, power_why(trip, p)), columns, "  ", "    ");
    const auto& whole = nth(a.inventory.power, p.rig.value());
    if (!p.enough && whole.enough) {
      out += wrapped(fmt::format("the smallest legal set that lasts the longest day weighs {}: {}",
                                 mass(whole.mass_g), power_why(trip, whole)),
                     columns, "    ", "    ");
    }
    if (p.sets.size() < 2) continue;
    std::vector<std::string> others;
    for (const auto& set : p.sets) {
      if (set.batteries == p.batteries) continue;
      std::vector<std::string> packs;
      for (const int b : set.batteries) packs.push_back(nth(trip.batteries, b).item.name);
      others.push_back(
          fmt::format("{} ({}) {:.1f} h", fmt::join(packs, " + "), mass(set.mass_g), set.lasts_hours));
    }
    out += wrapped(fmt::format("other packs: {}", fmt::join(others, "; ")), columns, "    ", "    ");
  }
  return out;
}

std::string trade_off(const Advice& a) {
  const auto& kits = a.frontier.kits;
  if (kits.size() < 2) return {};
  std::string out = heading(fmt::format("REACH AGAINST MASS ({} kits that no other beats{})", kits.size(),
                                        a.frontier.complete ? "" : "; more exist"));
  const choose::Choice* before = nullptr;
  for (const std::size_t k : picked(kits)) {
    const auto& kit = kits[k];
    out += fmt::format("  {:>8}  {:>5}", mass(kit.mass_g), percent(kit.reach));
    if (before != nullptr && kit.mass_g > before->mass_g) {
      out += fmt::format("   {} more for {}, {} per 100 g", percent(kit.reach - before->reach),
                         mass(kit.mass_g - before->mass_g),
                         percent((kit.reach - before->reach) / (kit.mass_g - before->mass_g) * 100));
    }
    out += "\n";
    before = &kit;
  }
  std::string beyond;
  for (const auto& more : a.more) {
    beyond += fmt::format("{}+{:.0f} g {}", beyond.empty() ? "" : ", ", more.added_g, percent(more.reach));
  }
  if (!beyond.empty()) out += "  with a higher limit: " + beyond + "\n";
  return out;
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
  std::string out = heading("IF THINGS ARE OTHERWISE");
  out += fmt::format("  {}  this kit  the best then\n", cut("", 52));
  for (const auto& s : r.scenarios)
    out += fmt::format("  {}  {:>8}  {:>13}\n", cut(scenario_name(trip, s), 52), percent(s.kit),
                       percent(s.best));
  if (r.differs) {
    out += wrapped(
        fmt::format("More robust: {} at worst instead of {}, for {}, {} as expected: {}.", percent(r.worst),
                    percent(r.worst_of_chosen), mass(r.kit.mass_g), percent(r.kit.reach), against(a, r.kit)),
        columns, "  ", "  ");
  } else {
    out += wrapped(
        fmt::format("No kit looked at has a better worst case ({}{}).", percent(r.worst_of_chosen),
                    r.proved ? ", proved" : fmt::format("; at most {} is possible", percent(r.bound))),
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
