// SPDX-License-Identifier: MIT
#include "solver/numeric/threads.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <stdexcept>
#include <vector>

using namespace hollowtop;

TEST_CASE("every task is done once, by a worker within the number asked for", "[solver][threads]") {
    const int threads = GENERATE(1, 2, 5), n = GENERATE(0, 1, 100);
    std::vector<std::atomic<int>> done(static_cast<std::size_t>(n));
    std::atomic<bool> within{true};
    share_out(n, threads, [&](int task, int worker) {
        ++done[task];
        if (worker < 0 || worker >= threads) within = false;
    });
    for (const std::atomic<int>& count : done) REQUIRE(count == 1);
    REQUIRE(within);
}

TEST_CASE("an exception in a worker reaches the caller, the lowest worker's first", "[solver][threads]") {
    REQUIRE_THROWS_WITH(run_on_threads(3,
                                       [](int worker) {
                                           if (worker > 0)
                                               throw std::runtime_error(worker == 1 ? "one" : "two");
                                       }),
                        "one");
}
