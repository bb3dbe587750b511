#include "question_reader.hpp"

#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/files/told_activity.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/ionosphere/measured.hpp"

namespace skerry::engine {

namespace {

void read_when(Reader& r, ionosphere::Climate& climate) {
  Month month{};
  if ((r.find("month") != nullptr) == (r.find("date") != nullptr)) {
    return r.wrong("month", r.find("month") != nullptr ? "both month and date" : "no month",
                   R"(one of "month": "2027-02", "date": "2027-02-14")");
  }
  r.text("month", R"(a month, as "2027-02")", [&](const std::string& text) {
    r.take(parse_month(text, {"month"}), month);
    if (month.ok()) climate.day = middle_of(month);
  });
  r.text("date", R"(a day, as "2027-02-14")",
         [&](const std::string& text) { r.take(parse_day(text, {"date"}), climate.day); });
}

void read_activity(Reader& r, ionosphere::Climate& climate) {
  const auto told = files::told_activity([&](const char* key) { return r.find(key) != nullptr; });
  if (told.beside != nullptr)
    r.wrong("r12", "more than one measure of solar activity", "one of r12, ssn_v2, f107");
  if (told.index) {
    double value = 0;
    if (r.number(files::field("trip", told.key), value))
      climate.r12 = ionosphere::told_activity(*told.index, value).r12;
  } else if (climate.day.ok()) {
    climate.r12 = ionosphere::forecast(Month{climate.day.year() / climate.day.month()}).r12;
  }
  std::size_t maps = 0;
  r.word("maps", {"ccir", "ursi"}, maps);
  climate.maps = maps == 1 ? ionosphere::MapSet::ursi : ionosphere::MapSet::ccir;
}

}  // namespace

void read_climate(Reader& r, ionosphere::Climate& climate) {
  climate.day = Day{};
  read_when(r, climate);
  read_activity(r, climate);
  if (r.find("field_epoch") != nullptr) r.number(files::field("trip", "field_epoch"), climate.field_epoch);
  read_measured(r, climate);
}

void read_measured(Reader& r, ionosphere::Climate& climate) {
  r.list("fof2", R"(1 to 20 readings, as ["6.2@-20.1,57.5@14:30"])", [&](const Json& item) {
    if (!item.is_string() || climate.measured.size() >= ionosphere::most_measured)
      return r.wrong("fof2", shown(item), R"(at most 20 readings, as "6.2@-20.1,57.5@14:30")");
    ionosphere::MeasuredFof2 reading;
    r.take(ionosphere::parse_measured(item.get<std::string>(), std::nullopt, {"fof2"}), reading);
    if (reading.mhz > 0) climate.measured.push_back(reading);
  });
}

std::vector<circuit::PathQuestion::Frequency> read_frequencies(Reader& r, GeoPoint from,
                                                               const std::vector<std::string>& otherwise) {
  const int region = geodesy::itu_region_number(from);
  std::vector<circuit::PathQuestion::Frequency> out;
  const auto by_name = [&](const std::string& name) {
    noise::Band band;
    r.take(noise::find_band(name, region, {"bands"}), band);
    out.push_back({band.id, band.mhz});
  };
  r.list("bands", R"(1 to 100 bands, as ["40m", "20m"])", [&](const Json& item) {
    if (!item.is_string()) return r.wrong("bands", shown(item), R"(bands, as "40m")");
    by_name(item.get<std::string>());
  });
  r.list("mhz", "1 to 100 frequencies, as [7.03, 14.06]", [&](const Json& item) {
    const double mhz = item.is_number() ? item.get<double>() : std::nan("");
    if (!files::good(mhz, files::field("question", "mhz").range))
      return r.wrong("mhz", shown(item), "frequencies from 1.6 to 54 MHz");
    const auto band = noise::band_of(mhz, region);
    out.push_back({band ? band->id : std::string{}, mhz});
  });
  if (r.find("bands") == nullptr && r.find("mhz") == nullptr) {
    for (const auto& name : otherwise) by_name(name);
    if (!otherwise.empty()) return out;
    for (const auto& band : noise::bands(region)) {
      if (band.low_mhz < 30) out.push_back({band.id, band.mhz});
    }
  }
  return out;
}

void read_ends(Reader& r, circuit::PathEnd& from, circuit::PathEnd& to) {
  from.environment = noise::Environment::quiet;
  r.number("power_w", from.power_w);
  r.number("to_power_w", to.power_w);
  r.number("gain_from_dbi", from.gain_dbi);
  r.number("gain_to_dbi", to.gain_dbi);
  r.number("spread_to_db", to.spread_db);
  r.number("noise_figure_db", from.noise_figure_db);
  to.noise_figure_db = from.noise_figure_db;
  r.number("skyline_deg", from.skyline.deg);
  r.number("skyline_km", from.skyline.km);
  constexpr const char* classes = "city, residential, rural or quiet";
  r.text("noise_from", classes, [&](const std::string& text) {
    r.take(noise::parse_environment(text, {"noise_from"}), from.environment);
  });
  r.text("noise_to", classes, [&](const std::string& text) {
    r.take(noise::parse_environment(text, {"noise_to"}), to.environment);
  });
}

void read_method(Reader& r, noise::Mode& mode, circuit::Settings& settings) {
  std::string name = "cw";
  r.text("mode", "a mode of emission, as \"cw\"", [&](const std::string& text) { name = text; });
  r.take(noise::find_mode(name, {"mode"}), mode);
  std::size_t choice = 0;
  r.word("absorption", {"lucas-haydon", "foe-index"}, choice);
  if (choice == 1) settings.absorption = circuit::Absorption::foe_index;
  choice = 0;
  r.word("ground_loss", {"by-surface", "fixed"}, choice);
  if (choice == 1) settings.ground_loss = circuit::GroundLoss::fixed_2_db;
  choice = 0;
  r.word("far_method", {"hops", "limits"}, choice);
  if (choice == 1) settings.far = circuit::FarMethod::limits;
  choice = 0;
  r.word("es", {"on", "off"}, choice);
  if (choice == 1) settings.sporadic_e = false;
}

void read_hours(Reader& r, std::array<bool, 24>& hours) {
  if (r.find("hours") == nullptr) hours = circuit::every_hour;
  r.list("hours", "whole UTC hours, as [0, 6, 12, 18]", [&](const Json& item) {
    const double hour = item.is_number() ? item.get<double>() : std::nan("");
    if (!(hour >= 0 && hour <= 23 && hour == std::floor(hour)))
      return r.wrong("hours", shown(item), "whole UTC hours from 0 to 23");
    nth(hours, hour) = true;
  });
}

}  // namespace skerry::engine
