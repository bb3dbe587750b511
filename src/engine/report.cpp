#include <algorithm>
#include <nlohmann/json.hpp>

#include "skerry/advice/explain_trip.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/engine/hosted.hpp"
#include "skerry/files/fields.hpp"
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
  sheet.to_zone = advice::clock_of(there);
  sheet.climate = q.climate;
  sheet.want_days_in_ten = q.want_days_in_ten;
  sheet.distance_km = geodesy::distance_km(q.from, q.to);
  sheet.utc_hour = utc_hour;
  sheet.bands = circuit::explain(q);
  return sheet;
}

Module module() {
  return {embedded_if("worker.js"), embedded_if("engine.txt")};
}

std::vector<page::PlainWords> plain_words(const kit::Trip& trip, const advice::Advice& advice) {
  std::vector<page::PlainWords> out;
  for (int site = 0; site < static_cast<int>(trip.sites.size()); ++site) {
    for (int target = 0; target < static_cast<int>(trip.targets.size()); ++target) {
      const auto question =
          advice::question_of(trip, advice, site, target, std::nullopt, words::setup_namer(trip));
      out.push_back({site, target, explain_sheet(trip, question, site, target, std::nullopt)});
    }
  }
  return out;
}

namespace {

/// What may stand in a trip file, table by table.
std::vector<page::FieldHelp> field_help() {
  std::vector<page::FieldHelp> out;
  std::vector<std::string> tables{"trip file"};
  for (std::size_t i = 0; i < tables.size(); ++i) {
    const auto name = tables[i];
    for (const auto& field : files::fields_of(name).fields) {
      if (i > 0) out.push_back({name, field.key, files::accepted(field), field.help});
      const std::string below = field.table;
      if (!below.empty() && std::find(tables.begin(), tables.end(), below) == tables.end())
        tables.push_back(below);
    }
  }
  return out;
}

page::Engine engine_of(const TripText& written) {
  page::Engine out;
  const auto built = module();
  if (built.packed.empty()) return out;
  if (!written.files.empty())
    out.worker = "self.skerryFiles = " +
                 nlohmann::json(written.files).dump(-1, ' ', true, nlohmann::json::error_handler_t::replace) +
                 ";\n";
  out.worker += built.worker;
  out.packed = built.packed;
  out.trip = written.text;
  out.fields = field_help();
  return out;
}

}  // namespace

std::string report(const kit::Trip& trip, const advice::Advice& advice, const advice::Picture& picture,
                   const TripText& written) {
  return page::report_html(trip, advice, picture, plain_words(trip, advice), engine_of(written));
}

std::string hosted_report(const kit::Trip& trip, const advice::Advice& advice, const advice::Picture& picture,
                          const TripText& written) {
  auto engine = engine_of(written);
  engine.hosted = true;
  return page::report_html(trip, advice, picture, plain_words(trip, advice), engine);
}

}  // namespace skerry::engine
