#include <fmt/format.h>

#include <cmath>
#include <complex>

#include "common.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::forms {

namespace {

const char* match_key(antenna::Match match) {
  static constexpr std::array keys{"direct", "with-tuner", "impossible"};
  return nth(keys, match);
}

Json workings_json(const words::AntennaRow& row) {
  const auto& b = row.workings->balance;
  Json steps = list(row.pattern.steps, [&](const auto& s) -> Json {
    return {{"what", words::step_name(s)},
            {"resistance_ohm", rounded(s.ohm.real(), 3)},
            {"reactance_ohm", rounded(s.ohm.imag(), 3)},
            {"db", rounded(s.loss_db, 3)}};
  });
  Json currents = list(row.workings->currents, [&](const auto& c) -> Json {
    return {{"wire", c.wire},
            {"length_m", rounded(c.length_m, 3)},
            {"from_a", rounded(c.from_a, 5)},
            {"to_a", rounded(c.to_a, 5)},
            {"largest_a", rounded(c.largest_a, 5)},
            {"largest_at_m", rounded(c.largest_at_m, 3)}};
  });
  Json segments = Json::array();
  const auto end_of = [](const antenna::Vec3& at, std::complex<double> amperes) {
    return Json{{"at_m", {rounded(at[0], 3), rounded(at[1], 3), rounded(at[2], 3)}},
                {"a", rounded(std::abs(amperes), 5)},
                {"phase_deg", rounded(std::arg(amperes) * deg_per_rad, 1)}};
  };
  for (const auto& s : row.workings->segments)
    segments.push_back(
        {{"wire", s.wire}, {"from", end_of(s.from_m, s.from_a)}, {"to", end_of(s.to_m, s.to_a)}});
  return {{"balance",
           {{"input_w", 1},
            {"radiated_w", rounded(b.radiated_w, 5)},
            {"wire_w", rounded(b.wire_w, 5)},
            {"parts_w", rounded(b.parts_w, 5)},
            {"ground_w", rounded(b.ground_w, 5)},
            {"defect_w", or_null(!std::isnan(b.defect_w), b.defect_w, 5)}}},
          {"chain", std::move(steps)},
          {"currents", std::move(currents)},
          {"segments", std::move(segments)},
          {"unknowns", row.workings->unknowns}};
}

}  // namespace

std::string antenna_json(const std::vector<words::AntennaRow>& rows) {
  Json antennas = Json::array();
  Json impossible = Json::array();
  for (const auto& row : rows) {
    if (!row.possible) {
      impossible.push_back({{"id", row.id}, {"mhz", rounded(row.mhz, 4)}, {"why", words::row_why_not(row)}});
      continue;
    }
    const auto& p = row.pattern;
    Json gain = Json::array();
    for (int e = 0; e <= 90; ++e) {
      double azimuth = 0;
      const double best = p.best_dbi(e, &azimuth);
      gain.push_back({{"elevation_deg", e},
                      {"best_dbi", rounded(best, 2)},
                      {"best_azimuth_deg", rounded(azimuth, 1)},
                      {"mean_dbi", rounded(p.mean_dbi(e), 2)}});
    }
    Json ledger = list(p.losses, [&](const auto& loss) -> Json {
      return {{"loss", words::loss_name(loss.in)}, {"db", rounded(loss.db, 3)}};
    });
    Json one{{"id", row.id},
             {"shape", or_null(row.shape)},
             {"mhz", rounded(row.mhz, 4)},
             {"ground", row.ground},
             {"resistance_ohm", rounded(p.feed_ohm.real(), 3)},
             {"reactance_ohm", rounded(p.feed_ohm.imag(), 3)},
             {"radiation_efficiency_db", rounded(p.radiation_efficiency_db, 3)},
             {"system_efficiency_db", rounded(p.system_efficiency_db, 3)},
             {"swr", rounded(p.swr, 3)},
             {"gain_dbi", std::move(gain)},
             {"ledger", std::move(ledger)},
             {"match", match_key(p.match)},
             {"notes", words::row_notes(row)}};
    if (row.workings) one["workings"] = workings_json(row);
    antennas.push_back(std::move(one));
  }
  return dump(Json{{"schema", "skerry.antenna/1"},
                   {"antennas", std::move(antennas)},
                   {"impossible", std::move(impossible)}});
}

std::string antenna_csv(const std::vector<words::AntennaRow>& rows) {
  std::string out = "id,shape,mhz,ground,elevation_deg,best_dbi,best_azimuth_deg,mean_dbi\n";
  for (const auto& row : rows) {
    if (!row.possible) continue;
    for (int e = 0; e <= 90; ++e) {
      double azimuth = 0;
      const double best = row.pattern.best_dbi(e, &azimuth);
      out += fmt::format("{},{},{:.4f},{},{},{:.2f},{:.0f},{:.2f}\n", csv_field(row.id), csv_field(row.shape),
                         row.mhz, csv_field(row.ground), e, plus_zero(best, 2), azimuth,
                         plus_zero(row.pattern.mean_dbi(e), 2));
    }
  }
  return out;
}

}  // namespace skerry::forms
