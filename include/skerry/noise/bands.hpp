// Which frequencies an amateur may use, and what a mode of emission needs to be copied.
// Layer: noise (it is the first room that needs frequencies). Sees core and geodesy.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::noise {

struct Band {
  std::string id;  ///< "40m"
  double low_mhz = 0, high_mhz = 0;
  /// Where portable stations meet (CW or all-mode centre); used unless the user gives another.
  double mhz = 0;
  bool contest_free = false;
  bool secondary = false;
  std::optional<double> eirp_limit_w;
  std::string note;
};

/// Amateur allocations 160 m .. 6 m of one ITU Region (1, 2, 3, asserted), lowest first. National rules
/// decide in the end. Source: data/bands/bands.toml (ITU Radio Regulations, Article 5).
[[nodiscard]] const std::vector<Band>& bands(int itu_region);
/// "40m", "40 m", "40", "7MHz", "7", "7.03" (any frequency inside). A bare number is a wavelength first: "10"
/// is 10 m, and "10 MHz" is 30 m. Unknown: Error with the list and the nearest.
[[nodiscard]] Result<Band> find_band(std::string_view name, int itu_region, const Where& where);
/// The band a frequency lies in, edges included, if any.
[[nodiscard]] std::optional<Band> band_of(double mhz, int itu_region);

/// A mode of emission: what signal-to-noise it needs, in its reference bandwidth. The signal is the mean
/// key-down power of keyed and constant-envelope modes, and the peak envelope power of voice. Source:
/// data/bands/SOURCE.md.
struct Mode {
  std::string id;  ///< "cw", "ssb", "ft8", ...
  std::string name;
  double bandwidth_hz = 2500;   ///< reference bandwidth of the two values below
  double required_snr_db = 0;   ///< planning value on a fading path
  double threshold_snr_db = 0;  ///< just copied
  double duty = 1;              ///< mean power share of key-down power within a transmission
  double tx_share = 0.35;       ///< share of clock time spent sending when working others
  std::string note;
};
[[nodiscard]] const std::vector<Mode>& modes();
/// By id or another usual name ("phone", "morse"), upper or lower case; unknown: Error with the list and the
/// nearest.
[[nodiscard]] Result<Mode> find_mode(std::string_view name, const Where& where);

}  // namespace skerry::noise
