#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds what is shipped, for x86-64 Linux: sh cli/package.sh [FOLDER]. Into FOLDER (build/package where none is given):
#   hollowtop_VERSION_amd64.deb, hollowtop-dev_VERSION_amd64.deb     for Debian 12
#   hollowtop-VERSION-linux-x86-64.tar.gz                            for any Linux: needs nothing of the system
# The same sources give the same bytes, whatever folder they lie in: tests/install/whole.sh holds that. Three whole builds:
# a quarter of an hour on two quiet cores. HOLLOWTOP_CMAKE adds words to cmake's command line.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
out=${1:-$home/build/package}
sh "$home/cli/setup.sh" package
mkdir -p "$out"
out=$(CDPATH='' cd -- "$out" && pwd)

# The time that is written into archives: of the last commit, or of the change log where this is no clone.
if [ -z "${SOURCE_DATE_EPOCH:-}" ]; then
    SOURCE_DATE_EPOCH=$(git -C "$home" log -1 --format=%ct 2>/dev/null || stat -c %Y "$home/CHANGELOG.md")
fi
export SOURCE_DATE_EPOCH
umask 022 # modes stand in the archives too

for level in 4 3 2; do
    # Word splitting is meant: the variable is a list of words.
    cmake -S "$home" -B "$out/v$level" -G Ninja -DCMAKE_BUILD_TYPE=Release -DHOLLOWTOP_JOIN=ON -DHOLLOWTOP_LEVEL=$level -DCMAKE_INSTALL_PREFIX=/usr \
        -DHOLLOWTOP_OTHER_LEVELS="$([ $level != 2 ] || echo "$out/v3;$out/v4")" ${HOLLOWTOP_CMAKE:-} >"$out/configure_v$level.log"
    cmake --build "$out/v$level" --target hollowtop hollowtop_static $([ $level != 2 ] || echo hollowtop_starter hollowtop_pages)
done

(cd "$out/v2" && cpack -G DEB >"$out/cpack.log") || {
    cat "$out/cpack.log" >&2
    exit 1
}
cp "$out"/v2/packages/*.deb "$out"

version=$(sed -n 's/^project(hollowtop VERSION \([0-9.]*\).*/\1/p' "$home/CMakeLists.txt")
name=hollowtop-$version-linux-x86-64
rm -rf "${out:?}/$name"
for level in 4 3 2; do
    cmake --install "$out/v$level" --component static --prefix "$out/$name" --strip >/dev/null
done
tar --sort=name --mtime="@$SOURCE_DATE_EPOCH" --owner=0 --group=0 --numeric-owner --format=ustar -C "$out" -cf - "$name" |
    gzip -9n >"$out/$name.tar.gz"
(cd "$out" && sha256sum ./*.deb ./*.tar.gz)
