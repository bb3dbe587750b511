// Places as people type them: a position, a locator, or a name of the built-in list.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/geodesy/gazetteer.hpp"

namespace skerry::engine {

/// The places of one question, and what has to be told of them.
class Places {
 public:
  /// A position, or the place of that name.
  ///   argument  what the place is called in what is told
  ///   errors    neither can be made of it; or a name has several places: choices() then lists them
  [[nodiscard]] Result<GeoPoint> read(const std::string& text, const char* argument);
  /// What a name was taken for; none where a position was typed.
  [[nodiscard]] std::optional<geodesy::Named> named(const char* argument) const;
  /// A line for each name, without line breaks.
  [[nodiscard]] std::vector<std::string> taken() const;
  /// The same with line breaks, for the head of a text answer.
  [[nodiscard]] std::string lines() const;
  /// A question for each place in open water, where a slip of the hand is likelier than a boat.
  [[nodiscard]] const std::vector<std::string>& questions() const { return questions_; }
  /// Of the last name that has several places: those, at most nine, and how many there are more.
  [[nodiscard]] const std::vector<std::string>& choices() const { return choices_; }

 private:
  struct Taken {
    std::string argument;
    geodesy::NameSearch search;
  };
  std::vector<Taken> taken_;
  std::vector<std::string> questions_, choices_;
};

}  // namespace skerry::engine
