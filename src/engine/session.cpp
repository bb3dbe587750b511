#include "skerry/engine/session.hpp"

#include <map>
#include <new>
#include <set>
#include <utility>

#include "alone.hpp"
#include "json_reader.hpp"
#include "rays.hpp"
#include "settings.hpp"
#include "skerry/advice/prepared.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/engine/report.hpp"
#include "skerry/files/edit.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/page/html.hpp"
#include "skerry/page/rays.hpp"

namespace skerry::engine {

namespace {

std::string dumped(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json told(const std::vector<Error>& errors) {
  Json list = Json::array();
  for (const auto& error : errors) {
    Json one = Json::object();
    if (!error.where.file.empty()) one["where"] = error.where.file;
    if (error.where.line > 0) one["line"] = error.where.line;
    if (error.where.column > 0) one["column"] = error.where.column;
    one["found"] = error.found;
    one["accepted"] = error.accepted;
    if (!error.mend.empty()) one["mend"] = error.mend;
    list.push_back(std::move(one));
  }
  std::string lines;
  for (const auto& error : errors) lines += (lines.empty() ? "" : "\n") + error.to_line();
  return {{"ok", false}, {"error", std::move(lines)}, {"errors", std::move(list)}};
}

std::vector<Error> mistakes(std::string where, std::string found, std::string accepted,
                            std::string mend = {}) {
  return {Error{{std::move(where)}, std::move(found), std::move(accepted), std::move(mend)}};
}

std::optional<std::string> text_of(const Json& message, const char* key) {
  const auto found = message.find(key);
  if (found == message.end() || !found->is_string()) return std::nullopt;
  return found->get<std::string>();
}

void put_parts(Json& into, const std::vector<page::Part>& parts) {
  for (const auto& part : parts) into[part.name] = part.html;
}

}  // namespace

struct Session::State {
  Surroundings around;
  std::string text;                          ///< the trip file as it was opened
  std::map<std::string, std::string> files;  ///< what it names
  kit::Trip trip;                            ///< as it was opened
  Settings settings;                         ///< beside it
  std::optional<advice::Prepared> prepared;  ///< the trip with the settings
  advice::Changes changes;
  advice::Advice advice;

  [[nodiscard]] Checked<kit::Trip> read(const std::string& from) const {
    return files::read_trip(from, trip_name, from_files(files, around.read));
  }

  Json open(const Json& message) {
    const auto wanted = text_of(message, "trip");
    if (!wanted) return told(mistakes("trip", "no text", "the trip file's text under \"trip\""));
    State fresh;
    fresh.around = around;
    fresh.text = *wanted;
    fresh.files = files_of(message);
    auto read = fresh.read(fresh.text);
    if (!read) return told(read.error());
    fresh.trip = std::move(*read);
    fresh.prepared.emplace(fresh.trip);
    fresh.advice = fresh.prepared->decide();
    *this = std::move(fresh);
    return answered();
  }

  /// Ids of a list as numbers of things; what is not there any more is passed over.
  [[nodiscard]] std::vector<int> things_of(const Json& message, const char* key) const {
    std::vector<int> out;
    const auto list = message.find(key);
    if (list == message.end() || !list->is_array()) return out;
    const auto& by_id = prepared->inventory().by_id;
    for (const auto& id : *list) {
      if (!id.is_string()) continue;
      const auto found = by_id.find(id.get<std::string>());
      if (found != by_id.end() && std::find(out.begin(), out.end(), found->second) == out.end())
        out.push_back(found->second);
    }
    return out;
  }

  Json change(const Json& message) {
    if (!prepared) return told(mistakes("do", "'change' before 'open'", "a trip that is open"));
    std::vector<Error> errors;
    Reader reader(message, errors);
    advice::Changes wanted;
    if (double limit = 0; reader.number("limit_g", {1, 100000, "grams"}, limit)) wanted.limit_g = limit;
    const Json* const set = reader.find("set");
    const auto wished = set == nullptr ? Settings{} : read_settings(*set, errors);
    if (!errors.empty()) return told(errors);
    const auto trip_before = prepared->trip_with(changes);
    if (wished != settings) {
      const auto edited = with_settings(text, trip, wished);
      if (!edited) return told({edited.error()});
      auto next = read(*edited);
      if (!next) return told(next.error());
      apply_to_library(*next, wished);
      prepared.emplace(std::move(*next));
      settings = wished;
    }
    wanted.must_go = things_of(message, "must_go");
    wanted.not_mine = things_of(message, "not_mine");
    auto decided = prepared->decide(wanted);
    const auto before = std::exchange(advice, std::move(decided));
    changes = std::move(wanted);
    return answered({{"said", page::change_text(trip_before, before, prepared->trip_with(changes), advice)}});
  }

  Json rest() {
    if (!prepared) return told(mistakes("do", "'rest' before 'open'", "a trip that is open"));
    advice::AdviceOptions options;
    options.remedies = true;
    prepared->complete(advice, options);
    const auto now = prepared->trip_with(changes);
    const auto picture = advice::make_picture(now, advice);
    Json out = answered({{"data", Json::parse(page::page_json(now, advice, picture))}});
    put_parts(out["parts"], page::slow_parts(now, advice, picture, plain_words(now, advice)));
    return out;
  }

  /// One cell's fan of rays, as the drawing and two sentences.
  [[nodiscard]] Json rays(const Json& message) const {
    if (!prepared) return told(mistakes("do", "'rays' before 'open'", "a trip that is open"));
    const auto now = prepared->trip_with(changes);
    std::vector<Error> errors;
    Reader reader(message, errors);
    double way = 0, hour = 0, band = 0;
    const auto places = static_cast<double>(now.sites.size() * now.targets.size());
    reader.number("way", {0, places - 1, "a site and region of the trip", true}, way);
    reader.number("hour", {0, 23, "UTC", true}, hour);
    reader.number("band", {0, static_cast<double>(now.bands.size()) - 1, "a band of the trip", true}, band);
    if (!errors.empty()) return told(errors);
    const auto w = static_cast<std::size_t>(way);
    const auto fan = fan_of(now, advice, w / now.targets.size(), w % now.targets.size(),
                            static_cast<int>(hour), static_cast<std::size_t>(band));
    return {{"ok", true},
            {"svg", page::rays_drawing(fan)},
            {"text", words::skip_text(fan) + " " + words::arrival_text(fan)}};
  }

  /// The trip file with what was changed written into it; what is not at hand stays in it.
  [[nodiscard]] Json save() const {
    if (!prepared) return told(mistakes("do", "'save' before 'open'", "a trip that is open"));
    std::set<int> always;
    for (const int thing : changes.must_go) {
      const auto& item = advice::item_of(trip, nth(prepared->inventory().things, thing));
      if (!item.library) always.insert(item.line);
    }
    auto out = with_settings(text, trip, settings, always);
    if (out && changes.limit_g)
      out = files::with_key(*out, {"trip"}, "mass_limit_kg", fmt::format("{:g}", *changes.limit_g / 1000));
    if (!out) return told({out.error()});
    return {{"ok", true}, {"trip", *out}};
  }

  [[nodiscard]] Json facts() const {
    Json carried = Json::array(), left = Json::array();
    for (const auto& item : advice.items)
      (item.carry ? carried : left).push_back(nth(advice.inventory.things, item.thing).id);
    return {{"name", prepared->trip().name}, {"reach", rounded(advice.reach, 6)},
            {"mass_g", advice.kit.mass_g},   {"limit_g", advice.limit_g},
            {"proved", advice.kit.proved},   {"carried", std::move(carried)},
            {"left", std::move(left)}};
  }

  [[nodiscard]] Json answered(const Json& more = Json::object()) const {
    Json out = {{"ok", true}, {"parts", Json::object()}, {"facts", facts()}};
    put_parts(out["parts"], page::quick_parts(prepared->trip_with(changes), advice));
    out.update(more);
    return out;
  }

  Json answer(const Json& message) {
    const auto what = text_of(message, "do");
    if (what == "open") return open(message);
    if (what == "change") return change(message);
    if (what == "rest") return rest();
    if (what == "save") return save();
    if (what == "rays") return rays(message);
    if (what) {
      auto beside = around;
      beside.read = from_files(files_of(message), around.read);
      if (const auto asked = answer_alone(*what, message, beside)) {
        if (!*asked) return told(asked->error());
        Json out = {{"ok", true}, {"text", (*asked)->text}};
        if (!(*asked)->warnings.empty()) out["warnings"] = (*asked)->warnings;
        return out;
      }
    }
    return told(mistakes(
        "do", what ? "'" + one_line(*what) + "'" : "nothing",
        "one of open, change, rest, save, rays, pack, explain, antenna, path, sun, ionosphere, score"));
  }
};

Session::Session(Surroundings around) : state_(std::make_unique<State>()) {
  state_->around = std::move(around);
}
Session::~Session() = default;
Session::Session(Session&&) noexcept = default;
Session& Session::operator=(Session&&) noexcept = default;

std::string Session::answer(std::string_view message) {
  if (const auto most = state_->around.most_bytes; message.size() > most)
    return dumped(told(mistakes({}, "a longer message", fmt::format("at most {} MB", most >> 20U))));
  if (too_deep(message, most_depth))
    return dumped(told(mistakes({}, "brackets nested deeper", "at most 20 levels")));
  const Json asked = Json::parse(message, nullptr, false);
  if (!asked.is_object())
    return dumped(told(mistakes({}, "no JSON object", R"(a message as {"do": "open", ...})")));
  Json out;
  try {
    out = state_->answer(asked);
  } catch (const std::bad_alloc&) {
    out = told(mistakes({}, "not enough memory for this", "a smaller trip"));
  }
  if (const auto id = asked.find("id"); id != asked.end()) out["id"] = *id;
  return dumped(out);
}

}  // namespace skerry::engine
