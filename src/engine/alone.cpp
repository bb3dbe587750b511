#include "alone.hpp"

#include "skerry/engine/antenna.hpp"
#include "skerry/engine/batch.hpp"
#include "skerry/engine/pack.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::engine {

namespace {

Checked<std::string> checked(Result<std::string> result) {
  if (!result) return tl::unexpected(std::vector<Error>{std::move(result.error())});
  return std::move(*result);
}

/// What all of them may say.
struct Shape {
  Format format = Format::text;
  words::Style style;
};
Shape shape_of(Reader& r) {
  Shape out;
  std::size_t format = 0;
  r.word("format", {"text", "json", "csv"}, format);
  out.format = static_cast<Format>(format);
  double columns = out.style.columns;
  if (r.number("columns", {60, 200, "columns", true}, columns)) out.style.columns = static_cast<int>(columns);
  return out;
}

std::vector<std::string> names(Reader& r, const char* key) {
  std::vector<std::string> out;
  r.list(key, R"(a list of 1 to 100 names, as ["a", "b"])", [&](const Json& item) {
    if (!item.is_string()) return r.wrong(key, shown(item), "names in quotes");
    out.push_back(item.get<std::string>());
  });
  return out;
}

std::string text(Reader& r, const char* key, std::string otherwise = {}) {
  r.text(key, "text in quotes", [&](const std::string& said) { otherwise = said; });
  return otherwise;
}

bool flag(Reader& r, const char* key) {
  const Json* value = r.find(key);
  if (value == nullptr) return false;
  if (!value->is_boolean()) r.wrong(key, shown(*value), "true or false");
  return value->is_boolean() && value->get<bool>();
}

/// The trip, with what `pack` and `explain` may say beside it.
std::optional<kit::Trip> trip_of(Reader& r, const files::FileReader& files, std::vector<Error>& errors) {
  auto trip = files::read_trip(text(r, "trip"), trip_name, files);
  if (!trip) {
    errors.insert(errors.end(), trip.error().begin(), trip.error().end());
    return std::nullopt;
  }
  std::size_t es = 0;
  r.word("es", {"on", "off"}, es);
  trip->sporadic_e = es == 0;
  return std::move(*trip);
}

Checked<std::string> pack_of(const Json& message, const files::FileReader& files) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "trip", "files", "format", "columns", "show", "drop", "add", "mass_limit_kg",
          "tolerance_percent", "es"});
  const auto shape = shape_of(r);
  PackAsk ask;
  ask.format = shape.format;
  ask.style = shape.style;
  const std::vector<std::string> sections(words::section_names.begin(), words::section_names.end());
  for (const auto& name : names(r, "show")) {
    const auto found = std::find(sections.begin(), sections.end(), name);
    if (found == sections.end() && name != "all")
      r.wrong("show", "'" + one_line(name) + "'", fmt::format("some of: all, {}", fmt::join(sections, ", ")),
              did_you_mean(name, sections));
    for (std::size_t i = 0; i < sections.size(); ++i) {
      if (name == "all" || name == sections[i]) ask.show.push_back(static_cast<words::Section>(i));
    }
  }
  ask.drop = names(r, "drop");
  ask.add = names(r, "add");
  auto trip = trip_of(r, files, errors);
  double limit_kg = 0, tolerance = 0;
  const bool limited = r.number(files::field("trip", "mass_limit_kg"), limit_kg);
  const bool tolerant = r.number(files::field("trip", "tolerance_percent"), tolerance);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  if (limited) trip->mass_limit_g = 1000 * limit_kg;
  if (tolerant) trip->tolerance = tolerance / 100;
  return checked(pack(*trip, ask));
}

Checked<std::string> explain_of(const Json& message, const files::FileReader& files) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "trip", "files", "columns", "bands", "hour", "region", "site", "es"});
  ExplainAsk ask;
  ask.style = shape_of(r).style;
  ask.bands = names(r, "bands");
  ask.region = text(r, "region");
  ask.site = text(r, "site");
  double hour = 0;
  if (r.number("hour", {0, 23, "UTC", true}, hour)) ask.hour = static_cast<int>(hour);
  const auto trip = trip_of(r, files, errors);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return checked(explain(*trip, ask));
}

Checked<std::string> antenna_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do",           "id",         "trip",       "format",     "columns",  "antenna",
          "mhz",          "ground",     "eps_r",      "sigma",      "height_m", "end_height_m",
          "far_height_m", "conductive", "standoff_m", "cable",      "cable_m",  "tuner",
          "shape",        "sea_from_m", "slope_deg",  "toward_deg", "explain"});
  const auto shape = shape_of(r);
  AntennaAsk ask;
  ask.id = text(r, "antenna");
  if (r.find("mhz") != nullptr) ask.mhz.clear();
  r.list("mhz", "1 to 100 frequencies, as [7.03, 14.06]", [&](const Json& item) {
    const double mhz = item.is_number() ? item.get<double>() : std::nan("");
    if (!(mhz >= 1.6 && mhz <= 60)) return r.wrong("mhz", shown(item), "frequencies from 1.6 to 60 MHz");
    ask.mhz.push_back(mhz);
  });
  ask.ground = text(r, "ground", ask.ground);
  const auto maybe = [&](const char* key, const files::Range& range, std::optional<double>& into) {
    if (double value = 0; r.number(key, range, value)) into = value;
  };
  maybe("eps_r", files::field("site.ground", "eps_r").range, ask.eps_r);
  maybe("sigma", files::field("site.ground", "sigma_s_per_m").range, ask.sigma);
  r.number("height_m", {0.1, 100, "m"}, ask.height_m);
  r.number("end_height_m", {0, 100, "m"}, ask.end_height_m);
  r.number("far_height_m", {0, 100, "m"}, ask.far_height_m);
  ask.conductive = flag(r, "conductive");
  maybe("standoff_m", {0.01, 5, "m"}, ask.standoff_m);
  ask.cable = text(r, "cable");
  r.number("cable_m", {0, 500, "m"}, ask.cable_m);
  ask.tuner = flag(r, "tuner");
  ask.shape = text(r, "shape");
  maybe("sea_from_m", files::field("site", "sea_from_m").range, ask.sea_from_m);
  r.number("slope_deg", files::field("site", "slope_deg").range, ask.slope_deg);
  maybe("toward_deg", {0, 360, "degrees"}, ask.toward_deg);
  ask.explain = flag(r, "explain");
  const auto antennas = files::read_antennas(text(r, "trip"), trip_name);
  if (!antennas) errors.insert(errors.end(), antennas.error().begin(), antennas.error().end());
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  const auto rows = antenna_rows(*antennas, ask, trip_name);
  if (!rows) return tl::unexpected(std::vector<Error>{rows.error()});
  if (shape.format == Format::json) return forms::antenna_json(*rows);
  if (shape.format == Format::csv) return forms::antenna_csv(*rows);
  return words::antenna_text(*rows, shape.style);
}

Checked<std::string> path_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "format", "columns", "question"});
  const auto shape = shape_of(r);
  const Json* const question = r.find("question");
  if (question == nullptr)
    r.wrong("question", "nothing", "an object with the keys of a line of 'skerry batch'");
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  std::string id;
  const auto request = read_request(question->dump(-1, ' ', false, Json::error_handler_t::replace), id);
  if (!request) return tl::unexpected(request.error());
  const auto answer = circuit::answer(request->question);
  if (shape.format == Format::json) return forms::path_json(answer);
  if (shape.format == Format::csv) return forms::path_csv(answer);
  return words::path_text(answer, shape.style);
}

}  // namespace

std::optional<Checked<std::string>> answer_alone(const std::string& what, const Json& message,
                                                 const files::FileReader& files) {
  if (what == "pack") return pack_of(message, files);
  if (what == "explain") return explain_of(message, files);
  if (what == "antenna") return antenna_of(message);
  if (what == "path") return path_of(message);
  return std::nullopt;
}

}  // namespace skerry::engine
