#include "skerry/report/library_report.hpp"

#include <fmt/format.h>

#include "json_common.hpp"
#include "skerry/core/text.hpp"
#include "skerry/report/csv.hpp"

namespace skerry::report {

namespace {

std::string size_text(const kit::Item& item) {
  if (item.tube_cm) return fmt::format("{:.4g} x {:.4g} cm", (*item.tube_cm)[0], (*item.tube_cm)[1]);
  if (!item.size_cm) return "";
  const auto& s = *item.size_cm;
  return fmt::format("{:.4g} x {:.4g} x {:.4g} cm", s[0], s[1], s[2]);
}

}  // namespace

std::string library_text(const std::vector<kit::LibraryEntry>& entries, const std::string& file) {
  std::string out =
      fmt::format("{}: {} thing{}\n", one_line(file, 90), entries.size(), entries.size() == 1 ? "" : "s");
  double mass_g = 0;
  for (const auto& e : entries) {
    auto line =
        fmt::format("  {:<8}  {:<20}  {:<30}  {:>7}  {}", e.kind, e.item.id, one_line(e.item.name, 30),
                    e.item.mass_g > 0 ? fmt::format("{:.0f} g", e.item.mass_g) : "", size_text(e.item));
    while (line.back() == ' ') line.pop_back();
    out += line + "\n";
    mass_g += e.item.mass_g;
  }
  if (!entries.empty()) out += fmt::format("  together {:.2f} kg\n", mass_g / 1000);
  return out;
}

std::string library_json(const std::vector<kit::LibraryEntry>& entries) {
  Json things = Json::array();
  for (const auto& e : entries)
    things.push_back({{"kind", e.kind},
                      {"id", e.item.id},
                      {"name", e.item.name},
                      {"mass_g", rounded(e.item.mass_g, 4)},
                      {"size_cm", e.item.size_cm ? Json(*e.item.size_cm) : Json(nullptr)},
                      {"tube_cm", e.item.tube_cm ? Json(*e.item.tube_cm) : Json(nullptr)},
                      {"line", e.item.line}});
  return dump(Json{{"schema", "skerry.library/1"}, {"things", std::move(things)}});
}

std::string library_csv(const std::vector<kit::LibraryEntry>& entries) {
  std::string out = "kind,id,name,mass_g,length_cm,width_cm,height_cm\n";
  for (const auto& e : entries) {
    std::string size = ",,";
    if (e.item.size_cm)
      size = fmt::format("{:g},{:g},{:g}", (*e.item.size_cm)[0], (*e.item.size_cm)[1], (*e.item.size_cm)[2]);
    if (e.item.tube_cm)
      size = fmt::format("{:g},{:g},{:g}", (*e.item.tube_cm)[0], (*e.item.tube_cm)[1], (*e.item.tube_cm)[1]);
    out += fmt::format("{},{},{},{:g},{}\n", e.kind, csv_field(e.item.id), csv_field(e.item.name),
                       e.item.mass_g, size);
  }
  return out;
}

}  // namespace skerry::report
