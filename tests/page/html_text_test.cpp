#include "html_text.hpp"

#include <cmath>
#include <string>

#include "check.hpp"
#include "svg.hpp"

using namespace skerry;
using namespace skerry::page;

namespace {
std::string hex(std::string_view bytes) {
  std::string out;
  for (const auto b : sha256(bytes)) {
    out += "0123456789abcdef"[b >> 4];
    out += "0123456789abcdef"[b & 15];
  }
  return out;
}
}  // namespace

TEST_CASE("SHA-256 gives the standard's digests", "[html][known]") {
  // NIST, "SHA-256 examples" to FIPS 180-4 (from memory): the empty message, "abc", and the two-block
  // message.
  CHECK(hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(hex(std::string(1000000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("base 64 gives the examples of its standard", "[html][known]") {
  // RFC 4648, section 10.
  CHECK(base64("") == "");
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
  CHECK(base64("foobar") == "Zm9vYmFy");
}

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
