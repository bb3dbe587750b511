// Contacts out of an amateur log.
// Room: after. Sees core, geodesy and noise.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"
#include "skerry/core/warnings.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::after {

/// One record as it stands: field names in upper case.
struct AdifRecord {
  std::map<std::string, std::string> fields;
  int line = 0;  ///< where it begins
};
struct AdifFile {
  std::vector<AdifRecord> records;
  Warnings warnings;          ///< broken records, left out
  std::size_t looked_at = 0;  ///< bytes that the reader went through: what reading costs
};

/// Source: Amateur Data Interchange Format (ADIF), the open format's .adi form, version 3 (from memory):
/// FIELD:LENGTH[:TYPE] in angle brackets before the data, lengths in bytes, names in any case, a header up to
/// EOH unless the file begins with '<', records up to EOR; text between fields is passed over.
///   broken  a length that is no number, runs past the end, or ends amid some text with an EOR before it (the
///           next record's; where a tag follows, the EOR is data); over 1000 fields: the record is left out
///           with a warning that says where, and reading goes on behind the next EOR
///   XML     the .adx form, version 3.1.4 (from memory), where the text begins as such: ADX, RECORDS, RECORD and a tag a
///           field; USERDEF by its FIELDNAME, APP as APP_PROGRAMID_FIELDNAME. Only the five entities of XML itself and
///           numbers; no DOCTYPE, six levels. A record that is no such thing is left out, as above
///   errors  UTF-16, over 64 MB, over half a million records, XML that is no log, nothing that looks like a record at all
///   cost    linear in the size of the text, whatever it holds
[[nodiscard]] Result<AdifFile> parse_adif(std::string_view text, const std::string& file);

/// A country entity: a number that logs carry, with a coarse place. Source: data/entities/SOURCE.md.
struct Entity {
  int number = 0;
  std::string name;
  GeoPoint at;
  double within_km = 0;  ///< how far from `at` a contact there may lie
};
/// By number; nullptr: not in the table.
[[nodiscard]] const Entity* find_entity(int number);
/// By name, upper or lower case.
[[nodiscard]] const Entity* find_entity(std::string_view name);
[[nodiscard]] const std::vector<Entity>& entities();

/// One contact, as far as it can be used.
struct Contact {
  UtcTime time{};
  std::string band;  ///< "20m"
  double mhz = 0;    ///< 0: only the band is told
  std::string mode;  ///< id of a noise::Mode; empty: none of them
  std::string mode_as_told;
  std::optional<GeoPoint> at;  ///< none: no position, no locator and no entity that is known
  double within_km = 0;        ///< 0: by position or locator; else by entity, coarse
  std::string entity;          ///< its name, when placed by it
  std::string call;            ///< never shown unless asked
  std::optional<GeoPoint> my_place;
  std::string my_antenna, my_rig;
  /// Reports in dB where they are ("-12"): in the width of 2500 Hz, as digital modes tell them.
  std::optional<double> sent_db, received_db;
  /// Strength figures of RST reports, 1..9; none for 9, which is sent as a courtesy and says nothing.
  std::optional<int> sent_s, received_s;
  int line = 0;
};

struct Log {
  std::vector<Contact> contacts;  ///< by time
  Warnings warnings;              ///< records left out or only partly used
};

/// Contacts of a log. Fields read: QSO_DATE, TIME_ON, BAND, FREQ, MODE, SUBMODE, GRIDSQUARE, DXCC, COUNTRY,
/// CALL, RST_SENT, RST_RCVD, MY_GRIDSQUARE, MY_ANTENNA, MY_RIG, QSO_COMPLETE, and LAT, LON, MY_LAT, MY_LON (in the locator that is told, or
/// where none is: it is what was sent, and wins); others are passed over. A record
/// without a date, time and band (or frequency), of a contact that was not completed, or with a length that
/// reaches into the next field is left out with a warning; bands above 6 m are left out too. Said as well:
/// FREQ and BAND of two bands (FREQ is taken), modes that are not known (once for each), and contacts that
/// stand twice, which count once. No warning quotes a value that names somebody.
[[nodiscard]] Log contacts_of(const AdifFile& adif, const std::string& file);

}  // namespace skerry::after
