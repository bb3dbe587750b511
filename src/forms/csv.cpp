#include "skerry/forms/csv.hpp"

#include "skerry/core/text.hpp"

namespace skerry::forms {

std::string csv_field(std::string_view text) {
  const bool formula = !text.empty() &&
                       std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos &&
                       !to_number(text);
  if (!formula && text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
  std::string out = formula ? "\"'" : "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

}  // namespace skerry::forms
