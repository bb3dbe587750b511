#!/usr/bin/env python3
"""The questions through Apache Spark and the Python package: answers as Parquet, a row for each hour and band.

usage: with_spark.py QUESTIONS FOLDER [MASTER]   MASTER: local[2,4] (default: 2 cores, 4 tries a task), spark://host:7077 ...
Needs on every worker: pip install skerry pyspark pyarrow pandas, and a Java run time (17) on the driver.

QUESTIONS has a line of `skerry batch` each, with an "id". FOLDER appears when all is there; it must not exist. Lines that
cannot be answered have a row with "error"; their number is told, and the exit code is 3.
With SKERRY_FALL=FILE a worker kills itself in the middle of its work, once: FILE says that it has.
"""
import json
import os
import signal
import sys
import time

COLUMNS = {
    "long_way": "tinyint", "utc_hour": "tinyint", "mhz": "double", "basic_muf_mhz": "float", "snr_db": "float",
    "return_snr_db": "float", "days_in_ten": "float", "return_days_in_ten": "float", "both_days_in_ten": "float",
}
SCHEMA = "question string, " + ", ".join(f"{name} {kind}" for name, kind in COLUMNS.items()) + ", error string"
BLOCK = 1000  # lines answered together. Judgement: 24 000 rows, a megabyte


def fall_once(done):
    """A worker that dies between two blocks, as by a machine that loses its power."""
    mark = os.environ.get("SKERRY_FALL")
    if not mark or done < 1:
        return
    try:
        os.close(os.open(mark, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
    except FileExistsError:
        return
    os.kill(os.getpid(), signal.SIGKILL)


def answered(batches):
    """Blocks of lines in, blocks of rows out: what each worker does, one thread each."""
    import numpy
    import pyarrow
    import skerry

    skerry.set_threads(1)
    schema = pyarrow.schema(
        [("question", pyarrow.string())]
        + [(name, {"tinyint": pyarrow.int8(), "double": pyarrow.float64(), "float": pyarrow.float32()}[kind])
           for name, kind in COLUMNS.items()]
        + [("error", pyarrow.string())]
    )
    for number, batch in enumerate(batches):
        fall_once(number)
        lines = batch.column(0).to_pylist()
        table = skerry.batch(lines, columns=True)
        ids = pyarrow.array([json.dumps(json.loads(line).get("id")) for line in lines])
        rows = [ids.take(pyarrow.array(table["question"]))]
        rows += [pyarrow.array(table[name]) for name in COLUMNS]
        rows.append(pyarrow.nulls(len(table["mhz"]), pyarrow.string()))
        yield pyarrow.RecordBatch.from_arrays(rows, schema=schema)
        if table["errors"]:
            wrong = [json.loads(error) for error in table["errors"]]
            blank = [pyarrow.nulls(len(wrong), kind) for kind in schema.types[1:-1]]
            told = pyarrow.array([json.dumps(one.get("id")) for one in wrong]), pyarrow.array([one["error"] for one in wrong])
            yield pyarrow.RecordBatch.from_arrays([told[0], *blank, told[1]], schema=schema)


def main() -> int:
    from pyspark.sql import SparkSession

    questions, folder = (os.path.abspath(name) for name in sys.argv[1:3])
    master = sys.argv[3] if len(sys.argv) > 3 else "local[2,4]"
    started = time.monotonic()
    spark = (
        SparkSession.builder.master(master)
        .appName("skerry")
        .config("spark.ui.enabled", "false")
        .config("spark.ui.showConsoleProgress", "false")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .config("spark.driver.host", "127.0.0.1")
        .config("spark.sql.execution.arrow.maxRecordsPerBatch", str(BLOCK))
        .config("spark.sql.files.maxPartitionBytes", "1m")  # some 5000 questions a task: little is lost with a worker
        .getOrCreate()
    )
    spark.sparkContext.setLogLevel("ERROR")
    ready = time.monotonic()
    spark.read.text("file://" + questions).mapInArrow(answered, SCHEMA).write.parquet("file://" + folder)
    done = time.monotonic()
    rows = spark.read.parquet("file://" + folder)
    wrong = rows.filter("error is not null").count()
    total = rows.select("question").distinct().count()
    spark.stop()
    print(f"spark {master}: {total} questions, start {ready - started:.1f} s, work {done - ready:.1f} s, "
          f"{total / (done - ready):.0f} lines/s, {wrong} not answered", file=sys.stderr)
    return 3 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
