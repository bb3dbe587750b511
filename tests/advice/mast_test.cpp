// Wires along conductive masts: refused where what nobody knows of the mast decides too much.
#include "skerry/antenna/mast.hpp"

#include <algorithm>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

/// A vertical and a dipole on one mast of 10 m, on the bands whose quarter waves it holds.
kit::Trip mast_trip(bool conductive) {
  kit::Trip t = small_trip();
  t.rigs.resize(1);
  t.rigs[0].tuner = true;
  t.supports = {mast("mast", 10, 1400)};
  t.supports[0].conductive = conductive;
  t.antennas = {wire("vertical", antenna::Kind::vertical_quarter, 150, {}),
                wire("dipole", antenna::Kind::dipole, 250, {})};
  t.antennas[1].design.shapes = {antenna::Shape::inverted_v};
  t.bands.clear();
  for (const char* band : {"20m", "17m", "15m"}) t.bands.push_back(*noise::find_band(band, 1, {}));
  return t;
}

Advice quick(const kit::Trip& t) {
  AdviceOptions o;
  o.openings = o.uncertainty = o.variants = o.frontier = false;
  return advise(t, o);
}

std::size_t bands_used(const Advice& a, int antenna) {
  std::size_t most = 0;
  for (std::size_t s = 0; s < a.setups.possible.size(); ++s) {
    if (a.setups.possible[s].antenna == Id<kit::Antenna>(antenna))
      most = std::max(most, a.book.setups[s].size());
  }
  return most;
}

/// Bands of the vertical refused because of the mast.
std::size_t unsettled(const Advice& a) {
  std::size_t out = 0;
  for (const auto& line : a.unfit) {
    for (const auto& band : line.bands) {
      const auto* note = std::get_if<antenna::Note>(&band.told.why);
      if (note == nullptr || note->kind != antenna::NoteKind::mast_unsettled) continue;
      CHECK(line.antenna == Id<kit::Antenna>(0));
      CHECK((note->a > antenna::most_gain_sway_db || note->c - note->b > antenna::most_swr_sway));
      ++out;
    }
  }
  return out;
}

}  // namespace

TEST_CASE(
    "a vertical taped to a carbon mast is refused, on glass it is not; an inverted V is welcome on both",
    "[advise][known]") {
  // Common practice: never along carbon; a carbon pole may hold the middle of an inverted V.
  const Advice glass = quick(mast_trip(false));
  CHECK(bands_used(glass, 0) == 3);
  CHECK(bands_used(glass, 1) == 3);
  CHECK(unsettled(glass) == 0);
  const Advice carbon = quick(mast_trip(true));
  CHECK(bands_used(carbon, 0) == 0);
  CHECK(bands_used(carbon, 1) == 3);
  CHECK(unsettled(carbon) == 3);
  CHECK(carbon.kit.reach <= glass.kit.reach);
  // No tuner is offered for it.
  for (const auto& s : carbon.setups.possible) CHECK_FALSE((s.antenna == Id<kit::Antenna>(0) && s.tuned));
}

TEST_CASE("held a metre off a carbon mast a vertical is kept on the band whose quarter wave the mast is near",
          "[advise][property]") {
  kit::Trip t = mast_trip(true);
  t.supports[0].standoff_m = 1;
  const Advice a = quick(t);
  CHECK(bands_used(a, 0) >= 1);
  // Kept with its note.
  const auto& hanging = a.setups.possible.at(0).stance.hanging;
  CHECK(std::any_of(hanging.begin(), hanging.end(), [](const kit::BandNote& n) {
    return n.note.kind == antenna::NoteKind::mast_beside && n.note.a >= 1;
  }));
}
