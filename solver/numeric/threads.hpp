// SPDX-License-Identifier: MIT
#pragma once
/// \file  The one way to start threads. Which thread does what never matters to a result: every sum is made in one
/// place, in one order. What a thread throws reaches the caller once all have ended.

#include <functional>
#include <vector>

namespace hollowtop {

/// `wanted`, or where that is not above zero as many as the machine runs at once.
int threads_for(int wanted);

/// Calls worker(0) .. worker(threads - 1), each on a thread of its own (the last on this one), and waits for
/// all. If some throw, the exception of the lowest number is passed on. A worker that waits for another must
/// end where the other throws. Where the system gives no more threads the workers that have none are left out, never
/// the last: each must take up what another leaves.
void run_on_threads(int threads, const std::function<void(int)>& worker);

/// Calls task(i, worker) for i = 0 .. n-1, each once, on at most `threads` threads. Tasks must not depend on
/// another. Once one throws no more are begun.
void share_out(int n, int threads, const std::function<void(int, int)>& task);

/// Tasks that need others done before them.
struct TaskForest {
    std::vector<int> parent;    ///< one a task: the later one that needs it, or -1
    std::vector<double> effort; ///< one a task: of those that may be begun, the one of greatest effort is
};
/// Calls task(i, worker) for every task of the forest once, after all whose parent it is, on at most `threads`
/// threads. Once one throws no more are begun.
void run_forest(const TaskForest& forest, int threads, const std::function<void(int, int)>& task);

} // namespace hollowtop
