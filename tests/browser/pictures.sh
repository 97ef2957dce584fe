#!/bin/sh
# Makes the small pictures that README.md shows, from the pages that eggfall writes.
# usage: pictures.sh EGGFALL CHROMIUM, from the top of the repository
set -eu
eggfall=$1 chromium=$2
pages=$(mktemp -d)
trap 'rm -rf "$pages"' EXIT
"$eggfall" analyse examples/brackenhill.csv --report "$pages/report.html" >"$pages/report.txt"
"$eggfall" sheet examples/mob.csv --group white:BZ --group clear:ML --control none --host sheep \
  --day0 2031-05-12 --html "$pages/sheets.html" >"$pages/sheets.txt"
node tests/browser/pictures.mjs "$chromium" "$pages" docs/pictures
