#!/usr/bin/env bash
# Runs the same questions every way there is, times each, and checks that all give the same answers.
# usage, from anywhere: run_all.sh [PROGRAM [LINES]]; LINES: only the first so many. Spark is tried when $PYTHON (default
# python3) has pyspark and skerry.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
# Names as they were given, before anything changes them.
program=${1:-$here/../../build/release/skerry}
SKERRY=$(realpath "$program")
export SKERRY
[ -x "$SKERRY" ] || { echo "run_all: no program at $program: ./dev build makes it, or name it" >&2; exit 2; }
python=${PYTHON:-python3}
python=$(command -v "$python") || { echo "run_all: no Python at ${PYTHON:-python3}" >&2; exit 2; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$here/questions.sh" >"$work/all"
head -n "${2:-1000000000}" "$work/all" >"$work/questions"
count=$(wc -l <"$work/questions")
echo "$count questions, $(nproc) cores"

# name, then the command. Wall, processor seconds and memory by GNU time where it is installed.
measure() {
  local name=$1
  shift
  local before after
  before=$(date +%s%N)
  if [ -x /usr/bin/time ]; then
    /usr/bin/time -f '%U %S %M' -o "$work/time" "$@"
  else
    "$@"
    echo '- - -' >"$work/time"
  fi
  after=$(date +%s%N)
  awk -v name="$name" -v n="$count" -v wall="$(((after - before) / 1000000))" '{
    printf "%-28s wall %6.2f s   processor %s + %s s   %7.0f questions/s   largest process %s kB\n", name, wall / 1000, $1, $2, n * 1000 / wall, $3
  }' "$work/time"
}
lines() {
  measure "$@"
  sort "$work/answers" | sha256sum | cut -d' ' -f1 >>"$work/sums"
}

lines "one process, 1 thread" "$here/one_process.sh" "$work/questions" "$work/answers" 1
lines "one process, 2 threads" "$here/one_process.sh" "$work/questions" "$work/answers" 2
lines "xargs, 1 job" "$here/with_xargs.sh" "$work/questions" "$work/blocks1" "$work/answers" 1
lines "xargs, 2 jobs" "$here/with_xargs.sh" "$work/questions" "$work/blocks2" "$work/answers" 2
# Stopped in the middle, and asked again: only what is missing is done, and nothing is lost or doubled.
setsid "$here/with_xargs.sh" "$work/questions" "$work/blocks3" "$work/answers" 2 500 &
sleep 1
kill -- "-$!" 2>/dev/null || true  # it and all that it started
wait "$!" 2>/dev/null || true
done_before=$(find "$work/blocks3" -name 'answers.??????' | wc -l)
lines "xargs, gone on after a stop" "$here/with_xargs.sh" "$work/questions" "$work/blocks3" "$work/answers" 2
echo "$done_before of $(find "$work/blocks3" -name 'questions.*' | wc -l) blocks were done before the stop"
if command -v parallel >/dev/null; then
  lines "GNU parallel, 1 job" "$here/with_parallel.sh" "$work/questions" "$work/answers" 1
  lines "GNU parallel, 2 jobs" "$here/with_parallel.sh" "$work/questions" "$work/answers" 2
fi
if [ "$(sort -u "$work/sums" | wc -l)" -ne 1 ]; then
  echo "the answers differ" >&2
  exit 1
fi
echo "all $(wc -l <"$work/sums") runs gave the same lines: sha256 of them sorted $(head -1 "$work/sums")"
if "$python" -c 'import pyspark, pyarrow, pandas, skerry' 2>/dev/null; then
  export PYSPARK_PYTHON=$python
  measure "Spark, 1 core" "$python" "$here/with_spark.py" "$work/questions" "$work/one" 'local[1,4]'
  measure "Spark, 2 cores" "$python" "$here/with_spark.py" "$work/questions" "$work/two" 'local[2,4]'
  SKERRY_FALL=$work/fallen measure "Spark, a worker falls" "$python" "$here/with_spark.py" "$work/questions" "$work/fall" 'local[2,4]'
  [ -e "$work/fallen" ] || { echo "no worker fell" >&2; exit 1; }
  "$python" "$here/same_rows.py" "$work/one" "$work/two" "$work/fall"
  echo "all three gave the same rows, none lost or doubled"
else
  echo "Spark: left out, $python has not pyspark, pyarrow, pandas and skerry"
fi
