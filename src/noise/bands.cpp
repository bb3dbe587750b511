#include "skerry/noise/bands.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdlib>
#include <utility>

#include "skerry/core/table.hpp"
#include "skerry/core/text.hpp"

namespace skerry::noise {

namespace {

struct BandTable {
  std::array<std::vector<Band>, 3> regions;
  std::vector<std::string> ids;
  std::vector<std::pair<std::string, std::string>> names;  ///< MHz name to id
};

const BandTable& band_table() {
  static const BandTable kept = [] {
    BandTable out;
    for (const TableRow& row : table_rows("bands/bands.toml", "band")) {
      Band band;
      band.id = row.text("id");
      band.mhz = row.number("mhz");
      band.contest_free = row.flag_or("contest_free", false);
      band.secondary = row.flag_or("secondary", false);
      if (row.has("eirp_limit_w")) band.eirp_limit_w = row.number("eirp_limit_w");
      band.note = row.text_or("note", {});
      const auto& low = row.numbers("low_mhz");
      const auto& high = row.numbers("high_mhz");
      for (std::size_t i = 0; i < out.regions.size(); ++i) {
        band.low_mhz = low.at(i);
        band.high_mhz = high.at(i);
        out.regions[i].push_back(band);
      }
      out.ids.push_back(band.id);
      for (const std::string& name : row.texts_or_empty("names")) out.names.emplace_back(name, band.id);
    }
    return out;
  }();
  return kept;
}

struct ModeTable {
  std::vector<Mode> modes;
  std::vector<std::string> words;  ///< ids and aliases
  std::vector<std::size_t> owner;  ///< index into modes for each word
};

const ModeTable& mode_table() {
  static const ModeTable kept = [] {
    ModeTable out;
    for (const TableRow& row : table_rows("bands/modes.toml", "mode")) {
      Mode mode;
      mode.id = row.text("id");
      mode.name = row.text("name");
      mode.bandwidth_hz = row.number("bandwidth_hz");
      mode.required_snr_db = row.number("required_snr_db");
      mode.threshold_snr_db = row.number("threshold_snr_db");
      mode.duty = row.number("duty");
      mode.tx_share = row.number("tx_share");
      mode.note = row.text_or("note", {});
      const std::size_t index = out.modes.size();
      out.words.push_back(mode.id);
      out.owner.push_back(index);
      for (std::string& word : row.texts_or_empty("aliases")) {
        out.words.push_back(std::move(word));
        out.owner.push_back(index);
      }
      out.modes.push_back(std::move(mode));
    }
    return out;
  }();
  return kept;
}

/// "20 m" -> "20" and "m"; the number keeps its digits as typed.
std::pair<std::string, std::string> number_and_unit(std::string_view text) {
  const std::string small = lower(trim(text));
  const auto end = small.find_first_not_of("0123456789.");
  if (end == std::string::npos) return {small, {}};
  return {small.substr(0, end), std::string(trim(std::string_view(small).substr(end)))};
}

std::string all_ids() {
  std::string out;
  for (const std::string& id : band_table().ids) out += (out.empty() ? "" : ", ") + id;
  return out;
}

}  // namespace

const std::vector<Band>& bands(int itu_region) {
  assert(itu_region >= 1 && itu_region <= 3);
  return band_table().regions[static_cast<std::size_t>(std::clamp(itu_region, 1, 3) - 1)];
}

std::optional<Band> band_of(double mhz, int itu_region) {
  for (const Band& band : bands(itu_region)) {
    if (mhz >= band.low_mhz && mhz <= band.high_mhz) return band;
  }
  return std::nullopt;
}

Result<Band> find_band(std::string_view name, int itu_region, const Where& where) {
  const BandTable& table = band_table();
  const auto& choice = bands(itu_region);
  const auto with_id = [&](const std::string& id) -> const Band* {
    const auto it = std::find_if(choice.begin(), choice.end(), [&](const Band& b) { return b.id == id; });
    return it == choice.end() ? nullptr : &*it;
  };
  const auto [number, unit] = number_and_unit(name);
  // A bare number is a wavelength first ("20", and "10" is 10 m), then a frequency ("14").
  if (unit.empty() || unit == "m" || unit == "meter" || unit == "meters" || unit == "metre" ||
      unit == "metres") {
    if (const Band* band = with_id(number + "m")) return *band;
  }
  if (unit.empty() || unit == "mhz") {
    for (const auto& [word, id] : table.names) {
      if (word == number) return *with_id(id);
    }
    if (const auto mhz = to_number(number)) {
      if (const auto band = band_of(*mhz, itu_region)) return *band;
      // "10 MHz" and the like: whole megahertz that a band begins in.
      for (const Band& band : choice) {
        if (*mhz == static_cast<double>(static_cast<int>(band.low_mhz))) return band;
      }
    }
  }
  // A hint from the words people type; never for a bare number that merely resembles one.
  const std::string hint =
      unit.empty() && !number.empty() ? std::string{} : did_you_mean(trim(name), table.ids);
  return fail(where, "band '" + one_line(name) + "'", "one of " + all_ids(), hint);
}

const std::vector<Mode>& modes() {
  return mode_table().modes;
}

Result<Mode> find_mode(std::string_view name, const Where& where) {
  const ModeTable& table = mode_table();
  std::string word = lower(trim(name));
  std::replace(word.begin(), word.end(), ' ', '-');
  std::replace(word.begin(), word.end(), '_', '-');
  for (std::size_t i = 0; i < table.words.size(); ++i) {
    if (table.words[i] == word) return table.modes[table.owner[i]];
  }
  std::string accepted;
  for (const Mode& mode : table.modes) accepted += (accepted.empty() ? "one of " : ", ") + mode.id;
  return fail(where, "mode '" + one_line(name) + "'", accepted, did_you_mean(word, table.words));
}

}  // namespace skerry::noise
