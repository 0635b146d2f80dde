// SPDX-License-Identifier: MIT
#include "solver/shell/arena.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <new>

using namespace hollowtop;

TEST_CASE("memory that was used before comes out as zeros", "[solver][arena]") {
    constexpr std::size_t n = 300'000;
    {
        Arena first(n);
        double* block = first.take(n);
        std::fill_n(block, n, 7.0);
    }
    for (const std::size_t size : {n, n - 1000, n / 2 + 1000}) {
        Arena again(size);
        const double* block = again.take(size);
        CHECK(reinterpret_cast<std::uintptr_t>(block) % 64 == 0);
        CHECK(std::all_of(block, block + size, [](double v) { return v == 0; }));
    }
}

TEST_CASE("no more is given than there is", "[solver][arena]") {
    Arena small(16);
    CHECK(small.take(9) != nullptr);
    CHECK_THROWS_AS(small.take(1), std::bad_alloc);
}
