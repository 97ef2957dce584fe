#!/bin/sh
# Installs the packages in a bare Debian 12 made for it, runs the program, reads its manual page, and
# builds the library's example against them. As root, with debootstrap and the machine's own package
# mirrors; it fetches some 300 MB, so no part of ctest.
#   sh tests/package/bare_debian.sh BUILD      packages made of this build
#   sh tests/package/bare_debian.sh PACKAGES   packages that lie in this folder
set -eu
[ $# -eq 1 ] || { sed -n 's/^#   /usage: /p' "$0" >&2; exit 2; }
given=$(cd "$1" && pwd)
cd "$(dirname "$0")/../.."
. tests/package/bare_system.sh
make_bare ca-certificates
mkdir "$bare/packages"
if [ -e "$given/CPackConfig.cmake" ]; then
  (cd "$given" && cpack -B "$bare/packages" >/dev/null)
else
  cp "$given"/*.deb "$bare/packages"
fi
cp -r examples/library "$bare/example"
cat >"$bare/try.sh" <<'END'
set -eu
export DEBIAN_FRONTEND=noninteractive
quietly() { "$@" >/log 2>&1 || { tail -n 20 /log; exit 1; }; }
quietly apt-get update
echo "== the program"
quietly apt-get install -y /packages/eggfall_*.deb man-db
eggfall --version
eggfall analyse /usr/share/doc/eggfall/examples/brackenhill.csv --report /report.html --figures /figures >/screen
head -n 4 /screen
ls /report.html /figures/*.png | wc -l
echo "== its manual page"
man -w eggfall
MANWIDTH=80 man eggfall | sed -n '/^SYNOPSIS/,/^$/p'
echo "== the library"
quietly apt-get install -y --no-install-recommends /packages/libeggfall-dev_*.deb g++ cmake make
quietly cmake -S /example -B /built
quietly cmake --build /built
/built/fall_of_each_group /usr/share/doc/eggfall/examples/brackenhill.csv
/built/standing_of_counts
echo "== removed"
quietly apt-get remove -y eggfall
[ ! -e /usr/bin/eggfall ] || { echo "the program is left behind"; exit 1; }
END
chroot "$bare" sh /try.sh
