# check_completion.bash SCRIPT: what bash would offer after a few beginnings of a command line.
set -u
source "$1"
fails=0

# offers WANTED WORD...: completing the last WORD must offer just the words of WANTED.
offers() {
  local wanted=$1
  shift
  COMP_WORDS=("$@")
  COMP_CWORD=$(($# - 1))
  _eggfall
  local given="${COMPREPLY[*]}"
  if [[ $given != "$wanted" ]]; then
    echo "after: $*" >&2
    echo "  expected: $wanted" >&2
    echo "  offered:  $given" >&2
    fails=1
  fi
}

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
mkdir 'a folder'
touch 'my counts.csv'

offers 'simulate' eggfall sim
offers '--version' eggfall --v
offers '--design' eggfall analyse --des
offers '--html' eggfall sheet --ht
offers '' eggfall unknown p
offers 'paired' eggfall analyse --design p
offers 'paired' eggfall analyse --design = p
offers 'auto paired two-group controlled baseline' eggfall analyse --design =
offers 'pigs' eggfall analyse counts.csv --host p
offers 'waavp-1992' eggfall analyse --criteria waavp-1
offers 'few-eggs' eggfall teach --lesson f
offers 'BZ,LV' eggfall plan --class BZ,L
offers 'stress' eggfall audit --grid str
offers 'my counts.csv' eggfall audit --grid my
offers 'my counts.csv' eggfall analyse my
offers 'my counts.csv' eggfall analyse --json my
offers 'my counts.csv' eggfall survey one.csv my
offers 'my counts.csv' eggfall audit --merge one.json my
offers 'a folder' eggfall teach --folder ''
offers '' eggfall analyse --seed ''
exit "$fails"
