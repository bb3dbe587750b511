#include "skerry/engine/batch.hpp"

#include <fmt/format.h>

#include <new>

#include "alone.hpp"
#include "question_reader.hpp"
#include "skerry/core/json_scan.hpp"
#include "skerry/core/text.hpp"

namespace skerry::engine {

namespace {

const std::vector<std::string>& keys() {
  static const std::vector<std::string> known{"id",          "from",       "to",           "month",
                                              "date",        "r12",        "ssn_v2",       "f107",
                                              "maps",        "bands",      "mhz",          "way",
                                              "mode",        "power_w",    "to_power_w",   "gain_from_dbi",
                                              "gain_to_dbi", "noise_from", "noise_to",     "noise_figure_db",
                                              "skyline_deg", "skyline_km", "absorption",   "ground_loss",
                                              "far_method",  "es",         "spread_to_db", "want_days",
                                              "hours",       "modes",      "fof2",         "field_epoch"};
  return known;
}

void read_choices(Reader& r, Request& request) {
  circuit::PathQuestion& q = request.question;
  std::size_t way = 0;
  r.word("way", {"short", "long", "both"}, way);
  if (way == 1) q.ways = {geodesy::Way::long_way};
  if (way == 2) q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  r.number("want_days", q.want_days_in_ten);
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
  read_climate(r, out.question.climate);
  out.question.frequencies = read_frequencies(r, out.question.from.at, {});
  read_ends(r, out.question.from, out.question.to);
  read_method(r, out.question.mode, out.question.settings);
  read_choices(r, out);
  read_hours(r, out.options.hours);
  out.question.shown_hours = out.options.hours;
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

namespace {

/// A line that asks what to pack. Session's message, but that "trip" may be a file's name.
Checked<Said> pack_asked(std::string_view line, const TripFiles& trips) {
  std::vector<Error> errors;
  auto parsed =
      parse_object(line, R"(one JSON object a line, as {"do": "pack", "trip": "rodrigues.toml"})", errors);
  if (!parsed) return tl::unexpected(std::vector<Error>{parsed.error()});
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  Json& message = *parsed;
  Reader r(message, errors);
  constexpr const char* accepted = "a trip file's text, or its name";
  const std::string trip = text(r, "trip");
  if (r.find("trip") == nullptr) r.wrong("trip", "no trip", accepted);
  // One line on a page and many in a table; of text there is neither on a line of JSON.
  for (const char* key : {"format", "columns", "show"}) {
    if (r.find(key) != nullptr)
      r.wrong(key, "'" + std::string(key) + "'", "the answer in JSON, or '--fields'");
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  Surroundings around;
  // No trip is told without a line break, and no file's name has one.
  if (trip.find('\n') == std::string::npos) {
    if (!trips.text)
      return tl::unexpected(std::vector<Error>{mistake(
          "trip", "'" + one_line(trip) + "'", "a trip file's text", "--trips FOLDER lets lines name files")});
    auto read = trips.text(trip, {"trip"});
    if (!read) return tl::unexpected(std::vector<Error>{read.error()});
    message["trip"] = std::move(*read);
    if (r.find("name") == nullptr) message["name"] = trip;
    around = trips.beside(trip);
  }
  message["format"] = "json";
  around.read = from_files(files_of(message), around.read);
  return answer_alone("pack", message, around).value();
}

}  // namespace

std::string answer_line(std::string_view line, std::size_t line_number, const LineForm& form, bool* good) {
  std::string id_json;
  const bool table = form.paths != nullptr || form.packs != nullptr;
  const auto refuse = [&](const std::vector<Error>& errors) {
    if (good != nullptr) *good = false;
    if (table) return fmt::format("line {}: {}\n", line_number, errors.front().to_line());
    return error_line(errors, line_number, id_json);
  };
  if (good != nullptr) *good = true;
  try {
    const auto what = line.size() > most_line_bytes ? std::string() : member_text(line, "do");
    if (what == R"("pack")") {
      id_json = member_text(line, "id");
      if (form.paths != nullptr)
        return refuse({mistake("do", "a trip among paths", "columns of 'pack' alone after --fields")});
      const auto said = pack_asked(line, form.trips);
      if (!said) return refuse(said.error());
      return form.packs != nullptr ? form.packs->row(said->text, id_json)
                                   : forms::pack_line(said->text, id_json, said->warnings);
    }
    if (!what.empty()) {
      id_json = member_text(line, "id");
      return refuse({mistake("do", one_line(what), R"("pack", or no "do": a path)")});
    }
    auto request = read_request(line, id_json);
    if (!request) return refuse(request.error());
    if (form.packs != nullptr)
      return refuse(
          {mistake({}, "a path among trips", R"("do": "pack", or columns of paths after --fields)")});
    request->question.wanted = form.paths != nullptr ? form.paths->wanted() : forms::line_wants;
    const auto answer = circuit::answer(request->question);
    if (form.paths != nullptr) return form.paths->rows(answer, id_json, request->options.hours);
    return forms::path_line(answer, request->options);
  } catch (const std::bad_alloc&) {
    return refuse({mistake({}, "not enough memory for this", "a smaller request")});
  }
}

}  // namespace skerry::engine
