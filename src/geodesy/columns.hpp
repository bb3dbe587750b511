// The files of places as the module for a page carries them, by columns, and back again. The form: cmake/columns.py.
// Layer: geodesy (internal).
#pragma once

#include <string>
#include <string_view>

namespace skerry::geodesy {

/// The bytes of data/places/names.bin.
[[nodiscard]] std::string names_of_columns(std::string_view columns);
/// The bytes of data/places/places.bin.
[[nodiscard]] std::string places_of_columns(std::string_view columns);

}  // namespace skerry::geodesy
