#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what building hollowtop needs and is not there yet; with the word `tests`, what its tests need as well, with
# `all` what .ci/run needs besides; with `package` what cli/package.sh needs, with `page` what cli/page/build.sh needs.
# Says what it is about to install. Where the system has no apt, names the packages and ends with status 1.
# HOLLOWTOP_SETUP=skip leaves everything to you.
set -eu

[ "${HOLLOWTOP_SETUP:-}" != skip ] || exit 0

packages="g++ cmake ninja-build libeigen3-dev libcli11-dev nlohmann-json3-dev"
case "${1:-}" in
tests) packages="$packages catch2 python3-jsonschema" ;;
all) packages="$packages catch2 python3-jsonschema node-typescript clang-format dpkg-dev man-db zsh fish python3-getfem" ;;
package) packages="$packages dpkg-dev" ;;
page) packages="$packages emscripten node-acorn esbuild" ;;
esac

if ! command -v apt-get >/dev/null 2>&1 || ! command -v dpkg-query >/dev/null 2>&1; then
    echo "hollowtop is built with these packages, by their Debian names:" >&2
    echo "    $packages" >&2
    echo "This system has no apt: install them by its own means, then run again with HOLLOWTOP_SETUP=skip." >&2
    exit 1
fi

missing=""
for package in $packages; do
    status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) || status=""
    [ "$status" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

as_root=""
if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
        echo "hollowtop needs these packages, and installing them needs root:$missing" >&2
        echo "Run this as root: apt-get install$missing" >&2
        exit 1
    fi
    as_root=sudo
fi

echo "hollowtop: installing$missing" >&2
log=$(mktemp)
trap 'rm -f "$log"' EXIT
for step in "update" "install -y --no-install-recommends$missing"; do
    # Word splitting is meant: $step is a command with its arguments.
    if ! $as_root env DEBIAN_FRONTEND=noninteractive apt-get -q $step >"$log" 2>&1 </dev/null; then
        cat "$log" >&2
        echo "hollowtop: apt-get $step failed" >&2
        exit 1
    fi
done
