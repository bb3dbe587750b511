#!/usr/bin/env python3
"""Reads the program's calendars with an independent RFC 5545 parser (Debian: python3-icalendar) and compares with the trip files.

Run by ctest (authorities: ics); by hand: tests/forms/authorities/check_ics.py build/release/skerry
Exit code: 0 all right, 1 something is wrong, 77 the parser is missing.
"""
import datetime as dt
import pathlib
import subprocess
import sys
import tomllib
import zoneinfo

try:
    import icalendar
except ImportError:
    print("SKIPPED: install python3-icalendar")
    sys.exit(77)

program = sys.argv[1]
root = pathlib.Path(__file__).resolve().parents[3]
problems = 0


def check(good, words):
    global problems
    if not good:
        problems += 1
        print("WRONG:", words)


for trip_file in sorted((root / "examples").glob("*.toml")):
    trip = tomllib.loads(trip_file.read_text())
    for extra in ([], ["--all-hours", "--opening-alarms"]):
        raw = subprocess.run([program, "calendar", str(trip_file), *extra], capture_output=True, check=True).stdout
        check(all(len(line) <= 75 for line in raw.split(b"\r\n")), f"{trip_file.name}: a line over 75 octets")
        check(raw.count(b"\n") == raw.count(b"\r\n"), f"{trip_file.name}: a bare line feed")
        calendar = icalendar.Calendar.from_ical(raw)
        events = [c for c in calendar.walk("VEVENT")]
        check(not [e for c in calendar.walk() for e in getattr(c, "errors", [])], f"{trip_file.name}: parser errors")
        uids = [str(e["UID"]) for e in events]
        check(len(set(uids)) == len(uids), f"{trip_file.name}: a UID twice")
        days = (trip["trip"]["last_day"] - trip["trip"]["first_day"]).days + 1
        wanted = 0
        for session in trip.get("session", []):
            wanted += len(session["days"]) if "days" in session else days
        sessions = [e for e in events if "SESSION" in [str(c) for c in e["CATEGORIES"].cats]]
        check(len(sessions) == wanted, f"{trip_file.name}: {len(sessions)} sessions, {wanted} in the trip file")
        for e in events:
            check(e.decoded("DTEND") > e.decoded("DTSTART"), f"{trip_file.name}: {e['SUMMARY']} ends before it begins")
            check("DTSTAMP" in e, "no DTSTAMP")
        # Local clock and offset of each session against the trip file and the machine's own zone tables.
        sites = {s.get("id", "site"): s for s in trip["site"]}
        for e in sessions:
            start = e.decoded("DTSTART")
            site = next(s for s in sites.values() if s.get("name", s.get("id")) == str(e["LOCATION"]))
            zone = site.get("zone")
            if zone and "/" in zone:
                there = start.astimezone(dt.timezone.utc).astimezone(zoneinfo.ZoneInfo(zone))
                check(there.replace(tzinfo=None) == start.replace(tzinfo=None), f"{trip_file.name}: {start} is {there} there")
            clock = start.strftime("%H:%M")
            check(any(s["from"] == clock for s in trip["session"] if isinstance(s.get("from"), str)), f"{trip_file.name}: no session from {clock}")
        alarms = sum(len(e.walk("VALARM")) for e in events)
        print(f"{trip_file.name} {' '.join(extra)}: {len(events)} events, {len(sessions)} sessions, {alarms} alarms, {len(raw)} bytes")

print("icalendar", icalendar.__version__, "-", "all right" if problems == 0 else f"{problems} wrong")
sys.exit(problems > 0)
