#!/bin/sh
# Inputs as large as they come, each with what must become of it; one limit a function.
#
#   sh tests/faults/limits.sh limit_long_cell PROGRAM          one, as ctest does it (CMakeLists.txt)
#   SCALE=100 sh tests/faults/limits.sh measure PROGRAM        all, with time and peak memory
#
# SCALE multiplies the size: 1 for tests, 100 for the figures in docs/reliability.md. A test runs with
# 2 GB of addresses; it is skipped (77) where the program does not start with them, as under a
# sanitizer.
set -eu
limit=$1
program=$2
scale=${SCALE:-1}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' INT TERM

fail() {
  echo "FAILED: $*" >&2
  [ ! -s "$work/errors" ] || cut -c -300 "$work/errors" >&2
  exit 1
}

measured=
limited() {
  if [ -n "$measured" ]; then
    /usr/bin/time -o "$work/time" -f '%e s, %M kB' "$program" "$@"
  else
    (
      ulimit -v 2000000
      exec "$program" "$@"
    )
  fi
}

# expect CODE OPTIONS...: of the program.
expect() {
  wanted=$1
  shift
  code=0
  limited "$@" >"$work/shown" 2>"$work/errors" || code=$?
  [ "$code" = "$wanted" ] || fail "exit code $code instead of $wanted: $*"
  [ -z "$measured" ] || printf '%-34s %-20s %s\n' "$limit" "$(tail -n 1 "$work/time")" \
    "$(echo "$*" | sed "s|$work/||g")"
}

said() {
  grep -q -- "$1" "$work/errors" || fail "no word of \"$1\""
}

header=group,animal,eggs_before,eggs_after,factor,host,drench

# ROWS, in trials of GROUPS groups of ANIMALS.
counts_table() {
  awk -v rows="$1" -v groups="$2" -v animals="$3" -v header="$header" 'BEGIN {
    print "trial," header
    for (row = 0; row < rows; ++row) {
      group = int(row / animals)
      animal = row % animals
      printf "trial %d,group %d,%d,%d,%d,15,sheep,\n", group / groups, group % groups, animal,
             5 + (animal * 7 + group) % 31, (animal + group) % 5 == 0 ? group % 4 : 0
    }
  }'
}

# COUNT characters in one line without an end.
characters() {
  head -c "$1" /dev/zero | tr '\0' "$2"
}

limit_many_rows() {
  rows=$((100000 * scale))
  counts_table "$rows" 2 100 >"$work/table.csv"
  expect 0 survey "$work/table.csv" --csv "$work/rows.csv" --json "$work/tallies"
  [ "$(wc -l <"$work/rows.csv")" -eq $((rows / 100 + 1)) ] || fail "not a row for each group"
}

limit_many_trials() {
  trials=$((1000 * scale))
  counts_table $((6 * trials)) 1 6 >"$work/table.csv"
  expect 0 survey "$work/table.csv" --csv "$work/rows.csv"
  [ "$(wc -l <"$work/rows.csv")" -eq $((trials + 1)) ] || fail "not a row for each trial"
}

limit_many_groups_of_a_trial() {
  groups=$((1000 * scale))
  counts_table $((6 * groups)) "$groups" 6 >"$work/table.csv"
  expect 0 survey "$work/table.csv" --csv "$work/rows.csv"
  [ "$(wc -l <"$work/rows.csv")" -eq $((groups + 1)) ] || fail "not a row for each group"
}

limit_many_groups_analysed() {
  groups=1000
  [ "$scale" -eq 1 ] || groups=10000 # no more are taken
  counts_table $((6 * groups)) "$groups" 6 >"$work/table.csv"
  expect 0 analyse "$work/table.csv" --json "$work/json" --csv "$work/rows.csv"
}

limit_too_many_groups_analysed() {
  counts_table 60006 10001 6 >"$work/table.csv"
  expect 2 analyse "$work/table.csv" --json "$work/json"
  said "found 10001 treated groups; expected at most 10000"
  [ ! -e "$work/json" ] || fail "something was written"
}

limit_too_many_rows_analysed() {
  counts_table 1000001 2 20 >"$work/table.csv"
  expect 2 analyse "$work/table.csv"
  said "more than 1000000"
}

# A workbook with one sheet of ROWS rows of counts, and so many blank CHARACTERS in that sheet.
workbook() {
  command -v python3 >/dev/null || {
    echo "SKIP: no python3, which makes the workbook"
    exit 77
  }
  python3 - "$1" "$2" "$work/table.xlsx" <<'END'
import sys, zipfile
rows, blanks, path = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
package = "http://schemas.openxmlformats.org/package/2006/relationships"
main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"

def row(number, values):
    cells = "".join(
        f'<c r="{column}{number}"><v>{value}</v></c>' if isinstance(value, int) else
        f'<c r="{column}{number}" t="inlineStr"><is><t>{value}</t></is></c>'
        for column, value in zip("ABCDEF", values))
    return f'<row r="{number}">{cells}</row>'

with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
    book.writestr("_rels/.rels", f'<Relationships xmlns="{package}"><Relationship Id="r" '
                  f'Type="{relations}/officeDocument" Target="xl/workbook.xml"/></Relationships>')
    book.writestr("xl/workbook.xml", f'<workbook xmlns="{main}" xmlns:r="{relations}"><sheets>'
                  '<sheet name="Counts" sheetId="1" r:id="r"/></sheets></workbook>')
    book.writestr("xl/_rels/workbook.xml.rels", f'<Relationships xmlns="{package}"><Relationship '
                  f'Id="r" Type="{relations}/worksheet" Target="sheet.xml"/></Relationships>')
    with book.open("xl/sheet.xml", "w", force_zip64=True) as sheet:
        def write(text):
            sheet.write(text.encode())
        write(f'<worksheet xmlns="{main}"><sheetData>')
        write(row(1, ["group", "animal", "eggs_before", "eggs_after", "factor", "host"]))
        for i in range(rows):
            write(row(i + 2, [f"group {i // 100}", i % 100, 5 + i % 31, i % 3, 15, "sheep"]))
        for _ in range(blanks >> 16):
            write(" " * (1 << 16))
        write("</sheetData></worksheet>")
END
}

limit_large_workbook() {
  rows=$((5000 * scale))
  workbook "$rows" 0
  expect 0 survey "$work/table.xlsx" --csv "$work/rows.csv"
  [ "$(wc -l <"$work/rows.csv")" -eq $((rows / 100 + 1)) ] || fail "not a row for each group"
}

limit_too_large_a_workbook() {
  workbook 10 $((300 << 20))
  expect 2 analyse "$work/table.xlsx"
  said "more than"
}

limit_long_cell() {
  {
    printf '%s\n%s' "$header" 'white,1,9,0,15,sheep,"'
    characters $((100000 * scale)) a
    printf '"\nwhite,2,9,0,15,sheep,b\n'
  } >"$work/table.csv"
  for command in analyse survey; do
    expect 2 "$command" "$work/table.csv"
    if [ "$scale" -eq 1 ]; then
      said "table.csv:2: column 7: found a cell of more than 1000 bytes"
    else # a stream gives up before the end of so long a line
      said "table.csv:2: "
    fi
  done
}

limit_long_row_of_empty_cells() {
  {
    printf '%s\nwhite,1,9,0,15,sheep' "$header"
    characters $((100000 * scale)) ,
    printf '\nwhite,2,9,0,15,sheep,b\n'
  } >"$work/table.csv"
  accepted=0 # empty cells beyond the header's are passed over
  [ "$scale" -le 10 ] || accepted=2 # a line has 1,048,000 bytes at most
  expect "$accepted" survey "$work/table.csv"
}

limit_one_line_without_end() {
  characters $((100000 * scale)) 7 >"$work/table.csv"
  for command in analyse survey; do
    expect 2 "$command" "$work/table.csv"
    said "table.csv:1: "
  done
}

limit_quote_never_closed() {
  {
    printf '%s\nwhite,1,9,0,15,sheep,"' "$header"
    awk -v lines=$((10000 * scale)) 'BEGIN { while (lines-- > 0) print "white,1,9" }'
  } >"$work/table.csv"
  for command in analyse survey; do
    expect 2 "$command" "$work/table.csv"
    said "table.csv:2: found a double quote that is n"
  done
}

limit_many_columns() {
  awk -v columns=$((10000 * scale)) -v header="$header" 'BEGIN {
    printf "%s", header
    while (columns-- > 0)
      printf ",column_%d", columns
    print "\nwhite,1,9,0,15,sheep,b"
  }' >"$work/table.csv"
  for command in analyse survey; do
    expect 2 "$command" "$work/table.csv"
    said "table.csv:1: "
  done
}

limit_too_large_a_file() {
  truncate -s 70000000 "$work/table.csv"
  expect 2 analyse "$work/table.csv"
  said "more than 65 MiB"
  expect 2 cutoffs --file "$work/table.csv"
  said "more than 65 MiB"
}

limit_input_without_end() {
  [ -c /dev/zero ] || exit 77
  for command in analyse survey; do
    expect 2 "$command" /dev/zero
  done
  expect 2 cutoffs --file /dev/zero
}

# A text file of lines, as long as asked for.
lines_of() {
  awk -v lines="$1" -v line="$2" 'BEGIN { while (lines-- > 0) print line }'
}

# accepts_settings_of FILE OPTIONS...: if it has a MiB at most, and refuses it otherwise.
accepts_settings_of() {
  if [ "$(wc -c <"$1")" -le 1048576 ]; then
    shift
    expect 0 "$@"
  else
    shift
    expect 2 "$@"
    said "expected a file of at most 1048576 bytes"
  fi
}

limit_long_scenario() {
  {
    printf 'schema = "eggfall.scenario/1"\nname = "a"\ntitle = "b"\nlesson = """'
    lines_of $((1000 * scale)) "A line of fifty characters or so, again and again."
    printf '"""\nask = "c"\nfarm = "d"\nhost = "sheep"\ndate_treated = "2031-05-12"\n'
    printf 'days_after = 9\neggs = 2\nfactor_before = 50\nk = 0.7\n'
    printf '[[groups]]\nname = "e"\nclass = "BZ"\nanimals = 10\nefficacy_percent = 85\n'
  } >"$work/scenario.toml"
  accepts_settings_of "$work/scenario.toml" simulate --scenario "$work/scenario.toml" --counts -
}

limit_many_sections() {
  {
    echo 'schema = "eggfall.audit-grid/1"'
    awk -v sections=$((1000 * scale)) 'BEGIN {
      for (i = 1; i <= sections; ++i)
        printf "[[cells]]\ndesign = \"paired\"\nefficacy_percent = %.3f\n", i / 1000
    }'
  } >"$work/grid.toml"
  accepts_settings_of "$work/grid.toml" audit --grid "$work/grid.toml" --trials 1 \
    --method pooled-count-jeffreys
}

limit_long_cut_offs() {
  {
    echo 'schema = "eggfall.cut-offs/1"'
    awk -v count=$((200 * scale)) 'BEGIN {
      for (i = 0; i < count; ++i)
        printf "[[criteria]]\nname = \"own-%d\"\ntitle = \"Own\"\nrule = \"two-one-sided\"\n" \
               "level_percent = 90\nsource = \"own\"\n" \
               "[[criteria.cut_off]]\nhost = [\"sheep\"]\nexpected_percent = 95\n" \
               "lower_percent = 90\n", i
    }'
  } >"$work/own.toml"
  accepts_settings_of "$work/own.toml" cutoffs --file "$work/own.toml"
}

limit_deep_cut_offs() {
  {
    printf 'a = '
    characters $((100000 * scale)) '['
  } >"$work/own.toml"
  expect 2 cutoffs --file "$work/own.toml"
  said "own.toml"
}

if [ "$limit" = measure ]; then
  measured=yes
  for limit in $(sed -n 's/^\(limit_[a-z_]*\)().*/\1/p' "$0"); do
    "$limit"
    rm -rf "${work:?}"/*
  done
else
  (
    ulimit -v 2000000
    "$program" --version >/dev/null 2>&1
  ) || {
    echo "SKIP: the program does not start with 2 GB of addresses (a sanitizer takes more)"
    exit 77
  }
  "$limit"
fi
