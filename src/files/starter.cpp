// The commented trip file to start from.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "skerry/core/embedded.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/geodesy/gazetteer.hpp"
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

/// Every `mark` replaced.
void put(std::string& text, std::string_view mark, const std::string& by) {
  for (auto at = text.find(mark); at != text.npos; at = text.find(mark, at + by.size()))
    text.replace(at, mark.size(), by);
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
  const auto place = geodesy::nearest_named(site, sun::zone_reach_km, true);
  ZoneLine out{named, fmt::format("the legal time of {}, {:.0f} km away: check it", place->place.name,
                                  place->distance_km)};
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
  std::string out = with_remarks(embedded("starter/trip.toml"));
  put(out, "<near>", near[0]);
  put(out, "<next>", near[1]);
  put(out, "<first>", to_iso(first_day));
  put(out, "<last>", to_iso(last));
  put(out, "<at>", fmt::format("{:.4f},{:.4f}", site.lat_deg, site.lon_deg));
  put(out, "<zone>", zone.name);
  put(out, "<zone_remark>", zone.remark);
  put(out, "<name>", quoted(name));  // last: nothing in it is ours to fill in
  return out;
}

}  // namespace skerry::files
