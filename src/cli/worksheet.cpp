#include "worksheet.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>

#include "skerry/core/units.hpp"
#include "skerry/sun/events.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::cli {

namespace {

constexpr double base_height_m = 6;

bool open(const circuit::BandExplanation& e) {
  return e.verdict == circuit::Verdict::works || e.verdict == circuit::Verdict::sometimes ||
         e.verdict == circuit::Verdict::too_weak;
}

class Teacher {
 public:
  explicit Teacher(const circuit::ExplainQuestion& question) : base_(question), bands_(question.bands) {
    base_.bands = {bands_.front()};
  }

  words::Worksheet sheet() {
    words::Worksheet out;
    out.raised = make_it_work();
    const auto first = ask(base_, base_height_m);
    hour_ = first.utc_hour;
    out.band = base_.bands.front();
    out.height_m = base_height_m;
    out.utc_hour = hour_;
    out.month = Month{base_.climate.day.year() / base_.climate.day.month()};
    out.r12 = base_.climate.r12;
    out.from_town = geodesy::nearest_town(base_.from, circuit::near_town_km);
    out.to_town = geodesy::nearest_town(base_.to, circuit::near_town_km);
    out.hops = circuit::hop_table();
    if (bands_.size() > 1) out.lessons.push_back(bands());
    for (auto& lesson : {hours(first), months(out.month), activity(), heights()})
      out.lessons.push_back(lesson);
    return out;
  }

 private:
  const antenna::Pattern& dipole(double height_m, double mhz) {
    const auto key = std::make_pair(height_m, mhz);
    const auto known = dipoles_.find(key);
    if (known != dipoles_.end()) return known->second;
    return dipoles_.emplace(key, circuit::lesson_dipole(height_m, mhz)).first->second;
  }
  circuit::BandExplanation ask(circuit::ExplainQuestion q, double height_m) {
    auto& band = q.bands.front();
    const auto& pattern = dipole(height_m, band.mhz);
    band.own.pattern = &pattern;
    band.own.layout_azimuth_deg = geodesy::make_path(q.from, q.to, geodesy::Way::short_way).bearing_deg;
    band.own.efficiency_db = std::min(0.0, pattern.system_efficiency_db);
    return circuit::explain(q).front();
  }
  [[nodiscard]] circuit::ExplainQuestion at_hour(int hour) const {
    auto q = base_;
    q.bands.front().utc_hour = hour;
    return q;
  }
  /// A lesson whose base case is dead teaches little: more power at both ends, then more sunspots, until it
  /// works. Judgement: the steps.
  std::optional<words::Raised> make_it_work() {
    const auto given = base_;
    const auto asked = ask(base_, base_height_m);
    if (asked.days >= base_.want_days_in_ten) return std::nullopt;
    words::Raised out{given.bands.front().own.power_w, given.climate.r12,
                      open(asked) ? std::optional(asked.days) : std::nullopt, true};
    for (const auto r12 : {given.climate.r12, ionosphere::R12(100), ionosphere::R12(150)}) {
      if (r12 < given.climate.r12) continue;
      base_.climate.r12 = r12;
      for (const double power_w : {0.0, 30.0, 100.0, 400.0}) {
        auto& band = base_.bands.front();
        const auto& said = given.bands.front();
        band.own.power_w = std::max(power_w, said.own.power_w);
        band.partner.power_w = std::max(power_w, said.partner.power_w);
        const auto tried = ask(base_, base_height_m);
        if (!open(tried)) break;  // no power opens a closed band
        if (tried.days >= base_.want_days_in_ten) return out;
      }
    }
    base_ = given;
    out.works = false;
    return out;
  }
  words::Lesson bands() {
    words::Lesson lesson;
    for (const auto& other : bands_) {
      auto q = at_hour(hour_);
      auto& band = q.bands.front();
      band.band = other.band;
      band.mhz = other.mhz;
      lesson.rows.push_back({other.band, ask(q, base_height_m)});
    }
    return lesson;
  }
  words::Lesson hours(const circuit::BandExplanation& first) {
    words::Lesson lesson;
    using Moment = words::LessonHour::Moment;
    const auto row = [&](Moment moment, int hour) {
      lesson.rows.push_back({words::LessonHour{moment, hour}, ask(at_hour(hour), base_height_m)});
    };
    row(Moment::any, hour_);
    if (!first.weakest) return lesson;
    // The Sun's day over the point that decides, to the whole hour.
    const auto day = sun::day(first.weakest->where, base_.climate.day);
    const auto whole_hour = [](UtcTime when) { return static_cast<int>(std::lround(utc_hour(when))) % 24; };
    const auto other = [&](Moment moment, std::optional<UtcTime> when) {
      if (when && whole_hour(*when) != hour_) row(moment, whole_hour(*when));
    };
    other(Moment::sunrise, day.rise);
    other(Moment::noon, day.noon);
    other(Moment::sunset, day.set);
    other(Moment::midnight, day.noon + std::chrono::hours(12));
    return lesson;
  }
  words::Lesson months(Month month) {
    words::Lesson lesson;
    for (int step = 0; step < 12; step += 3) {
      const Month then = month + std::chrono::months(step);
      auto q = at_hour(hour_);
      // The year stays: only the season changes, not the calendar's century limits.
      q.climate.day = middle_of(Month{month.year() / then.month()});
      lesson.rows.push_back({Month{month.year() / then.month()}, ask(q, base_height_m)});
    }
    return lesson;
  }
  words::Lesson activity() {
    words::Lesson lesson;
    std::vector levels{base_.climate.r12};
    for (const ionosphere::R12 r12 : {ionosphere::R12(5), ionosphere::R12(60), ionosphere::R12(140)}) {
      if (std::abs(r12 - base_.climate.r12) > 15) levels.push_back(r12);
    }
    for (const auto r12 : levels) {
      auto q = at_hour(hour_);
      q.climate.r12 = r12;
      lesson.rows.push_back({r12, ask(q, base_height_m)});
    }
    return lesson;
  }
  words::Lesson heights() {
    words::Lesson lesson;
    lesson.base = 1;
    for (const double height_m : {3.0, base_height_m, 10.0, 15.0}) {
      lesson.rows.push_back({words::WireHeight{height_m}, ask(at_hour(hour_), height_m)});
    }
    return lesson;
  }

  circuit::ExplainQuestion base_;
  std::vector<circuit::ExplainBand> bands_;
  std::map<std::pair<double, double>, antenna::Pattern> dipoles_;
  int hour_ = 0;
};

}  // namespace

words::Worksheet worksheet(const circuit::ExplainQuestion& question) {
  return Teacher(question).sheet();
}

}  // namespace skerry::cli
