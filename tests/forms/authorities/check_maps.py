#!/usr/bin/env python3
"""Reads paths as GPX and KML with an independent XML parser (expat, in Python's library) and holds them against the GeoJSON
of the same question: elements that the standards require, their order, bounds of longitudes, the same places and lines.

Run by ctest (authorities: maps); by hand: tests/forms/authorities/check_maps.py build/release/skerry
Source: GPX 1.1 schema (topografix.com/GPX/1/1/gpx.xsd), OGC 07-147r2 KML 2.2, both from memory; RFC 7946.
"""
import json
import pathlib
import subprocess
import sys
import xml.etree.ElementTree as tree

program = sys.argv[1]
root = pathlib.Path(__file__).resolve().parents[3]
problems = 0
seen = 0


def check(good, words):
    global problems
    if not good:
        problems += 1
        print("WRONG:", words)


def said(question, form):
    return subprocess.run([program, "geojson", *question, "-f", form], capture_output=True, check=True).stdout


def parts(geometry):
    lines = [geometry["coordinates"]] if geometry["type"] == "LineString" else geometry["coordinates"]
    return [[tuple(p) for p in line] for line in lines]


gpx_space, kml_space = "{http://www.topografix.com/GPX/1/1}", "{http://www.opengis.net/kml/2.2}"
questions = [["-19.70,63.43", "JN45", "--month", "2027-02", "--hour", "16", "--band", "20m"],
             ["-18,178", "37,-122", "--month", "2027-06", "--hour", "3"],
             [str(root / "examples" / "lord_howe.toml"), "--hour", "9"]]
for question in questions:
    features = json.loads(said(question, "geojson"))["features"]
    points = [tuple(f["geometry"]["coordinates"]) for f in features if f["geometry"]["type"] == "Point"]
    lines = [parts(f["geometry"]) for f in features if f["geometry"]["type"] != "Point"]
    seen += 1

    top = tree.fromstring(said(question, "gpx"))
    check(top.tag == gpx_space + "gpx" and top.get("version") == "1.1" and top.get("creator"), f"{question}: head of GPX")
    order = [child.tag.replace(gpx_space, "") for child in top]
    check(order == ["metadata"] + ["wpt"] * len(points) + ["trk"] * len(lines), f"{question}: order of GPX {order}")

    def at(element):
        lat, lon = float(element.get("lat")), float(element.get("lon"))
        check(-90 <= lat <= 90 and -180 <= lon < 180, f"{question}: {lat},{lon} in GPX")
        return lon, lat

    def near(a, b):
        return len(a) == len(b) and all(abs(x - y) < 2.1e-5 for p, q in zip(a, b) for x, y in zip(p, q))

    marks = top.findall(gpx_space + "wpt")
    check(near(sorted(at(w) for w in marks), sorted(points)), f"{question}: points of GPX")
    check(all((w.findtext(gpx_space + "name") or "").strip() for w in marks), f"{question}: a point without a name")
    for track, line in zip(top.findall(gpx_space + "trk"), lines):
        segments = [[at(p) for p in s.findall(gpx_space + "trkpt")] for s in track.findall(gpx_space + "trkseg")]
        check(len(segments) == len(line) and all(near(a, b) for a, b in zip(segments, line)), f"{question}: a line of GPX")
        check([c.tag for c in track[:2]] == [gpx_space + "name", gpx_space + "desc"], f"{question}: a track's head")

    top = tree.fromstring(said(question, "kml"))
    check(top.tag == kml_space + "kml" and [c.tag for c in top] == [kml_space + "Document"], f"{question}: head of KML")
    placed = top[0].findall(kml_space + "Placemark")
    check(len(placed) == len(points) + len(lines), f"{question}: placemarks of KML")

    def coordinates(element):
        text = element.findtext(kml_space + "coordinates")
        return [tuple(float(n) for n in one.split(",")[:2]) for one in text.split()]

    spots = [coordinates(p)[0] for mark in placed for p in mark.findall(kml_space + "Point")]
    check(near(sorted(spots), sorted(points)), f"{question}: points of KML")
    strings = [[coordinates(s) for s in mark.iter(kml_space + "LineString")] for mark in placed]
    strings = [s for s in strings if s]
    check(len(strings) == len(lines) and all(len(a) == len(b) and all(near(x, y) for x, y in zip(a, b)) for a, b in zip(strings, lines)),
          f"{question}: lines of KML")
    check(any(len(line) > 1 for line in lines), f"{question}: no line that crosses 180 degrees, so nothing was tried")
print(f"{seen} questions, {problems} wrong")
sys.exit(1 if problems else 0)
