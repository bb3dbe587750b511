#include "bag_room.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "skerry/choose/place.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

using Sides = std::array<double, 3>;

bool box_fits(Sides box, const Sides& inner) {
  std::sort(box.begin(), box.end());
  return box[0] <= inner[0] + 1e-9 && box[1] <= inner[1] + 1e-9 && box[2] <= inner[2] + 1e-9;
}

/// A thing as it may lie in one bag.
struct Shape {
  std::optional<Sides> box;  ///< sides, rising
  std::optional<kit::TubeWays> rod;
  double width = 0;  ///< the least of the body, seen from anywhere
};

Shape shape_of(const kit::Item& item, const Sides& inner) {
  Shape out;
  if (item.tube_cm) {
    out.rod = kit::ways_of_tube(inner, *item.tube_cm);
    out.width = std::min((*item.tube_cm)[0], (*item.tube_cm)[1]);
  } else if (item.size_cm && box_fits(*item.size_cm, inner)) {
    out.box = *item.size_cm;
    std::sort(out.box->begin(), out.box->end());
    out.width = (*out.box)[0];
  }
  // A box that goes in aslant only is bound by nothing here.
  return out;
}

/// No plane square to any direction n keeps a rod and a box apart. With the middles as far from each other as
/// they can be, the middle of the box off by (s - a) / 2 and that of the rod by `play`, the gap along n is at
/// most sum |n_i| (s_i / 2 - a_i + play_i) less half the rod's width along n. That width is at least the rod's
/// least one (the first test), and at least L |u n| >= L (u_i |n_i| - u_j |n_j| - u_k |n_k|) (the second).
bool rod_and_box_clash(const Sides& inner, const Shape& rod, const Shape& box) {
  Sides a = *box.box;
  constexpr double rounding = 1e-7;
  do {
    if (a[0] > inner[0] + 1e-9 || a[1] > inner[1] + 1e-9 || a[2] > inner[2] + 1e-9) continue;
    double squares = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const double gap = std::max(0.0, 0.5 * inner[i] - a[i] + rod.rod->play_cm[i]);
      squares += gap * gap;
    }
    bool none = std::sqrt(squares) < 0.5 * rod.width - rounding;
    for (std::size_t i = 0; i < 3 && !none; ++i) {
      none = inner[i] - a[i] < rod.rod->along_cm[i] - rounding;
      for (const std::size_t j : {(i + 1) % 3, (i + 2) % 3})
        none = none && inner[j] - a[j] < rod.rod->across_cm[j] - rounding;
    }
    if (!none) return false;
  } while (std::next_permutation(a.begin(), a.end()));
  return true;
}

bool clash(const Sides& inner, const Shape& a, const Shape& b) {
  if (a.box && b.box) {
    // Both lying flat, one on the other: most pairs.
    if ((*a.box)[0] + (*b.box)[0] <= inner[0]) return false;
    return choose::boxes_clash(inner, *a.box, *b.box);
  }
  if (a.rod && b.rod) {
    double squares = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const double off = a.rod->play_cm[i] + b.rod->play_cm[i];
      squares += off * off;
    }
    return std::sqrt(squares) < 0.5 * (a.width + b.width) - 1e-7;
  }
  if (a.rod && b.box) return rod_and_box_clash(inner, a, b);
  if (a.box && b.rod) return rod_and_box_clash(inner, b, a);
  return false;
}

/// Judgement: small things clash with nothing, and what fills a bag is among so many of the bulkiest. To look
/// at fewer only leaves a bound out.
constexpr std::size_t most_looked_at = 60;

/// Groups of which any two clash, so that each pair that clashes is in one of them.
void add_pairs(const Sides& inner, const std::vector<Shape>& shapes, std::vector<Crowd>& out) {
  const std::size_t n = shapes.size();
  std::vector<char> clashes(n * n, 0), covered(n * n, 0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j)
      clashes[i * n + j] = clashes[j * n + i] = clash(inner, shapes[i], shapes[j]) ? 1 : 0;
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      if (clashes[i * n + j] == 0 || covered[i * n + j] != 0) continue;
      std::vector<std::size_t> group{i, j};
      for (std::size_t k = 0; k < n; ++k) {
        if (k != i && k != j &&
            std::all_of(group.begin(), group.end(), [&](std::size_t g) { return clashes[k * n + g] != 0; }))
          group.push_back(k);
      }
      Crowd crowd;
      for (const std::size_t g : group) {
        crowd.things.push_back(static_cast<int>(g));
        for (const std::size_t h : group) covered[g * n + h] = 1;
      }
      std::sort(crowd.things.begin(), crowd.things.end());
      out.push_back(std::move(crowd));
    }
  }
}

/// Rods at least as thick as one of them, and with no more play.
void add_rods(const std::vector<Shape>& shapes, std::vector<Crowd>& out) {
  for (const Shape& least : shapes) {
    if (!least.rod) continue;
    Crowd crowd;
    Sides middles{};
    for (std::size_t k = 0; k < 3; ++k) middles[k] = 2 * least.rod->play_cm[k] + 1e-7;
    crowd.most = choose::most_balls(middles, least.width);
    for (std::size_t j = 0; j < shapes.size(); ++j) {
      const Shape& s = shapes[j];
      bool bound = s.rod && s.width >= least.width;
      for (std::size_t k = 0; k < 3; ++k) bound = bound && s.rod->play_cm[k] <= least.rod->play_cm[k] + 1e-9;
      if (bound) crowd.things.push_back(static_cast<int>(j));
    }
    const auto same = [&](const Crowd& c) { return c.things == crowd.things && c.most <= crowd.most; };
    if (static_cast<std::int64_t>(crowd.things.size()) > crowd.most &&
        std::none_of(out.begin(), out.end(), same))
      out.push_back(std::move(crowd));
  }
}

// Whole millimetres on the side of what lies: things up, the bag down.
int up_mm(double cm) {
  return std::max(1, static_cast<int>(std::ceil(10 * cm - 1e-6)));
}
int down_mm(double cm) {
  return static_cast<int>(std::floor(10 * cm + 1e-6));
}

}  // namespace

std::vector<Crowd> crowds(const kit::Bag& bag, std::span<const kit::Item* const> things) {
  std::vector<Crowd> out;
  const auto inner = kit::clear_sides_cm(bag);
  if (!inner) return out;
  std::vector<int> bulky;
  for (std::size_t i = 0; i < things.size(); ++i) {
    if ((things[i]->tube_cm || things[i]->size_cm) && kit::fits(*things[i], bag))
      bulky.push_back(static_cast<int>(i));
  }
  std::stable_sort(bulky.begin(), bulky.end(), [&](int a, int b) {
    return box_volume_cm3(*nth(things, a)) > box_volume_cm3(*nth(things, b));
  });
  bulky.resize(std::min(bulky.size(), most_looked_at));
  std::vector<Shape> shapes;
  for (const int i : bulky) shapes.push_back(shape_of(*nth(things, i), *inner));
  add_pairs(*inner, shapes, out);
  add_rods(shapes, out);
  for (auto& crowd : out) {
    for (int& i : crowd.things) i = nth(bulky, i);
    std::sort(crowd.things.begin(), crowd.things.end());
  }
  return out;
}

double volume_cm3(const kit::Item& item) {
  const double box = box_volume_cm3(item);
  return item.tube_cm ? std::numbers::pi / 4 * box : box;
}

double box_volume_cm3(const kit::Item& item) {
  if (item.size_cm) return (*item.size_cm)[0] * (*item.size_cm)[1] * (*item.size_cm)[2];
  if (item.tube_cm) return (*item.tube_cm)[0] * (*item.tube_cm)[1] * (*item.tube_cm)[1];
  return item.mass_g / soft_g_per_litre * 1000;
}

std::optional<std::vector<BagLoad::Place>> place_in(const kit::Bag& bag,
                                                    std::span<const kit::Item* const> things) {
  const auto inner = kit::clear_sides_cm(bag);
  if (!inner) return things.empty() ? std::optional(std::vector<BagLoad::Place>{}) : std::nullopt;
  const std::array<int, 3> inside{down_mm((*inner)[0]), down_mm((*inner)[1]), down_mm((*inner)[2])};
  const Sides inside_cm{inside[0] / 10.0, inside[1] / 10.0, inside[2] / 10.0};
  std::vector<choose::Body> bodies;
  std::vector<int> which;
  double all_cm3 = 0, soft_cm3 = 0;
  const auto add_rod = [&](std::size_t i, int length, int across) {
    choose::Body body{{length, across, across}, {}};
    if (!box_fits({length / 10.0, across / 10.0, across / 10.0}, inside_cm)) {
      auto ways = kit::ways_of_tube(inside_cm, {length / 10.0, across / 10.0});
      if (!ways) return false;
      body.aslant = std::move(ways->some);
    }
    bodies.push_back(std::move(body));
    which.push_back(static_cast<int>(i));
    return true;
  };
  for (std::size_t i = 0; i < things.size(); ++i) {
    const kit::Item& item = *things[i];
    all_cm3 += volume_cm3(item);
    if (item.tube_cm) {
      if (!add_rod(i, up_mm((*item.tube_cm)[0]), up_mm((*item.tube_cm)[1]))) return std::nullopt;
    } else if (!item.size_cm) {
      soft_cm3 += volume_cm3(item);
    } else if (Sides s = *item.size_cm; box_fits(s, *inner)) {
      bodies.push_back({{up_mm(s[0]), up_mm(s[1]), up_mm(s[2])}, {}});
      which.push_back(static_cast<int>(i));
    } else {
      // A long thin one goes in as the tube around it.
      std::sort(s.begin(), s.end());
      if (!add_rod(i, up_mm(s[2]), up_mm(std::hypot(s[0], s[1])))) return std::nullopt;
    }
  }
  // A single soft thing fills what it needs.
  const double usable_cm3 = usable_share_of_bag * (*inner)[0] * (*inner)[1] * (*inner)[2];
  if (soft_cm3 > 0 && all_cm3 > usable_cm3 + 1e-6 && things.size() > 1) return std::nullopt;
  // Judgement: a few milliseconds, after which nothing more is found.
  const auto spots = choose::place(inside, bodies, 1'000'000);
  if (!spots) return std::nullopt;
  std::vector<BagLoad::Place> out;
  for (std::size_t n = 0; n < which.size(); ++n) {
    BagLoad::Place place{which[n], {}, {}, !bodies[n].aslant.empty()};
    for (std::size_t k = 0; k < 3; ++k) {
      place.from_cm[k] = (*spots)[n].from[k] / 10;
      place.to_cm[k] = (*spots)[n].to[k] / 10;
    }
    out.push_back(place);
  }
  return out;
}

}  // namespace skerry::advice
