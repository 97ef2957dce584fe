#!/bin/sh
# A survey by one run, and as eight parts by GNU parallel: the same bytes?
#   sh tests/scale/parallel.sh PROGRAM [GROUPS: 400]
# Skipped (77) without GNU parallel.
[ $# -ge 1 ] || { sed -n 's/^#   /usage: /p' "$0" >&2; exit 2; }
# Another program of that name, of the moreutils, knows no {}.
if ! parallel --version 2>/dev/null | grep -q 'GNU parallel'; then
  echo "SKIPPED: GNU parallel is not here (Debian's package parallel)"
  exit 77
fi
. "$(dirname "$0")/parts.sh"
trap 'rm -rf "$work"' EXIT
trap 'exit 1' INT TERM
# It would ask its reader once to be cited, and keep the answer.
mkdir "$work/home"
export PARALLEL_HOME="$work/home"
: >"$work/home/will-cite"

survey_whole
shown_block 'parallel eggfall' >run.sh
sh -eu run.sh >parts.txt 2>&1 || { cat parts.txt >&2; fail "the parts ended badly"; }
join_and_compare
