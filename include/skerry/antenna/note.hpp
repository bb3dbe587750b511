// What there is to say of an antenna put up, or of why it does not stand: a kind with its numbers, no
// sentence. Layer: antenna. Sees nothing.
#pragma once

#include <cstdint>

namespace skerry::antenna {

enum class Kind {
  vertical_quarter,   ///< quarter-wave vertical with raised radials, cut per band
  vertical_loaded,    ///< short vertical with a coil at its base, middle or top, hat or none
  dipole,             ///< half wave, horizontal or inverted V, cut per band, or linked
  end_fed_half_wave,  ///< wire of a half wave on its lowest band, used on harmonics, with a high-ratio
                      ///< transformer
  end_fed_random,     ///< non-resonant end-fed wire with transformer and tuner
  wire_beam,          ///< dipole and reflector, two wires side by side
  small_loop,         ///< transmitting loop tuned by a capacitor, coupling loop adjusted to 50 ohm
  whip,               ///< telescopic whip on a tripod, drawn out to a quarter wave or else base-loaded
};

enum class Shape { vertical, inverted_v, sloper, inverted_l, horizontal };

/// In brackets what Note's a, b and c are.
enum class NoteKind : std::uint8_t {
  // How it stands.
  top_bent_over,      ///< (m bent over at the top)
  up_then_across,     ///< inverted L to the far support (m up, m across)
  up_then_down,       ///< inverted L without one (m up, m sloping down)
  shield_returns,     ///< the cable's shield is the counterpoise (m of cable)
  links_open,         ///< (m of wire beyond each)
  reflector_behind,   ///< (m behind)
  retuned_loop,       ///< after every change of frequency
  hat,                ///< two wires at the top (m each)
  drawn_out,          ///< of a whip (m)
  radials_on_ground,  ///< computed a little above it
  mast_beside,        ///< a conductive mast is part of the antenna (m beside the wire)
  off_resonance,      ///< needs a tuner (half waves)
  trimmed,            ///< (share longer than the rule; negative: shorter)
  not_trimmed,  ///< hangs as the rule cuts it: no length near it was found resonant (share tried either way)
  // How it was solved.
  power_not_closed,    ///< more leaves than comes in (W too much of 1 W)
  short_piece,         ///< a piece shorter than four radii (wire, from 1)
  feed_moved_in,       ///< from an open end (wire, from 1; m)
  load_moved_in,       ///< the same of a load
  no_coil_tunes,       ///< none there takes the reactance from the feed: left out
  no_capacitor_tunes,  ///< the same
  coil_set,            ///< (uH)
  capacitor_set,       ///< (pF)
  // What the rig says.
  needs_tuner,       ///< (SWR at the rig)
  beyond_tuner,      ///< cannot be matched (SWR at the tuner, the largest it takes)
  beyond_any_tuner,  ///< cannot be matched (SWR at the rig, the largest a usual tuner takes)
  mast_unsettled,  ///< along a conductive mast of which too much is unknown (dB that gain moves, SWR from, to)
  // Why it does not stand, or not on this band.
  does_not_stand,      ///< in this shape, for a reason told elsewhere
  not_made_for,        ///< (MHz)
  wrong_shape,         ///< this antenna does not hang so
  no_radial,           ///< this antenna needs one
  no_length,           ///< this antenna needs its length told
  not_a_quarter_wave,  ///< (m, MHz, quarter waves)
  not_resonant,        ///< (MHz, half waves)
  wire_too_short,      ///< (m, MHz, half waves)
  whip_too_long,       ///< for a coil (m, MHz, wavelengths)
  loop_too_large,      ///< for a capacitor (m round, MHz, wavelengths)
  loop_too_small,      ///< the same
  support_too_low,     ///< for a vertical (m long, m its foot is up, m usable)
  v_too_flat,          ///< (m its middle is up, m its ends)
  sloper_too_flat,     ///< (m its high end is up, m its low end)
  l_too_low,           ///< (m above its feed, m the feed is up)
  l_not_end_fed,
  l_too_short,     ///< no longer than the support: it hangs as a vertical
  no_far_support,  ///< for a horizontal wire
  too_steep,       ///< (m between the supports' heights, m of wire)
};

struct Note {
  NoteKind kind = NoteKind::does_not_stand;
  double a = 0, b = 0, c = 0;
  Kind antenna = Kind::dipole;      ///< of wrong_shape, no_radial and no_length
  Shape shape = Shape::inverted_v;  ///< of wrong_shape

  friend bool operator==(const Note&, const Note&) = default;
};

}  // namespace skerry::antenna
