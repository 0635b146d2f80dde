#!/bin/sh
# SPDX-License-Identifier: MIT
# Tests the page: sh tests/page/run.sh PROGRAM [all]. PROGRAM is the native one to hold it against. Builds what is not built
# (cli/page/build.sh); checks the types where there is tsc; runs the same command lines in both (parity.mjs); looks whether the module
# keeps memory; where there is a Chromium and npm, opens the page in it, and with `all` in Firefox too. HOLLOWTOP_PAGE_BUILD as for
# build.sh. Says what it leaves out.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
build=${HOLLOWTOP_PAGE_BUILD:-$home/build/page}
export HOLLOWTOP_PAGE_BUILD="$build"
program=$(realpath "$1")
export HOLLOWTOP_PROGRAM="$program"
which=${2:-}

HOLLOWTOP_PAGE_HARNESS=1 sh "$home/cli/page/build.sh"
if command -v tsc >/dev/null 2>&1; then
    tsc -p "$home/tests/page/tsconfig.json"
else
    echo "no tsc here: types not checked" >&2
fi
# The quick choice is held against whatever program there is, most often one for this machine, whose fused multiply-add moves
# digits: one for this machine and one of level 2 were 7e-7 apart (the twisted plate), so to 1e-6. All is for a program of level 2,
# to 1e-9.
[ "$which" = all ] || export HOLLOWTOP_PAGE_NEAR="${HOLLOWTOP_PAGE_NEAR:-1e-6}"
node "$home/tests/page/parity.mjs" "$build" "$program" "$which"
if [ "$which" = all ]; then runs=500; else runs=40; fi
node "$home/tests/page/memory.mjs" "$build" "$runs"
if ! command -v chromium >/dev/null 2>&1 || ! command -v npm >/dev/null 2>&1; then
    echo "no Chromium or no npm here: the page not opened" >&2
    exit 0
fi
(cd "$home/tests/page" && npm ci --ignore-scripts --no-audit --no-fund --loglevel=error)
cd "$home"
node --test tests/page/*_test.mjs
[ "$which" != all ] || ! command -v firefox-esr >/dev/null 2>&1 || HOLLOWTOP_PAGE_BROWSER=firefox node --test tests/page/engine_test.mjs
