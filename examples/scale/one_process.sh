#!/usr/bin/env bash
# The questions through one process. usage: one_process.sh QUESTIONS ANSWERS [THREADS]
set -euo pipefail
"${SKERRY:-skerry}" --threads "${3:-2}" batch <"$1" >"$2"
