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
. tests/package/bare_system.sh
make_bare git,ca-certificates
git clone --quiet --no-hardlinks "$here" "$bare/eggfall"
chroot "$bare" sh -c "cd /eggfall && $line"
for file in "$@"; do
  cp "$bare/eggfall/$file" .
done
