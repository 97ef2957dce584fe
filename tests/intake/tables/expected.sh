#!/bin/sh
# Writes what the program understands of each table beside it, for the eye to check and for
# test_tables.cpp to hold it to: sh tests/intake/tables/expected.sh build/release/eggfall
set -eu
program=$(realpath "$1")
cd "$(dirname "$0")"
for first in *.csv *.xlsx *.ods; do
  case $first in *.after.*) continue ;; esac
  name=${first%.*}
  name=${name%.before}
  set -- "$first"
  if [ -e "$name.after.csv" ]; then set -- "$@" "$name.after.csv"; fi
  layout=any.toml
  if [ -e "$name.toml" ]; then layout=$name.toml; fi
  { "$program" read "$@" --layout "$layout" && "$program" read "$@" --layout "$layout" --table - | tr -d '\r'; } \
    >"$name.txt" 2>&1 || cat "$name.txt"
done
