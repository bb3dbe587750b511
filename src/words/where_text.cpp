#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/geodesy/point.hpp"
#include "skerry/terrain/walk.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/place.hpp"
#include "skerry/words/where.hpp"

namespace skerry::words {

namespace {

using advice::Danger;
using Kind = geodesy::Spot::Kind;
using advice::Valued;

// Judgement: from so much on a ridge takes more than the sea in front of it gives back.
constexpr double in_the_way_deg = 3;

bool ridge(const advice::Facing& f) {
  return f.skyline.deg >= in_the_way_deg;
}
bool over_sea(const advice::Facing& f) {
  return f.sea_m.has_value() && !ridge(f);
}

std::string minutes(const std::optional<double>& value) {
  return value ? fmt::format("{:.0f} min", *value) : "-";
}

std::string danger_text(const Valued& v, Danger danger) {
  switch (danger) {
    case Danger::cliff:
      return fmt::format("ground of {:.0f}° within {:.0f} m: a cliff in dusk or wind",
                         v.place.spot.steepest_deg, geodesy::cliff_within_m);
    case Danger::surf:
      return "the sea is near and not far below: swell and spray, salt on everything";
    case Danger::tide:
      return fmt::format("under {:g} m above the files' sea level: look at the tide, and at the way back",
                         advice::tide_height_m);
    case Danger::lightning:
      return "nothing about it stands higher: no mast there with a thunderstorm within sight";
    case Danger::dark:
      return fmt::format("on {} sessions end too late to be down before dark ({} min back)",
                         counted(v.dark_days, "day"), std::lround(v.place.spot.back_minutes.value_or(0)));
    case Danger::no_way:
      return "no way on foot from the start that is not too steep";
  }
  return {};
}

/// Places of which the same is to be said stand together.
std::string dangers_text(const advice::Elsewhere& a, std::size_t columns) {
  struct Said {
    std::string text;
    std::vector<std::size_t> places;
  };
  std::vector<Said> all;
  for (std::size_t i = 0; i < a.places.size(); ++i) {
    for (const auto danger : a.places[i].dangers) {
      const auto text = danger_text(a.places[i], danger);
      auto known = std::find_if(all.begin(), all.end(), [&](const Said& one) { return one.text == text; });
      if (known == all.end()) known = all.insert(all.end(), Said{text, {}});
      known->places.push_back(i + 1);
    }
  }
  std::string out;
  for (const auto& one : all)
    out += wrapped(fmt::format("{}: {}.", fmt::join(one.places, ", "), one.text), columns, "  ", "    ");
  return out;
}

constexpr std::array general_cautions{
    "Ask who owns the place, and whether it is protected: birds breed on cliffs and in the turf of summits, "
    "archaeology lies where the view is good.",
    "Heights come from elevation files: they know no paths, fences, walls, bogs, woods or houses, and smooth a cliff "
    "over their grid. Look at a map and at the ground itself.",
    "Wet rock, wind and a pack make every walk longer; keep the time to turn back."};

std::string table(const kit::Trip& trip, const advice::Elsewhere& a) {
  std::string out = fmt::format("{:>3}  {:<30} {:<17} {:>7} {:>8} {:>8} {:>6}", "", "place", "at", "height",
                                "there", "back", "value");
  for (std::size_t t = 0; t < trip.targets.size(); ++t) out += fmt::format(" {:>5}", target_letter(t));
  out += '\n';
  for (std::size_t i = 0; i < a.places.size(); ++i) {
    const auto& v = a.places[i];
    out += fmt::format("{:>3}  {:<30} {:<17} {:>5.0f} m {:>8} {:>8} {:>6}", i + 1, spot_name(v.place.spot),
                       geodesy::to_text(v.place.spot.at), v.place.lie.altitude_m,
                       minutes(v.place.spot.out_minutes), minutes(v.place.spot.back_minutes),
                       fmt::format("{:.1f}", 100 * v.reach));
    for (const auto& f : v.facing)
      out += fmt::format(" {:>4.0f}{}", 100 * f.reach, ridge(f) ? '^' : over_sea(f) ? '~' : ' ');
    out += '\n';
  }
  return out;
}

std::string facing_text(const kit::Trip& trip, const Valued& v) {
  std::vector<std::string> sea, behind;
  for (std::size_t t = 0; t < v.facing.size(); ++t) {
    const auto& f = v.facing[t];
    const auto& name = nth(trip.targets, t).region.name;
    if (over_sea(f)) sea.push_back(name);
    if (ridge(f))
      behind.push_back(fmt::format("{} ({:.0f}° high, {:.1f} km away)", name, f.skyline.deg, f.skyline.km));
  }
  std::string out = sea.empty() ? "faces none of the regions over the sea"
                                : fmt::format("over the sea to {}", fmt::join(sea, ", "));
  if (!behind.empty()) out += fmt::format("; a ridge before {}", fmt::join(behind, ", "));
  return out;
}

std::string climb_text(const advice::Elsewhere& a) {
  if (!a.climb) return {};
  const auto& c = *a.climb;
  const auto& up = a.places[c.summit];
  const auto& down = a.places[c.shore];
  const std::string both =
      fmt::format("the best summit ({}) against the nearest shore ({})", c.summit + 1, c.shore + 1);
  if (c.more <= 0) {
    return fmt::format("Summit or beach: {} is worth {:.1f} points less, so the climb brings nothing.", both,
                       std::max(0.0, -100 * c.more));
  }
  std::string out = fmt::format("Summit or beach: {} is worth {:.1f} points more ({:.1f} against {:.1f})",
                                both, 100 * c.more, 100 * up.reach, 100 * down.reach);
  if (!c.minutes) return out + "; there is no way on foot to one of them.";
  if (!c.per_minute) return out + ", and it is no farther.";
  return out + fmt::format(" for {:.0f} minutes more on foot: {:.2f} points a minute of climb.", *c.minutes,
                           100 * *c.per_minute);
}

}  // namespace

std::string target_letter(std::size_t target) {
  std::string out(1, static_cast<char>('A' + target % 26));
  if (target >= 26) out += fmt::format("{}", target / 26 + 1);
  return out;
}

std::string spot_name(const geodesy::Spot& spot) {
  switch (spot.kind) {
    case Kind::planned:
      return "the planned place";
    case Kind::listed:
      return spot.name;
    case Kind::summit:
      return "summit";
    case Kind::shore:
      return fmt::format("shore to the {}", compass_name(spot.faces_deg.value_or(0)));
    case Kind::between:
      return "open ground";
  }
  return {};
}

std::string where_text(const kit::Trip& trip, const advice::Elsewhere& a, const Style& style) {
  const auto columns = style.width(120);
  const auto& site = nth(trip.sites, a.site);
  std::string out = fmt::format("Where to stand: {}, {}\n", trip.name, site.name);
  out += wrapped(
      fmt::format(
          "Value: percent of what the trip wants that the best kit of at most {} gets from there, as pack has it. "
          "There and back on foot from the trip's site: {:g} minutes a kilometre and {:g} for every 100 m up, with no "
          "rest. Ground, noise and hours as the trip tells of its site.",
          mass(trip.mass_limit_g), terrain::minutes_per_km, terrain::minutes_per_100_m_up),
      columns, "", "");
  for (std::size_t t = 0; t < trip.targets.size(); ++t)
    out += fmt::format("  {}: {}\n", target_letter(t), nth(trip.targets, t).region.name);
  out += fmt::format("  ~ the sea lies that way; ^ the skyline stands {:.0f} degrees or more\n\n",
                     in_the_way_deg);
  out += table(trip, a);
  std::string shores;
  for (std::size_t i = 0; i < a.places.size(); ++i) {
    if (a.places[i].place.spot.kind != Kind::shore) continue;
    shores += wrapped(
        fmt::format("{} ({}): {}", spot_name(a.places[i].place.spot), i + 1, facing_text(trip, a.places[i])),
        columns, "  ", "    ");
  }
  if (!shores.empty()) out += "\nWhich shore faces whom\n" + shores;
  if (const auto climb = climb_text(a); !climb.empty()) out += "\n" + wrapped(climb, columns, "", "  ");
  out += "\nBefore you go\n" + dangers_text(a, columns);
  for (const char* line : general_cautions) out += wrapped(line, columns, "  - ", "    ");
  return on_screen(out, style, 200);
}

}  // namespace skerry::words
