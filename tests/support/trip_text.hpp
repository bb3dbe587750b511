// A small valid trip to change and read.
#pragma once

#include <string>

#include "skerry/files/trip_file.hpp"

namespace skerry::test {

inline const char* const trip_text = R"([trip]
name = "Test island"
first_day = 2027-02-13
last_day = 2027-02-17
mass_limit_kg = 4.2
want_days_in_ten = 5
r12 = 80

[[site]]
id = "summit"
at = "-19.70,63.43"
altitude_m = 398
ground = "rock"
noise = "quiet"
zone = "Indian/Mauritius"
sea_from_m = 200
sea_between_deg = [90, 200]
horizon_deg = [[0, 2], [180, 6]]

[[session]]
site = "summit"
from = "06:00"
to = "09:00"
days = [2027-02-14]

[[region]]
preset = "western-europe"
weight = 3
points = 4
partner = {power_w = 100, gain_dbi = 2, noise = "residential"}

[licence]
bands = ["20m", "40m"]
modes = ["cw", "ssb"]
power_w = 100

[[rig]]
id = "rig"
name = "10 W set"
mass_g = 900
size_cm = [20, 9, 5]
power_w = 10
receive_a = 0.3
transmit_a = 2.2
tuner = false

[[antenna]]
id = "wire"
name = "end-fed wire"
mass_g = 200
kind = "end-fed-half-wave"
shapes = ["inverted-v"]
wire_m = 20.4
bands = ["40m", "20m"]
supports = ["pole"]
needs = ["cord"]

[[support]]
id = "pole"
name = "6 m pole"
mass_g = 600
tube_cm = [57, 4]
height_m = 6
usable_m = 5.1
needs = ["guys"]

[[cable]]
id = "coax"
type = "rg316"
length_m = 10

[[battery]]
id = "pack"
mass_g = 420
volts = 12.8
amp_hours = 3
chemistry = "lifepo4"

[[bag]]
id = "cabin"
inner_cm = [53, 38, 21]
mass_limit_kg = 8
own_mass_g = 1100

[[item]]
id = "cord"
mass_g = 80

[[item]]
id = "guys"
mass_g = 200
sharp = true
)";

/// No other file can be found.
inline Result<std::string> no_files(const std::string& name, const Where& where) {
  return fail(where, "'" + name + "': no such file", "a file that can be read");
}

/// The text with `from` (which must be there) replaced.
inline std::string changed(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  if (at == std::string::npos) return "this text is not in the trip: " + from;
  return text.replace(at, from.size(), to);
}

/// The same with another [[site]]: what stands under that head.
inline std::string trip_with_site(const std::string& lines) {
  std::string text = trip_text;
  const std::string head = "[[site]]\n";
  const auto at = text.find(head) + head.size();
  return text.replace(at, text.find("\n[[session]]", at) - at, lines);
}

}  // namespace skerry::test
