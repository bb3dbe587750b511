#!/usr/bin/env python3
"""Makes sun_positions.csv and sun_events.csv with PyEphem (PyPI package "ephem"), which carries the VSOP87 theory
of the Earth's orbit, full nutation and its own Delta T: an independent authority for the sun room.

Run once, needs no network and no data file:  python3 make_tables.py
"""
import datetime
import math
import random

import ephem

DEG = math.pi / 180
EPOCH = datetime.datetime(1970, 1, 1)
HEAD = "# PyEphem %s, made by make_tables.py on %s, seed 1\n" % (ephem.__version__, datetime.date.today().isoformat())


def observer(lat, lon):
    o = ephem.Observer()
    o.lat, o.lon, o.elevation, o.pressure = str(lat), str(lon), 0, 0
    return o


def positions(rng, out):
    """Geocentric zenith angle and azimuth from apparent right ascension, declination and sidereal time."""
    start = int((datetime.datetime(1950, 1, 1) - EPOCH).total_seconds())
    end = int((datetime.datetime(2050, 12, 31) - EPOCH).total_seconds())
    out.write(HEAD + "unix_s,lat_deg,lon_deg,declination_deg,equation_of_time_min,zenith_deg,azimuth_deg\n")
    for _ in range(300):
        t = rng.randrange(start, end)
        lat = round(math.degrees(math.asin(rng.uniform(-1, 1))), 3)
        lon = round(rng.uniform(-180, 180), 3)
        o = observer(lat, lon)
        o.date = EPOCH + datetime.timedelta(seconds=t)
        sun = ephem.Sun(o)
        ra, dec, lst = float(sun.g_ra), float(sun.g_dec), float(o.sidereal_time())
        h = lst - ra
        phi = lat * DEG
        sin_alt = math.sin(phi) * math.sin(dec) + math.cos(phi) * math.cos(dec) * math.cos(h)
        az = math.atan2(-math.cos(dec) * math.sin(h),
                        math.cos(phi) * math.sin(dec) - math.sin(phi) * math.cos(dec) * math.cos(h))
        mean = (t % 86400) / 240.0 + lon - 180.0  # hour angle of the mean Sun
        eot = ((h / DEG - mean + 180.0) % 360.0 - 180.0) * 4
        out.write("%d,%.3f,%.3f,%.5f,%.5f,%.5f,%.5f\n" % (
            t, lat, lon, dec / DEG, eot, 90 - math.asin(sin_alt) / DEG, az / DEG % 360))


LEVELS = [("-0:50", "rise", "set"), ("-6", "civil_dawn", "civil_dusk"),
          ("-12", "nautical_dawn", "nautical_dusk"), ("-18", "astronomical_dawn", "astronomical_dusk")]


def events(rng, out):
    """Noon nearest 12:00 local mean time, then the rising passages before it and the setting ones after it, within 12 h."""
    out.write(HEAD + "date,lat_deg,lon_deg,noon," + ",".join(a + "," + b for _, a, b in LEVELS) + "\n")
    for i in range(220):
        day = datetime.date(1950, 1, 1) + datetime.timedelta(days=rng.randrange(0, 101 * 365))
        lat = round(math.degrees(math.asin(rng.uniform(-0.99, 0.99))), 3)
        lon = round(rng.uniform(-180, 180), 3)
        if i % 20 == 0:
            lon = 180.0
        mean_noon = datetime.datetime(day.year, day.month, day.day, 12) - datetime.timedelta(seconds=round(lon * 240))
        o = observer(lat, lon)
        o.date = mean_noon - datetime.timedelta(hours=6)
        noon = o.next_transit(ephem.Sun())
        row = []
        for level, _, _ in LEVELS:
            o.horizon = level
            for find in ("previous_rising", "next_setting"):
                o.date = noon
                try:
                    when = getattr(o, find)(ephem.Sun(), use_center=True)
                    ok = abs(when - noon) < 0.5
                except (ephem.AlwaysUpError, ephem.NeverUpError):
                    ok = False
                row.append(str(round((when.datetime() - EPOCH).total_seconds())) if ok else "")
        out.write("%s,%.3f,%.3f,%d,%s\n" % (day, lat, lon, round((noon.datetime() - EPOCH).total_seconds()), ",".join(row)))


if __name__ == "__main__":
    generator = random.Random(1)
    with open("sun_positions.csv", "w") as f:
        positions(generator, f)
    with open("sun_events.csv", "w") as f:
        events(generator, f)
