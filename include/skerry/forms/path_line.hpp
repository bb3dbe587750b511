// A path's answer on one line of JSON, for streams of many.
// Layer: forms. Sees everything above it.
#pragma once

#include <array>
#include <string>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::forms {

struct LineOptions {
  std::string id_json;           ///< the asker's id as JSON text, echoed first; empty: none
  std::array<bool, 24> hours{};  ///< which hours to write
  bool modes = false;            ///< also the modes of each hour and band
};

/// One line with its line break: skerry.batch/1. Keys and values are those of skerry.path/1, of which control
/// points are left out, modes unless asked for, and ground_wave and skip_zone where there are none;
/// required_snr_db stands once, at the top. Of the answer only `line_wants` is shown.
[[nodiscard]] std::string path_line(const circuit::PathAnswer& answer, const LineOptions& options);

inline constexpr circuit::PathQuestion::Wanted line_wants{false, true, false};

}  // namespace skerry::forms
