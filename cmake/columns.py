#!/usr/bin/env python3
"""Makes what the module for the page carries in place of some data files: the same numbers by columns, which a compressor
likes better. The program makes the files of data/ of them again, byte for byte (src/geodesy/columns.cpp, core/embedded.hpp).

Usage: columns.py <folder data> <output folder>

For a file of rows of equal length: all first bytes, all second bytes, and so on.
places/columns.bin, of names.bin and places.bin (their forms: data/places/import_names.py, import.py). A column of numbers is all
low bytes, then all next ones.
    "SKGC", eight u32: bytes of the zones, of the countries, folds, names, bytes of their texts, of the other names, of the states,
    places that are no name.
    zones, countries, folds, as in names.bin;
    180 u16: names in each row of one degree from 90 S; then for the names by row and longitude: u16 latitude within the row and
    u24 longitude from the one before (from 180 W) in 1/10 000 degree, u32 people, u16 zone, u8 country, u8 kind, u8 how many other
    names, u8 whether it is in places.bin: 0, or 1 + by how much its latitude there, in 1/1000 degree, is above the floor of the one here,
    + 2 times that of longitude, + 4 times its rank among those of one name and number of people;
    texts of the names, of the other names, of the states, NUL after each;
    for each that is in places.bin: u24 people gathered round it;
    the rows of places.bin that are no name.
"""
import pathlib
import struct
import sys

# Bytes of a row. Whatever stands before the rows does not matter.
ROWS = {"ccir/ccir.bin": 4, "ursi/ursi.bin": 4, "foes/foes.bin": 4, "igrf/igrf.bin": 4, "zones/tables.bin": 18}


def column(numbers, width):
    return b"".join(bytes(n >> 8 * k & 255 for n in numbers) for k in range(width))


def ended(texts):
    return b"".join(text + b"\0" for text in texts)


def until_nul(pool, at):
    return pool[at:pool.index(b"\0", at)]


def read_places(blob):
    """(latitude, longitude, own people, with those round it, name, the row's bytes) of each."""
    assert blob[:4] == b"SKPL"
    at = 4

    def count():
        nonlocal at
        value = shift = 0
        while True:
            byte = blob[at]
            at += 1
            value |= (byte & 127) << shift
            shift += 7
            if byte < 128:
                return value

    def difference():
        n = count()
        return n >> 1 ^ -(n & 1)

    out = []
    for _ in range(count()):
        begin = at
        row = [difference(), difference(), count(), count()]
        length = count()
        at += length
        out.append((*row, blob[at - length:at], blob[begin:at]))
    return out


def places(names_blob, places_blob):
    assert names_blob[:4] == b"SKGN"
    zones, countries, folds, count, others, pool_bytes = struct.unpack("<6I", names_blob[4:28])
    head = 28 + zones + countries + 4 * folds
    by_name = [struct.unpack_from("<IiiIHBB", names_blob, head + 20 * i) for i in range(count)]
    at = head + 20 * count
    other_rows = [struct.unpack_from("<II", names_blob, at + 8 * i) for i in range(others)]
    at += 8 * others
    order = struct.unpack_from(f"<{count}H", names_blob, at)
    pool = names_blob[at + 2 * count:]
    assert len(pool) == pool_bytes

    per_row, lat, lon, last = [0] * 180, [], [], (None, 0)
    texts, states = [], []
    for i in order:
        row, text = by_name[i][1] // 10_000, by_name[i][0]
        per_row[row + 90] += 1
        if row != last[0]:
            last = (row, -1_800_000)
        lat.append(by_name[i][1] - 10_000 * row)
        lon.append(by_name[i][2] - last[1])
        last = (row, by_name[i][2])
        texts.append(until_nul(pool, text))
        states.append(until_nul(pool, text + len(texts[-1]) + 1))
    more = [[] for _ in range(count)]
    for text, i in other_rows:
        more[i].append(until_nul(pool, text))

    called = {}
    for k, i in enumerate(order):
        if by_name[i][6] == 0:
            called.setdefault((texts[k], by_name[i][3]), []).append((k, by_name[i][1], by_name[i][2]))
    listed, gathered, strangers, alike = [0] * count, {}, [], {}
    for south, east, people, together, name, row in read_places(places_blob):
        found = [(k, south - y // 10, east - x // 10) for k, y, x in called.get((name, people), [])]
        found = [(k, a, b) for k, a, b in found if a in (0, 1) and b in (0, 1) and not listed[k]]
        if len(found) != 1:
            strangers.append(row)
            continue
        k, a, b = found[0]
        listed[k] = 1 + a + 2 * b + 4 * alike.get((name, people), 0)
        alike[name, people] = alike.get((name, people), 0) + 1
        gathered[k] = together - people
    at_place = lambda field: [by_name[i][field] for i in order]
    text, other_text, state_text = ended(texts), ended(t for i in order for t in more[i]), ended(states)
    return b"".join([
        b"SKGC", struct.pack("<8I", zones, countries, folds, count, len(text), len(other_text), len(state_text), len(strangers)),
        names_blob[28:head], column(per_row, 2), column(lat, 2), column(lon, 3), column(at_place(3), 4), column(at_place(4), 2),
        column(at_place(5), 1), column(at_place(6), 1), column([len(more[i]) for i in order], 1), column(listed, 1),
        text, other_text, state_text, column([gathered[k] for k in sorted(gathered)], 3), *strangers])


def main():
    data, target = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    made = {name: b"".join((data / name).read_bytes()[k::width] for k in range(width)) for name, width in ROWS.items()}
    made["places/columns.bin"] = places((data / "places/names.bin").read_bytes(), (data / "places/places.bin").read_bytes())
    for name, content in made.items():
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_bytes(content)


if __name__ == "__main__":
    main()
