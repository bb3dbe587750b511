#!/usr/bin/env python3
"""Validates the program's JSON answers against docs/schemas/ with an independent validator (Debian: python3-jsonschema).

Run by ctest (authorities: schemas); by hand: tests/forms/authorities/check_schemas.py build/release/skerry
Exit code: 0 all valid, 1 some are not, 77 the validator is missing.
"""
import copy
import json
import pathlib
import struct
import subprocess
import sys
import tempfile
import tomllib

try:
    import jsonschema
except ImportError:
    print("SKIPPED: install python3-jsonschema")
    sys.exit(77)

program = sys.argv[1]
root = pathlib.Path(__file__).resolve().parents[3]
problems = 0
checked = 0
examples = [str(p) for p in sorted((root / "examples").glob("*.toml")) if "[trip]" in p.read_text()]


def run(args, text=None):
    return subprocess.run([program, *args], input=text, capture_output=True, text=True, check=True).stdout


# A square degree with a hill, as an HGT file of 3 arc-seconds has it.
dem = tempfile.TemporaryDirectory()
with open(pathlib.Path(dem.name) / "S20E063.hgt", "wb") as file:
    file.write(b"".join(struct.pack(">h", 300 if abs(r - 840) < 30 and abs(c - 520) < 9 else 12 if c < 900 else 0)
                        for r in range(1201) for c in range(1201)))

answers = {
    "horizon": [["horizon", "-19.70,63.42", "--terrain", dem.name],
                ["horizon", "-19.70,63.42", "--terrain", dem.name, "--regions", "japan", "--month", "2027-02"]],
    "path": [["path", "MH10", "JN45", "--month", "2027-02", "--way", "both"],
             ["path", "MH10", "JN45", "--month", "2027-02", "--bands", "20m", "--spread", "--kp", "6", "--flare", "--protons"],
             ["path", "51.5,-0.1", "51.9,-0.5", "--month", "2026-01", "--r12", "10", "--mhz", "28.06,3.6,5.0"],
             ["path", "MH10", "JN45", "--month", "2027-02", "--way", "both", "--explain", "18,20m"],
             ["path", "51.5,-0.1", "51.9,-0.5", "--month", "2026-01", "--explain", "3,10m"],
             ["path", "MH10", "19,-117", "--month", "2026-07", "--bands", "20m"]],
    "rays": [["path", "MH10", "JN45", "--month", "2027-02", "--rays", "18,20m"], ["path", "JN45", "JN58", "--month", "2027-02", "--rays", "3,40m"],
             ["path", "JN45", "JN58", "--month", "2027-02", "--mhz", "29", "--rays", "3"]],
    "explain": [["explain", "MH10", "JN45", "--month", "2027-02"], ["explain", "51.5,-0.1", "51.9,-0.5", "--month", "2026-01", "--hour", "3"],
                ["explain", examples[0], "--region", "all"], ["explain", examples[-1]]],
    "sun": [["sun", "MH10", "JN45", "--date", "2027-02-14"], ["sun", "78.22,15.65", "JN45", "--date", "2026-12-21"],
            ["sun", "78.22,15.65", "--date", "2026-06-21"], ["sun", "59,10", "KP20", "--date", "2026-06-21"]],
    "ionosphere": [["ionosphere", "59.53,-1.63", "--month", "2026-12"], ["ionosphere", "0,0", "--month", "2030-06", "--maps", "ursi"],
                   ["ionosphere", "0,0", "--month", "2030-06", "--fof2", "8@0,0@12:00"]],
    "antenna": [["antenna", e, "--mhz", mhz] for e in examples for mhz in ("7.03", "14.06,24.9")],
    "pack": [["pack", e] for e in examples],
    "map": [["map", "MH10", "--month", "2027-02", "--grid", "30", "--hours", "0,12", "--bands", "40m,20m"]],
    "kit": [["kit", e] for e in examples],
    "log": [["log", str(root / "examples/rodrigues.toml"), str(root / "examples/log/rodrigues.adi"), *more]
            for more in ([], ["--on-air", str(root / "examples/log/on_air.csv"), "--show-calls"], ["--used", "end-fed-20m"])],
    "score": [["score", str(root / "examples/score/spots.csv")]],
    "sondes": [["score", "--ionosonde", str(root / "examples/score/ionosondes.csv")]],
    "library": [["kit", "list", "--library", str(root / "examples/library/my_kit.toml")]],
}
requests = "\n".join(json.dumps(r) for r in (
    {"from": "MH10", "to": "JN45", "month": "2027-02", "bands": ["20m", "40m"]},
    {"id": 7, "from": "MH10", "to": "JN45", "month": "2027-02", "mhz": [5.0, 7.1], "modes": True, "way": "both"},
    {"id": "near", "from": "JN45", "to": "JN46", "month": "2026-06", "bands": ["80m", "10m"]}))


def judge(name, schema, answer, what):
    global problems, checked
    checked += 1
    for error in jsonschema.Draft202012Validator(schema).iter_errors(answer):
        problems += 1
        print(f"WRONG: {what}: {error.json_path}: {error.message[:120]}")
    # A validator that accepts anything would prove nothing: every required key is missed when it is gone.
    for key in schema.get("required", []):
        broken = copy.copy(answer)
        broken.pop(key, None)
        if jsonschema.Draft202012Validator(schema).is_valid(broken):
            problems += 1
            print(f"WRONG: {name} without {key} is accepted")


for path in sorted((root / "docs/schemas").glob("*.json")):
    name = path.stem
    schema = json.loads(path.read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    if schema != json.loads(run(["schema", name])):
        problems += 1
        print(f"WRONG: the program's own copy of {name} differs")
    if name == "trip":
        # Trip files: the examples, and what `new` writes. Dates are texts to an editor.
        for what, text in [(e, pathlib.Path(e).read_text()) for e in examples] + [("new", run(["new", "--first-day", "2027-02-13"]))]:
            judge(name, schema, json.loads(json.dumps(tomllib.loads(text), default=str)), what)
    if name == "library-file":
        own = pathlib.Path(dem.name) / "own.toml"
        run(["kit", "add", "antenna", "--name", "33 ft wire", "--mass", "5 oz", "--length", "33 ft", "--set", "kind=dipole", "--library", str(own)])
        for file in (root / "examples/library/my_kit.toml", own):
            judge(name, schema, tomllib.loads(file.read_text()), str(file))
    if name == "antenna-file":
        for file in (root / "examples/antennas/presets.toml", *examples):
            judge(name, schema, json.loads(json.dumps(tomllib.loads(pathlib.Path(file).read_text()), default=str)), str(file))
    if name == "learned-file":
        learned = pathlib.Path(dem.name) / "learned.toml"
        run(["log", str(root / "examples/rodrigues.toml"), str(root / "examples/log/rodrigues.adi"), "--learn", str(learned)])
        judge(name, schema, json.loads(json.dumps(tomllib.loads(learned.read_text()), default=str)), str(learned))
    if name == "batch":
        for line in run(["batch"], requests + "\n").splitlines():
            judge(name, schema, json.loads(line), "batch")
    for args in answers.get(name, []):
        judge(name, schema, json.loads(run([*args, "--format", "json"])), " ".join(args))

print(f"{checked} answers,", "all valid" if problems == 0 else f"{problems} wrong")
sys.exit(problems > 0)
