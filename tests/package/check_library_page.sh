#!/bin/sh
# check_library_page.sh PAGE FOLDER [ARGUMENT OF CMAKE...]: builds each program shown in a Markdown
# page on the installed library; it must print the text shown after it.
set -eu
here=$(dirname "$0")
page=$1
work=$2
shift 2
rm -rf "$work"
mkdir -p "$work/shown"
awk -v folder="$work/shown" '
  /^```/ { file = ""
           if ($0 == "```cpp") file = sprintf("%s/program_%d.cpp", folder, ++programs)
           if ($0 == "```text") file = sprintf("%s/program_%d.txt", folder, programs)
           if (file != "") printf "" > file
           next }
  file != "" { print > file }' "$page"
cmake -S "$here/library_page" -B "$work/build" -D SHOWN="$work/shown" "$@"
cmake --build "$work/build"
compared=0
for program in "$work"/shown/*.cpp; do
  name=$(basename "$program" .cpp)
  "$work/build/$name" | diff -u "${program%.cpp}.txt" -
  compared=$((compared + 1))
done
[ "$compared" -ge 4 ]
# The page shows one of the examples, which is built and compared by itself: the two are one program.
cmp "$here/../../examples/library/standing_of_counts.cpp" "$work/shown/program_2.cpp"
