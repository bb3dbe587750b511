#include <fmt/format.h>

#include "common.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

namespace {

using words::SunAnswer;

const char* state_key(sun::DayState state) {
  static constexpr std::array keys{"day and night", "polar day", "polar night"};
  return nth(keys, state);
}

const char* grey_key(sun::GreyKind kind) {
  static constexpr std::array keys{"one end", "both ends", "along the path"};
  return nth(keys, kind);
}

void add_day(Json& out, const sun::Day& d) {
  out["rise_utc"] = time_json(d.rise);
  out["set_utc"] = time_json(d.set);
  out["civil_dawn_utc"] = time_json(d.civil_dawn);
  out["civil_dusk_utc"] = time_json(d.civil_dusk);
  out["nautical_dawn_utc"] = time_json(d.nautical_dawn);
  out["nautical_dusk_utc"] = time_json(d.nautical_dusk);
  out["astronomical_dawn_utc"] = time_json(d.astronomical_dawn);
  out["astronomical_dusk_utc"] = time_json(d.astronomical_dusk);
  out["noon_utc"] = to_iso(d.noon);
  out["noon_elevation_deg"] = rounded(d.noon_elevation_deg, 3);
  out["state"] = state_key(d.state);
}

}  // namespace

std::string sun_json(const SunAnswer& a) {
  Json out = {{"schema", "skerry.sun/1"}, {"at", place_json(a.at, a.named)}, {"date", to_iso(a.date)}};
  out["clock"] = clock_json(a.zone, a.day.noon);
  add_day(out, a.day);
  Json twilight = list(a.twilight, [&](const auto& w) -> Json {
    return {{"start_utc", to_iso(w.start)}, {"end_utc", to_iso(w.end)}, {"rising", w.rising}};
  });
  out["twilight_windows"] = std::move(twilight);
  if (a.far) {
    Json far = {{"at", place_json(a.far->to, a.far->named)}};
    far["clock"] = clock_json(a.far->zone, a.far->day.noon);
    add_day(far, a.far->day);
    out["to"] = std::move(far);
    Json grey = list(a.far->grey, [&](const auto& w) -> Json {
      return {{"start_utc", to_iso(w.start)},
              {"end_utc", to_iso(w.end)},
              {"minutes", rounded(static_cast<double>((w.end - w.start).count()) / 60, 1)},
              {"kind", grey_key(w.kind)},
              {"here", w.from_in_band ? Json(w.rising_from ? "rising" : "setting") : Json(nullptr)},
              {"there", w.to_in_band ? Json(w.rising_to ? "rising" : "setting") : Json(nullptr)},
              {"path_to_terminator_deg", rounded(w.path_to_terminator_deg, 1)}};
    });
    out["grey_windows"] = std::move(grey);
  }
  return dump(out);
}

std::string sun_csv(const SunAnswer& a) {
  std::string out = "place,event,utc\n";
  static constexpr std::array events{"astronomical dawn", "nautical dawn", "civil dawn",
                                     "sunrise",           "noon",          "sunset",
                                     "civil dusk",        "nautical dusk", "astronomical dusk"};
  const auto add = [&](const char* place, const sun::Day& d) {
    const auto moments = sun::moments(d);
    for (std::size_t i = 0; i < moments.size(); ++i)
      out += fmt::format("{},{},{}\n", place, events[i], moments[i] ? to_iso(*moments[i]) : "");
  };
  add("here", a.day);
  if (a.far) {
    add("there", a.far->day);
    for (const auto& w : a.far->grey) {
      out += fmt::format("path,grey line start ({}),{}\npath,grey line end ({}),{}\n", grey_key(w.kind),
                         to_iso(w.start), grey_key(w.kind), to_iso(w.end));
    }
  }
  return out;
}

}  // namespace skerry::forms
