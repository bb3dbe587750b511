// Places as people type them: a position, a locator, or a name of the built-in list.
// Layer: cli (internal).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "options.hpp"
#include "skerry/geodesy/gazetteer.hpp"

namespace skerry::cli {

/// The places of one question. What a name was taken for is always told: on the first lines of a text answer, in
/// a key of JSON, on standard error beside other formats.
class Places {
 public:
  /// A position, or the place of that name. Stops where neither can be made of it; where a name has several
  /// places, with a numbered list of them.
  [[nodiscard]] GeoPoint read(const std::string& text, const char* argument);
  /// What a name was taken for; none where a position was typed.
  [[nodiscard]] std::optional<geodesy::Named> named(const char* argument) const;
  /// A line for each name, and for each place in open water a question; for the head of a text answer.
  [[nodiscard]] std::string lines() const;
  /// The same on standard error.
  void tell(World& world) const;
  /// The questions alone, on standard error: beside text and JSON.
  void ask(World& world) const;

 private:
  struct Taken {
    std::string argument;
    geodesy::NameSearch search;
  };
  std::vector<Taken> taken_;
  std::vector<std::string> questions_;
};

}  // namespace skerry::cli
