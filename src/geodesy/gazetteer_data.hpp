// The bytes of data/places/names.bin, read where they stand (its form: data/places/import_names.py).
// Layer: geodesy (internal).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/geodesy/gazetteer.hpp"

namespace skerry::geodesy {

class Gazetteer {
 public:
  /// Made at the first call, some 20 us; thread-safe.
  [[nodiscard]] static const Gazetteer& get();

  [[nodiscard]] std::size_t size() const { return names_; }
  [[nodiscard]] Named named(std::size_t i) const;
  [[nodiscard]] std::string folded(std::string_view text) const { return folded(text, folds_); }
  /// The same by a table of folds that is not yet anybody's.
  [[nodiscard]] static std::string folded(std::string_view text, std::string_view folds);
  /// Folded: whether it is another code of the place's country.
  [[nodiscard]] bool country_has_code(std::size_t i, std::string_view code) const;
  /// Folded name of a state by its code; "" where there is none.
  [[nodiscard]] std::string state_name(std::string_view code) const;

  enum class How : std::uint8_t { whole, beginning, words };
  /// The places that are called so; one may stand there twice. `key` is folded.
  [[nodiscard]] std::vector<std::size_t> search(std::string_view key, How how) const;

  /// The nearest within a reach of so many degrees of latitude.
  [[nodiscard]] std::optional<std::size_t> nearest(GeoPoint at, double reach_deg, bool with_zone) const;

 private:
  struct Country {
    std::string_view code, other_codes, name;
  };
  /// A table of names in the order of their folded forms.
  struct Index {
    const char* rows;
    std::size_t count, row_bytes;
  };

  Gazetteer();
  [[nodiscard]] std::string_view text_at(std::size_t place) const;
  [[nodiscard]] std::string_view name_in(const Index& index, std::size_t row) const;
  void search(const Index& index, std::string_view key, How how, std::vector<std::size_t>& out) const;
  [[nodiscard]] double degrees(std::size_t i, std::size_t offset) const;

  std::vector<std::string_view> zones_;
  std::vector<Country> countries_;
  std::string_view folds_;
  std::size_t names_ = 0;
  Index by_name_{}, by_other_{};
  const char* order_ = nullptr;  ///< by row of one degree from the south, then longitude
  std::string_view pool_;
};

}  // namespace skerry::geodesy
