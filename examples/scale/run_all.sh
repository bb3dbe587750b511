#!/usr/bin/env bash
# Runs the same questions every way there is, times each, and checks that all give the same answers.
# usage: run_all.sh [PROGRAM]; Spark is tried when $PYTHON (default python3) has pyspark.
set -euo pipefail
cd "$(dirname "$0")"
export SKERRY=${1:-$(realpath ../../build/release/skerry)}
python=${PYTHON:-python3}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
./questions.sh >"$work/questions"
count=$(wc -l <"$work/questions")
echo "$count questions, $(nproc) cores"

# name, then the command; its answers go to $work/NAME. Wall, processor seconds and memory by GNU time where it is installed.
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
  sort "$work/answers" | sha256sum | cut -d' ' -f1 >>"$work/sums"
}

measure "one process, 1 thread" ./one_process.sh "$work/questions" "$work/answers" 1
measure "one process, 2 threads" ./one_process.sh "$work/questions" "$work/answers" 2
if command -v parallel >/dev/null; then
  measure "GNU parallel, 1 job" ./with_parallel.sh "$work/questions" "$work/answers" 1
  measure "GNU parallel, 2 jobs" ./with_parallel.sh "$work/questions" "$work/answers" 2
fi
if "$python" -c 'import pyspark' 2>/dev/null; then
  measure "Spark, local[1]" "$python" with_spark.py "$work/questions" "$work/answers" 'local[1]'
  measure "Spark, local[2]" "$python" with_spark.py "$work/questions" "$work/answers" 'local[2]'
fi
if [ "$(sort -u "$work/sums" | wc -l)" -ne 1 ]; then
  echo "the answers differ" >&2
  exit 1
fi
echo "all $(wc -l <"$work/sums") runs gave the same answers: sha256 of the sorted lines $(head -1 "$work/sums")"
