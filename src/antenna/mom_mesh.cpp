#include "mom_mesh.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mom_geometry.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna::mom {

namespace {

struct End {
  int segment, end;
};
struct Node {
  Vec3 at{};
  std::vector<End> ends;
  bool grounded = false;
};

/// Fractions of one wire at which a node must stand, rising from 0 to 1.
struct Cuts {
  std::vector<double> at{0.0, 1.0};
};

class Builder {
 public:
  Builder(const WireAntenna& antenna, const Ground& ground, double mhz, const SolveOptions& options)
      : antenna_(antenna),
        ground_(ground),
        options_(options),
        wavelength_m_(1000 * light_km_per_s / (mhz * 1e6)) {}

  Result<Mesh> build(const std::vector<Feed>& feeds) {
    cuts_.resize(antenna_.wires.size());
    cut_at_touching_ends();
    for (const Feed& feed : feeds) cut(feed.wire, feed.at);
    for (const Load& load : antenna_.loads) cut(load.wire, load.at);
    if (auto count = cut_wires(); !count) return tl::unexpected(count.error());
    for (const Feed& feed : feeds) {
      auto port = place(feed.wire, feed.at, false);
      if (!port) return tl::unexpected(port.error());
      mesh_.feeds.push_back(*port);
    }
    for (const Load& load : antenna_.loads) {
      auto port = place(load.wire, load.at, true);
      if (!port) return tl::unexpected(port.error());
      mesh_.loads.push_back(*port);
    }
    join();
    for (const Segment& s : mesh_.segments) {
      if (s.length >= 4 * s.radius) continue;
      mesh_.notes.push_back({NoteKind::short_piece, s.wire + 1.0});
      break;
    }
    return std::move(mesh_);
  }

 private:
  const Wire& wire(int number) const { return nth(antenna_.wires, number - 1); }

  /// A cut closer to an end than this moves to the end. Judgement: shorter pieces are thicker than long.
  static double snap_m(const Wire& w) { return std::max(0.002, 4e-3 * w.radius_mm); }

  double snapped(int number, double at) const {
    const Wire& w = wire(number);
    const double length = distance(w.from_m, w.to_m);
    const double snap = std::min(snap_m(w) / length, 0.25);
    if (at < snap) return 0;
    if (at > 1 - snap) return 1;
    for (const double c : nth(cuts_, number - 1).at) {
      if (std::abs(c - at) < snap) return c;
    }
    return at;
  }

  void cut(int number, double at) {
    auto& all = nth(cuts_, number - 1).at;
    const double place = snapped(number, at);
    if (std::find(all.begin(), all.end(), place) != all.end()) return;
    all.insert(std::upper_bound(all.begin(), all.end(), place), place);
  }

  /// For joints: only what is within the joining distance of an existing cut moves there.
  void cut_exactly(int number, double at) {
    auto& all = nth(cuts_, number - 1).at;
    const double length = distance(wire(number).from_m, wire(number).to_m);
    for (const double c : all) {
      if (std::abs(c - at) * length <= join_m) return;
    }
    all.insert(std::upper_bound(all.begin(), all.end(), at), at);
  }

  void cut_at_touching_ends() {
    const int count = static_cast<int>(antenna_.wires.size());
    for (int i = 1; i <= count; ++i) {
      for (int j = 1; j <= count; ++j) {
        if (i == j) continue;
        for (const Vec3& end : {wire(j).from_m, wire(j).to_m}) {
          const Foot foot = nearest_point(wire(i).from_m, wire(i).to_m, end);
          if (foot.distance_m <= join_m) cut_exactly(i, foot.at);
        }
      }
    }
  }

  Result<int> cut_wires() {
    const double wanted_m = wavelength_m_ / options_.segments_per_wavelength;
    double total = 0;
    for (const Wire& w : antenna_.wires) total += distance(w.from_m, w.to_m) / wanted_m;
    total =
        std::max(total, 1.0 * options_.min_segments_per_wire * static_cast<double>(antenna_.wires.size()));
    if (total > options_.max_segments) {
      return fail({}, fmt::format("antenna '{}' cut into {:.0f} segments", antenna_.id, total),
                  fmt::format("at most {}", options_.max_segments), "use fewer or shorter wires");
    }
    int piece = 0;
    for (std::size_t w = 0; w < antenna_.wires.size(); ++w) {
      const Wire& wire = antenna_.wires[w];
      const double length = distance(wire.from_m, wire.to_m);
      const double radius = wire.radius_mm * 1e-3;
      const Vec3 along = scaled(minus(wire.to_m, wire.from_m), 1 / length);
      const auto& at = cuts_[w].at;
      const bool lone = at.size() == 2;
      for (std::size_t c = 0; c + 1 < at.size(); ++c, ++piece) {
        const double part = (at[c + 1] - at[c]) * length;
        int pieces = static_cast<int>(
            std::ceil(std::max(part / wanted_m, options_.min_segments_per_wire * part / length - 1e-9)));
        // No segment shorter than four radii, the limit of the thin-wire kernel; two at least on a lone wire.
        pieces = std::max(lone ? 2 : 1, std::min(pieces, static_cast<int>(part / (4 * radius))));
        const int first = static_cast<int>(mesh_.segments.size());
        for (int k = 0; k < pieces; ++k) {
          const double start = at[c] * length + part * k / pieces;
          mesh_.segments.push_back({plus(wire.from_m, scaled(along, start)), along, part / pieces, radius,
                                    static_cast<int>(w), piece});
        }
        const int last = static_cast<int>(mesh_.segments.size()) - 1;
        special(plus(wire.from_m, scaled(along, at[c] * length)), {first, 0});
        for (int s = first; s < last; ++s) nodes_.push_back({{}, {{s, 1}, {s + 1, 0}}, false});
        special(plus(wire.from_m, scaled(along, at[c + 1] * length)), {last, 1});
      }
    }
    return piece;
  }

  void special(const Vec3& at, End end) {
    for (const std::size_t n : specials_) {
      if (distance(nodes_[n].at, at) <= join_m) {
        nodes_[n].ends.push_back(end);
        return;
      }
    }
    specials_.push_back(nodes_.size());
    nodes_.push_back({at, {end}, ground_.kind == GroundKind::perfect && at[2] <= join_m});
  }

  Node& node_of(End end) {
    for (Node& node : nodes_) {
      for (const End& e : node.ends) {
        if (e.segment == end.segment && e.end == end.end) return node;
      }
    }
    std::abort();  // every end is in a node
  }

  Result<Port> place(int number, double at, bool load) {
    const double place = snapped(number, at);
    // The end of the piece before the cut, or the start of the wire.
    const Wire& w = wire(number);
    const double length = distance(w.from_m, w.to_m);
    End best{-1, 0};
    double nearest = 1e300;
    for (int s = 0; s < static_cast<int>(mesh_.segments.size()); ++s) {
      const Segment& segment = nth(mesh_.segments, s);
      if (segment.wire != number - 1) continue;
      for (int end = 0; end < 2; ++end) {
        const double here = distance(segment.from, w.from_m) + end * segment.length;
        if (std::abs(here - place * length) < nearest - 1e-9) {
          nearest = std::abs(here - place * length);
          best = {s, end};
        }
      }
    }
    const Node& node = node_of(best);
    if (node.ends.size() == 1 && !node.grounded) {
      mesh_.notes.push_back({load ? NoteKind::load_moved_in : NoteKind::feed_moved_in,
                             static_cast<double>(number), nth(mesh_.segments, best.segment).length});
      best.end = 1 - best.end;
      if (const Node& next = node_of(best); next.ends.size() == 1 && !next.grounded) {
        return fail({},
                    fmt::format("antenna '{}': the {} on wire {} has no metal on its other side", antenna_.id,
                                load ? "load" : "feed", number),
                    "a point where current can flow", "add a counterpoise");
      }
    }
    return Port{best.segment, best.end};
  }

  void join() {
    mesh_.shares.resize(mesh_.segments.size());
    const auto add = [this](End end, int basis, double sign) {
      nth(mesh_.shares, end.segment)[static_cast<std::size_t>(end.end)].push_back({basis, sign});
    };
    for (const Node& node : nodes_) {
      if (node.grounded) {
        for (const End& end : node.ends) add(end, mesh_.unknowns++, 1.0);
        continue;
      }
      // One current per end but one: from the hub, the end with a source if there is one, to each other.
      std::size_t hub = 0;
      for (std::size_t e = 0; e < node.ends.size(); ++e) {
        for (const Port& port : mesh_.feeds) {
          if (port.segment == node.ends[e].segment && port.end == node.ends[e].end) hub = e;
        }
      }
      for (std::size_t e = 0; e < node.ends.size(); ++e) {
        if (e == hub) continue;
        const int basis = mesh_.unknowns++;
        add(node.ends[hub], basis, node.ends[hub].end == 1 ? 1.0 : -1.0);
        add(node.ends[e], basis, node.ends[e].end == 0 ? 1.0 : -1.0);
      }
    }
  }

  const WireAntenna& antenna_;
  const Ground& ground_;
  const SolveOptions& options_;
  double wavelength_m_;
  std::vector<Cuts> cuts_;
  std::vector<Node> nodes_;
  std::vector<std::size_t> specials_;
  Mesh mesh_;
};

}  // namespace

Result<Mesh> make_mesh(const WireAntenna& antenna, const std::vector<Feed>& feeds, const Ground& ground,
                       double mhz, const SolveOptions& options) {
  if (auto sound = check_geometry(antenna, feeds, ground, mhz, options); !sound) {
    return tl::unexpected(sound.error());
  }
  return Builder(antenna, ground, mhz, options).build(feeds);
}

}  // namespace skerry::antenna::mom
