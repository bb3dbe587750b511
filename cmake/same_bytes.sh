#!/usr/bin/env bash
# Asks two builds the same questions and compares their answers byte for byte: same_bytes.sh PROGRAM OTHER
set -euo pipefail
cd "$(dirname "$0")/.."
one=$1 other=$2
export SOURCE_DATE_EPOCH=1767225600  # a calendar says when it was made
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
asked=0 differ=0

same() {
  "$one" "$@" >"$work/one"
  "$other" "$@" >"$work/other"
  [ -s "$work/one" ] || { echo "same_bytes: no answer to: skerry $*" >&2; exit 1; }
  asked=$((asked + 1))
  cmp "$work/one" "$work/other" || { differ=$((differ + 1)); echo "same_bytes: the builds differ in: skerry $*" >&2; }
}

for format in text json csv; do
  same path -19.70,63.43 JN45 --month 2027-02 --way both --format $format
  same ionosphere 59.53,-1.63 --month 2026-12 --format $format
  same sun 59.53,-1.63 JN45 --date 2026-12-29 --format $format
done
same explain -19.70,63.43 JN45 --month 2027-02 --bands 40m,20m,10m
for format in svg json csv; do
  same map -19.70,63.43 --month 2027-02 --grid 5 --format $format
done
for trip in examples/*.toml; do
  for format in text json csv; do
    same pack "$trip" --format $format
    same antenna "$trip" --format $format
  done
  same report "$trip"
  same calendar "$trip"
done
echo "same_bytes: $asked answers, $differ differ between $one and $other"
[ "$differ" -eq 0 ]
