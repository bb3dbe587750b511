#include "json_reader.hpp"

namespace skerry::engine {

Result<Json> parse_object(std::string_view text, const char* shape, std::vector<Error>& errors) {
  if (too_deep(text, most_depth))
    return fail({}, "brackets nested deeper", fmt::format("at most {} levels", most_depth));
  std::vector<std::set<std::string>> seen;  // keys of the objects around, the innermost last
  Json object;
  try {
    object = Json::parse(text, [&](int, Json::parse_event_t event, Json& parsed) {
      if (event == Json::parse_event_t::object_start) seen.emplace_back();
      if (event == Json::parse_event_t::object_end) seen.pop_back();
      if (event != Json::parse_event_t::key) return true;
      const auto& key = parsed.get_ref<const std::string&>();
      if (!seen.back().insert(key).second)
        errors.push_back(mistake(one_line(key), "this key twice", "each key once"));
      return true;
    });
  } catch (const Json::parse_error& problem) {
    return fail({}, fmt::format("no JSON at column {}", problem.byte), shape);
  } catch (const Json::exception&) {  // numbers beyond a double
    return fail({}, "a number too large", "numbers within 1e308");
  }
  if (!object.is_object()) return fail({}, shown(object), shape);
  return object;
}

}  // namespace skerry::engine
