#include <fmt/format.h>

#include "skerry/core/text.hpp"
#include "skerry/words/library.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::words {

namespace {

std::string size_text(const kit::Item& item) {
  if (item.tube_cm) return fmt::format("{:.4g} x {:.4g} cm", (*item.tube_cm)[0], (*item.tube_cm)[1]);
  if (!item.size_cm) return "";
  const auto& s = *item.size_cm;
  return fmt::format("{:.4g} x {:.4g} x {:.4g} cm", s[0], s[1], s[2]);
}

}  // namespace

std::string library_text(const std::vector<kit::LibraryEntry>& entries, const std::string& file) {
  std::string out = fmt::format("{}: {}\n", one_line(file, 90), counted(entries.size(), "thing"));
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

}  // namespace skerry::words
