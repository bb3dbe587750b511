// The commented trip file to start from.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::files {

namespace {

/// Text for a TOML string in double quotes: 1 to 200 bytes, nothing that could end it.
std::string quoted(std::string_view text) {
  std::string out;
  for (const char c : one_line(trim(text), 180)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out.empty() ? "My island" : out;
}

/// The two preset regions whose largest gatherings of people are nearest, but not next door.
std::array<std::string, 2> regions_near(GeoPoint site) {
  // Judgement: nearer than this is no mainland across the sea.
  constexpr double least_km = 700;
  std::vector<std::pair<double, std::string>> by_distance;
  for (auto& id : geodesy::preset_region_ids()) {
    const auto region = geodesy::preset_region(id, {});
    const auto largest = geodesy::sample_people(*region, 1);
    const double km = geodesy::distance_km(site, largest.front().where);
    if (km >= least_km) by_distance.emplace_back(km, std::move(id));
  }
  std::sort(by_distance.begin(), by_distance.end());
  return {by_distance[0].second, by_distance[1].second};
}

constexpr const char* head =
    R"(# A trip, as skerry reads it. Lines that begin with # are remarks; take the # away to use a line.
# Every unit stands in the name of its key: _g gram, _cm centimetre, _m metre, _w watt, _a ampere, _deg degree.
# Try it as it stands, then put in your own things:   skerry pack <this file>

[trip]
name = "{name}"
first_day = {first}
last_day = {last}
mass_limit_kg = 5.0          # <help>
want_days_in_ten = 5         # <help>
people = 1
# How active the Sun is: the built-in forecast, or one of these.
# r12 = 80                   # <help>
# ssn_v2 = 115               # <help>
# f107 = 130                 # <help>
# forecast_file = "predicted-solar-cycle.json"
# maps = "ccir"              # or "ursi"
# field_epoch = 2020         # <help>

# Where the station stands. Several [[site]] tables are allowed, each with its own id.
[[site]]
id = "site"
name = "{name}"
at = "{at}"                  # or "19.70S 63.43E", or a locator
altitude_m = 50
ground = "poor"              # sea, wet, good, average, poor, sand, rock, ... or {{eps_r = 13, sigma_s_per_m = 0.002}}
noise = "quiet"              # <help>
near_land = false            # <help>
zone = "{zone}"  # {zone_remark}
# sea_from_m = 150           # <help> ...
# sea_between_deg = [90, 200] # ... <help>
# slope_deg = 12             # <help> ...
# slope_azimuth_deg = 180    # ... or <help>
# horizon_deg = [[0, 2], [90, 12], [180, 1]]   # <help>
descent_minutes = 20         # <help>
daylight_margin_minutes = 60

# When you operate, local clock time. Without any [[session]]: all hours.
[[session]]
site = "site"
from = "05:30"
to = "08:30"

[[session]]
site = "site"
from = "16:00"
to = "19:00"
days = [{first}]             # <help>; without it: every day

# Whom you want to reach, and what they have there.
[[region]]
preset = "{near}"
weight = 3
points = 3                   # <help>
partner = {{power_w = 100, gain_dbi = 2, noise = "residential"}}

[[region]]
preset = "{next}"  # "skerry pack" with a wrong name lists the like ones
weight = 2

[[region]]
name = "a friend at home"
id = "friend"
at = "51.5,0.0"              # or file = "my-region.geojson"
weight = 1

[licence]
bands = ["40m", "30m", "20m", "17m", "15m", "12m", "10m"]
modes = ["cw", "ssb", "ft8"] # best liked first; what counts is the one that needs least signal
power_w = 100
)";

constexpr const char* inventory = R"(
# What you own. mass_g as weighed; tube_cm = [length, diameter] for long rigid things, size_cm = [l, w, h] for boxes.
[[rig]]
id = "rig-10w"
name = "10 W all-mode set"
mass_g = 950
size_cm = [20, 9, 5]
power_w = 10
receive_a = 0.35
transmit_a = 2.4             # <help>
volts = 13.8
tuner = false
# bands = ["40m", "20m"]     # without it: all
# modes = ["cw"]
# noise_figure_db = 15

[[antenna]]
id = "end-fed"
name = "20 m end-fed wire"
kind = "end-fed-half-wave"   # vertical-quarter, vertical-loaded, whip, dipole, wire-beam, small-loop,
                             # end-fed-half-wave, end-fed-random
shapes = ["inverted-v", "sloper"]
wire_m = 20.4
transformer_ratio = 49
mass_g = 210
size_cm = [12, 8, 4]
bands = ["40m", "20m", "15m", "10m"]
needs = ["cord"]
setup_minutes = 10

[[antenna]]
id = "verticals"
name = "quarter-wave vertical"
kind = "vertical-quarter"
radials = 2
radial_height_m = 0.5
mass_g = 160
size_cm = [12, 8, 3]
bands = ["20m", "17m", "15m", "12m", "10m"]
supports = ["pole-6m"]
# Or wire by wire, metres east, north, up, in place of kind:
# [[antenna.wire]]
# from_m = [0, 0, 1]
# to_m = [8, 0, 5]
# then: feed = {wire = 1, at = 0.0} in the [[antenna]] itself

[[support]]
id = "pole-6m"
name = "6 m travel pole"
mass_g = 600
tube_cm = [57, 4.0]
height_m = 6
usable_m = 5.1
conductive = false
needs_guys = true
needs = ["guys"]

# Is there a tree, rail or rock to tie to? Only if you know of one: many summits are bare.
# [[support]]
# id = "tree"
# name = "tree"
# at_site = true             # found there, not carried; or ["site"] for some sites only
# height_m = 5

[[cable]]
id = "coax-10m"
type = "rg316"
length_m = 10                # mass from the type unless mass_g is given

[[tuner]]
id = "tuner"
name = "small tuner"
mass_g = 250
size_cm = [12, 8, 4]

[[battery]]
id = "pack-6ah"
name = "12.8 V 6 Ah pack"
volts = 12.8
amp_hours = 6
chemistry = "lifepo4"        # <help>
mass_g = 800
size_cm = [15, 9, 6]
spare = true                 # <help>
usb_outlet = false           # <help>
damaged = false              # <help>

[[bag]]
id = "cabin"
name = "cabin rucksack"
inner_cm = [53, 38, 21]
lining_cm = 1                # <help>
mass_limit_kg = 8            # <help>
own_mass_g = 1100
hold = false
person = "me"

[[bag]]
id = "hold"
name = "hold bag"
inner_cm = [74, 49, 32]
mass_limit_kg = 20
own_mass_g = 2800
hold = true
person = "me"

[[item]]
id = "cord"
name = "cord and insulators"
mass_g = 90
size_cm = [10, 8, 4]

[[item]]
id = "guys"
name = "guys and pegs"
mass_g = 220
size_cm = [20, 8, 4]
sharp = true                 # hold only; so is blunt = true, for what could be swung as a club

[[item]]
id = "log"
name = "log, key, head lamp, first aid"
mass_g = 350
size_cm = [20, 15, 5]
always = true                # <help>
)";

/// What the table of fields says of a key, as a remark behind its line.
std::string remark_of(const Field& f, bool is_true) {
  std::string words = fmt::format("{}", fmt::join(f.words, ", "));
  if (!words.empty()) return words;
  const std::string_view help = f.help;
  return (f.kind == Kind::flag && !is_true ? "true: " : "") + std::string(help.substr(0, help.find(';')));
}

/// The text with every <help> replaced by what the table says of the key in front of it, under the last
/// [head].
std::string with_remarks(std::string_view text) {
  constexpr std::string_view mark = "<help>";
  std::string out, under;
  while (!text.empty()) {
    auto line = text.substr(0, text.find('\n') + 1);
    text.remove_prefix(line.size());
    auto bare = line.substr(line.starts_with("# ") ? 2 : 0);
    if (bare.starts_with('[')) {
      bare.remove_prefix(bare.find_first_not_of('['));
      under = bare.substr(0, bare.find(']'));
    }
    const auto at = line.find(mark);
    if (at != line.npos) {
      const auto& f = field(under, bare.substr(0, bare.find(' ')));
      out += line.substr(0, at);
      out += remark_of(f, line.find("= true") != line.npos);
      line.remove_prefix(at + mark.size());
    }
    out += line;
  }
  return out;
}

struct ZoneLine {
  std::string name, remark;
};

/// The zone to write, and what to say of it.
ZoneLine zone_for(GeoPoint site, Day first_day) {
  const auto near = sun::nearest_zones(site, 4);
  const auto noon = start_of(first_day) + std::chrono::hours{12};
  const auto named = sun::likely_zone(site);
  const auto legal = sun::Zone::find(named, {});
  if (named.empty() || !legal) {
    const int hours = static_cast<int>(std::lround(site.lon_deg / 15.0));
    return {
        fmt::format("{}{:02}:00", hours < 0 ? '-' : '+', std::abs(hours)),
        fmt::format("only a guess from longitude: put the legal one, as \"{}\" (the nearest, {:.0f} km away)",
                    near.front().name, near.front().distance_km)};
  }
  ZoneLine out{named, fmt::format("the nearest legal zone, of a place {:.0f} km away: check it",
                                  near.front().distance_km)};
  for (const auto& other : near) {
    const auto zone = sun::Zone::find(other.name, {});
    if (other.distance_km > sun::zone_reach_km || !zone || zone->offset_s(noon) == legal->offset_s(noon))
      continue;
    out.remark += fmt::format("; {} is {:.0f} km away and has another time", other.name, other.distance_km);
    break;
  }
  return out;
}

}  // namespace

std::string starter(std::string_view name, GeoPoint site, Day first_day) {
  using namespace std::chrono;
  const sys_days first{first_day};
  const sys_days end{year{last_year} / December / 31};
  const Day last{std::min(first + days{6}, end)};
  const auto zone = zone_for(site, first_day);
  const auto near = regions_near(site);
  return fmt::format(fmt::runtime(with_remarks(head)), fmt::arg("near", near[0]), fmt::arg("next", near[1]),
                     fmt::arg("name", quoted(name)), fmt::arg("first", to_iso(first_day)),
                     fmt::arg("last", to_iso(last)),
                     fmt::arg("at", fmt::format("{:.4f},{:.4f}", site.lat_deg, site.lon_deg)),
                     fmt::arg("zone", zone.name), fmt::arg("zone_remark", zone.remark)) +
         with_remarks(inventory);
}

}  // namespace skerry::files
