// SPDX-License-Identifier: MIT
#include "solver/numeric/threads.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace hollowtop {

void run_on_threads(int threads, const std::function<void(int)>& worker) {
    std::vector<std::exception_ptr> thrown(static_cast<std::size_t>(threads));
    const auto guarded = [&](int number) {
        try {
            worker(number);
        } catch (...) {
            thrown[number] = std::current_exception();
        }
    };
    std::vector<std::jthread> others;
    for (int number = 0; number + 1 < threads; ++number) others.emplace_back(guarded, number);
    guarded(threads - 1);
    others.clear(); // waits
    for (const std::exception_ptr& exception : thrown)
        if (exception) std::rethrow_exception(exception);
}

void share_out(int n, int threads, const std::function<void(int, int)>& task) {
    std::atomic<int> next{0};
    run_on_threads(std::clamp(threads, 1, std::max(n, 1)), [&](int worker) {
        for (int i = next++; i < n; i = next++) task(i, worker);
    });
}

} // namespace hollowtop
