#!/usr/bin/env python3
"""The questions through Apache Spark's pipe: every partition is streamed through a `skerry batch` of its own.

usage: with_spark.py QUESTIONS ANSWERS [MASTER]     MASTER: local[2] (default), spark://host:7077, yarn ...
Needs: pip install pyspark, a Java run time, and the program at $SKERRY (default: skerry) on every worker.
"""

import glob
import os
import shlex
import shutil
import sys
import time

from pyspark.sql import SparkSession


def main() -> None:
    questions, answers = sys.argv[1], sys.argv[2]
    master = sys.argv[3] if len(sys.argv) > 3 else "local[2]"
    command = shlex.quote(os.environ.get("SKERRY", "skerry")) + " --threads 1 batch"
    started = time.monotonic()
    spark = (
        SparkSession.builder.master(master)
        .appName("skerry-batch")
        .config("spark.ui.enabled", "false")
        .config("spark.ui.showConsoleProgress", "false")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .config("spark.driver.host", "127.0.0.1")
        .getOrCreate()
    )
    context = spark.sparkContext
    context.setLogLevel("ERROR")
    ready = time.monotonic()
    # checkCode: a worker whose program fails fails the job instead of losing its answers.
    lines = context.textFile("file://" + os.path.abspath(questions), minPartitions=8)
    parts = os.path.abspath(answers) + ".parts"
    lines.pipe(command, env=dict(os.environ), checkCode=True).saveAsTextFile("file://" + parts)
    with open(answers, "wb") as out:  # on a cluster, leave the parts where they are
        for name in sorted(glob.glob(parts + "/part-*")):
            with open(name, "rb") as part:
                shutil.copyfileobj(part, out)
    shutil.rmtree(parts)
    done = time.monotonic()
    spark.stop()
    print(f"spark {master}: start {ready - started:.1f} s, work {done - ready:.1f} s", file=sys.stderr)


main()
