// What `score` asks: forecasts against reception reports, maps against ionosondes.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "skerry/after/ionosonde.hpp"
#include "skerry/after/spots.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/words/score.hpp"

namespace skerry::engine {

/// Keys of the same names in JSON, options of the same names with dashes on the command line.
struct ScoreAsk {
  enum class Table : std::uint8_t { spots, hours, ionosonde } table = Table::spots;
  std::string file;           ///< the table's name, as shown
  std::optional<double> r12;  ///< of all months; none: the built-in numbers
  ionosphere::MapSet maps = ionosphere::MapSet::ccir;
  noise::Mode mode;  ///< with another threshold where one is wanted
  std::optional<double> tx_gain_dbi, rx_gain_dbi;
  noise::Environment rx_noise = noise::Environment::residential;
  double noise_figure_db = 15;
  circuit::TakeOff take_off = circuit::TakeOff::mirror;
  std::size_t most_silent = 2000000;
  double least_days = 5;  ///< of hours: rows with fewer active days are passed over
};
struct Scored {
  std::string text;
  Warnings left_out;  ///< records that could not be read
};
/// What `skerry score` prints of a table (CSV, see room after). Mistakes of the table name its file; one of the ask
/// names the key in where.file.
[[nodiscard]] Checked<Scored> score(std::string_view csv, const ScoreAsk& ask, Format format,
                                    const words::Style& style);

}  // namespace skerry::engine
