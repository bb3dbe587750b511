"""What the package promises beside the program's bytes."""
import datetime
import json
import os
import pathlib
import pickle
import subprocess
import sys
import tempfile
import threading
import time
import tomllib
import unittest
import warnings

import numpy
import skerry
from skerry import _toml, answers

SOURCE = pathlib.Path(os.environ["SKERRY_SOURCE"])
TRIP = SOURCE / "examples/rodrigues.toml"


class Trips(unittest.TestCase):
    def test_text_a_dictionary_and_a_path_are_the_same_trip(self):
        text = TRIP.read_text()
        by_path = skerry.pack(TRIP)
        self.assertEqual(skerry.pack(text), by_path)
        self.assertEqual(skerry.pack(tomllib.loads(text)), by_path)
        self.assertEqual(by_path["schema"], "skerry.pack/1")

    def test_a_dictionary_comes_back_from_toml_as_it_was(self):
        whole = [tomllib.loads(trip.read_text()) for trip in SOURCE.glob("examples/*.toml")]
        odd = {"a": 'quote " \\ \n \x7f é', "b c": {"d": [1, 2.5, [True]], "day": datetime.date(2027, 2, 3)}, "t": [{"x": {}}, {}]}
        for trip in [*whole, odd]:
            self.assertEqual(tomllib.loads(_toml.dumps(trip)), trip)
        self.assertEqual(_toml.dumps({"n": numpy.float64(2.5)}), "n = 2.5\n")
        with self.assertRaises(TypeError):
            _toml.dumps({"x": float("nan")})

    def test_files_beside_a_trip_are_read_and_no_others(self):
        library = '[[antenna]]\nid = "wire"\nname = "wire"\nmass_g = 150\nkind = "end-fed-random"\nwire_m = 13\n'
        trip = TRIP.read_text().replace("[trip]\n", '[trip]\nlibrary = "things.toml"\n', 1)
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "trip.toml"
            file.write_text(trip)
            with self.assertRaises(skerry.Mistake):
                skerry.pack(file)
            (file.parent / "things.toml").write_text(library)
            self.assertEqual(skerry.pack(file), skerry.pack(trip, files={"things.toml": library}))
            file.write_text(trip.replace("things.toml", "../things.toml"))
            with self.assertRaises(skerry.Mistake) as told:
                skerry.pack(file)
            self.assertIn("folder", told.exception.accepted)
        with self.assertRaises(FileNotFoundError):
            skerry.pack("no-such-trip.toml")


class Mistakes(unittest.TestCase):
    def test_a_mistake_says_where_and_what(self):
        text = TRIP.read_text().replace("mass_limit_kg = 4.2", "mass_limit_kg = -4.2").replace("altitude_m", "altitud_m", 1)
        with self.assertRaises(ValueError) as told:
            skerry.pack(text)
        mistake = told.exception
        self.assertIsInstance(mistake, skerry.Mistake)
        self.assertEqual((mistake.file, mistake.line), ("trip", text[: text.index("mass_limit_kg")].count("\n") + 1))
        self.assertIn("-4.2", mistake.found)
        self.assertGreaterEqual(len(mistake.all), 2)
        self.assertEqual(str(mistake).count("\n") + 1, len(mistake.all))
        again = pickle.loads(pickle.dumps(mistake))
        self.assertEqual((str(again), again.line), (str(mistake), mistake.line))

    def test_every_question_refuses_what_it_cannot_read(self):
        for ask in (
            lambda: skerry.path("nowhere at all", "JN45"),
            lambda: skerry.path("JN45", "JN45", month="2027-02"),
            lambda: skerry.path("JN45", "FN42", month="2027-13"),
            lambda: skerry.path("JN45", "FN42", colour=3),
            lambda: skerry.sun("JN45", zone="Nowhere/Here"),
            lambda: skerry.ionosphere((95, 0)),
            lambda: skerry.antenna(TRIP, mhz=[100]),
            lambda: skerry.coverage("JN45", grid=7),
            lambda: skerry.coverage("JN45", fields=["colour"]),
            lambda: skerry.score("a,b\n1,2\n"),
            lambda: skerry.score(),
            lambda: skerry.pack(b"[trip]\nname = '\xff'\n".decode("latin-1")),
        ):
            with self.assertRaises(skerry.Mistake) as told:
                ask()
            self.assertTrue(told.exception.found and told.exception.accepted)

    def test_a_name_of_several_places_lists_them(self):
        with self.assertRaises(skerry.Mistake) as told:
            skerry.path("Springfield", "JN45", month="2027-02")
        self.assertIn("Springfield, IL", told.exception.mend)

    def test_bytes_that_are_no_text(self):
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "trip.toml"
            file.write_bytes(b"[trip]\nname = '\xff'\n")
            with self.assertRaises(skerry.Mistake) as told:
                skerry.pack(file)
            self.assertEqual((told.exception.line, told.exception.all[0]["where"]), (2, str(file)))

    def test_doubts_warn(self):
        with warnings.catch_warnings(record=True) as told:
            warnings.simplefilter("always")
            skerry.path("-40,20", "JN45", month="2027-02", bands=["20m"])
        self.assertEqual([type(one.message) for one in told], [skerry.Caution])


class Arrays(unittest.TestCase):
    ASKED = {"month": "2027-02", "r12": 60, "bands": ["20m", "15m"], "hours": [6, 18], "grid": 10}

    def test_a_grid_has_its_shape_and_owns_its_numbers(self):
        grid = skerry.coverage("-19.70,63.43", **self.ASKED)
        for field in skerry.FIELDS:
            values = grid[field]
            self.assertEqual((values.shape, values.dtype), ((2, 2, 18, 36), numpy.float32))
            self.assertTrue(values.flags["C_CONTIGUOUS"] and values.flags["WRITEABLE"])
            self.assertIsNotNone(values.base)  # the capsule: numpy did not copy it
        self.assertEqual((grid["lat_deg"][0], grid["lat_deg"][-1], grid["lon_deg"][0], grid["lon_deg"][-1]), (85, -85, -175, 175))
        self.assertEqual((list(grid["utc_hour"]), grid["band"]), ([6, 18], ["20m", "15m"]))
        kept = grid["both_days_in_ten"]
        before = kept.copy()
        del grid
        [skerry.coverage("JN45", **self.ASKED) for _ in range(3)]
        self.assertTrue(numpy.array_equal(kept, before))

    def test_a_grid_is_what_the_map_says(self):
        grid = skerry.coverage("-19.70,63.43", fields=["both_days_in_ten", "snr_db"], **self.ASKED)
        self.assertNotIn("days_in_ten", grid)
        weight = numpy.cos(numpy.radians(grid["lat_deg"]))[:, None] * numpy.ones(36)
        for h, hour in enumerate(grid["map"]["hours"]):
            for b, band in enumerate(hour["bands"]):
                share = float((weight * (grid["both_days_in_ten"][h, b] >= 5)).sum() / weight.sum())
                self.assertAlmostEqual(share, band["world_share"], places=4)
        # A cell is the path to its middle (its header promises 1e-3).
        row, column = 4, 20
        to = (float(grid["lat_deg"][row]), float(grid["lon_deg"][column]))
        asked = {key: value for key, value in self.ASKED.items() if key not in ("grid", "hours")}
        told = skerry.path("-19.70,63.43", to, **asked)["ways"][0]["hours"][18]["bands"][0]
        self.assertAlmostEqual(float(grid["both_days_in_ten"][1, 0, row, column]), told["both_days_in_ten"], delta=0.02)

    def test_progress_is_told_and_can_end_the_work(self):
        told = []
        skerry.coverage("JN45", progress=told.append, **self.ASKED)
        self.assertEqual(told[-1], 1)
        self.assertIsNone(skerry.coverage("JN45", progress=lambda share: False, **self.ASKED))

        def fails(_):
            raise KeyError("mine")

        with self.assertRaises(KeyError):
            skerry.coverage("JN45", progress=fails, **self.ASKED)

    def test_columns_are_the_answers_of_batch(self):
        base = {"from": "-19.70,63.43", "month": "2027-02", "bands": ["20m", "10m"], "hours": [0, 9, 18]}
        asked = [base | {"to": "JN45"}, base | {"to": "nowhere at all"}, base | {"to": "FN42", "way": "both"}]
        table = skerry.batch(asked, columns=True)
        answered = skerry.batch(asked)
        self.assertEqual([json.loads(one)["line"] for one in table["errors"]], [2])
        self.assertEqual(answered[1]["line"], 2)
        rows = [
            (i, way["way"] == "long", hour["utc_hour"], band)
            for i, one in enumerate(answered) if "ways" in one
            for way in one["ways"] for hour in way["hours"] for band in hour["bands"]
        ]
        self.assertEqual(len(table["mhz"]), len(rows))
        self.assertEqual(list(zip(table["question"], table["long_way"], table["utc_hour"])), [row[:3] for row in rows])
        for key in ("days_in_ten", "return_days_in_ten", "both_days_in_ten", "snr_db"):
            wanted = numpy.array([numpy.nan if row[3][key] is None else row[3][key] for row in rows])
            self.assertTrue(numpy.allclose(table[key], wanted, atol=0.0051, equal_nan=True), key)


class Threads(unittest.TestCase):
    def test_others_run_while_the_engine_works(self):
        counted, done = 0, threading.Event()

        def work():
            skerry.coverage("-19.70,63.43", month="2027-02", grid=2, fields=["days_in_ten"])
            done.set()

        worker = threading.Thread(target=work)
        began = time.monotonic()
        worker.start()
        while not done.is_set() and time.monotonic() - began < 60:
            counted += 1
            time.sleep(0.001)
        worker.join()
        # With the lock held this loop would come round once or twice.
        self.assertGreater(counted, 10)

    def test_several_at_once_say_the_same(self):
        wanted = skerry.pack(TRIP, format="json")
        told = [None] * 3

        def ask(i):
            told[i] = skerry.pack(TRIP, format="json")

        workers = [threading.Thread(target=ask, args=(i,)) for i in range(3)]
        [one.start() for one in workers]
        [one.join() for one in workers]
        self.assertEqual(told, [wanted] * 3)

    def test_the_number_of_threads_changes_nothing(self):
        asked = [{"from": "-19.70,63.43", "to": "JN45", "month": f"2027-{m:02}"} for m in range(1, 13)]
        wanted = skerry.batch(asked, format="json")
        skerry.set_threads(1)
        try:
            self.assertEqual(skerry.batch(asked, format="json"), wanted)
        finally:
            skerry.set_threads(0)


class Types(unittest.TestCase):
    def test_answers_have_the_keys_of_their_types(self):
        for kind, answer in (
            (answers.Pack, skerry.pack(TRIP)),
            (answers.Explain, skerry.explain(TRIP, region="all")),
            (answers.Path, skerry.path("JN45", "FN42", month="2027-02")),
            (answers.Sun, skerry.sun("JN45", date=datetime.date(2027, 2, 14))),
            (answers.Ionosphere, skerry.ionosphere((45.5, 9.2), month="2027-02")),
            (answers.Antenna, skerry.antenna(TRIP)),
        ):
            self.assertEqual(set(answer) - set(kind.__annotations__), set(), kind)
            self.assertEqual(kind.__required_keys__ - set(answer), set(), kind)

    def test_every_schema_has_its_type(self):
        for schema in (SOURCE / "docs/schemas").glob("*.json"):
            if schema.stem != "trip" and not schema.stem.endswith("-file"):
                self.assertTrue(hasattr(answers, schema.stem.capitalize()), schema)


class Notebook(unittest.TestCase):
    def test_the_notebook_runs(self):
        run = SOURCE / "examples/python/run.py"
        for book in sorted(SOURCE.glob("examples/python/*.ipynb")):
            done = subprocess.run([sys.executable, run, book], capture_output=True, text=True, timeout=300, check=False)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertIn("worked", done.stdout)


if __name__ == "__main__":
    unittest.main()
