# To be sourced: makes a bare Debian 12 in the folder $bare, which is removed at the end, from the package
# mirrors of this machine, which it keeps. As root, with debootstrap.
#   make_bare [PACKAGE,PACKAGE...]   beside those that every Debian has
make_bare() {
  mirror=$(apt-get indextargets --format '$(SITE)' 'Created-By: Packages' | head -n 1)
  [ -n "$mirror" ] || { echo "apt names no mirror; expected one in /etc/apt, and lists from apt-get update" >&2; exit 1; }
  bare=$(mktemp -d)
  trap 'umount "$bare/proc" 2>/dev/null; rm -rf --one-file-system "$bare"' EXIT
  trap 'exit 1' INT TERM
  debootstrap --variant=minbase ${1:+--include="$1"} bookworm "$bare" "$mirror" >"$bare.log" 2>&1 ||
    { tail -n 5 "$bare.log"; rm -f "$bare.log"; exit 1; }
  rm "$bare.log"
  chmod 755 "$bare" # others than root must reach what is in it, such as man
  mount -t proc proc "$bare/proc"
  rm -f "$bare/etc/apt/sources.list"
  for part in sources.list sources.list.d apt.conf.d; do
    [ ! -e "/etc/apt/$part" ] || cp -r "/etc/apt/$part" "$bare/etc/apt/"
  done
  cp /etc/resolv.conf "$bare/etc/resolv.conf"
}
