#!/bin/sh
# SPDX-License-Identifier: MIT
# The starter takes the best of the levels that are there and that this processor runs: starter.sh STARTER FOLDER
# The programs are stand-ins that say which they are.
set -eu
root=$2/opt
mkdir -p "$root/bin" "$root/libexec/hollowtop" "$2/links"
cp "$1" "$root/bin/hollowtop"
ln -sf "$root/bin/hollowtop" "$2/links/hollowtop"
for level in 2 3 4; do
    printf '#!/bin/sh\necho "v%s $*"\nexit 1\n' $level >"$root/libexec/hollowtop/hollowtop-v$level"
    chmod +x "$root/libexec/hollowtop/hollowtop-v$level"
done
expect() { # STATUS TEXT COMMAND...
    want=$1 text=$2
    shift 2
    status=0
    got=$("$@" 2>&1) || status=$?
    case $got in
    *"$text"*) [ $status -eq "$want" ] && return ;;
    esac
    echo "starter, \"$*\": status $status, \"$got\"; wanted $want, \"$text\"" >&2
    exit 1
}
# What the processor has, by the kernel's word.
flags=$(sed -n 's/^flags[^:]*://p' /proc/cpuinfo | head -n 1)
has() { for flag in "$@"; do case " $flags " in *" $flag "*) ;; *) return 1 ;; esac done; }
best=2
if has avx avx2 bmi1 bmi2 f16c fma abm movbe xsave; then
    best=3
    ! has avx512f avx512bw avx512cd avx512dq avx512vl || best=4
fi
expect 1 "v$best check a.json" "$root/bin/hollowtop" check a.json
expect 1 "v$best" "$2/links/hollowtop"
expect 1 "v2" env HOLLOWTOP_LEVEL=2 "$root/bin/hollowtop"
expect 1 "v$best" env HOLLOWTOP_LEVEL= "$root/bin/hollowtop"
expect 2 "HOLLOWTOP_LEVEL: no such level; give 2, 3 or 4" env HOLLOWTOP_LEVEL=5 "$root/bin/hollowtop"
expect 2 "no such level" env HOLLOWTOP_LEVEL=22 "$root/bin/hollowtop"
rm "$root/libexec/hollowtop/hollowtop-v$best"
[ $best = 2 ] || expect 1 "v$((best - 1))" "$root/bin/hollowtop"
rm "$root"/libexec/hollowtop/*
expect 3 "$root/libexec/hollowtop cannot be run (No such file or directory)" "$root/bin/hollowtop"
