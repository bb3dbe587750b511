// Target that reads what an operator brings home: logs, reports, medians, times on the air, and a library.
#include <cmath>
#include <string>

#include "promises.hpp"
#include "skerry/after/adif.hpp"
#include "skerry/after/ionosonde.hpp"
#include "skerry/after/log.hpp"
#include "skerry/after/spots.hpp"
#include "skerry/files/library.hpp"
#include "targets.hpp"

namespace skerry::fuzz {

namespace {

bool on_earth(GeoPoint p) {
  return std::abs(p.lat_deg) <= 90 && p.lon_deg > -180.000001 && p.lon_deg <= 180;
}

void check_lines(const Warnings& warnings) {
  for (const auto& w : warnings.told()) check_line(w.to_line());
}

void adif(std::string_view bytes) {
  const auto file = after::parse_adif(bytes, "log.adi");
  if (!file) return check_errors({file.error()}, "log.adi", false);
  check_lines(file->warnings);
  const auto log = after::contacts_of(*file, "log.adi");
  check_lines(log.warnings);
  for (std::size_t i = 0; i < log.contacts.size(); ++i) {
    const auto& c = log.contacts[i];
    promise(i == 0 || log.contacts[i - 1].time <= c.time, "contacts are in order of time");
    promise(!c.band.empty(), "a contact has a band");
    promise(!c.at || on_earth(*c.at), "a contact is on the Earth");
  }
}

void spots(std::string_view bytes) {
  const auto read = after::read_spots(bytes, "spots.csv");
  if (!read) return check_errors(read.error(), "spots.csv", false);
  check_lines(read->left_out);
  const int stations = static_cast<int>(read->stations.size());
  for (const auto& s : read->spots) {
    promise(s.rx >= 0 && s.rx < stations && s.tx.value_or(0) >= 0 && s.tx.value_or(0) < stations,
            "a report's stations are known");
    promise(s.mhz > 0 && std::isfinite(s.power_w) && s.power_w >= 0, "a report's numbers are sound");
  }
  for (const auto& at : read->stations) promise(on_earth(at), "a station is on the Earth");
}

void sondes(std::string_view bytes) {
  const auto read = after::read_sondes(bytes, "sondes.csv");
  if (!read) return check_errors(read.error(), "sondes.csv", false);
  check_lines(read->left_out);
  for (const auto& m : read->medians) {
    promise(m.utc_hour >= 0 && m.utc_hour < 24 && m.month.ok(), "a median has an hour and a month");
    promise(m.fof2_mhz > 0 && m.fof2_mhz < 100, "a median is a critical frequency");
  }
}

void library(std::string_view bytes) {
  const auto read = files::read_library(bytes, "kit.toml");
  if (!read) return check_errors(read.error(), "kit.toml", false);
  for (const auto& entry : *read) promise(!entry.item.id.empty() && !entry.text.empty(), "a thing has an id");
}

}  // namespace

void tables(std::string_view bytes) {
  if (bytes.empty()) return;
  // The first letter says what the rest is.
  const auto rest = bytes.substr(1);
  switch (bytes[0]) {
    case 'a':
      return adif(rest);
    case 's':
      return spots(rest);
    case 'i':
      return sondes(rest);
    case 'l':
      return library(rest);
    case 'o':
      if (const auto on = after::read_on_air(rest, "on_air.csv"); !on)
        check_errors(on.error(), "on_air.csv", false);
      return;
    default:
      return;
  }
}

}  // namespace skerry::fuzz
