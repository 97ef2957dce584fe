#!/bin/sh
# Time and memory of a survey of 100,000 groups of 15 animals: 1.5 million rows.
# Run: sh tests/benchmark/many_trials.sh [BUILD] [FARMS, of two groups each] [THREADS; 0: one a core]
set -eu
build=${1:-build/release}
farms=${2:-50000}
threads=${3:-0}
directory=$(mktemp -d)
trap 'rm -rf "$directory"' EXIT
"$build/tests/benchmark/eggfall_invented_region" "$farms" 2 15 1 >"$directory/table.csv"
echo "Table      $(($(wc -l <"$directory/table.csv") - 1)) rows, $((2 * farms)) groups"
/usr/bin/time -f 'Time       %e s, of all cores together %U s and %S s of the system
Memory     %M kB at most' "$build/eggfall" survey "$directory/table.csv" --threads "$threads" \
  --csv "$directory/rows.csv" --json "$directory/survey.json" >"$directory/text"
echo "Rows       $(($(wc -l <"$directory/rows.csv") - 1)) written"
