#include "places.hpp"

#include <fmt/format.h>

namespace skerry::cli {

GeoPoint Places::read(const std::string& text, const char* argument) {
  auto at = read_.read(text, argument);
  if (at || read_.choices().empty()) return must(std::move(at));
  Stop stop;
  stop.errors.push_back(std::move(at.error()));
  int number = 0;
  for (const auto& choice : read_.choices()) {
    // The last line says how many there are more.
    stop.choices.push_back(choice.starts_with("and ") ? "     " + choice
                                                      : fmt::format("{:3}  {}", ++number, choice));
  }
  throw stop;
}

void Places::tell(World& world) const {
  for (const auto& line : read_.taken()) world.err << "skerry: " << line << "\n";
}

void Places::ask(World& world) const {
  for (const auto& question : read_.questions()) world.err << "skerry: warning: " << question << "\n";
}

}  // namespace skerry::cli
