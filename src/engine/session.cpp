#include "skerry/engine/session.hpp"

#include <map>
#include <new>
#include <nlohmann/json.hpp>
#include <optional>

#include "skerry/core/json_scan.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/report.hpp"
#include "skerry/files/trip_file.hpp"

namespace skerry::engine {

namespace {

using Json = nlohmann::ordered_json;

// A trip of 1 MB, escaped, and the files that it names.
constexpr std::size_t most_message_bytes = 16U << 20U;
constexpr int most_depth = 20;
/// What a trip is called where it has no file's name.
constexpr const char* trip_name = "trip";

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
    one["text"] = error.to_line();
    list.push_back(std::move(one));
  }
  return {{"ok", false}, {"errors", std::move(list)}};
}

std::vector<Error> mistake(std::string where, std::string found, std::string accepted,
                           std::string mend = {}) {
  return {Error{{std::move(where)}, std::move(found), std::move(accepted), std::move(mend)}};
}

std::optional<std::string> text_of(const Json& message, const char* key) {
  const auto found = message.find(key);
  if (found == message.end() || !found->is_string()) return std::nullopt;
  return found->get<std::string>();
}

}  // namespace

struct Session::State {
  kit::Trip trip;
  advice::Advice advice;

  [[nodiscard]] Json facts() const {
    Json carried = Json::array(), left = Json::array();
    for (const auto& item : advice.items)
      (item.carry ? carried : left).push_back(nth(advice.inventory.things, item.thing).id);
    return {{"name", trip.name},         {"reach", advice.kit.reach},     {"mass_g", advice.kit.mass_g},
            {"limit_g", advice.limit_g}, {"carried", std::move(carried)}, {"left", std::move(left)}};
  }

  Json open(const Json& message) {
    const auto text = text_of(message, "trip");
    if (!text) return told(mistake("trip", "no text", "the trip file's text under \"trip\""));
    const files::FileReader reader = [&](const std::string& wanted,
                                         const Where& where) -> Result<std::string> {
      if (const auto files = message.find("files"); files != message.end() && files->is_object()) {
        if (auto content = text_of(*files, wanted.c_str())) return *content;
      }
      return fail(where, "file '" + one_line(wanted) + "', which is not here",
                  "a file that was given with the trip");
    };
    auto read = files::read_trip(*text, trip_name, reader);
    if (!read) return told(read.error());
    trip = std::move(*read);
    advice = advice::advise(trip);
    return answered();
  }

  [[nodiscard]] Json answered() const {
    return {{"ok", true},
            {"parts", {{"report", report(trip, advice, advice::make_picture(trip, advice))}}},
            {"facts", facts()}};
  }

  Json answer(const Json& message) {
    const auto what = text_of(message, "do");
    if (what == "open") return open(message);
    return told(mistake("do", what ? "'" + one_line(*what) + "'" : "nothing", "one of open"));
  }
};

Session::Session() : state_(std::make_unique<State>()) {}
Session::~Session() = default;
Session::Session(Session&&) noexcept = default;
Session& Session::operator=(Session&&) noexcept = default;

std::string Session::answer(std::string_view message) {
  if (message.size() > most_message_bytes)
    return dumped(told(mistake({}, "a longer message", "at most 16 MB")));
  if (too_deep(message, most_depth))
    return dumped(told(mistake({}, "brackets nested deeper", "at most 20 levels")));
  const Json asked = Json::parse(message, nullptr, false);
  if (!asked.is_object())
    return dumped(told(mistake({}, "no JSON object", R"(a message as {"do": "open", ...})")));
  Json out;
  try {
    out = state_->answer(asked);
  } catch (const std::bad_alloc&) {
    out = told(mistake({}, "not enough memory for this", "a smaller trip"));
  }
  if (const auto id = asked.find("id"); id != asked.end()) out["id"] = *id;
  return dumped(out);
}

}  // namespace skerry::engine
