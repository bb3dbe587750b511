#!/usr/bin/env bash
# The questions cut into blocks of whole lines, a process for each, N at a time, with nothing but what every system has.
# usage: with_xargs.sh QUESTIONS FOLDER ANSWERS [N [LINES]]   LINES of a block, 2000 unless told
# After a stop, whatever the reason, the same again goes on: FOLDER holds the blocks, and those with answers are done.
set -euo pipefail
export SKERRY=${SKERRY:-skerry}
mkdir -p "$2"
if [ ! -e "$2/cut" ]; then
  split --lines="${5:-2000}" --numeric-suffixes --suffix-length=6 "$1" "$2/questions."
  touch "$2/cut"
fi
# A block's answers take their name when all are there. Code 2: a line could not be answered, and says so in its place.
printf '%s\0' "$2"/questions.* | xargs -0 -n 1 -P "${4:-2}" bash -c '
  answers=${0/questions./answers.}
  [ -e "$answers" ] && exit
  code=0
  "$SKERRY" --threads 1 batch <"$0" >"$answers.part" 2>"$answers.said" || code=$?
  [ "$code" -eq 0 ] || [ "$code" -eq 2 ] || exit 255
  mv "$answers.part" "$answers"'
cat "$2"/answers.?????? >"$3"
