#!/bin/sh
# What goes wrong outside the program, one fault a function: full disks, missing permissions, files
# that vanish, readers that go away, signals. Each function is a test of its own (CMakeLists.txt);
# 77 is returned for one that cannot be set up here.
# Run one: sh tests/faults/faults.sh fault_output_disk_full PROGRAM FAILING_CALLS_LIBRARY
set -eu
fault=$1
program=$2
failing_calls=$3
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
chmod 755 "$work"
mounted=
running=
finish() {
  [ -z "$running" ] || kill -KILL "$running" 2>/dev/null || true
  [ -z "$mounted" ] || umount "$mounted"
  rm -rf "$work"
}
trap finish EXIT
trap 'exit 1' INT TERM
export ASAN_OPTIONS="verify_asan_link_order=0:${ASAN_OPTIONS:-}" # failing_calls comes before it

skip() {
  echo "SKIP: $*"
  exit 77
}

fail() {
  echo "FAILED: $*" >&2
  [ ! -s "$work/errors" ] || sed 's/^/  it said: /' "$work/errors" >&2
  exit 1
}

# expect CODE COMMAND...: standard output goes to $onto, standard error to $work/errors.
onto=$work/shown
expect() {
  wanted=$1
  shift
  code=0
  "$@" >"$onto" 2>"$work/errors" || code=$?
  [ "$code" = "$wanted" ] || fail "exit code $code instead of $wanted: $*"
}

# The program said one line, with this in it.
said() {
  [ "$(wc -l <"$work/errors")" -eq 1 ] || fail "not one line about \"$1\""
  grep -q '^eggfall: ' "$work/errors" || fail "not said as eggfall"
  grep -q -- "$1" "$work/errors" || fail "no word of \"$1\""
}

said_nothing() {
  [ ! -s "$work/errors" ] || fail "noise on standard error"
}

same() {
  diff -r "$1" "$2" >"$work/differences" || fail "$(cat "$work/differences")"
}

# Waits, ten seconds at most, until COMMAND... succeeds.
wait_until() {
  tries=0
  until "$@" 2>/dev/null; do
    tries=$((tries + 1))
    [ "$tries" -lt 100 ] || fail "waited in vain for: $*"
    sleep 0.1
  done
}

# How many unfinished files a folder has.
unfinished() {
  find "$1" -name 'eggfall-unfinished-*' | wc -l
}

has_unfinished() {
  [ "$(unfinished "$1")" -ge "$2" ]
}

# The commands that write, with work that is soon done: COMMAND SEED OPTIONS...
a_run() {
  command=$1
  seed=$2
  shift 2
  case $command in
  analyse) set -- analyse examples/brackenhill.csv --simulations 0 "$@" ;;
  survey) set -- survey examples/region.csv "$@" ;;
  sheet) set -- sheet examples/mob.csv --group white:BZ --group clear:ML "$@" ;;
  simulate) set -- simulate --lesson hidden-worm "$@" ;;
  audit) set -- audit --animals 8,10 --trials 40 "$@" ;;
  plan) set -- plan --epg 600 --animals 10 --trials 20 "$@" ;;
  teach) set -- teach --students 1 "$@" ;;
  esac
  # A survey draws nothing: it differs by its criteria.
  case $command:$seed in
  survey:1) $before_it "$program" "$@" ;;
  survey:*) $before_it "$program" "$@" --criteria waavp-2023-research ;;
  *) $before_it "$program" "$@" --seed "$seed" ;;
  esac
}
before_it=

quick_commands="analyse survey sheet simulate audit plan"

file_options() {
  case $1 in
  analyse) echo --json --csv --report --xlsx ;;
  survey | plan) echo --json --csv ;;
  sheet) echo --html --counts ;;
  simulate) echo --counts --larvae-table --truth ;;
  audit) echo --json --csv --page ;;
  teach) ;;
  esac
}

folder_option() {
  case $1 in
  analyse | audit) echo --figures ;;
  teach) echo --folder ;;
  esac
}

# The options for all results of COMMAND in FOLDER, each named by its option; with OPTION PLACE, that
# one goes there.
all_results() {
  for option in $(file_options "$1"); do
    if [ "$option" = "${3:-}" ]; then
      echo "$option $4"
    else
      echo "$option $2/result$option"
    fi
  done
  for option in $(folder_option "$1"); do
    echo "$option $2/folder$option"
  done
}

# shellcheck disable=SC2046,SC2086  # options have no spaces in them, and are meant to be split
a_run_with_results() {
  a_run "$1" "$2" $(all_results "$1" "$3" ${4:-})
}

# Old results of COMMAND in $work/results, and a copy beside them.
old_results() {
  rm -rf "$work/results" "$work/old"
  mkdir "$work/results"
  expect 0 a_run_with_results "$1" 1 "$work/results"
  cp -a "$work/results" "$work/old"
}

# COMMAND refuses to write, for that reason, and changes nothing.
refuses() {
  expect 2 a_run_with_results "$1" 2 "$work/results"
  said "$2"
  same "$work/old" "$work/results"
}

# A counts table of FARMS, each of one group of six, with a trial's name a farm.
farms() {
  awk -v farms="$1" 'BEGIN {
    print "trial,group,animal,eggs_before,eggs_after,factor,host,class"
    for (farm = 1; farm <= farms; ++farm)
      for (animal = 1; animal <= 6; ++animal)
        printf "farm %d,white,%d,%d,%d,15,sheep,BZ\n", farm, animal, 10 + animal * farm % 7, farm % 3
  }'
}

small_disk() { # MOUNTPOINT SIZE
  mount -t tmpfs -o "size=$2,mode=777" tmpfs "$1" 2>/dev/null ||
    skip "no small disk can be mounted here (it takes root)"
  mounted=$1
}

# Fills a disk but for so many bytes.
fill() {
  cat /dev/zero >"$1/filling" 2>/dev/null || true
  truncate -s -"$2" "$1/filling"
}

as_nobody() {
  [ "$(id -u)" -eq 0 ] || return 0
  before_it="setpriv --reuid=65534 --regid=65534 --clear-groups"
  $before_it "$program" --version >"$work/shown" 2>&1 ||
    skip "root may do anything, and the program cannot be run as another user"
}

# COMMAND's new results on a disk with old ones and room for one PARTth of them.
on_a_full_disk() {
  mkdir -p "$work/results"
  small_disk "$work/results" 16m
  expect 0 a_run_with_results "$1" 1 "$work/results"
  rm -rf "$work/old"
  cp -a "$work/results" "$work/old"
  size=$(find "$work/old" -type f -exec cat {} + | wc -c)
  fill "$work/results" "$((size / $2))"
  expect 2 a_run_with_results "$1" 2 "$work/results"
  said "No space left on device"
  rm "$work/results/filling"
  same "$work/old" "$work/results"
  umount "$mounted"
  mounted=
}

fault_output_disk_full() {
  for command in $quick_commands; do
    on_a_full_disk "$command" 3
    on_a_full_disk "$command" 1000000
  done
  on_a_full_disk teach 3
}

fault_file_size_limit() {
  for command in $quick_commands; do
    old_results "$command"
    ( # in blocks of 512 bytes
      ulimit -f 2
      expect 2 a_run_with_results "$command" 2 "$work/results"
    )
    said "expected"
    same "$work/old" "$work/results"
  done
}

fault_each_result_in_turn_to_a_full_device() {
  [ -c /dev/full ] || skip "no /dev/full here"
  for command in $quick_commands; do
    old_results "$command"
    for option in $(file_options "$command"); do
      expect 2 a_run_with_results "$command" 2 "$work/results" "$option /dev/full"
      said "/dev/full: found no way to write it (No space left on device)"
      same "$work/old" "$work/results"
    done
  done
}

fault_standard_output_full() {
  [ -c /dev/full ] || skip "no /dev/full here"
  onto=/dev/full
  for command in $quick_commands; do
    rm -rf "$work/results"
    mkdir "$work/results"
    expect 2 a_run_with_results "$command" 1 "$work/results"
    said "standard output: found no way to write it (No space left on device)"
    for option in $(file_options "$command"); do
      rm -rf "$work/results"
      mkdir "$work/results"
      expect 2 a_run_with_results "$command" 1 "$work/results" "$option -"
      said "standard output: found no way to write it (No space left on device)"
      [ -z "$(find "$work/results" -type f)" ] || fail "other results were written"
    done
  done
  for words in --help --version "analyse --help" cutoffs "simulate --list" \
    "factor --faeces-g 3 --total-ml 45 --chambers 2 --chamber-ml 0.5"; do
    # shellcheck disable=SC2086  # meant to be split
    expect 2 "$program" $words
    said "standard output: found no way to write it (No space left on device)"
  done
}

fault_standard_output_closed() {
  old_results analyse
  code=0
  a_run_with_results analyse 1 "$work/results" >&- 2>"$work/errors" || code=$?
  [ "$code" = 2 ] || fail "exit code $code"
  said "standard output"
  same "$work/old" "$work/results" # no text of the screen in a file
  code=0
  "$program" survey - <&- >"$work/shown" 2>"$work/errors" || code=$?
  [ "$code" = 2 ] || fail "exit code $code"
  said "standard input"
}

# COMMAND... starts once nobody reads its standard output any more.
with_nobody_reading() {
  mkfifo "$work/gate"
  {
    cat "$work/gate"
    code=0
    "$@" 2>"$work/errors" || code=$?
    echo "$code" >"$work/code"
  } | {
    exec <&-
    : >"$work/gate"
  }
  rm "$work/gate"
  [ "$(cat "$work/code")" = 141 ] || fail "exit code $(cat "$work/code") instead of 141: $*"
  said_nothing
}

fault_nobody_reads_standard_output() {
  for command in $quick_commands; do
    rm -rf "$work/results"
    mkdir "$work/results"
    with_nobody_reading a_run_with_results "$command" 1 "$work/results"
    [ "$(unfinished "$work/results")" -eq 0 ] || fail "unfinished files are left"
    for option in $(file_options "$command"); do
      with_nobody_reading a_run_with_results "$command" 1 "$work/results" "$option -"
    done
  done
  with_nobody_reading "$program" --help
  with_nobody_reading "$program" cutoffs
}

fault_nobody_reads_one_of_several_results() {
  old_results analyse
  with_nobody_reading a_run_with_results analyse 2 "$work/results" "--json -"
  same "$work/old" "$work/results"
}

# COMMAND PLACE: the program reads its input there.
reads() {
  case $1 in
  analyse | survey | sheet) set -- "$1" "$2" ;;
  larvae) set -- analyse examples/brackenhill.csv --larvae "$2" ;;
  cutoffs) set -- cutoffs --file "$2" ;;
  scenario) set -- simulate --scenario "$2" --counts - ;;
  grid) set -- audit --grid "$2" ;;
  pilot) set -- plan --pilot "$2" ;;
  merge) set -- audit --merge "$2" ;;
  esac
  [ "$1" != sheet ] || set -- "$@" --group white --counts -
  $before_it "$program" "$@"
}
readers="analyse survey sheet larvae cutoffs scenario grid pilot merge"

fault_input_missing_or_a_folder() {
  for reader in $readers; do
    expect 2 reads "$reader" "$work/nothing"
    said "nothing: found no way to open it (No such file or directory)"
    expect 2 reads "$reader" "$work"
    said "found a directory; expected a file"
  done
}

fault_input_unreadable() {
  as_nobody
  mkdir -m 000 "$work/closed"
  : >"$work/secret"
  chmod 000 "$work/secret"
  for reader in $readers; do
    for place in "$work/secret" "$work/closed/table"; do
      expect 2 reads "$reader" "$place"
      said "$place: found no way to open it (Permission denied)"
    done
  done
}

fault_input_vanishes() {
  farms 3 >"$work/second.csv"
  mkfifo "$work/first"
  mkdir "$work/results"
  "$program" survey "$work/first" "$work/second.csv" --csv "$work/results/rows" \
    2>"$work/errors" >"$work/shown" &
  running=$!
  wait_until has_unfinished "$work/results" 1 # both tables were there
  rm "$work/second.csv"
  farms 2 | sed 's/^farm/first/' >"$work/first"
  code=0
  wait "$running" || code=$?
  running=
  [ "$code" = 2 ] || fail "exit code $code"
  said "second.csv: found no way to open it (No such file or directory)"
  [ -z "$(ls "$work/results")" ] || fail "something was written"
}

# The table's new state comes when some of it is read, and the rest waits for room in a pipe. (A table
# of up to 1 MiB is read at once.)
table_changes_while_read() {
  farms 6000 >"$work/table.csv"
  touch -d 2031-05-12 "$work/table.csv"
  mkfifo "$work/rows"
  "$program" survey "$work/table.csv" --threads 1 --csv "$work/rows" \
    2>"$work/errors" >"$work/shown" &
  running=$!
  exec 4<"$work/rows"
  head -c 1000 <&4 >"$work/first-rows"
  "$@"
  cat <&4 >"$work/more-rows"
  exec 4<&-
  code=0
  wait "$running" || code=$?
  running=
  [ "$code" = 2 ] || fail "exit code $code"
  said "table.csv: found that it changed while it was read"
}

fault_input_truncated_while_read() {
  table_changes_while_read truncate -s 300000 "$work/table.csv"
}

fault_input_written_to_while_read() {
  append_to_table() { printf 'farm x,white,1,9,0,15,sheep,BZ\n' >>"$work/table.csv"; }
  table_changes_while_read append_to_table
}

fault_folder_in_place_of_a_result() {
  for command in $quick_commands; do
    for option in $(file_options "$command"); do
      old_results "$command"
      rm "$work/results/result$option"
      mkdir "$work/results/result$option"
      rm -rf "$work/old"
      cp -a "$work/results" "$work/old"
      refuses "$command" "found a directory; expected a file"
    done
  done
}

fault_output_folder_missing() {
  for command in $quick_commands; do
    for option in $(file_options "$command"); do
      expect 2 a_run "$command" 1 "$option" "$work/none/result"
      [ -s "$work/errors" ] || fail "no word"
      [ ! -e "$work/none" ] || fail "a folder was made"
    done
  done
}

fault_file_in_place_of_a_folder() {
  echo here >"$work/here"
  expect 2 a_run analyse 1 --figures "$work/here"
  said "no way to make this folder"
  expect 2 a_run teach 1 --folder "$work/here"
  said "no way to make this folder"
  [ "$(cat "$work/here")" = here ] || fail "the file was changed"
}

fault_output_folder_read_only() {
  as_nobody
  for command in $quick_commands; do
    chmod -R u+w "$work"
    kept=$before_it
    before_it=
    old_results "$command"
    before_it=$kept
    chmod -R go+w "$work/results"
    chmod 555 "$work/results"
    rm -rf "$work/old"
    cp -a "$work/results" "$work/old"
    refuses "$command" "no new file in its folder: Permission denied"
  done
  mkdir -m 555 "$work/closed"
  expect 2 a_run teach 1 --folder "$work/closed/pack"
  said "no way to make this folder (Permission denied)"
}

fault_result_write_protected() {
  as_nobody
  mkdir -m 777 "$work/results"
  echo old >"$work/results/result--json"
  chmod 444 "$work/results/result--json"
  cp -a "$work/results" "$work/old"
  refuses survey "result--json: found no way to write it (Permission denied)"
}

fault_output_folder_removed_meanwhile() {
  mkfifo "$work/table"
  mkdir "$work/results"
  "$program" survey "$work/table" --csv "$work/results/rows" \
    --json "$work/results/tallies" 2>"$work/errors" >"$work/shown" &
  running=$!
  wait_until has_unfinished "$work/results" 1
  rm -r "$work/results"
  farms 2 >"$work/table"
  code=0
  wait "$running" || code=$?
  running=
  [ "$code" = 2 ] || fail "exit code $code"
  said "No such file or directory"
  [ ! -e "$work/results" ] || fail "the folder is there again"
}

# The signal ends an analysis that has written all but one of its results aside; that one goes to a
# pipe that nobody reads.
signal_while_results_are_written() {
  old_results analyse
  mkfifo "$work/pipe"
  # A shell without job control has its background commands ignore SIGINT.
  before_it="exec env --default-signal=INT"
  a_run_with_results analyse 2 "$work/results" "--csv $work/pipe" \
    2>"$work/errors" >"$work/shown" &
  running=$!
  wait_until has_unfinished "$work/results" 3
  kill -"$1" "$running"
  code=0
  wait "$running" 2>"$work/told" || code=$? # the shell tells of it
  running=
  before_it=
  rm "$work/pipe"
  [ "$code" = "$2" ] || fail "exit code $code"
}

fault_interrupted() {
  for signal in INT:130 TERM:143 HUP:129; do
    signal_while_results_are_written "${signal%:*}" "${signal#*:}"
    said_nothing
    same "$work/old" "$work/results"
  done
}

fault_interrupted_in_long_work() {
  mkdir "$work/results"
  for signal in INT:130 TERM:143; do
    env --default-signal=INT "$program" audit --trials 10000000 --json "$work/results/json" \
      2>"$work/errors" >"$work/shown" &
    running=$!
    sleep 0.5
    kill -"${signal%:*}" "$running"
    code=0
    wait "$running" || code=$?
    running=
    [ "$code" = "${signal#*:}" ] || fail "exit code $code"
    [ -z "$(ls "$work/results")" ] || fail "something was written"
  done
}

fault_signal_that_is_to_be_ignored() {
  mkfifo "$work/table"
  mkdir "$work/results"
  (
    trap '' HUP
    exec "$program" survey "$work/table" --csv "$work/results/rows"
  ) 2>"$work/errors" >"$work/shown" &
  running=$!
  wait_until has_unfinished "$work/results" 1
  kill -HUP "$running"
  farms 2 >"$work/table"
  code=0
  wait "$running" || code=$?
  running=
  [ "$code" = 0 ] || fail "exit code $code"
  [ "$(wc -l <"$work/results/rows")" -eq 3 ] || fail "not all rows"
}

fault_killed() {
  signal_while_results_are_written KILL 137
  has_unfinished "$work/results" 3 || fail "no trace of what was killed, so that this tests nothing"
  cp -a "$work/results" "$work/tidied"
  find "$work/tidied" -name 'eggfall-unfinished-*' -delete
  same "$work/old" "$work/tidied"
  left=$(unfinished "$work/results")
  expect 0 a_run_with_results analyse 1 "$work/results" # which they do not hinder
  [ "$(unfinished "$work/results")" -eq "$left" ] || fail "what another run left was touched"
  find "$work/results" -name 'eggfall-unfinished-*' -delete
  same "$work/old" "$work/results"
}

# Big results, again and again, killed sooner or later: each file is all old or all new.
fault_killed_at_any_moment() {
  mkdir "$work/1" "$work/2" "$work/results"
  for seed in 1 2; do
    expect 0 "$program" simulate --trials 3000 --seed "$seed" --counts "$work/$seed/counts" \
      --truth "$work/$seed/truth"
  done
  cp "$work/1/"* "$work/results"
  for moment in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
    seed=$((1 + moment % 2))
    "$program" simulate --trials 3000 --seed "$seed" --counts "$work/results/counts" \
      --truth "$work/results/truth" 2>"$work/errors" >"$work/shown" &
    running=$!
    sleep "$(awk -v moment="$moment" 'BEGIN { print moment * 0.05 }')"
    kill -KILL "$running" 2>/dev/null || true
    wait "$running" || true
    running=
    for file in counts truth; do
      cmp -s "$work/results/$file" "$work/1/$file" || cmp -s "$work/results/$file" "$work/2/$file" ||
        fail "$file is neither the old one nor the new one after $moment * 0.05 s"
    done
  done
}

# CALL AT ERRNO: for the program alone.
failing() {
  before_it="env LD_PRELOAD=$failing_calls FAILING_CALL=$1 FAILING_AT=$2 FAILING_WITH=$3"
}
device_busy=16
disk_error=5
not_supported=95

fault_one_of_several_results_cannot_be_moved() {
  old_results analyse
  results=$(find "$work/results" -type f | wc -l)
  for at in 1 2 "$results"; do
    failing rename "$at" "$device_busy"
    refuses analyse "Device or resource busy"
  done
  # Where there was no file before, there is none.
  rm -r "$work/results" "$work/old"
  mkdir "$work/results"
  expect 2 a_run_with_results analyse 2 "$work/results"
  [ -z "$(find "$work/results" -type f)" ] || fail "something was written"
}

fault_last_result_is_mounted() {
  old_results survey
  echo beneath >"$work/beneath"
  mount --bind "$work/beneath" "$work/results/result--json" 2>/dev/null ||
    skip "no file can be mounted here (it takes root)"
  mounted=$work/results/result--json
  expect 2 a_run_with_results survey 2 "$work/results"
  said "result--json: found no way to write it (Device or resource busy)"
  umount "$mounted"
  mounted=
  [ "$(cat "$work/beneath")" = beneath ] || fail "the file was written to"
  same "$work/old" "$work/results"
}

fault_disk_tells_late_of_an_error() {
  old_results survey
  for call in fsync close; do
    for at in 1 2; do
      failing "$call" "$at" "$disk_error"
      refuses survey "Input/output error"
    done
  done
  failing fsync 3 "$disk_error" # of the folder: the results are in their places
  expect 2 a_run_with_results survey 2 "$work/results"
  said "Input/output error"
  [ "$(unfinished "$work/results")" -eq 0 ] || fail "unfinished files are left"
}

fault_file_system_without_hard_links() {
  old_results analyse
  failing link 0 "$not_supported"
  expect 0 a_run_with_results analyse 1 "$work/results"
  same "$work/old" "$work/results"
}

fault_short_reads_and_writes() {
  old_results survey
  before_it="env LD_PRELOAD=$failing_calls SHORT_CALLS=1"
  rm "$work/results"/*
  expect 0 a_run_with_results survey 1 "$work/results"
  same "$work/old" "$work/results"
}

fault_few_open_files() {
  old_results analyse
  rm -r "$work/results"
  mkdir "$work/results"
  (
    ulimit -n 16 # fewer than it has figures
    expect 0 a_run_with_results analyse 1 "$work/results"
  )
  same "$work/old" "$work/results"
}

fault_temporary_folder_full() {
  old_results analyse
  mkdir "$work/temporary"
  export TMPDIR="$work/temporary"
  small_disk "$work/temporary" 16k
  refuses analyse "TMPDIR"
  umount "$mounted"
  mounted=
}

fault_temporary_folder_missing() {
  old_results analyse
  export TMPDIR="$work/none"
  refuses analyse "TMPDIR"
}

# The library that makes workbooks does not see that a part does not fit: the program must.
fault_workbook_cut_short() {
  for blocks in 100 150 200; do
    (
      ulimit -f "$blocks"
      expect 2 "$program" analyse examples/region.csv --simulations 0 \
        --xlsx "$work/result.xlsx"
    )
    grep -q TMPDIR "$work/errors" || fail "no word of where it did not fit"
    [ ! -e "$work/result.xlsx" ] || fail "half a workbook"
  done
}

fault_result_is_a_symbolic_link() {
  mkdir "$work/results" "$work/elsewhere"
  echo old >"$work/elsewhere/file"
  ln -s ../elsewhere/file "$work/results/there"
  ln -s there "$work/results/result--json"           # a link to a link
  ln -s ../elsewhere/new "$work/results/result--csv" # to no file yet
  expect 0 a_run_with_results survey 1 "$work/results"
  [ -L "$work/results/result--json" ] && [ -L "$work/results/there" ] &&
    [ -L "$work/results/result--csv" ] || fail "a link was replaced"
  expect 0 a_run survey 1 --json - --csv "$work/rows"
  cmp "$work/shown" "$work/elsewhere/file" || fail "not the result"
  cmp "$work/rows" "$work/elsewhere/new" || fail "not the rows"
  ln -s loop "$work/results/loop"
  expect 2 a_run survey 1 --json "$work/results/loop"
  said "symbolic links"
}

fault_permissions_are_kept() {
  mkdir "$work/results"
  echo old >"$work/results/result--json"
  chmod 640 "$work/results/result--json"
  [ "$(id -u)" -ne 0 ] || chown 65534:65534 "$work/results/result--json"
  owner=$(stat -c %u:%g "$work/results/result--json")
  (
    umask 027
    expect 0 a_run_with_results survey 1 "$work/results"
  )
  [ "$(stat -c %a "$work/results/result--json")" = 640 ] || fail "another mode"
  [ "$(stat -c %u:%g "$work/results/result--json")" = "$owner" ] || fail "another owner"
  [ "$(stat -c %a "$work/results/result--csv")" = 640 ] || fail "a new file regardless of umask"
}

fault_longest_name_of_a_result() {
  name=$(printf '%0255d' 0)
  expect 0 a_run survey 1 --json "$work/$name"
  expect 2 a_run survey 1 --json "$work/0$name"
  said "File name too long"
}

"$fault"
