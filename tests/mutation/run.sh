#!/bin/sh
# Flips comparisons, signs and thresholds, one at a time, and sees whether a test notices.
#   sh tests/mutation/run.sh                            all sources that are watched, on two cores
#   sh tests/mutation/run.sh src/judgement/verdict.cpp these alone
# The tree is not touched: a changed source is compiled in a folder of its own, from a copy.
set -eu
cd "$(dirname "$0")/../.."
cmake --preset dev >/dev/null
cmake --build --preset dev --target eggfall_tests >/dev/null
exec python3 tests/mutation/mutate.py build/dev "$@"
