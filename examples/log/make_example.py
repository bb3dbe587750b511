#!/usr/bin/env python3
"""Makes rodrigues.adi and on_air.csv: a SYNTHETIC log of a trip that nobody made, with call signs that are assigned to nobody.

Contacts are drawn from the program's own openings with a station 3 dB weaker than planned, so that `skerry log` has something to find:
    python3 examples/log/make_example.py build/release/skerry
"""
import csv
import datetime
import io
import pathlib
import random
import string
import subprocess
import sys

program = sys.argv[1]
here = pathlib.Path(__file__).resolve().parent
trip = here.parent / "rodrigues.toml"
random.seed(20270213)
openings = {}
text = subprocess.run([program, "pack", str(trip), "--format", "csv"], capture_output=True, text=True, check=True).stdout
for row in csv.DictReader(io.StringIO(text)):
    if row["mode"]:
        openings[row["site"], row["region"], int(row["utc_hour"]), row["band"]] = row

# Squares with many people; entity numbers where a log would know the country alone.
places = {
    "western-europe": ["JN18", "JO31", "JN45", "JO62", "JN58", "IN80", "JO21"],
    "british-isles": ["IO91", "IO83", "IO75"],
    "southern-africa": ["KG33", "KG44", "JF96"],
    "south-asia": ["MK80", "MK68", "NL03"],
    "japan": ["PM95", "PM85", "PM74"],
    "western-australia": ["OF78", "OF77"],
    "eastern-north-america": ["FN20", "FN31", "FM18", "EN91"],
}
entities = {"western-europe": 230, "south-asia": 324, "japan": 339, "eastern-north-america": 291}
rate = {"western-europe": 0.8, "british-isles": 0.2, "southern-africa": 0.3, "south-asia": 0.2, "japan": 0.6, "western-australia": 0.15,
        "eastern-north-america": 0.3}
east_deg = {"western-europe": 8, "british-isles": -1, "southern-africa": 28, "south-asia": 77, "japan": 138, "western-australia": 116,
            "eastern-north-america": -75}
# How many listen by the local hour, of six blocks of four hours: fewer by day and more at night than the built-in table has it.
awake = [0.08, 0.12, 0.2, 0.25, 0.6, 0.8]
required_db = {"FT8": -16, "CW": -6}
mhz = {"40m": 7.03, "30m": 10.116, "20m": 14.06, "17m": 18.086, "15m": 21.06, "12m": 24.906, "10m": 28.06}
weaker_db = 3

contacts, stretches = [], []
for day in range(13, 18):
    for site, start, end in (("summit", 135, 300), ("shore", 900, 1110)):
        minute = start + random.randint(5, 20)  # putting up
        while minute < end - 10:
            hour = (minute + 30) // 60
            open_bands = [b for b in mhz if any((site, r, hour, b) in openings and float(openings[site, r, hour, b]["days_in_ten"]) > 3
                                                for r in places)]
            if not open_bands:
                break
            band = random.choice(open_bands)
            until = min(end, minute + random.randint(25, 60))
            digital = random.random() < 0.6
            stretches.append((day, minute, until, band))
            for now in range(minute, until):
                for region, squares in places.items():
                    slot = openings.get((site, region, (now + 30) // 60, band))
                    if slot is None:
                        continue
                    local = (now // 60 + round(east_deg[region] / 15)) % 24
                    if random.random() > rate[region] * awake[local // 4]:
                        continue
                    mode = "FT8" if digital else "CW"
                    sky = random.gauss(0, 8)
                    there = float(slot["snr_there_db"]) - weaker_db + sky
                    back = float(slot["snr_back_db"]) + sky + random.gauss(0, 3)
                    if min(there, back) < required_db[mode]:
                        continue
                    call = "QQ" + random.choice(string.digits) + "".join(random.choices(string.ascii_uppercase, k=3))
                    fields = {"CALL": call, "QSO_DATE": f"202702{day:02}", "TIME_ON": f"{now // 60:02}{now % 60:02}", "BAND": band,
                              "FREQ": f"{mhz[band]:.3f}", "MY_GRIDSQUARE": "MH10rh",
                              "MY_RIG": "10 W all-mode set",
                              "MY_ANTENNA": "end-fed-20m" if band in ("40m", "20m", "15m", "10m") else "random-12m"}
                    if region in entities and random.random() < 0.2:
                        fields["DXCC"] = str(entities[region])
                    else:
                        fields["GRIDSQUARE"] = random.choice(squares)
                    if digital:
                        fields |= {"MODE": "FT8", "RST_SENT": f"{round(back):+03}", "RST_RCVD": f"{round(there):+03}"}
                    else:
                        fields |= {"MODE": "CW", "RST_SENT": random.choice(["599", "559", "579"]), "RST_RCVD": random.choice(["599", "559", "449"])}
                    contacts.append(fields)
            minute = until + random.randint(1, 5)

with open(here / "rodrigues.adi", "w", newline="\n") as out:
    out.write("Synthetic log, drawn by examples/log/make_example.py: no such trip, no such contacts, no such call signs.\n"
              "<ADIF_VER:5>3.1.4 <PROGRAMID:7>example <EOH>\n\n")
    for fields in contacts:
        out.write("".join(f"<{k}:{len(v.encode())}>{v} " for k, v in fields.items()) + "<EOR>\n")
with open(here / "on_air.csv", "w", newline="\n") as out:
    out.write("# Synthetic, made with rodrigues.adi.\nstart_utc,end_utc,band\n")
    for day, start, end, band in stretches:
        stamp = [(datetime.datetime(2027, 2, day) + datetime.timedelta(minutes=m)).strftime("%Y-%m-%dT%H:%MZ") for m in (start, end)]
        out.write(f"{stamp[0]},{stamp[1]},{band}\n")
print(len(contacts), "contacts,", len(stretches), "stretches")
