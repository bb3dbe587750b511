#include <fmt/format.h>

#include "common.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

std::string library_json(const std::vector<kit::LibraryEntry>& entries) {
  Json things = list(entries, [&](const auto& e) -> Json {
    return {{"kind", e.kind},
            {"id", e.item.id},
            {"name", e.item.name},
            {"mass_g", rounded(e.item.mass_g, 4)},
            {"size_cm", e.item.size_cm ? Json(*e.item.size_cm) : Json(nullptr)},
            {"tube_cm", e.item.tube_cm ? Json(*e.item.tube_cm) : Json(nullptr)},
            {"line", e.item.line}};
  });
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

}  // namespace skerry::forms
