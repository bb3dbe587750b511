#!/usr/bin/env python3
"""Makes tables.bin, the offsets and names of the clocks of every zone of the tz database within the years that are computed.

    tables.py TZDATA.ZI FOLDER

Runs zic (Debian: libc-bin) on the database's source in one file and reads what it wrote. Little-endian:
  u16 zones
  each zone, by name: u8 length, letters; u32 where in the file its steps begin; u16 how many there are
  a step: i64 seconds since 1970 from which it holds; i32 seconds east of Greenwich; 6 letters, what the
  clock is called ("CEST"), zeros after it. The first holds from ever.
"""
import datetime
import pathlib
import struct
import subprocess
import sys
import tempfile
import zoneinfo

FIRST, LAST = 1950, 2050  # include/skerry/core/time.hpp
source, folder = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
version = source.read_text().split("\n", 1)[0].split()[-1]


def seconds(year):
    return int(datetime.datetime(year, 1, 1, tzinfo=datetime.timezone.utc).timestamp())


# Days to spare on both sides, as local clocks are ahead and behind.
EVER = -2**63
begin, end = seconds(FIRST) - 3 * 86400, seconds(LAST + 1) + 3 * 86400


def steps(data):
    """[(from, offset, name)] of a TZif file with all its times spelled out (RFC 8536)."""
    assert data[:4] == b"TZif" and data[4:5] >= b"2"
    first = struct.unpack(">6l", data[20:44])
    isut, isstd, leap, times, types, chars = first
    at = 44 + times * 5 + types * 6 + chars + leap * 8 + isstd + isut
    isut, isstd, leap, times, types, chars = struct.unpack(">6l", data[at + 20:at + 44])
    at += 44
    when = struct.unpack(f">{times}q", data[at:at + 8 * times])
    which = data[at + 8 * times:at + 9 * times]
    at += 9 * times
    names = data[at + 6 * types:at + 6 * types + chars]
    clocks = []
    for i in range(types):
        offset, _, name = struct.unpack(">lBB", data[at + 6 * i:at + 6 * i + 6])
        clocks.append((offset, names[name:names.index(b"\0", name)]))
    out = [(EVER, *clocks[0])]
    for moment, kind in zip(when, which):
        if moment <= begin:
            out = [(EVER, *clocks[kind])]
        elif moment < end and clocks[kind] != out[-1][1:]:
            out.append((moment, *clocks[kind]))
    return out


def later(file, rows):
    """What the rule in a file's last line goes on with: zic spells times out to 2037 (-b fat), Python's zoneinfo knows the rule."""
    zone = zoneinfo.ZoneInfo.from_file(file.open("rb"))

    def clock(moment):
        then = datetime.datetime.fromtimestamp(moment, zone)
        return int(then.utcoffset().total_seconds()), then.tzname().encode()

    low = max(seconds(2037), rows[-1][0])
    while low < end:
        high = min(low + 7 * 86400, end)
        if clock(high) == clock(low):
            low = high
            continue
        before = low
        while high - before > 1:  # the change lies after `before`, at `high` at the latest
            middle = (before + high) // 2
            before, high = (middle, high) if clock(middle) == clock(low) else (before, middle)
        rows.append((high, *clock(high)))
        low = high
    return tuple(rows)


with tempfile.TemporaryDirectory() as work:
    subprocess.run(["zic", "-b", "fat", "-d", work, str(source)], check=True)
    files = {str(f.relative_to(work)): f for f in sorted(pathlib.Path(work).rglob("*")) if f.is_file()}
    zones = {name: later(f, steps(f.read_bytes())) for name, f in files.items()}

zones.pop("Factory", None)  # a stand-in for "not set"
at = 2 + sum(1 + len(name) + 6 for name in zones)
places, rows = {}, b""
for steps_of in sorted(set(zones.values())):
    places[steps_of] = at + len(rows)
    rows += b"".join(struct.pack("<qi6s", *step) for step in steps_of)
out = struct.pack("<H", len(zones))
for name, steps_of in sorted(zones.items()):
    out += struct.pack("<B", len(name)) + name.encode() + struct.pack("<IH", places[steps_of], len(steps_of))
out += rows
(folder / "tables.bin").write_bytes(out)
print(f"{version}: {len(zones)} zones, {len(places)} tables, {len(rows) // 18} steps, {len(out)} bytes")
