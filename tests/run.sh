#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what is missing, builds the program and its tests, and runs the tests: those that take under a second or two, which
# touch everything. With the word `all`, also the slow ones: long searches, random pieces, all published cases.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
sh "$home/cli/setup.sh" tests
cd "$home"
cmake --preset release -DHOLLOWTOP_TESTS=ON
cmake --build build/release
case "${1:-}" in
all) slow="" ;;
"") slow="-LE slow" ;;
*)
    echo "tests/run.sh: what is \"$1\"? Give nothing, or \"all\"." >&2
    exit 2
    ;;
esac
# Word splitting is meant: $slow is an option with its argument, or nothing.
exec ctest --test-dir build/release --output-on-failure --no-tests=error -j 2 $slow
