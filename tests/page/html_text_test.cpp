#include "html_text.hpp"

#include <cmath>
#include <string>

#include "check.hpp"
#include "svg.hpp"

using namespace skerry;
using namespace skerry::page;

TEST_CASE("plain text keeps letters of any script and drops what steers a screen", "[html][edge]") {
  CHECK(plain("\xC3\x85land \xE5\xB3\xB6 \xF0\x9F\x8F\x9D") == "\xC3\x85land \xE5\xB3\xB6 \xF0\x9F\x8F\x9D");
  CHECK(plain("a\nb\tc\x7F") == "a b c ");
  CHECK(plain("a\xE2\x80\xAE"
              "b\xE2\x81\xA6"
              "c\xEF\xBB\xBF") == "abc");
  // RFC 3629: overlong forms, surrogates and cut sequences are broken, byte by byte.
  CHECK(plain("\xC0\xAF") == "\xEF\xBF\xBD\xEF\xBF\xBD");
  CHECK(plain("\xED\xA0\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
  CHECK(plain("x\xE5\xB3") == "x\xEF\xBF\xBD\xEF\xBF\xBD");
  CHECK(markup("<a href='x'>&\"") == "&lt;a href=&#39;x&#39;&gt;&amp;&quot;");
  CHECK(script_json("\"</script>\xE2\x80\xA8&\"") == "\"\\u003c/script\\u003e\\u2028\\u0026\"");
}

TEST_CASE("the chart keeps distances and bearings from its centre", "[svg][known]") {
  // Snyder, USGS PP 1395, p. 195 (from memory): on the sphere, from centre 40 N 100 W the point 20 S 100 E
  // lies at x = -5.8311398, y = 5.5444634 for radius 3.
  const auto p = on_chart(GeoPoint::at_deg(40, -100), GeoPoint::at_deg(-20, 100));
  const double scale = 3 * std::acos(-1.0);
  CHECK_THAT(p.x * scale, WithinAbs(-5.8311398, 1e-6));
  CHECK_THAT(-p.y * scale, WithinAbs(5.5444634, 1e-6));
  // The pole is a quarter of the way round from the equator, straight up; the antipode is the rim.
  const auto pole = on_chart(GeoPoint::at_deg(0, 30), GeoPoint::at_deg(90, 0));
  CHECK_THAT(pole.x, WithinAbs(0, 1e-12));
  CHECK_THAT(pole.y, WithinAbs(-0.5, 1e-12));
  const auto rim = on_chart(GeoPoint::at_deg(-19.7, 63.43), GeoPoint::at_deg(19.7, -116.57));
  CHECK_THAT(std::hypot(rim.x, rim.y), WithinAbs(1, 1e-9));
}
