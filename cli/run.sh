#!/bin/sh
# SPDX-License-Identifier: MIT
# Runs hollowtop from its sources: installs what is missing, builds where something has changed, then runs the program
# with all arguments, in the folder of the caller. All that is not the program's own goes to standard error.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
build=$home/build/release
program=$build/hollowtop
built=$build/.built # touched when the program is up to date

sources="CMakeLists.txt CMakePresets.json cmake materials solver validation cli"
changed=yes
if [ -x "$program" ] && [ -e "$built" ]; then
    # Word splitting is meant: $sources is a list.
    changed=$(cd "$home" && find $sources -newer "$built" 2>/dev/null | head -n 1)
fi

if [ -n "$changed" ]; then
    sh "$home/cli/setup.sh"
    [ -x "$program" ] || echo "hollowtop: building (once; a few minutes on a small machine)" >&2
    mkdir -p "$build"
    now=$build/.started # what changes while the build runs is built the next time
    : >"$now"
    if ! (cd "$home" && cmake --preset release) >"$build/configure.log" 2>&1; then
        cat "$build/configure.log" >&2
        exit 3
    fi
    (cd "$home" && cmake --build build/release --target hollowtop) >&2 || exit 3
    mv "$now" "$built"
fi

exec "$program" "$@"
