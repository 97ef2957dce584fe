#!/bin/sh
# The paired posterior of one group (Trial A of the tests) against a Markov chain in JAGS.
# Run: sh tests/benchmark/against_jags.sh [BUILD] [DRAWS]
set -eu
build=${1:-build/release}
draws=${2:-120000}
top=$(cd "$(dirname "$0")/../.." && pwd)
output=$(mktemp)
trap 'rm -f "$output"' EXIT
start=$(date +%s%N)
Rscript "$top/tests/published/posterior_jags.R" "$output" "$draws" trial_a >/dev/null
end=$(date +%s%N)
ours=$("$build/tests/benchmark/eggfall_benchmark" --benchmark_filter=posterior_of_trial_a \
  --benchmark_format=csv 2>/dev/null | tail -1)
awk -F, -v ns=$((end - start)) -v ours="$ours" '
  /,0.05,/ || /,0.95,/ { if ($4 > jags_error) jags_error = $4 }
  END {
    split(ours, field, ",")
    ms = field[3]
    error = field[length(field)]
    printf "JAGS    %10.1f ms   Monte Carlo error %.4f points at 5 and 95%%\n", ns / 1e6, jags_error
    printf "eggfall %10.3f ms   quadrature error  %.4f points\n", ms, error
    printf "ratio of times %.0f, as run\n", ns / 1e6 / ms
    scaled = ns / 1e6 * (jags_error / error) ^ 2
    printf "ratio at equal error %.0f (a chain needs error^-2 draws)\n", scaled / ms
  }' "$output"
