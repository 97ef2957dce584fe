#!/bin/sh
# Fuzzes every reader for an equal share of SECONDS, on all cores, from the kept inputs on; prints
# what each did, and fails if any found a fault. Build first: cmake --preset fuzz && cmake --build
# --preset fuzz. What is found is in build/fuzz/found/; `sh tests/fuzz/keep.sh` keeps some of it.
#   sh tests/fuzz/run.sh SECONDS [TARGET...]   from another seed each time
#   sh tests/fuzz/run.sh same [TARGET...]      from one seed, as many inputs as tests/fuzz/inputs_of_a_change says
# The second asks of each machine, fast or slow, the same of the same code: what it finds here, CI finds.
set -eu
[ $# -ge 1 ] || { sed -n 's/^#   /usage: /p' "$0" >&2; exit 2; }
cd "$(dirname "$0")/../.."
seconds=$1
shift
all="counts analysis workbook larvae animals cut_offs audit_grid scenario audit_json survey_json raw_sheets understand layout practice request"
targets=${*:-$all}
cores=$(nproc)
count=$(echo "$targets" | wc -w)
rounds=$(((count + cores - 1) / cores))
share=0
if [ "$seconds" != same ]; then
  share=$((seconds / rounds))
  [ "$share" -ge 1 ] || share=1
fi
out=build/fuzz/found
if [ "$seconds" = same ]; then
  out=build/fuzz/found/same
  rm -rf "$out"
fi
mkdir -p "$out"

# A slow input is a fault from 20 s on: the sanitizers make it some ten times slower, and a busy
# machine more so.
cat > "$out/one.sh" <<'EOF'
target=$1 share=$2 out=$3
fuzz=tests/fuzz
mkdir -p "$out/$target" "$out/faults"
seeds=$fuzz/corpus/$target
words=$fuzz/dictionaries/$target.dict
limits="-max_total_time=$share -seed=0"
[ "$share" -gt 0 ] || limits="-runs=$(sed -n "s/^$target //p" $fuzz/inputs_of_a_change) -seed=1 -reload=0"
case $target in analysis) seeds="$seeds $fuzz/corpus/counts" words=$fuzz/dictionaries/counts.dict ;; esac
# The kept inputs come in the order of their names, and not in that of the disk.
if [ "$share" -eq 0 ]; then
  for folder in $seeds; do ls -d "$folder"/*; done | LC_ALL=C sort | paste -s -d , - | tr -d '\n' > "$out/$target.seeds"
  seeds="-seed_inputs=@$out/$target.seeds"
fi
# Comparisons are remembered by their place in memory, so that it must not be drawn by lot.
unmoved=
[ "$share" -gt 0 ] || ! setarch -R true 2>/dev/null || unmoved="setarch -R"
# shellcheck disable=SC2086  # the limits are meant to be split
$unmoved build/fuzz/tests/fuzz/fuzz_"$target" $limits -timeout=20 -rss_limit_mb=3000 \
  -report_slow_units=5 -print_final_stats=1 -dict="$words" -artifact_prefix="$out/faults/$target-" \
  "$out/$target" $seeds > "$out/$target.log" 2>&1 && verdict=well || verdict=FAULT
done_=$(sed -n 's/^stat::number_of_executed_units: *//p' "$out/$target.log" | tail -n 1)
slowest=$(sed -n 's/^stat::slowest_unit_time_sec: *//p' "$out/$target.log" | tail -n 1)
covered=$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$out/$target.log" | tail -n 1)
printf '%-12s %9s executions, %6s edges covered, slowest input %s s: %s\n' \
  "$target" "${done_:-?}" "${covered:-?}" "${slowest:-?}" "$verdict"
[ "$verdict" = well ] || { grep -E 'ERROR|SUMMARY|broken promise|what\(\)|runtime error' "$out/$target.log" | head -n 5; exit 1; }
EOF
# shellcheck disable=SC2086  # the list is meant to be split
printf '%s\n' $targets | xargs -P "$cores" -I TARGET sh "$out/one.sh" TARGET "$share" "$out"
