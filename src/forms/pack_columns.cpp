#include "skerry/forms/pack_columns.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cassert>
#include <utility>

#include "common.hpp"
#include "skerry/forms/csv.hpp"

namespace skerry::forms {

namespace {

std::string field_of(const Json& value) {
  if (value.is_string()) return csv_field(value.get<std::string>());
  if (!value.is_array()) return value.is_null() ? std::string() : value.dump();
  std::string ids;
  for (const auto& item : value) ids += (ids.empty() ? "" : " ") + item.at("id").get<std::string>();
  return csv_field(ids);
}

}  // namespace

const std::vector<std::string>& pack_column_names() {
  static const std::vector<std::string> names{"id",      "trip",     "first_day", "last_day", "r12",
                                              "mass_kg", "limit_kg", "reach",     "bound",    "proved",
                                              "carry",   "leave",    "verdict"};
  return names;
}

PackTable::PackTable(std::vector<std::string> names) : names_(std::move(names)) {
  assert(std::all_of(names_.begin(), names_.end(), [](const auto& name) {
    const auto& known = pack_column_names();
    return std::find(known.begin(), known.end(), name) != known.end();
  }));
}

std::string PackTable::head() const {
  return fmt::format("{}\n", fmt::join(names_, ","));
}

std::string PackTable::row(const std::string& pack_json, const std::string& id_json) const {
  const Json answer = Json::parse(pack_json);
  std::vector<std::string> fields;
  for (const auto& name : names_)
    fields.push_back(name == "id" ? csv_field(id_json) : field_of(answer.at(name)));
  return fmt::format("{}\n", fmt::join(fields, ","));
}

std::string pack_line(const std::string& pack_json, const std::string& id_json,
                      const std::vector<std::string>& warnings) {
  Json answer = Json::parse(pack_json);
  if (!warnings.empty()) answer["warnings"] = warnings;
  std::string out = answer.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (!id_json.empty()) out.insert(1, "\"id\":" + id_json + ",");
  return out + "\n";
}

}  // namespace skerry::forms
