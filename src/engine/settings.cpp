#include "settings.hpp"

#include <map>
#include <vector>

#include "skerry/files/edit.hpp"

namespace skerry::engine {

namespace {

/// Judgement: a transmitter draws beyond what its receiver does in proportion to its output.
double transmit_a(const kit::Rig& rig, double power_w) {
  return rig.receive_a + (rig.transmit_a - rig.receive_a) * power_w / rig.power_w;
}

std::string days_text(const std::vector<Day>& days, std::chrono::days by) {
  std::string out = "[";
  for (const auto& day : days)
    out += (out.size() > 1 ? ", " : "") + to_iso(Day{std::chrono::sys_days{day} + by});
  return out + "]";
}

}  // namespace

Settings read_settings(const Json& object, std::vector<Error>& errors) {
  Settings out;
  if (!object.is_object()) {
    errors.push_back(
        mistake("set", shown(object), R"(an object, as {"power_w": 5, "r12": 90, "date": "2027-02-14"})"));
    return out;
  }
  Reader r(object, errors);
  r.know({"power_w", "r12", "date"});
  double value = 0;
  if (r.number(files::field("rig", "power_w"), value)) out.power_w = value;
  if (r.number(files::field("trip", "r12"), value)) out.r12 = value;
  Day day{};
  r.text("date", R"(a day, as "2027-02-14")", [&](const std::string& text) {
    r.take(parse_day(text, {"date"}), day);
    if (day.ok() && day != Day{}) out.date = day;
  });
  return out;
}

Result<std::string> with_settings(const std::string& text, const kit::Trip& trip, const Settings& settings,
                                  const std::set<int>& always) {
  struct Edit {
    std::string_view key;
    std::string toml;
  };
  std::map<int, std::vector<Edit>, std::greater<>> by_line;  // from below: an edit moves what lies under it
  for (const int line : always) by_line[line].push_back({"always", "true"});
  if (settings.power_w) {
    for (const auto& rig : trip.rigs) {
      if (rig.item.library || by_line[rig.item.line].size() > 1) continue;  // one of several alike
      by_line[rig.item.line].push_back({"power_w", fmt::format("{}", *settings.power_w)});
      by_line[rig.item.line].push_back(
          {"transmit_a", fmt::format("{:.3g}", transmit_a(rig, *settings.power_w))});
    }
  }
  std::vector<Edit> of_trip;
  if (settings.date) {
    const auto by = std::chrono::sys_days{*settings.date} - std::chrono::sys_days{trip.first_day};
    of_trip.push_back({"first_day", to_iso(*settings.date)});
    of_trip.push_back({"last_day", to_iso(Day{std::chrono::sys_days{trip.last_day} + by})});
    for (const auto& session : trip.sessions) {
      if (!session.days.empty()) by_line[session.line].push_back({"days", days_text(session.days, by)});
    }
  }
  if (settings.r12) of_trip.push_back({"r12", fmt::format("{}", *settings.r12)});
  Result<std::string> out = text;
  const auto write = [&](const files::TableAt& at, const Edit& edit) {
    if (out)
      out =
          files::with_key(*out, at, edit.key, edit.toml,
                          edit.key == "r12" ? std::vector<std::string_view>{"ssn_v2", "f107", "forecast_file"}
                                            : std::vector<std::string_view>{});
  };
  for (const auto& [line, edits] : by_line) {
    for (const auto& edit : edits) write({{}, line}, edit);
  }
  for (const auto& edit : of_trip) write({"trip"}, edit);
  return out;
}

void apply_to_library(kit::Trip& trip, const Settings& settings) {
  for (auto& rig : trip.rigs) {
    if (!rig.item.library || !settings.power_w) continue;
    rig.transmit_a = transmit_a(rig, *settings.power_w);
    rig.power_w = *settings.power_w;
  }
}

}  // namespace skerry::engine
