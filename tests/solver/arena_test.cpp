// SPDX-License-Identifier: MIT
#include "solver/numeric/arena.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <new>

using namespace hollowtop;

TEST_CASE("blocks start on cache lines, in memory that was used before too", "[solver][arena]") {
    constexpr std::size_t n = 300'000;
    { CHECK(Arena(n).take(n) != nullptr); }
    for (const std::size_t size : {n, n - 1000, n / 2 + 1000}) {
        Arena again(size);
        CHECK(reinterpret_cast<std::uintptr_t>(again.take(3)) % 64 == 0);
        CHECK(reinterpret_cast<std::uintptr_t>(again.take(3)) % 64 == 0);
    }
}

TEST_CASE("numbers left without a value are counted like others", "[solver][arena]") {
    UnwrittenValues values(1000);
    CHECK(values.size() == 1000);
    CHECK(reinterpret_cast<std::uintptr_t>(values.data()) % 64 == 0);
    std::fill(values.begin(), values.end(), 2.0);
    CHECK(std::count(values.begin(), values.end(), 2.0) == 1000);
}

TEST_CASE("no more is given than there is", "[solver][arena]") {
    Arena small(16);
    CHECK(small.take(9) != nullptr);
    CHECK_THROWS_AS(small.take(1), std::bad_alloc);
}
