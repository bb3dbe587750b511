#include "worksheet.hpp"

#include <fmt/format.h>

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
    out.mended = make_it_work();
    const auto& band = base_.bands.front();
    const auto first = ask(base_, base_height_m);
    hour_ = first.utc_hour;
    const Month month{base_.climate.day.year() / base_.climate.day.month()};
    out.base = fmt::format(
        "{} with {:g} W in {}, a dipole {:g} m up turned to the far end, {:02} UTC, {}, R12 {:.0f}, {:g} W "
        "with {} there.",
        band.band, band.own.power_w, band.mode.name, base_height_m, hour_, to_iso(month), base_.climate.r12,
        band.partner.power_w, words::antenna_text(band.partner));
    if (bands_.size() > 1) out.lessons.push_back(bands());
    for (auto& lesson : {hours(first), months(month), activity(), heights()}) out.lessons.push_back(lesson);
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
    band.antenna = fmt::format("dipole at {:g} m", height_m);
    return circuit::explain(q).front();
  }
  [[nodiscard]] circuit::ExplainQuestion at_hour(int hour) const {
    auto q = base_;
    q.bands.front().utc_hour = hour;
    return q;
  }
  /// A lesson whose base case is dead teaches little: more power at both ends, then more sunspots, until it
  /// works. Judgement: the steps.
  std::string make_it_work() {
    const auto given = base_;
    const auto asked = ask(base_, base_height_m);
    if (asked.days >= base_.want_days_in_ten) return {};
    const std::string was = open(asked) ? fmt::format("{:.0f} of ten days", asked.days) : "closed";
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
        if (tried.days < base_.want_days_in_ten) continue;
        return fmt::format(
            "As asked, with {:g} W and R12 {:.0f}, the band makes too little for a lesson ({}): "
            "power and sunspots were raised until it works.",
            said.own.power_w, given.climate.r12, was);
      }
    }
    base_ = given;
    return fmt::format("Neither 400 W nor R12 150 makes this band work ({}): the lesson shows why.", was);
  }
  words::Lesson bands() {
    words::Lesson lesson{"the band",
                         "Which of them the layer still bends, and which the D layer eats? The dipole is cut "
                         "for each band, so its height in wavelengths changes too.",
                         0,
                         {}};
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
    words::Lesson lesson{"the hour",
                         "Where does the Sun stand over the weakest reflection point? Is there a D layer, "
                         "and how strong is the layer above it?",
                         0,
                         {}};
    const auto row = [&](const std::string& name, int hour) {
      lesson.rows.push_back({fmt::format("{}{:02} UTC", name, hour), ask(at_hour(hour), base_height_m)});
    };
    row("", hour_);
    if (!first.weakest) return lesson;
    // The Sun's day over the point that decides, to the whole hour.
    const auto day = sun::day(first.weakest->where, base_.climate.day);
    const auto whole_hour = [](UtcTime when) { return static_cast<int>(std::lround(utc_hour(when))) % 24; };
    const auto other = [&](const char* name, std::optional<UtcTime> when) {
      if (when && whole_hour(*when) != hour_) row(name, whole_hour(*when));
    };
    other("sunrise ", day.rise);
    other("noon ", day.noon);
    other("sunset ", day.set);
    other("midnight ", day.noon + std::chrono::hours(12));
    return lesson;
  }
  words::Lesson months(Month month) {
    words::Lesson lesson{
        "the month",
        "The same hour in other seasons: which months have the longer day at the weakest point?",
        0,
        {}};
    for (int step = 0; step < 12; step += 3) {
      const Month then = month + std::chrono::months(step);
      auto q = at_hour(hour_);
      // The year stays: only the season changes, not the calendar's century limits.
      q.climate.day = middle_of(Month{month.year() / then.month()});
      lesson.rows.push_back({to_iso(Month{month.year() / then.month()}), ask(q, base_height_m)});
    }
    return lesson;
  }
  words::Lesson activity() {
    words::Lesson lesson{
        "the Sun's activity",
        "More sunspots make the layer stronger, and the D layer too: which of the two wins on this band?",
        0,
        {}};
    std::vector levels{base_.climate.r12};
    for (const ionosphere::R12 r12 : {ionosphere::R12(5), ionosphere::R12(60), ionosphere::R12(140)}) {
      if (std::abs(r12 - base_.climate.r12) > 15) levels.push_back(r12);
    }
    for (const auto r12 : levels) {
      auto q = at_hour(hour_);
      q.climate.r12 = r12;
      lesson.rows.push_back({fmt::format("R12 {:.0f}", r12), ask(q, base_height_m)});
    }
    return lesson;
  }
  words::Lesson heights() {
    const double wavelength_m = 299.792458 / base_.bands.front().mhz;
    words::Lesson lesson{"the height of the wire",
                         fmt::format("One wavelength is {:.0f} m here. A low wire sends its power up, a "
                                     "high one towards the horizon: which does the angle ask for?",
                                     wavelength_m),
                         1,
                         {}};
    for (const double height_m : {3.0, base_height_m, 10.0, 15.0}) {
      lesson.rows.push_back({fmt::format("{:g} m up", height_m), ask(at_hour(hour_), height_m)});
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
