#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what is missing, builds the program and its tests, and runs every test.
set -eu

home=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
sh "$home/cli/setup.sh" tests
cd "$home"
cmake --preset release -DHOLLOWTOP_TESTS=ON
cmake --build build/release
exec ctest --test-dir build/release --output-on-failure --no-tests=error -j 2
