#!/usr/bin/env python3
"""Makes zones.toml from zone.tab of the tz database. Usage: import.py /usr/share/zoneinfo/zone.tab data/zones"""
import pathlib
import re
import sys


def degrees(text):
    """Degrees, minutes and perhaps seconds after a sign, as +DDMM, +DDDMM, +DDMMSS or +DDDMMSS."""
    sign, digits = (-1 if text[0] == "-" else 1), text[1:]
    seconds = digits[-2:] if len(digits) > 5 else "00"
    whole = digits[:-2] if len(digits) > 5 else digits
    return sign * (int(whole[:-2]) + int(whole[-2:]) / 60 + int(seconds) / 3600)


def main():
    rows = []
    for line in pathlib.Path(sys.argv[1]).read_text().splitlines():
        if line.startswith("#"):
            continue
        place, name = line.split("\t")[1:3]
        lat, lon = re.fullmatch(r"([+-]\d+)([+-]\d+)", place).groups()
        rows.append((name, degrees(lat), degrees(lon)))
    out = ["# The principal place of each time zone in each country: name, latitude, longitude. Made by import.py; see SOURCE.md.", ""]
    for name, lat, lon in sorted(rows):
        out += ["[[zone]]", f'name = "{name}"', f"at = [{lat:.3f}, {lon:.3f}]", ""]
    (pathlib.Path(sys.argv[2]) / "zones.toml").write_text("\n".join(out))
    print(len(rows), "zones")


if __name__ == "__main__":
    main()
