# check_completion.fish SCRIPT: what fish would offer after a few beginnings of a command line.
source $argv[1]; or exit 1
set fails 0

# offers WANTED LINE: the first words of what is offered, without their descriptions.
function offers
    set given (complete -C $argv[2] | string replace -r '\t.*' '')
    if test "$given" != "$argv[1]"
        echo "after: $argv[2]" >&2
        echo "  expected: $argv[1]" >&2
        echo "  offered:  $given" >&2
        set -g fails 1
    end
end

set folder (mktemp -d)
cd $folder
touch 'my counts.csv'
mkdir 'a folder'

offers simulate 'eggfall sim'
offers --design 'eggfall analyse --des'
offers paired 'eggfall analyse --design p'
offers pigs 'eggfall analyse counts.csv --host pi'
offers waavp-1992 'eggfall analyse --criteria waavp-1'
offers BZ,LV 'eggfall plan --class BZ,L'
offers stress 'eggfall audit --grid str'
offers 'my counts.csv' 'eggfall audit --grid my'
offers 'my counts.csv' 'eggfall analyse my'
offers 'my counts.csv' 'eggfall analyse --json my'
offers 'a folder/' 'eggfall teach --folder a'
offers '' 'eggfall analyse --seed x'

cd /
rm -r $folder
exit $fails
