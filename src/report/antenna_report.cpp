#include "skerry/report/antenna_report.hpp"

#include <fmt/format.h>

#include <cmath>
#include <complex>

#include "fixed.hpp"
#include "json_common.hpp"
#include "skerry/core/units.hpp"
#include "skerry/report/csv.hpp"
#include "skerry/report/explain.hpp"
#include "skerry/report/pack.hpp"

namespace skerry::report {

namespace {

const char* match_word(antenna::Match match) {
  switch (match) {
    case antenna::Match::direct:
      return "direct";
    case antenna::Match::with_tuner:
      return "with-tuner";
    case antenna::Match::impossible:
      return "impossible";
  }
  return "";
}

Json workings_json(const AntennaRow& row) {
  const auto& b = row.workings->balance;
  Json steps = Json::array();
  for (const auto& s : row.pattern.steps) {
    steps.push_back({{"what", s.what},
                     {"resistance_ohm", rounded(s.ohm.real(), 3)},
                     {"reactance_ohm", rounded(s.ohm.imag(), 3)},
                     {"db", rounded(s.loss_db, 3)}});
  }
  Json currents = Json::array();
  for (const auto& c : row.workings->currents) {
    currents.push_back({{"wire", c.wire},
                        {"length_m", rounded(c.length_m, 3)},
                        {"from_a", rounded(c.from_a, 5)},
                        {"to_a", rounded(c.to_a, 5)},
                        {"largest_a", rounded(c.largest_a, 5)},
                        {"largest_at_m", rounded(c.largest_at_m, 3)}});
  }
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
            {"defect_w", rounded(b.defect_w, 5)}}},
          {"chain", std::move(steps)},
          {"currents", std::move(currents)},
          {"segments", std::move(segments)},
          {"unknowns", row.workings->unknowns}};
}

std::string impedance(std::complex<double> z) {
  return fmt::format("{:.4g} {} j{:.4g} ohm", z.real(), z.imag() < 0 ? "-" : "+", std::abs(z.imag()));
}

std::string workings_text(const AntennaRow& row) {
  const auto& w = *row.workings;
  const auto& b = w.balance;
  std::string out =
      "  energy balance of 1 W into the antenna (ground found by itself, from the fields below)\n";
  out += fmt::format(
      "    radiated {:.4f} + wire {:.4f} + coils and parts {:.4f} + ground {:.4f} = {:.4f} W, {:+.2f} % "
      "off\n",
      b.radiated_w, b.wire_w, b.parts_w, b.ground_w, 1 - b.defect_w, plus_zero(-100 * b.defect_w, 2));
  out += "  feed chain, antenna to rig\n";
  for (const auto& s : row.pattern.steps)
    out += fmt::format("    {:<30} {:<28} {:5.2f} dB\n", s.what, impedance(s.ohm), plus_zero(s.loss_db, 2));
  out += fmt::format("  current, A for 1 W ({} unknowns)\n", w.unknowns);
  for (const auto& c : w.currents) {
    out += fmt::format(
        "    wire {:<3} {:6.2f} m: {:.4f} at its start, {:.4f} at its end, most {:.4f} at {:.2f} m\n", c.wire,
        c.length_m, c.from_a, c.to_a, c.largest_a, c.largest_at_m);
  }
  return out;
}

}  // namespace

std::string antenna_json(const std::vector<AntennaRow>& rows) {
  Json antennas = Json::array();
  Json impossible = Json::array();
  for (const auto& row : rows) {
    if (!row.possible) {
      impossible.push_back({{"id", row.id}, {"mhz", rounded(row.mhz, 4)}, {"why", row.why_not}});
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
    Json ledger = Json::array();
    for (const auto& loss : p.losses) ledger.push_back({{"loss", loss.name}, {"db", rounded(loss.db, 3)}});
    std::vector<std::string> notes = row.notes;
    notes.insert(notes.end(), p.notes.begin(), p.notes.end());
    Json one{{"id", row.id},
             {"shape", row.shape.empty() ? Json(nullptr) : Json(row.shape)},
             {"mhz", rounded(row.mhz, 4)},
             {"ground", row.ground},
             {"resistance_ohm", rounded(p.feed_ohm.real(), 3)},
             {"reactance_ohm", rounded(p.feed_ohm.imag(), 3)},
             {"radiation_efficiency_db", rounded(p.radiation_efficiency_db, 3)},
             {"system_efficiency_db", rounded(p.system_efficiency_db, 3)},
             {"swr", rounded(p.swr, 3)},
             {"gain_dbi", std::move(gain)},
             {"ledger", std::move(ledger)},
             {"match", match_word(p.match)},
             {"notes", notes}};
    if (row.workings) one["workings"] = workings_json(row);
    antennas.push_back(std::move(one));
  }
  return dump(Json{{"schema", "skerry.antenna/1"},
                   {"antennas", std::move(antennas)},
                   {"impossible", std::move(impossible)}});
}

std::string antenna_csv(const std::vector<AntennaRow>& rows) {
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

std::string antenna_text(const std::vector<AntennaRow>& rows, const Style& style) {
  std::string out;
  for (const auto& row : rows) {
    if (!out.empty()) out += "\n";
    out += fmt::format("{}{} at {:.3f} MHz over {}\n", row.id, row.shape.empty() ? "" : " as " + row.shape,
                       row.mhz, row.ground);
    if (!row.possible) {
      out += "  cannot be put up: " + row.why_not + "\n";
      continue;
    }
    const auto& p = row.pattern;
    out += fmt::format("  feed {:.0f} {} j{:.0f} ohm, SWR at the rig {:.1f}\n", p.feed_ohm.real(),
                       p.feed_ohm.imag() < -0.5 ? "-" : "+", std::abs(p.feed_ohm.imag()), p.swr);
    out +=
        fmt::format("  of 10 W from the rig, {:.1f} W reach the sky ({:.1f} dB)\n",
                    10 * std::pow(10.0, p.system_efficiency_db / 10), plus_zero(p.system_efficiency_db, 1));
    for (const auto& loss : p.losses)
      out += fmt::format("    lost in {:<12} {:5.2f} dB\n", loss.name, plus_zero(loss.db, 2));
    out += "  elevation      5     10     15     20     30     45     60     90 deg\n";
    const auto line = [&](const char* name, auto&& value) {
      out += fmt::format("  {:<9}", name);
      for (const int e : {5, 10, 15, 20, 30, 45, 60, 90})
        out += fmt::format(" {:6.1f}", plus_zero(value(e), 1));
      out += " dBi\n";
    };
    line("best side", [&](int e) { return p.best_dbi(e); });
    line("mean", [&](int e) { return p.mean_dbi(e); });
    if (row.workings) out += workings_text(row);
    for (const auto& note : row.notes) out += "  note: " + note + "\n";
    for (const auto& note : p.notes) out += "  note: " + note + "\n";
  }
  return fitted(style.ascii ? to_ascii(out) : out, static_cast<std::size_t>(style.columns));
}

}  // namespace skerry::report
