# check_completion.zsh SCRIPT: what zsh would offer after a few beginnings of a command line. A shell of
# its own at a terminal of its own is asked, for only such a one completes.
zmodload zsh/zpty
fails=0
folder=$(mktemp -d)
cp $1 $folder/_eggfall
zpty shell zsh -f -i
zpty -w shell "PS1= PS2=; cd $folder; touch my-counts.csv; fpath=($folder \$fpath); autoload -U compinit; compinit -D -u"
# Every match on a line of its own between marks, in place of a menu.
zpty -w shell 'compadd() { local -a all; builtin compadd -O all "$@"; print -l -r -- $all >> matches; builtin compadd "$@" }'
zpty -w shell 'bindkey "^I" complete-word; bindkey "^U" kill-whole-line; print READY'
