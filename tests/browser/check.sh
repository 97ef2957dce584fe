#!/bin/sh
# Makes the pages that eggfall writes and looks at them with a browser and an HTML checker.
# usage: check.sh EGGFALL CHROMIUM DIRECTORY SPECIMEN, from the top of the repository
set -eu
eggfall=$1 chromium=$2 pages=$3 specimen=$4
rm -rf "$pages"
mkdir -p "$pages"
page() { # NAME COMMAND OPTIONS...: writes NAME.html
  name=$1
  shift
  "$eggfall" "$@" "$pages/$name.html" >"$pages/$name.txt"
}
cp "$specimen" "$pages/drawing.html"
page report analyse examples/brackenhill.csv --report
page worms analyse examples/mixed-worms.csv --larvae examples/mixed-worms-larvae.csv --report
for trial in tests/extremes/*.csv; do
  page "$(basename "$trial" .csv)" analyse "$trial" --report
done
page letter analyse examples/brackenhill.csv --letter
page letter-worms analyse examples/mixed-worms.csv --larvae examples/mixed-worms-larvae.csv --letter
page letter-names analyse tests/extremes/names.csv --letter
"$eggfall" simulate --practice examples/practice.toml --counts "$pages/practice.csv" >"$pages/practice.txt"
page survey survey examples/region.csv --report
page practice survey "$pages/practice.csv" --by class --by farm --report
page plan plan --epg 600 --class BZ,ML --animals 6,12 --factor 50,15 --quick --report
page refusing-plan plan --host cattle --class ML --epg 40 --quick --report
page audit audit --design paired,two-group --animals 6,12 --efficacy 80,95,99 --trials 50 --page
page sheets sheet examples/mob.csv --group white:BZ --group clear:ML --control none \
  --told-apart nematodirus --html
"$eggfall" teach --students 2 --folder "$pages/class" >"$pages/class.txt"
if command -v tidy >/dev/null; then
  for file in "$pages"/*.html "$pages"/class/*.html; do
    tidy -quiet -errors --drop-empty-elements no "$file" || { echo "FAILED $file: not valid HTML"; exit 1; }
  done
fi
node tests/browser/check_pages.mjs "$chromium" "$pages"/*.html "$pages"/class/*.html
