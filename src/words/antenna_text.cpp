#include <fmt/format.h>

#include <cmath>
#include <complex>

#include "skerry/core/decimal.hpp"
#include "skerry/words/antenna.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::words {

namespace {

std::string impedance(std::complex<double> z) {
  return fmt::format("{:.4g} {} j{:.4g} ohm", z.real(), z.imag() < 0 ? "-" : "+", std::abs(z.imag()));
}

std::string workings_text(const AntennaRow& row) {
  const auto& w = *row.workings;
  const auto& b = w.balance;
  std::string out =
      !std::isnan(b.defect_w)
          ? "  energy balance of 1 W into the antenna (ground found by itself, from the fields below)\n"
          : "  energy balance of 1 W into the antenna (ground: what is left; wires as low and wide as these "
            "take minutes to check)\n";
  out += fmt::format("    radiated {:.4f} + wire {:.4f} + coils and parts {:.4f} + ground {:.4f} = {:.4f} W",
                     b.radiated_w, b.wire_w, b.parts_w, b.ground_w,
                     1 - (std::isnan(b.defect_w) ? 0 : b.defect_w));
  if (!std::isnan(b.defect_w)) out += fmt::format(", {:+.2f} % off", plus_zero(-100 * b.defect_w, 2));
  out += "\n";
  out += "  feed chain, antenna to rig\n";
  for (const auto& s : row.pattern.steps)
    out += fmt::format("    {:<30} {:<28} {:5.2f} dB\n", step_name(s), impedance(s.ohm),
                       plus_zero(s.loss_db, 2));
  out += fmt::format("  current, A for 1 W ({} unknowns)\n", w.unknowns);
  for (const auto& c : w.currents) {
    out += fmt::format(
        "    wire {:<3} {:6.2f} m: {:.4f} at its start, {:.4f} at its end, most {:.4f} at {:.2f} m\n", c.wire,
        c.length_m, c.from_a, c.to_a, c.largest_a, c.largest_at_m);
  }
  return out;
}

}  // namespace

std::vector<std::string> row_notes(const AntennaRow& row) {
  std::vector<std::string> out;
  for (const auto& note : row.notes) out.push_back(note_text(note));
  if (row.mast_cost_db) {
    out.push_back(fmt::format("the conductive mast {} {:.1f} dB at 20 degrees",
                              *row.mast_cost_db < 0 ? "adds" : "costs", std::abs(*row.mast_cost_db)));
  }
  if (row.mast_left_out)
    out.emplace_back("wires as drawn: a conductive mast counts when it is drawn as one of them");
  if (row.foreground) {
    const auto& f = *row.foreground;
    std::string far =
        f.all_round ? "gain over another foreground on every side:"
                    : fmt::format("gain over another foreground towards {:.0f} degrees:", f.azimuth_deg);
    if (f.from_m > 0 || f.beyond.name != row.ground)
      far += fmt::format(" {} from {:.0f} m", f.beyond.name, f.from_m);
    if (f.slope_deg != 0) far += fmt::format(" ground falling {:.0f} degrees", f.slope_deg);
    out.push_back(far + "; no diffraction (2 dB)");
  }
  for (const auto& note : row.pattern.notes) out.push_back(note_text(note));
  return out;
}

std::string row_why_not(const AntennaRow& row) {
  return row.error.empty() ? notes_text(row.why_not) : row.error;
}

std::string antenna_text(const std::vector<AntennaRow>& rows, const Style& style) {
  std::string out;
  for (const auto& row : rows) {
    if (!out.empty()) out += "\n";
    out += fmt::format("{}{} at {:.3f} MHz over {}\n", row.id, row.shape.empty() ? "" : " as " + row.shape,
                       row.mhz, row.ground);
    if (!row.possible) {
      out += "  cannot be put up: " + row_why_not(row) + "\n";
      continue;
    }
    const auto& p = row.pattern;
    out += fmt::format("  feed {:.0f} {} j{:.0f} ohm, SWR at the rig {:.1f}\n", p.feed_ohm.real(),
                       p.feed_ohm.imag() < -0.5 ? "-" : "+", std::abs(p.feed_ohm.imag()), p.swr);
    out +=
        fmt::format("  of 10 W from the rig, {:.1f} W reach the sky ({:.1f} dB)\n",
                    10 * std::pow(10.0, p.system_efficiency_db / 10), plus_zero(p.system_efficiency_db, 1));
    for (const auto& loss : p.losses)
      out += fmt::format("    lost in {:<12} {:5.2f} dB\n", loss_name(loss.in), plus_zero(loss.db, 2));
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
    for (const auto& note : row_notes(row)) out += "  note: " + note + "\n";
  }
  return on_screen(out, style);
}

}  // namespace skerry::words
