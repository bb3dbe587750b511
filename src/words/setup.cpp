#include "skerry/words/setup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"
#include "skerry/words/air.hpp"

namespace skerry::words {

namespace {

using antenna::NoteKind;
using antenna::Shape;

std::string antenna_label(const kit::Trip& trip, Id<kit::Antenna> antenna, Shape shape) {
  const auto& a = trip.at(antenna);
  return a.item.name + (a.wires ? "" : " " + shape_text(shape));
}

/// " on the 6 m pole and the tree"
std::string on_supports(const kit::Trip& trip, std::optional<Id<kit::Support>> support,
                        std::optional<Id<kit::Support>> far_support) {
  std::string out;
  if (support) out += " on the " + trip.at(*support).item.name;
  if (far_support) out += " and the " + trip.at(*far_support).item.name;
  return out;
}

std::string at_site(const kit::Trip& trip, Id<kit::Site> site) {
  return trip.sites.size() > 1 ? " at " + trip.at(site).name : std::string();
}

std::string band_ids(const kit::Trip& trip, const std::vector<int>& bands) {
  std::string out;
  for (const int b : bands) out += (out.empty() ? "" : ", ") + nth(trip.bands, b).id;
  return out;
}

/// One thing said of some bands.
struct Said {
  NoteKind kind{};
  std::string text;
  std::vector<int> bands;
};

std::vector<Said> gathered(const std::vector<kit::BandNote>& notes) {
  std::vector<Said> out;
  for (const auto& n : notes) {
    auto text = note_text(n.note);
    auto known = std::find_if(out.begin(), out.end(), [&](const Said& s) { return s.text == text; });
    if (known == out.end()) known = out.insert(known, {n.note.kind, std::move(text), {}});
    known->bands.push_back(n.band);
  }
  return out;
}

/// The commonest reasons first, at most three.
std::string commonest(const std::vector<antenna::Note>& reasons) {
  std::vector<std::pair<std::string, int>> counted;
  for (const auto& reason : reasons) {
    auto text = note_text(reason);
    const auto known =
        std::find_if(counted.begin(), counted.end(), [&](const auto& c) { return c.first == text; });
    if (known == counted.end()) {
      counted.emplace_back(std::move(text), 1);
    } else {
      ++known->second;
    }
  }
  std::stable_sort(counted.begin(), counted.end(),
                   [](const auto& x, const auto& y) { return x.second > y.second; });
  std::string out;
  const std::size_t shown = std::min<std::size_t>(3, counted.size());
  for (std::size_t i = 0; i < shown; ++i) out += (i == 0 ? "" : "; ") + counted[i].first;
  if (counted.size() > shown) out += fmt::format("; and {} more like these", counted.size() - shown);
  return out;
}

CannotBe cannot(const kit::Trip& trip, const kit::Impossible& i) {
  CannotBe out;
  const auto rig = i.rig ? trip.at(*i.rig).item.name : "";
  if (i.antenna) {
    out.what = trip.at(*i.antenna).item.name + on_supports(trip, i.support, i.far_support);
    if (i.rig) out.what += " with the " + rig;
  } else {
    out.what = rig;
  }
  using Why = kit::Impossible::Why;
  switch (i.why) {
    case Why::no_licensed_band:
      out.why = "has none of the licensed bands";
      break;
    case Why::no_wanted_mode:
      out.why = "has none of the wanted modes";
      break;
    case Why::no_support:
      out.why = "there is no support to hang it on";
      break;
    case Why::made_for_no_band:
      out.why = "made for none of the licensed bands";
      break;
    case Why::does_not_stand:
      out.why = commonest(i.reasons);
      break;
    case Why::wires_too_high:
      out.why = fmt::format("its wires reach {:.1f} m, the support {:.1f} m", i.a, i.b);
      break;
    case Why::no_common_band:
      out.why = "no band in common";
      break;
    case Why::no_cable:
      out.why = "no cable to its feed point";
      break;
    case Why::short_counterpoise:
      out.why = fmt::format("{:.1f} m of cable are its counterpoise: no cable is that long", i.a);
      break;
    case Why::short_cable:
      out.why = fmt::format("its feed point is {:.1f} m up: no cable is {:.1f} m long", i.a, i.b);
      break;
    case Why::no_tuner:
      out.why = "not resonant: needs a tuner, and there is none";
      break;
  }
  return out;
}

CannotBe cannot(const kit::Trip& trip, const kit::Setups& setups, const advice::UnfitBands& unfit) {
  CannotBe out{antenna_label(trip, unfit.antenna, unfit.shape), {}};
  for (const auto& band : unfit.bands) {
    const auto& setup = nth(setups.possible, band.told.setup);
    const auto where = on_supports(trip, setup.support, setup.far_support) + at_site(trip, setup.site);
    out.why += fmt::format("{}{}: {} ({}{})", out.why.empty() ? "" : "; ", nth(trip.bands, band.told.band).id,
                           unfit_text(band.told.why), where.empty() ? "by itself" : where.substr(1),
                           band.other_ways == 0   ? ""
                           : band.other_ways == 1 ? ", and in one other way"
                                                  : fmt::format(", and in {} other ways", band.other_ways));
  }
  return out;
}

}  // namespace

std::string shape_text(Shape shape) {
  switch (shape) {
    case Shape::vertical:
      return "upright";
    case Shape::inverted_v:
      return "as inverted V";
    case Shape::sloper:
      return "as sloper";
    case Shape::inverted_l:
      return "as inverted L";
    case Shape::horizontal:
      break;
  }
  return "level";
}

std::string setup_label(const kit::Trip& trip, const kit::Setup& s) {
  std::string out = antenna_label(trip, s.antenna, s.shape) + on_supports(trip, s.support, s.far_support) +
                    " with the " + trip.at(s.rig).item.name;
  if (s.power_w && kit::outputs_w(trip, trip.at(s.rig)).size() > 1)
    out += fmt::format(" at {:.3g} W", *s.power_w);
  if (s.cable) out += " through " + trip.at(*s.cable).item.name;
  if (s.tuned) out += s.tuner ? " and the " + trip.at(*s.tuner).item.name : " and its own tuner";
  return out + at_site(trip, s.site);
}

std::string setup_label(const kit::Trip& trip, const advice::Advice& advice, int setup) {
  return setup_label(trip, nth(advice.setups.possible, setup));
}

std::function<std::string(const kit::Setup&)> setup_namer(const kit::Trip& trip) {
  return [&trip](const kit::Setup& setup) { return setup_label(trip, setup); };
}

std::vector<std::string> setup_notes(const kit::Trip& trip, const kit::Setup& setup, bool tuner_last) {
  std::vector<std::string> out;
  if (trip.at(setup.antenna).wires) out.emplace_back("wires as drawn in the trip file");
  for (const auto& said : gathered(setup.stance.hanging)) {
    const bool all = static_cast<int>(said.bands.size()) == setup.stance.bands;
    const auto bands = band_ids(trip, said.bands);
    // By its length it would want a tuner there; whether it matches with one is the solver's to say.
    if (tuner_last && said.kind == NoteKind::off_resonance) continue;
    out.push_back(all ? said.text : bands + ": " + said.text);
  }
  for (const auto& said : gathered(setup.stance.refused))
    out.push_back("not on " + band_ids(trip, said.bands) + ": " + said.text);
  if (!setup.wants_tuner.empty()) out.push_back("not without a tuner: " + band_ids(trip, setup.wants_tuner));
  for (const auto support : {setup.support, setup.far_support}) {
    if (!support) continue;
    const auto& s = trip.at(*support);
    if (s.needs_guys && s.needs.empty())
      out.push_back("the " + s.item.name + " wants guys: none are listed with it");
  }
  if (tuner_last && !setup.matches_tuned.empty())
    out.push_back("needs the tuner on " + band_ids(trip, setup.matches_tuned));
  return out;
}

std::vector<CannotBe> cannot_be(const kit::Trip& trip, const kit::Setups& setups) {
  std::vector<CannotBe> out;
  std::set<std::pair<std::string, std::string>> said;
  for (const auto& i : setups.impossible) {
    auto one = cannot(trip, i);
    if (said.emplace(one.what, one.why).second) out.push_back(std::move(one));
  }
  return out;
}

std::vector<CannotBe> cannot_be(const kit::Trip& trip, const advice::Advice& advice) {
  auto out = cannot_be(trip, advice.setups);
  for (const auto& unfit : advice.unfit) out.push_back(cannot(trip, advice.setups, unfit));
  for (const auto& thing : advice.inventory.things) {
    if (thing.excluded) out.push_back({thing.name, why_excluded(trip, thing)});
  }
  for (const auto& power : advice.inventory.power) {
    if (!power.possible) out.push_back({nth(trip.rigs, power.rig).item.name, power_why(trip, power)});
  }
  return out;
}

}  // namespace skerry::words
