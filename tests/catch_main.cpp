// SPDX-License-Identifier: MIT
// The test framework's main, compiled once for all test programs.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
