#include "skerry/antenna/kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "raising.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Judgement: a listed band centre stands for frequencies within this share of it (28.0 to 29.7 is +/-3 %).
constexpr double band_slack = 0.04;
const std::vector<std::string> kind_names{
    "vertical-quarter", "vertical-loaded", "dipole",     "end-fed-half-wave",
    "end-fed-random",   "wire-beam",       "small-loop", "whip"};
const std::vector<std::string> shape_names{"vertical", "inverted-v", "sloper", "inverted-l", "horizontal"};

template <class T>
Result<T> parse(const std::vector<std::string>& names, const char* what, std::string_view word,
                const Where& where) {
  std::string plain = lower(trim(word));
  for (char& c : plain) {
    if (c == '_' || c == ' ') c = '-';
  }
  std::string list;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (names[i] == plain) return static_cast<T>(i);
    list += (i == 0 ? "" : ", ") + names[i];
  }
  return fail(where, fmt::format("{} '{}'", what, one_line(word)), "one of " + list,
              did_you_mean(plain, names));
}

std::vector<Shape> usual_shapes(Kind kind) {
  switch (kind) {
    case Kind::vertical_quarter:
    case Kind::vertical_loaded:
    case Kind::small_loop:
    case Kind::whip:
      return {Shape::vertical};
    case Kind::dipole:
      return {Shape::inverted_v, Shape::sloper, Shape::horizontal};
    case Kind::wire_beam:
      return {Shape::inverted_v, Shape::horizontal};
    case Kind::end_fed_half_wave:
    case Kind::end_fed_random:
      return {Shape::vertical, Shape::inverted_v, Shape::sloper, Shape::inverted_l, Shape::horizontal};
  }
  return {};
}

Answer raise_kind(const Design& design, Shape shape, const Support& support, double mhz) {
  switch (design.kind) {
    case Kind::vertical_quarter:
      return raise_quarter(design, shape, support, mhz);
    case Kind::vertical_loaded:
      return raise_loaded(design, shape, support, mhz);
    case Kind::dipole:
      return raise_dipole(design, shape, support, mhz);
    case Kind::end_fed_half_wave:
    case Kind::end_fed_random:
      return raise_end_fed(design, shape, support, mhz);
    case Kind::wire_beam:
      return raise_beam(design, shape, support, mhz);
    case Kind::small_loop:
      return raise_loop(design, shape, support, mhz);
    case Kind::whip:
      break;
  }
  return raise_whip(design, shape, mhz);
}

}  // namespace

Result<Kind> parse_kind(std::string_view name, const Where& where) {
  return parse<Kind>(kind_names, "antenna kind", name, where);
}
std::string to_text(Kind kind) {
  return nth(kind_names, kind);
}
Result<Shape> parse_shape(std::string_view name, const Where& where) {
  return parse<Shape>(shape_names, "shape", name, where);
}
std::string to_text(Shape shape) {
  return nth(shape_names, shape);
}

double transformer_ratio_of(const Design& design) {
  if (design.transformer_ratio > 1) return design.transformer_ratio;
  if (design.kind == Kind::end_fed_half_wave) return 49.0;
  return design.kind == Kind::end_fed_random ? 9.0 : 1.0;
}

Chain chain_for(const Design& design, double mhz, FeedLine line) {
  Chain chain;
  chain.transformer_ratio = transformer_ratio_of(design);
  chain.transformer_loss_db = transformer_loss_db(chain.transformer_ratio, mhz, design.transformer_loss_db);
  chain.coil_q = design.coil_q;
  chain.ground_loss_ohm = design.ground_loss_ohm.value_or(0);
  chain.own_match = design.kind == Kind::small_loop || design.kind == Kind::whip ||
                    (design.kind == Kind::vertical_loaded && design.coil_at == 0);
  chain.line = std::move(line);
  return chain;
}

Raising raise(const Design& design, const Support& support, double mhz) {
  assert(mhz > 0);
  Raising out;
  const auto serves = [mhz](double centre) { return std::abs(mhz - centre) <= band_slack * centre; };
  if (!design.bands_mhz.empty() && std::none_of(design.bands_mhz.begin(), design.bands_mhz.end(), serves)) {
    out.why_not.push_back({NoteKind::not_made_for, mhz});
    return out;
  }
  const std::vector<Shape> shapes = design.shapes.empty() ? usual_shapes(design.kind) : design.shapes;
  for (const Shape shape : shapes) {
    Answer answer = raise_kind(design, shape, support, mhz);
    if (auto* way = std::get_if<Raised>(&answer)) {
      // A whip or a loop's frame stands by itself, away from any mast.
      const bool apart = design.kind == Kind::whip || design.kind == Kind::small_loop;
      if (support.conductive && !apart) add_mast(design, support, *way);
      out.ways.push_back(std::move(*way));
    } else {
      const Note& why = std::get<Note>(answer);
      if (std::find(out.why_not.begin(), out.why_not.end(), why) == out.why_not.end())
        out.why_not.push_back(why);
    }
  }
  return out;
}

}  // namespace skerry::antenna
