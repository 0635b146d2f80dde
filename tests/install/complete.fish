# SPDX-License-Identifier: MIT
# What fish offers: fish --no-config complete.fish SCRIPT
source $argv[1]; or exit 1
set here (mktemp -d)
cd $here
touch one.json two.txt
function expect # WANTED TYPED
    set got (complete -C $argv[2] | string replace -r '\t.*' '')
    if test "$got" != "$argv[1]"
        echo "fish, after \"$argv[2]\": \"$got\", not \"$argv[1]\""
        exit 1
    end
end
expect check 'hollowtop ch'
expect --mesh 'hollowtop check --me'
expect coarse 'hollowtop check --mesh co'
expect one.json 'hollowtop check o'
expect two.txt 'hollowtop check --json t'
expect workbench 'hollowtop uses workb'
expect cherry_black 'hollowtop materials cherry_bl'
rm -rf $here
