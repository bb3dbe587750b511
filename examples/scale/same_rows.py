#!/usr/bin/env python3
"""Says of folders of Parquet how many rows they hold, how many bytes, and whether they are the same rows: same_rows.py FOLDER..."""
import hashlib
import pathlib
import sys

import pyarrow.parquet as parquet

sums = set()
for name in sys.argv[1:]:
    table = parquet.read_table(name)
    keys = [(column, "ascending") for column in ("question", "long_way", "utc_hour", "mhz")]
    table = table.sort_by(keys)
    doubled = table.num_rows - table.group_by([key for key, _ in keys]).aggregate([]).num_rows
    total = hashlib.sha256(" ".join(table.column_names).encode())
    for column in table.columns:
        if column.type in ("string",):
            total.update("\n".join(map(str, column.to_pylist())).encode())
        else:
            total.update(column.to_numpy().tobytes())
    size = sum(file.stat().st_size for file in pathlib.Path(name).rglob("*.parquet"))
    sums.add(total.hexdigest())
    print(f"{name}: {table.num_rows} rows, {doubled} doubled, {size} bytes, {total.hexdigest()[:16]}")
    if doubled:
        sys.exit(1)
sys.exit(len(sums) != 1)
