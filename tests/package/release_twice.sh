#!/bin/sh
# Makes the files of a release twice, in folders of other names and lengths, by other clocks, languages and
# numbers of threads, and compares them byte by byte. Twice ten minutes of two cores, so no part of ctest.
#   sh tests/package/release_twice.sh
set -eu
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' INT TERM
mkdir "$work/a" "$work/another-and-a-longer-one"
TMPDIR=$work/a sh .ci/release "$work/first"
(
  umask 077
  TMPDIR=$work/another-and-a-longer-one TZ=Pacific/Auckland LC_ALL=C CMAKE_BUILD_PARALLEL_LEVEL=1 \
    sh .ci/release "$work/second" >/dev/null
)
diff -r "$work/first" "$work/second"
echo "the same to the last byte: $(ls "$work/first" | wc -l) files"
