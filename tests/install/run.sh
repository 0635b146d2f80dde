#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs and packs a finished build and tries what comes of it: sh tests/install/run.sh BUILD_FOLDER
# The build may be for this machine alone: what is tried is the packing. What is shipped, three whole builds, bare
# machines and all, is tried by tests/install/whole.sh before a release.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
build=$(CDPATH='' cd -- "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() {
    echo "tests/install/run.sh: $1" >&2
    exit 1
}
say() { echo "-- $1"; }
piece=$home/docs/examples/reading_table.json

say "install"
cmake --build "$build" --target hollowtop hollowtop_static hollowtop_starter hollowtop_pages >"$work/log" || { cat "$work/log"; exit 1; }
cmake --install "$build" --prefix "$work/usr" >"$work/log" || { cat "$work/log"; exit 1; }
program=$work/usr/bin/hollowtop
if [ ! -x "$work/usr/bin/hollowtop" ] || [ -d "$work/usr/libexec/hollowtop" ]; then
    program=$(ls "$work"/usr/libexec/hollowtop/hollowtop-v* | head -n 1)
fi
"$program" check --quiet "$piece" || fail "the installed program does not pass the example"

say "a program of somebody else with the library"
cmake -S "$home/tests/install/library" -B "$work/shelf" -DCMAKE_PREFIX_PATH="$work/usr" -DCMAKE_BUILD_TYPE=Release >"$work/log" 2>&1 &&
    cmake --build "$work/shelf" >>"$work/log" 2>&1 || { cat "$work/log"; fail "the library is not found, or does not link"; }
"$work/shelf/shelf" || fail "the library computes another sag"
mkdir "$work/later"
sed 's/find_package(hollowtop 0.1/find_package(hollowtop 9.9/' "$home/tests/install/library/CMakeLists.txt" >"$work/later/CMakeLists.txt"
cp "$home/tests/install/library/shelf.cpp" "$work/later"
! cmake -S "$work/later" -B "$work/later/build" -DCMAKE_PREFIX_PATH="$work/usr" >/dev/null 2>&1 || fail "a later version is asked for, and this one is taken"

say "the manual page"
man=$work/usr/share/man/man1/hollowtop.1
if command -v man >/dev/null; then
    MANWIDTH=5000 man --warnings -l "$man" 2>"$work/log" | col -b >"$work/page"
    [ ! -s "$work/log" ] || { cat "$work/log"; fail "man warns of the manual page"; }
    sh "$home/tests/install/pages.sh" "$program" "$work/page" || fail "the manual page lacks something that the help has"
else
    echo "no man here: not opened"
fi

say "completion"
data=$work/usr/share
PATH="$(dirname "$program"):$PATH" bash "$home/tests/install/complete.bash" "$data/bash-completion/completions/hollowtop" "$program"
for shell in zsh fish; do
    if ! command -v $shell >/dev/null; then
        echo "no $shell here: not tried"
        continue
    fi
    case $shell in
    zsh) zsh -n "$data/zsh/vendor-completions/_hollowtop" && zsh -f "$home/tests/install/complete.zsh" "$data/zsh/vendor-completions" ;;
    fish) XDG_CONFIG_HOME=$work XDG_DATA_HOME=$work fish --no-config "$home/tests/install/complete.fish" "$data/fish/vendor_completions.d/hollowtop.fish" ;;
    esac || fail "completion in $shell"
done

say "the static program"
! ldd "$build/hollowtop_static" >/dev/null 2>&1 || fail "the static program wants libraries"
mkdir -p "$work/bare"
cp "$build/hollowtop_static" "$work/bare/hollowtop"
cp "$piece" "$work/bare/top.json"
if [ "$(id -u)" -eq 0 ]; then
    chroot "$work/bare" /hollowtop check --quiet /top.json || fail "the static program does not run in an empty root"
else
    "$work/bare/hollowtop" check --quiet "$piece" || fail "the static program does not run"
fi
"$program" check --json "$work/dynamic.json" --quiet "$piece"
"$work/bare/hollowtop" check --json "$work/static.json" --quiet "$piece"
cmp "$work/dynamic.json" "$work/static.json" || fail "the static program computes something else"

say "the starter"
sh "$home/tests/install/starter.sh" "$build/starter" "$work/bare"

say "the Debian packages"
rm -rf "$build/packages"
(cd "$build" && SOURCE_DATE_EPOCH=1700000000 cpack -G DEB) >"$work/log" 2>&1 || { cat "$work/log"; exit 1; }
deb=$(ls "$build"/packages/hollowtop_*.deb)
dpkg-deb -f "$deb" Depends | grep -q 'libc6 (>=.*libstdc++6 (>=' || fail "the package does not say what it needs"
dpkg-deb -x "$deb" "$work/deb"
for file in bin/hollowtop share/man/man1/hollowtop.1 share/bash-completion/completions/hollowtop share/doc/hollowtop/copyright \
    share/doc/hollowtop/docs/examples/reading_table.json; do
    [ -e "$work/deb/usr/$file" ] || fail "the package lacks $file"
done
dpkg-deb -c "$deb" >"$work/list"
! grep -q '\.hpp$' "$work/list" || fail "headers lie in the package of the program"
dpkg-deb -c "$build"/packages/hollowtop-dev_*.deb >"$work/list"
grep -q 'hollowtop-config.cmake$' "$work/list" || fail "hollowtop-dev lacks the CMake package"

say "the same bytes from another folder"
for place in one another/place; do
    mkdir -p "$work/$place"
    (cd "$home" && cp -r CMakeLists.txt cmake materials solver validation cli packaging docs README.md CHANGELOG.md LICENSE "$work/$place")
    cmake -S "$work/$place" -B "$work/$place/build" -G Ninja -DHOLLOWTOP_LEVEL=2 >/dev/null
    cmake --build "$work/$place/build" --target hollowtop_materials hollowtop_starter >/dev/null
done
for file in libhollowtop_materials.a starter; do
    cmp "$work/one/build/$file" "$work/another/place/build/$file" || fail "$file depends on the folder it was built in"
done
echo "installing: all well"
