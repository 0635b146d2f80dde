// SPDX-License-Identifier: MIT
#include "solver/piece/wording.hpp"

#include <catch2/catch.hpp>

using namespace hollowtop;

TEST_CASE("numbers in messages have at most three decimals and no trailing zeros", "[solver][piece]") {
    CHECK(plain(45) == "45");
    CHECK(plain(0.5) == "0.5");
    CHECK(plain(12.1254) == "12.125");
    CHECK(plain(100) == "100");
    CHECK(plain(-0.0001) == "0");
    CHECK(plain(1e7) == "10000000");
    CHECK(in_own_units(in_mm(24)) == "24 mm");
    CHECK(in_own_units(place_text({1780, 0.25})) == "x 1780, y 0.25");
}
