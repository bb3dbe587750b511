#include "skerry/engine/sky.hpp"

#include <chrono>

#include "alone.hpp"
#include "question_reader.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/ionosphere/sporadic_e.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::engine {

words::SunAnswer sun_answer(const SunAsk& ask) {
  words::SunAnswer a;
  a.at = ask.at;
  a.named = ask.named;
  a.date = ask.date;
  a.zone = ask.zone ? *ask.zone : sun::legal_zone(a.at);
  a.day = sun::day(a.at, a.date, ask.height_m);
  const UtcTime midnight = start_of(a.date);
  const UtcTime next = midnight + std::chrono::hours(24);
  a.twilight = sun::twilight_windows(a.at, midnight, next);
  if (ask.to) {
    words::SunAnswer::Far far;
    far.to = *ask.to;
    far.named = ask.to_named;
    far.zone = sun::legal_zone(far.to);
    far.day = sun::day(far.to, a.date);
    far.path = geodesy::make_path(a.at, far.to, geodesy::Way::short_way);
    far.grey = sun::grey_windows(far.path, midnight, next);
    a.far = std::move(far);
  }
  return a;
}

Result<std::vector<circuit::PathQuestion::Frequency>> distinct(
    std::vector<circuit::PathQuestion::Frequency> all) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (all[i].band == all[k].band && !all[i].band.empty()) all[i].band.clear();
      if (all[i].mhz == all[k].mhz)
        return fail({"mhz"}, fmt::format("{:g} MHz twice", all[i].mhz), "each frequency once");
    }
  }
  return all;
}

Checked<CoverageAsk> read_coverage(std::string_view message) {
  std::vector<Error> errors;
  const auto parsed =
      parse_object(message, R"(an object, as {"at": "-19.70,63.43", "month": "2027-02"})", errors);
  if (!parsed) return tl::unexpected(std::vector<Error>{parsed.error()});
  Reader r(*parsed, errors);
  r.know({"at",          "month",         "date",        "r12",         "ssn_v2",       "f107",
          "maps",        "field_epoch",   "fof2",        "bands",       "mhz",          "hours",
          "grid",        "way",           "want_days",   "mode",        "power_w",      "to_power_w",
          "noise_from",  "noise_to",      "absorption",  "ground_loss", "far_method",   "es",
          "gain_to_dbi", "gain_from_dbi", "skyline_deg", "skyline_km",  "spread_to_db", "noise_figure_db"});
  CoverageAsk out;
  auto& q = out.question;
  Places places;
  place(r, "at", places, "AT", q.from.at);
  out.named = places.named("AT");
  out.warnings = places.questions();
  read_climate(r, q.climate);
  r.take(distinct(read_frequencies(r, q.from.at, {"20m"})), q.frequencies);
  read_ends(r, q.from, q.to);
  read_method(r, q.mode, q.settings);
  std::array<bool, 24> hours{};
  read_hours(r, hours);
  for (int h = 0; h < 24; ++h) {
    if (nth(hours, h)) q.hours.push_back(h);
  }
  r.number("grid", {0.5, 30, "degrees"}, q.grid.step_deg);
  if (!q.grid.fits())
    r.wrong("grid", fmt::format("{:g}", q.grid.step_deg), "a step that divides 180, as 1, 2, 2.5, 3, 5");
  std::size_t way = 0;
  r.word("way", {"short", "long", "best"}, way);
  q.way = static_cast<circuit::WayChoice>(way);
  r.number("want_days", out.want_days);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return out;
}

namespace {

/// A day that must be told: nobody here knows what today is.
Day day_of(Reader& r) {
  Day day{};
  if (r.find("date") == nullptr) r.wrong("date", "no day", R"(a day, as "2027-02-14")");
  r.text("date", R"(a day, as "2027-02-14")",
         [&](const std::string& said) { r.take(parse_day(said, {"date"}), day); });
  return day;
}

}  // namespace

Checked<Said> sun_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "format", "columns", "at", "to", "date", "zone", "height_m"});
  const auto shape = shape_of(r);
  SunAsk ask;
  Places places;
  place(r, "at", places, "AT", ask.at);
  ask.date = day_of(r);
  if (const auto zone = text(r, "zone"); !zone.empty()) r.take(sun::Zone::find(zone, {"zone"}), ask.zone);
  r.number("height_m", {0, 9000, "m"}, ask.height_m);
  if (r.find("to") != nullptr) place(r, "to", places, "TO", ask.to.emplace());
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  ask.named = places.named("AT");
  ask.to_named = places.named("TO");
  const auto answer = sun_answer(ask);
  return said(
      shape, places, [&] { return words::sun_text(answer, shape.style); },
      [&] { return forms::sun_json(answer); }, [&] { return forms::sun_csv(answer); });
}

Checked<Said> sky_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "format", "columns", "at", "month", "date", "r12", "ssn_v2", "f107", "maps",
          "field_epoch", "fof2"});
  const auto shape = shape_of(r);
  Places places;
  GeoPoint at;
  place(r, "at", places, "AT", at);
  ionosphere::Climate climate;
  read_climate(r, climate);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  const std::vector<GeoPoint> all{at};
  const auto sky = ionosphere::sky(all, climate);
  const auto es = ionosphere::sporadic_e(all, climate);
  return said(
      shape, places, [&] { return words::sky_text(sky, es, climate, shape.style); },
      [&] { return forms::sky_json(sky, es, climate, places.named("AT")); },
      [&] { return forms::sky_csv(sky, es, climate); });
}

}  // namespace skerry::engine
