#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# What bash offers: complete.bash SCRIPT PROGRAM
set -euo pipefail
program=$2
source "$1"
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
cd "$here"
mkdir folder
touch one.json two.txt

offered() { # WORDS...: what would come after the last of them, begun as it is
    COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
    compopt() { :; } # works only while a completion is under way
    _hollowtop
    echo "${COMPREPLY[*]}"
}
expect() { # WANTED WORDS...
    local wanted=$1 got
    shift
    got=$(offered "$@")
    [ "$got" = "$wanted" ] || { echo "bash, after \"$*\": \"$got\", not \"$wanted\""; exit 1; }
}
complete -p hollowtop >/dev/null
expect "check" hollowtop ch
expect "--mesh" hollowtop check --me
expect "coarse" hollowtop check --mesh co
expect "coarse" hollowtop check --mesh = co
expect "mm in" hollowtop check --units = ""
expect "mm in" hollowtop check --units =
expect "folder one.json" hollowtop check ""
expect "one.json" hollowtop check --json o
expect "folder one.json two.txt" hollowtop report -o ""
expect "folder" hollowtop report --pictures ""
expect "workbench" hollowtop uses workb
expect "cherry_black" hollowtop materials cherry_bl
expect "" hollowtop check --threads ""
# all commands and options of the help, and none besides
for command in $(offered hollowtop "" | tr ' ' '\n' | grep -v '^--'); do
    diff <("$program" "$command" --help | sed -n '/^Options/,/^$/p' | grep -oE '^  (-[a-z], )?--[a-z-]+' | grep -oE -e '--[a-z-]+' | sort) \
        <(offered hollowtop "$command" -- | tr ' ' '\n' | sort) || { echo "bash, options of $command"; exit 1; }
done
diff <("$program" --help | sed -n 's/^  \([a-z]\{3,\}\)   *[^ ].*/\1/p' | sort) \
    <(offered hollowtop "" | tr ' ' '\n' | grep -v '^--' | sort) || { echo "bash, the commands"; exit 1; }
