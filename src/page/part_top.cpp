// The answer in large letters, and what a change did to it.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/page_text.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::page {

namespace {

using advice::Advice;

/// `key` is what a former value is held against.
std::string figure(const std::string& name, const char* key, const std::string& value,
                   const std::string& note) {
  return fmt::format("<div><dt>{}</dt><dd data-v=\"{}\">{}</dd><dd class=\"fine\">{}</dd></div>", name, key,
                     value, note);
}

/// The mode that decided, if one stands first.
std::string first_mode(const kit::Trip& trip, const Advice& a) {
  const auto most = std::max_element(a.modes.begin(), a.modes.end(),
                                     [](const auto& x, const auto& y) { return x.share < y.share; });
  return most == a.modes.end() || most->share <= 0 ? std::string() : nth(trip.modes, most->mode).name;
}

std::string figures(const kit::Trip& trip, const Advice& a) {
  std::string out = figure(
      caption::in_bag, "mass", words::mass(a.kit.mass_g),
      std::isfinite(a.limit_g) ? fmt::format(caption::of_limit, words::mass(a.limit_g)) : caption::no_limit);
  if (a.outcome != advice::Outcome::works) return out;
  out +=
      figure(caption::in_practice, "practice", words::percent(a.practice.reach), caption::in_practice_long);
  if (a.people_counted) {
    out += figure(caption::by_the_sky, "sky", words::percent(a.reach), "");
  } else if (trip.listeners.used) {
    out += figure(caption::likely, "likely", words::percent(a.reach_with_people), caption::likely_long);
  }
  for (const auto& m : a.modes) {
    if (m.share < 1)
      out += figure(markup(nth(trip.modes, m.mode).name), "mode", words::percent(m.reach), caption::same_kit);
  }
  return out;
}

/// The names of some things, by their ids in the other trip.
std::vector<std::string> only_in(const Advice& a, const Advice& other) {
  std::vector<std::string> out;
  for (const int i : a.kit.items) {
    const auto& thing = nth(a.inventory.things, i);
    const bool there = std::any_of(other.kit.items.begin(), other.kit.items.end(),
                                   [&](int k) { return nth(other.inventory.things, k).id == thing.id; });
    if (!there) out.push_back(thing.name);
  }
  return out;
}

/// The first name, and how many more.
std::string first_of(const std::vector<std::string>& names) {
  return names.size() == 1 ? names.front() : fmt::format("{} and {} more", names.front(), names.size() - 1);
}

/// Judgement: a region is there when a twentieth of what is wanted of it works.
constexpr double there = 0.05;

std::string regions_changed(const kit::Trip& trip_before, const Advice& before, const kit::Trip& trip,
                            const Advice& after) {
  std::string out;
  for (const auto& now : after.targets) {
    const auto& name = nth(trip.targets, now.target).region.name;
    for (const auto& old : before.targets) {
      if (nth(trip_before.targets, old.target).region.name != name) continue;
      if (old.reach >= there && now.reach < there) out += fmt::format(caption::change_gone, name);
      if (old.reach < there && now.reach >= there) out += fmt::format(caption::change_come, name);
    }
  }
  return out;
}

}  // namespace

std::string top_html(const kit::Trip& trip, const Advice& a) {
  std::string out =
      fmt::format("<p class=\"kicker\">{} to {}</p>\n<h1><bdi>{}</bdi></h1>\n<div class=\"answer\">",
                  to_iso(trip.first_day), to_iso(trip.last_day), markup(trip.name));
  if (a.outcome == advice::Outcome::works) {
    const auto mode = first_mode(trip, a);
    out += fmt::format(
        "<p class=\"big\"><strong data-v=\"reach\">{}</strong> <span>{} <em class=\"{}\">{}</em></span></p>",
        words::percent(a.kit.reach),
        mode.empty() ? std::string(caption::works) : fmt::format(caption::works_in, bdi(mode)),
        advice::proved(a) ? "proved" : "open", advice::proved(a) ? caption::is_proved : caption::not_proved);
  }
  out += "<dl class=\"figures\">" + figures(trip, a) + "</dl></div>\n";
  out += "<p class=\"verdict\"><bdi>" + markup(words::verdict_text(trip, a, words::Reader::of_page)) +
         "</bdi></p>";
  return out;
}

std::string practice_html(const kit::Trip& trip, const Advice& a) {
  std::string out = "<ul>" + list_html(words::summary_lines(trip, a)) + "</ul>";
  out += fmt::format(
      "<p class=\"fine\">Solar activity R12 {:.0f} (<bdi>{}</bdi>); sky of a median day of the month.</p>",
      trip.climate.r12, markup(words::activity_source(trip.activity_source)));
  return out;
}

std::string change_text(const kit::Trip& trip_before, const Advice& before, const kit::Trip& trip,
                        const Advice& after) {
  constexpr std::size_t longest = 120;
  const auto gone = only_in(before, after);
  const auto come = only_in(after, before);
  std::string out;
  if (!gone.empty() && !come.empty()) {
    out = fmt::format(caption::change_both, first_of(come), first_of(gone));
  } else if (!gone.empty()) {
    out = fmt::format(caption::change_without, first_of(gone));
  } else if (!come.empty()) {
    out = fmt::format(caption::change_with, first_of(come));
  }
  const auto now = words::percent(after.kit.reach);
  const auto was = words::percent(before.kit.reach);
  out += now == was ? fmt::format(caption::change_same, now) : fmt::format(caption::change_reach, now, was);
  out += fmt::format(caption::change_mass, words::mass(after.kit.mass_g));
  out += regions_changed(trip_before, before, trip, after) + ".";
  out = plain(out);
  if (out.size() > longest) {
    // Cut between letters, not inside one.
    std::size_t end = longest - 3;
    while (end > 0 && (static_cast<unsigned char>(out[end]) & 0xC0U) == 0x80U) --end;
    out.replace(end, std::string::npos, "...");
  }
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
  return out;
}

}  // namespace skerry::page
