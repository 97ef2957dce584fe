# check_completion.zsh SCRIPT: what zsh makes of a few beginnings of a command line. Only a shell at a
# terminal completes, so one is started at a terminal of its own.
zmodload zsh/zpty
fails=0
folder=$(mktemp -d)
mkdir $folder/functions $folder/here $folder/here/a-folder
cp $1 $folder/functions/_eggfall
touch $folder/here/my-counts.csv

cat >$folder/start <<'END'
PS1= PS2=
cd $folder/here
fpath=($folder/functions $fpath)
autoload -U compinit
compinit -D -u
bindkey '^I' complete-word
# Writes down the line as it stands, and empties it.
write_down() { print -r -- $BUFFER >$folder/line.new; mv $folder/line.new $folder/line; BUFFER= }
zle -N write_down
bindkey '^X' write_down
END
zpty shell "folder=$folder zsh -f -i"
zpty -w shell ". $folder/start"

# becomes WANTED LINE: completing LINE, of which there is but one way, must give WANTED.
becomes() {
  rm -f $folder/line
  zpty -w -n shell "$2"$'\t\x18'
  local -i waited=0
  while [[ ! -e $folder/line && waited++ -lt 1500 ]]; do sleep 0.02; done
  local given="$(<$folder/line)"
  if [[ "${given%% }" != $1 ]]; then
    print -u 2 "completed: $2\n  expected: $1\n  got:      $given"
    fails=1
  fi
}

becomes 'eggfall simulate' 'eggfall sim'
becomes 'eggfall analyse --design' 'eggfall analyse --des'
becomes 'eggfall analyse --design paired' 'eggfall analyse --design p'
becomes 'eggfall analyse counts.csv --host pigs' 'eggfall analyse counts.csv --host pi'
becomes 'eggfall analyse --criteria waavp-1992' 'eggfall analyse --criteria waavp-1'
becomes 'eggfall plan --class BZ,LV,' 'eggfall plan --class BZ,L' # ready for the next
becomes 'eggfall analyse my-counts.csv' 'eggfall analyse my'
becomes 'eggfall analyse --json my-counts.csv' 'eggfall analyse --json my'
becomes 'eggfall audit --grid stress' 'eggfall audit --grid st'
becomes 'eggfall audit --grid my-counts.csv' 'eggfall audit --grid my'
becomes 'eggfall teach --folder a-folder/' 'eggfall teach --folder a'
becomes 'eggfall teach --folder my' 'eggfall teach --folder my' # a file is no folder
becomes 'eggfall analyse --seed x' 'eggfall analyse --seed x'

zpty -d shell
rm -r $folder
exit $fails
