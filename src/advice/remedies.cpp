#include "skerry/advice/remedies.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

#include "hung_wires.hpp"
#include "skerry/antenna/kinds.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/antenna/mast.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/kit/standing.hpp"

namespace skerry::advice {

namespace {

using antenna::Shape;
using Kind = Remedy::Kind;

// Judgement: what one cuts off or ties on and still calls the same wire.
constexpr int most_cut_percent = 6;
// Judgement: what is usually laid out, and how far from a mast a wire is usually held.
constexpr double counterpoises_m[] = {2, 3.5, 5, 7, 10};
constexpr double standoffs_m[] = {0.3, 0.6, 1, 2};
// Common practice: what transformers of end-fed wires are wound to.
constexpr double ratios[] = {4, 9, 16, 25, 36, 49, 64};
// Judgement: a small tuner; a coil with taps in a tube.
constexpr double tuner_g = 250;
constexpr double coil_g = 80;
// Judgement: poles come in half metres, and one person puts up 12 m; 6 m of it are 700 g, 10 m 1500 g.
constexpr double pole_step_m = 0.5;
constexpr double longest_pole_m = 12;
double pole_g(double height_m) {
  return 50 * std::round((60 * height_m + 9 * height_m * height_m) / 50);
}

bool fed_at_end(const antenna::Design& d) {
  return d.kind == antenna::Kind::end_fed_half_wave || d.kind == antenna::Kind::end_fed_random;
}

bool contains(const std::vector<std::string>& list, const std::string& id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

/// The rig takes it, by itself or through one of the tuners it may have.
bool matched(const kit::Trip& trip, const kit::Setup& setup, double mhz, const antenna::Solution& currents) {
  const auto match = [&](const kit::Setup& s) {
    const auto chain = antenna::chain_for(kit::design_for(trip, s), mhz, kit::line_for(trip, s));
    return antenna::matching_of(currents, chain).match;
  };
  if (!setup.tuned && match(setup) == antenna::Match::direct) return true;
  kit::Setup tuned = setup;
  tuned.tuned = true;
  const auto tuners = kit::tuners_for(trip, trip.at(setup.rig));
  return std::any_of(tuners.begin(), tuners.end(), [&](const auto& tuner) {
    tuned.tuner = tuner;
    return match(tuned) != antenna::Match::impossible;
  });
}

/// One antenna: where it is looked at, what it lacks there, and what wins it.
class Search {
 public:
  Search(const kit::Trip& trip, Id<kit::Antenna> antenna, const kit::Setups& setups, const PatternBook& book)
      : trip_(trip), id_(antenna), a_(trip.at(antenna)), setups_(setups), known_(*book.solved) {
    find_place(book);
  }

  [[nodiscard]] std::vector<Remedy> run() {
    if (a_.wires || missing_.empty()) return {};
    if (stands_) {
      here_ = served(trip_, id_, {support_, far_}, shape_, {}).bands;
      try_wire();
    }
    try_cable();
    try_tuner();
    try_shapes();
    try_supports();
    try_poles();
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Remedy& x, const Remedy& y) { return gain(x) > gain(y); });
    return std::move(found_);
  }

 private:
  using Supports = std::vector<std::optional<Id<kit::Support>>>;
  struct Served {
    std::set<int> bands;
    std::optional<Shape> shape;  ///< of the first
  };

  static long gain(const Remedy& r) {
    return static_cast<long>(r.bands.size()) - static_cast<long>(r.lost.size());
  }

  /// Where it serves most; what it is meant for and serves nowhere.
  void find_place(const PatternBook& book) {
    std::set<int> used;
    std::size_t most = 0;
    for (std::size_t s = 0; s < setups_.possible.size(); ++s) {
      const auto& setup = setups_.possible[s];
      if (setup.antenna != id_) continue;
      for (const auto& u : book.setups[s]) used.insert(u.band);
      if (stands_ && book.setups[s].size() <= most) continue;
      stands_ = true;
      most = book.setups[s].size();
      site_ = setup.site;
      support_ = setup.support;
      far_ = setup.far_support;
      shape_ = setup.shape;
    }
    if (!stands_) {
      // The tallest it is allowed on.
      for (const auto s : ids_of(trip_.supports)) {
        const auto& one = trip_.at(s);
        if (!a_.supports.empty() && !contains(a_.supports, one.item.id)) continue;
        if (!support_ || one.usable_height_m() > trip_.at(*support_).usable_height_m()) support_ = s;
      }
    }
    for (std::size_t b = 0; b < trip_.bands.size(); ++b) {
      const bool meant = a_.bands.empty() || contains(a_.bands, trip_.bands[b].id);
      if (meant && used.count(static_cast<int>(b)) == 0) missing_.insert(static_cast<int>(b));
    }
  }

  /// The bands an antenna of a changed trip serves at the site on these supports, with whatever rig, cable and
  /// tuner.
  ///   of  only of these; empty: of all
  [[nodiscard]] Served served(const kit::Trip& with, Id<kit::Antenna> antenna, const Supports& on,
                              std::optional<Shape> shape, const std::set<int>& of) const {
    kit::Trip small = with;
    small.antennas = {with.at(antenna)};
    auto& one = small.antennas.front();
    if (!kit::stands_alone(one)) {
      one.supports.clear();
      for (const auto s : on) {
        if (s) one.supports.push_back(with.at(*s).item.id);
      }
      if (one.supports.empty()) return {};
    }
    Served out;
    for (const auto& setup : kit::derive_setups(small).possible) {
      if (setup.site != site_ || (shape && setup.shape != *shape)) continue;
      if (setup.support && setup.support != on.front()) continue;
      for (const int b : setup.bands) {
        if (out.bands.count(b) > 0 || (!of.empty() && of.count(b) == 0)) continue;
        const WireJob job{&setup, b};
        const auto hung = solve_wires(small, job, known_);
        if (!hung || !matched(small, setup, nth(small.bands, b).mhz, *hung->currents) ||
            mast_doubt(small, job, *hung, known_))
          continue;
        out.bands.insert(b);
        if (!out.shape && missing_.count(b) > 0) out.shape = setup.shape;
      }
    }
    return out;
  }

  [[nodiscard]] Remedy blank(Kind kind, double number, double added_g = 0) const {
    Remedy r;
    r.kind = kind;
    r.antenna = id_;
    r.shape = shape_.value_or(Shape::vertical);
    r.support = support_;
    r.number = number;
    r.added_g = added_g;
    return r;
  }

  /// Asks all of one kind and keeps the best, the first of equals.
  void keep_best(std::vector<Remedy> asked, bool any_shape = false) {
    std::vector<Served> found(asked.size());
    parallel_for(asked.size(), 1, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) found[i] = ask(asked[i], any_shape);
    });
    Remedy* best = nullptr;
    for (std::size_t i = 0; i < asked.size(); ++i) {
      auto& r = asked[i];
      r.bands.clear();
      for (const int b : missing_) {
        if (found[i].bands.count(b) > 0) r.bands.push_back(b);
      }
      if (changes_what_serves(r.kind)) {
        for (const int b : here_) {
          if (found[i].bands.count(b) == 0) r.lost.push_back(b);
        }
      }
      if (found[i].shape) r.shape = *found[i].shape;
      if (gain(r) > (best != nullptr ? gain(*best) : 0)) best = &r;
    }
    if (best != nullptr) found_.push_back(std::move(*best));
  }

  /// What is added or allowed besides takes nothing away.
  static bool changes_what_serves(Kind kind) {
    return kind == Kind::wire_length || kind == Kind::counterpoise || kind == Kind::ratio ||
           kind == Kind::standoff;
  }

  [[nodiscard]] Served ask(Remedy& r, bool any_shape) const {
    if (r.kind == Kind::loading) r.bands.assign(missing_.begin(), missing_.end());
    const auto with = changed(trip_, r);
    const bool new_pole = r.kind == Kind::longer_pole || r.kind == Kind::no_mast_beside;
    const auto antenna = r.kind == Kind::loading ? Id<kit::Antenna>(with.antennas.size() - 1) : id_;
    const auto on = new_pole ? Id<kit::Support>(with.supports.size() - 1) : r.support;
    const Supports supports{on, r.support == support_ && !new_pole ? far_ : std::nullopt};
    std::optional<antenna::Shape> shape;
    if (!any_shape) shape = r.shape;
    auto out = served(with, antenna, supports, shape, missing_);
    // What it would cost is asked only where it brings something.
    if (!out.bands.empty() && changes_what_serves(r.kind) && !here_.empty())
      out.bands.merge(served(with, antenna, supports, shape, here_).bands);
    return out;
  }

  template <std::size_t N>
  void try_numbers(Kind kind, const double (&numbers)[N]) {
    std::vector<Remedy> asked;
    for (const double n : numbers) asked.push_back(blank(kind, n));
    keep_best(std::move(asked));
  }

  void try_wire() {
    const auto& d = a_.design;
    const bool of_length = fed_at_end(d) || d.kind == antenna::Kind::dipole;
    if (of_length && d.wire_m > 0 && !d.linked) {
      std::vector<Remedy> asked;
      for (int percent = 1; percent <= most_cut_percent; ++percent) {
        for (const int sign : {-1, 1})
          asked.push_back(blank(Kind::wire_length, 0.01 * std::round(d.wire_m * (100 + sign * percent))));
      }
      keep_best(std::move(asked));
    }
    if (!fed_at_end(d)) return;
    if (d.cable_counterpoise_m <= 0) try_numbers(Kind::counterpoise, counterpoises_m);
    try_numbers(Kind::ratio, ratios);
  }

  void try_tuner() {
    const bool has = !trip_.tuners.empty() ||
                     std::any_of(trip_.rigs.begin(), trip_.rigs.end(), [](const auto& r) { return r.tuner; });
    if (!has) keep_best({blank(Kind::tuner, tuner_g, tuner_g)}, !stands_);
  }

  /// Long enough for what no cable reaches.
  void try_cable() {
    double length_m = 0;
    for (const auto& i : setups_.impossible) {
      using Why = kit::Impossible::Why;
      if (i.antenna != id_) continue;
      if (i.why == Why::short_counterpoise || i.why == Why::short_cable) length_m = std::max(length_m, i.b);
      if (i.why == Why::no_cable && i.support)
        length_m = std::max(length_m, trip_.at(*i.support).usable_height_m() + 1);
    }
    if (length_m <= 0) return;
    length_m = std::ceil(length_m);
    const auto type = antenna::find_cable(trip_.cables.empty() ? "rg316" : trip_.cables.front().type, {});
    keep_best({blank(Kind::cable, length_m, type ? (*type)->mass_g_per_m * length_m : 0)}, true);
  }

  void try_shapes() {
    if (!support_) return;
    const auto& d = a_.design;
    const auto allowed = [&](Shape s) {
      return std::find(d.shapes.begin(), d.shapes.end(), s) != d.shapes.end();
    };
    const auto in_shape = [&](Shape s) {
      auto out = blank(Kind::other_shape, 0);
      out.shape = s;
      return out;
    };
    if (d.kind == antenna::Kind::vertical_quarter) {
      // Bent over or leaning: two ways that one chooses between by the place.
      for (const Shape s : {Shape::inverted_l, Shape::sloper, Shape::vertical}) {
        const bool usual = s == Shape::vertical && d.shapes.empty();
        if (!allowed(s) && !usual) keep_best({in_shape(s)});
      }
      return;
    }
    if (d.shapes.empty()) return;
    std::vector<Remedy> asked;
    for (const Shape s : {Shape::inverted_v, Shape::sloper, Shape::inverted_l, Shape::vertical}) {
      if (!allowed(s)) asked.push_back(in_shape(s));
    }
    keep_best(std::move(asked));
  }

  void try_supports() {
    std::vector<Remedy> asked;
    for (const auto s : ids_of(trip_.supports)) {
      if (a_.supports.empty() || contains(a_.supports, trip_.at(s).item.id)) continue;
      asked.push_back(blank(Kind::other_support, 0));
      asked.back().support = s;
    }
    keep_best(std::move(asked), true);
  }

  void try_poles() {
    if (!support_ || kit::stands_alone(a_)) return;
    const auto& old = trip_.at(*support_);
    if (old.conductive && (!shape_ || antenna::runs_along_support(*shape_))) {
      try_numbers(Kind::standoff, standoffs_m);
      const double height = pole_step_m * std::ceil(old.height_m / pole_step_m);
      keep_best({blank(Kind::no_mast_beside, height, pole_g(height))});
    }
    if (a_.design.kind != antenna::Kind::vertical_quarter) return;
    std::vector<Remedy> asked;
    for (double h = pole_step_m * (std::floor(old.height_m / pole_step_m) + 1); h <= longest_pole_m;
         h += pole_step_m)
      asked.push_back(blank(Kind::longer_pole, h, pole_g(h)));
    keep_best(std::move(asked));
    const double room = old.usable_height_m() - a_.design.radial_height_m;
    auto coil = blank(Kind::loading, 0.1 * std::floor(10 * room), coil_g);
    coil.shape = Shape::vertical;
    if (room > 1) keep_best({coil});
  }

  const kit::Trip& trip_;
  Id<kit::Antenna> id_;
  const kit::Antenna& a_;
  const kit::Setups& setups_;
  SolvedWires& known_;
  bool stands_ = false;
  Id<kit::Site> site_;
  std::optional<Id<kit::Support>> support_, far_;
  std::optional<Shape> shape_;
  std::set<int> missing_, here_;
  std::vector<Remedy> found_;
};

}  // namespace

std::vector<Remedy> remedies_of(const kit::Trip& trip, const kit::Setups& setups, const PatternBook& book) {
  std::vector<Remedy> out;
  for (const auto a : ids_of(trip.antennas)) {
    auto more = Search(trip, a, setups, book).run();
    std::move(more.begin(), more.end(), std::back_inserter(out));
  }
  return out;
}

}  // namespace skerry::advice
