#!/usr/bin/env python3
"""Reads every picture of the examples with an independent XML parser (expat, in Python's library) and checks what makes it
readable alone: a title, a style of its own, text in it, nothing fetched from elsewhere, a box that holds all its text.

Run by ctest (authorities: pictures); by hand: tests/page/authorities/check_pictures.py build/release/skerry
Source: XML 1.0; SVG 1.1 (second edition).
"""
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

program = sys.argv[1]
root = pathlib.Path(__file__).resolve().parents[3]
svg = "{http://www.w3.org/2000/svg}"
problems = 0
seen = 0


def check(good, words):
    global problems
    if not good:
        problems += 1
        print("WRONG:", words)


for trip in sorted((root / "examples").glob("*.toml")):
    with tempfile.TemporaryDirectory() as folder:
        said = subprocess.run([program, "report", str(trip), "--pictures", folder], capture_output=True, text=True, check=True).stdout
        files = sorted(pathlib.Path(folder).iterdir())
        check(sorted(said.split()) == [f.name for f in files], f"{trip.name}: the names told are the files written")
        kinds = {f.name.split("-")[0] for f in files}
        check(kinds >= {"map", "hours", "hops", "antenna", "reach"}, f"{trip.name}: kinds {kinds}")
        for f in files:
            seen += 1
            text = f.read_text(encoding="utf-8")
            top = tree.fromstring(text)
            check(top.tag == svg + "svg", f"{f.name}: {top.tag}")
            check((top.findtext(svg + "title") or "").strip(), f"{f.name}: no title")
            check((top.findtext(svg + "style") or "").strip(), f"{f.name}: no style")
            check("var(" not in text, f"{f.name}: a variable that has no value here")
            left = re.sub(r'xmlns="http://www.w3.org/2000/svg"', "", text)
            check(not re.search(r"https?:|url\(|@import|href=", left), f"{f.name}: asks for something from elsewhere")
            width, height = (float(n) for n in top.get("viewBox").split()[2:])
            for words in top.findall(svg + "text"):
                x, y = float(words.get("x")), float(words.get("y"))
                # A letter of these sizes is on average 0.6 of its height wide, in bold 0.66. Judgement: common fonts.
                size = float(words.get("font-size", 14))
                reach = x + len(words.text) * size * (0.66 if words.get("font-weight") else 0.6)
                check(reach <= width + size and 0 < y <= height, f"{f.name}: '{words.text[:30]}' leaves the paper")
# The pictures of a lesson, and of what stands around a place: a wall to the east.
dem = tempfile.TemporaryDirectory()
with open(pathlib.Path(dem.name) / "S20E063.hgt", "wb") as file:
    file.write(b"".join(struct.pack(">h", 240 if abs(c - 540) < 2 else 40) for r in range(1201) for c in range(1201)))
around = ["horizon", "-19.70,63.43", "--terrain", dem.name, "--regions", "japan,western-europe", "--month", "2027-02", "-o"]
for lesson, name in ((["--contrast", "month=2027-08"], "contrast.svg"), (["--contrast", "hour=6,18"], "contrast.svg"), (["--teach"], "hop-table.svg"),
                     (None, "horizon.svg")):
    with tempfile.TemporaryDirectory() as folder:
        asked = [*around, str(pathlib.Path(folder) / name)] if lesson is None else [
            "explain", "-19.70,63.43", "45.5,9.0", "--month", "2027-02", *lesson, "--pictures", folder]
        subprocess.run([program, *asked], capture_output=True, text=True, check=True)
        text = (pathlib.Path(folder) / name).read_text(encoding="utf-8")
        seen += 1
        top = tree.fromstring(text)
        check(top.tag == svg + "svg" and (top.findtext(svg + "title") or "").strip(), f"{name}: no picture with a title")
        check(not re.search(r"https?:|url\(|@import|href=", text.replace("http://www.w3.org/2000/svg", "")), f"{name}: asks for something")
        width, height = (float(n) for n in top.get("viewBox").split()[2:])
        for words in top.findall(svg + "text"):
            size = float(words.get("font-size", 14))
            reach = float(words.get("x")) + len(words.text) * size * (0.66 if words.get("font-weight") else 0.6)
            check(reach <= width + size and 0 < float(words.get("y")) <= height, f"{name}: '{words.text[:30]}' leaves the paper")
print(f"{seen} pictures,", "all right" if problems == 0 else f"{problems} wrong")
sys.exit(problems > 0)
