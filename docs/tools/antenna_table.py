#!/usr/bin/env python3
"""Writes the two tables of docs/antennas.md between their marks, from what the program answers.

Used when the program or the presets change; nothing in the build or the tests needs it:
  docs/tools/antenna_table.py build/release/skerry
"""
import json
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parents[2]
program = sys.argv[1]
page = root / "docs/antennas.md"
presets = "examples/antennas/presets.toml"
bands = ["7.1", "10.12", "14.1", "18.1", "21.2", "24.9", "28.5"]
places = {
    "rock": ["--ground", "rock"],
    "average": ["--ground", "average"],
    "shore": ["--ground", "rock", "--sea-from-m", "10"],
}
elevations = [5, 10, 20, 45]
tuned = ["wire-9"]
tall = ["half-up"]  # on a 10 m pole


def ask(options):
    command = [program, "antenna", presets, "--mhz", ",".join(bands), "--format", "json", *options]
    return json.loads(subprocess.run(command, cwd=root, check=True, capture_output=True, text=True).stdout)


def gains(answer, wanted):
    out = {}
    for a in answer["antennas"]:
        if wanted(a["id"]):
            key = (a["id"], a["mhz"])
            out[key] = ([a["gain_dbi"][e]["best_dbi"] for e in elevations], a["match"])
    return out


found = {}
for place, options in places.items():
    short = options + ["--height-m", "5.1"]
    found[place] = gains(ask(short), lambda id: id not in tuned + tall)
    found[place] |= gains(ask(short + ["--tuner"]), lambda id: id in tuned)
    found[place] |= gains(ask(options + ["--height-m", "8.5"]), lambda id: id in tall)

text = (root / presets).read_text()
names = dict(re.findall(r'^id = "(.+)"\nname = "(.+)"$', text, re.MULTILINE))

table = ["| antenna | MHz | rock 5° | 10° | 20° | 45° | average 5° | 10° | 20° | 45° | shore 5° | 10° | 20° | 45° | at the rig |",
         "|---|---|" + "---|" * 12 + "---|"]
words = {"direct": "as it is", "with-tuner": "wants a tuner", "impossible": "no match"}
for id, name in names.items():
    for band in bands:
        key = (id, float(band))
        if key not in found["rock"]:
            continue
        cells = [f"{g:.1f}" for place in places for g in found[place][key][0]]
        table.append(f"| `{id}` | {band} | " + " | ".join(cells) + f" | {words[found['rock'][key][1]]} |")


def watts(gain_dbi):
    w = 10 * 10 ** (gain_dbi / 10)
    return f"{w:.1f}" if w < 10 else f"{w:.0f}"


plain = ["| 14 MHz, 10 W from the rig, 10° up | over rock | over average ground | at the shore | in words |", "|---|---|---|---|---|"]
for id, name in names.items():
    key = (id, 14.1)
    if key not in found["rock"]:
        continue
    g = {place: found[place][key][0][1] for place in places}
    times = 10 ** ((g["shore"] - g["rock"]) / 10)
    if times < 1.5:
        say = "the shore makes no difference to speak of"
    elif times < 3:
        say = f"the shore is worth {times:.1f} times the power"
    else:
        say = f"go down to the shore: it is worth {times:.0f} times the power"
    plain.append(f"| {name} | {watts(g['rock'])} W | {watts(g['average'])} W | {watts(g['shore'])} W | {say} |")


def put(text, mark, lines):
    begin, end = f"<!-- {mark}: begin -->", f"<!-- {mark}: end -->"
    head, rest = text.split(begin)
    tail = rest.split(end)[1]
    return head + begin + "\n" + "\n".join(lines) + "\n" + end + tail


text = page.read_text()
text = put(text, "plain table", plain)
text = put(text, "gain table", table)
page.write_text(text)
