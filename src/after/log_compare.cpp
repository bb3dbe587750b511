#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "log_parts.hpp"
#include "skerry/after/log.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/core/csv.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "table_time.hpp"

namespace skerry::after {

namespace {

/// Judgement: a contact this near a region's people belongs to it though it lies outside its outline.
constexpr double beside_region_km = 500;
/// Judgement: two sites nearer to each other than this cannot be told apart by a locator of six characters.
constexpr double one_square_km = 10;
/// Source: S9 = 50 microvolt at 50 ohm = -73 dBm, six dB a figure (IARU Region 1 Technical Recommendation
/// R.1, from memory).
constexpr double s9_dbw = -103, s_step_db = 6;

class Comparison {
 public:
  Comparison(const kit::Trip& trip, const Log& log, const LogOptions& options, const LogPlan& plan)
      : trip_(trip), log_(log), options_(options), plan_(plan) {}

  LogReport run() {
    place_contacts();
    predict();
    const auto runs = runs_of(log_, out_.contacts, options_);
    watch(runs);
    tally();
    judge_kit();
    compare_reports();
    if (places_) {
      const auto problem = learn_problem(trip_, plan_, log_, out_.contacts, runs, *places_, place_of_);
      out_.findings = learn(problem);
      out_.open_weekday = problem.open_weekday;
      out_.open_weekend = problem.open_weekend;
    } else {
      out_.findings = learn({});
    }
    return std::move(out_);
  }

 private:
  [[nodiscard]] const Contact& contact(const ContactView& view) const {
    return nth(log_.contacts, view.contact);
  }

  [[nodiscard]] std::optional<Id<kit::Target>> target_of(const Contact& c) const {
    std::optional<Id<kit::Target>> nearest;
    double least_km = beside_region_km;
    for (const auto t : skerry::ids_of(trip_.targets)) {
      const auto& target = nth(trip_.targets, t);
      if (geodesy::contains(target.region, *c.at)) return t;
      for (const auto& person : target.people) {
        const double km = geodesy::distance_km(person.where, *c.at);
        if (km > least_km) continue;
        least_km = km;
        nearest = t;
      }
    }
    return nearest;
  }

  [[nodiscard]] int site_of(const Contact& c) const {
    // A locator's square may hold several sites: between those the sessions decide.
    std::vector<double> away_km(trip_.sites.size(), 0);
    if (c.my_place) {
      for (std::size_t s = 0; s < away_km.size(); ++s)
        away_km[s] = geodesy::distance_km(trip_.sites[s].at, *c.my_place);
    }
    const auto nearest = std::min_element(away_km.begin(), away_km.end());
    const auto begun = std::chrono::floor<std::chrono::hours>(c.time + std::chrono::minutes{30});
    double minutes = 0;
    int best = static_cast<int>(nearest - away_km.begin());
    for (const auto& slice : slices_) {
      if (nth(away_km, slice.site) > *nearest + one_square_km) continue;
      if (slice.begun != begun || slice.minutes <= minutes) continue;
      minutes = slice.minutes;
      best = slice.site;
    }
    return best;
  }

  void place_contacts() {
    slices_ = advice::session_slices(trip_);
    out_.total = static_cast<int>(log_.contacts.size());
    const UtcTime first = start_of(trip_.first_day) - std::chrono::hours{14};
    const UtcTime last = start_of(trip_.last_day) + std::chrono::hours{24 + 14};
    for (std::size_t i = 0; i < log_.contacts.size(); ++i) {
      const auto& c = log_.contacts[i];
      if (c.time < first || c.time > last) {
        ++out_.outside_days;
        continue;
      }
      ContactView view;
      view.contact = static_cast<int>(i);
      view.site = site_of(c);
      const auto begun = std::chrono::floor<std::chrono::hours>(c.time + std::chrono::minutes{30});
      view.utc_hour = static_cast<int>(std::lround(utc_hour(begun)));
      view.band = band_of(trip_, c.band);
      if (!c.at) {
        ++out_.unplaced;
      } else {
        if (c.within_km > 0) ++out_.coarse;
        view.target = target_of(c);
        if (!view.target) ++out_.elsewhere;
      }
      out_.contacts.push_back(view);
    }
  }

  void predict() {
    std::map<std::pair<std::string, std::optional<Id<kit::Target>>>, int> known;  // square and region
    std::vector<PlaceTable::Place> places;
    for (const auto& view : out_.contacts) {
      const auto& c = contact(view);
      place_of_.emplace_back();
      if (!c.at) continue;
      const auto [at, fresh] =
          known.try_emplace({geodesy::to_locator(*c.at, 4), view.target}, static_cast<int>(places.size()));
      if (fresh) {
        const auto partner = view.target ? nth(trip_.targets, *view.target).partner : kit::Partner{};
        places.push_back({*c.at, partner});
      }
      place_of_.back() = at->second;
    }
    if (places.empty()) return;
    places_ = std::make_unique<PlaceTable>(trip_, plan_, std::move(places));
    for (std::size_t i = 0; i < out_.contacts.size(); ++i) {
      auto& view = out_.contacts[i];
      if (!place_of_[i] || !view.band) continue;
      const auto& slot = places_->slot(view.site, *place_of_[i], view.utc_hour, view.band->value());
      view.days_in_ten = 0;
      view.open = slot.open();
      if (!slot.by) continue;
      const auto& computed = nth(trip_.modes, slot.by->mode);
      view.there_db = slot.snr_there_db + to_db(computed.bandwidth_hz) - to_db(2500);
      view.back_db = slot.snr_back_db + to_db(computed.bandwidth_hz) - to_db(2500);
      view.there_dbw = slot.there_dbw;
      view.back_dbw = slot.back_dbw;
      const auto& mode = mode_or_first(trip_, contact(view).mode);
      const double needed = mode.required_snr_db + to_db(mode.bandwidth_hz) - to_db(2500);
      view.days_in_ten =
          10 * circuit::both_ways(circuit::reliability(view.there_db - needed, slot.there_upper_db,
                                                       slot.there_lower_db, slot.spread_db),
                                  circuit::reliability(view.back_db - needed, slot.back_upper_db,
                                                       slot.back_lower_db, slot.spread_db));
    }
  }

  /// Minutes on the air by site and nearest hour.
  void watch(const std::vector<Run>& runs) {
    on_air_.assign(trip_.sites.size(), {});
    out_.on_air_told = options_.on_air.has_value();
    for (const auto& run : runs) {
      const int site =
          run.counted.empty() ? site_at(run.start) : nth(out_.contacts, run.counted.front()).site;
      out_.on_air_hours += static_cast<double>((run.end - run.start).count()) / 3600;
      each_hour(run.start, run.end, [&](UtcTime begun, double minutes) {
        // A lone contact shows that one was there, however short.
        nth(nth(on_air_, site), std::lround(utc_hour(begun))) += std::max(1.0, minutes);
      });
    }
  }
  [[nodiscard]] int site_at(UtcTime time) const {
    for (const auto& view : out_.contacts) {
      if (contact(view).time == time) return view.site;
    }
    Contact c;
    c.time = time;
    return site_of(c);
  }

  void tally() {
    for (const auto& band : trip_.bands) out_.bands.push_back({band.id});
    for (int h = 0; h < 24; ++h) out_.hours.push_back({fmt::format("{:02}", h)});
    for (const auto& target : trip_.targets) out_.regions.push_back({target.region.name});
    out_.regions.push_back({"elsewhere"});
    std::map<std::tuple<int, int, int, int>, int> worked;    // site, target, band, hour
    std::map<std::tuple<int, int, int>, int> worked_at_all;  // site, target, hour
    for (const auto& view : out_.contacts) {
      const bool unlikely = view.days_in_ten && *view.days_in_ten < unlikely_days;
      const auto count = [&](LogTally& tally) {
        ++tally.contacts;
        tally.unlikely += unlikely;
      };
      if (view.band) count(nth(out_.bands, view.band->value()));
      count(nth(out_.hours, view.utc_hour));
      if (contact(view).at)
        count(view.target ? nth(out_.regions, view.target->value()) : out_.regions.back());
      if (!view.target) continue;
      const int target = view.target->value();
      if (view.band) ++worked[{view.site, target, view.band->value(), view.utc_hour}];
      ++worked_at_all[{view.site, target, view.utc_hour}];
    }
    for (const auto& planned : advice::session_hours(trip_)) {
      for (int t = 0; t < static_cast<int>(trip_.targets.size()); ++t) {
        std::optional<LogOpening> best_missed;
        for (int b = 0; b < static_cast<int>(trip_.bands.size()); ++b) {
          const auto& slot = plan_.openings.at(planned.site, t, planned.utc_hour, b);
          if (!slot.open() || slot.days_both < trip_.want_days_in_ten - 1e-9) continue;
          LogOpening opening{planned.site, t, b, planned.utc_hour, slot.days_both, 0, 0};
          opening.on_air_minutes = nth(nth(on_air_, planned.site), planned.utc_hour);
          const auto at = worked.find({planned.site, t, b, planned.utc_hour});
          opening.contacts = at == worked.end() ? 0 : at->second;
          const bool missed =
              opening.on_air_minutes > 0 && worked_at_all.count({planned.site, t, planned.utc_hour}) == 0;
          for (auto* tally :
               {&nth(out_.bands, b), &nth(out_.hours, planned.utc_hour), &nth(out_.regions, t)}) {
            ++tally->planned;
            tally->used += opening.contacts > 0;
            tally->missed += missed;
          }
          if (opening.contacts > 0) out_.used.push_back(opening);
          if (missed && (!best_missed || opening.days_in_ten > best_missed->days_in_ten))
            best_missed = opening;
        }
        if (best_missed) out_.missed.push_back(*best_missed);
      }
    }
    std::stable_sort(out_.used.begin(), out_.used.end(),
                     [](const auto& a, const auto& b) { return a.contacts > b.contacts; });
    std::stable_sort(out_.missed.begin(), out_.missed.end(),
                     [](const auto& a, const auto& b) { return a.days_in_ten > b.days_in_ten; });
  }

  [[nodiscard]] static bool same(const std::string& told, const advice::Thing& thing) {
    const auto word = lower(trim(told));
    return !word.empty() && (word == lower(thing.id) || word == lower(thing.name));
  }

  /// Whether one of the carried setups with this thing works a band that was worked.
  [[nodiscard]] bool could_have_served(const advice::Thing& thing) const {
    std::set<int> worked;
    for (const auto& view : out_.contacts) {
      if (view.band) worked.insert(view.band->value());
    }
    for (const auto& setup : plan_.setups) {
      if (std::find(setup.needs.begin(), setup.needs.end(), thing.id) == setup.needs.end()) continue;
      for (const int band : setup.bands) {
        if (worked.count(band) != 0) return true;
      }
    }
    return false;
  }

  void judge_kit() {
    out_.kit_told = options_.carried.has_value();
    std::set<std::string> used;
    if (options_.used) used.insert(options_.used->begin(), options_.used->end());
    bool all_name_antenna = !out_.contacts.empty(), all_name_rig = !out_.contacts.empty();
    for (const auto& view : out_.contacts) {
      all_name_antenna = all_name_antenna && !contact(view).my_antenna.empty();
      all_name_rig = all_name_rig && !contact(view).my_rig.empty();
    }
    for (const int i : plan_.carried) {
      const auto& thing = nth(plan_.inventory.things, i);
      if (thing.always) continue;
      KitUse use{thing.id, thing.name, thing.mass_g, Use::unknown, KitUse::Why::log_is_silent, 0};
      const bool antenna = thing.kind == advice::ThingKind::antenna,
                 rig = thing.kind == advice::ThingKind::rig;
      int named = 0;
      for (const auto& view : out_.contacts) {
        const auto& c = contact(view);
        named += (antenna && same(c.my_antenna, thing)) || (rig && same(c.my_rig, thing));
      }
      if (options_.used) {
        use.use = used.count(thing.id) != 0 ? Use::used : Use::never;
        use.why = KitUse::Why::told;
      } else if (named > 0) {
        use.use = Use::used;
        use.why = KitUse::Why::named;
        use.contacts = named;
      } else if ((antenna && all_name_antenna) || (rig && all_name_rig)) {
        use.use = Use::never;
        use.why = KitUse::Why::others_named;
      } else if ((antenna || rig) && !could_have_served(thing)) {
        use.use = Use::never;
        use.why = KitUse::Why::no_band;
      }
      out_.kit.push_back(std::move(use));
    }
  }

  void compare_reports() {
    std::vector<double> there, back, there_s, back_s;
    const auto strength = [](double dbw) { return 9 + (dbw - s9_dbw) / s_step_db; };
    for (const auto& view : out_.contacts) {
      if (!view.open) continue;
      const auto& c = contact(view);
      if (c.received_db) there.push_back(*c.received_db - view.there_db);
      if (c.sent_db) back.push_back(*c.sent_db - view.back_db);
      if (c.received_s) there_s.push_back(s_step_db * (*c.received_s - strength(view.there_dbw)));
      if (c.sent_s) back_s.push_back(s_step_db * (*c.sent_s - strength(view.back_dbw)));
    }
    out_.there = spread_of(std::move(there));
    out_.back = spread_of(std::move(back));
    out_.there_s = spread_of(std::move(there_s));
    out_.back_s = spread_of(std::move(back_s));
  }

  const kit::Trip& trip_;
  const Log& log_;
  const LogOptions& options_;
  const LogPlan& plan_;
  LogReport out_;
  std::vector<advice::DayHour> slices_;
  std::vector<std::optional<int>> place_of_;
  std::unique_ptr<PlaceTable> places_;
  std::vector<std::array<double, 24>> on_air_;
};

}  // namespace

Checked<std::vector<OnAir>> read_on_air(std::string_view text, const std::string& file) {
  const auto table = parse_csv(text, file);
  if (!table) return tl::unexpected(std::vector<Error>{table.error()});
  const auto start = table->column({"start_utc", "start"});
  const auto end = table->column({"end_utc", "end"});
  const auto band = table->column({"band"});
  std::vector<Error> errors;
  if (!start || !end || !band) {
    errors.push_back(
        {{file, 1, 1}, "a header without start_utc, end_utc or band", "start_utc,end_utc,band", {}});
    return tl::unexpected(std::move(errors));
  }
  std::vector<OnAir> out;
  // Judgement: who sees so many mistakes mends these first.
  constexpr std::size_t most_mistakes = 97;
  for (const auto& row : table->rows) {
    const Where where{file, row.line, 1};
    if (errors.size() > most_mistakes) {
      errors.push_back(
          {where, "more mistakes than are told", "lines as in the header's form", "mend these first"});
      break;
    }
    if (row.cells.size() != table->header.size()) {
      errors.push_back({where,
                        fmt::format("{} cells", row.cells.size()),
                        fmt::format("{} as in the header", table->header.size()),
                        {}});
      continue;
    }
    const auto from = parse_utc(nth(row.cells, *start), where);
    const auto to = parse_utc(nth(row.cells, *end), where);
    const auto on = noise::find_band(nth(row.cells, *band), 2, where);
    if (!from) errors.push_back(from.error());
    if (!to) errors.push_back(to.error());
    if (!on) errors.push_back(on.error());
    if (!from || !to || !on) continue;
    if (*to <= *from || *to - *from > std::chrono::hours{24}) {
      errors.push_back({where,
                        "end_utc '" + one_line(nth(row.cells, *end)) + "'",
                        "later than start_utc, by at most 24 hours",
                        {}});
      continue;
    }
    out.push_back({*from, *to, on->id});
  }
  if (errors.empty() && out.empty())
    errors.push_back({{file}, "no record", "at least one stretch below the header", {}});
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  std::stable_sort(out.begin(), out.end(), [](const OnAir& a, const OnAir& b) { return a.start < b.start; });
  return out;
}

LogReport compare_log(const kit::Trip& trip, const Log& log, const LogOptions& options, const LogPlan& plan) {
  return Comparison(trip, log, options, plan).run();
}

LogReport compare_log(const kit::Trip& trip, const Log& log, const LogOptions& options) {
  return compare_log(trip, log, options, plan_for(trip, options));
}

}  // namespace skerry::after
