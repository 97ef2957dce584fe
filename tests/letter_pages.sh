#!/bin/sh
# Whether a word processor opens the letters, and on how many pages of A4 it lays them out: one for up to
# four drenches, and one for each of several trials. Skipped (77) where LibreOffice or poppler is missing.
# usage: sh letter_pages.sh EGGFALL, from the top of the repository
set -eu
eggfall=$1
for program in soffice pdfinfo pdftotext; do
  if ! command -v "$program" >/dev/null; then
    echo "skipped: $program was not found (libreoffice-writer and poppler-utils have it)"
    exit 77
  fi
done
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

make() { # NAME ARGUMENTS...
  name=$1
  shift
  "$eggfall" analyse "$@" --simulations 0 --letter "$folder/$name.docx" >/dev/null 2>&1
}

# Four drenches, each with what takes room: long names, few animals, a short dose and an animal with most of the eggs.
{
  echo "group,drench,class,host,animal,weight_kg,dose_ml,label_ml_per_kg,eggs_before,eggs_after"
  for group in "white drench of the shed" "clear drench of the shed" "yellow drench of the shed" "purple drench of the shed"; do
    row=0
    for before in 14 33 22 9 41 16 17 25; do
      row=$((row + 1))
      after=$((row % 4 == 0 ? before : row % 2))
      echo "$group,benzimidazole oral for sheep,BZ,sheep,$row,30,$((row == 2 ? 3 : 6)),0.2,$before,$after"
    done
  done
} >"$folder/four.csv"

make brackenhill examples/brackenhill.csv
make combination examples/combination.csv
make mixed-worms examples/mixed-worms.csv --larvae examples/mixed-worms-larvae.csv
make four "$folder/four.csv" --factor 15
make names tests/extremes/names.csv
make region examples/region.csv
(cd "$folder" && soffice "-env:UserInstallation=file://$folder/profile" --headless --convert-to pdf ./*.docx >/dev/null 2>&1)

failed=0
check() { # NAME PAGES
  found=$(pdfinfo "$folder/$1.pdf" | sed -n 's/^Pages: *//p')
  size=$(pdfinfo "$folder/$1.pdf" | sed -n 's/^Page size:.*(\(.*\))$/\1/p')
  if [ "$found" != "$2" ] || [ "$size" != A4 ]; then
    echo "$1: found $found pages of $size; expected $2 of A4"
    failed=1
  fi
  if ! pdftotext "$folder/$1.pdf" - | grep -q "Signature:"; then
    echo "$1: found no signature line"
    failed=1
  fi
}
check brackenhill 1
check combination 1
check mixed-worms 1
check four 1
check region 40
exit $failed
