// How many contacts a kit may bring: hours, the sky, who listens, and what an hour yields.
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "advise_parts.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/table.hpp"

namespace skerry::advice {

namespace {

// Source: the normal law: its upper decile in standard deviations.
constexpr double decile_deviations = 1.2815515655446004;

struct Yield {
  double per_hour = 0;
  double log_factor = 0;
};

const char* kind_of(const noise::Mode& mode) {
  if (mode.id == "cw") return "cw";
  return is_voice(mode) ? "voice" : "data";
}

/// Of the modes that count, by their shares; what a log taught goes before the table.
Yield yield_of(const kit::Trip& trip) {
  std::map<std::string, Yield> known;
  for (const auto& row : table_rows("people/yield.toml", "yield")) {
    known[row.text("of")] = {row.has("per_hour") ? row.number("per_hour") : 0,
                             std::log(row.number("factor"))};
  }
  if (trip.learned.contacts_per_hour)
    return {*trip.learned.contacts_per_hour, known.at("learned").log_factor};
  Yield out;
  const auto shares = counted_shares(trip);
  for (const auto m : ids_of(trip.modes)) {
    const auto& one = known.at(kind_of(nth(trip.modes, m)));
    const double share = nth(shares, m.value());
    out.per_hour += share * one.per_hour;
    out.log_factor += share * one.log_factor;
  }
  return out;
}

}  // namespace

void count_contacts(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const std::vector<double>& got) {
  auto& out = advice.contacts;
  const auto yield = yield_of(trip);
  out.per_hour = yield.per_hour;
  out.factor = std::exp(yield.log_factor);
  out.learned = trip.learned.contacts_per_hour.has_value();
  const auto there = listeners_of(trip);
  // The cells of each site hour.
  std::map<std::pair<int, int>, std::vector<std::size_t>> cells;
  for (std::size_t c = 0; c < advice.cells.size(); ++c)
    cells[{advice.cells[c].site, advice.cells[c].utc_hour}].push_back(c);
  std::map<std::pair<int, Day>, Contacts::Part> days;
  for (const auto& slice : session_slices(trip)) {
    auto& part =
        days.try_emplace({slice.site, slice.day}, Contacts::Part{slice.site, slice.day}).first->second;
    part.hours += slice.minutes / 60;
    double all = 0, works = 0;
    for (const std::size_t c : cells[{slice.site, slice.utc_hour}]) {
      const auto& cell = advice.cells[c];
      all += cell.weight;
      works += cell.weight * got[c] * there.at(slice.begun, model.clock(cell.target, cell.person));
    }
    if (all > 0) part.expected += slice.minutes / 60 * yield.per_hour * works / all;
  }
  for (const auto& [key, part] : days) {
    out.days.push_back(part);
    out.expected += part.expected;
  }
  if (out.expected <= 0) return;
  const double deviation = yield.log_factor / decile_deviations;
  // A count's own spread, as a share of it (Poisson), beside the yield's; logarithms add their squares.
  const double wide = std::exp(decile_deviations * std::hypot(deviation, 1 / std::sqrt(out.expected)));
  out.low = out.expected / wide;
  out.high = out.expected * wide;
}

}  // namespace skerry::advice
