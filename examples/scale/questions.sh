#!/usr/bin/env bash
# Writes the questions, one JSON line each: from every island of islands.csv to every other, 12 months, 5 activities.
set -euo pipefail
cd "$(dirname "$0")"
awk -F, 'NR > 1 { name[++n] = $1; place[n] = "{\"lat_deg\":" $2 ",\"lon_deg\":" $3 "}" }
END {
  split("10 50 90 130 170", r12, " ")
  for (i = 1; i <= n; ++i) for (k = 1; k <= n; ++k) if (i != k) for (m = 1; m <= 12; ++m) for (a = 1; a <= 5; ++a)
    printf "{\"id\":[\"%s\",\"%s\",%d,%d],\"from\":%s,\"to\":%s,\"month\":\"2027-%02d\",\"r12\":%d," \
           "\"bands\":[\"40m\",\"20m\",\"15m\"],\"hours\":[0,3,6,9,12,15,18,21]}\n", \
           name[i], name[k], m, r12[a], place[i], place[k], m, r12[a]
}' islands.csv
