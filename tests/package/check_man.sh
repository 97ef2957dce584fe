#!/bin/sh
# check_man.sh PAGE MAN [MANDOC]: neither has anything to say against the manual page.
set -eu
page=$1
man=$2
warnings=$(LC_ALL=C.UTF-8 MANWIDTH=80 "$man" --warnings -E UTF-8 -l -Tutf8 -Z "$page" 2>&1 >/dev/null)
if [ -n "${3:-}" ] && [ -x "$3" ]; then
  warnings=$warnings$("$3" -T lint -W warning "$page" || true)
fi
[ -z "$warnings" ] || { echo "$warnings" >&2; exit 1; }
LC_ALL=C.UTF-8 MANWIDTH=80 "$man" -l "$page" | grep -q 'eggfall analyse'
