#!/bin/sh
# SPDX-License-Identifier: MIT
# Every command and every option that the help names stands in the manual page as it is read: pages.sh PROGRAM PAGE
set -eu
program=$1 page=$2
commands=$("$program" --help | sed -n 's/^  \([a-z]\{3,\}\)   *[^ ].*/\1/p')
[ "$(echo "$commands" | wc -l)" -ge 10 ]
n=0
for command in $commands; do
    grep -q "hollowtop $command \[OPTIONS\]" "$page" || { echo "no $command in the manual page"; exit 1; }
    for option in $("$program" "$command" --help | grep -oE '^  (-[a-z], )?--[a-z-]+' | grep -oE -e '--[a-z-]+'); do
        grep -qE -e "(^|[ ,])$option( |\$)" "$page" || { echo "no $option of $command in the manual page"; exit 1; }
        n=$((n + 1))
    done
done
[ $n -gt 50 ] || { echo "only $n options were looked for"; exit 1; }
for word in "EXIT STATUS" "CAUTIONS" "a licensed engineer"; do
    grep -q "$word" "$page" || { echo "no \"$word\" in the manual page"; exit 1; }
done
