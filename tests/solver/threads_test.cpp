// SPDX-License-Identifier: MIT
#include "solver/numeric/threads.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <chrono>
#include <stdexcept>
#include <thread>
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

TEST_CASE("once a task throws no more are begun, all threads end, and the caller hears of it",
          "[solver][threads]") {
    const int threads = GENERATE(1, 3);
    constexpr int n = 2000;
    std::atomic<int> done{0};
    std::atomic<bool> has_thrown{false};
    REQUIRE_THROWS_WITH(share_out(n, threads,
                                  [&](int task, int) {
                                      if (task == 2) {
                                          has_thrown = true;
                                          throw std::runtime_error("the third");
                                      }
                                      while (threads > 1 && !has_thrown) std::this_thread::yield();
                                      std::this_thread::sleep_for(std::chrono::milliseconds(1));
                                      ++done;
                                  }),
                        "the third");
    CHECK(done < n - 1); // two seconds would pass before all were done
}

TEST_CASE("tasks of a forest come after those that they need, the heaviest that may be begun first",
          "[solver][threads]") {
    const int threads = GENERATE(1, 2, 5);
    // 0 1 2 -> 3, 4 -> 5, 3 5 -> 6, and 7 alone
    const TaskForest forest{.parent = {3, 3, 3, 6, 5, 6, -1, -1}, .effort = {1, 9, 2, 50, 3, 4, 7, 8}};
    std::vector<int> order(forest.parent.size(), -1);
    std::atomic<int> next{0};
    std::atomic<bool> within{true};
    run_forest(forest, threads, [&](int task, int worker) {
        order[static_cast<std::size_t>(task)] = next++;
        if (worker < 0 || worker >= threads) within = false;
    });
    REQUIRE(within);
    REQUIRE(next == 8);
    for (std::size_t task = 0; task < order.size(); ++task) {
        REQUIRE(order[task] >= 0);
        if (forest.parent[task] >= 0)
            CHECK(order[static_cast<std::size_t>(forest.parent[task])] > order[task]);
    }
    // alone: 1, 7, 4, 5, 2, 0, 3, 6 by effort as they come up
    if (threads == 1) CHECK(order == std::vector<int>{5, 0, 4, 6, 2, 3, 7, 1});
}

TEST_CASE("a task of a forest that throws leaves no thread waiting for it", "[solver][threads]") {
    const int threads = GENERATE(1, 2, 4);
    // a chain: while its first task is at work all other threads wait for it
    const TaskForest chain{.parent = {1, 2, 3, -1}, .effort = {1, 1, 1, 1}};
    std::atomic<int> begun{0};
    REQUIRE_THROWS_WITH(run_forest(chain, threads,
                                   [&](int task, int) {
                                       ++begun;
                                       if (task == 0)
                                           std::this_thread::sleep_for(std::chrono::milliseconds(20));
                                       if (task == 1) throw std::runtime_error("the second");
                                   }),
                        "the second");
    CHECK(begun == 2);
    CHECK_NOTHROW(run_forest({}, threads, [](int, int) { throw std::runtime_error("nothing to do"); }));
}

TEST_CASE("as many threads as asked for, or those of the machine", "[solver][threads]") {
    CHECK(threads_for(3) == 3);
    CHECK(threads_for(0) >= 1);
    CHECK(threads_for(-1) == threads_for(0));
}
