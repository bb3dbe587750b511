#!/usr/bin/env python3
"""Makes a table for `skerry score --hours` from hour tables of beacons as automatic receivers heard them.

    python3 docs/tools/hour_table.py FOLDER --month 2017-07 > hours.csv
    skerry score --hours hours.csv --mode cw --threshold-db -2 --r12 15

FOLDER holds hourly_summary.csv[.gz] (beacon, rx, band, hour_utc, days_active, days_heard), beacons.csv (beacon, lat, lon) and
receivers.csv (rx, locator4). The data stay where they are: nothing of them belongs into this repository. Standard library only.

--power W      of all beacons, 100 if not told
--only A,B     these receivers only; --without A,B all but these: fit on some, judge on the others
"""
import argparse
import csv
import gzip
import pathlib
import sys

# Frequencies of the synchronised beacons (common practice).
MHZ = {"20m": 14.100, "17m": 18.110, "15m": 21.150, "12m": 24.930, "10m": 28.200}


def rows(folder, name):
    for path in (folder / name, folder / (name + ".gz")):
        if path.exists():
            with (gzip.open if path.suffix == ".gz" else open)(path, "rt", encoding="utf-8") as file:
                return list(csv.DictReader(file))
    sys.exit(f"{folder}: neither {name} nor {name}.gz")


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("folder", type=pathlib.Path)
    options.add_argument("--month", required=True)
    options.add_argument("--power", type=float, default=100)
    options.add_argument("--only", default="")
    options.add_argument("--without", default="")
    asked = options.parse_args()
    only, without = ({x for x in text.split(",") if x} for text in (asked.only, asked.without))
    beacons = {r["beacon"]: f"{r['lat']},{r['lon']}" for r in rows(asked.folder, "beacons.csv")}
    receivers = {r["rx"]: r["locator4"] for r in rows(asked.folder, "receivers.csv")}
    for name in (only | without) - set(receivers):
        sys.exit(f"no receiver {name}; there are {', '.join(sorted(receivers))}")
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow("month utc_hour mhz tx rx power_w days_active days_heard".split())
    for r in rows(asked.folder, "hourly_summary.csv"):
        if (only and r["rx"] not in only) or r["rx"] in without or int(r["days_active"]) == 0:
            continue
        out.writerow([asked.month, int(r["hour_utc"]), MHZ[r["band"]], beacons[r["beacon"]], receivers[r["rx"]], f"{asked.power:g}",
                      r["days_active"], r["days_heard"]])


main()
