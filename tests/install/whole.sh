#!/bin/sh
# SPDX-License-Identifier: MIT
# Tries what is shipped: sh tests/install/whole.sh PACKAGE_FOLDER [SECOND_PACKAGE_FOLDER]
# PACKAGE_FOLDER is what cli/package.sh made. The second, made in another folder from the same commit, must hold the same
# bytes. As root on Debian 12 with debootstrap: installs the packages on a bare system in a folder of its own.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
packages=$(CDPATH='' cd -- "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf --one-file-system "$work"' EXIT
fail() {
    echo "tests/install/whole.sh: $1" >&2
    exit 1
}
piece=$home/docs/examples/reading_table.json
tarball=$(ls "$packages"/hollowtop-*-linux-x86-64.tar.gz)
name=$(basename "$tarball" .tar.gz)

if [ -n "${2:-}" ]; then
    echo "-- the same bytes"
    for file in "$packages"/*.deb "$tarball"; do
        cmp "$file" "$2/$(basename "$file")" || fail "$(basename "$file") depends on the folder it was built in"
    done
fi

echo "-- an empty root, with nothing but the program"
mkdir "$work/bare"
tar -C "$work/bare" -xzf "$tarball"
cp "$piece" "$work/bare/top.json"
chroot "$work/bare" "/$name/bin/hollowtop" check --quiet /top.json || fail "the program does not run in an empty root"
for level in 2 3 4; do
    # a processor of a lower level is told so, by status 2
    status=0
    HOLLOWTOP_LEVEL=$level chroot "$work/bare" "/$name/bin/hollowtop" check --quiet /top.json 2>"$work/said" || status=$?
    [ $status -eq 0 ] || grep -q 'of a lower level' "$work/said" || fail "level $level ends with status $status"
done

echo "-- older processors"
if command -v qemu-x86_64 >/dev/null; then
    for model in Nehalem-v1:2 Haswell-v1:3; do
        level=${model#*:}
        # the program of that level on a processor that has no more
        qemu-x86_64 -cpu "${model%:*}" "$work/bare/$name/libexec/hollowtop/hollowtop-v$level" check --quiet --threads 1 --mesh coarse "$piece" 2>"$work/said" || # what the emulator warns of
            fail "level $level does not run on a processor of that level"
    done
    status=0
    said=$(qemu-x86_64 -cpu core2duo-v1 "$work/bare/$name/bin/hollowtop" --version 2>&1) || status=$?
    case "$status $said" in
    3*"older than x86-64-v2"*) ;;
    *) fail "a processor that is too old is not told so: $said" ;;
    esac
else
    echo "no qemu-x86_64 here (package qemu-user): not tried"
fi

echo "-- a bare Debian 12"
mirror=$(awk '/^URIs:/ {print $2; exit}' /etc/apt/sources.list.d/*.sources 2>/dev/null || true)
[ -n "$mirror" ] || fail "no archive is named in /etc/apt/sources.list.d/*.sources: give one there"
debootstrap --variant=minbase bookworm "$work/debian" "$mirror" >"$work/log" || { tail "$work/log"; exit 1; }
cp "$packages"/hollowtop_*.deb "$work/debian/root"
cp "$piece" "$work/debian/root/top.json"
cp /etc/apt/apt.conf.d/* "$work/debian/etc/apt/apt.conf.d/" 2>/dev/null || true
cp /etc/resolv.conf /etc/hosts "$work/debian/etc/" 2>/dev/null || true
chroot "$work/debian" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin DEBIAN_FRONTEND=noninteractive LANG=C.UTF-8 \
    sh -c 'apt-get install -y --no-install-recommends /root/hollowtop_*.deb >/root/log 2>&1 || { cat /root/log; exit 1; }
           hollowtop check --quiet /root/top.json' || fail "the package does not install, or does not run"
[ -e "$work/debian/usr/share/man/man1/hollowtop.1.gz" ] || [ -e "$work/debian/usr/share/man/man1/hollowtop.1" ] || fail "no manual page"
echo "what is shipped: all well"
