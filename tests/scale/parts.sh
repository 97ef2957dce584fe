# A survey of many farms over years, whole, and what its parts must join to: for the scripts beside this
# one, which know how the parts are run. They run the very lines that docs/survey.md shows.
set -eu
program=$(readlink -f "$1")
groups=${2:-400}
top=$(cd "$(dirname "$0")/../.." && pwd)
work=$(mktemp -d)
PATH=$work/bin:$PATH

fail() {
  echo "FAILED: $*" >&2
  exit 1
}

# shown_block WORDS: the block of docs/survey.md that holds them.
shown_block() {
  awk -v words="$1" '
    /^```/ { if (inside && index(block, words)) { printf "%s", block; exit }
             inside = !inside; block = ""; next }
    inside { block = block $0 "\n" }' "$top/docs/survey.md" >"$work/block"
  [ -s "$work/block" ] || fail "docs/survey.md shows no block with: $1"
  cat "$work/block"
}

# Each farm tests two drenches in each of five years; the clear one slips on every third farm.
invented_practice() {
  awk -v farms="$(((groups + 9) / 10))" 'BEGIN {
    print "schema = \"eggfall.practice/1\"\nname = \"large\"\ntitle = \"Many farms, five years\""
    print "host = \"sheep\"\ndate_treated = \"2030-05-14\"\ndays_after = 14\nyears = 5\neggs = 20"
    print "factor_before = 15\nk = 0.8\nwithin_cv = 0.4\nanimals = 15"
    print "[[groups]]\nname = \"white\"\ndrench = \"albendazole\"\nclass = \"BZ\"\nefficacy_percent = 82"
    print "[[groups]]\nname = \"clear\"\ndrench = \"ivermectin\"\nclass = \"ML\"\nefficacy_percent = 98.5"
    for (farm = 1; farm <= farms; ++farm) {
      printf "[[farms]]\nname = \"farm %d\"\nregion = \"region %d\"\n", farm, farm % 7
      if (farm % 3 == 0)
        print "[[farms.changes]]\ngroup = \"clear\"\nefficacy_percent = [98, 97, 95, 92, 88]"
    }
  }'
}

# The table large.csv, and its survey by one run: whole.json, whole-rows.csv, whole-years.csv.
survey_whole() {
  mkdir "$work/bin"
  ln -s "$program" "$work/bin/eggfall"
  cd "$work"
  invented_practice >practice.toml
  eggfall simulate --practice practice.toml --counts large.csv >/dev/null
  eggfall survey large.csv --json whole.json --csv whole-rows.csv --years whole-years.csv >whole.txt 2>notes.txt
  echo "Table    $(($(wc -l <large.csv) - 1)) rows, $(($(wc -l <whole-rows.csv) - 1)) groups"
  # A test of nothing would pass.
  [ "$(($(wc -l <whole-rows.csv) - 1))" -ge "$groups" ] || fail "the table has less than $groups groups"
  grep -q ',slipping,' whole-years.csv || fail "no farm's drench slips, though some were made to"
}

# The parts' files, part-N.json and rows-N.csv, joined as docs/survey.md says.
join_and_compare() {
  for part in 1 2 3 4 5 6 7 8; do
    [ -s part-$part.json ] && [ "$(wc -l <rows-$part.csv)" -gt 1 ] || fail "part $part is not there"
  done
  shown_block 'survey --merge' >join.sh
  sh -eu join.sh >joined.txt
  cmp survey.json whole.json
  cmp rows.csv whole-rows.csv
  cmp years.csv whole-years.csv
  cmp joined.txt whole.txt
  echo "Same     JSON, rows, years and text of 8 parts joined are those of one run, to the last byte"
}
