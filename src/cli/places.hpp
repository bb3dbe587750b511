// Places as people type them, and what the program says of them.
// Layer: cli (internal).
#pragma once

#include <optional>
#include <string>

#include "options.hpp"
#include "skerry/engine/places.hpp"

namespace skerry::cli {

/// The places of one question. What a name was taken for is always told: on the first lines of a text answer, in
/// a key of JSON, on standard error beside other formats.
class Places {
 public:
  /// A position, or the place of that name. Stops where neither can be made of it; where a name has several
  /// places, with a numbered list of them.
  [[nodiscard]] GeoPoint read(const std::string& text, const char* argument);
  /// What a name was taken for; none where a position was typed.
  [[nodiscard]] std::optional<geodesy::Named> named(const char* argument) const {
    return read_.named(argument);
  }
  /// A line for each name; for the head of a text answer.
  [[nodiscard]] std::string lines() const { return read_.lines(); }
  /// The same on standard error.
  void tell(World& world) const;
  /// For each place in open water a question on standard error: beside text and JSON.
  void ask(World& world) const;

 private:
  engine::Places read_;
};

}  // namespace skerry::cli
