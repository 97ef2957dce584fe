#!/bin/sh
# Installs the packages in a bare Debian 12 made for it, runs the program, and builds the library's
# example against them. As root, with debootstrap; it fetches some 300 MB, so no part of ctest.
#   sh tests/package/bare_debian.sh BUILD [MIRROR]
set -eu
[ $# -ge 1 ] || { sed -n 's/^#   /usage: /p' "$0" >&2; exit 2; }
build=$(cd "$1" && pwd)
mirror=${2:-http://deb.debian.org/debian}
cd "$(dirname "$0")/../.."
bare=$(mktemp -d)
trap 'umount "$bare/proc" 2>/dev/null; rm -rf --one-file-system "$bare"' EXIT
trap 'exit 1' INT TERM
debootstrap --variant=minbase bookworm "$bare" "$mirror" >"$bare.log" 2>&1 ||
  { tail -n 5 "$bare.log"; exit 1; }
rm "$bare.log"
mount -t proc proc "$bare/proc"
(cd "$build" && cpack -B "$bare/packages" >/dev/null)
cp -r examples/library "$bare/example"
cat >"$bare/try.sh" <<'EOF'
set -eu
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq
echo "== the program"
apt-get install -y -qq /packages/eggfall_*.deb >/dev/null 2>&1
eggfall analyse /usr/share/doc/eggfall/examples/brackenhill.csv --report /report.html --figures /figures >/screen
head -n 4 /screen
ls /report.html /figures/*.png | wc -l
echo "== the library"
apt-get install -y -qq --no-install-recommends /packages/libeggfall-dev_*.deb g++ cmake make >/dev/null 2>&1
cmake -S /example -B /built >/dev/null
cmake --build /built >/dev/null
/built/"$(sed -n 's/^add_executable(\([^ ]*\).*/\1/p' /example/CMakeLists.txt)" /usr/share/doc/eggfall/examples/brackenhill.csv
echo "== removed"
apt-get remove -y -qq eggfall >/dev/null 2>&1
[ ! -e /usr/bin/eggfall ] || { echo "the program is left behind"; exit 1; }
EOF
chroot "$bare" sh /try.sh
