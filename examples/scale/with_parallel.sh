#!/usr/bin/env bash
# The questions cut into blocks of whole lines, a process for each, N at a time, answers in order (GNU parallel).
# usage: with_parallel.sh QUESTIONS ANSWERS [N]; on several machines: add --sshloginfile to the parallel line.
set -euo pipefail
skerry=${SKERRY:-skerry}
parallel --will-cite --pipe --block 512k --keep-order --jobs "${3:-2}" "$skerry" --threads 1 batch <"$1" >"$2"
