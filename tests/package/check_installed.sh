#!/bin/sh
# check_installed.sh PREFIX SOURCE: the program, its manual and the library are there, the library's
# files name no place of this machine, and its headers include the standard library alone.
set -eu
prefix=$1
source=$2
fail() { echo "$*" >&2; exit 1; }

for file in bin/eggfall include/eggfall/judgement/analyse.hpp lib*/libeggfall.a lib*/cmake/eggfall/eggfallConfig.cmake \
  share/man/man1/eggfall.1 share/bash-completion/completions/eggfall share/zsh/site-functions/_eggfall \
  share/fish/vendor_completions.d/eggfall.fish share/doc/eggfall/README.md \
  share/doc/eggfall/docs/methods.md share/doc/eggfall/examples/brackenhill.csv; do
  # shellcheck disable=SC2086  # lib* may be lib or lib/x86_64-linux-gnu
  set -- "$prefix"/$file
  [ -e "$1" ] || [ -e "$prefix/lib/$(uname -m)-linux-gnu/${file#lib\*/}" ] || fail "not installed: $file"
done
diff -r "$source/include/eggfall" "$prefix/include/eggfall"
if grep -rhE '^ *# *include *<' "$prefix/include" | grep -vxE '#include <[a-z_0-9]+>'; then
  fail "headers include what is not of the standard library"
fi
# A sanitizer's reports name the sources, so a library built with one does: its text files alone then.
texts=
if grep -qF __ubsan_handle "$prefix"/lib*/libeggfall.a "$prefix"/lib*/*/libeggfall.a 2>/dev/null; then
  texts=-I
fi
# shellcheck disable=SC2086  # empty, or one option
if grep -rF $texts -e "$source" -e "$prefix" "$prefix"/lib* "$prefix/include"; then
  fail "the library's files name places of this machine"
fi
"$prefix/bin/eggfall" factor --faeces-g 3 --total-ml 45 --chambers 2 --chamber-ml 0.5 |
  grep -q '15 EPG per egg seen'
