#include "skerry/words/cautions.hpp"

#include <fmt/format.h>

#include <cstdlib>

#include "skerry/ionosphere/measured.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::words {

std::string warning_text(const circuit::Warning& w) {
  using Cause = circuit::Warning::Cause;
  switch (w.cause) {
    case Cause::aurora:
      return fmt::format(
          "Kp {:g}: the path crosses the auroral zone (reaches {:.0f} deg geomagnetic latitude, aurora down "
          "to {:.0f}): unreliable; try lower latitudes, higher bands by day, or wait a day or two",
          w.kp, w.highest_deg, w.edge_deg);
    case Cause::low_muf:
      return fmt::format(
          "Kp {:g}: MUFs at middle latitudes may fall by a fifth or more for a day or two: plan one band "
          "lower",
          w.kp);
    case Cause::protons:
      return fmt::format(
          "solar protons: the path crosses the polar cap (reaches {:.0f} deg geomagnetic latitude): "
          "unreliable for hours to days, day side worst; use paths that stay below 60 deg",
          w.highest_deg);
    case Cause::flare:
      break;
  }
  return "flare: sunlit hours fade from the low bands upwards for minutes to two hours; wait, go up in "
         "frequency, or work the night side";
}

std::string caution_text(const circuit::Caution& c) {
  using Kind = circuit::Caution::Kind;
  switch (c.kind) {
    case Kind::near:
      return fmt::format(
          "{:.0f} km is under the sky-wave method's {:g} km: trust the ground wave more than the sky wave",
          c.value, circuit::sky_wave_from_km);
    case Kind::antipode:
      return fmt::format(
          "the far end lies {:.0f} km from the antipode: bearings swing and signals may come from any side",
          c.value);
    case Kind::low_frequency:
      return "below 2 MHz the method is outside its range: treat as a rough guide";
    case Kind::high_latitude:
      break;
  }
  return fmt::format(
      "the path reaches {:.0f} degrees of geomagnetic latitude: on days of geomagnetic storm or solar protons "
      "it can fail altogether",
      c.value);
}

std::string measured_note(const ionosphere::Climate& climate) {
  std::string out;
  const auto ratios = ionosphere::measured_ratios(climate);
  for (std::size_t i = 0; i < ratios.size(); ++i) {
    const auto& m = climate.measured[i];
    out += fmt::format("{}foF2 {:.2f} MHz measured at {}, {} UTC, {:.2f} times the map there",
                       i == 0 ? "" : "; ", m.mhz, geodesy::to_text(m.at, 1), clock_of(m.utc_hour), ratios[i]);
  }
  if (!out.empty())
    out += fmt::format(
        ": maps scaled around it; half of the correction is left {:g} km or {:g} h away, so this "
        "answer is for that day only",
        ionosphere::measured_half_km, ionosphere::measured_half_h);
  return out;
}

std::string activity_source(const ionosphere::ActivitySource& s) {
  using Kind = ionosphere::ActivitySource::Kind;
  switch (s.kind) {
    case Kind::told:
      break;
    case Kind::observed:
      return fmt::format("observed, smoothed over 13 months (file of {})", s.made);
    case Kind::forecast:
      return "built-in forecast of " + s.made;
    case Kind::file:
      return "forecast from " + (s.made.empty() ? "the file given" : s.made);
    case Kind::mean_of_cycles:
      return fmt::format(
          "mean of five solar cycles, because no forecast reaches {}; the true value may lie anywhere in its "
          "range",
          to_iso(s.month));
  }
  switch (s.index) {
    case ionosphere::Index::r12:
      return fmt::format("R12 {:g} as given in the trip file", s.value);
    case ionosphere::Index::ssn_v2:
      return fmt::format("smoothed sunspot number {:g} (version 2) as given in the trip file", s.value);
    case ionosphere::Index::f107:
      break;
  }
  return fmt::format("smoothed 10.7 cm flux {:g} as given in the trip file", s.value);
}

std::string learned_note(const kit::Learned& l) {
  if (!l.in_use()) return {};
  const int classes = std::abs(l.far_noise);
  const std::string noise = classes == 0
                                ? "far ends' noise as told"
                                : fmt::format("far ends {} class{} {}", classes, classes == 1 ? "" : "es",
                                              l.far_noise > 0 ? "noisier" : "quieter");
  return fmt::format("learned from {} contacts and in use ({}): own radiated power {:+.1f} dB, {}{}",
                     l.contacts, l.file, l.erp_db, noise, l.people ? ", hours of partners by that log" : "");
}

std::string activity_note(const ionosphere::Activity& a) {
  // Judgement: within a year the smoothed number moves little beside its error.
  if (a.months_ahead > 12) {
    return fmt::format(
        "R12 {:.0f} comes from the {}, {} months beyond what was observed then; about two times in three it lies "
        "between {:.0f} and {:.0f}; --forecast reads a newer one",
        a.r12, activity_source(a.source), a.months_ahead, a.low_r12, a.high_r12);
  }
  if (a.source.kind == ionosphere::ActivitySource::Kind::mean_of_cycles)
    return fmt::format("R12 {:.0f} is the {}: {:.0f} to {:.0f}", a.r12, activity_source(a.source), a.low_r12,
                       a.high_r12);
  return {};
}

std::vector<std::string> caution_texts(const circuit::PathAnswer& a) {
  std::vector<std::string> out;
  const auto add = [&](std::string text) {
    if (!text.empty()) out.push_back(std::move(text));
  };
  add(measured_note(a.question.climate));
  for (const auto& caution : a.cautions) add(caution_text(caution));
  add(a.asker_note);
  return out;
}

}  // namespace skerry::words
