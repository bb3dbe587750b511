// What was planned against what was worked.
// Room: after. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/advice/advise.hpp"
#include "skerry/after/adif.hpp"
#include "skerry/after/learn.hpp"
#include "skerry/after/score.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::after {

/// A stretch of listening and calling on one band.
struct OnAir {
  UtcTime start{}, end{};
  std::string band;
};
/// CSV with the columns start_utc, end_utc (as in a table of spots) and band; sorted by start. Broken records
/// are errors: there are few, and each weighs.
[[nodiscard]] Checked<std::vector<OnAir>> read_on_air(std::string_view text, const std::string& file);

struct LogOptions {
  /// Ids of what was in the bag; none: the kit that `pack` recommends.
  std::optional<std::vector<std::string>> carried;
  /// Ids of what was used, where the operator says so.
  std::optional<std::vector<std::string>> used;
  /// When one was on the air; without it, taken from the log: from the first to the last of contacts on one
  /// band with gaps of at most an hour. Then openings in hours without any contact cannot be seen at all.
  std::optional<std::vector<OnAir>> on_air;
};

/// A contact and what the plan said of it.
struct ContactView {
  int contact = 0;  ///< index into Log::contacts
  int site = 0;     ///< of the trip
  /// The region it belongs to: it lies inside, or within 500 km of its people; none: elsewhere.
  std::optional<Id<kit::Target>> target;
  int utc_hour = 0;                     ///< the nearest whole hour
  std::optional<Id<noise::Band>> band;  ///< of Trip::bands; none: the trip does not have it
  /// Days in ten both ways with the carried kit, in the contact's own mode (the trip's best where that is
  /// unknown); none: no place, or no such band in the trip.
  std::optional<double> days_in_ten;
  bool open = false;
  double there_db = 0, back_db = 0;  ///< predicted median S/N in 2500 Hz, when open
  double there_dbw = 0, back_dbw = 0;
};

struct LogTally {
  std::string name;
  int planned = 0;   ///< openings (region, band and hour) in the sessions, at the trip's days in ten
  int used = 0;      ///< of these, with at least one contact
  int missed = 0;    ///< of these, on the air in that hour and nobody of the region worked on any band
  int contacts = 0;  ///< all, planned or not
  int unlikely = 0;  ///< under `unlikely_days`
};

struct LogOpening {
  int site = 0, target = 0, band = 0, utc_hour = 0;
  double days_in_ten = 0;
  int contacts = 0;
  double on_air_minutes = 0;  ///< in that hour on any band, over all days
};

enum class Use { used, never, unknown };
struct KitUse {
  std::string id, name;
  double mass_g = 0;
  Use use = Use::unknown;
  enum class Why : std::uint8_t {
    log_is_silent,
    told,          ///< by whoever asks
    named,         ///< in `contacts` of the log
    others_named,  ///< each contact names another
    no_band        ///< none was worked on which it could have served
  };
  Why why = Why::log_is_silent;
  int contacts = 0;
};

/// Fewer days in ten than this and the plan called a contact unlikely. Judgement.
inline constexpr double unlikely_days = 1;

struct LogReport {
  std::vector<ContactView> contacts;  ///< those within the days of the trip
  int total = 0, outside_days = 0, unplaced = 0, coarse = 0, elsewhere = 0;
  std::vector<LogTally> bands, hours, regions;  ///< hours: 24; regions: those of the trip, then "elsewhere"
  std::vector<LogOpening> used, missed;  ///< best first; of one region and hour only the best band is missed
  double on_air_hours = 0;
  bool on_air_told = false;
  bool kit_told = false;
  std::vector<KitUse> kit;
  /// Reports less predictions, dB: theirs of the own signal, and the own ones of theirs.
  Spread there, back;
  /// The same of RST strengths under 9, coarse: six dB a figure, S9 = 50 microvolt at 50 ohm (IARU Region 1
  /// Technical Recommendation R.1, from memory).
  Spread there_s, back_s;
  Findings findings;
  std::array<double, 24> open_weekday{}, open_weekend{};  ///< LearnProblem's
};

/// Antennas and rigs that a log names and the trip does not have, each told once.
[[nodiscard]] std::vector<Error> doubts_of(const kit::Trip& trip, const Log& log, const std::string& file);

/// Compares a log with a trip and asks what it teaches. The plan is that of `advise`; each contact's own path
/// is computed from its place.
[[nodiscard]] LogReport compare_log(const kit::Trip& trip, const Log& log, const LogOptions& options = {});

/// The table of hours that a finding makes of the trip's own: factors on it, scaled so that the best hour
/// is 1.
struct LearnedHours {
  std::array<double, 24> weekday{}, weekend{};
};
[[nodiscard]] LearnedHours learned_hours(const kit::Trip& trip, const Findings& findings);

/// Contacts an hour with every region open and everybody listening, by those hours: what the log counted over
/// the hours on the air, each worth what was open and who listened. None from fewer than ten contacts or less
/// than half such an hour. Judgement: fewer tell less than the table.
[[nodiscard]] std::optional<double> learned_yield(const LogReport& report, const LearnedHours& hours);

}  // namespace skerry::after
