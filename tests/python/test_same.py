"""The module against the program: the same questions, the same bytes. Seeded: the same questions each time."""
import os
import pathlib
import random
import subprocess
import sys
import tempfile
import unittest

import numpy
import skerry

PROGRAM = os.environ["SKERRY"]
SOURCE = pathlib.Path(os.environ["SKERRY_SOURCE"])
TRIPS = sorted(SOURCE.glob("examples/*.toml"))
NAMES = ["Fair Isle", "Boston", "Reykjavik", "Nagasaki", "Ushuaia", "Funchal"]


def program(*args):
    done = subprocess.run([PROGRAM, *map(str, args)], capture_output=True, timeout=120, check=False)
    assert done.returncode == 0, (args, done.stderr)
    return done.stdout.decode()


def options(asked):
    """The same as options of the program."""
    out = []
    for key, value in asked.items():
        name = "--" + key.replace("_", "-")
        if value is True:
            out.append(name)
        elif value is not False:
            out += [name, ",".join(map(str, value)) if isinstance(value, list) else str(value)]
    return out


class Same(unittest.TestCase):
    def setUp(self):
        self.random = random.Random(20)
        self.asked = 0

    def place(self):
        if self.random.random() < 0.2:
            return self.random.choice(NAMES)
        return f"{self.random.uniform(-80, 80):.2f},{self.random.uniform(-180, 180):.2f}"

    def sky(self):
        month = f"20{self.random.randint(26, 40)}-{self.random.randint(1, 12):02}"
        out = self.random.choice([{"month": month}, {"date": month + "-09"}])
        out |= self.random.choice([{}, {"r12": self.random.randint(0, 200)}, {"f107": self.random.randint(70, 220)}])
        return out | self.random.choice([{}, {"maps": "ursi"}, {"field_epoch": 2015}])

    def same(self, answer, *args):
        self.asked += 1
        self.assertEqual(answer, program(*args), args)

    def shape(self):
        return self.random.choice(["json", "text", "csv"])

    def test_paths(self):
        for _ in range(110):
            here, there, shape = self.place(), self.place(), self.shape()
            if here == there:
                continue
            ways = {
                "mode": self.random.choice(["cw", "ssb", "ft8"]),
                "way": self.random.choice(["short", "long", "both"]),
                "power_w": self.random.choice([0.5, 5, 100]),
                "noise_to": self.random.choice(["city", "quiet"]),
                "es": self.random.choice(["on", "off"]),
                "spread": self.random.random() < 0.1,
            }
            bands = self.random.choice([{}, {"bands": ["40m", "20m", "10m"]}, {"mhz": [7.1, 18.1]}])
            asked = self.sky() | ways | bands
            self.same(skerry.path(here, there, format=shape, **asked), "path", here, there, "-f", shape, *options(asked))
        self.assertGreaterEqual(self.asked, 105)

    def test_sun_and_ionosphere(self):
        for _ in range(30):
            at, to, shape = self.place(), self.random.choice([None, self.place()]), self.shape()
            asked = {"date": f"2027-{self.random.randint(1, 12):02}-14", "height_m": self.random.choice([0, 400])}
            self.same(
                skerry.sun(at, to, format=shape, **asked), "sun", at, *([] if to is None else [to]), "-f", shape, *options(asked)
            )
        for _ in range(30):
            at, shape, asked = self.place(), self.shape(), self.sky()
            self.same(skerry.ionosphere(at, format=shape, **asked), "ionosphere", at, "-f", shape, *options(asked))
        self.assertEqual(self.asked, 60)

    def test_trips(self):
        for trip in TRIPS:
            for shape in ("json", "text", "csv"):
                self.same(skerry.pack(trip, format=shape), "pack", trip, "-f", shape)
            self.same(skerry.pack(str(trip), show=["all"], format="text"), "pack", trip, "--show", "all")
            self.same(skerry.pack(trip, table="things", format="csv"), "pack", trip, "-f", "csv", "--table", "things")
            for shape in ("json", "text"):
                self.same(skerry.explain(trip, region="all", format=shape), "explain", trip, "--region", "all", "-f", shape)
        for _ in range(6):
            trip, shape = self.random.choice(TRIPS), self.random.choice(["json", "text"])
            asked = {"mass_limit_kg": round(self.random.uniform(1, 6), 1)}
            self.same(skerry.pack(trip, format=shape, **asked), "pack", trip, "-f", shape, *options(asked))
        for _ in range(14):
            trip, shape = self.random.choice(TRIPS), self.shape()
            asked = {
                "mhz": [self.random.choice([3.55, 7.03, 14.06, 28.06])],
                "ground": self.random.choice(["rock", "sand", "sea"]),
                "height_m": self.random.choice([2.5, 5, 9]),
                "tuner": self.random.random() < 0.5,
            }
            self.same(skerry.antenna(trip, format=shape, **asked), "antenna", trip, "-f", shape, *options(asked))
        self.assertEqual(self.asked, 41)

    def test_elevation_beside_a_trip(self):
        # HGT: 1201 lines of 1201 metres, 16 bits, high byte first; a wall of 240 m in a plain of 40 m.
        heights = numpy.full((1201, 1201), 40, ">i2")
        heights[:, 540:542] = 240
        trip = TRIPS[[one.stem for one in TRIPS].index("rodrigues")].read_text()
        with tempfile.TemporaryDirectory() as folder:
            folder = pathlib.Path(folder)
            (folder / "dem").mkdir()
            (folder / "dem/S20E063.hgt").write_bytes(heights.tobytes())
            named = folder / "trip.toml"
            named.write_text(trip.replace("descent_minutes", 'terrain = "dem"\ndescent_minutes', 1))
            for shape in ("json", "text"):
                self.same(skerry.pack(named, format=shape), "pack", named, "-f", shape)
            with self.assertRaises(skerry.Mistake):  # a text alone has no files
                skerry.pack(named.read_text())

    def test_tables(self):
        folder = SOURCE / "examples/score"
        for shape in ("json", "text", "csv"):
            for key, file in (("spots", "spots.csv"), ("ionosonde", "ionosondes.csv")):
                args = [folder / file] if key == "spots" else ["--" + key, folder / file]
                self.same(skerry.score(**{key: folder / file}, format=shape), "score", *args, "-f", shape)
        at, asked = "-19.70,63.43", {"month": "2027-02", "r12": 60, "grid": 10, "bands": ["20m", "10m"], "hours": [0, 12]}
        told = skerry._skerry.coverage(skerry._message(at=at, **asked), [], None)["map"]
        self.assertEqual(told, program("map", at, "-f", "json", *options(asked)))
        lines = [
            '{"id": 7, "from": "-19.70,63.43", "to": "JN45", "month": "2027-02", "bands": ["20m"]}',
            '{"id": "x", "from": "nowhere at all", "to": "JN45", "month": "2027-02"}',
        ]
        done = subprocess.run([PROGRAM, "batch"], input="\n".join(lines).encode(), capture_output=True, check=False)
        self.assertEqual(done.returncode, 2)  # of the line that cannot be answered
        self.assertEqual(skerry.batch(lines, format="json"), done.stdout.decode().splitlines())

    def test_command_line(self):
        for args in (["sun", "Fair Isle", "--date", "2027-01-05"], ["pack", TRIPS[0]], ["path", "nowhere at all", "JN45"]):
            here = subprocess.run([sys.executable, "-m", "skerry", *map(str, args)], capture_output=True, check=False)
            there = subprocess.run([PROGRAM, *map(str, args)], capture_output=True, check=False)
            self.assertEqual((here.returncode, here.stdout, here.stderr), (there.returncode, there.stdout, there.stderr))


if __name__ == "__main__":
    unittest.main()
