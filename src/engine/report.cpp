#include "skerry/engine/report.hpp"

#include <vector>

#include "skerry/advice/explain_trip.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/page/html.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::engine {

words::ExplainSheet explain_sheet(const kit::Trip& trip, const circuit::ExplainQuestion& q, int site,
                                  int target, std::optional<int> utc_hour) {
  const auto& here = nth(trip.sites, site);
  const auto& there = nth(trip.targets, target);
  words::ExplainSheet sheet;
  sheet.from_name = here.name;
  sheet.to_name = there.region.name;
  if (there.people.front().name != there.region.name && !there.people.front().name.empty())
    sheet.to_name += " (" + there.people.front().name + ")";
  sheet.from_zone = here.zone;
  sheet.to_zone = sun::Zone::nominal(q.to.lon_deg);
  sheet.climate = q.climate;
  sheet.want_days_in_ten = q.want_days_in_ten;
  sheet.distance_km = geodesy::distance_km(q.from, q.to);
  sheet.utc_hour = utc_hour;
  sheet.bands = circuit::explain(q);
  return sheet;
}

Module module() {
  return {embedded_if("worker.js"), embedded_if("engine.b64")};
}

std::string report(const kit::Trip& trip, const advice::Advice& advice, const advice::Picture& picture) {
  std::vector<page::PlainWords> words;
  for (int site = 0; site < static_cast<int>(trip.sites.size()); ++site) {
    for (int target = 0; target < static_cast<int>(trip.targets.size()); ++target) {
      const auto question =
          advice::question_of(trip, advice, site, target, std::nullopt, words::setup_namer(trip));
      words.push_back({site, target, explain_sheet(trip, question, site, target, std::nullopt)});
    }
  }
  return page::report_html(trip, advice, picture, words);
}

}  // namespace skerry::engine
