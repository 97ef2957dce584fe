#!/bin/sh
# Runs a line of the README as a newcomer would: in a bare Debian 12 made for it that has git alone, in
# a clone of what is committed here. As root, with debootstrap and the machine's own package mirrors; it
# fetches hundreds of megabytes, so no part of ctest.
#   sh tests/package/bare_line.sh 'LINE' [FILE OF THE CLONE TO BRING HOME]...
set -eu
[ $# -ge 1 ] || { sed -n 's/^#   /usage: /p' "$0" >&2; exit 2; }
line=$1
shift
cd "$(dirname "$0")/../.."
here=$(pwd)
mirror=$(apt-get indextargets --format '$(SITE)' 'Created-By: Packages' | head -n 1)
bare=$(mktemp -d)
trap 'umount "$bare/proc" 2>/dev/null; rm -rf --one-file-system "$bare"' EXIT
trap 'exit 1' INT TERM
debootstrap --variant=minbase --include=git,ca-certificates bookworm "$bare" "$mirror" >"$bare.log" 2>&1 ||
  { tail -n 5 "$bare.log"; exit 1; }
rm "$bare.log"
mount -t proc proc "$bare/proc"
rm -f "$bare/etc/apt/sources.list"
for part in sources.list sources.list.d apt.conf.d; do
  [ ! -e "/etc/apt/$part" ] || cp -r "/etc/apt/$part" "$bare/etc/apt/"
done
cp /etc/resolv.conf "$bare/etc/resolv.conf"
git clone --quiet --no-hardlinks "$here" "$bare/eggfall"
chroot "$bare" sh -c "cd /eggfall && $line"
for file in "$@"; do
  cp "$bare/eggfall/$file" .
done
