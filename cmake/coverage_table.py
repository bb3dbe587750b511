#!/usr/bin/env python3
"""One row for each room out of gcovr's summary: coverage_table.py SUMMARY.json"""

import json
import sys

ROOMS = "core geodesy sun ionosphere noise antenna circuit kit advice words page forms engine cli".split()


def room_of(name):
    # src/ROOM/..., include/skerry/ROOM/..., or a header through its room's door, .../doors/ROOM/skerry/ROOM/...
    parts = name.split("/")
    if "skerry" in parts:
        return parts[parts.index("skerry") + 1]
    return parts[1] if len(parts) > 2 else "cli"  # src/main.cpp is the command line's


def share(covered, total):
    return f"{100.0 * covered / total:.1f}" if total else "-"


with open(sys.argv[1], encoding="utf-8") as file:
    files = json.load(file)["files"]
keys = ("line_covered", "line_total", "branch_covered", "branch_total")
rooms = {room: dict.fromkeys(keys, 0) for room in ROOMS}
for entry in files:
    row = rooms[room_of(entry["filename"])]
    for key in keys:
        row[key] += entry[key]
missing = [room for room, row in rooms.items() if row["line_total"] == 0]
if missing:
    sys.exit("coverage_table.py: nothing counted in " + ", ".join(missing))
rooms["all"] = {key: sum(row[key] for row in rooms.values()) for key in keys}
print("| room | lines | not run | lines % | branches | not taken | branches % |")
print("|---|---|---|---|---|---|---|")
for room, row in rooms.items():
    covered, lines, taken, branches = (row[key] for key in keys)
    print(f"| `{room}` | {lines} | {lines - covered} | {share(covered, lines)} "
          f"| {branches} | {branches - taken} | {share(taken, branches)} |")
