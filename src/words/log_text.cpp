// Planned against worked, for people.
#include <fmt/format.h>

#include <algorithm>

#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/log.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::words {

namespace {

using after::LogReport;

constexpr std::size_t most_lines = 12;

std::string hours_of_block(int block) {
  return fmt::format("{:02}-{:02}", 4 * block, 4 * block + 4);
}

std::string head(const kit::Trip& trip, const LogReport& r, const LogShown& shown, std::size_t columns) {
  std::string out = fmt::format("{}: planned against worked ({})\n", trip.name, one_line(shown.log_file));
  std::string text = counted(r.total, "contact") + " in the log";
  if (r.outside_days > 0)
    text += fmt::format(", {} outside the days of the trip and left out", r.outside_days);
  if (r.unplaced > 0) text += fmt::format(", {} without any place", r.unplaced);
  if (r.coarse > 0) text += fmt::format(", {} placed by country alone (coarse, to hundreds of km)", r.coarse);
  out += wrapped(text + ".", columns, "", "  ");
  if (const auto note = learned_note(trip.learned); !note.empty())
    out += wrapped("Assumptions " + note + ".", columns, "", "  ");
  out += wrapped(
      r.on_air_told
          ? fmt::format("{:.1f} hours on the air, as you told.", r.on_air_hours)
          : fmt::format(
                "{:.1f} hours on the air as far as contacts show it: hours without any cannot be seen "
                "(--on-air FILE tells them).",
                r.on_air_hours),
      columns, "", "  ");
  return out;
}

std::string tally_text(const char* title, const std::vector<after::LogTally>& rows, bool all) {
  std::string out = fmt::format("\n{:<26} openings  used  missed  contacts  unlikely\n", title);
  for (const auto& row : rows) {
    if (!all && row.planned == 0 && row.contacts == 0) continue;
    out += fmt::format("  {:<24} {:>8}  {:>4}  {:>6}  {:>8}  {:>8}\n", one_line(row.name, 24), row.planned,
                       row.used, row.missed, row.contacts, row.unlikely);
  }
  return out;
}

std::string openings_text(const kit::Trip& trip, const LogReport& r) {
  const auto name = [&](const after::LogOpening& o) {
    return fmt::format("{:02} UTC  {:>4}  {:<24}  {:.0f} days in ten", o.utc_hour, nth(trip.bands, o.band).id,
                       one_line(nth(trip.targets, o.target).region.name, 24), o.days_in_ten);
  };
  std::string out = "\nOPENINGS USED\n";
  for (std::size_t i = 0; i < std::min(most_lines, r.used.size()); ++i)
    out += fmt::format("  {}, {}\n", name(r.used[i]), counted(r.used[i].contacts, "contact"));
  if (r.used.empty()) out += "  none\n";
  if (r.used.size() > most_lines) out += fmt::format("  and {} more\n", r.used.size() - most_lines);
  out += "\nOPENINGS MISSED WHILE ON THE AIR (nobody of the region worked on any band; its best band)\n";
  for (std::size_t i = 0; i < std::min(most_lines, r.missed.size()); ++i)
    out += fmt::format("  {}, {:.0f} min on other bands or for others\n", name(r.missed[i]),
                       r.missed[i].on_air_minutes);
  if (r.missed.empty()) out += "  none\n";
  if (r.missed.size() > most_lines) out += fmt::format("  and {} more\n", r.missed.size() - most_lines);
  return out;
}

std::string unlikely_text(const kit::Trip& trip, const LogReport& r, const LogShown& shown) {
  std::string out =
      fmt::format("\nCONTACTS THE PLAN CALLED UNLIKELY (under {:g} day in ten)\n", after::unlikely_days);
  std::size_t count = 0;
  for (const auto& view : r.contacts) {
    if (!view.days_in_ten || *view.days_in_ten >= after::unlikely_days) continue;
    if (++count > most_lines) continue;
    const auto& c = nth(shown.log.contacts, view.contact);
    const std::string where = view.target ? nth(trip.targets, *view.target).region.name : "elsewhere";
    out += fmt::format("  {}  {:>4}  {:<4}  {:<24}  {}{}{}\n", to_iso(c.time).substr(0, 16), c.band,
                       one_line(c.mode_as_told, 4), one_line(where, 24),
                       view.open ? whole_days(*view.days_in_ten) : "closed",
                       c.within_km > 0 ? fmt::format(", place within {:g} km", c.within_km) : "",
                       shown.calls ? "  " + one_line(c.call, 16) : "");
  }
  if (count == 0) out += "  none\n";
  if (count > most_lines) out += fmt::format("  and {} more\n", count - most_lines);
  return out;
}

std::string kit_text(const LogReport& r, std::size_t columns) {
  std::string out = r.kit_told ? "\nKIT CARRIED\n"
                               : "\nKIT CARRIED (taken to be what pack recommends; --carried tells it)\n";
  for (const auto use : {after::Use::never, after::Use::used}) {
    for (const auto& thing : r.kit) {
      if (thing.use != use) continue;
      out += wrapped(fmt::format("{}, {:.0f} g: {} ({})", thing.name, thing.mass_g,
                                 use == after::Use::never ? "never used" : "used", use_why(thing)),
                     columns, "  ", "      ");
    }
  }
  std::string unknown;
  for (const auto& thing : r.kit) {
    if (thing.use == after::Use::unknown) unknown += (unknown.empty() ? "" : ", ") + thing.name;
  }
  if (!unknown.empty())
    out += wrapped(
        "The log does not say whether these were used (MY_ANTENNA, MY_RIG or --used would): " + unknown + ".",
        columns, "  ", "      ");
  return out;
}

std::string spread_line(const char* what, const after::Spread& s) {
  if (s.count == 0) return {};
  return fmt::format("  {:<46} {:>4}  {:+6.1f}  {:+6.1f}  {:5.1f}\n", what, s.count, plus_zero(s.mean, 1),
                     plus_zero(s.median, 1), s.deviation);
}

std::string reports_text(const LogReport& r) {
  const auto lines = spread_line("of you, in dB", r.there) + spread_line("by you, in dB", r.back) +
                     spread_line("of you, S figures under 9, coarse (6 dB each)", r.there_s) +
                     spread_line("by you, S figures under 9, coarse", r.back_s);
  if (lines.empty()) return {};
  return "\nREPORTS LESS PREDICTIONS, dB (only what was worked is in it: weak paths lean high)\n"
         "                                                    n    mean  median  spread\n" +
         lines;
}

std::string findings_text(const LogReport& r, std::size_t columns) {
  const auto& f = r.findings;
  std::string out = "\nWHAT THE LOG SAYS ABOUT THREE ASSUMPTIONS (90 % intervals; before it, in brackets)\n";
  out += wrapped(
      fmt::format(
          "Own radiated power against the computed: {:+.1f} dB, {:+.1f} to {:+.1f} ({:+.1f} to {:+.1f}).",
          plus_zero(f.erp_db.median, 1), plus_zero(f.erp_db.low, 1), plus_zero(f.erp_db.high, 1),
          plus_zero(f.prior_erp_db.low, 1), plus_zero(f.prior_erp_db.high, 1)),
      columns, "  ", "    ");
  std::string steps;
  for (std::size_t s = 0; s < after::noise_steps.size(); ++s)
    steps += fmt::format("{}{:+d}: {:.0f} %", s == 0 ? "" : ", ", after::noise_steps[s],
                         100 * f.noise_probability[s]);
  out += wrapped(fmt::format("Noise at the far ends, classes above the trip's: {}.", steps), columns, "  ",
                 "    ");
  out += wrapped(
      fmt::format(
          "The two together (power less noise rise), all that signals alone tell: {:+.1f} dB, {:+.1f} to "
          "{:+.1f}; how it divides between them rests largely on what was believed before.",
          plus_zero(f.net_db.median, 1), plus_zero(f.net_db.low, 1), plus_zero(f.net_db.high, 1)),
      columns, "  ", "    ");
  out += "  Partners by their local hour, times the table of hours:\n";
  for (int b = 0; b < after::hour_blocks; ++b) {
    const auto& i = nth(f.hours, b);
    const auto& before = nth(f.prior_hours, b);
    out += fmt::format("    {}  x {:.2f}, {:.2f} to {:.2f}  ({:.2f} to {:.2f})\n", hours_of_block(b),
                       i.median, i.low, i.high, before.low, before.high);
  }
  out += wrapped(
      fmt::format(
          "From {} contacts and {} reports in dB ({} of one day, band and region each). An error of the "
          "method that is the same on all paths cannot be told from own power. Recovery of known truth was "
          "tested on simulated logs only.",
          f.contacts, f.reports, f.report_groups),
      columns, "  ", "  ");
  return out;
}

}  // namespace

std::string use_why(const after::KitUse& use) {
  using Why = after::KitUse::Why;
  switch (use.why) {
    case Why::log_is_silent:
      return "the log does not say";
    case Why::told:
      return "as you said";
    case Why::named:
      return "named in " + counted(use.contacts, "contact");
    case Why::others_named:
      return "every contact names another";
    case Why::no_band:
      break;
  }
  return "no band was worked on which it could have served";
}

std::string log_text(const kit::Trip& trip, const LogReport& r, const LogShown& shown, const Style& style) {
  const auto columns = style.width(100);
  std::string out = head(trip, r, shown, columns);
  out += wrapped(
      fmt::format(
          "An opening is a region, band and whole UTC hour of the sessions with at least {:g} days in ten by "
          "the plan.",
          trip.want_days_in_ten),
      columns, "", "  ");
  out += tally_text("BY BAND", r.bands, true);
  out += tally_text("BY HOUR, UTC", r.hours, false);
  out += tally_text("BY REGION", r.regions, true);
  out += openings_text(trip, r);
  out += unlikely_text(trip, r, shown);
  out += kit_text(r, columns);
  out += reports_text(r);
  out += findings_text(r, columns);
  return on_screen(out, style, 100);
}

std::string learned_toml(const kit::Trip& trip, const LogReport& r, const std::string& log_file, Day made) {
  const auto& f = r.findings;
  const auto hours = after::learned_hours(trip, f);
  // What an overlay in use had added already is under the finding.
  const double before_db = trip.learned.erp_db;
  const auto clean = [](const std::string& text) { return one_line(text, 80); };
  std::string out = fmt::format(
      "# What the log {} says about the assumptions of {}.\n"
      "# In use only in trips that name this file: learned = \"FILE\" under [trip].\n\n[learned]\n"
      "erp_db = {:.1f}                  # own radiated power against the computed, dB; the middle of\n"
      "erp_db_90 = [{:.1f}, {:.1f}]     # this 90 % interval\n"
      "far_noise = {}                   # partners' man-made noise: so many classes noisier\n"
      "far_noise_probability = {:.2f}\ncontacts = {}\nmade = {}\n\n",
      clean(log_file), clean(trip.name), plus_zero(before_db + f.erp_db.median, 1),
      plus_zero(before_db + f.erp_db.low, 1), plus_zero(before_db + f.erp_db.high, 1),
      trip.learned.far_noise + f.noise_step,
      *std::max_element(f.noise_probability.begin(), f.noise_probability.end()), f.contacts, to_iso(made));
  if (const auto yield = after::learned_yield(r, hours)) {
    // Before the empty line that ends the table.
    out.pop_back();
    out += fmt::format(
        "contacts_per_hour = {:.1f}       # with every region open and everybody there listening\n\n",
        std::clamp(*yield, 0.1, 1000.0));
  }
  out +=
      "# The chance that somebody is there to answer, by the local hour there; the best hour is 1.\n"
      "# Factors on the table before, with their 90 % intervals:\n";
  for (int b = 0; b < after::hour_blocks; ++b) {
    const auto& i = nth(f.hours, b);
    out += fmt::format("#   {}: {:.2f}, {:.2f} to {:.2f}\n", hours_of_block(b), i.median, i.low, i.high);
  }
  out += "[people]\n";
  const auto table = [&](const char* name, const std::array<double, 24>& values) {
    out += fmt::format("{} = [", name);
    for (std::size_t h = 0; h < 24; ++h) out += fmt::format("{}{:.3f}", h == 0 ? "" : ", ", values[h]);
    out += "]\n";
  };
  table("weekday", hours.weekday);
  table("weekend", hours.weekend);
  return out;
}

}  // namespace skerry::words
