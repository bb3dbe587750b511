#include "alone.hpp"

#include "question_reader.hpp"
#include "settings.hpp"
#include "skerry/engine/antenna.hpp"
#include "skerry/engine/batch.hpp"
#include "skerry/files/told_activity.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/geodesy/apart.hpp"
#include "skerry/words/cautions.hpp"

namespace skerry::engine {

namespace {

/// Of a question to `pack` or `explain`, whose mistakes it may be too.
Checked<Said> checked(Result<std::string> result, const kit::Trip& trip) {
  if (!result) return tl::unexpected(std::vector<Error>{std::move(result.error())});
  return Said{std::move(*result), doubts(trip)};
}

/// The trip with what is set beside it.
Checked<kit::Trip> set_trip(const std::string& toml, const std::string& name, const Settings& set,
                            const Surroundings& around) {
  const auto read = [&](const std::string& text) {
    return files::read_trip(text, name, around.read, around.terrain);
  };
  auto trip = read(toml);
  if (!trip || set == Settings{}) return trip;
  const auto edited = with_settings(toml, *trip, set);
  if (!edited) return tl::unexpected(std::vector<Error>{edited.error()});
  trip = read(*edited);
  if (trip) apply_to_library(*trip, set);
  return trip;
}

/// The trip, with what `pack` and `explain` may say beside it.
std::optional<kit::Trip> trip_of(Reader& r, const Surroundings& around, std::vector<Error>& errors) {
  const Json* const wished = r.find("set");
  const auto set = wished == nullptr ? Settings{} : read_settings(*wished, errors);
  auto trip = set_trip(text(r, "trip"), text(r, "name", trip_name), set, around);
  if (!trip) {
    errors.insert(errors.end(), trip.error().begin(), trip.error().end());
    return std::nullopt;
  }
  std::size_t es = 0;
  r.word("es", {"on", "off"}, es);
  trip->sporadic_e = es == 0;
  read_measured(r, trip->climate);
  return std::move(*trip);
}

Checked<Said> pack_of(const Json& message, const Surroundings& around) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "trip", "name", "files", "format", "columns", "table", "show", "drop", "add",
          "mass_limit_kg", "tolerance_percent", "set", "es", "fof2"});
  const auto shape = shape_of(r);
  PackAsk ask;
  ask.format = shape.format;
  ask.style = shape.style;
  std::size_t table = 0;
  r.word("table", {"hours", "things"}, table);
  ask.table = static_cast<PackTable>(table);
  if (r.find("table") != nullptr && ask.format != Format::csv)
    r.wrong("table", "a table", R"("format": "csv" with it)");
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
  auto trip = trip_of(r, around, errors);
  double limit_kg = 0, tolerance = 0;
  const bool limited = r.number(files::field("trip", "mass_limit_kg"), limit_kg);
  const bool tolerant = r.number(files::field("trip", "tolerance_percent"), tolerance);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  if (limited) trip->mass_limit_g = 1000 * limit_kg;
  if (tolerant) trip->tolerance = tolerance / 100;
  return checked(pack(*trip, ask, around.stop), *trip);
}

Checked<Said> explain_of(const Json& message, const Surroundings& around) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "trip", "name", "files", "format", "columns", "bands", "hour", "region", "site", "set",
          "es", "fof2"});
  const auto shape = shape_of(r);
  if (shape.format == Format::csv) r.wrong("format", "'csv'", "text or json");
  ExplainAsk ask;
  ask.format = shape.format;
  ask.style = shape.style;
  ask.bands = names(r, "bands");
  ask.region = text(r, "region");
  ask.site = text(r, "site");
  double hour = 0;
  if (r.number("hour", {0, 23, "UTC", true}, hour)) ask.hour = static_cast<int>(hour);
  const auto trip = trip_of(r, around, errors);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return checked(explain(*trip, ask), *trip);
}

Checked<Said> antenna_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do",           "id",         "trip",       "format",     "columns",  "antenna",
          "mhz",          "ground",     "eps_r",      "sigma",      "height_m", "end_height_m",
          "far_height_m", "conductive", "standoff_m", "cable",      "cable_m",  "tuner",
          "shape",        "sea_from_m", "slope_deg",  "toward_deg", "explain",  "name"});
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
  const auto name = text(r, "name", trip_name);
  const auto antennas = files::read_antennas(text(r, "trip"), name);
  if (!antennas) errors.insert(errors.end(), antennas.error().begin(), antennas.error().end());
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  const auto rows = antenna_rows(*antennas, ask, name);
  if (!rows) return tl::unexpected(std::vector<Error>{rows.error()});
  return said(
      shape, {}, [&] { return words::antenna_text(*rows, shape.style); },
      [&] { return forms::antenna_json(*rows); }, [&] { return forms::antenna_csv(*rows); });
}

/// The question of `path` with the positions of places that it names.
Json placed(const Json& question, Places& places, std::vector<Error>& errors) {
  Json out = question;
  Reader r(question, errors);
  for (const auto& [key, argument] : {std::pair{"from", "FROM"}, std::pair{"to", "TO"}}) {
    const auto named = question.find(key);
    if (named == question.end() || !named->is_string()) continue;
    GeoPoint at;
    place(r, key, places, argument, at);
    out[key] = {{"lat_deg", at.lat_deg}, {"lon_deg", at.lon_deg}};
  }
  return out;
}

Checked<Said> path_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "format", "columns", "question", "spread", "kp", "flare", "protons"});
  const auto shape = shape_of(r);
  circuit::Disturbance disturbance;
  r.number("kp", {0, 9, "a Kp index"}, disturbance.kp);
  disturbance.flare = flag(r, "flare");
  disturbance.protons = flag(r, "protons");
  const bool spread = flag(r, "spread");
  const Json* const question = r.find("question");
  if (question == nullptr)
    r.wrong("question", "nothing", "an object with the keys of a line of 'skerry batch'");
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  Places places;
  const auto asked = placed(*question, places, errors);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  std::string id;
  auto request = read_request(asked.dump(-1, ' ', false, Json::error_handler_t::replace), id);
  if (!request) return tl::unexpected(request.error());
  auto& q = request->question;
  if (const auto apart = geodesy::check_apart(q.from.at, q.to.at, {"to"}, "the first"); !apart)
    return tl::unexpected(std::vector<Error>{apart.error()});
  q.spread = spread;
  q.disturbance = disturbance;
  auto answer = circuit::answer(q);
  answer.from_named = places.named("FROM");
  answer.to_named = places.named("TO");
  if (!files::told_activity([&](const char* key) { return asked.contains(key); }).index)
    answer.asker_note =
        words::activity_note(ionosphere::forecast(q.climate.day.year() / q.climate.day.month()));
  return said(
      shape, places, [&] { return words::path_text(answer, shape.style); },
      [&] { return forms::path_json(answer); }, [&] { return forms::path_csv(answer); });
}

}  // namespace

std::map<std::string, std::string> files_of(const Json& message) {
  std::map<std::string, std::string> out;
  const auto given = message.find("files");
  if (given == message.end() || !given->is_object()) return out;
  for (const auto& [name, content] : given->items()) {
    if (content.is_string()) out[name] = content.get<std::string>();
  }
  return out;
}

files::FileReader from_files(std::map<std::string, std::string> files, const files::FileReader& others) {
  return [files = std::move(files), others](const std::string& wanted,
                                            const Where& where) -> Result<std::string> {
    if (const auto found = files.find(wanted); found != files.end()) return found->second;
    if (others) return others(wanted, where);
    return fail(where, "file '" + one_line(wanted) + "', which is not here",
                "a trip whose files were given with it");
  };
}

std::optional<Checked<Said>> answer_alone(const std::string& what, const Json& message,
                                          const Surroundings& around) {
  if (what == "pack") return pack_of(message, around);
  if (what == "explain") return explain_of(message, around);
  if (what == "antenna") return antenna_of(message);
  if (what == "path") return path_of(message);
  if (what == "sun") return sun_of(message);
  if (what == "ionosphere") return sky_of(message);
  if (what == "score") return score_of(message);
  return std::nullopt;
}

}  // namespace skerry::engine
