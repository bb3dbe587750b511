// What to mind, topic by topic.
#include <fmt/format.h>

#include <array>

#include "skerry/core/nth.hpp"
#include "skerry/noise/noise.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::words {

Topic topic_of(const advice::Caution& caution) {
  using Kind = advice::Caution::Kind;
  switch (caution.kind) {
    case Kind::measured:
      return Topic::measured;
    case Kind::learned:
      return Topic::learned;
    case Kind::zone:
      return Topic::zone;
    case Kind::air_rules:
    case Kind::air_outdated:
    case Kind::air_approval:
    case Kind::air_arguable:
      return Topic::air;
    case Kind::licence:
      return Topic::licence;
    case Kind::site:
      return Topic::site;
    case Kind::exposure:
      return Topic::exposure;
    case Kind::voltage:
      return Topic::voltage;
    case Kind::lightning:
      return Topic::lightning;
    case Kind::power_lines:
      return Topic::power_lines;
    case Kind::battery_short:
    case Kind::battery_care:
      return Topic::battery;
    case Kind::late_sessions:
    case Kind::polar_night:
      return Topic::daylight;
    case Kind::path:
    case Kind::medians:
    case Kind::one_contact:
      return Topic::method;
    case Kind::atmospheric_noise:
      break;
  }
  return Topic::noise;
}

const char* topic_text(Topic topic) {
  constexpr std::array<const char*, 14> names{
      "measured foF2", "learned",   "zone",        "air",     "licence",  "site",   "exposure",
      "voltage",       "lightning", "power lines", "battery", "daylight", "method", "noise"};
  return nth(names, topic);
}

std::string caution_text(const kit::Trip& trip, const advice::Advice& advice, const advice::Caution& c) {
  using Kind = advice::Caution::Kind;
  switch (c.kind) {
    case Kind::measured:
      return measured_note(trip.climate);
    case Kind::learned:
      return "Assumptions " + learned_note(trip.learned) + ".";
    case Kind::zone:
      return nth(trip.sites, *c.index).name + ": " + zone_note(trip, nth(trip.sites, *c.index)) + ".";
    case Kind::air_rules:
      return rules_caution;
    case Kind::air_outdated:
      return fmt::format("The rules used here were last checked on {} and hold until {}: look them up again.",
                         to_iso(kit::rules_checked()), to_iso(kit::rules_valid_until()));
    case Kind::air_approval: {
      const auto& thing = nth(advice.inventory.things, *c.index);
      return thing.name + ": ask the airline for its approval. " + air_why(thing.air);
    }
    case Kind::air_arguable: {
      const auto& thing = nth(advice.inventory.things, *c.index);
      return thing.name + ": security staff may decide otherwise. " + air_why(thing.air);
    }
    case Kind::licence:
      return "The licence and the host country's band plan, powers and modes go before this table: look up "
             "the recognition of your licence there, and take its papers along.";
    case Kind::site:
      return "Ask for the site: owner, park, lighthouse, airfield nearby, nesting birds, heritage.";
    case Kind::exposure:
      return fmt::format(
          "While sending, nobody within {:.0f} m of any part of the wire. The far-field estimate of the "
          "general public limits (ICNIRP 2020) gives {:.1f} m at {:.1f} MHz; it is not valid close to a "
          "wire, so the larger figure counts. National rules go first.",
          c.a, c.b, c.c);
    case Kind::voltage:
      return fmt::format(
          "The end of an end-fed wire carries about {:.0f} V at radio frequency: out of reach, never touched "
          "while sending.",
          c.a);
    case Kind::lightning:
      return "Thunder heard is thunder in range: stop, leave ridge and mast, never hold the cable; wait 30 "
             "minutes after the last of it. Hissing or rising hair: leave at once.";
    case Kind::power_lines:
      return "Put the mast up where, falling any way, it stays 3 m from every wire.";
    case Kind::battery_short:
      return power_why(trip, nth(advice.power, *c.index)) + ". Send less, or charge on the way.";
    case Kind::battery_care:
      return "A fuse at the pack, no loose contacts; stop if a pack swells or grows hot. Cold takes 10 to 25 "
             "% of a lithium pack; never charge one below freezing.";
    case Kind::late_sessions:
      return fmt::format(
          "On {:.0f} of {} days a session runs past the time to turn back (sunset less the way down and a "
          "margin; sunset where no way down is told): head lamp, spare cell, known path, somebody told.",
          c.a, advice.days.size());
    case Kind::polar_night:
      return "The Sun does not rise on some of these days.";
    case Kind::path:
      return nth(trip.targets, *c.index).region.name + ": " + caution_text(c.of_path);
    case Kind::medians:
      return "Monthly medians: storms and flares are not in these numbers. Whether anybody is "
             "awake and listening is counted only where that is said.";
    case Kind::one_contact:
      return "Reach counts one contact at a time: a second station on the air at the same time is not valued.";
    case Kind::atmospheric_noise:
      break;
  }
  return atmospheric_note;
}

}  // namespace skerry::words
