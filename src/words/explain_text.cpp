// A band's causes as sentences: the heaviest first, each made of the values that the engine gave.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/place.hpp"

namespace skerry::words {

namespace {

using circuit::BandExplanation;
using circuit::Factor;
using circuit::Verdict;

std::string days_text(double days) {
  if (days < 0.5) return "hardly a day in ten";
  const double whole = std::round(days);
  return fmt::format("{:.0f} {} in ten", whole, whole == 1 ? "day" : "days");
}

std::string band_name(const BandExplanation& e) {
  return e.band.empty() ? fmt::format("{:.3f} MHz", e.mhz) : e.band;
}

std::string sun_text(double up_deg) {
  if (up_deg >= 1) return fmt::format("the Sun stands {:.0f}° high", up_deg);
  if (up_deg > -1) return "the Sun is on the horizon";
  if (up_deg > -12)
    return fmt::format("it is twilight, the Sun {:.0f}° under the horizon", plus_zero(-up_deg, 0));
  return fmt::format("it is night, the Sun {:.0f}° under the horizon", -up_deg);
}

std::string layer_name(const BandExplanation& e) {
  return std::string(layer_text(e.mode.layer)) + " layer";
}

/// "Over the sea at 12.3 N 40.1 E, 1900 km out, it is 14:20 by the Sun, which stands 40 high"
std::string place_text(const BandExplanation& e) {
  const auto& w = *e.weakest;
  return fmt::format("over {} at {}{}, {:.0f} km out, where it is {} by the Sun and {}",
                     w.land ? "land" : "the sea", geodesy::to_text(w.where, 1),
                     w.near ? ", " + town_text(*w.near) : std::string(), w.along_km, clock_of(w.solar_hour),
                     sun_text(w.sun_up_deg));
}

std::string point_words(const BandExplanation& e) {
  return e.points > 1 ? fmt::format("the weakest of {} reflection points lies", e.points)
                      : std::string("the reflection point lies");
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string layer_sentence(const BandExplanation& e, const circuit::Cause* cause) {
  std::string out;
  if (e.weakest) out = capital(point_words(e)) + " " + place_text(e) + ". ";
  const bool open = e.verdict != Verdict::layer_thin && e.verdict != Verdict::no_antenna;
  if (!open) {
    if (e.verdict == Verdict::layer_thin) {
      out += fmt::format(
          "The ionosphere is too thin there for {}: the whole path takes at most {:.1f} MHz at this hour, "
          "and nearly all of {:.1f} MHz goes through it into space; what is scattered back lacks {:.0f} dB.",
          band_name(e), e.muf.limit_mhz, e.mhz, std::max(0.0, -e.margin_db));
    } else {
      out += fmt::format("The path takes up to {:.1f} MHz at this hour.", e.muf.limit_mhz);
    }
    return out;
  }
  const double limit = e.long_method ? e.muf.limit_mhz : e.mode.basic_muf_mhz;
  const std::string hops = counted(e.mode.hops, "hop");
  if (e.long_method) {
    out += fmt::format(
        "Over so long a way, about {} under the {}, everything up to {:.1f} MHz gets through at all; {:.1f} "
        "MHz loses {:.0f} dB by that limit.",
        hops, layer_name(e), limit, e.mhz, e.terms.above_muf_db);
  } else if (e.mhz <= limit) {
    out += fmt::format(
        "The {} bends back up to {:.1f} MHz (the MUF) for {}, {}: on {:.0f} days in ten this limit lies "
        "above {:.1f} MHz.",
        layer_name(e), limit, hops, limit > 1.25 * e.mhz ? "plenty" : "enough on a middling day",
        10 * e.mode.support_probability, e.mhz);
  } else {
    out += fmt::format(
        "{:.1f} MHz lies above the {}'s usual limit, {:.1f} MHz (the MUF) for {}. On {:.0f} days in ten the "
        "limit is high enough; on the others the wave is not cut off but comes weaker. Taken together that "
        "costs {:.0f} dB, counted into the margin below: with that to spare, the contact works on more days "
        "than those {:.0f}.",
        e.mhz, layer_name(e), limit, hops, 10 * e.mode.support_probability, e.terms.above_muf_db,
        10 * e.mode.support_probability);
  }
  const auto closed = std::count(e.open_by_hour.begin(), e.open_by_hour.end(), false);
  if (cause != nullptr && e.verdict == Verdict::works && closed > 0) {
    out += fmt::format(" That is not so all day: at {} of the 24 hours nothing is carried on this band.",
                       closed);
  }
  return out;
}

std::string d_layer_sentence(const BandExplanation& e, const circuit::Cause* cause) {
  std::string out;
  const double range = e.most_d_layer_db - e.least_d_layer_db;
  if (e.d_layer_db < 3) {
    out = fmt::format("The D layer takes almost nothing now, {:.0f} dB", e.d_layer_db);
  } else {
    out = fmt::format("The D layer eats {:.0f} dB of the strength", e.d_layer_db);
  }
  if (range < 2) return out + ", much the same at all hours when the band is open.";
  const bool works = e.verdict == Verdict::works;
  if (works || e.d_layer_db - e.least_d_layer_db < 1) {
    out += fmt::format("; at its thickest, at {:02} UTC, it takes {:.0f} dB", e.most_hour, e.most_d_layer_db);
  } else {
    out +=
        fmt::format("; at its thinnest, at {:02} UTC, it takes {:.0f} dB", e.least_hour, e.least_d_layer_db);
  }
  // What one cause alone would change, when it would change anything.
  if (cause != nullptr && std::abs(cause->days_without - e.days) >= 0.5) {
    out += (works ? ", which would leave " : ", which alone would make ") + days_text(cause->days_without);
  }
  return out + ".";
}

std::string antenna_sentence(const BandExplanation& e, const circuit::Cause* cause) {
  if (e.verdict == Verdict::no_antenna)
    return "No antenna in the packed kit works this band, so it is silent whatever the sky does.";
  const std::string angle =
      e.long_method ? std::string("The way needs a low take-off angle, under 8°")
      : e.most_angle_deg - e.least_angle_deg >= 2
          ? fmt::format(
                "The wave must leave at a take-off angle of {:.0f}° (others, within 1 dB of it, leave "
                "anywhere from {:.0f}° to {:.0f}°)",
                e.angle_deg, e.least_angle_deg, e.most_angle_deg)
          : fmt::format("The wave must leave at a take-off angle of {:.0f}°", e.angle_deg);
  if (e.antenna.empty()) {
    return angle + fmt::format("; the reference antenna gives {:+.1f} dBi there as everywhere.",
                               plus_zero(e.gain_dbi, 1));
  }
  std::string out =
      fmt::format("{}; the {} gives {:+.1f} dBi there", angle, e.antenna, plus_zero(e.gain_dbi, 1));
  const double short_db = e.best_gain_dbi - e.gain_dbi;
  if (short_db < 1.5) {
    out += ", about its best";
  } else {
    out += fmt::format(", {:.0f} dB under its best that way ({:+.1f} dBi at {:.0f}°)", short_db,
                       plus_zero(e.best_gain_dbi, 1), e.best_angle_deg);
  }
  if (cause != nullptr && e.verdict != Verdict::works && short_db >= 1.5 &&
      cause->days_without - e.days >= 0.5) {
    out += fmt::format("; at its best it would make {}", days_text(cause->days_without));
  }
  return out + ".";
}

std::string noise_sentence(const BandExplanation& e, const circuit::Cause* cause) {
  const auto& s = e.noise.sources;
  std::string strongest = "man-made noise";
  double most = s.man_made.fam_db;
  if (s.atmospheric.fam_db > most) {
    strongest = "lightning from far off";
    most = s.atmospheric.fam_db;
  }
  if (s.galactic && s.galactic->fam_db > most) strongest = "the hiss of the galaxy";
  std::string out =
      fmt::format("The weaker direction is {}. To be heard it must beat {}, strongest {} ({} surroundings).",
                  e.there_is_worse ? "yours to them" : "theirs to you", strongest,
                  e.there_is_worse ? "at their end" : "at your end", noise::to_text(e.environment));
  if (cause != nullptr && e.quiet_gain_db >= 1) {
    out += fmt::format(" At a quiet place the noise would be {:.0f} dB less", e.quiet_gain_db);
    out += cause->days_without - e.days >= 0.5
               ? fmt::format(" and the band would make {}.", days_text(cause->days_without))
               : std::string(", which would not save it.");
  }
  return out;
}

std::string e_layer_sentence(const BandExplanation& e, const circuit::Cause* cause) {
  std::string out = fmt::format(
      "The ray to the F2 layer must pass through the E layer, twice on each hop; at this angle that takes "
      "{:.0f} dB",
      e.terms.screening_db);
  if (cause != nullptr && cause->days_without - e.days >= 0.5)
    out += fmt::format("; without it, {}", days_text(cause->days_without));
  return out + ".";
}

std::string distance_sentence(const BandExplanation& e) {
  std::string out =
      fmt::format("The way is {:.0f} km{}, which alone thins the wave by {:.0f} dB", e.path.distance_km,
                  e.path.way == geodesy::Way::long_way ? " by the long way" : "", e.terms.free_space_db);
  if (e.terms.bounces_db >= 0.5)
    out += fmt::format("; bouncing off the ground between hops costs another {:.0f} dB", e.terms.bounces_db);
  return out + ".";
}

std::string skyline_sentence(const BandExplanation& e, const circuit::Cause* cause) {
  const bool mine = e.horizon.from.deg > 0;
  const auto& edge = mine ? e.horizon.from : e.horizon.to;
  std::string out = fmt::format(
      "The ground {:.1f} km away {} stands {:.0f}° high, the wave comes at {:.0f}°: {} that edge costs it {:.1f} dB",
      edge.km, mine ? "from you" : "from them", edge.deg, e.mode.elevation_deg,
      e.mode.elevation_deg < edge.deg ? "bending over" : "passing close over", e.terms.skyline_db);
  if (cause != nullptr && cause->days_without - e.days >= 0.5)
    out += fmt::format("; a free view would make {}", days_text(cause->days_without));
  return out + ".";
}

std::string sum_sentence(const BandExplanation& e, double want) {
  return fmt::format(
      "So {}{} arrives with a margin of {:+.0f} dB over what {} needs on a middling day; days vary by about "
      "{:.0f} dB, and that makes {}{}.",
      e.there_is_worse ? "your signal" : "their signal", e.by_ground ? " by the sky" : "",
      plus_zero(e.margin_db, 0), e.wanted_mode.name, (e.snr_upper_db + e.snr_lower_db) / 2, days_text(e.days),
      e.verdict == Verdict::works ? "" : fmt::format(" ({:g} are wanted)", want));
}

std::string ground_sentence(const BandExplanation& e) {
  return fmt::format(
      "The wave that creeps along the ground carries it here, {:.0f} km, on {}: that needs a vertical "
      "antenna low down at both ends, for a horizontal wire is many dB down along the ground. The sky alone "
      "brings {}.",
      e.path.distance_km, days_text(e.ground_days), days_text(e.days));
}

std::string es_sentence(const BandExplanation& e) {
  return fmt::format(
      "Sporadic E, thin patches some 110 km up that come and go, carries it on {} by itself{}; which days, nobody "
      "can say beforehand.",
      days_text(e.es_days),
      e.es_mode ? fmt::format(" ({}, leaving at {:.0f}°)", counted(e.es_mode->hops, "hop"),
                              e.es_mode->elevation_deg)
                : "");
}

std::string verdict_sentence(const BandExplanation& e, const ExplainSheet& sheet) {
  const UtcTime when = start_of(sheet.climate.day) + std::chrono::hours(e.utc_hour);
  const std::string hour =
      fmt::format("at {:02} UTC ({} here, {} there)", e.utc_hour, sheet.from_zone.labelled_clock(when),
                  sheet.to_zone.labelled_clock(when));
  const std::string way = e.path.way == geodesy::Way::long_way ? ", the long way round" : "";
  if (e.by_ground) return fmt::format("works along the ground on {}, {}", days_text(e.ground_days), hour);
  switch (e.verdict) {
    case Verdict::works:
      return fmt::format("works on {}, {}{}", days_text(e.days), hour, way);
    case Verdict::sometimes:
      return fmt::format("works now and then, on {}, {}{}", days_text(e.days), hour, way);
    case Verdict::too_weak:
      return fmt::format("carried, but too weak to count on, {}{}", hour, way);
    case Verdict::layer_thin:
      return std::any_of(e.open_by_hour.begin(), e.open_by_hour.end(), [](bool open) { return open; })
                 ? fmt::format("closed {}", hour)
                 : fmt::format("closed all day; {} is looked at", hour.substr(3));
    case Verdict::no_antenna:
      break;
  }
  return "nothing packed for it";
}

std::string strip(const BandExplanation& e, const Style& style) {
  std::string out;
  for (std::size_t h = 0; h < 24; ++h) {
    const double days = e.days_by_hour[h];
    if (style.unicode) {
      out += e.open_by_hour[h] ? days_bar(days) : "·";
    } else if (!e.open_by_hour[h] || days < 0.5) {
      out += e.open_by_hour[h] ? '-' : '.';
    } else {
      out += static_cast<char>('0' + std::min(9L, std::lround(days)));
    }
  }
  return out;
}

/// What was taken for granted, and at which hours.
std::string hours_note(const ExplainSheet& sheet) {
  if (!sheet.stations) {
    return sheet.utc_hour ? fmt::format("With the packed kit, at {:02} UTC.", *sheet.utc_hour)
                          : "With the packed kit, each band at its best hour while you are on the air.";
  }
  const auto& s = *sheet.stations;
  return fmt::format("{} W in {} to {} W, here {}, there {}; {}.", s.own.power_w, s.mode.name,
                     s.partner.power_w, antenna_text(s.own), antenna_text(s.partner),
                     sheet.utc_hour ? fmt::format("all at {:02} UTC", *sheet.utc_hour)
                                    : std::string("each band at its best hour"));
}

}  // namespace

std::string town_text(const geodesy::Town& town) {
  constexpr double at_km = 10;  // Judgement: within a town and its outskirts
  if (town.distance_km < at_km) return "at " + town.name;
  return fmt::format("{:.0f} km {} of {}", town.distance_km, compass_name(town.bearing_deg), town.name);
}

std::vector<std::string> explain_sentences(const ExplainSheet& sheet, const BandExplanation& e) {
  std::vector<std::string> out{capital(band_name(e) + " " + verdict_sentence(e, sheet) + ".")};
  if (e.by_ground) out.push_back(ground_sentence(e));
  std::array<bool, static_cast<std::size_t>(Factor::e_layer) + 1> told{};  // its last
  const auto tell = [&](Factor factor, const circuit::Cause* cause) {
    auto& done = nth(told, factor);
    if (done) return;
    done = true;
    switch (factor) {
      case Factor::layer:
        out.push_back(layer_sentence(e, cause));
        break;
      case Factor::d_layer:
        out.push_back(d_layer_sentence(e, cause));
        break;
      case Factor::antenna:
        out.push_back(antenna_sentence(e, cause));
        break;
      case Factor::skyline:
        out.push_back(skyline_sentence(e, cause));
        break;
      case Factor::noise:
        out.push_back(noise_sentence(e, cause));
        break;
      case Factor::distance:
        out.push_back(distance_sentence(e));
        break;
      case Factor::e_layer:
        out.push_back(e_layer_sentence(e, cause));
        break;
    }
  };
  for (const auto& cause : e.causes) tell(cause.factor, &cause);
  if (e.verdict == Verdict::no_antenna) {
    if (e.weakest) tell(Factor::layer, nullptr);
    return out;
  }
  if (e.es_days >= 0.5) out.push_back(es_sentence(e));
  if (e.verdict == Verdict::layer_thin) return out;
  // What no cause brought up completes the chain in the order of the wave's journey.
  if (e.terms.skyline_db >= 0.5) tell(Factor::skyline, nullptr);
  for (const auto factor : {Factor::antenna, Factor::layer, Factor::d_layer, Factor::distance, Factor::noise})
    tell(factor, nullptr);
  out.push_back(sum_sentence(e, sheet.want_days_in_ten));
  return out;
}

std::string explain_text(const ExplainSheet& sheet, const Style& style) {
  const auto columns = style.width(120);
  Glossary glossary;
  std::string out;
  const auto paragraph = [&](const std::string& said, const char* first, const char* later) {
    // Plain before wrapping: it changes lengths.
    const std::string text = style.unicode ? said : to_ascii(said);
    out += wrapped(text, columns, first, later);
    for (const auto* word : glossary.first_used(text))
      out += wrapped(word->name + ": " + word->gloss, columns, "      | ", "      | ");
  };
  paragraph(fmt::format("Why, band by band: {} to {}, {}, R12 {:.0f}", sheet.from_name, sheet.to_name,
                        to_iso(month_of(start_of(sheet.climate.day))), sheet.climate.r12),
            "", "  ");
  paragraph(fmt::format("{:.0f} km. {}", sheet.distance_km, hours_note(sheet)), "", "  ");
  if (const auto note = measured_note(sheet.climate); !note.empty()) paragraph(note, "", "  ");
  if (!sheet.activity_note.empty()) paragraph(sheet.activity_note + ".", "", "  ");
  // The bands that work come first, the best at the top.
  std::vector<const BandExplanation*> order;
  for (const auto& band : sheet.bands) order.push_back(&band);
  std::stable_sort(order.begin(), order.end(), [](const auto* a, const auto* b) {
    return std::max(a->days, a->ground_days) > std::max(b->days, b->ground_days);
  });
  for (const auto* e : order) {
    const auto sentences = explain_sentences(sheet, *e);
    out += "\n";
    paragraph(sentences.front(), "", "  ");
    for (std::size_t i = 1; i < sentences.size(); ++i) {
      const bool last = i + 1 == sentences.size() && sentences[i].rfind("So ", 0) == 0;
      paragraph(sentences[i], i == 1 ? "  mostly:  " : last ? "  in all:  " : "  then:    ", "           ");
    }
    if (e->verdict != Verdict::no_antenna) out += fmt::format("  by hour: 00 {} 23 UTC\n", strip(*e, style));
  }
  out += "\n";
  out += wrapped(style.unicode
                     ? "By hour: bars from no to ten days in ten; a dot where nothing is carried."
                     : "By hour: days in ten; '.' nothing is carried, '-' under half a day, 9 also for more.",
                 columns, "", "  ");
  out += wrapped(
      "Medians of a month: a single day may be better or worse. Every term with its number: skerry path FROM "
      "TO --explain HOUR,BAND.",
      columns, "", "  ");
  return out;
}

}  // namespace skerry::words
