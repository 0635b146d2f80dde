// SPDX-License-Identifier: MIT
#pragma once
/// \file  Work shared out among a few threads. Which thread does what never matters to a result: every sum is
/// made in one place, in one order.

#include <functional>

namespace hollowtop {

/// Calls worker(0) .. worker(threads - 1), each on a thread of its own (the last on this one), and waits for
/// all. If some throw, the exception of the lowest number is passed on.
void run_on_threads(int threads, const std::function<void(int)>& worker);

/// Calls task(i, worker) for i = 0 .. n-1, each once, on at most `threads` threads. Tasks must not depend on
/// another.
void share_out(int n, int threads, const std::function<void(int, int)>& task);

} // namespace hollowtop
