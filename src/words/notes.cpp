// What is said of an antenna that stands, or does not.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "skerry/words/setup.hpp"

namespace skerry::words {

namespace {

using antenna::Kind;
using antenna::Note;
using antenna::NoteKind;

const char* one_of_kind(Kind kind) {
  switch (kind) {
    case Kind::vertical_quarter:
      return "a quarter-wave vertical";
    case Kind::vertical_loaded:
      return "a loaded vertical";
    case Kind::dipole:
      return "a dipole";
    case Kind::end_fed_half_wave:
      return "an end-fed half wave";
    case Kind::end_fed_random:
      return "a non-resonant wire";
    case Kind::wire_beam:
      return "a wire beam";
    case Kind::small_loop:
      return "a small loop";
    case Kind::whip:
      break;
  }
  return "a whip";
}

const char* length_wanted(Kind kind) {
  switch (kind) {
    case Kind::vertical_loaded:
      return "the length of its whip";
    case Kind::small_loop:
      return "its circumference (wire_m)";
    case Kind::whip:
      return "its length, drawn out";
    default:
      return "its length";
  }
}

}  // namespace

std::string note_text(const Note& n) {
  switch (n.kind) {
    case NoteKind::top_bent_over:
      return fmt::format("top {:.1f} m bent over", n.a);
    case NoteKind::up_then_across:
      return fmt::format("{:.1f} m up, {:.1f} m across to the far support", n.a, n.b);
    case NoteKind::up_then_down:
      return fmt::format("{:.1f} m up, {:.1f} m sloping down", n.a, n.b);
    case NoteKind::shield_returns:
      return fmt::format("the shield of {:.1f} m of cable is the counterpoise: a choke ends it there", n.a);
    case NoteKind::links_open:
      return fmt::format("links open, {:.1f} m of wire hang on beyond each", n.a);
    case NoteKind::reflector_behind:
      return fmt::format("reflector {:.2f} m behind on a spreader: fires north as drawn", n.a);
    case NoteKind::retuned_loop:
      return "loop retuned after every change of frequency";
    case NoteKind::hat:
      return fmt::format("hat of two wires of {:.1f} m at the top", n.a);
    case NoteKind::drawn_out:
      return fmt::format("drawn out to {:.2f} m", n.a);
    case NoteKind::radials_on_ground:
      return "radials on the ground, computed 5 cm above it";
    case NoteKind::mast_beside:
      return fmt::format("conductive mast, {:.0f} cm beside the wire, is part of the antenna", 100 * n.a);
    case NoteKind::off_resonance:
      return fmt::format("needs a tuner ({:.2f} half-waves)", n.a);
    case NoteKind::trimmed:
      return fmt::format("trimmed {:.1f} % {} than the rule", 100 * std::abs(n.a),
                         n.a > 0 ? "longer" : "shorter");
    case NoteKind::not_trimmed:
      return fmt::format("as the rule cuts it: no length within {:.0f} % of that was found resonant",
                         100 * n.a);
    case NoteKind::power_not_closed:
      return fmt::format("the power balance does not close: {:.1f} % too much leaves", 100 * n.a);
    case NoteKind::short_piece:
      return fmt::format(
          "a piece of wire {:.0f} is shorter than four radii: the thin-wire method is strained there", n.a);
    case NoteKind::feed_moved_in:
      return fmt::format("the feed at the open end of wire {:.0f} is moved {:.2f} m in", n.a, n.b);
    case NoteKind::load_moved_in:
      return fmt::format("the load at the open end of wire {:.0f} is moved {:.2f} m in", n.a, n.b);
    case NoteKind::no_coil_tunes:
      return "no coil there takes the reactance from the feed: left out";
    case NoteKind::no_capacitor_tunes:
      return "no capacitor there takes the reactance from the feed: left out";
    case NoteKind::coil_set:
      return fmt::format("coil set to {:.2f} uH", n.a);
    case NoteKind::capacitor_set:
      return fmt::format("capacitor set to {:.0f} pF", n.a);
    case NoteKind::needs_tuner:
      return fmt::format("needs a tuner: SWR {:.1f} at the rig", n.a);
    case NoteKind::beyond_tuner:
      return fmt::format("cannot be matched: SWR {:.3g} at the tuner, which reaches {:.3g}", n.a, n.b);
    case NoteKind::beyond_any_tuner:
      return fmt::format("cannot be matched: SWR {:.3g} at the rig, beyond a tuner's {:.3g} too", n.a, n.b);
    case NoteKind::mast_unsettled:
      return fmt::format(
          "unstable along a conductive mast: with its foot, joints and length unknown the gain moves by {:.1f} dB "
          "or more and the SWR between {:.1f} and {:.1f}; hold the wire further away, or take a mast that does not "
          "conduct",
          n.a, n.b, n.c);
    case NoteKind::does_not_stand:
      return "does not stand";
    case NoteKind::not_made_for:
      return fmt::format("not made for {:.2f} MHz", n.a);
    case NoteKind::wrong_shape:
      return fmt::format("{} does not hang as {}", one_of_kind(n.antenna), antenna::to_text(n.shape));
    case NoteKind::no_radial:
      return fmt::format(
          "{} needs {}", one_of_kind(n.antenna),
          n.antenna == Kind::vertical_quarter ? "at least one radial" : "a counterpoise or radials");
    case NoteKind::no_length:
      return fmt::format("{} needs {}", one_of_kind(n.antenna), length_wanted(n.antenna));
    case NoteKind::not_a_quarter_wave:
      return fmt::format("a {:.1f} m vertical is not a quarter wave on {:.2f} MHz ({:.2f} quarter waves)",
                         n.a, n.b, n.c);
    case NoteKind::not_resonant:
      return fmt::format("not resonant on {:.2f} MHz ({:.2f} half-waves)", n.a, n.b);
    case NoteKind::wire_too_short:
      return fmt::format("{:.1f} m of wire is too short for {:.2f} MHz ({:.2f} half-waves)", n.a, n.b, n.c);
    case NoteKind::whip_too_long:
      return fmt::format(
          "the {:.1f} m whip is longer than a quarter wave on {:.2f} MHz ({:.2f} wavelengths): a coil cannot "
          "tune it",
          n.a, n.b, n.c);
    case NoteKind::loop_too_large:
    case NoteKind::loop_too_small:
      return fmt::format(
          "a loop of {:.1f} m is {:.2f} wavelengths round on {:.2f} MHz: {} for a capacitor to tune", n.a,
          n.c, n.b, n.kind == NoteKind::loop_too_large ? "too large" : "too small");
    case NoteKind::support_too_low:
      return fmt::format("a {:.1f} m vertical from {:.1f} m up does not fit on a support usable to {:.1f} m",
                         n.a, n.b, n.c);
    case NoteKind::v_too_flat:
      return fmt::format("an inverted V needs its middle above its ends: {:.1f} m against {:.1f} m", n.a,
                         n.b);
    case NoteKind::sloper_too_flat:
      return fmt::format("a sloper needs a high end: {:.1f} m against {:.1f} m at the low end", n.a, n.b);
    case NoteKind::l_too_low:
      return fmt::format("an inverted L needs height: {:.1f} m above its feed at {:.1f} m", n.a, n.b);
    case NoteKind::l_not_end_fed:
      return "an inverted L is fed at its low end";
    case NoteKind::l_too_short:
      return "the wire is no longer than the support: it hangs as a vertical";
    case NoteKind::no_far_support:
      return "no far support for a horizontal wire";
    case NoteKind::too_steep:
      return fmt::format("the supports differ by {:.1f} m: too steep for a wire of {:.1f} m", n.a, n.b);
  }
  return {};
}

std::string notes_text(const std::vector<Note>& notes) {
  std::vector<std::string> out;
  for (const auto& note : notes) {
    auto text = note_text(note);
    if (std::find(out.begin(), out.end(), text) == out.end()) out.push_back(std::move(text));
  }
  return fmt::format("{}", fmt::join(out, "; "));
}

std::string unfit_text(const advice::Unfit& why) {
  if (const auto* note = std::get_if<Note>(&why)) return note_text(*note);
  return std::get<Error>(why).found;
}

const char* loss_name(antenna::Loss::In in) {
  using In = antenna::Loss::In;
  switch (in) {
    case In::ground:
      return "ground";
    case In::wire:
      return "wire";
    case In::coil:
      return "coil";
    case In::transformer:
      return "transformer";
    case In::cable:
      return "cable";
    case In::tuner:
      return "tuner";
    case In::mismatch:
      break;
  }
  return "mismatch";
}

std::string step_name(const antenna::ChainStep& step) {
  using At = antenna::ChainStep::At;
  switch (step.at) {
    case At::terminals:
      return "antenna terminals";
    case At::own_match:
      return "coupling loop or tap, adjusted";
    case At::transformer:
      return fmt::format("transformer 1:{:g}", step.number);
    case At::cable:
      return fmt::format("{:g} m of {}", step.number, step.cable);
    case At::tuner:
      return "tuner";
    case At::rig:
      break;
  }
  return "mismatch at the rig";
}

}  // namespace skerry::words
