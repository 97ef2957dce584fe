#!/bin/sh
# check_deb.sh PACKAGES VERSION SOURCE BUILD: what the two Debian packages say of themselves, and that
# they hold every file they must, no other, and no word of where they were built.
set -eu
packages=$1
version=$2
source=$3
build=$4
work=$packages/unpacked
rm -rf "$work"
mkdir "$work"
fail() { echo "$*" >&2; exit 1; }
field() { dpkg-deb --field "$1" "$2"; }
files() { dpkg-deb --fsys-tarfile "$1" | tar -t | grep -v '/$' | sed 's,^\./,,' | LC_ALL=C sort; }

program=$(echo "$packages"/eggfall_"${version}"_*.deb)
library=$(echo "$packages"/libeggfall-dev_"${version}"_*.deb)
for package in "$program" "$library"; do
  dpkg-deb --info "$package"
  [ "$(field "$package" Version)" = "$version" ]
  [ "$(field "$package" Maintainer)" = "eggfall contributors <noreply@example.invalid>" ]
  [ "$(field "$package" Architecture)" = "$(dpkg --print-architecture)" ]
  field "$package" Description | sed -n 2p | grep -q '^ [A-Z]' || fail "no long description"
  # All of root's, and writable by none else.
  if dpkg-deb --contents "$package" | grep -vE '^[-d]r[-w][-x]r-[-x]r-[-x] root/root '; then
    fail "not of root, or writable by others"
  fi
  dpkg-deb --raw-extract "$package" "$work/$(field "$package" Package)"
done
[ "$(field "$program" Section)" = science ]
[ "$(field "$library" Section)" = libdevel ]
for needed in libc6 'libstdc++6' libfmt libpugixml libtomlplusplus libcsv libzip libutf8proc libtbb \
  libxlsxwriter; do
  field "$program" Depends | grep -qF "$needed" || fail "the program does not depend on $needed"
done
for needed in libfmt-dev libpugixml-dev libtomlplusplus-dev libcsv-dev libzip-dev libutf8proc-dev; do
  field "$library" Depends | grep -qF "$needed" || fail "the library does not depend on $needed"
done

doc=usr/share/doc/eggfall
{
  printf '%s\n' usr/bin/eggfall usr/share/man/man1/eggfall.1.gz \
    usr/share/bash-completion/completions/eggfall usr/share/zsh/vendor-completions/_eggfall \
    usr/share/fish/vendor_completions.d/eggfall.fish $doc/README.md $doc/copyright $doc/changelog.gz
  cd "$source" && find docs examples -type f | sed "s,^,$doc/,"
} | LC_ALL=C sort >"$work/program"
files "$program" | diff -u "$work/program" -
{
  cmake=usr/lib/cmake/eggfall
  printf '%s\n' usr/lib/libeggfall.a $cmake/eggfallConfig.cmake $cmake/eggfallConfigVersion.cmake \
    $cmake/eggfallTargets.cmake $cmake/eggfallTargets-release.cmake $cmake/FindLibCSV.cmake \
    $cmake/FindLibZip.cmake $cmake/FindUtf8proc.cmake usr/share/doc/libeggfall-dev/copyright \
    usr/share/doc/libeggfall-dev/changelog.gz
  cd "$source" && find include -type f | sed 's,^,usr/,'
} | LC_ALL=C sort >"$work/library"
files "$library" | diff -u "$work/library" -

for unpacked in "$work"/*/; do
  if grep -rlF -e "$source" -e "$build" "$unpacked"; then
    fail "the package names the place it was built in"
  fi
  (cd "$unpacked" && md5sum --quiet -c DEBIAN/md5sums)
done
[ "$("$work/eggfall/usr/bin/eggfall" --version)" = "$version" ]
zcat "$work/eggfall/usr/share/man/man1/eggfall.1.gz" | grep -q '^\.TH EGGFALL 1 '
