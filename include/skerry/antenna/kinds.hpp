// The antennas travellers carry, by name and a few numbers, put up on the support they actually have.
// Layer: antenna. Sees core.
#pragma once

#include <complex>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/antenna/note.hpp"
#include "skerry/antenna/pattern.hpp"
#include "skerry/antenna/wire.hpp"

namespace skerry::antenna {

/// "end-fed-half-wave" or "end_fed_half_wave"; letter case ignored. Errors: all names and the nearest.
[[nodiscard]] Result<Kind> parse_kind(std::string_view name, const Where& where);
[[nodiscard]] std::string to_text(Kind kind);

/// "inverted-v", "inverted_v" or "inverted v".
[[nodiscard]] Result<Shape> parse_shape(std::string_view name, const Where& where);
[[nodiscard]] std::string to_text(Shape shape);

/// What the user owns.
struct Design {
  std::string id;
  Kind kind = Kind::dipole;
  std::vector<Shape> shapes;  ///< allowed; empty: the kind's usual ones
  std::vector<double>
      bands_mhz;  ///< centres it is meant for; empty: any. A dipole or vertical is cut (or linked) to each
  double wire_m = 0;  ///< total radiating wire; 0: cut to the band (end-fed: a half wave of the lowest band)
  double counterpoise_m = 0;  ///< end-fed: 0 = 0.05 wavelengths of the lowest band, non-resonant ones 5 m
  /// A dipole with links: cut to its lowest band, the links of the band in use open; what hangs beyond them
  /// stays in the air (and in the model). False: a wire cut for each band.
  bool linked = false;
  /// End-fed kinds: the shield of the feed cable is the counterpoise, from the feed down and along the ground
  /// as far as a choke at this length; no wire is hung for it. 0: a wire, as above.
  double cable_counterpoise_m = 0;
  double coil_at = 0;            ///< loaded vertical: where the coil sits, 0 (base) to 0.95 of its length
  double hat_m = 0;              ///< loaded vertical: two level wires of this length at the top; 0: none
  double spacing_m = 0;          ///< wire beam: between dipole and reflector; 0: 0.15 wavelengths
  int radials = 2;               ///< verticals, 1..120
  double radial_m = 0;           ///< 0: a quarter wave
  double radial_height_m = 0.5;  ///< below 0.05 m (lying on the ground) counts as 0.05
  /// Where the radials end; none: as high as they begin (a whip: on the ground).
  std::optional<double> radial_end_height_m;
  double trim = 1;  ///< factor on lengths cut to a band: see trimmed()
  double wire_radius_mm = 0.5;
  bool insulated = true;
  /// Impedance ratio at the feed (49, 9, 1); 1 on an end-fed kind: its usual one.
  double transformer_ratio = 1;
  double transformer_loss_db = 0;         ///< at 14 MHz; 0 with ratio > 1: the default of data/lines/
  double coil_q = 200;                    ///< loaded vertical, whip, and drawn loads that say none
  std::optional<double> ground_loss_ohm;  ///< resistance of the return beside what the fields say
  bool needs_tuner = false;  ///< may be used off resonance with a tuner; non-resonant kinds always are
};

/// What holds it up.
struct Support {
  double usable_height_m = 6;  ///< where the wire can be fixed (80..90 % of the mast)
  bool conductive = false;
  double end_height_m = 1;  ///< the far or low wire ends, and the feed of end-fed wires
  double far_height_m = 0;  ///< a second support's height, 0 = none
  /// From a conductive one to a wire that runs along it, m; none: taped to it.
  std::optional<double> standoff_m;
};

/// A design put up: the wires, or why it cannot be.
struct Raised {
  WireAntenna antenna;
  Shape shape = Shape::inverted_v;
  double feed_height_m = 0;
  bool needs_tuner = false;  ///< off resonance here: useless without one (impedance decides: Pattern::match)
  int mast_wire = 0;         ///< the conductive mast among the wires, counting from 1; 0: none
  std::vector<Note> notes;   ///< how it stands
};
/// Every way in which this design stands on this support at this frequency; empty with reasons when none.
struct Raising {
  std::vector<Raised> ways;
  std::vector<Note> why_not;  ///< one for each allowed shape that does not stand, none twice
};

/// Layout: the mast is at x = y = 0. Every wire but radials lies in the plane y = 0, running east-west along
/// x, so that a dipole's broadside is north and south; a sloper falls towards the east (azimuth 90); an
/// end-fed inverted V is fed at its western end. To turn the antenna by A degrees clockwise, read the pattern
/// at azimuth - A.
///
///   mhz       1.5..60
///   lengths   a half wave is 142.6/f m (0.951 of lambda/2, end insulators included; ARRL handbooks, from
///             memory), 3 % less in a jacket; an end-fed half wave of given length is counted in half waves
///             of 143/f m, jacket included
///   mast      a conductive mast is a wire of its own beside the antenna's (north of it, or between the
///             radials), of 15 mm radius from 2 cm up to the support's height, touching nothing: at the
///             standoff where the antenna's wire runs along it (mast.hpp), else 5 cm away
///   limits    sag is left out; wires steeper than 60 degrees (inverted V legs: 45) end higher than asked
///             instead
[[nodiscard]] Raising raise(const Design& design, const Support& support, double mhz);

/// The antenna as its owner leaves it after trimming with a meter: what is cut to the band (quarter waves
/// with their radials, dipoles, beams, an end-fed half wave on its lowest band) made longer or shorter until
/// the feed shows no reactance over this ground.
///   as_cut    one of the ways of raise()
///   returns   as_cut itself where nothing is cut to the band; with the note `not_trimmed` where no length
///             within 8 % (of an inverted L: 15 %) does it
///   accuracy  2 ohm, or 2 % of the resistance at an end-fed wire
///   meter     finds the impedance at the feed of each trial: solve()'s when empty, or one that remembers
using Meter = std::function<Result<std::complex<double>>(const WireAntenna&, const Ground&, double mhz)>;
[[nodiscard]] Raised trimmed(const Design& design, const Support& support, const Raised& as_cut,
                             const Ground& ground, double mhz, const Meter& meter = {});

/// The same without its conductive mast.
[[nodiscard]] WireAntenna without_mast(const Raised& raised);
/// The same put up and trimmed with no mast beside it, for telling what the mast costs: a wire trimmed beside
/// a mast would be mistrimmed without it.
[[nodiscard]] WireAntenna without_mast(const Design& design, const Support& support, const Raised& raised,
                                       const Ground& ground, double mhz, const Meter& meter = {});

/// The chain of losses that goes with a raised design: transformer at this frequency, coil, return
/// resistance, line.
[[nodiscard]] Chain chain_for(const Design& design, double mhz, FeedLine line);

/// The impedance ratio the design's transformer has, the kind's usual one (49, 9, 1) if none is said.
[[nodiscard]] double transformer_ratio_of(const Design& design);

}  // namespace skerry::antenna
