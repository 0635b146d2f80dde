#!/bin/sh
# SPDX-License-Identifier: MIT
# rooms.sh must see a broken rule: each is broken once in a small house of its own.
set -eu
rooms=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)/rooms.sh
house=$(mktemp -d)
trap 'rm -rf "$house"' EXIT
mkdir -p "$house/materials" "$house/solver/piece" "$house/solver/check" "$house/validation" "$house/cli/words" "$house/cli/report/drawing" "$house/tests"
status=0

expect() { # STATUS RULE WHAT
    got=0
    sh "$rooms" "$2" "$house" >/dev/null || got=$?
    [ "$got" -eq "$1" ] || {
        echo "$3: expected status $1, got $got"
        status=1
    }
}
broken() { # RULE FILE LINE
    printf '// SPDX-License-Identifier: MIT\n' >"$house/$2"
    expect 0 "$1" "before $3"
    printf '%s\n' "$3" >>"$house/$2"
    expect 1 "$1" "$2 with $3"
    rm "$house/$2"
}

broken direction materials/a.hpp '#include "solver/piece/piece.hpp"'
broken direction materials/a.cpp '  #  include <cli/text.hpp>'
broken direction solver/a.cpp '#include "validation/run.hpp"'
broken direction solver/a.cpp '#include <nlohmann/json.hpp>'
broken direction validation/a.cpp '#include "cli/read/piece_file.hpp"'
broken direction cli/a.cpp '#include "tests/helper.hpp"'
broken direction cli/a.cpp '#include "../materials/wood.hpp"'
broken rooms solver/piece/a.hpp '#include "solver/check/check_piece.hpp"'
broken rooms solver/piece/a.cpp '#include "solver/attic/a.hpp"'
broken rooms cli/words/a.cpp '#include "cli/report/report.hpp"'
broken rooms cli/report/drawing/a.cpp '#  include "cli/command_line.hpp"'
printf '#include "solver/piece/b.hpp"\n' >"$house/solver/piece/c.hpp"
printf '#include "solver/piece/c.hpp"\n' >"$house/solver/piece/a.hpp"
broken circles solver/piece/b.cpp '#include "solver/piece/a.hpp"'
rm "$house"/solver/piece/?.hpp
if command -v clang-format >/dev/null; then broken format cli/words/a.cpp 'int  a;' 2>/dev/null; fi # .ci/run has it
broken headers solver/a.hpp '#include <Eigen/Dense>'
broken headers cli/a.hpp '#include <iostream>'
broken sentences tests/a.cpp 'TEST_CASE("a; b", "[tag]")'
broken sentences tests/a.cpp 'TEST_CASE("recesses[1] is", "[tag]")'
printf 'int a;\n' >"$house/solver/a.cpp"
expect 1 licence "a source without its licence line"
exit $status
