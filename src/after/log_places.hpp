// Fields of a record, where it places its two stations, and what many records have in common.
// Room: after, internal. Sees adif.hpp.
#pragma once

#include <fmt/format.h>

#include <algorithm>

#include "skerry/after/adif.hpp"

namespace skerry::after {

/// Empty where the record has none of that name.
[[nodiscard]] const std::string& field(const AdifRecord& record, const char* name);
/// "BAND '20m'": whom a record names is in no message, and masked where it stands in another field of it too.
[[nodiscard]] std::string told(const AdifRecord& record, const char* name);

/// What many records have in common is said once.
class Tally {
 public:
  void add(const std::string& what, const Error& error) {
    const auto at = std::find_if(all_.begin(), all_.end(), [&](const auto& x) { return x.what == what; });
    if (at != all_.end()) {
      ++at->count;
    } else if (all_.size() < most) {
      all_.push_back({what, error, 1});
    }
  }
  [[nodiscard]] std::vector<Error> told() const {
    std::vector<Error> out;
    for (const auto& x : all_) {
      out.push_back(x.error);
      if (x.count > 1) out.back().found += fmt::format(", in {} records", x.count);
    }
    return out;
  }

 private:
  /// Judgement: a log of so many kinds of mistakes is known by the first of them.
  static constexpr std::size_t most = 20;
  struct One {
    std::string what;
    Error error;
    int count = 0;
  };
  std::vector<One> all_;
};

/// Contact::at, entity and my_place. By LAT and LON (MY_LAT, MY_LON) where they lie in the locator that is told or none
/// is; else by GRIDSQUARE (MY_GRIDSQUARE), which is what was sent on the air; else by DXCC or COUNTRY.
/// Source: ADIF 3, type Location, "N052 30.000" (from memory).
void read_places(const AdifRecord& record, const Where& where, Contact& contact, Warnings& warnings,
                 Tally& tally);

}  // namespace skerry::after
