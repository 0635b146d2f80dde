#!/bin/sh
# SPDX-License-Identifier: MIT
# The rules of the house that a compiler does not hold: rooms.sh RULE [PROJECT_DIR]. Prints each offending line and ends
# with status 1 where there is one.
#   direction  a room includes only itself and what stands to its left: materials <- solver <- validation <- cli
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
headers)
    files=hpp
    forbid "a header brings in a heavy library" '^ *# *include *<(Eigen|Spectra|nlohmann|CLI|iostream|regex)' \
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
