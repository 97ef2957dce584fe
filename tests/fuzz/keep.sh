#!/bin/sh
# Keeps, of the inputs that run.sh found, the small ones that reach code which the kept inputs do
# not, up to 30 kB a target.
#   sh tests/fuzz/keep.sh [TARGET...]
set -eu
cd "$(dirname "$0")/../.."
for target in ${*:-counts analysis workbook larvae animals cut_offs audit_grid scenario audit_json survey_json raw_sheets understand layout practice request}; do
  kept=tests/fuzz/corpus/$target
  found=build/fuzz/found/$target
  merged=build/fuzz/found/merged
  [ -d "$found" ] || continue
  rm -rf "$merged"
  mkdir -p "$merged"
  cp "$kept"/* "$merged"
  [ "$target" != analysis ] || cp tests/fuzz/corpus/counts/* "$merged"
  build/fuzz/tests/fuzz/fuzz_"$target" -merge=1 "$merged" "$found" > build/fuzz/found/merge.log 2>&1
  ls -Sr "$merged" | while read -r input; do # the smallest first
    size=$(cat "$kept"/* "$merged/$input" | wc -c)
    [ -e "$kept/$input" ] || [ -e "tests/fuzz/corpus/counts/$input" ] || [ "$size" -gt 30000 ] ||
      cp "$merged/$input" "$kept/"
  done
  echo "$target: $(ls "$kept" | wc -l) inputs, $(cat "$kept"/* | wc -c) bytes"
done
