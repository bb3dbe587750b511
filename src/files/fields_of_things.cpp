// The keys of what one owns.
#include "rows.hpp"

namespace skerry::files {

namespace {

constexpr Range minutes{0, 240, "minutes"};
constexpr Range power_of_rig{0.1, 1500, "W"};
constexpr Range radius{0.02, 50, "mm"};
constexpr Range conductivity{1e3, 7e7, "S/m"};
constexpr Range level{-500, 500, "m"};
constexpr Range height{0, 100, "m above ground"};
constexpr Range share{0, 1, "(share of the wire's length)"};
constexpr Range side{0.1, 300, "cm"};

Field bands() {
  return list("bands", Kind::words, "[\"40m\", \"20m\"]", "bands, as \"40m\" or \"7MHz\"");
}
Field needs(const char* example) {
  return list("needs", Kind::ids, example, "things that must come along");
}
Field setup_minutes() {
  return number("setup_minutes", minutes, "minutes to put it up");
}
Field point(const char* key, const char* example) {
  return needed(with_last(height, numbers(key, 3, level, example, "east, north, up, metres")));
}
Field wire_number() {
  return whole("wire", 1, 200, "(wires count from 1)", "number of the wire, from 1");
}

Rows<kit::Item> of_item() {
  // What a traveller's thing can be: wide enough for anything carried by hand, narrow enough to catch a wrong
  // unit. Judgement.
  return {
      {needed(of_kind(Kind::id, "id", "the name by which other tables and answers call it"))},
      {text("name", "6 m travel pole", "what it is called on the page")},
      {number("mass_g", {0.1, 60000, "g"}, "mass as weighed"), &kit::Item::mass_g},
      {whole("count", 1, kit::most_alike, "things",
             "so many of them, all alike; the others are called id-2, id-3 ..."),
       &kit::Item::count},
      {numbers("size_cm", 3, side, "[20, 15, 5] (length, width, height)",
               "length, width and height of a box")},
      {with_last({0.1, 60, "cm of diameter"},
                 numbers("tube_cm", 2, {1, 400, "cm of length"}, "[67, 4.7] (length, diameter)",
                         "length and diameter of a long rigid thing, cm"))},
      {flag("always", "goes whatever happens"), &kit::Item::always},
      {flag("sharp", "hold baggage only"), &kit::Item::sharp},
      {flag("blunt", "could be swung as a club: hold baggage only"), &kit::Item::blunt},
      {flag("fuel", "never flies"), &kit::Item::fuel},
      {number("liquid_ml", {0, 10000, "ml"}, "liquid in it"), &kit::Item::liquid_ml},
  };
}

Rows<kit::Rig> of_rig() {
  return {
      {needed(number("power_w", power_of_rig, "output")), &kit::Rig::power_w},
      {needed(number("receive_a", {0.005, 10, "A"}, "current on receive")), &kit::Rig::receive_a},
      {needed(number("transmit_a", {0.05, 60, "A, key down"}, "current key down")), &kit::Rig::transmit_a},
      {number("volts", {3, 60, "V"}, "supply at which power and currents hold"), &kit::Rig::volts},
      {number("min_volts", {2, 60, "V (nominal)"}, "least that a pack may have; without it 80 % of volts"),
       &kit::Rig::min_volts},
      {number("max_volts", {3, 70, "V (nominal)"}, "most that a pack may have; without it 110 % of volts"),
       &kit::Rig::max_volts},
      {number("low_power_w", {0.01, 1500, "W"},
              "output at min_volts; without it power_w, or by the square of the voltage where linear"),
       &kit::Rig::low_power_w},
      {word("supply", {"switching", "linear"}, "draws the same power at any voltage, or the same current",
            "switching")},
      {flag("tuner", "has one inside"), &kit::Rig::tuner},
      {bands()},
      {list("modes", Kind::words, "[\"cw\", \"ssb\"]",
            "modes, as \"cw\", \"ssb\", \"ft8\"; best liked first")},
      {number("noise_figure_db", {0, 60, "dB"}, "of its receiver"), &kit::Rig::noise_figure_db},
  };
}

Rows<antenna::Design> of_design() {
  using antenna::Design;
  return {
      {needed_unless("wire", word("kind",
                                  {"dipole", "end-fed-half-wave", "end-fed-random", "vertical-quarter",
                                   "vertical-loaded", "whip", "wire-beam", "small-loop"},
                                  "what it is built as; without it list its wires", "end-fed-half-wave"))},
      {list("shapes", Kind::words, "[\"inverted-v\", \"sloper\"]", "ways to hang it",
            {"vertical", "inverted-v", "sloper", "inverted-l", "horizontal"})},
      {number("wire_m", {0.2, 300, "m"}, "length of its wire; without it cut to the band"), &Design::wire_m},
      {flag("linked", "a dipole with links"), &Design::linked},
      {number("coil_at", {0, 0.95, "(share of the whip's length, 0 its base)"},
              "where the coil of a loaded vertical sits: 0 at its foot to 0.95"),
       &Design::coil_at},
      {number("hat_m", {0.05, 10, "m"}, "length of each of two level wires at the top"), &Design::hat_m},
      {number("spacing_m", {0.2, 20, "m"}, "wire beam: between dipole and reflector"), &Design::spacing_m},
      {number("counterpoise_m", {0.1, 100, "m"}, "length of the counterpoise of an end-fed wire"),
       &Design::counterpoise_m},
      {number("cable_counterpoise_m", {0.2, 100, "m"},
              "cable whose shield is the counterpoise, up to the choke"),
       &Design::cable_counterpoise_m},
      {whole("radials", 1, 120, "wires", "how many"), &Design::radials},
      {number("radial_m", {0.2, 60, "m"}, "length of each"), &Design::radial_m},
      {number("radial_height_m", {0, 10, "m"}, "height of their inner ends"), &Design::radial_height_m},
      {number("radial_end_height_m", {0, 10, "m"}, "height of their outer ends"),
       &Design::radial_end_height_m},
      {number("wire_radius_mm", radius, "radius of the metal"), &Design::wire_radius_mm},
      {number("wire_mm2", {0.02, 100, "mm2"}, "cross-section of the metal; in place of wire_radius_mm")},
      {flag("insulated", "its wire has a jacket"), &Design::insulated},
      {number("transformer_ratio", {1, 100, "(impedance ratio)"}, "impedance ratio, 49 for 1:49")},
      {number("transformer_loss_db", {0, 6, "dB at 14 MHz"}, "its loss"), &Design::transformer_loss_db},
      {number("coil_q", {10, 2000, "(quality of the coil)"}, "quality of its coils"), &Design::coil_q},
      {number("ground_loss_ohm", {0, 500, "ohm"}, "in series with the feed"), &Design::ground_loss_ohm},
      {flag("needs_tuner", "only with a tuner"), &Design::needs_tuner},
  };
}

Rows<kit::Antenna> of_antenna() {
  return {
      {number("conductivity_s_per_m", conductivity, "of its metal")},
      {tables("wire", "antenna.wire", 200, "wire by wire, in place of kind")},
      {tables("load", "antenna.load", 100, "coils, traps and resistors on those wires")},
      {table("feed", "antenna.feed", "{wire = 1, at = 0.5}", "where the feed line joins")},
      {bands()},
      {list("supports", Kind::ids, "[\"pole-6m\"]", "supports it may hang on; without it any")},
      {needs("[\"cord\"]")},
      {flag("self_standing", "needs no support"), &kit::Antenna::self_standing},
      {setup_minutes(), &kit::Antenna::setup_minutes},
  };
}

Rows<antenna::Wire> of_wire() {
  return {
      {point("from_m", "[0, 0, 1.5] (east, north, up)")},
      {point("to_m", "[10, 0, 6] (east, north, up)")},
      {number("radius_mm", radius, "radius of the metal"), &antenna::Wire::radius_mm},
      {number("conductivity_s_per_m", conductivity, "of its metal; copper 5.8e7"),
       &antenna::Wire::conductivity_s_per_m},
      {flag("insulated", "has a plastic jacket"), &antenna::Wire::insulated},
  };
}

Rows<antenna::Load> of_load() {
  using antenna::Load;
  return {
      {needed(wire_number())},
      {needed(number("at", share, "where along it, 0 to 1")), &Load::at},
      {number("resistance_ohm", {0, 1e6, "ohm"}, "resistance"), &Load::resistance_ohm},
      {number("inductance_uh", {0, 1e4, "uH"}, "inductance"), &Load::inductance_uh},
      {number("capacitance_pf", {0, 1e7, "pF"}, "capacitance"), &Load::capacitance_pf},
      {number("coil_q", {0, 5000, "(quality of the coil)"}, "quality of the coil; 0 without loss"),
       &Load::coil_q},
      {flag("parallel", "coil and capacitor side by side: a trap"), &Load::parallel},
  };
}

Rows<kit::Support> of_support() {
  using kit::Support;
  return {
      {of_kind(Kind::flag_or_ids, "at_site", "found there: true, or at these sites only",
               "true, or [\"summit\"]")},
      {needed(number("height_m", {0.3, 40, "m"}, "its height")), &Support::height_m},
      {number("usable_m", {0.2, 40, "m"}, "where a wire can be fixed"), &Support::usable_m},
      {flag("conductive", "metal or carbon"), &Support::conductive},
      {number("standoff_m", {0.01, 5, "m"},
              "how far from a conductive one a wire along it is held; none: taped to it"),
       &Support::standoff_m},
      {needs("[\"guys\", \"pegs\"]")},
      {flag("needs_guys", "does not stand alone"), &Support::needs_guys},
      {setup_minutes(), &Support::setup_minutes},
  };
}

Rows<kit::Cable> of_cable() {
  return {
      {needed(text("type", "rg316", "rg316, rg58 ..."))},
      {needed(number("length_m", {0.2, 200, "m"}, "length")), &kit::Cable::length_m},
  };
}

Rows<kit::Tuner> of_tuner() {
  return {
      {number("max_swr", {1.5, 100, "(standing-wave ratio)"}, "largest SWR it matches"),
       &kit::Tuner::max_swr},
      {number("loss_db", {0, 6, "dB"}, "its loss"), &kit::Tuner::loss_db},
  };
}

Rows<kit::Battery> of_battery() {
  using kit::Battery;
  return {
      {needed(number("volts", {1, 60, "V (nominal, as printed on the pack)"}, "nominal")), &Battery::volts},
      {needed(number("amp_hours", {0.05, 400, "Ah"}, "capacity")), &Battery::amp_hours},
      {needed(word("chemistry", {"lifepo4", "li-ion", "lead-acid", "nimh"}, "its chemistry"))},
      {number("usable", {0.1, 1, "(share of the rated capacity)"}, "share that may be used")},
      {flag("spare", "not inside a device"), &Battery::spare},
      {flag("usb_outlet", "likely to be called a power bank"), &Battery::usb_outlet},
      {flag("damaged", "swollen, dented or recalled, never flies"), &Battery::damaged},
  };
}

Rows<kit::Bag> of_bag() {
  using kit::Bag;
  constexpr Range inside{3, 300, "cm"};
  return {
      {needed(of_kind(Kind::id, "id", "the name by which other tables and answers call it"))},
      {text("name", "cabin rucksack", "what it is called on the page")},
      {needed(numbers("inner_cm", 3, inside, "[53, 38, 21] (inside)", "inside"))},
      {needed(number("mass_limit_kg", {0.1, 100, "kg"}, "of the bag and what is in it")), &Bag::mass_limit_g,
       1000},
      {number("own_mass_g", {0, 20000, "g"}, "empty"), &Bag::own_mass_g},
      {number("lining_cm", {0, 10, "cm"}, "each side is that much shorter: wheels, seams, round corners"),
       &Bag::lining_cm},
      {flag("hold", "checked baggage"), &Bag::hold},
      {text("person", "A", "whose it is")},
  };
}

}  // namespace

ThingRows thing_rows() {
  return {of_item(),    of_rig(),   of_design(), of_antenna(), of_wire(), of_load(),
          of_support(), of_cable(), of_tuner(),  of_battery(), of_bag()};
}

std::vector<Field> thing_tables() {
  constexpr int most = 200;
  return {
      tables("rig", "rig", most, "a transceiver"),
      tables("antenna", "antenna", most, "what radiates"),
      tables("support", "support", most, "what holds it up"),
      tables("cable", "cable", most, "what feeds it"),
      tables("tuner", "tuner", most, "what matches it"),
      tables("battery", "battery", most, "what feeds the rig"),
      // Sets of bags are words of 64 bits where they are shared out.
      tables("bag", "bag", 64, "what it is packed into"),
      tables("item", "item", most, "anything else that comes along"),
  };
}

std::vector<Field> item_fields() {
  return {number("solar_watts", {0.5, 400, "W"}, "of a panel: its power in full sun")};
}

std::vector<Field> feed_fields() {
  return {wire_number(), number("at", share, "where along it, 0 to 1")};
}

}  // namespace skerry::files
