#include "skerry/circuit/coverage.hpp"

#include <set>

#include "check.hpp"
#include "skerry/core/parallel.hpp"

using namespace skerry;

namespace {

circuit::CoverageQuestion small_world(circuit::WayChoice way = circuit::WayChoice::short_way) {
  circuit::CoverageQuestion q;
  q.from.at = GeoPoint::at_deg(-19.70, 63.43);
  q.from.power_w = 10;
  q.from.environment = noise::Environment::quiet;
  q.from.skyline = {2, 0.5};
  q.to.power_w = 100;
  q.to.environment = noise::Environment::residential;
  q.way = way;
  q.climate.day = middle_of(std::chrono::year{2027} / 2);
  q.climate.r12 = ionosphere::R12(90);
  q.frequencies = {{"40m", 7.03}, {"20m", 14.06}};
  q.hours = {18, 3};
  q.mode = *noise::find_mode("cw", {});
  q.grid.step_deg = 20;
  return q;
}

std::vector<circuit::CoverageValue> all(const circuit::CoverageQuestion& q) {
  std::vector<circuit::CoverageValue> out;
  const bool whole = circuit::coverage(q, [&](const circuit::CoveragePart& part) {
    const std::size_t per_cell = q.hours.size() * q.frequencies.size();
    REQUIRE(part.first_cell * per_cell == out.size());
    REQUIRE(part.values.size() == part.cells * per_cell);
    out.insert(out.end(), part.values.begin(), part.values.end());
    return true;
  });
  REQUIRE(whole);
  REQUIRE(out.size() == q.grid.cells() * q.hours.size() * q.frequencies.size());
  return out;
}

}  // namespace

TEST_CASE("a world map says of each cell what the path to its centre says", "[circuit][property]") {
  // The path's answer is the other road to the same numbers: floats keep seven digits, hence 1e-3.
  const auto q = small_world();
  const auto values = all(q);
  for (std::size_t cell = 0; cell < q.grid.cells(); cell += 7) {
    circuit::PathQuestion p;
    p.from = q.from;
    p.to = q.to;
    p.to.at = q.grid.centre(cell);
    p.climate = q.climate;
    p.frequencies = q.frequencies;
    p.mode = q.mode;
    const auto answer = circuit::answer(p);
    for (std::size_t h = 0; h < q.hours.size(); ++h) {
      for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
        const auto& v = values[(cell * q.hours.size() + h) * q.frequencies.size() + f];
        const auto& b = answer.ways[0].hours[static_cast<std::size_t>(q.hours[h])].bands[f];
        CAPTURE(cell, q.hours[h], q.frequencies[f].mhz);
        REQUIRE(v.open == b.there.open);
        if (!v.open) continue;
        CHECK_THAT(static_cast<double>(v.snr_db), WithinAbs(b.there.snr_db, 1e-3));
        CHECK_THAT(static_cast<double>(v.return_snr_db), WithinAbs(b.back.snr_db, 1e-3));
        CHECK_THAT(static_cast<double>(v.days_in_ten), WithinAbs(b.there.days_in_ten, 1e-3));
        CHECK_THAT(static_cast<double>(v.return_days_in_ten), WithinAbs(b.back.days_in_ten, 1e-3));
      }
    }
  }
}

TEST_CASE("the best way is never worse than either", "[circuit][property]") {
  const auto best = all(small_world(circuit::WayChoice::best));
  const auto shorter = all(small_world(circuit::WayChoice::short_way));
  const auto longer = all(small_world(circuit::WayChoice::long_way));
  std::size_t by_long = 0;
  for (std::size_t i = 0; i < best.size(); ++i) {
    CHECK(best[i].both_days_in_ten() ==
          std::max(shorter[i].both_days_in_ten(), longer[i].both_days_in_ten()));
    CHECK(best[i].open == (shorter[i].open || longer[i].open));
    by_long += best[i].long_way ? 1U : 0U;
  }
  CHECK(by_long > 0);
  CHECK(by_long < best.size());
}

TEST_CASE("a map is the same to the last bit on any number of threads", "[circuit][property]") {
  auto q = small_world();
  q.grid.step_deg = 6;
  set_thread_count(1);
  const auto one = all(q);
  set_thread_count(3);
  const auto three = all(q);
  set_thread_count(0);
  REQUIRE(one.size() == three.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    REQUIRE(one[i].snr_db == three[i].snr_db);
    REQUIRE(one[i].days_in_ten == three[i].days_in_ten);
    REQUIRE(one[i].open == three[i].open);
  }
}

TEST_CASE("a grid covers the sphere once", "[circuit][known]") {
  // Source: area of the sphere: the mean of cos(latitude) over equal steps in latitude tends to 2/pi.
  for (const double step : {0.5, 2.0, 2.5, 30.0}) {
    const circuit::Grid grid{step};
    REQUIRE(grid.fits());
    CHECK(grid.rows() * step == 180);
    CHECK(grid.cells() == static_cast<std::size_t>(2 * grid.rows() * grid.rows()));
    CHECK(grid.centre(0) == GeoPoint::at_deg(90 - step / 2, -180 + step / 2));
    CHECK(grid.centre(grid.cells() - 1) == GeoPoint::at_deg(-90 + step / 2, 180 - step / 2));
  }
  CHECK(circuit::Grid{2}.cells() == 16200);
  CHECK_FALSE(circuit::Grid{0.4}.fits());
  CHECK_FALSE(circuit::Grid{7}.fits());
}

TEST_CASE("the world's share is one for no days and shrinks as more are asked", "[circuit][property]") {
  const auto q = small_world();
  double last = 1;
  for (const double days : {0.0, 1.0, 5.0, 9.0}) {
    circuit::CoverageShare share(q, days);
    CHECK(circuit::coverage(q, [&](const circuit::CoveragePart& part) {
      share.add(part);
      return true;
    }));
    CHECK(share.at(0, 1) <= last);
    last = share.at(0, 1);
  }
}

TEST_CASE("a reader who has seen enough stops the work", "[circuit][edge]") {
  auto q = small_world();
  q.grid.step_deg = 2;  // 16 200 cells: several parts
  int parts = 0;
  CHECK_FALSE(circuit::coverage(q, [&](const circuit::CoveragePart&) { return ++parts < 2; }));
  CHECK(parts == 2);
}
