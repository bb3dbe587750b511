// Places and lines as GPX and KML; tests/forms/authorities/check_maps.py has them read by others.
#include "skerry/forms/drawing.hpp"

#include "check.hpp"

using namespace skerry;

namespace {

forms::Drawing island() {
  forms::Drawing out;
  out.name = "Rock & <Co>";
  out.marks.push_back({GeoPoint::at_deg(-19.7, 63.43), 217.25, "1 \"summit\"\x01", "value 80 %"});
  out.marks.push_back({GeoPoint::at_deg(-19.71, 180), std::nullopt, "2 shore", ""});
  out.lines.push_back({{{10, 179}, {12, -179}, {14, -178}}, "across", "a > b"});
  return out;
}

}  // namespace

TEST_CASE("GPX has what its schema asks for, in its order", "[forms][known]") {
  // Source: GPX 1.1 schema (from memory): ele before name before desc, longitudes below 180.
  CHECK(
      forms::gpx(island()) ==
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<gpx version=\"1.1\" creator=\"skerry\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n"
      "<metadata><name>Rock &amp; &lt;Co&gt;</name></metadata>\n"
      "<wpt lat=\"-19.70000\" lon=\"63.43000\"><ele>217.2</ele><name>1 &quot;summit&quot;?</name><desc>value 80 "
      "%</desc></wpt>\n"
      "<wpt lat=\"-19.71000\" lon=\"179.99999\"><name>2 shore</name></wpt>\n"
      "<trk><name>across</name><desc>a &gt; b</desc>\n"
      "<trkseg><trkpt lat=\"10.00000\" lon=\"179.00000\"/><trkpt lat=\"11.00000\" lon=\"179.99999\"/></trkseg>\n"
      "<trkseg><trkpt lat=\"11.00000\" lon=\"-180.00000\"/><trkpt lat=\"12.00000\" lon=\"-179.00000\"/>"
      "<trkpt lat=\"14.00000\" lon=\"-178.00000\"/></trkseg>\n"
      "</trk>\n</gpx>\n");
}

TEST_CASE("KML puts longitude first, and cuts lines where the Earth's map ends", "[forms][known]") {
  // Source: OGC 07-147r2 (from memory).
  CHECK(
      forms::kml(island()) ==
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<kml xmlns=\"http://www.opengis.net/kml/2.2\">\n<Document><name>Rock &amp; &lt;Co&gt;</name>\n"
      "<Placemark><name>1 &quot;summit&quot;?</name><description>value 80 %</description><Point><coordinates>63.43000,"
      "-19.70000,217.2</coordinates></Point></Placemark>\n"
      "<Placemark><name>2 shore</name><Point><coordinates>180.00000,-19.71000</coordinates></Point></Placemark>\n"
      "<Placemark><name>across</name><description>a &gt; b</description><MultiGeometry>"
      "<LineString><tessellate>1</tessellate><coordinates>179.00000,10.00000 180.00000,11.00000</coordinates>"
      "</LineString><LineString><tessellate>1</tessellate><coordinates>-180.00000,11.00000 -179.00000,12.00000 "
      "-178.00000,14.00000</coordinates></LineString></MultiGeometry></Placemark>\n"
      "</Document>\n</kml>\n");
}
