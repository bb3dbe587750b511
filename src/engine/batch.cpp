#include "skerry/engine/batch.hpp"

#include <fmt/format.h>

#include <cmath>
#include <new>

#include "json_reader.hpp"
#include "skerry/core/json_scan.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/told_activity.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/ionosphere/measured.hpp"

namespace skerry::engine {

namespace {

const std::vector<std::string>& keys() {
  static const std::vector<std::string> known{"id",          "from",         "to",          "month",
                                              "date",        "r12",          "ssn_v2",      "f107",
                                              "maps",        "bands",        "mhz",         "way",
                                              "mode",        "power_w",      "to_power_w",  "gain_from_dbi",
                                              "gain_to_dbi", "noise_from",   "noise_to",    "noise_figure_db",
                                              "skyline_deg", "absorption",   "ground_loss", "far_method",
                                              "es",          "spread_to_db", "want_days",   "hours",
                                              "modes",       "fof2"};
  return known;
}

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

void read_measured(Reader& r, ionosphere::Climate& climate) {
  r.list("fof2", R"(1 to 20 readings, as ["6.2@-20.1,57.5@14:30"])", [&](const Json& item) {
    if (!item.is_string() || climate.measured.size() >= ionosphere::most_measured)
      return r.wrong("fof2", shown(item), R"(at most 20 readings, as "6.2@-20.1,57.5@14:30")");
    ionosphere::MeasuredFof2 reading;
    r.take(ionosphere::parse_measured(item.get<std::string>(), std::nullopt, {"fof2"}), reading);
    if (reading.mhz > 0) climate.measured.push_back(reading);
  });
}

void read_frequencies(Reader& r, circuit::PathQuestion& q) {
  const int region = geodesy::itu_region(q.from.at).region;
  r.list("bands", R"(1 to 100 bands, as ["40m", "20m"])", [&](const Json& item) {
    if (!item.is_string()) return r.wrong("bands", shown(item), R"(bands, as "40m")");
    noise::Band band;
    r.take(noise::find_band(item.get<std::string>(), region, {"bands"}), band);
    q.frequencies.push_back({band.id, band.mhz});
  });
  r.list("mhz", "1 to 100 frequencies, as [7.03, 14.06]", [&](const Json& item) {
    const double mhz = item.is_number() ? item.get<double>() : std::nan("");
    if (!files::good(mhz, files::field("question", "mhz").range))
      return r.wrong("mhz", shown(item), "frequencies from 1.6 to 54 MHz");
    const auto band = noise::band_of(mhz, region);
    q.frequencies.push_back({band ? band->id : std::string{}, mhz});
  });
  if (r.find("bands") == nullptr && r.find("mhz") == nullptr) {
    for (const auto& band : noise::bands(region)) {
      if (band.low_mhz < 30) q.frequencies.push_back({band.id, band.mhz});
    }
  }
}

void read_ends(Reader& r, circuit::PathQuestion& q) {
  q.from.environment = noise::Environment::quiet;
  r.number("power_w", q.from.power_w);
  r.number("to_power_w", q.to.power_w);
  r.number("gain_from_dbi", q.from.gain_dbi);
  r.number("gain_to_dbi", q.to.gain_dbi);
  r.number("spread_to_db", q.to.spread_db);
  r.number("noise_figure_db", q.from.noise_figure_db);
  q.to.noise_figure_db = q.from.noise_figure_db;
  r.number("skyline_deg", q.from.skyline_deg);
  constexpr const char* classes = "city, residential, rural or quiet";
  r.text("noise_from", classes, [&](const std::string& text) {
    r.take(noise::parse_environment(text, {"noise_from"}), q.from.environment);
  });
  r.text("noise_to", classes, [&](const std::string& text) {
    r.take(noise::parse_environment(text, {"noise_to"}), q.to.environment);
  });
}

void read_choices(Reader& r, Request& request) {
  circuit::PathQuestion& q = request.question;
  std::string mode = "cw";
  r.text("mode", "a mode of emission, as \"cw\"", [&](const std::string& text) { mode = text; });
  r.take(noise::find_mode(mode, {"mode"}), q.mode);
  std::size_t way = 0;
  r.word("way", {"short", "long", "both"}, way);
  if (way == 1) q.ways = {geodesy::Way::long_way};
  if (way == 2) q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  std::size_t choice = 0;
  r.word("absorption", {"lucas-haydon", "foe-index"}, choice);
  if (choice == 1) q.settings.absorption = circuit::Absorption::foe_index;
  choice = 0;
  r.word("ground_loss", {"by-surface", "fixed"}, choice);
  if (choice == 1) q.settings.ground_loss = circuit::GroundLoss::fixed_2_db;
  choice = 0;
  r.word("far_method", {"hops", "limits"}, choice);
  if (choice == 1) q.settings.far = circuit::FarMethod::limits;
  choice = 0;
  r.word("es", {"on", "off"}, choice);
  if (choice == 1) q.settings.sporadic_e = false;
  r.number("want_days", q.want_days_in_ten);
  if (r.find("hours") == nullptr) request.options.hours.fill(true);
  r.list("hours", "whole UTC hours, as [0, 6, 12, 18]", [&](const Json& item) {
    const double hour = item.is_number() ? item.get<double>() : std::nan("");
    if (!(hour >= 0 && hour <= 23 && hour == std::floor(hour)))
      return r.wrong("hours", shown(item), "whole UTC hours from 0 to 23");
    nth(request.options.hours, hour) = true;
  });
  q.shown_hours = request.options.hours;
  if (const Json* modes = r.find("modes")) {
    if (!modes->is_boolean()) {
      r.wrong("modes", shown(*modes), "true or false");
    } else {
      request.options.modes = modes->get<bool>();
    }
  }
}

}  // namespace

Checked<Request> read_request(std::string_view line, std::string& id_json) {
  const auto refuse_all = [](std::string found, std::string accepted) {
    return tl::unexpected<std::vector<Error>>({mistake({}, std::move(found), std::move(accepted))});
  };
  constexpr const char* shape =
      R"(one JSON object a line, as {"id": 1, "from": "-19.70,63.43", "to": "JN45", "month": "2027-02"})";
  if (line.size() > most_line_bytes)
    return refuse_all("a longer line", fmt::format("at most {} bytes a line", most_line_bytes));
  std::vector<Error> errors;
  const auto parsed = parse_object(line, shape, errors);
  if (!parsed) return tl::unexpected(std::vector<Error>{parsed.error()});
  const Json& object = *parsed;
  // As it was written: a number of many digits would not come out of a double as it went in.
  id_json = member_text(line, "id");

  Request out;
  Reader r(object, errors);
  r.know(keys());
  r.place("from", out.question.from.at);
  r.place("to", out.question.to.at);
  out.question.climate.day = Day{};
  read_when(r, out.question.climate);
  read_activity(r, out.question.climate);
  read_measured(r, out.question.climate);
  read_frequencies(r, out.question);
  read_ends(r, out.question);
  read_choices(r, out);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  if (out.question.frequencies.size() > 100)
    return refuse_all(fmt::format("{} frequencies", out.question.frequencies.size()), "at most 100");
  out.id_json = out.options.id_json = id_json;
  return out;
}

std::string error_line(const std::vector<Error>& errors, std::size_t line_number,
                       const std::string& id_json) {
  const Error& first = errors.front();
  Json out = Json::object();
  out["error"] = first.to_line();
  out["line"] = line_number;
  if (!first.where.file.empty()) out["where"] = first.where.file;
  out["found"] = first.found;
  out["accepted"] = first.accepted;
  if (!first.mend.empty()) out["hint"] = first.mend;
  if (errors.size() > 1) out["more"] = errors.size() - 1;
  std::string text = out.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  if (!id_json.empty()) text.insert(1, "\"id\":" + id_json + ",");
  return text + "\n";
}

std::string answer_line(std::string_view line, std::size_t line_number, const forms::PathTable* table,
                        bool* good) {
  std::string id_json;
  const auto refuse = [&](const std::vector<Error>& errors) {
    if (good != nullptr) *good = false;
    if (table != nullptr) return fmt::format("line {}: {}\n", line_number, errors.front().to_line());
    return error_line(errors, line_number, id_json);
  };
  if (good != nullptr) *good = true;
  try {
    const auto request = read_request(line, id_json);
    if (!request) return refuse(request.error());
    const auto answer = circuit::answer(request->question);
    if (table != nullptr) return table->rows(answer, id_json, request->options.hours);
    return forms::path_line(answer, request->options);
  } catch (const std::bad_alloc&) {
    return refuse({mistake({}, "not enough memory for this", "a smaller request")});
  }
}

}  // namespace skerry::engine
