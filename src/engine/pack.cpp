#include "skerry/engine/pack.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "skerry/advice/explain_trip.hpp"
#include "skerry/advice/prepared.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/report.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/horizon.hpp"
#include "skerry/words/place.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::engine {

namespace {

Result<advice::WhatIf> what_if(const PackAsk& ask, const kit::Trip& trip, const advice::Advice& advice,
                               const choose::Stop& stop) {
  std::vector<std::string> known;
  for (const auto& thing : advice.inventory.things) known.push_back(thing.id);
  std::vector<int> drop, add;
  const auto find = [&](const std::string& id, bool comes) -> Result<int> {
    const auto where = advice.inventory.by_id.find(id);
    if (where == advice.inventory.by_id.end())
      return fail({"what_if"}, "'" + one_line(id) + "'", "the id of something that is carried",
                  did_you_mean(id, known));
    const auto& thing = nth(advice.inventory.things, where->second);
    if (comes && thing.excluded)
      return fail({"what_if"}, "add=" + id, "something that can come", words::why_excluded(trip, thing));
    const auto& other = comes ? drop : add;
    if (std::find(other.begin(), other.end(), where->second) != other.end())
      return fail({"what_if"}, "'" + id + "' dropped and added", "one of them");
    return where->second;
  };
  for (const bool comes : {false, true}) {
    auto& list = comes ? add : drop;
    for (const auto& id : comes ? ask.add : ask.drop) {
      const auto thing = find(id, comes);
      if (!thing) return tl::unexpected(thing.error());
      if (std::find(list.begin(), list.end(), *thing) == list.end()) list.push_back(*thing);
    }
  }
  return advice::what_if(advice, drop, add, stop);
}

/// Indices of the regions asked for.
Result<std::vector<int>> targets_of(const kit::Trip& trip, const std::string& region) {
  std::vector<int> targets;
  std::vector<std::string> known;
  int heaviest = 0;
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    known.push_back(trip.targets[t].region.id);
    if (trip.targets[t].weight > nth(trip.targets, heaviest).weight) heaviest = static_cast<int>(t);
    if (region == "all" || trip.targets[t].region.id == region) targets.push_back(static_cast<int>(t));
  }
  if (region.empty() && !trip.targets.empty()) targets.push_back(heaviest);
  if (targets.empty())
    return fail({"region"}, "'" + region + "'", fmt::format("all, or one of {}", fmt::join(known, ", ")),
                did_you_mean(region, known));
  return targets;
}

Result<int> site_of(const kit::Trip& trip, const std::string& site) {
  if (site.empty()) return 0;
  std::vector<std::string> known;
  for (const auto& s : trip.sites) known.push_back(s.id);
  const auto found = std::find(known.begin(), known.end(), site);
  if (found == known.end())
    return fail({"site"}, "'" + site + "'", fmt::format("one of {}", fmt::join(known, ", ")),
                did_you_mean(site, known));
  return static_cast<int>(found - known.begin());
}

Result<words::ExplainSheet> explain_region(const ExplainAsk& ask, const kit::Trip& trip,
                                           const advice::Advice& advice, int site, int target) {
  auto q = advice::question_of(trip, advice, site, target, ask.hour, words::setup_namer(trip));
  if (!ask.bands.empty()) {
    const int region = geodesy::itu_region(q.from).region;
    std::vector<circuit::ExplainBand> kept;
    for (const auto& name : ask.bands) {
      const auto band = noise::find_band(name, region, {"bands"});
      if (!band) return tl::unexpected(band.error());
      const auto found =
          std::find_if(q.bands.begin(), q.bands.end(), [&](const auto& b) { return b.band == band->id; });
      if (found == q.bands.end())
        return fail({"bands"}, "'" + band->id + "'", "a band of the trip's licence");
      kept.push_back(*found);
    }
    q.bands = std::move(kept);
  }
  return explain_sheet(trip, q, site, target, ask.hour);
}

}  // namespace

Result<std::string> pack(const kit::Trip& trip, const PackAsk& ask, const choose::Stop& stop) {
  if (ask.what_if() && ask.format == Format::csv) return fail({"what_if"}, "with csv", "with text or json");
  advice::AdviceOptions options;
  options.stop = stop;
  options.remedies = ask.format == Format::json ||
                     std::find(ask.show.begin(), ask.show.end(), words::Section::remedies) != ask.show.end();
  const auto advice = advice::advise(trip, options);
  if (ask.what_if()) {
    const auto told = what_if(ask, trip, advice, options.stop);
    if (!told) return tl::unexpected(told.error());
    if (ask.format == Format::json) return forms::pack_json(trip, advice, &*told);
    return words::what_if_text(advice, *told, ask.style.width(120));
  }
  if (ask.format == Format::json) return forms::pack_json(trip, advice);
  if (ask.format == Format::csv)
    return ask.table == PackTable::things ? forms::packing_list_csv(trip, advice)
                                          : forms::pack_csv(trip, advice);
  return ask.show.empty() ? words::pack_screen(trip, advice, ask.style)
                          : words::pack_text(trip, advice, ask.show, ask.style);
}

std::vector<std::string> doubts(const kit::Trip& trip) {
  std::vector<std::string> out;
  for (const auto& site : trip.sites) {
    const auto doubt = words::zone_note(trip, site);
    if (!doubt.empty()) out.push_back(one_line(site.name) + ": " + doubt);
    for (const auto& note : words::terrain_notes(site)) out.push_back(one_line(site.name) + ": " + note);
    if (const auto water = geodesy::open_water(site.at))
      out.push_back(words::water_question(one_line(site.name), site.at, *water));
  }
  return out;
}

Result<std::string> explain(const kit::Trip& trip, const ExplainAsk& ask) {
  const auto targets = targets_of(trip, ask.region);
  if (!targets) return tl::unexpected(targets.error());
  const auto site = site_of(trip, ask.site);
  if (!site) return tl::unexpected(site.error());
  const auto advice = advice::Prepared(trip).decide();
  std::vector<words::ExplainSheet> sheets;
  for (const int target : *targets) {
    auto sheet = explain_region(ask, trip, advice, *site, target);
    if (!sheet) return tl::unexpected(sheet.error());
    sheets.push_back(std::move(*sheet));
  }
  if (ask.format == Format::json) return forms::explain_json(sheets);
  std::string out;
  for (const auto& sheet : sheets) out += (out.empty() ? "" : "\n\n") + words::explain_text(sheet, ask.style);
  if (ask.region.empty() && trip.targets.size() > 1) {
    const std::size_t other = targets->front() == 0 ? 1 : 0;
    out += fmt::format("Other regions: --region {}, or --region all.\n", trip.targets[other].region.id);
  }
  return out;
}

}  // namespace skerry::engine
