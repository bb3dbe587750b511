#include <fmt/format.h>

#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::words {

namespace {

using Kind = advice::Remedy::Kind;

/// "15m, 12m and 10m"
std::string bands_text(const kit::Trip& trip, const std::vector<int>& bands) {
  std::string out;
  for (std::size_t i = 0; i < bands.size(); ++i)
    out += (i == 0 ? "" : i + 1 == bands.size() ? " and " : ", ") + nth(trip.bands, bands[i]).id;
  return out;
}

std::string change_text(const kit::Trip& trip, const advice::Remedy& r) {
  const auto& a = trip.at(r.antenna);
  const auto support = r.support ? trip.at(*r.support).item.name : std::string();
  switch (r.kind) {
    case Kind::wire_length:
      return fmt::format("{} to {:.1f} m", r.number < a.design.wire_m ? "cut" : "made longer", r.number);
    case Kind::counterpoise:
      return fmt::format("with a counterpoise of {:g} m", r.number);
    case Kind::ratio:
      return fmt::format("with a 1:{:.0f} transformer", r.number);
    case Kind::tuner:
      return fmt::format("with a small tuner ({})", mass(r.added_g));
    case Kind::other_support:
      return "on the " + support;
    case Kind::longer_pole:
      return fmt::format("on a pole of {:.1f} m ({})", r.number, mass(r.added_g));
    case Kind::other_shape:
      if (r.shape == antenna::Shape::sloper &&
          trip.at(r.antenna).design.kind == antenna::Kind::vertical_quarter)
        return "leaning from a foot out on the ground up to the " + support;
      return shape_text(r.shape) + " on the " + support;
    case Kind::loading:
      return fmt::format("shortened to {:.1f} m with a coil at its foot ({})", r.number, mass(r.added_g));
    case Kind::standoff:
      return fmt::format("held {:g} m off the {}", r.number, support);
    case Kind::no_mast_beside:
      return fmt::format("on a pole of {:.1f} m that does not conduct ({})", r.number, mass(r.added_g));
    case Kind::cable:
      return fmt::format("with {:.0f} m of cable ({})", r.number, mass(r.added_g));
  }
  return {};
}

}  // namespace

std::string remedy_text(const kit::Trip& trip, const advice::Remedy& r) {
  auto out = fmt::format("{}, {}: serves {}", trip.at(r.antenna).item.name, change_text(trip, r),
                         bands_text(trip, r.bands));
  if (!r.lost.empty()) out += ", no longer " + bands_text(trip, r.lost);
  if (r.reach) out += fmt::format(": {} -> {}", percent(r.reach->now), percent(r.reach->then));
  return out;
}

}  // namespace skerry::words
