#!/bin/sh
# SPDX-License-Identifier: MIT
# The rules of the house that a compiler does not hold: rooms.sh RULE [PROJECT_DIR]. Prints each offending line and ends
# with status 1 where there is one.
#   direction  a folder includes only itself and what stands to its left: materials <- solver <- validation <- cli
#   rooms      inside solver and cli too: a room includes only itself and the rooms named before it
#   circles    no file includes another that leads back to it, .hpp and .cpp of a name taken as one
#   format     every source is laid out as .clang-format says
#   headers    no header brings in a heavy library
#   sentences  no test's name holds a character that ctest trips over
#   licence    every source says under which licence it stands
set -eu
rule=$1
cd "${2:-.}"

forbid() { # WHAT PATTERN FOLDERS...: no line of the folders' files named *.$files may match
    what=$1 pattern=$2
    shift 2
    found=$(grep -rnE --include="*.$files" "$pattern" "$@") || [ $? -eq 1 ]
    [ -z "$found" ] || {
        printf '%s:\n%s\n' "$what" "$found"
        status=1
    }
}

# From the first to the last: each may use those before it.
solver_rooms="numeric boardtest piece moisture result section mesh survey shell interface model situations vibration readout hand capacity checks seasons check uncertainty variants"
cli_rooms="words files read json text report/drawing report/workshop report/sections report commands . page"

# Lines "ROOM FILE:LINE INCLUDED_ROOM INCLUDED_FILE" of all includes of FOLDER's own headers.
includes_of() { # FOLDER
    grep -rnE --include='*.[ch]pp' "^ *# *include *[<\"]$1/" "$1" |
        sed -E "s|^($1/(([^:]*)/)?[^/:]+:[0-9]+):.*[<\"]($1/(([^\">]*)/)?[^\">/]+)[\">].*|\3 \1 \6 \4|; s|^ |. |; s|  | . |"
}

# Prints what includes a room that stands later in the list, and rooms that are not in it.
hold_order() { # FOLDER ROOMS
    includes_of "$1" | awk -v rooms="$2" -v folder="$1" '
        BEGIN { n = split(rooms, names, " "); for (i = 1; i <= n; ++i) rank[names[i]] = i }
        !($1 in rank) { print $2 ": the room " folder "/" $1 " has no place in the order"; next }
        !($3 in rank) || rank[$3] > rank[$1] { print $2 ": " folder "/" $1 " looks at " $4 }'
}

status=0
files='[ch]pp'
case $rule in
direction)
    include='^ *# *include *[<"]'
    forbid "materials looks to its right" "$include(solver|validation|cli|tests)/" materials
    forbid "solver looks to its right" "$include(validation|cli|tests)/" solver
    forbid "validation looks to its right" "$include(cli|tests)/" validation
    forbid "cli looks at the tests" "${include}tests/" cli
    forbid "an include is not written from the root of the project" "$include\.\.?/" materials solver validation cli tests
    forbid "the solver prints, or reads JSON" "$include(nlohmann/|iostream|fstream|CLI/)" solver
    ;;
rooms)
    found=$(hold_order solver "$solver_rooms" && hold_order cli "$cli_rooms")
    [ -z "$found" ] || {
        printf '%s\n' "$found"
        status=1
    }
    ;;
circles)
    for folder in materials solver validation cli; do
        includes_of "$folder" | awk '
            { from = $2; sub(/\.[ch]pp:[0-9]+$/, "", from); to = $4; sub(/\.hpp$/, "", to) }
            from != to { print from, to }' | sort -u >"${TMPDIR:-/tmp}/includes.$$"
        tsort "${TMPDIR:-/tmp}/includes.$$" 2>&1 >/dev/null | sed 's/^tsort: -: /a circle: /; s/^tsort: [^ ]*: /a circle: /' >"${TMPDIR:-/tmp}/circles.$$"
        [ ! -s "${TMPDIR:-/tmp}/circles.$$" ] || {
            cat "${TMPDIR:-/tmp}/circles.$$"
            status=1
        }
        rm -f "${TMPDIR:-/tmp}/includes.$$" "${TMPDIR:-/tmp}/circles.$$"
    done
    ;;
format)
    find materials solver validation cli tests \( -name '*.hpp' -o -name '*.cpp' \) -print0 | xargs -0 -n 20 -P 2 clang-format --dry-run -Werror || status=1
    ;;
headers)
    files=hpp
    forbid "a header brings in a heavy library" '^ *# *include *<(Eigen|nlohmann|CLI|iostream|regex)' \
        materials solver validation cli
    ;;
sentences)
    files=cpp
    forbid "a test's name holds a semicolon or a square bracket" 'TEST_CASE\( *"[^"]*[];[]' tests
    ;;
licence)
    for file in $(find materials solver validation cli tests -name '*.hpp' -o -name '*.cpp' -o -name '*.sh'); do
        head -n 2 "$file" | grep -q 'SPDX-License-Identifier: MIT' || {
            echo "$file: no licence line"
            status=1
        }
    done
    ;;
*)
    echo "no such rule: $rule"
    status=2
    ;;
esac
exit $status
