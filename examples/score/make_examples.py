#!/usr/bin/env python3
"""Makes spots.csv and ionosondes.csv: SYNTHETIC tables in the formats of docs/scoring.md. Nobody measured any of it.

Both are drawn from the program's own forecasts and scattered about them, so they show what the scores look like and prove nothing:
    python3 examples/score/make_examples.py build/release/skerry
"""
import json
import pathlib
import random
import subprocess
import sys

program = sys.argv[1]
here = pathlib.Path(__file__).resolve().parent
random.seed(5)
senders = {"JO62": 0.2, "FN31": 5, "PM95": 1, "QF56": 0.5, "KG33": 0.2}
receivers = ["IO91", "JN45", "EN52", "CM87", "PM85", "OF78", "RE78", "GG66"]
bands = {"40m": 7.0401, "20m": 14.0971, "15m": 21.0961}
questions, keys = [], []
for tx, watts in senders.items():
    for rx in receivers:
        questions.append({"from": tx, "to": rx, "month": "2025-10", "bands": list(bands), "power_w": watts, "noise_to": "residential",
                          "mode": "wspr", "gain_from_dbi": 0, "gain_to_dbi": 0})
        keys.append((tx, rx))
answers = subprocess.run([program, "batch"], input="\n".join(map(json.dumps, questions)) + "\n", capture_output=True, text=True, check=True).stdout
table = dict(zip(keys, (json.loads(line) for line in answers.splitlines())))
with open(here / "spots.csv", "w", newline="\n") as out:
    out.write("# Synthetic: drawn by examples/score/make_examples.py from forecasts scattered by 8 dB a day and 3 dB a report.\n"
              "time_utc,mhz,tx,rx,power_w,snr_db\n")
    for day in (6, 7, 8):
        for hour in range(0, 24, 2):
            for band, mhz in bands.items():
                heard = set()
                for (tx, rx), answer in table.items():
                    cell = next(b for b in answer["ways"][0]["hours"][hour]["bands"] if b["band"] == band)
                    sky = random.gauss(0, 8)
                    for minute in (4, 14, 24):
                        if cell["snr_db"] is None or random.random() < 0.4:
                            continue
                        snr = round(cell["snr_db"] + 1.5 + sky + random.gauss(0, 3))
                        if snr >= -31:
                            heard.add(rx)
                            out.write(f"2025-10-{day:02}T{hour:02}:{minute:02}:00Z,{mhz},{tx},{rx},{senders[tx]:g},{snr}\n")
                for rx in receivers:
                    if rx not in heard and random.random() < 0.5:
                        out.write(f"2025-10-{day:02}T{hour:02}:00:00Z,{mhz},,{rx},,\n")
stations = {"north": "52.0,12.0", "equator": "-11.0,-76.0", "south": "-33.0,151.0", "far north": "69.0,19.0"}
with open(here / "ionosondes.csv", "w", newline="\n") as out:
    out.write("# Synthetic: the maps scattered by 10 %, made by examples/score/make_examples.py. No such stations.\n"
              "station,place,month,utc_hour,fof2_mhz,m3000f2\n")
    for name, place in stations.items():
        for month in ("2024-01", "2024-04", "2024-07"):
            sky = json.loads(subprocess.run([program, "ionosphere", place, "--month", month, "--format", "json"], capture_output=True,
                                            text=True, check=True).stdout)
            for hour in sky["hours"]:
                fof2 = hour["fof2_mhz"] * random.lognormvariate(0.03, 0.1)
                m3 = hour["m3000f2"] * random.lognormvariate(0, 0.03) if random.random() < 0.9 else None
                out.write(f'{name},"{place}",{month},{hour["utc_hour"]},{fof2:.2f},{"" if m3 is None else format(m3, ".2f")}\n')
