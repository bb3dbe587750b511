// What questions about the sky and two stations have in common: the keys of `batch`, read one by one.
// Layer: engine, private.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "json_reader.hpp"
#include "skerry/circuit/path_answer.hpp"

namespace skerry::engine {

/// "month" or "date", the Sun's activity (by one of its indices, else the built-in forecast), "maps", "field_epoch",
/// and "fof2".
void read_climate(Reader& r, ionosphere::Climate& climate);
/// "fof2" alone.
void read_measured(Reader& r, ionosphere::Climate& climate);
/// "bands" and "mhz"; with neither the bands called `otherwise`, or if there are none all below 30 MHz at `from`.
[[nodiscard]] std::vector<circuit::PathQuestion::Frequency> read_frequencies(
    Reader& r, GeoPoint from, const std::vector<std::string>& otherwise);
/// Powers, gains, noise, skyline.
void read_ends(Reader& r, circuit::PathEnd& from, circuit::PathEnd& to);
/// "mode", and the choices within the method.
void read_method(Reader& r, noise::Mode& mode, circuit::Settings& settings);
/// "hours": which of the 24; all where nothing is said.
void read_hours(Reader& r, std::array<bool, 24>& hours);

}  // namespace skerry::engine
