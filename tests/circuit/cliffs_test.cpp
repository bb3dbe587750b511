// How far an answer may move when a place or the Sun moves a little.

#include <algorithm>
#include <array>
#include <random>

#include "check.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;
using namespace skerry::circuit;

namespace {

/// A way whose far end moves up to 100 km, or whose two ends turn 1.5 degrees west, which is 0.1 h of the Sun.
struct Moving {
  GeoPoint from, to;
  double bearing_deg = 0;
  bool turns = false;
  int hour = 0;
  double mhz = 0;

  [[nodiscard]] geodesy::Path at(double share) const {
    const auto turned = [&](GeoPoint p) {
      return GeoPoint::at_deg(p.lat_deg, wrap_180(p.lon_deg - 1.5 * share));
    };
    if (turns) return geodesy::make_path(turned(from), turned(to), geodesy::Way::short_way);
    return geodesy::make_path(from, geodesy::destination(to, bearing_deg, 100 * share),
                              geodesy::Way::short_way);
  }
};

struct Answer {
  double snr_db = 0, days = 0;
};

Answer answer(const Circuits& circuits, std::size_t index, const Moving& way) {
  static const noise::Mode cw = *noise::find_mode("cw", {});
  const auto& path = circuits.path(index);
  const Station tx;
  Station rx;
  rx.land_share = land_share(path.to);
  const auto passage = circuits.passage(index, way.hour, way.mhz);
  const auto noise = noise_at(circuits.to_sky(index, way.hour), path.to,
                              static_cast<unsigned>(circuits.climate().day.month()), rx, way.mhz);
  const auto there = direction(passage, level(passage, path, tx, rx).received(to_db(tx.power_w)), noise, cw,
                               unknown_db({}, {.spread_db = partner_spread_db}));
  REQUIRE(there.any);
  return {there.snr_db, there.days_in_ten};
}

/// A stretch of a way in which the answer moves.
struct Stretch {
  std::size_t way = 0;
  double from = 0, to = 0;
  Answer a, b;
  [[nodiscard]] double db() const { return std::abs(a.snr_db - b.snr_db); }
  [[nodiscard]] double days() const { return std::abs(a.days - b.days); }
};

constexpr int stretches = 8;
// Judgement: under this nobody hears anything, in any mode, whatever a step does to it.
constexpr double nobody_db = -100;

struct Found {
  int ways = 0, moved_3_db = 0;
  double worst_db = 0, worst_days = 0;
};

/// Halves every stretch in which the ratio moves by 1 dB or the days by 0.2, until 25 m are left: what is left
/// of the difference is a step.
void look(const std::vector<Moving>& ways, const ionosphere::Climate& climate, Found& found) {
  std::vector<geodesy::Path> paths;
  for (const auto& way : ways) {
    for (int k = 0; k <= stretches; ++k) paths.push_back(way.at(static_cast<double>(k) / stretches));
  }
  const Circuits circuits(paths, climate);
  std::vector<Stretch> open;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    double low = 1e9, high = -1e9;
    Stretch s{i, 0, 0, {}, {}};
    for (int k = 0; k <= stretches; ++k) {
      s.b = answer(circuits, i * (stretches + 1) + static_cast<std::size_t>(k), ways[i]);
      s.to = static_cast<double>(k) / stretches;
      low = std::min(low, s.b.snr_db);
      high = std::max(high, s.b.snr_db);
      if (k > 0 && std::max(s.a.snr_db, s.b.snr_db) > nobody_db && (s.db() > 1 || s.days() > 0.2))
        open.push_back(s);
      s.a = s.b;
      s.from = s.to;
    }
    ++found.ways;
    if (high > -40 && high - low > 3) ++found.moved_3_db;
  }
  for (int round = 0; round < 9 && !open.empty(); ++round) {
    std::vector<geodesy::Path> middles;
    for (const auto& s : open) middles.push_back(ways[s.way].at((s.from + s.to) / 2));
    const Circuits between(middles, climate);
    for (std::size_t i = 0; i < open.size(); ++i) {
      Stretch left = open[i], right = open[i];
      left.to = right.from = (left.from + left.to) / 2;
      left.b = right.a = answer(between, i, ways[left.way]);
      open[i] = left.db() + 5 * left.days() > right.db() + 5 * right.days() ? left : right;
    }
  }
  for (const auto& s : open) {
    CAPTURE(ways[s.way].from.lat_deg, ways[s.way].from.lon_deg, ways[s.way].to.lat_deg,
            ways[s.way].to.lon_deg, ways[s.way].bearing_deg, ways[s.way].turns, ways[s.way].hour,
            ways[s.way].mhz, s.from, s.a.snr_db, s.b.snr_db, s.a.days, s.b.days,
            static_cast<unsigned>(climate.day.month()), static_cast<double>(climate.r12));
    CHECK(s.db() <= 3);
    CHECK(s.days() <= 0.6);
    found.worst_db = std::max(found.worst_db, s.db());
    found.worst_days = std::max(found.worst_days, s.days());
  }
}

/// Pairs of places evenly over the globe, half of them up to 10 000 km apart.
Found scan(int skies, int pairs_each, bool turns) {
  constexpr std::array bands_mhz{1.85, 3.55, 5.36, 7.03, 10.12, 14.06, 18.08, 21.06, 24.9, 28.06};
  std::mt19937 random(11);
  std::uniform_real_distribution<double> uniform;
  const auto below = [&](double most) { return most * uniform(random); };
  const auto anywhere = [&] {
    const double lat_deg = std::asin(below(2) - 1) * deg_per_rad;
    return GeoPoint::at_deg(lat_deg, below(360) - 180);
  };
  Found out;
  for (int sky = 0; sky < skies; ++sky) {
    ionosphere::Climate climate;
    climate.day =
        middle_of(std::chrono::year{2026} / std::chrono::month(static_cast<unsigned>(1 + random() % 12)));
    climate.r12 = ionosphere::R12(below(200));
    std::vector<Moving> ways;
    for (int i = 0; i < pairs_each; ++i) {
      Moving way;
      way.from = anywhere();
      way.to = anywhere();
      if (i % 2 == 0) {
        const double bearing_deg = below(360);
        way.to = geodesy::destination(way.from, bearing_deg, 100 + below(9900));
      }
      way.bearing_deg = below(360);
      way.turns = turns;
      way.hour = static_cast<int>(random() % 24);
      way.mhz = nth(bands_mhz, static_cast<std::size_t>(random() % bands_mhz.size()));
      ways.push_back(way);
    }
    look(ways, climate, out);
  }
  return out;
}

void tell(const Found& f, const char* what) {
  WARN(what << ": " << f.ways << " ways, " << f.moved_3_db
            << " of them move by more than 3 dB; greatest step " << f.worst_db << " dB, " << f.worst_days
            << " days in ten");
}

}  // namespace

TEST_CASE("no answer steps by 3 dB when the far end moves 100 km", "[circuit][property]") {
  const auto found = scan(20, 50, false);
  CHECK(found.ways == 1000);
  CHECK(found.moved_3_db <= 20);  // steep, as the edge of a skip zone is, and no step
}

TEST_CASE("no answer steps by 3 dB in a tenth of an hour", "[circuit][property]") {
  const auto found = scan(20, 50, true);
  CHECK(found.ways == 1000);
  CHECK(found.moved_3_db <= 20);
}

// The whole scan of 10 000 pairs: test_circuit "[scan]"; 10 s.
TEST_CASE("ten thousand pairs are free of steps", "[.][scan]") {
  tell(scan(200, 50, false), "far end 100 km on");
  tell(scan(200, 50, true), "0.1 h on");
}
