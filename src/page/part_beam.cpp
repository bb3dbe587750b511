// The beam of grams: what each gram brings, drawn at one scale. Above it the frontier, reach against mass; on it
// the packed things as blocks; below it in outline what stays at home.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/page_text.hpp"

namespace skerry::page {

namespace {

using advice::Advice;
using advice::ItemAdvice;

// Sizes in units of the picture: a unit is a pixel where the page is `width` wide.
constexpr double inset = 22, line_height = 148, floor_y = 124, block_height = 46, home_height = 32,
                 letter = 15.5;
/// How wide a letter is, at most, in letters' heights. Judgement: of common sans serif fonts; the sign that a name
/// goes on is as wide as a letter is high.
double width_of(char first_byte) {
  const std::string_view narrow = "iljtfrI.,;:'!|()[] -", wide = "mwMW%@";
  if (narrow.find(first_byte) != std::string_view::npos) return 0.42;
  if (wide.find(first_byte) != std::string_view::npos ||
      (static_cast<unsigned char>(first_byte) & 0x80U) != 0)
    return 1.0;
  return first_byte >= 'A' && first_byte <= 'Z' ? 0.75 : 0.64;
}
constexpr double goes_on = 1.0;
/// How much wider bold letters are. Judgement: as above.
constexpr double bold = 1.1;

double width_of(const std::string& text) {
  double out = 0;
  for (const char c : text)
    out += (static_cast<unsigned char>(c) & 0xC0U) == 0x80U ? 0 : letter * width_of(c);
  return out;
}

/// What a block or a line is called, cut to a width.
std::string fitting(const std::string& name, double width) {
  const auto whole = plain(name);
  if (width_of(whole) <= width) return whole;
  std::string out;
  double used = letter * goes_on;
  for (const char c : whole) {
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) used += letter * width_of(c);
    if (used > width) break;
    out += c;
  }
  return out + "\u2026";
}

class Beam {
 public:
  Beam(const Advice& a, double width) : a_(a), width_(width) {
    scale_g_ = beam_scale_g(a);
    for (const auto& kit : a.frontier.kits) most_reach_ = std::max(most_reach_, kit.reach);
    most_reach_ = std::max({most_reach_, a.kit.reach, 0.01});
  }

  [[nodiscard]] std::string frontier() const;
  [[nodiscard]] std::string blocks() const;

 private:
  [[nodiscard]] double x_of(double grams) const {
    return inset + (width_ - 2 * inset) * std::min(1.0, grams / scale_g_);
  }
  [[nodiscard]] double y_of(double reach) const {
    return floor_y - (floor_y - 22) * reach / (1.12 * most_reach_);
  }
  [[nodiscard]] std::string limit(double from, double to) const {
    if (!std::isfinite(a_.limit_g)) return {};
    return fmt::format("<path class=\"limit\" d=\"M{:.1f} {:g}V{:g}\"/>", x_of(a_.limit_g), from, to);
  }
  [[nodiscard]] std::string head(const char* kind, double height, const std::string& label) const {
    return fmt::format("<svg class=\"beam {} {}\" viewBox=\"0 0 {:g} {:g}\" role=\"img\" aria-label=\"{}\">",
                       width_ > 500 ? "wide" : "narrow", kind, width_, height, markup(label));
  }
  [[nodiscard]] std::string step_name(const choose::Choice* before, const choose::Choice& kit) const;
  [[nodiscard]] std::string labels() const;
  [[nodiscard]] std::string block(const ItemAdvice& item, double x, double y, double height, bool home) const;

  const Advice& a_;
  double width_, scale_g_ = 1, most_reach_ = 0;
};

/// The thing that makes a step: of those that come the antenna, the set, the support, the pack, whatever it is.
std::string Beam::step_name(const choose::Choice* before, const choose::Choice& kit) const {
  std::vector<int> comes = kit.items, goes;
  if (before != nullptr) advice::differences(before->items, kit.items, comes, goes);
  using advice::ThingKind;
  for (const auto kind : {ThingKind::antenna, ThingKind::rig, ThingKind::support, ThingKind::battery,
                          ThingKind::tuner, ThingKind::cable, ThingKind::item}) {
    for (const int i : comes) {
      const auto& thing = nth(a_.inventory.things, i);
      if (thing.kind == kind && !(thing.always && before == nullptr)) return thing.name;
    }
  }
  return {};
}

/// The largest steps by name, each where it covers no other.
std::string Beam::labels() const {
  const auto& kits = a_.frontier.kits;
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < kits.size(); ++k) order.push_back(k);
  const auto rise = [&](std::size_t k) { return kits[k].reach - (k > 0 ? kits[k - 1].reach : 0); };
  std::stable_sort(order.begin(), order.end(), [&](auto x, auto y) { return rise(x) > rise(y); });
  struct Box {
    double left, right, y;
  };
  std::vector<Box> taken;
  std::string out;
  for (const auto k : order) {
    if (taken.size() == (width_ > 500 ? 6U : 3U)) break;
    const auto step = step_name(k > 0 ? &kits[k - 1] : nullptr, kits[k]);
    if (step.empty()) continue;
    const auto name = fitting(step, width_ > 500 ? 210 : 130);
    const double long_way = width_of(name);
    const double x = x_of(kits[k].mass_g) - 5;
    const Box box{x - long_way, x, y_of(kits[k].reach) - 5};
    const bool free =
        box.left > 30 && std::none_of(taken.begin(), taken.end(), [&](const Box& b) {
          return std::abs(b.y - box.y) < letter + 1 && b.left < box.right + 8 && box.left - 8 < b.right;
        });
    if (!free) continue;
    taken.push_back(box);
    out += fmt::format("<text class=\"step\" x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"end\">{}</text>", x,
                       box.y, markup(name));
  }
  return out;
}

std::string Beam::frontier() const {
  const auto& kits = a_.frontier.kits;
  std::string label;
  if (!kits.empty()) {
    const auto& first = kits.front();
    const auto& last = kits.back();
    label = fmt::format(caption::beam_picture, kits.size(), words::mass(first.mass_g),
                        words::percent(first.reach), words::mass(last.mass_g), words::percent(last.reach));
  } else {
    label = fmt::format(caption::frontier, words::mass(a_.kit.mass_g), words::percent(a_.kit.reach),
                        words::mass(scale_g_), words::percent(a_.reach_of_everything));
  }
  std::string out = head("steps", line_height, label);
  for (const double share : {0.0, 0.5, 1.0}) {
    const double y = y_of(share * most_reach_);
    out += fmt::format("<path class=\"grid\" d=\"M{:g} {:.1f}H{:g}\"/>", inset, y, width_ - inset);
    if (share > 0)
      out += fmt::format("<text class=\"tick\" x=\"{:g}\" y=\"{:.1f}\">{}</text>", inset - 20, y - 3,
                         words::percent(share * most_reach_));
  }
  std::string stairs;
  double last_y = y_of(0);
  for (const auto& kit : kits) {
    const double x = x_of(kit.mass_g);
    stairs += fmt::format("{}{:.1f} {:.1f}V{:.1f}", stairs.empty() ? 'M' : 'L', x, last_y, y_of(kit.reach));
    last_y = y_of(kit.reach);
  }
  if (!stairs.empty()) {
    out += fmt::format("<path class=\"best\" d=\"{}H{:.1f}\"/>", stairs,
                       x_of(std::isfinite(a_.limit_g) ? a_.limit_g : scale_g_));
  }
  for (const auto& kit : kits)
    out += fmt::format("<circle class=\"kit\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"3\"/>", x_of(kit.mass_g),
                       y_of(kit.reach));
  const double step_g = scale_g_ > 12000 ? 4000 : scale_g_ > 6000 ? 2000 : scale_g_ > 2500 ? 1000 : 500;
  for (double g = 0; g <= scale_g_; g += step_g) {
    out += fmt::format("<text class=\"tick mid\" x=\"{:.1f}\" y=\"{:g}\">{:g}{}</text>", x_of(g),
                       floor_y + 17, g / 1000, g == 0 ? " kg" : "");
  }
  out += limit(8, line_height);
  out += fmt::format("<circle class=\"chosen\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"6.5\"/>", x_of(a_.kit.mass_g),
                     y_of(a_.kit.reach));
  return out + labels() + "</svg>";
}

/// The kilograms stand on the rail that belongs to the notch; a block's number leads to its name below.
std::string Beam::block(const ItemAdvice& item, double x, double y, double height, bool home) const {
  const auto& thing = nth(a_.inventory.things, item.thing);
  const double wide = std::max(2.0, (width_ - 2 * inset) * std::min(1.0, thing.mass_g / scale_g_) - 1.5);
  const auto weight = home ? "left" : fmt::format("w{}", beam_class(a_, item));
  std::string out = fmt::format(
      "<g class=\"thing {}\" data-thing=\"{}\"><title>{}</title><rect x=\"{:.1f}\" y=\"{:g}\" "
      "width=\"{:.1f}\" height=\"{:g}\"/>",
      weight, markup(thing.id),
      markup(fmt::format(caption::beam_thing, thing.name, words::mass(thing.mass_g), beam_gain(a_, item))), x,
      y, wide, height);
  const auto text = fitting(thing.name, wide - 10);
  // A name needs room for three letters at least, a gain for all of its own.
  if (wide > 34 && text.size() > 4) {
    out += fmt::format("<text x=\"{:.1f}\" y=\"{:g}\">{}</text>", x + 5, y + (home ? 21 : 19), markup(text));
  }
  const auto gain = beam_gain_short(a_, item);
  if (!home && bold * width_of(gain) < wide - 8)
    out += fmt::format("<text class=\"gain\" x=\"{:.1f}\" y=\"{:g}\">{}</text>", x + 5, y + 37, gain);
  return out + "</g>";
}

std::string Beam::blocks() const {
  const auto carried = in_order(a_, true);
  const auto left = in_order(a_, false);
  std::string body;
  double grams = 0;
  for (const auto* item : carried) {
    body += block(*item, x_of(grams), 2, block_height, false);
    grams += nth(a_.inventory.things, item->thing).mass_g;
  }
  // What stays at home in rows, a new one where the next thing has no room.
  double y = block_height + 14;
  grams = 0;
  for (const auto* item : left) {
    const double mass = nth(a_.inventory.things, item->thing).mass_g;
    if (grams > 0 && grams + mass > scale_g_) {
      y += home_height + 4;
      grams = 0;
    }
    body += block(*item, x_of(grams), y, home_height, true);
    grams += mass;
  }
  const double tall = left.empty() ? block_height + 8 : y + home_height + 4;
  return head("blocks", tall,
              fmt::format(caption::beam_blocks, carried.size(), words::mass(a_.kit.mass_g), left.size())) +
         fmt::format("<path class=\"rod\" d=\"M{:g} {:g}H{:g}\"/>", inset, block_height + 4, width_ - inset) +
         body + limit(0, block_height + 8) + "</svg>";
}

std::string legend(const Advice& a, bool carry) {
  std::string out = "<ul class=\"things\">";
  for (const auto* item : in_order(a, carry)) {
    const auto& thing = nth(a.inventory.things, item->thing);
    out += fmt::format(
        "<li><span class=\"pick {}\" data-thing=\"{}\"><i></i>{} <small>{}</small> <b>{}</b></span></li>",
        carry ? fmt::format("w{}", beam_class(a, *item)) : "left", markup(thing.id), bdi(thing.name),
        words::mass(thing.mass_g), beam_gain_short(a, *item));
  }
  return out + "</ul>";
}

}  // namespace

double beam_scale_g(const Advice& a) {
  double everything = 0, heaviest = 0;
  for (const auto& thing : a.inventory.things) {
    everything += thing.mass_g;
    heaviest = std::max(heaviest, thing.mass_g);
  }
  const double most = std::isfinite(a.limit_g) ? a.limit_g * 1.15 : everything;
  return std::max({most, a.kit.mass_g * 1.02, heaviest, 1.0});
}

std::vector<const ItemAdvice*> in_order(const Advice& a, bool carry) {
  std::vector<const ItemAdvice*> out;
  for (const auto& item : a.items) {
    if (item.carry == carry) out.push_back(&item);
  }
  std::stable_sort(out.begin(), out.end(), [&](const auto* x, const auto* y) {
    const bool x_always = nth(a.inventory.things, x->thing).always;
    const bool y_always = nth(a.inventory.things, y->thing).always;
    return x_always != y_always ? y_always : x->reach > y->reach;
  });
  return out;
}

int beam_class(const Advice& a, const ItemAdvice& item) {
  if (nth(a.inventory.things, item.thing).always || a.kit.reach <= 0) return 0;
  const double share = item.reach / a.kit.reach;
  // Judgement: five shades that an eye tells apart.
  return share > 0.5 ? 5 : share > 0.1 ? 4 : share > 0.03 ? 3 : share > 0.003 ? 2 : 1;
}

std::string beam_gain_short(const Advice& a, const ItemAdvice& item) {
  const auto& thing = nth(a.inventory.things, item.thing);
  // "<1 %" carries no sign.
  const auto share = words::percent(item.reach);
  const bool little = share.front() == '<';
  if (item.carry) return item.reach < 0.0005 ? std::string() : (little ? "" : "\u2212") + share;
  if (thing.excluded) return "\u00D7";
  return item.reach < 0.0005 ? caption::adds_nothing : little ? share : fmt::format(caption::adds, share);
}

std::string beam_gain(const Advice& a, const ItemAdvice& item) {
  const auto& thing = nth(a.inventory.things, item.thing);
  if (item.carry && thing.always) return caption::goes_anyway;
  if (item.carry && item.reach < 0.0005) return caption::brings_under;
  if (item.carry) return fmt::format(caption::brings, words::percent(item.reach));
  return thing.excluded ? caption::cannot_come : beam_gain_short(a, item);
}

std::string beam_html(const Advice& a) {
  const Beam wide(a, 1000), narrow(a, 332);
  const double scale = beam_scale_g(a);
  const double limit = std::isfinite(a.limit_g) ? a.limit_g : scale;
  std::string out = wide.frontier() + narrow.frontier();
  // Who can change nothing here sees the line alone.
  out += fmt::format(
      "<div class=\"rail\"><input type=\"range\" id=\"limit\" min=\"0\" max=\"{:.0f}\" step=\"10\" "
      "value=\"{:.0f}\" aria-label=\"Limit in grams\" hidden></div>\n",
      scale, limit);
  out += wide.blocks() + narrow.blocks();
  out += fmt::format(
      "<p class=\"railtext\"><button type=\"button\" class=\"stepper\" data-step=\"-100\" "
      "aria-label=\"100 g less\" hidden>&#8722;</button> <output id=\"limit-text\" for=\"limit\">{}</output> "
      "<button type=\"button\" class=\"stepper\" data-step=\"100\" aria-label=\"100 g more\" "
      "hidden>+</button></p>\n",
      std::isfinite(a.limit_g) ? fmt::format(caption::beam_limit, words::mass(a.limit_g))
                               : caption::no_limit);
  const auto list = [&](const char* name, bool carry) {
    return fmt::format("<details class=\"folds\" open><summary>{} <small>{}</small></summary>{}</details>",
                       name, in_order(a, carry).size(), legend(a, carry));
  };
  return out + list(caption::in_the_bag, true) + list(caption::at_home, false);
}

}  // namespace skerry::page
