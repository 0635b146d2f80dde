#!/bin/sh
# SPDX-License-Identifier: MIT
# Makes build/page/hollowtop.html: the whole program as one file that any browser opens, without network. Installs what is
# missing, compiles the rooms to WebAssembly, puts the page and its module together; says where the file is, how large, and how
# long it took. What a developer may want, from the environment: HOLLOWTOP_PAGE_BUILD, another folder to build in;
# HOLLOWTOP_PAGE_JOBS, how many compilers at once; HOLLOWTOP_PAGE_LAUNCHER, a program
# before each compiler; HOLLOWTOP_PAGE_HARNESS, not empty: harness.html of tests/page as well.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
build=${HOLLOWTOP_PAGE_BUILD:-$home/build/page}
page=$home/cli/page
began=$(date +%s)

sh "$home/cli/setup.sh" page
mkdir -p "$build"

# The linker of Debian's emscripten looks for acorn where node's own packages lie.
export NODE_PATH="${NODE_PATH:-/usr/share/nodejs:/usr/lib/nodejs}"
echo "hollowtop: compiling the module of the page (once; some minutes on a small machine)" >&2
if ! (cd "$home" && emcmake cmake --preset page -B "$build" ${HOLLOWTOP_PAGE_LAUNCHER:+"-DCMAKE_CXX_COMPILER_LAUNCHER=$HOLLOWTOP_PAGE_LAUNCHER"}) >"$build/configure.log" 2>&1; then
    cat "$build/configure.log" >&2
    exit 3
fi
cmake --build "$build" --target hollowtop_module ${HOLLOWTOP_PAGE_JOBS:+--parallel "$HOLLOWTOP_PAGE_JOBS"} >&2 || exit 3

echo '{}' >"$build/tsconfig.json" # else one of a folder above would be taken
bundle() { # ENTRY OUT FORMAT: a module and all that it imports, as one script
    esbuild "$1" --bundle "--format=$3" --target=es2022 --charset=utf8 --minify --log-level=warning \
        "--tsconfig=$build/tsconfig.json" "--alias:hollowtop-module=$build/hollowtop_module.mjs" "--outfile=$2"
}
bundle "$page/worker.js" "$build/page.worker.js" iife
bundle "$page/run_words.js" "$build/program.mjs" esm

# What is seen where no script runs: the answer of the module itself.
printf '#!/bin/sh\nexec node "%s" "%s" "$@"\n' "$page/in_node.mjs" "$build" >"$build/hollowtop"
chmod +x "$build/hollowtop"
if [ -e "$page/first_piece.mjs" ]; then
    node "$page/first_piece.mjs" "$build/hollowtop" "$home/docs/examples/reading_table.json" >"$build/first_piece.html"
fi
put_together() { # SOURCE OUT
    bundle "$1/page.js" "$build/page.script.js" iife
    node "$page/assemble.mjs" "$build" "$1" "$build/page.script.js" "$2"
}
[ -z "${HOLLOWTOP_PAGE_HARNESS:-}" ] || put_together "$home/tests/page/harness" "$build/harness.html" >/dev/null
put_together "$page" "$build/hollowtop.html"
echo "hollowtop: made in $(($(date +%s) - began)) s; open it in a browser"
