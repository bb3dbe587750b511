#include "skerry/geodesy/skyline.hpp"

#include "check.hpp"

using skerry::geodesy::Foreground;
using skerry::geodesy::Horizon;

TEST_CASE("the skyline is linear between its points and closed round the circle", "[geodesy][property]") {
  Horizon h;
  CHECK(h.towards(123).deg == 0);
  h.points = {{90, {10, 1}}, {270, {2, 3}}};
  CHECK_THAT(h.towards(90).deg, WithinAbs(10, 1e-12));
  CHECK_THAT(h.towards(180).deg, WithinAbs(6, 1e-12));
  CHECK_THAT(h.towards(180).km, WithinAbs(2, 1e-12));
  CHECK_THAT(h.towards(0).deg, WithinAbs(6, 1e-12));
  CHECK_THAT(h.towards(-45).deg, WithinAbs(4, 1e-12));
  h.points = {{200, {3, 7}}};
  CHECK(h.towards(10).deg == 3);
  CHECK(h.towards(10).km == 7);
}

TEST_CASE("the foreground is linear between its points and closed round the circle", "[geodesy][property]") {
  Foreground f;
  CHECK(f.fall_deg(123) == 0);
  f.points = {{10, 4}, {350, -6}};
  CHECK_THAT(f.fall_deg(180), WithinAbs(-1, 1e-12));
  CHECK_THAT(f.fall_deg(0), WithinAbs(-1, 1e-12));
  CHECK_THAT(f.fall_deg(-10), WithinAbs(-6, 1e-12));
  f.points = {{200, 3}};
  CHECK(f.fall_deg(20) == 3);
}
